"""Patterns of the cerebellum: its middle, one half, and together with lost feeling."""

from neuroform.language import N_
from neuroform.reasoning.balance_signs import (
    ataxia_signs_known,
    drifts_to,
    finger_clumsy,
    heel_shin_ataxic_one_side,
    heel_shin_ataxic_opposite,
    heel_shin_one_sided,
    irregular_taps,
    leg_tells,
    steady_eyes_open,
)
from neuroform.reasoning.eye_signs import benign_triad, impulse_corrective_any
from neuroform.reasoning.facts import Facts, Sign, WholeSign, all_of, any_of, guarded, whole
from neuroform.reasoning.items import BASE, EO_SWAY, GAIT, GAZE_EVOKED, HEEL_SHIN, SITTING, TANDEM
from neuroform.reasoning.mechanism import Pattern, decisive, strong, weak
from neuroform.reasoning.sensory_signs import jp_intact_both, jp_known, jp_lost
from neuroform.reasoning.sign_makers import found, found_here, holds, of_person, on_either, told
from neuroform.reasoning.signs import (
    eye_or_speech,
    finger_ataxia,
    gait_ataxic,
    heel_shin_ataxic,
    legs_clear,
    ongoing,
    tandem_lost,
    tandem_perfect,
    umn,
    unsteady_eyes_open,
)


def in_clear_legs(sign: WholeSign) -> WholeSign:
    """Let a sign count only where strength and joint position of both legs are known and clear."""
    return whole(lambda facts: guarded(sign(facts), legs_clear(facts)))


UNSTEADY_IN_CLEAR_LEGS = in_clear_legs(unsteady_eyes_open)
ATAXIC_IN_CLEAR_LEGS = in_clear_legs(gait_ataxic)
TANDEM_LOST_IN_CLEAR_LEGS = in_clear_legs(tandem_lost)
CANNOT_SIT_STILL = found(SITTING, "unsteady", "cannot_sit")


@whole
def _trunk_tried(facts: Facts) -> Sign:
    return all_of(facts.known(EO_SWAY), facts.known(TANDEM))


@whole
def _trunk_eyes_and_legs_tried(facts: Facts) -> Sign:
    legs = (facts.known(HEEL_SHIN.right), facts.known(HEEL_SHIN.left))
    return all_of(_trunk_tried(facts), facts.known(GAZE_EVOKED), *legs)


MIDLINE = Pattern(
    name="cerebellar_midline",
    label=N_("midline of the cerebellum"),
    speaks_for=(
        strong(N_("unsteady with eyes open, legs clear"), UNSTEADY_IN_CLEAR_LEGS),
        strong(N_("ataxic gait, legs clear"), ATAXIC_IN_CLEAR_LEGS),
        strong(N_("heel-to-toe walking lost, legs clear"), TANDEM_LOST_IN_CLEAR_LEGS),
        strong(N_("unsteady or unable to sit"), CANNOT_SIT_STILL),
        strong(N_("nystagmus that changes with gaze, or slurred or scanning speech"), eye_or_speech),
        weak(N_("wide base, legs clear"), in_clear_legs(found(BASE, "wide"))),
    ),
    speaks_against=(
        decisive(N_("ten heel-to-toe steps without a step aside"), tandem_perfect),
        strong(N_("eye signs of a loss on one side, complete"), benign_triad),
        strong(N_("heel-shin ataxic on one side alone"), on_either(heel_shin_ataxic_one_side)),
        strong(N_("shuffling or magnetic gait"), holds(GAIT, "shuffling", "magnetic")),
        weak(N_("steady with eyes open"), steady_eyes_open),
        weak(N_("vertigo that goes on, or is not known to have stopped"), ongoing),
        weak(N_("a corrective saccade of the head impulse"), impulse_corrective_any),
    ),
    must=of_person(_trunk_eyes_and_legs_tried),
    must_to_deny=of_person(_trunk_tried),
    possible_at_most=of_person(ongoing),
    asked_for=told("unsteadiness", "slurred_speech"),
)

HEMISPHERE = Pattern(
    name="cerebellar_hemisphere",
    label=N_("one half of the cerebellum"),
    sided=True,
    speaks_for=(
        strong(N_("heel-shin moderately ataxic or worse, leg clear"), on_side=heel_shin_ataxic),
        strong(N_("heel-shin mildly irregular on this side alone, leg clear"), on_side=heel_shin_one_sided),
        strong(N_("finger-nose moderately ataxic or worse"), on_side=finger_clumsy),
        weak(N_("irregular alternating movements or foot taps"), on_side=irregular_taps),
        weak(N_("veers or leans to this side"), on_side=drifts_to),
        weak(N_("nystagmus that changes with gaze, or slurred or scanning speech"), eye_or_speech),
    ),
    speaks_against=(
        strong(N_("heel-shin normal on this side"), on_side=found_here(HEEL_SHIN, "normal")),
        strong(N_("a sign of the upper motor neurone on this side"), on_side=umn),
        weak(N_("heel-shin ataxic on the other side"), on_side=heel_shin_ataxic_opposite),
    ),
    must=leg_tells,
    advice=N_("With signs of the upper motor neurone on the same side: ataxic hemiparesis."),
    asked_for=told("unsteadiness", "slurred_speech"),
)


@whole
def _sensory_and_cerebellar_known(facts: Facts) -> Sign:
    return all_of(jp_known(facts), ataxia_signs_known(facts))


@whole
def _ataxia_beyond_the_legs(facts: Facts) -> Sign:
    return any_of(eye_or_speech(facts), finger_ataxia(facts))


@whole
def _both_parts(facts: Facts) -> Sign:
    return all_of(jp_lost(facts), _ataxia_beyond_the_legs(facts))


COMBINED = Pattern(
    name="combined_sensory_cerebellar",
    label=N_("sensory and cerebellar ataxia together"),
    speaks_for=(
        strong(N_("joint position lost at a great toe or ankle"), jp_lost),
        strong(N_("eyes, speech or finger-nose ataxic"), _ataxia_beyond_the_legs),
        weak(N_("ataxic gait"), holds(GAIT, "ataxic")),
    ),
    speaks_against=(decisive(N_("joint position intact at both great toes"), jp_intact_both),),
    must=of_person(_sensory_and_cerebellar_known),
    possible_needs=of_person(_both_parts),
    asked_for=told("unsteadiness"),
)
