"""The words a clinician uses for findings taken together: weak, upper motor neurone, ongoing vertigo, legs clear.

Errs with the use: what raises an urgent finding takes a blank as it would raise it; what a pattern rests on
stays unknown until it was examined. Thresholds without a source beside them are common practice.
"""

from neuroform.exam.context import Symptom
from neuroform.exam.findings import level_rank, mrc_rank
from neuroform.exam.motor import MRC
from neuroform.exam.walk import OTHER, SIDES, Side
from neuroform.reasoning.facts import (
    Facts,
    SidedRef,
    Sign,
    all_of,
    any_of,
    any_side,
    both_sides,
    guarded,
    merged,
    negated,
    per_side,
    unless,
    whole,
)
from neuroform.reasoning.items import (
    ANKLE,
    ANKLE_REFLEX,
    BACKGROUND,
    BLADDER,
    BRAINSTEM,
    CAUTIONS,
    CLONUS_BEATS,
    CORE_POWER,
    COURSE,
    DAYS,
    EO_ENDED,
    EO_SWAY,
    FINGER_NOSE,
    GAIT,
    GAZE_EVOKED,
    HEAD_IMPULSE,
    HEEL_SHIN,
    HIP_AND_KNEE,
    KNEE_REFLEX,
    LIMB_ABSENT,
    LIMB_IMMOBILISED,
    NYSTAGMUS,
    ONSET,
    PINPRICK,
    PLANTAR,
    POWER,
    RESIDUAL,
    SADDLE,
    SIDE_STEPS,
    SITTING,
    SPEECH,
    SYMPTOMS,
    TANDEM,
    TEMPERATURE,
    TONE,
    TRUNK_LEVEL,
    VERTIGO_NOW,
    WALKS_UNAIDED,
)
from neuroform.reasoning.sensory_signs import jp_finger_lost, jp_toe_intact

FULL = mrc_rank("5")
NEARLY_FULL = mrc_rank("4+")
FOUR = mrc_rank("4")
FOUR_MINUS = mrc_rank("4-")
THREE = mrc_rank("3")
TWO = mrc_rank("2")
TANDEM_LOST = 5
"""Correct heel-to-toe steps of ten at or below which the walk is lost; common practice, no published limit."""
TANDEM_LOST_FROM_75 = 3
CLONUS_SUSTAINED = 5
RETAINED_ML = 200
"""Residual urine above which the bladder is not emptying; from memory."""


def sym(facts: Facts, *words: Symptom) -> Sign:
    """One of the symptoms was told; a list nobody filled is unknown."""
    return facts.has(SYMPTOMS, *words)


def days_over(facts: Facts, limit: float) -> Sign:
    """The duration is recorded and longer than `limit` days."""
    return facts.test(DAYS, lambda days: days > limit)


def not_days_over(facts: Facts, limit: float) -> Sign:
    """The duration is not known to be longer than `limit` days; holds while it is blank."""
    sign = days_over(facts, limit)
    return Sign(True) if sign.met is None else sign.answering(not sign.met)


@whole
def ongoing(facts: Facts) -> Sign:
    """Vertigo that is still there and not old: a blank course or onset counts as ongoing."""
    return all_of(
        any_of(sym(facts, "vertigo"), facts.is_(VERTIGO_NOW, "yes")),
        unless(facts.is_(VERTIGO_NOW, "no")),
        _noted(facts, unless(facts.is_(COURSE, "episodic", "positional", "resolved"))),
        _recent_enough(facts),
    )


def _noted(facts: Facts, sign: Sign) -> Sign:
    """Rest a sign on the recorded course too, when it allows it."""
    course = facts.known(COURSE)
    return Sign(True, merged((sign.because, course.because))) if sign.met else sign


def _recent_enough(facts: Facts) -> Sign:
    onset, days = facts.value(ONSET), facts.value(DAYS)
    rests = merged((facts.known(ONSET).because, facts.known(DAYS).because))
    if onset is None:
        nystagmus = facts.known(NYSTAGMUS)
        met = days is None or days <= 30 or bool(nystagmus.met)
        return Sign(met, merged((rests, nystagmus.because)))
    if onset == "subacute":
        return Sign(days is not None and days <= 14, rests)
    return Sign(onset in ("sudden", "acute") and not (days is not None and days > 60), rests)


