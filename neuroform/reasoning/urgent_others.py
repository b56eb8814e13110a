"""Head injury, pressure, rapid ataxia, gait with bladder and thinking, and falls."""

from neuroform.exam.circulation import Pressure
from neuroform.exam.walk import SIDES
from neuroform.language import N_, _
from neuroform.reasoning.facts import Facts, Ref, Sign, all_of, any_of, any_side, denied, every, unless, whole
from neuroform.reasoning.items import (
    AT_1_MIN,
    AT_3_MIN,
    AT_ONCE,
    BASE,
    BLADDER,
    CAUTIONS,
    DAYS,
    FALL_INJURY,
    FALLS,
    GAIT,
    LYING,
    ON_STANDING,
    ONSET,
    PULL_TEST,
    SINGLE_LEG_OPEN,
    UP_AND_GO,
)
from neuroform.reasoning.pressure_signs import orthostatic_fall
from neuroform.reasoning.results import Urgency
from neuroform.reasoning.sensory_signs import jp_lost
from neuroform.reasoning.signs import (
    FOUR_MINUS,
    below,
    gait_ataxic,
    heel_shin_bad,
    new,
    not_days_over,
    ongoing,
    sym,
    tandem_lost,
    unsteady_eyes_open,
)
from neuroform.reasoning.stance_test import stance
from neuroform.reasoning.urgent_nerve import ataxia_confusion_eye_signs, rapid_areflexic_weakness
from neuroform.reasoning.urgent_row import UrgentRow
from neuroform.reasoning.urgent_vertigo import (
    central_not_excluded,
    central_signs,
    new_hearing_loss,
    sudden_signs,
)

RAPID_ATAXIA_DAYS = 60
STANDING_LOW = 90
"""Standing systolic pressure, mm Hg, below which to act today; common practice."""
SEVERE_FALL = 30
SINGLE_LEG_RISK = 5
"""Seconds on one leg, eyes open (Vellas 1997, J Am Geriatr Soc 45:735-738, from memory)."""
UP_AND_GO_RISK = 13.5
"""Seconds (Shumway-Cook 2000, Phys Ther 80:896-903, cut-off from memory)."""


def _head_at_risk(facts: Facts) -> Sign:
    """A blow to the head, or falls with new signs of bleeding within the skull."""
    blow = any_of(sym(facts, "head_injury"), facts.is_(FALL_INJURY, "head"))
    falls = any_of(sym(facts, "falls"), facts.test(FALLS, lambda count: count > 0))
    late = all_of(falls, new(facts), sym(facts, "headache", "confusion", "drowsiness", "vomiting"))
    return any_of(blow, late)


def _anticoagulated(facts: Facts) -> Sign:
    return facts.has(CAUTIONS, "anticoagulated")


@whole
def head_injury_anticoagulated(facts: Facts) -> Sign:
    """Anticoagulated, with a blow to the head; or with falls and new signs of bleeding within the skull."""
    return every(facts, _anticoagulated, _head_at_risk)


def _head_urgency(facts: Facts, _sign: Sign) -> Urgency:
    told = sym(facts, "confusion", "drowsiness", "vomiting", "headache").met
    return "immediate" if told or facts.is_(ONSET, "sudden", "acute").met else "same_day"


def _standing_readings() -> tuple[Ref[Pressure], ...]:
    return (AT_ONCE, AT_1_MIN, AT_3_MIN)


@whole
def severe_orthostatic_fall(facts: Facts) -> Sign:
    """Standing systolic below 90, or a fall of 30 or more with symptoms."""
    low = any_of(*(facts.test(ref, lambda found: found.systolic < STANDING_LOW) for ref in _standing_readings()))
    falls = any_of(*(_fall(facts, ref) for ref in _standing_readings()))
    symptoms = any_of(facts.is_(ON_STANDING, "yes"), sym(facts, "fainting"))
    return any_of(low, all_of(falls, symptoms))


def _fall(facts: Facts, ref: Ref[Pressure]) -> Sign:
    lying, standing = facts.value(LYING), facts.value(ref)
    if lying is None or standing is None:
        return Sign(None, (), tuple(one.path for one in (LYING, ref) if facts.value(one) is None))
    return Sign(lying.systolic - standing.systolic >= SEVERE_FALL, (LYING.path, ref.path))


@whole
def rapid_ataxia(facts: Facts) -> Sign:
    """Ataxia within two months that neither weakness, lost position nor another urgent finding explains."""
    return every(facts, _within_two_months, _ataxia_unexplained)


def _within_two_months(facts: Facts) -> Sign:
    return all_of(facts.is_(ONSET, "acute", "subacute"), not_days_over(facts, RAPID_ATAXIA_DAYS))


