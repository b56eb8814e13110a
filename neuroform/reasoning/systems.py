"""What was found of each sense, of the cerebellum and of strength: intact, impaired, partly tested or not tested.

Errs towards "partly tested": intact needs the whole list of a system known and normal, and nothing else of it abnormal.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from neuroform.exam.walk import SIDES
from neuroform.reasoning.balance_signs import finger_clumsy, heel_shin_one_sided
from neuroform.reasoning.eye_signs import impulse_corrective_any
from neuroform.reasoning.facts import Facts, Ref, SidedRef, Sign, WholeSign, any_of, any_side, whole
from neuroform.reasoning.items import (
    ALTERNATING,
    BULK,
    CLONUS_BEATS,
    CORE_POWER,
    FASCICULATION,
    FINGER_NOSE,
    FOOT_TAPPING,
    GAIN,
    GAZE_EVOKED,
    HEAD_IMPULSE,
    HEAD_SHAKING,
    HEEL_SHIN,
    JP_ANKLE,
    JP_FINGER,
    JP_KNEE,
    JP_TOE,
    LINES_LOST,
    NYSTAGMUS,
    PLANTAR,
    POSITIONAL,
    POWER,
    PURSUIT,
    ROLL_TEST,
    SACCADES,
    SPEECH,
    TANDEM,
    USEFUL_VISION,
)
from neuroform.reasoning.limb_signs import umn_any
from neuroform.reasoning.marks import mark
from neuroform.reasoning.normal import TANDEM_TELLS_UNDER
from neuroform.reasoning.patterns_cerebellar import (
    ATAXIC_IN_CLEAR_LEGS,
    CANNOT_SIT_STILL,
    TANDEM_LOST_IN_CLEAR_LEGS,
    UNSTEADY_IN_CLEAR_LEGS,
)
from neuroform.reasoning.results import System, SystemState
from neuroform.reasoning.sensory_signs import jp_lost
from neuroform.reasoning.signs import eye_or_speech, heel_shin_ataxic, ongoing, paretic
from neuroform.reference.head_impulse import gain_limit


def _paths(*refs: Ref[Any] | SidedRef[Any]) -> tuple[str, ...]:
    found = ((ref,) if isinstance(ref, Ref) else (ref.right, ref.left) for ref in refs)
    return tuple(one.path for sides in found for one in sides)


@whole
def _no_useful_vision(facts: Facts) -> Sign:
    return facts.is_(USEFUL_VISION, "none")


@whole
def _labyrinth_weak(facts: Facts) -> Sign:
    """A corrective saccade, or a recorded gain below its limit."""
    gains = (facts.test(GAIN[side], lambda gain: not gain_limit().normal(gain)) for side in SIDES)
    return any_of(impulse_corrective_any(facts), *gains)


@whole
def _trunk_ataxic(facts: Facts) -> Sign:
    """The trunk is unsteady, and no vertigo and no vestibular loss explain it."""
    trunk = (UNSTEADY_IN_CLEAR_LEGS, ATAXIC_IN_CLEAR_LEGS, TANDEM_LOST_IN_CLEAR_LEGS, CANNOT_SIT_STILL)
    explained = any_of(ongoing(facts), impulse_corrective_any(facts))
    return explained.answering(False) if explained.met else any_of(*(sign(facts) for sign in trunk))


@whole
def _cerebellum_ataxic(facts: Facts) -> Sign:
    limbs = (any_side(sign, facts) for sign in (heel_shin_ataxic, heel_shin_one_sided, finger_clumsy))
    return any_of(eye_or_speech(facts), *limbs, _trunk_ataxic(facts))


@whole
def _weak_or_stiff(facts: Facts) -> Sign:
    return any_of(*(paretic(facts, side) for side in SIDES), umn_any(facts))


@dataclass(frozen=True, kw_only=True, eq=False)
class Tested:
    """How one system is judged."""

    impaired: WholeSign
    """A strong sign of it."""
    listed: tuple[str, ...]
    """Everything that has to be known and normal before it is intact."""
    others: tuple[str, ...] = ()
    """What else tells about it, when recorded: abnormal beside a normal list, it is impaired by a weak sign alone."""


SYSTEMS: Mapping[System, Tested] = {
    "vision": Tested(impaired=_no_useful_vision, listed=_paths(USEFUL_VISION)),
    "joint_position": Tested(impaired=jp_lost, listed=_paths(JP_TOE), others=_paths(JP_ANKLE, JP_KNEE, JP_FINGER)),
    "vestibular": Tested(
        impaired=_labyrinth_weak,
        listed=_paths(HEAD_IMPULSE, NYSTAGMUS),
        others=_paths(GAIN, HEAD_SHAKING, POSITIONAL, ROLL_TEST, LINES_LOST),
    ),
    "cerebellar": Tested(
        impaired=_cerebellum_ataxic,
        listed=_paths(HEEL_SHIN, FINGER_NOSE, SPEECH, GAZE_EVOKED, TANDEM),
        others=_paths(ALTERNATING, FOOT_TAPPING, PURSUIT, SACCADES),
    ),
    "motor": Tested(
        impaired=_weak_or_stiff,
        listed=_paths(*CORE_POWER, PLANTAR),
        others=_paths(*(group for group in POWER if group not in CORE_POWER), BULK, FASCICULATION, CLONUS_BEATS),
    ),
}


def systems(facts: Facts) -> Mapping[System, SystemState]:
    """Return the state of every system."""
    return {name: facts.kept(_state, tested) for name, tested in SYSTEMS.items()}


def _state(facts: Facts, tested: Tested) -> SystemState:
    if tested.impaired(facts).met:
        return "impaired"
    if all(_fine(facts, path) for path in tested.listed):
        return "impaired" if any(_weak_sign(facts, path) for path in tested.others) else "intact"
    recorded = any(_known(facts, path) for path in (*tested.listed, *tested.others))
    return "partly_tested" if recorded else "not_tested"


def _known(facts: Facts, path: str) -> bool:
    return facts.known(Ref[Any](path)).met is True


def _fine(facts: Facts, path: str) -> bool:
    """Tell whether a finding is normal, or of a kind that is not abnormal."""
    marked = mark(facts, path)
    mute = marked == "neutral" and facts.value(Ref[Any](path)) == "mute"
    return marked == "normal" or mute or _old_tandem(facts, path)


def _old_tandem(facts: Facts, path: str) -> bool:
    """From 75 years no number of heel-to-toe steps is abnormal by itself."""
    return path == TANDEM.path and facts.age >= TANDEM_TELLS_UNDER and _known(facts, path)


def _weak_sign(facts: Facts, path: str) -> bool:
    """Tell whether another finding of a system is abnormal; slow movements are no sign of the cerebellum."""
    return mark(facts, path) == "abnormal" and facts.value(Ref[Any](path)) != "slow"