@whole
def new(facts: Facts) -> Sign:
    """It began in days or weeks; with the onset blank, it is not known to be older than 90 days."""
    onset = facts.is_(ONSET, "sudden", "acute", "subacute")
    return not_days_over(facts, 90) if onset.met is None else onset


def powers(facts: Facts, side: Side, groups: tuple[SidedRef[MRC], ...] = POWER) -> dict[str, int]:
    """Return the rank of every recorded muscle group of a leg, by path."""
    return facts.once(("powers", side, groups), lambda: _ranks(facts, side, groups))


def _ranks(facts: Facts, side: Side, groups: tuple[SidedRef[MRC], ...]) -> dict[str, int]:
    found = ((group[side].path, facts.value(group[side])) for group in groups)
    return {path: mrc_rank(grade) for path, grade in found if grade is not None}


def _core_paths(side: Side) -> tuple[str, ...]:
    return tuple(group[side].path for group in CORE_POWER)


def below(facts: Facts, side: Side, rank: int) -> Sign:
    """Some recorded muscle group of the leg is below a rank; unknown when none is recorded."""
    return facts.once(("below", side, rank), lambda: _below(facts, side, rank))


def _below(facts: Facts, side: Side, rank: int) -> Sign:
    ranks = powers(facts, side)
    if not ranks:
        return Sign(None, (), _core_paths(side))
    low = tuple(path for path, found in ranks.items() if found < rank)
    return Sign(True, low) if low else Sign(False, tuple(ranks))


@per_side
def weak(facts: Facts, side: Side) -> Sign:
    """Some muscle group of the leg is below grade 5."""
    return below(facts, side, FULL)


@per_side
def paretic(facts: Facts, side: Side) -> Sign:
    """Two groups of the leg are below grade 5, or one is 4- or less."""
    ranks = powers(facts, side)
    low = tuple(path for path, found in ranks.items() if found < FULL)
    if len(low) > 1 or any(ranks[path] <= FOUR_MINUS for path in low):
        return Sign(True, low)
    return Sign(False, tuple(ranks)) if ranks else Sign(None, (), _core_paths(side))


@per_side
def brisk(facts: Facts, side: Side) -> Sign:
    """The knee or ankle reflex is brisk or shows clonus."""
    return any_of(facts.is_(KNEE_REFLEX[side], "brisk", "clonus"), facts.is_(ANKLE_REFLEX[side], "brisk", "clonus"))


@per_side
def clonus(facts: Facts, side: Side) -> Sign:
    """A reflex shows clonus, or the ankle beats five times or more."""
    beats = facts.test(CLONUS_BEATS[side], lambda found: found >= CLONUS_SUSTAINED)
    reflexes = any_of(facts.is_(KNEE_REFLEX[side], "clonus"), facts.is_(ANKLE_REFLEX[side], "clonus"))
    return any_of(reflexes, beats) if beats.met else reflexes


@per_side
def umn(facts: Facts, side: Side) -> Sign:
    """Extensor plantar, clonus, or increased tone with a brisk reflex. A brisk reflex alone is not one."""
    catch = all_of(facts.is_(TONE[side], "increased"), brisk(facts, side))
    met = any_of(facts.is_(PLANTAR[side], "extensor"), clonus(facts, side), catch)
    if met.met:
        return met
    needed = [facts.known(ref[side]) for ref in (PLANTAR, KNEE_REFLEX, ANKLE_REFLEX)]
    missing = merged(sign.missing for sign in needed)
    return Sign(None, (), missing) if missing else Sign(False, merged(sign.because for sign in needed))


@per_side
def areflexic(facts: Facts, side: Side) -> Sign:
    """The ankle reflex is absent, reduced, or comes with reinforcement alone."""
    return facts.is_(ANKLE_REFLEX[side], "absent", "reduced", "with_reinforcement")


@per_side
def lmn(facts: Facts, side: Side) -> Sign:
    """Weak, with a lost or reduced reflex on the same side."""
    reflex = any_of(areflexic(facts, side), facts.is_(KNEE_REFLEX[side], "absent", "reduced"))
    return all_of(weak(facts, side), reflex)


