"""Patterns of weakness and stiffness: upper motor neurone, nerve or muscle, frontal or parkinsonian gait."""

from neuroform.exam.walk import Side
from neuroform.language import N_
from neuroform.reasoning.balance_signs import gait_frontal, quiet_stance
from neuroform.reasoning.facts import Facts, Sign, all_of, any_of, negated, per_side, whole
from neuroform.reasoning.items import (
    ARM_SWING,
    BLADDER,
    BRADYKINESIA,
    GAIT,
    KNEE_REFLEX,
    ONSET,
    PULL_TEST,
    TONE,
    TURNING,
)
from neuroform.reasoning.limb_signs import (
    clearly_weak,
    extensor,
    extensor_or_clonus,
    flexor,
    plantar_known,
    power_full,
    power_tried,
    power_tried_throughout,
    reflex_brisk,
    reflexes_absent,
    reflexes_known,
    slightly_weak,
    tone_increased,
    wasted_or_twitching,
    weak_with_low_reflex,
)
from neuroform.reasoning.mechanism import Pattern, decisive, strong, weak
from neuroform.reasoning.sign_makers import found, found_here, holds, of_person, on_either, told
from neuroform.reasoning.signs import clonus, sphincter, sym, trunk_level


@per_side
def _spastic_gait(facts: Facts, side: Side) -> Sign:
    here = facts.has(GAIT, "spastic_right") if side == "right" else facts.has(GAIT, "spastic_left")
    return any_of(facts.has(GAIT, "spastic", "scissoring"), here)


@per_side
def _stretch_and_plantar_known(facts: Facts, side: Side) -> Sign:
    return all_of(plantar_known(facts, side), reflexes_known(facts, side))


@per_side
def _plantar_clonus_or_tone(facts: Facts, side: Side) -> Sign:
    return any_of(extensor_or_clonus(facts, side), tone_increased(facts, side))


@per_side
def _cord_shock_possible(facts: Facts, side: Side) -> Sign:
    """A cord damaged within days loses its reflexes; a normal knee reflex with a full bladder points below the cord."""
    below_the_cord = facts.is_(KNEE_REFLEX[side], "normal")
    bladder = all_of(sphincter(facts), negated(below_the_cord))
    return all_of(facts.is_(ONSET, "sudden", "acute"), any_of(trunk_level(facts), bladder))


UPPER_MOTOR_NEURONE = Pattern(
    name="upper_motor_neurone",
    label=N_("upper motor neurone"),
    sided=True,
    speaks_for=(
        strong(N_("extensor plantar response"), on_side=extensor),
        strong(N_("clonus"), on_side=clonus),
        strong(N_("increased tone"), on_side=tone_increased),
        strong(N_("brisk knee or ankle reflex"), on_side=reflex_brisk),
        weak(N_("spastic gait"), on_side=_spastic_gait),
    ),
    speaks_against=(
        weak(N_("flexor plantar response"), on_side=flexor),
        weak(N_("knee and ankle reflexes absent"), on_side=reflexes_absent),
    ),
    must=_stretch_and_plantar_known,
    supported_needs=_plantar_clonus_or_tone,
    never_unlikely=_cord_shock_possible,
    asked_for=told("leg_stiffness", "weakness"),
)


@per_side
def _power_and_reflexes_tried(facts: Facts, side: Side) -> Sign:
    return all_of(power_tried(facts, side), reflexes_known(facts, side))


@per_side
def _leg_tried_throughout(facts: Facts, side: Side) -> Sign:
    return all_of(power_tried_throughout(facts, side), reflexes_known(facts, side))


LOWER_MOTOR_NEURONE = Pattern(
    name="lower_motor_neurone_weakness",
    label=N_("nerve, junction or muscle weakness"),
    sided=True,
    speaks_for=(
        strong(N_("two muscle groups weak, or one 3 or less"), on_side=clearly_weak),
        strong(N_("weak, with a reduced or absent reflex"), on_side=weak_with_low_reflex),
        strong(N_("wasting or fasciculation"), on_side=wasted_or_twitching),
        strong(N_("waddling or high-stepping gait"), holds(GAIT, "waddling", "high_stepping")),
        weak(N_("one muscle group slightly weak"), on_side=slightly_weak),
        weak(N_("reduced tone"), on_side=found_here(TONE, "reduced")),
    ),
    speaks_against=(
        decisive(N_("full power from hip or knee to ankle"), on_side=power_full),
        strong(N_("extensor plantar response or clonus"), on_side=extensor_or_clonus),
        strong(N_("brisk knee or ankle reflex"), on_side=reflex_brisk),
        strong(N_("increased tone"), on_side=tone_increased),
    ),
    must=_power_and_reflexes_tried,
    must_to_deny=_leg_tried_throughout,
    advice=N_(
        "Reflexes lost and weakness of the feet: nerve or root. Reflexes kept and weakness of the hips: muscle or"
        " junction; ask about fatigue within the day."
    ),
    asked_for=told("weakness"),
)

_WOULD_FALL = found(PULL_TEST, "would_fall")


@whole
def _urgency_or_slow_thinking(facts: Facts) -> Sign:
    told = sym(facts, "urinary_urgency", "slowed_thinking")
    return any_of(told, facts.is_(BLADDER, "urgency", "incontinence"))


@whole
def _gait_of_its_kind(facts: Facts) -> Sign:
    return any_of(gait_frontal(facts), _WOULD_FALL(facts))


@whole
def _gait_known(facts: Facts) -> Sign:
    return facts.known(GAIT)


FRONTAL_OR_PARKINSONIAN = Pattern(
    name="frontal_or_parkinsonian_gait",
    label=N_("frontal or parkinsonian gait"),
    speaks_for=(
        strong(N_("magnetic gait"), holds(GAIT, "magnetic")),
        strong(N_("shuffling, freezing or festinating gait"), holds(GAIT, "shuffling", "freezing", "festinating")),
        strong(N_("rigid tone"), on_either(found_here(TONE, "rigid"))),
        strong(N_("would fall on the pull test"), _WOULD_FALL),
        weak(N_("arm swing reduced"), on_either(found_here(ARM_SWING, "reduced"))),
        weak(N_("many steps to turn"), found(TURNING, "many_steps")),
        weak(N_("foot taps that grow small"), on_either(found_here(BRADYKINESIA, "clear"))),
        weak(N_("urgency of the bladder or slowed thinking"), _urgency_or_slow_thinking),
        weak(N_("quiet stance, no change on closing the eyes"), quiet_stance),
    ),
    speaks_against=(
        decisive(N_("normal gait"), holds(GAIT, "normal")),
        strong(
            N_("ataxic, stamping, spastic, waddling or high-stepping gait"),
            holds(
                GAIT,
                "ataxic",
                "stamping",
                "spastic",
                "spastic_right",
                "spastic_left",
                "scissoring",
                "waddling",
                "high_stepping",
            ),
        ),
    ),
    must=of_person(_gait_known),
    possible_needs=of_person(_gait_of_its_kind),
    asked_for=told("falls", "slowed_thinking", "urinary_urgency"),
)
