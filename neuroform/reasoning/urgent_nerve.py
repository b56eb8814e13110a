"""Nerve, muscle and breathing; and the ataxia that vitamins treat."""

from neuroform.exam.findings import mrc_rank
from neuroform.exam.walk import SIDES, Side
from neuroform.language import N_
from neuroform.reasoning.facts import Facts, Sign, all_of, any_of, any_side, both_sides, every, unless, whole
from neuroform.reasoning.items import (
    ANKLE_REFLEX,
    BREATH_COUNT,
    DAYS,
    DORSIFLEXION,
    EYE_MOVEMENTS,
    GAZE_EVOKED,
    HANDS,
    HIP_FLEXION,
    JP_TOE,
    NECK_FLEXION,
    NYSTAGMUS,
    ONSET,
)
from neuroform.reasoning.results import Urgency
from neuroform.reasoning.sensory_signs import joint_verdict, jp_finger_lost, jp_lost
from neuroform.reasoning.signs import (
    FOUR,
    NEARLY_FULL,
    areflexic,
    below,
    cannot_stand,
    gait_ataxic,
    heel_shin_bad,
    not_days_over,
    nutrition_risk,
    paretic,
    pinprick_differs,
    sym,
    umn,
    weak,
)
from neuroform.reasoning.urgent_row import UrgentRow

RAPID_DAYS = 28
"""Weakness that reached its present grade within four weeks is rapid (NICE NG127)."""
BREATH_COUNT_LOW = 20
"""Numbers counted in one breath below which breathing may be failing; from memory."""


@whole
def _rapid(facts: Facts) -> Sign:
    """It began in days or weeks, not longer than four weeks ago; a blank onset may be that."""
    onset = facts.is_(ONSET, "sudden", "acute", "subacute")
    began = Sign(True) if onset.met is None else onset
    return all_of(began, not_days_over(facts, RAPID_DAYS))


def _flaccid(facts: Facts) -> Sign:
    """Both legs weak without ankle reflexes; or those lost, with eyes that do not move and ataxia."""
    flaccid = all_of(both_sides(paretic, facts), both_sides(areflexic, facts))
    ataxia = any_of(gait_ataxic(facts), any_side(heel_shin_bad, facts))
    eyes = all_of(both_sides(areflexic, facts), facts.is_(EYE_MOVEMENTS, "restricted"), ataxia)
    return any_of(flaccid, eyes)


@whole
def rapid_areflexic_weakness(facts: Facts) -> Sign:
    """Weak legs without ankle reflexes, or eyes that do not move with ataxia, within four weeks."""
    return every(facts, _rapid, _flaccid)


def _rapid_urgency(facts: Facts, _sign: Sign) -> Urgency:
    undated = facts.value(ONSET) is None and facts.value(DAYS) is None
    return "same_day" if undated else "immediate"


@whole
def _eye_signs(facts: Facts) -> Sign:
    return any_of(
        facts.is_(EYE_MOVEMENTS, "restricted"),
        facts.test(NYSTAGMUS, lambda found: found != "none"),
        facts.is_(GAZE_EVOKED, "present"),
    )


@whole
def _ataxia(facts: Facts) -> Sign:
    return any_of(gait_ataxic(facts), cannot_stand(facts), any_side(heel_shin_bad, facts))


@whole
def ataxia_confusion_eye_signs(facts: Facts) -> Sign:
    """Confusion with eye signs or ataxia; or a nutrition risk with two of the three."""
    confused, eyes, ataxia = sym(facts, "confusion", "drowsiness"), _eye_signs(facts), _ataxia(facts)
    confusion = sym(facts, "confusion")
    two = any_of(all_of(eyes, ataxia), all_of(eyes, confusion), all_of(ataxia, confusion))
    return any_of(all_of(confused, any_of(eyes, ataxia)), all_of(nutrition_risk(facts), two))


@whole
def breathing_or_swallowing(facts: Facts) -> Sign:
    """Weakness with a sign that breathing or swallowing is at risk."""
    return all_of(any_side(weak, facts), any_of(_breathing(facts), sym(facts, "swallowing_difficulty")))


@whole
def _breathing(facts: Facts) -> Sign:
    return any_of(
        sym(facts, "breathlessness"),
        facts.test(NECK_FLEXION, lambda grade: mrc_rank(grade) <= FOUR),
        facts.test(BREATH_COUNT, lambda count: count < BREATH_COUNT_LOW),
    )


def _breathing_urgency(facts: Facts, _sign: Sign) -> Urgency:
    if not facts.is_(ONSET, "chronic").met:
        return "immediate"
    return "same_day" if _breathing(facts).met else "within_days"


@whole
def sensory_neuronopathy(facts: Facts) -> Sign:
    """Lost position, absent ankle reflexes and full power, not toes first and alike, within weeks."""
    return every(facts, _within_weeks, jp_lost, _ankles_absent, _uneven_and_strong)


