"""Blood pressure on standing (Freeman 2011, Clin Auton Res 21:69-72)."""

from neuroform.exam.circulation import Pressure
from neuroform.reasoning.facts import Facts, Ref, Sign, any_of, whole
from neuroform.reasoning.items import AT_1_MIN, AT_3_MIN, LYING

SYSTOLIC_FALL = 20
DIASTOLIC_FALL = 10
SYSTOLIC_FALL_WHEN_HIGH = 30
HIGH_LYING = 140


def falls_between(lying: Pressure, standing: Pressure) -> bool:
    """Tell whether the pressure falls by 20/10 mm Hg or more; 30 systolic where it is 140 or more lying."""
    enough = SYSTOLIC_FALL_WHEN_HIGH if lying.systolic >= HIGH_LYING else SYSTOLIC_FALL
    return lying.systolic - standing.systolic >= enough or lying.diastolic - standing.diastolic >= DIASTOLIC_FALL


def _falls_at(facts: Facts, ref: Ref[Pressure]) -> Sign:
    lying, standing = facts.value(LYING), facts.value(ref)
    if lying is None or standing is None:
        return Sign(None, (), tuple(one.path for one in (LYING, ref) if facts.value(one) is None))
    return Sign(falls_between(lying, standing), (LYING.path, ref.path))


@whole
def orthostatic_fall(facts: Facts) -> Sign:
    """The pressure falls within three minutes of standing."""
    return any_of(_falls_at(facts, AT_1_MIN), _falls_at(facts, AT_3_MIN))
