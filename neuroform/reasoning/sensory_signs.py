"""Joint position and vibration: lost, intact, or described and not judged.

Errs towards "described": few movements, other methods and old limits decide nothing.
"""

from collections.abc import Callable
from typing import Literal

from neuroform.exam.sensation import MovementCount
from neuroform.exam.walk import SIDES, Side
from neuroform.reasoning.facts import (
    Facts,
    Ref,
    SidedRef,
    Sign,
    all_of,
    any_of,
    both_sides,
    merged,
    negated,
    per_side,
    whole,
)
from neuroform.reasoning.items import (
    JP_ANKLE,
    JP_FINGER,
    JP_KNEE,
    JP_TOE,
    SCORE_FINGER,
    SCORE_MALLEOLUS,
    SCORE_TOE,
    VIB_FINGER,
    VIB_ILIAC,
    VIB_MALLEOLUS,
    VIB_SECONDS_TOE,
    VIB_TIBIA,
    VIB_TOE,
)
from neuroform.reference.joint_position import joint_position_verdict
from neuroform.reference.vibration import fork_verdict, seconds_verdict, word_verdict

JointFound = MovementCount | Literal["intact", "impaired", "absent"]
JointVerdict = Literal["intact", "impaired", "lost", "described"]
VibrationVerdict = Literal["normal", "borderline", "weak", "lost", "described"]


def joint_verdict(found: JointFound) -> JointVerdict:
    """Judge a joint position finding; fewer than five movements are described, not judged."""
    if isinstance(found, MovementCount):
        return joint_position_verdict(found.correct, found.trials)
    return "lost" if found == "absent" else found


def _joint_lost(found: JointFound) -> bool | None:
    verdict = joint_verdict(found)
    return None if verdict == "described" else verdict != "intact"


def joint_lost(facts: Facts, joint: SidedRef[JointFound], side: Side) -> Sign:
    """Joint position is impaired or lost at one joint of one side."""
    return facts.test(joint[side], _joint_lost)


@per_side
def jp_toe_lost(facts: Facts, side: Side) -> Sign:
    """Joint position is lost at the great toe."""
    return joint_lost(facts, JP_TOE, side)


@per_side
def jp_toe_intact(facts: Facts, side: Side) -> Sign:
    """Joint position is intact at the great toe."""
    return negated(jp_toe_lost(facts, side))


@per_side
def jp_ankle_lost(facts: Facts, side: Side) -> Sign:
    """Joint position is lost at the ankle."""
    return joint_lost(facts, JP_ANKLE, side)


@per_side
def jp_finger_lost(facts: Facts, side: Side) -> Sign:
    """Joint position is lost at the finger."""
    return joint_lost(facts, JP_FINGER, side)


@whole
def jp_lost(facts: Facts) -> Sign:
    """Joint position is lost at a great toe or an ankle."""
    return any_of(*(sign(facts, side) for sign in (jp_toe_lost, jp_ankle_lost) for side in SIDES))


@whole
def jp_toe_lost_any(facts: Facts) -> Sign:
    """Joint position is lost at a great toe."""
    return any_of(*(jp_toe_lost(facts, side) for side in SIDES))


@whole
def jp_intact_both(facts: Facts) -> Sign:
    """Joint position is intact at both great toes."""
    return both_sides(jp_toe_intact, facts)


@whole
def jp_known(facts: Facts) -> Sign:
    """Joint position is lost at one great toe, or known at both."""
    lost = jp_toe_lost_any(facts)
    return lost if lost.met else all_of(*(_known(jp_toe_lost(facts, side)) for side in SIDES))


@whole
def jp_toes_alike(facts: Facts) -> Sign:
    """Joint position is lost at both great toes, and to the same grade."""
    lost = both_sides(jp_toe_lost, facts)
    if not lost.met:
        return lost
    right, left = (facts.value(JP_TOE[side]) for side in SIDES)
    alike = right is not None and left is not None and joint_verdict(right) == joint_verdict(left)
    return lost.answering(alike)


def _known(sign: Sign) -> Sign:
    return sign if sign.met is None else sign.answering(True)


Judged = tuple[Ref[object], VibrationVerdict]


def _judged(facts: Facts, site: str, side: Side) -> tuple[Judged, ...]:
    """Judge what was recorded of vibration at a site, by each of its methods."""
    return facts.once(("vibration", site, side), lambda: tuple(_judge(facts, site, side)))


_WORDS = {"great_toe": VIB_TOE, "medial_malleolus": VIB_MALLEOLUS, "finger": VIB_FINGER}
_SCORES = {"great_toe": SCORE_TOE, "medial_malleolus": SCORE_MALLEOLUS, "finger": SCORE_FINGER}


def _judge(facts: Facts, site: str, side: Side) -> list[Judged]:
    found: list[Judged] = []
    if (word := facts.value(_WORDS[site][side])) is not None:
        found.append((Ref(_WORDS[site][side].path), word_verdict(word, facts.age)))
    if (score := facts.value(_SCORES[site][side])) is not None:
        found.append((Ref(_SCORES[site][side].path), fork_verdict(site, score, facts.age)))
    if site == "great_toe" and (seconds := facts.value(VIB_SECONDS_TOE[side])) is not None:
        found.append((Ref(VIB_SECONDS_TOE[side].path), seconds_verdict(seconds, facts.age)))
    return found


