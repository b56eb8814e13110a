"""Patterns of lost feeling: sensory ataxia, the longest nerves, the dorsal columns of the cord."""

from neuroform.language import N_
from neuroform.reasoning.balance_signs import cannot_be_compared, heel_shin_worse_closed, sees_nothing
from neuroform.reasoning.facts import Facts, Sign, all_of, any_of, both_sides, whole
from neuroform.reasoning.functional_signs import functional_sign
from neuroform.reasoning.items import ANKLE_REFLEX, DAYS, GAIT, HANDS, PINPRICK
from neuroform.reasoning.limb_signs import (
    OLD,
    ankle_brisk,
    ankles_absent,
    ankles_normal,
    ankles_reduced,
    brisk_any,
    extensor,
    foot_weaker_than_hip,
    jp_known_both,
    knee_brisk,
    nerves_alone,
    one_root_or_nerve,
    pain_and_temperature_kept,
    pinprick_alike,
    pinprick_kept_both,
    plantar_known,
    umn_any,
    vib_worse_higher_up_any,
    vibration_unlike_nerves,
)
from neuroform.reasoning.mechanism import Pattern, decisive, strong, weak
from neuroform.reasoning.sensory_signs import (
    jp_intact_both,
    jp_known,
    jp_lost,
    jp_toe_lost_any,
    jp_toes_alike,
    vib_known_any,
    vib_known_both,
    vib_lost,
    vib_normal_both,
    vib_toe_lost_any,
)
from neuroform.reasoning.sign_makers import at_age, at_least_two, found, holds, of_person, on_both, on_either, told
from neuroform.reasoning.signs import pinprick_differs, saddle, trunk_level
from neuroform.reasoning.stance_test import change, no_change

RECENT_DAYS = 28
_VRANCKEN = N_("Vrancken 2006, J Neurol 253:578-589")

stamping = holds(GAIT, "stamping")
heel_shin_worse_closed_any = on_either(heel_shin_worse_closed)


@whole
def _joint_position_and_vibration_known(facts: Facts) -> Sign:
    return all_of(jp_known(facts), vib_known_any(facts))


@whole
def _lost_and_missed(facts: Facts) -> Sign:
    missed = any_of(change(facts), stamping(facts), heel_shin_worse_closed_any(facts))
    return all_of(jp_lost(facts), missed)


SENSORY_ATAXIA = Pattern(
    name="sensory_ataxia",
    label=N_("sensory ataxia"),
    speaks_for=(
        strong(N_("joint position lost at a great toe or ankle"), jp_lost),
        strong(N_("vibration lost at a great toe or inner ankle"), vib_lost),
        strong(N_("a clear change on closing the eyes"), change),
        strong(N_("stamping gait"), stamping),
        strong(N_("heel-shin worse with eyes closed"), heel_shin_worse_closed_any),
    ),
    speaks_against=(
        decisive(N_("joint position intact at both great toes"), jp_intact_both),
        strong(N_("a functional sign"), functional_sign),
        strong(N_("no useful vision"), sees_nothing),
        strong(N_("feet apart, with a limb missing or immobilised"), cannot_be_compared),
        weak(N_("vibration normal at both great toes"), vib_normal_both),
        weak(N_("stance test negative with feet together"), no_change),
    ),
    must=of_person(_joint_position_and_vibration_known),
    supported_needs=of_person(_lost_and_missed),
    asked_for=told("unsteadiness", "falls", "numbness"),
)


@whole
def _three_signs_of_nerves_known(facts: Facts) -> Sign:
    paths = (*(ref[side] for ref in (PINPRICK, ANKLE_REFLEX) for side in ("right", "left")),)
    return all_of(vib_known_both(facts), *(facts.known(ref) for ref in paths))


@whole
def _short_of_a_month(facts: Facts) -> Sign:
    return facts.test(DAYS, lambda days: days <= RECENT_DAYS)


