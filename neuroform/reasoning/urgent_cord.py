"""Cord, cauda equina and spine."""

from neuroform.exam.walk import OTHER, SIDES
from neuroform.language import N_, _
from neuroform.reasoning.facts import Facts, Sign, all_of, any_of, any_side, both_sides, every, unless, whole
from neuroform.reasoning.items import (
    AID,
    ANKLE_REFLEX,
    BACKGROUND,
    COMPARED,
    DAYS,
    GAIT,
    KNEE_REFLEX,
    ONSET,
    PLANTAR,
    SADDLE,
)
from neuroform.reasoning.results import Urgency
from neuroform.reasoning.sensory_signs import jp_lost, vib_toe_lost
from neuroform.reasoning.signs import (
    areflexic,
    cannot_stand,
    days_over,
    feeling_lost_to_thigh,
    lmn,
    new,
    not_days_over,
    retention,
    saddle,
    sphincter,
    sym,
    trunk_level,
    umn,
    weak,
)
from neuroform.reasoning.urgent_row import UrgentRow

MYELOPATHY_DAYS = 1095
"""Three years: longer than this is called old; common practice."""


@whole
def _compression_danger(facts: Facts) -> Sign:
    """What makes cord signs on both sides pressing."""
    return any_of(
        sphincter(facts),
        sym(facts, "back_pain", "neck_pain", "fever", "weight_loss"),
        facts.has(BACKGROUND, "cancer"),
        facts.is_(AID, "frame", "one_person", "two_people", "wheelchair"),
        cannot_stand(facts),
        facts.test(DAYS, lambda days: days <= 14),
    )


@whole
def cord_compression(facts: Facts) -> Sign:
    """Signs of the cord that began in days or weeks; or old signs with retention."""
    any_umn = any_side(umn, facts)
    crossed = any_of(*(all_of(umn(facts, side), feeling_lost_to_thigh(facts, OTHER[side])) for side in SIDES))
    recent = all_of(
        new(facts),
        any_of(
            trunk_level(facts),
            crossed,
            all_of(both_sides(umn, facts), _compression_danger(facts)),
            all_of(any_umn, any_of(retention(facts), saddle(facts))),
            all_of(both_sides(weak, facts), any_of(trunk_level(facts), sphincter(facts))),
        ),
    )
    old = all_of(facts.is_(ONSET, "chronic"), any_umn, retention(facts))
    return any_of(recent, old)


@whole
def cauda_equina(facts: Facts) -> Sign:
    """Saddle, or retention with the legs or back; or both legs and back pain with the saddle blank."""
    legs = any_of(any_side(lmn, facts), sym(facts, "back_pain", "leg_pain_both", "numbness", "weakness"))
    ankles = all_of(*(facts.is_(ANKLE_REFLEX[side], "absent") for side in SIDES))
    untested = Sign(facts.blank(SADDLE))
    roots = all_of(
        new(facts),
        sym(facts, "back_pain", "leg_pain_both"),
        any_of(both_sides(lmn, facts), ankles),
        untested,
    )
    return any_of(saddle(facts), all_of(retention(facts), legs), roots)


def _cauda_urgency(facts: Facts, _sign: Sign) -> Urgency:
    old = facts.is_(ONSET, "chronic").met and not retention(facts).met
    return "same_day" if old else "immediate"


def _risk_and_legs(facts: Facts) -> Sign:
    risk = any_of(
        sym(facts, "fever", "weight_loss"),
        facts.has(BACKGROUND, "cancer", "immunosuppression", "spinal_procedure"),
    )
    legs = any_of(
        any_side(weak, facts),
        any_side(umn, facts),
        trunk_level(facts),
        any_side(areflexic, facts),
        sym(facts, "numbness"),
    )
    return all_of(risk, legs)


def _spinal_pain(facts: Facts) -> Sign:
    return sym(facts, "back_pain", "neck_pain")


@whole
def infection_or_cancer_pain(facts: Facts) -> Sign:
    """Pain of the spine with a risk and any sign in the legs."""
    return every(facts, _spinal_pain, _risk_and_legs)