@whole
def trunk_level(facts: Facts) -> Sign:
    """A level of loss was found on the trunk."""
    return facts.test(TRUNK_LEVEL, lambda found: found != "none")


@whole
def saddle(facts: Facts) -> Sign:
    """Feeling between the legs is reduced, or told to be."""
    return any_of(
        facts.is_(SADDLE, "reduced", "absent"), sym(facts, "saddle_numbness"), sym(facts, "altered_genital_feeling")
    )


@whole
def retention(facts: Facts) -> Sign:
    """The bladder does not empty: told, recorded, or more than 200 mL after voiding."""
    return any_of(
        sym(facts, "urinary_retention"),
        facts.is_(BLADDER, "retention"),
        facts.test(RESIDUAL, lambda found: found > RETAINED_ML),
    )


@whole
def sphincter(facts: Facts) -> Sign:
    """Bladder, bowel or saddle is affected."""
    told = sym(facts, "bladder_or_bowel_disturbance", "bowel_incontinence")
    return any_of(retention(facts), saddle(facts), told)


@whole
def cannot_stand(facts: Facts) -> Sign:
    """The person can't sit, can't walk unaided, or could not stand with eyes open."""
    unable = Sign(True, (EO_SWAY.path,)) if facts.reason(EO_SWAY) == "unable" else Sign(None, (), (EO_SWAY.path,))
    return any_of(
        facts.is_(SITTING, "cannot_sit"),
        facts.is_(WALKS_UNAIDED, "no"),
        facts.is_(EO_ENDED, "fell", "needed_support"),
        unable,
    )


@per_side
def leg_clear(facts: Facts, side: Side) -> Sign:
    """Guard: nothing in this leg but coordination can be at fault: power 4- or more and joint position intact."""
    weaker = below(facts, side, FOUR_MINUS)
    if weaker.met:
        return Sign(False, weaker.because)
    position = jp_toe_intact(facts, side)
    if position.met is False:
        return position
    tested = [powers(facts, side, groups) for groups in (HIP_AND_KNEE, ANKLE)]
    if not all(tested) or position.met is None:
        lacking = () if all(tested) else tuple(p for p in _core_paths(side) if p not in powers(facts, side))
        return Sign(None, (), merged((lacking, position.missing)))
    return Sign(True, merged((tuple(powers(facts, side)), position.because)))


@whole
def legs_clear(facts: Facts) -> Sign:
    """Guard: both legs are clear."""
    return both_sides(leg_clear, facts)


@per_side
def heel_shin_bad(facts: Facts, side: Side) -> Sign:
    """Heel-shin is moderate or worse."""
    return facts.is_(HEEL_SHIN[side], "moderate", "severe", "cannot_perform")


@per_side
def heel_shin_ataxic(facts: Facts, side: Side) -> Sign:
    """Heel-shin is moderate or worse in a leg that is clear."""
    return guarded(heel_shin_bad(facts, side), leg_clear(facts, side))


@whole
def speech_ataxic(facts: Facts) -> Sign:
    """Speech is slurred or scanning."""
    return facts.is_(SPEECH, "slurred", "scanning")


@whole
def eye_or_speech(facts: Facts) -> Sign:
    """Nystagmus that changes with gaze, or slurred or scanning speech."""
    return any_of(facts.is_(GAZE_EVOKED, "present"), speech_ataxic(facts))


@per_side
def finger_ataxic(facts: Facts, side: Side) -> Sign:
    """Finger-nose is moderate or worse, with joint position of the finger known and not lost."""
    bad = facts.is_(FINGER_NOSE[side], "moderate", "severe", "cannot_perform")
    return guarded(bad, negated(jp_finger_lost(facts, side)))


@whole
def finger_ataxia(facts: Facts) -> Sign:
    """Finger-nose is ataxic on a side."""
    return any_side(finger_ataxic, facts)


@whole
def tandem_lost(facts: Facts) -> Sign:
    """Five correct heel-to-toe steps or fewer; three from 75 years on."""
    limit = TANDEM_LOST_FROM_75 if facts.age >= 75 else TANDEM_LOST
    return facts.test(TANDEM, lambda steps: steps <= limit)


