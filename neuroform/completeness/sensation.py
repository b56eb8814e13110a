"""What sensory findings ask for.

Errs towards asking.
"""

from collections.abc import Iterator

from neuroform.completeness.rule import MUST, SHOULD, Call, Rules, ask, look
from neuroform.completeness.seen import Seen
from neuroform.exam.findings import level_rank
from neuroform.exam.sensation import MovementCount
from neuroform.exam.walk import SIDES, Side
from neuroform.language import N_
from neuroform.reasoning.items import (
    ANKLE_REFLEX,
    BLADDER,
    HANDS,
    JP_ANKLE,
    JP_FINGER,
    JP_KNEE,
    JP_TOE,
    PINPRICK,
    SADDLE,
    VIB_MALLEOLUS,
    VIB_TIBIA,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.sensory_signs import jp_lost, jp_toe_lost, vib_lost, vib_toe_lost
from neuroform.reasoning.signs import lmn, sym

rules = Rules()

LEAST_MOVEMENTS = 5


@rules.rule(
    "saddle-not-tested",
    severity=MUST,
    message=N_("Signs of the roots on both sides, and feeling between the legs is blank. Test it, with a chaperone."),
    why=N_("Untested is not normal; a lesion of the cauda equina can leave the legs almost normal."),
)
def saddle_not_tested(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Root signs or absent ankle reflexes on both sides with back or leg pain or a changed bladder; saddle blank.

    Why: untested is not normal.
    """
    if all(_root_signs(seen, side) for side in SIDES) and (
        sym(
            seen,
            "back_pain",
            "leg_pain_both",
            "bladder_or_bowel_disturbance",
            "urinary_retention",
            "urinary_urgency",
            "bowel_incontinence",
        ).met
        or seen.test(BLADDER, lambda found: found != "normal").met
    ):
        yield ask(SADDLE)


def _root_signs(seen: Seen, side: Side) -> bool:
    return bool(seen.is_(ANKLE_REFLEX[side], "absent").met or lmn(seen, side).met)


@rules.rule(
    "vibration-proximal-when-lost-distal",
    severity=SHOULD,
    message=N_("Vibration is lost at the toe. Go up; blank: {items}."),
    why=N_("A loss that fades upward is the pattern of a nerve."),
)
def vibration_proximal_when_lost_distal(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Vibration is below the limit at the great toe, and the inner ankle is blank.

    Why: the gradient.
    """
    sides = [side for side in SIDES if vib_toe_lost(seen, side).met]
    if sides:
        yield ask(*(VIB_MALLEOLUS[side] for side in sides))


@rules.rule(
    "joint-position-proximal-when-lost",
    severity=SHOULD,
    message=N_("Joint position is lost at the toe. Go up; blank: {items}."),
    why=N_("How far up it is lost tells how much of the stance it explains."),
)
def joint_position_proximal_when_lost(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Joint position is lost at the great toe, and the ankle is blank.

    Why: how far up.
    """
    sides = [side for side in SIDES if jp_toe_lost(seen, side).met]
    if sides:
        yield ask(*(JP_ANKLE[side] for side in sides))


@rules.rule(
    "joint-position-too-few-movements",
    severity=SHOULD,
    message=N_("Fewer than five movements were tried and are not judged: {items}."),
    why=N_("Even five of five comes by guessing in 3 %."),
    source=N_("arithmetic"),
)
def joint_position_too_few_movements(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Joint position was tried with fewer than five movements.

    Why: five of five comes by chance in 3 %.
    """
    few = []
    for joint in (JP_TOE, JP_ANKLE, JP_KNEE, JP_FINGER):
        for side in SIDES:
            found = seen.value(joint[side])
            if isinstance(found, MovementCount) and found.trials < LEAST_MOVEMENTS:
                few.append(joint[side])
    if few:
        yield look(*few)


@rules.rule(
    "hands-when-feet-lost-to-knee",
    severity=SHOULD,
    message=N_("Feeling is lost up to the knee, and the hands are blank. Ask when they began."),
    why=N_("In a length-dependent neuropathy the hands follow when the loss has reached the knee."),
)
def hands_when_feet_lost_to_knee(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Pinprick or vibration is lost to the knee or above, and the hands are blank.

    Why: the hands follow at that length.
    """
    knee = level_rank("knee")
    for side in SIDES:
        pricked = seen.test(PINPRICK[side], lambda level: level_rank(level) >= knee).met
        if pricked or seen.is_(VIB_TIBIA[side], "absent", "reduced").met:
            yield ask(HANDS)
            return


@rules.rule(
    "small-fibre-with-large-fibre-loss",
    severity=MUST,
    message=N_("Joint position or vibration is lost, and pinprick is blank: {items}."),
    why=N_("Pinprick kept or lost tells the cord from the nerve."),
)
def small_fibre_with_large_fibre_loss(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Joint position or vibration is lost, and pinprick is blank.

    Why: cord or nerve.
    """
    if jp_lost(seen).met or vib_lost(seen).met:
        yield ask(PINPRICK)
