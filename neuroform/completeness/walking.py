"""What the gait asks for.

Errs towards asking.
"""

from collections.abc import Iterator

from neuroform.completeness.rule import MUST, SHOULD, Call, Rules, ask
from neuroform.completeness.seen import Seen
from neuroform.language import N_
from neuroform.reasoning.items import (
    ARM_SWING,
    BLADDER,
    GAIT,
    HIP_ABDUCTION,
    PULL_TEST,
    SYMPTOMS,
    TONE,
    TURN_STEPS,
    TURNING,
)
from neuroform.reasoning.results import Reading

rules = Rules()


@rules.rule(
    "hip-abduction-with-waddle",
    severity=SHOULD,
    message=N_("The gait is waddling, and hip abduction is blank: {items}."),
    why=N_("Weak abductors of the hip make the waddle."),
)
def hip_abduction_with_waddle(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The gait is waddling, and hip abduction is blank.

    Why: weak abductors make the waddle.
    """
    if seen.has(GAIT, "waddling").met:
        yield ask(HIP_ABDUCTION)


@rules.rule(
    "tone-with-gait",
    severity=MUST,
    message=N_("The gait is stiff or shuffling, and tone is blank: {items}."),
    why=N_("Spastic, rigid and normal tone lead to different places."),
)
def tone_with_gait(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The gait is spastic, shuffling or magnetic, and tone is blank.

    Why: spastic, rigid and normal tone lead to different places.
    """
    if seen.has(GAIT, "spastic", "spastic_right", "spastic_left", "shuffling", "magnetic").met:
        yield ask(TONE)


@rules.rule(
    "turning-arm-swing-with-shuffling",
    severity=SHOULD,
    message=N_("The gait is shuffling or magnetic. Blank: {items}."),
    why=N_("Turning, arm swing and the pull test part parkinsonian from frontal gait."),
)
def turning_arm_swing_with_shuffling(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The gait is shuffling or magnetic; turning, arm swing or the pull test is blank.

    Why: they part parkinsonian from frontal gait.
    """
    if seen.has(GAIT, "shuffling", "magnetic").met:
        turning = () if seen.answered(TURN_STEPS.path) else (TURNING,)
        yield ask(*turning, ARM_SWING, PULL_TEST)


@rules.rule(
    "bladder-thinking-with-magnetic-gait",
    severity=SHOULD,
    message=N_("The gait is magnetic. Ask about bladder and thinking; blank: {items}."),
    why=N_("With urgency or slowed thinking one treatable cause is hydrocephalus."),
)
def bladder_thinking_with_magnetic_gait(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The gait is magnetic; the bladder or the symptoms are blank.

    Why: the triad that may be treatable.
    """
    if seen.has(GAIT, "magnetic").met:
        yield ask(BLADDER, SYMPTOMS)
