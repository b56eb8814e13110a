"""Positive functional signs; the absence of one says nothing."""

from neuroform.exam.walk import SIDES
from neuroform.reasoning.facts import Facts, Sign, all_of, any_of, guarded, negated, whole
from neuroform.reasoning.items import DISTRACTION, EC_ENDED, EC_SWAY, GAIT, HIP_ABDUCTOR_SIGN, HOOVER, SWAY_FROM, TANDEM
from neuroform.reasoning.signs import FOUR, below, unsteady_eyes_open


@whole
def strong_legs(facts: Facts) -> Sign:
    """Power is known and 4 or more in both legs."""
    return all_of(*(negated(below(facts, side, FOUR)) for side in SIDES))


@whole
def swayed_from_hips_throughout(facts: Facts) -> Sign:
    """Marked sway from the hips for a whole trial with eyes closed, without step, fall or rescue."""
    return all_of(facts.is_(EC_SWAY, "marked"), facts.is_(EC_ENDED, "held"), facts.is_(SWAY_FROM, "hips"))


@whole
def gait_functional(facts: Facts) -> Sign:
    """Gait effortful and inconsistent or as if on ice; or dragging or buckling in legs with power of 4 or more."""
    plain = facts.has(GAIT, "effortful_inconsistent", "as_on_ice")
    needs_power = facts.has(GAIT, "dragging", "knee_buckling")
    return any_of(plain, guarded(needs_power, strong_legs(facts)))


@whole
def unsteady_yet_tandem(facts: Facts) -> Sign:
    """Unsteady standing with eyes open, yet nine or ten heel-to-toe steps."""
    return all_of(unsteady_eyes_open(facts), facts.test(TANDEM, lambda steps: steps >= 9))


@whole
def functional_weakness(facts: Facts) -> Sign:
    """A positive sign of functional weakness."""
    return any_of(*(facts.is_(ref[side], "positive") for ref in (HOOVER, HIP_ABDUCTOR_SIGN) for side in SIDES))


@whole
def steadier_distracted(facts: Facts) -> Sign:
    """Clearly steadier when distracted."""
    return facts.is_(DISTRACTION, "steadier")


FUNCTIONAL_SIGNS = (
    steadier_distracted,
    swayed_from_hips_throughout,
    gait_functional,
    unsteady_yet_tandem,
    functional_weakness,
)


@whole
def functional_sign(facts: Facts) -> Sign:
    """At least one positive functional sign."""
    return any_of(*(sign(facts) for sign in FUNCTIONAL_SIGNS))