@whole
def progressive_myelopathy(facts: Facts) -> Sign:
    """Cord signs that are neither old, nor as usual, nor sudden on one side."""
    one = any_side(umn, facts)
    spastic = facts.has(GAIT, "spastic", "spastic_right", "spastic_left", "scissoring")
    signs = any_of(both_sides(umn, facts), all_of(one, any_of(spastic, trunk_level(facts))))
    on_one_side = any_of(*(all_of(umn(facts, side), unless(umn(facts, OTHER[side]))) for side in SIDES))
    stroke_like = all_of(facts.is_(ONSET, "sudden"), on_one_side)
    return all_of(
        signs,
        unless(stroke_like),
        unless(days_over(facts, MYELOPATHY_DAYS)),
        unless(facts.is_(COMPARED, "as_usual")),
    )


@whole
def treatable_myelopathy(facts: Facts) -> Sign:
    """Lost position or vibration with an extensor plantar, or a brisk knee above an absent ankle reflex."""
    posterior = any_of(jp_lost(facts), both_sides(vib_toe_lost, facts))
    mixed = any_of(
        *(
            all_of(facts.is_(KNEE_REFLEX[side], "brisk", "clonus"), facts.is_(ANKLE_REFLEX[side], "absent"))
            for side in SIDES
        )
    )
    extensor = any_of(*(facts.is_(PLANTAR[side], "extensor") for side in SIDES))
    return all_of(posterior, any_of(extensor, mixed), not_days_over(facts, MYELOPATHY_DAYS))


@whole
def _nitrous_oxide_now(facts: Facts) -> Sign:
    return all_of(facts.is_(ONSET, "acute", "subacute"), facts.has(BACKGROUND, "nitrous_oxide"))


def _treatable_urgency(facts: Facts, _sign: Sign) -> Urgency:
    return "same_day" if _nitrous_oxide_now(facts).met else "within_days"


def _cord_said(facts: Facts, _sign: Sign) -> str:
    """Say what may mislead here: the level, and legs that are not stiff."""
    said = [_("The level found is a lower bound.")] if trunk_level(facts).met else []
    if not any_side(umn, facts).met:
        said.append(_("Flaccid legs without reflexes do not exclude the cord; a rapid neuropathy can look the same."))
    return "".join(f" {each}" for each in said)


def _cauda_said(facts: Facts, _sign: Sign) -> str:
    """Say what does not exclude it here: a saddle nobody tested, and legs that are normal."""
    said = []
    if facts.value(SADDLE) is None:
        said.append(_("A saddle that was not tested is not excluded."))
    if not any_side(lmn, facts).met:
        said.append(_("Normal tone and reflexes do not exclude it."))
    return "".join(f" {each}" for each in said)


CORD_ROWS = (
    UrgentRow(
        code="cord-compression",
        raised=cord_compression,
        urgency="immediate",
        detail=_cord_said,
        says=N_("possible compression of the cord: image the whole spine now.{detail}"),
        source=N_("common practice"),
    ),
    UrgentRow(
        code="cauda-equina",
        raised=cauda_equina,
        urgency=_cauda_urgency,
        detail=_cauda_said,
        says=N_("possible compression of the cauda equina: emergency MRI, bladder scan after voiding.{detail}"),
        source=N_("NICE NG127; common practice"),
    ),
    UrgentRow(
        code="spinal-infection-or-cancer-pain",
        raised=infection_or_cancer_pain,
        urgency="same_day",
        says=N_("spinal pain with a risk and a sign in the legs: think of abscess and metastasis. Image today."),
        source=N_("common practice"),
    ),
    UrgentRow(
        code="progressive-myelopathy",
        raised=progressive_myelopathy,
        urgency="within_days",
        says=N_(
            "progressive cord signs: MRI of the whole cord within days; sooner if walking, hands or bladder change."
        ),
        source=N_("common practice"),
    ),
    UrgentRow(
        code="treatable-myelopathy",
        raised=treatable_myelopathy,
        urgency=_treatable_urgency,
        says=N_(
            "cord signs with a treatable cause possible: B12 with methylmalonic acid and homocysteine; nitrous oxide; "
            "copper; vitamin E; HIV; syphilis. A normal B12 does not exclude it. Image as well."
        ),
        source=N_("common practice"),
    ),
)
