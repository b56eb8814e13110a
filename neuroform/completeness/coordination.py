"""What signs of ataxia ask for.

Errs towards asking.
"""

from collections.abc import Iterator

from neuroform.completeness.rule import MUST, SHOULD, Call, Rules, ask
from neuroform.completeness.seen import Seen
from neuroform.exam.walk import SIDES
from neuroform.language import N_
from neuroform.reasoning.facts import any_side
from neuroform.reasoning.items import (
    ANKLE,
    ANKLE_REFLEX,
    DORSIFLEXION,
    FINGER_NOSE,
    GAZE_EVOKED,
    HEAD_IMPULSE,
    HEEL_SHIN,
    HIP_AND_KNEE,
    HIP_FLEXION,
    KNEE_EXTENSION,
    PINPRICK,
    PLANTARFLEXION,
    PURSUIT,
    SACCADES,
    SPEECH,
    VIB_TOE,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.signs import heel_shin_bad

rules = Rules()

CEREBELLAR = ("cerebellar_midline", "cerebellar_hemisphere", "combined_sensory_cerebellar")


def at_least_possible(reading: Reading, *patterns: str) -> bool:
    """Tell whether one of the patterns is possible or supported, on a side."""
    return any(at.pattern in patterns and at.verdict in ("supported", "possible") for at in reading.patterns)


@rules.rule(
    "heel-shin-without-power",
    severity=MUST,
    message=N_("Heel-shin is not normal, and power of that leg is blank: {items}."),
    why=N_("Weakness looks like ataxia."),
)
def heel_shin_without_power(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Heel-shin is not normal, and power of that leg is blank at the hip and knee, or at the ankle.

    Why: weakness looks like ataxia.
    """
    for side in SIDES:
        if not seen.test(HEEL_SHIN[side], lambda found: found != "normal").met:
            continue
        upper = all(group[side].path not in seen.found for group in HIP_AND_KNEE)
        lower = all(group[side].path not in seen.found for group in ANKLE)
        blank = (*((HIP_FLEXION, KNEE_EXTENSION) if upper else ()), *((DORSIFLEXION, PLANTARFLEXION) if lower else ()))
        if blank:
            yield ask(*(group[side] for group in blank))


@rules.rule(
    "speech-and-hands-with-limb-ataxia",
    severity=SHOULD,
    message=N_("A leg is ataxic. Listen to speech and test finger-nose; blank: {items}."),
    why=N_("They tell whether it is the legs alone."),
)
def speech_and_hands_with_limb_ataxia(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Heel-shin is moderate or worse; speech or finger-nose is blank.

    Why: the legs alone, or more.
    """
    if any_side(heel_shin_bad, seen).met:
        yield ask(SPEECH, FINGER_NOSE)


@rules.rule(
    "pursuit-saccades-with-cerebellar",
    severity=SHOULD,
    message=N_("Signs of the cerebellum, and the eyes were not examined for them. Blank: {items}."),
    why=N_("Eye movements show a cerebellar lesion when the limbs do not."),
)
def pursuit_saccades_with_cerebellar(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A cerebellar pattern is possible; pursuit, saccades and gaze are all blank.

    Why: eye movements show it when the limbs do not.
    """
    if at_least_possible(reading, *CEREBELLAR) and seen.none_answered(PURSUIT, SACCADES, GAZE_EVOKED):
        yield ask(GAZE_EVOKED, PURSUIT, SACCADES)


@rules.rule(
    "third-of-three-systems",
    severity=SHOULD,
    message=N_("Two of nerves, cerebellum and both labyrinths are affected. Look at the third; blank: {items}."),
    why=N_("The three together are one disease of their own."),
)
def third_of_three_systems(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Two of neuropathy, cerebellum and both labyrinths are possible, and the third is blank.

    Why: the three together are one disease of their own.
    """
    systems = (
        (("length_dependent_neuropathy",), (VIB_TOE, PINPRICK, ANKLE_REFLEX)),
        (CEREBELLAR, (GAZE_EVOKED, SPEECH, HEEL_SHIN)),
        (("bilateral_vestibular",), (HEAD_IMPULSE,)),
    )
    rest = [items for patterns, items in systems if not at_least_possible(reading, *patterns)]
    if len(rest) == 1:
        yield ask(*rest[0])