def vibration_verdicts(facts: Facts, site: str, side: Side) -> dict[str, VibrationVerdict]:
    """Return the verdict on every vibration finding of a site, by its path."""
    return {ref.path: verdict for ref, verdict in _judged(facts, site, side)}


def _vibration(facts: Facts, site: str, side: Side, holds: Callable[[VibrationVerdict], bool | None]) -> Sign:
    """Tell whether any method's verdict holds; unknown while nothing decides."""
    signs = [
        Sign(met, (ref.path,)) if (met := holds(verdict)) is not None else Sign(None, (), (ref.path,))
        for ref, verdict in _judged(facts, site, side)
    ]
    return any_of(*signs) if signs else Sign(None, (), (_WORDS[site][side].path,))


def _is_lost(verdict: VibrationVerdict) -> bool | None:
    return None if verdict == "described" else verdict == "lost"


def _is_weak(verdict: VibrationVerdict) -> bool | None:
    return None if verdict == "described" else verdict == "weak"


@per_side
def vib_toe_lost(facts: Facts, side: Side) -> Sign:
    """Vibration is below the limit at the great toe."""
    return _vibration(facts, "great_toe", side, _is_lost)


@per_side
def vib_malleolus_lost(facts: Facts, side: Side) -> Sign:
    """Vibration is below the limit at the inner ankle."""
    return _vibration(facts, "medial_malleolus", side, _is_lost)


@whole
def vib_lost(facts: Facts) -> Sign:
    """Vibration is below the limit at a great toe or an inner ankle."""
    return any_of(*(sign(facts, side) for sign in (vib_toe_lost, vib_malleolus_lost) for side in SIDES))


@whole
def vib_toe_lost_any(facts: Facts) -> Sign:
    """Vibration is below the limit at a great toe."""
    return any_of(*(vib_toe_lost(facts, side) for side in SIDES))


@per_side
def vib_weak(facts: Facts, side: Side) -> Sign:
    """Vibration is reduced at the great toe at an age at which that is common."""
    return _vibration(facts, "great_toe", side, _is_weak)


@whole
def vib_weak_any(facts: Facts) -> Sign:
    """Vibration is reduced at a great toe at an age at which that is common."""
    return any_of(*(vib_weak(facts, side) for side in SIDES))


@per_side
def vib_toe_normal(facts: Facts, side: Side) -> Sign:
    """Vibration is normal for age at the great toe by every method recorded."""
    return _normal(facts, "great_toe", side)


def _normal(facts: Facts, site: str, side: Side) -> Sign:
    judged = _judged(facts, site, side)
    if not judged:
        return Sign(None, (), (_WORDS[site][side].path,))
    decided = [(ref, verdict) for ref, verdict in judged if verdict != "described"]
    if not decided:
        return Sign(None, (), tuple(ref.path for ref, _verdict in judged))
    return Sign(all(verdict == "normal" for _ref, verdict in decided), tuple(ref.path for ref, _verdict in decided))


@whole
def vib_normal_both(facts: Facts) -> Sign:
    """Vibration is normal for age at both great toes."""
    return both_sides(vib_toe_normal, facts)


@per_side
def vib_known(facts: Facts, side: Side) -> Sign:
    """Vibration at the great toe is judged by at least one of its methods; borderline is judged too."""
    judged = tuple(ref.path for ref, verdict in _judged(facts, "great_toe", side) if verdict != "described")
    return Sign(True, judged) if judged else _vibration(facts, "great_toe", side, _is_lost)


@whole
def vib_known_both(facts: Facts) -> Sign:
    """Vibration at both great toes is known."""
    return both_sides(vib_known, facts)


@whole
def vib_known_any(facts: Facts) -> Sign:
    """Vibration at one great toe is known."""
    return any_of(*(vib_known(facts, side) for side in SIDES))


@per_side
def vib_worse_higher_up(facts: Facts, side: Side) -> Sign:
    """Vibration is lost higher up while it is normal at the toe of the same side."""
    higher = any_of(
        vib_malleolus_lost(facts, side),
        *(facts.is_(ref[side], "absent") for ref in (VIB_TIBIA, VIB_ILIAC)),
    )
    return all_of(higher, vib_toe_normal(facts, side))


def vibration_paths(side: Side) -> tuple[str, ...]:
    """Return the paths by which vibration at the great toe can be answered on one side."""
    return (VIB_TOE[side].path, SCORE_TOE[side].path, VIB_SECONDS_TOE[side].path)


def vibration_answered(facts: Facts, side: Side) -> bool:
    """Tell whether vibration at the great toe has a value or a reason by any method."""
    return any(path in facts.found for path in vibration_paths(side))


@whole
def jp_proximal_lost(facts: Facts) -> Sign:
    """Joint position is lost at a knee."""
    return any_of(*(joint_lost(facts, JP_KNEE, side) for side in SIDES))


def joint_and_vibration_paths() -> tuple[str, ...]:
    """Return the paths of joint position at the great toes and of vibration there by words."""
    return merged((JP_TOE[side].path, VIB_TOE[side].path) for side in SIDES)
