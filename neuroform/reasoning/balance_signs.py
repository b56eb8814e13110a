"""Signs of standing, walking and coordination that only the table of patterns reads, taken together.

Errs towards unknown, as all signs do. Thresholds without a source beside them are common practice.
"""

from neuroform.exam.walk import OTHER, Side
from neuroform.reasoning.eye_signs import impulse_corrective_any
from neuroform.reasoning.facts import Facts, Sign, all_of, any_of, guarded, negated, per_side, whole
from neuroform.reasoning.items import (
    ALTERNATING,
    DISTRACTION,
    EC_DIRECTION,
    EC_ENDED,
    EC_SWAY,
    EO_DIRECTION,
    EO_ENDED,
    EO_SWAY,
    FEET,
    FINGER_NOSE,
    FOAM_EC_ENDED,
    FOAM_EC_SWAY,
    FOOT_TAPPING,
    GAIT,
    HEEL_SHIN,
    HEEL_SHIN_CLOSED,
    SWAY_FROM,
    TREMOR,
    USEFUL_VISION,
)
from neuroform.reasoning.limb_signs import ankle_absent_under_60, umn_any
from neuroform.reasoning.sensory_signs import jp_finger_lost, jp_lost
from neuroform.reasoning.sign_makers import settled
from neuroform.reasoning.signs import eye_or_speech, finger_ataxia, heel_shin_ataxic, leg_clear, limb_missing
from neuroform.reasoning.stance_test import LOST, no_change


@per_side
def drifts_to(facts: Facts, side: Side) -> Sign:
    """The person veers, leans or falls to this side."""
    veers = facts.has(GAIT, "veers_right" if side == "right" else "veers_left")
    return any_of(veers, *(facts.is_(ref, side) for ref in (EO_DIRECTION, EC_DIRECTION)))


@whole
def foam_unsteady(facts: Facts) -> Sign:
    """On foam with eyes closed the sway is moderate or marked, or the stance lost."""
    return any_of(facts.is_(FOAM_EC_SWAY, "moderate", "marked"), facts.is_(FOAM_EC_ENDED, *LOST))


@whole
def lost_on_foam_alone(facts: Facts) -> Sign:
    """With eyes closed the stance is held on firm ground, and lost or swaying markedly on foam."""
    foam = any_of(facts.is_(FOAM_EC_ENDED, *LOST), facts.is_(FOAM_EC_SWAY, "marked"))
    return all_of(facts.is_(EC_ENDED, "held"), foam)


@per_side
def heel_shin_one_sided(facts: Facts, side: Side) -> Sign:
    """Heel-shin is mildly irregular in this clear leg and normal in the other."""
    mild = all_of(facts.is_(HEEL_SHIN[side], "mild"), facts.is_(HEEL_SHIN[OTHER[side]], "normal"))
    return guarded(mild, leg_clear(facts, side))


@per_side
def heel_shin_ataxic_one_side(facts: Facts, side: Side) -> Sign:
    """Heel-shin is moderate or worse in this clear leg and normal in the other."""
    return all_of(heel_shin_ataxic(facts, side), facts.is_(HEEL_SHIN[OTHER[side]], "normal"))


@per_side
def heel_shin_ataxic_opposite(facts: Facts, side: Side) -> Sign:
    """Heel-shin is moderate or worse in the other, clear leg."""
    return heel_shin_ataxic(facts, OTHER[side])


@per_side
def heel_shin_worse_closed(facts: Facts, side: Side) -> Sign:
    """Heel-shin is moderate or worse with eyes closed, and normal or mild with eyes open."""
    return all_of(
        facts.is_(HEEL_SHIN_CLOSED[side], "moderate", "severe", "cannot_perform"),
        facts.is_(HEEL_SHIN[side], "normal", "mild"),
    )


@per_side
def finger_clumsy(facts: Facts, side: Side) -> Sign:
    """Finger-nose is moderate or worse; where joint position of the finger is lost, that clouds it."""
    bad = facts.is_(FINGER_NOSE[side], "moderate", "severe", "cannot_perform")
    lost = jp_finger_lost(facts, side)
    return guarded(bad, negated(lost)) if lost.met else bad


@per_side
def irregular_taps(facts: Facts, side: Side) -> Sign:
    """Alternating hand movements or foot taps are irregular."""
    return any_of(*(facts.is_(ref[side], "irregular") for ref in (ALTERNATING, FOOT_TAPPING)))


@per_side
def leg_tells(facts: Facts, side: Side) -> Sign:
    """Heel-shin is known, and normal or of a clear leg."""
    known = facts.known(HEEL_SHIN[side])
    normal = facts.is_(HEEL_SHIN[side], "normal")
    return known if normal.met else guarded(known, leg_clear(facts, side))


@whole
def ataxia_signs_known(facts: Facts) -> Sign:
    """Eyes, speech and finger-nose: one points to the cerebellum, or all are known."""
    signs = (eye_or_speech(facts), finger_ataxia(facts))
    met = any_of(*signs)
    return met if met.met else all_of(*(settled(sign) for sign in signs))


@whole
def cannot_be_compared(facts: Facts) -> Sign:
    """Feet apart, with a limb missing or immobilised."""
    return all_of(facts.is_(FEET, "apart"), limb_missing(facts))


@whole
def sees_nothing(facts: Facts) -> Sign:
    """No useful vision."""
    return facts.is_(USEFUL_VISION, "none")


@whole
def steady_eyes_open(facts: Facts) -> Sign:
    """Eyes open held, with no more than slight sway."""
    return all_of(facts.is_(EO_SWAY, "none", "slight"), facts.is_(EO_ENDED, "held"))


@whole
def objective_sign(facts: Facts) -> Sign:
    """A sign that can't be made at will."""
    return any_of(
        jp_lost(facts),
        umn_any(facts),
        impulse_corrective_any(facts),
        eye_or_speech(facts),
        ankle_absent_under_60(facts),
        facts.is_(TREMOR, "yes"),
    )


@whole
def quiet_trials(facts: Facts) -> Sign:
    """Both trials on firm ground are known, and in neither was the sway marked or the stance lost."""
    quiet = (negated(facts.is_(ref, "marked")) for ref in (EO_SWAY, EC_SWAY))
    held = (negated(facts.is_(ref, *LOST)) for ref in (EO_ENDED, EC_ENDED))
    return all_of(*quiet, *held)


@whole
def distraction_tried(facts: Facts) -> Sign:
    """It is known where the sway came from, or what distraction did."""
    return any_of(facts.known(SWAY_FROM), facts.known(DISTRACTION))


@whole
def enough_to_deny_functional(facts: Facts) -> Sign:
    """Quiet trials, or sway looked at more closely."""
    return any_of(quiet_trials(facts), distraction_tried(facts))


@whole
def gait_frontal(facts: Facts) -> Sign:
    """Gait is magnetic, shuffling, freezing or festinating."""
    return facts.has(GAIT, "magnetic", "shuffling", "freezing", "festinating")


@whole
def quiet_stance(facts: Facts) -> Sign:
    """Nothing changes on closing the eyes, in someone whose gait is frontal or parkinsonian."""
    still = no_change(facts)
    shown = still if still.met else Sign(still.met, still.because, still.missing, still.because)
    return guarded(shown, gait_frontal(facts))
