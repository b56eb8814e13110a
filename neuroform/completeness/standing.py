"""What the stance test lacks, and what its result asks for.

Errs towards asking, unless standing is unsafe.
"""

from collections.abc import Iterator

from neuroform.completeness.generic import trials
from neuroform.completeness.rule import MUST, NOTICE, SHOULD, Call, Rules, ask, look, tell
from neuroform.completeness.seen import Seen
from neuroform.language import N_
from neuroform.reasoning.facts import any_of, any_side, one
from neuroform.reasoning.functional_signs import functional_sign
from neuroform.reasoning.items import (
    ANKLE_REFLEX,
    DISTRACTION,
    EC_DIRECTION,
    EC_ENDED,
    EC_SECONDS,
    EC_SWAY,
    EO_DIRECTION,
    EO_ENDED,
    EO_SECONDS,
    EO_SWAY,
    FEET,
    FOAM_EC_ENDED,
    FOAM_EC_SWAY,
    GAIT,
    HEAD_IMPULSE,
    JP_TOE,
    PLANTAR,
    PULL_TEST,
    SINGLE_LEG_OPEN,
    SWAY_FROM,
    TANDEM,
    TREMOR,
    VIB_TOE,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.sensory_signs import jp_lost, vib_lost
from neuroform.reasoning.signs import (
    eye_or_speech,
    finger_ataxia,
    gait_ataxic,
    heel_shin_bad,
    impulse_corrective,
    nystagmus_central,
    paretic,
    umn,
    unsteady_eyes_open,
)
from neuroform.reasoning.stance_test import LOST

rules = Rules()

STAND_BY = one(lambda e: e.standing.stand_by)
FOOTWEAR = one(lambda e: e.standing.footwear)
FOAM_EC_SECONDS = one(lambda e: e.standing.foam.eyes_closed.seconds)
_EYES_OPEN = (EO_SWAY, EO_SECONDS, EO_ENDED)
_EYES_CLOSED = (EC_SWAY, EC_SECONDS, EC_ENDED)
_FOAM_CLOSED = (FOAM_EC_SWAY, FOAM_EC_SECONDS, FOAM_EC_ENDED)


def stood(seen: Seen) -> bool:
    """Tell whether any timed stance was tried."""
    return any(seen.any_value(*parts) for parts in trials())


@rules.rule(
    "stance-without-joint-position",
    severity=MUST,
    message=N_("Joint position is blank. A stance test can't be read without it: {items}."),
    why=N_("A steady stance can hide lost joint position when a cerebellar sign is there too."),
)
def stance_without_joint_position(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The stance test is recorded but joint position is not; in acute vertigo, one with eyes closed.

    Why: with a cerebellar sign as well, a steady stance can hide lost joint position; only testing it shows that.
    """
    closed_only = seen.protocol.name == "acute_vertigo"
    if seen.any_value(*_EYES_CLOSED, *_FOAM_CLOSED) if closed_only else stood(seen):
        yield ask(JP_TOE)


@rules.rule(
    "eyes-closed-without-eyes-open",
    severity=MUST,
    message=N_("The stance with eyes closed is recorded, with eyes open it is blank. The change is the test."),
    why=N_("Without a steady start nothing can be said of closing the eyes."),
)
def eyes_closed_without_eyes_open(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Eyes closed is recorded, eyes open is blank.

    Why: the change is the test.
    """
    if seen.any_value(*_EYES_CLOSED) and seen.none_answered(*_EYES_OPEN):
        yield ask(*_EYES_OPEN)


@rules.rule(
    "positive-stance-without-cause",
    severity=MUST,
    message=N_("The stance test is positive: something is lost, but what is not known. Blank: {items}."),
    why=N_("Joint position, vibration, ankle reflexes and head impulse tell which sense is lost."),
)
def positive_stance_without_cause(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The stance test is positive; vibration, ankle reflexes or head impulse is blank.

    Why: it says that something is lost, not what.
    """
    if reading.stance.result == "positive":
        yield ask(VIB_TOE, ANKLE_REFLEX, HEAD_IMPULSE)


@rules.rule(
    "stance-feet-apart",
    severity=SHOULD,
    message=N_("The stance was held with feet apart. Repeat it with feet together, or say why not."),
    why=N_("A wide stance hides the effect of closing the eyes."),
)
def stance_feet_apart(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The stance was held with feet apart.

    Why: a wide stance hides the effect.
    """
    last = EC_ENDED if seen.value(EC_ENDED) is not None else EO_ENDED
    if seen.is_(FEET, "apart").met and seen.is_(last, "held").met:
        yield look(FEET)


@rules.rule(
    "stance-stopped-early",
    severity=SHOULD,
    message=N_("A trial was stopped by the examiner and decides nothing. Repeat it, or say why not: {items}."),
    why=N_("Neither a loss nor the full time was seen."),
)
def stance_stopped_early(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A trial was stopped early, and not because sway had become marked on closing the eyes.

    Why: neither a loss nor the full time was seen; stopped for safety it is not repeated.
    """
    for _sway, seconds, ended in trials():
        safety = ended.path == EC_ENDED.path and reading.stance.how == "stopped_for_safety"
        if seen.is_(ended, "stopped_early").met and not safety:
            yield look(seconds, ended)


@rules.rule(
    "functional-without-examination",
    severity=MUST,
    message=N_("A sign of functional imbalance stands without the whole examination. Blank: {items}."),
    why=N_("Positive signs count only beside a complete examination; a second cause may stand behind them."),
)
def functional_without_examination(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A functional sign is recorded; joint position, head impulse or plantars is blank.

    Why: positive signs, on a complete examination.
    """
    if functional_sign(seen).met:
        yield ask(JP_TOE, HEAD_IMPULSE, PLANTAR)


@rules.rule(
    "unexplained-loss-of-stance",
    severity=SHOULD,
    message=N_("The stance was lost and nothing found explains it. Where did the movement come from?"),
    why=N_("Sway from the hips and sway from the ankles have different causes."),
)
def unexplained_loss_of_stance(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The stance was lost, nothing found explains it, and where the movement came from is blank.

    Why: it parts one cause from another.
    """
    lost = seen.is_(EC_ENDED, *LOST).met or unsteady_eyes_open(seen).met
    # What explains it is costly to read, and needless once this is answered.
    if lost and seen.open(SWAY_FROM) and not _explained(seen):
        yield ask(SWAY_FROM)


def _explained(seen: Seen) -> bool:
    signs = (jp_lost, vib_lost, eye_or_speech, finger_ataxia, gait_ataxic, nystagmus_central, functional_sign)
    sides = (heel_shin_bad, impulse_corrective, paretic, umn)
    return bool(any_of(*(sign(seen) for sign in signs), *(any_side(sign, seen) for sign in sides)).met)


@rules.rule(
    "stand-by-before-standing",
    severity=SHOULD,
    message=N_("Tested on the feet without someone recorded within reach."),
    why=N_("Someone stands within reach in every test on the feet."),
)
def stand_by_before_standing(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Any trial is recorded; whether someone stood by is blank, or nobody did.

    Why: a fall is prevented by someone within reach.
    """
    if stood(seen) or seen.any_value(SINGLE_LEG_OPEN, PULL_TEST):
        yield look(STAND_BY) if seen.is_(STAND_BY, "no").met else ask(STAND_BY)


@rules.rule(
    "footwear-missing",
    severity=NOTICE,
    message=N_("Footwear is blank beside a stance test."),
    why=N_("Shoes change sway; a repeat needs the same."),
)
def footwear_missing(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A trial is recorded, and footwear is blank.

    Why: a repeat needs the same.
    """
    if stood(seen):
        yield ask(FOOTWEAR)


@rules.rule(
    "foam-after-lost-firm",
    severity=NOTICE,
    message=N_("Foam was tried after the stance on firm ground was lost: not needed and not safe."),
    why=N_("A stance lost on firm ground has given its answer."),
)
def foam_after_lost_firm(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Foam with eyes closed is recorded though the stance on firm ground was lost.

    Why: not needed and not safe.
    """
    if seen.is_(EC_ENDED, *LOST).met and seen.any_value(*_FOAM_CLOSED):
        yield tell(*(ref for ref in _FOAM_CLOSED if ref.path in seen.found))


@rules.rule(
    "direction-missing-when-lost",
    severity=SHOULD,
    message=N_("The stance was lost, and the direction is blank: {items}."),
    why=N_("A constant side points to a labyrinth or a cerebellar hemisphere; any direction to a sense."),
)
def direction_missing_when_lost(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The stance was lost, and its direction is blank.

    Why: a constant side points to a side.
    """
    for ended, direction in ((EO_ENDED, EO_DIRECTION), (EC_ENDED, EC_DIRECTION)):
        if seen.is_(ended, "stepped", "needed_support", "fell").met or (
            ended is EC_ENDED and seen.is_(ended, "opened_eyes").met
        ):
            yield ask(direction)


@rules.rule(
    "distraction-with-hip-sway",
    severity=SHOULD,
    message=N_("The movement comes from the hips, and distraction is blank. Try it while the person touches the nose."),
    why=N_("Clearly steadier when distracted is a positive sign."),
)
def distraction_with_hip_sway(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Sway comes from the hips, and distraction was not tried.

    Why: clearly steadier when distracted is a positive sign.
    """
    if seen.is_(SWAY_FROM, "hips").met:
        yield ask(DISTRACTION)


@rules.rule(
    "tremor-when-standing-only",
    severity=SHOULD,
    message=N_("Unsteady standing, but walking well: feel the calves for a fast tremor."),
    why=N_("Orthostatic tremor fails in standing and is gone on walking."),
)
def tremor_when_standing_only(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Unsteady with eyes open, gait and heel-to-toe walking good, and tremor on standing is blank.

    Why: orthostatic tremor.
    """
    walks = seen.has(GAIT, "normal").met and seen.test(TANDEM, lambda steps: steps >= 8).met
    if walks and unsteady_eyes_open(seen).met:
        yield ask(TREMOR)