def _within_weeks(facts: Facts) -> Sign:
    return facts.is_(ONSET, "acute", "subacute")


def _ankles_absent(facts: Facts) -> Sign:
    return all_of(*(facts.is_(ANKLE_REFLEX[side], "absent") for side in SIDES))


def _uneven_and_strong(facts: Facts) -> Sign:
    """Full power, no sign of the cord, and a loss that is not alike at both toes."""
    uneven = any_of(
        _joint_differs(facts),
        pinprick_differs(facts),
        any_side(jp_finger_lost, facts),
        facts.is_(HANDS, "before_feet", "together"),
    )
    return all_of(
        unless(any_of(*(below(facts, side, NEARLY_FULL) for side in SIDES))),
        unless(any_side(umn, facts)),
        uneven,
    )


def _joint_differs(facts: Facts) -> Sign:
    found = [facts.value(JP_TOE[side]) for side in SIDES]
    verdicts = [joint_verdict(one) for one in found if one is not None]
    if len(verdicts) < 2 or "described" in verdicts:
        return Sign(None, (), tuple(JP_TOE[side].path for side in SIDES))
    return Sign(verdicts[0] != verdicts[1], tuple(JP_TOE[side].path for side in SIDES))


@whole
def proximal_weakness(facts: Facts) -> Sign:
    """Hips weak, stronger at the ankles, reflexes not those of the cord, within a year."""
    hips = all_of(*(facts.test(HIP_FLEXION[side], lambda grade: mrc_rank(grade) <= FOUR) for side in SIDES))
    stronger = all_of(*(_stronger_at_ankle(facts, side) for side in SIDES))
    chronic = all_of(facts.is_(ONSET, "chronic"), facts.test(DAYS, lambda days: days <= 365))
    tempo = any_of(facts.is_(ONSET, "subacute"), chronic)
    return all_of(hips, stronger, unless(any_side(umn, facts)), tempo)


def _stronger_at_ankle(facts: Facts, side: Side) -> Sign:
    hip, ankle = facts.value(HIP_FLEXION[side]), facts.value(DORSIFLEXION[side])
    paths = (HIP_FLEXION[side].path, DORSIFLEXION[side].path)
    if hip is None or ankle is None:
        return Sign(None, (), paths)
    return Sign(mrc_rank(ankle) > mrc_rank(hip), paths)


def _proximal_urgency(facts: Facts, _sign: Sign) -> Urgency:
    if not sym(facts, "swallowing_difficulty", "breathlessness").met:
        return "within_days"
    return "same_day" if facts.is_(ONSET, "chronic").met else "immediate"


NERVE_ROWS = (
    UrgentRow(
        code="rapid-areflexic-weakness",
        raised=rapid_areflexic_weakness,
        urgency=_rapid_urgency,
        says=N_(
            "rapid weakness without ankle reflexes: first exclude cord and cauda equina. Vital capacity (not "
            "saturation), neck flexion, swallowing, pulse and pressure, repeated; a monitored bed under 20 ml/kg. "
            "Reflexes may be kept early."
        ),
        source=N_("NICE NG127; common practice"),
    ),
    UrgentRow(
        code="ataxia-confusion-eye-signs",
        raised=ataxia_confusion_eye_signs,
        urgency="immediate",
        says=N_(
            "possible Wernicke's encephalopathy (two of four signs suffice): parenteral thiamine before glucose, "
            "today, before tests. Also stroke, infection and drugs."
        ),
        source=N_("Caine 1997, from memory; common practice"),
    ),
    UrgentRow(
        code="weakness-with-breathing-or-swallowing",
        raised=breathing_or_swallowing,
        urgency=_breathing_urgency,
        says=N_(
            "weakness with breathing or swallowing at risk: respiratory muscles may fail without breathlessness. "
            "Measure vital capacity."
        ),
        source=N_("common practice; breath count below 20 from memory; NICE NG127"),
    ),
    UrgentRow(
        code="subacute-sensory-neuronopathy",
        raised=sensory_neuronopathy,
        urgency="within_days",
        says=N_(
            "sensory loss over weeks that did not begin alike at the toes: the ganglia may be affected. Paraneoplastic "
            "search, Sjögren's, drugs (platinum, pyridoxine); lost cells do not come back."
        ),
        source=N_("Camdessanché 2009, Brain 132:1723-1733, from memory"),
    ),
    UrgentRow(
        code="subacute-proximal-weakness",
        raised=proximal_weakness,
        urgency=_proximal_urgency,
        says=N_(
            "weakness of the hips over weeks: CK today; inflammatory, statin or thyroid muscle disease is possible; "
            "ask about dark urine; fatigability points to the junction."
        ),
        source=N_("common practice"),
    ),
)