LENGTH_DEPENDENT = Pattern(
    name="length_dependent_neuropathy",
    label=N_("length-dependent neuropathy"),
    speaks_for=(
        strong(N_("vibration lost at a great toe"), vib_toe_lost_any),
        strong(N_("pinprick lost from the toes up, alike on both sides"), pinprick_alike),
        strong(N_("ankle reflexes absent on both sides, under 60 years"), at_age(ankles_absent, high=OLD)),
        weak(
            N_("ankle reflexes absent on both sides, from 60 years"), at_age(ankles_absent, low=OLD), source=_VRANCKEN
        ),
        weak(N_("ankle reflexes reduced on both sides"), ankles_reduced),
        weak(N_("joint position lost alike at both great toes"), jp_toes_alike),
        weak(N_("feet weaker than hips on both sides"), on_both(foot_weaker_than_hip)),
        weak(N_("hands affected after the feet"), found(HANDS, "after_feet")),
    ),
    speaks_against=(
        decisive(N_("a brisk ankle reflex or clonus"), on_either(ankle_brisk)),
        decisive(N_("feeling between the legs affected"), saddle),
        decisive(N_("a level on the trunk"), trunk_level),
        strong(N_("an extensor plantar response"), on_either(extensor)),
        strong(N_("pinprick two levels apart"), pinprick_differs),
        strong(N_("vibration normal for age, or lost on one side alone"), vibration_unlike_nerves),
        strong(N_("vibration worse higher up"), vib_worse_higher_up_any),
        strong(N_("there for 28 days or less"), _short_of_a_month),
        strong(N_("hands affected before the feet"), found(HANDS, "before_feet")),
        strong(N_("spread of a root or a single nerve"), on_either(one_root_or_nerve)),
        weak(N_("a brisk knee reflex"), on_either(knee_brisk)),
        weak(N_("pinprick normal on both sides"), pinprick_kept_both),
        weak(N_("ankle reflexes normal on both sides, under 60 years"), at_age(ankles_normal, high=OLD)),
    ),
    must=of_person(_three_signs_of_nerves_known),
    supported_needs=of_person(at_least_two(vib_toe_lost_any, pinprick_alike, ankles_absent)),
    asked_for=told("unsteadiness", "falls", "numbness"),
)


@whole
def _cord_signs_known(facts: Facts) -> Sign:
    plantars = both_sides(plantar_known, facts)
    ankles = (facts.known(ANKLE_REFLEX.right), facts.known(ANKLE_REFLEX.left))
    return all_of(jp_known_both(facts), plantars, *ankles)


@whole
def _lost_below_the_cord(facts: Facts) -> Sign:
    return all_of(jp_toe_lost_any(facts), any_of(umn_any(facts), trunk_level(facts), brisk_any(facts)))


DORSAL_COLUMN = Pattern(
    name="dorsal_column",
    label=N_("dorsal columns of the cord"),
    speaks_for=(
        strong(N_("joint position lost at a great toe"), jp_toe_lost_any),
        strong(N_("a sign of the upper motor neurone"), umn_any),
        strong(N_("a level on the trunk"), trunk_level),
        weak(N_("vibration lost at a great toe or inner ankle"), vib_lost),
        weak(N_("a brisk knee or ankle reflex"), brisk_any),
        weak(N_("pinprick and temperature kept"), on_both(pain_and_temperature_kept)),
    ),
    speaks_against=(
        decisive(N_("joint position intact at both great toes"), jp_intact_both),
        strong(N_("ankle reflexes absent and no extensor plantar response"), nerves_alone),
    ),
    must=of_person(_cord_signs_known),
    supported_needs=of_person(_lost_below_the_cord),
    advice=N_(
        "Think first of compression (image), then of vitamin B12 including nitrous oxide, copper, HIV, syphilis and"
        " vitamin E."
    ),
    asked_for=told("numbness", "leg_stiffness", "hand_clumsiness"),
)
