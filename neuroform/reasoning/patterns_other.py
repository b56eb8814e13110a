"""Patterns of no single sense or place: functional, orthostatic, and reliance on vision."""

from neuroform.exam.walk import SIDES
from neuroform.language import N_
from neuroform.reasoning.balance_signs import distraction_tried, enough_to_deny_functional, objective_sign
from neuroform.reasoning.eye_signs import impulse_corrective_any
from neuroform.reasoning.facts import Facts, Sign, all_of, negated, whole
from neuroform.reasoning.functional_signs import (
    functional_sign,
    functional_weakness,
    gait_functional,
    steadier_distracted,
    swayed_from_hips_throughout,
    unsteady_yet_tandem,
)
from neuroform.reasoning.items import (
    DISTRACTION,
    EC_ENDED,
    EC_SWAY,
    EO_ENDED,
    EO_SWAY,
    GAZE_EVOKED,
    ON_STANDING,
    PLANTAR,
    SWAY_FROM,
)
from neuroform.reasoning.limb_signs import ankle_absent_under_60, jp_known_both
from neuroform.reasoning.mechanism import Pattern, decisive, strong, weak
from neuroform.reasoning.pressure_signs import orthostatic_fall
from neuroform.reasoning.sensory_signs import jp_lost
from neuroform.reasoning.sign_makers import found, of_person, settled, told
from neuroform.reasoning.signs import impulse_known_both
from neuroform.reasoning.stance_test import change, no_change

_LEMPERT = N_("Lempert 1991, J Neurol 238:140-146")
_FREEMAN = N_("Freeman 2011, Clin Auton Res 21:69-72")


@whole
def _examined_throughout(facts: Facts) -> Sign:
    plantars = (facts.known(PLANTAR[side]) for side in SIDES)
    eyes = (impulse_known_both(facts), facts.known(GAZE_EVOKED))
    return all_of(distraction_tried(facts), jp_known_both(facts), *eyes, *plantars)


FUNCTIONAL = Pattern(
    name="functional",
    label=N_("features of functional imbalance"),
    speaks_for=(
        strong(N_("clearly steadier when distracted"), steadier_distracted, source=_LEMPERT),
        strong(N_("marked sway from the hips for a whole trial"), swayed_from_hips_throughout),
        strong(N_("effortful or ice-like gait, or strong legs that buckle"), gait_functional, source=_LEMPERT),
        strong(N_("unsteady standing, yet nine or ten heel-to-toe steps"), unsteady_yet_tandem),
        strong(N_("a sign of functional weakness"), functional_weakness),
    ),
    speaks_against=(
        strong(N_("a sign that can't be made at will"), objective_sign),
        weak(N_("sway from the ankles"), found(SWAY_FROM, "ankles")),
        weak(N_("not steadier when distracted"), found(DISTRACTION, "unchanged", "worse")),
    ),
    must=of_person(_examined_throughout),
    must_to_deny=of_person(enough_to_deny_functional),
    advice=N_("This does not exclude a second cause."),
)


@whole
def _pressures_compared(facts: Facts) -> Sign:
    return settled(orthostatic_fall(facts))


@whole
def _no_fall(facts: Facts) -> Sign:
    return negated(orthostatic_fall(facts))


ORTHOSTATIC = Pattern(
    name="orthostatic",
    label=N_("fall of blood pressure on standing"),
    speaks_for=(
        decisive(N_("pressure falls within three minutes of standing"), orthostatic_fall, source=_FREEMAN),
        weak(N_("symptoms on standing"), found(ON_STANDING, "yes")),
    ),
    speaks_against=(strong(N_("both readings taken, no fall"), _no_fall, source=_FREEMAN),),
    must=of_person(_pressures_compared),
    advice=N_("No fall by three minutes excludes neither an initial nor a delayed one."),
    asked_for=told("light_headedness", "fainting", "falls"),
)


@whole
def _everything_else_looked_at(facts: Facts) -> Sign:
    trials = (facts.known(ref) for ref in (EO_SWAY, EC_SWAY))
    ends = (facts.known(ref) for ref in (EO_ENDED, EC_ENDED))
    return all_of(*trials, *ends, jp_known_both(facts), impulse_known_both(facts))


@whole
def _always(_facts: Facts) -> Sign:
    return Sign(True)


VISUAL_DEPENDENCE = Pattern(
    name="visual_dependence",
    label=N_("unexplained reliance on vision"),
    speaks_for=(strong(N_("a clear change on closing the eyes"), change),),
    speaks_against=(
        strong(N_("joint position lost at a great toe or ankle"), jp_lost),
        strong(N_("a corrective saccade of the head impulse"), impulse_corrective_any),
        strong(N_("a functional sign"), functional_sign),
        strong(N_("an absent ankle reflex under 60 years"), ankle_absent_under_60),
        weak(N_("stance test negative with feet together"), no_change),
    ),
    must=of_person(_everything_else_looked_at),
    possible_needs=of_person(_everything_else_looked_at),
    possible_at_most=of_person(_always),
)