def _ataxia_unexplained(facts: Facts) -> Sign:
    ataxia = any_of(gait_ataxic(facts), any_side(heel_shin_bad, facts), unsteady_eyes_open(facts))
    explained = (
        central_signs,
        central_not_excluded,
        new_hearing_loss,
        sudden_signs,
        rapid_areflexic_weakness,
        ataxia_confusion_eye_signs,
    )
    return all_of(
        ataxia,
        unless(any_of(*(below(facts, side, FOUR_MINUS) for side in SIDES))),
        unless(jp_lost(facts)),
        denied(ongoing(facts)),
        *(unless(sign(facts)) for sign in explained),
    )


def _rapid_urgency(facts: Facts, _sign: Sign) -> Urgency:
    return "same_day" if facts.test(DAYS, lambda days: days <= 7).met else "within_days"


@whole
def gait_bladder_cognition(facts: Facts) -> Sign:
    """A gait stuck to the floor with bladder or thinking; or a shuffling one with both."""
    bladder = any_of(sym(facts, "urinary_urgency"), facts.is_(BLADDER, "urgency", "incontinence"))
    thinking = sym(facts, "slowed_thinking", "confusion")
    wide = all_of(facts.has(GAIT, "freezing", "shuffling"), facts.is_(BASE, "wide"))
    frontal = any_of(facts.has(GAIT, "magnetic"), wide)
    return any_of(
        all_of(frontal, any_of(bladder, thinking)),
        all_of(facts.has(GAIT, "shuffling"), bladder, thinking),
    )


@whole
def injurious_falls(facts: Facts) -> Sign:
    """A fall with an injury, or falls of which nobody asked, and a sign that the next one is near."""
    return every(facts, _hurt_or_unasked, _next_fall_near)


def _hurt_or_unasked(facts: Facts) -> Sign:
    hurt = facts.is_(FALL_INJURY, "minor", "fracture", "head")
    told = any_of(sym(facts, "falls"), facts.test(FALLS, lambda count: count >= 2))
    return any_of(hurt, all_of(Sign(facts.value(FALL_INJURY) is None), told))


def _next_fall_near(facts: Facts) -> Sign:
    found = stance(facts)
    unsteady = Sign(found.result in ("positive", "unsteady_eyes_open"), found.items)
    single = any_of(*(facts.test(SINGLE_LEG_OPEN[side], lambda seconds: seconds < SINGLE_LEG_RISK) for side in SIDES))
    tandem = tandem_lost(facts) if facts.age < 75 else Sign(False)
    slow = facts.test(UP_AND_GO, lambda seconds: seconds >= UP_AND_GO_RISK) if facts.age >= 60 else Sign(False)
    would_fall = facts.is_(PULL_TEST, "would_fall")
    return any_of(unsteady, tandem, would_fall, jp_lost(facts), single, orthostatic_fall(facts), slow)


def _whether_hurt(facts: Facts, _sign: Sign) -> str:
    return _(" Whether anyone was hurt was not recorded.") if facts.value(FALL_INJURY) is None else ""


OTHER_ROWS = (
    UrgentRow(
        code="head-injury-anticoagulated",
        raised=head_injury_anticoagulated,
        urgency=_head_urgency,
        says=N_(
            "head injury on an anticoagulant: CT of the head within 8 hours of the injury, sooner with other signs, "
            "and without delay when that time has passed; think of a late subdural bleed."
        ),
        source=N_("NICE QS74; NICE NG232 (“consider”)"),
    ),
    UrgentRow(
        code="severe-orthostatic-fall",
        raised=severe_orthostatic_fall,
        urgency="same_day",
        says=N_(
            "severe fall of blood pressure on standing: medicines, bleeding, adrenal or autonomic disease; with "
            "weakness think of a rapid neuropathy."
        ),
        source=N_("common practice"),
    ),
    UrgentRow(
        code="rapid-ataxia",
        raised=rapid_ataxia,
        urgency=_rapid_urgency,
        says=N_(
            "rapidly progressive ataxia: drug levels, alcohol, paraneoplastic and post-infectious causes; refer "
            "urgently."
        ),
        source=N_("NICE NG127"),
    ),
    UrgentRow(
        code="gait-bladder-cognition",
        raised=gait_bladder_cognition,
        urgency="within_days",
        says=N_(
            "gait with bladder or thinking: CT or MRI of the head; one treatable cause is hydrocephalus, and vascular "
            "disease looks the same."
        ),
        source=N_("NICE NG127; common practice"),
    ),
    UrgentRow(
        code="injurious-falls",
        raised=injurious_falls,
        urgency="within_days",
        detail=_whether_hurt,
        says=N_(
            "falls with a risk of the next one: falls assessment, home and medicines, pressures lying and standing, "
            "bone health.{detail}"
        ),
        source=N_("Vellas 1997 and Shumway-Cook 2000, cut-offs from memory; common practice"),
    ),
)