@whole
def tandem_perfect(facts: Facts) -> Sign:
    """Ten heel-to-toe steps without a step to the side."""
    ten = facts.test(TANDEM, lambda steps: steps == 10)
    aside = facts.test(SIDE_STEPS, lambda steps: steps > 0)
    return Sign(False, aside.because) if aside.met else ten if not aside.because else all_of(ten, negated(aside))


@whole
def gait_ataxic(facts: Facts) -> Sign:
    """Gait is ataxic or lurching."""
    return facts.has(GAIT, "ataxic", "lurching")


@whole
def unsteady_eyes_open(facts: Facts) -> Sign:
    """Marked sway, or the stance lost, with eyes open."""
    return any_of(facts.is_(EO_SWAY, "marked"), facts.is_(EO_ENDED, "stepped", "needed_support", "fell"))


@per_side
def impulse_corrective(facts: Facts, side: Side) -> Sign:
    """The head impulse shows a corrective saccade to this side."""
    return facts.is_(HEAD_IMPULSE[side], "corrective_saccade")


@per_side
def impulse_normal(facts: Facts, side: Side) -> Sign:
    """The head impulse shows no corrective saccade to this side."""
    return facts.is_(HEAD_IMPULSE[side], "normal")


@whole
def impulse_known_both(facts: Facts) -> Sign:
    """The head impulse is known on both sides."""
    return all_of(*(facts.known(HEAD_IMPULSE[side]) for side in SIDES))


@per_side
def beats_to(facts: Facts, side: Side) -> Sign:
    """Nystagmus, looking ahead, beats horizontally to this side."""
    return facts.is_(NYSTAGMUS, "beats_right" if side == "right" else "beats_left")


@per_side
def beats_away(facts: Facts, side: Side) -> Sign:
    """Nystagmus, looking ahead, beats horizontally away from this side."""
    return beats_to(facts, OTHER[side])


@whole
def nystagmus_central(facts: Facts) -> Sign:
    """Nystagmus of a direction that one labyrinth does not make."""
    return facts.is_(NYSTAGMUS, "vertical", "upbeat", "downbeat", "torsional", "mixed_direction")


@whole
def brainstem_sign(facts: Facts) -> Sign:
    """A brainstem sign was found."""
    return facts.test(BRAINSTEM, lambda found: "none" not in found)


@whole
def limb_missing(facts: Facts) -> Sign:
    """A limb is missing or immobilised."""
    return any_of(*(facts.test(ref, lambda sites: len(sites) > 0) for ref in (LIMB_ABSENT, LIMB_IMMOBILISED)))


@per_side
def feeling_lost_to_thigh(facts: Facts, side: Side) -> Sign:
    """Pinprick or temperature is lost to the thigh or above."""
    return any_of(*(facts.is_(ref[side], "thigh", "groin") for ref in (PINPRICK, TEMPERATURE)))


@whole
def neck_raised(facts: Facts) -> Sign:
    """The neck may be unstable now: no test that moves the head, no standing."""
    hurt = any_of(sym(facts, "neck_injury"), facts.has(CAUTIONS, "neck_instability"))
    onset = facts.is_(ONSET, "sudden", "acute")
    recent = Sign(True) if onset.met is None else onset
    torn = all_of(facts.has(CAUTIONS, "neck_artery_dissection"), any_of(ongoing(facts), sym(facts, "neck_pain")))
    return any_of(facts.has(CAUTIONS, "neck_trauma"), all_of(hurt, recent), torn)


@whole
def nutrition_risk(facts: Facts) -> Sign:
    """Alcohol, poor nutrition or vomiting, or surgery of stomach or bowel."""
    return facts.has(BACKGROUND, "alcohol", "poor_nutrition_or_vomiting", "bariatric_or_bowel_surgery")


@whole
def pinprick_differs(facts: Facts) -> Sign:
    """Pinprick is lost at least two levels higher on one side than on the other."""
    ranks = [level_rank(level) for side in SIDES if (level := facts.value(PINPRICK[side])) is not None]
    paths = tuple(PINPRICK[side].path for side in SIDES)
    if len(ranks) < 2:
        return Sign(None, (), tuple(path for path in paths if path not in facts.found))
    return Sign(abs(ranks[0] - ranks[1]) >= 2, paths)
