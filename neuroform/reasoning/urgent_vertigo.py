"""Acute vertigo and what comes on suddenly."""

from collections.abc import Callable

from neuroform.exam.coordination import LimbAtaxia
from neuroform.exam.walk import OTHER, SIDES
from neuroform.language import N_, _
from neuroform.reasoning.facts import (
    Facts,
    Sign,
    WholeSign,
    all_of,
    any_of,
    any_side,
    both_sides,
    denied,
    every,
    merged,
    unless,
    whole,
)
from neuroform.reasoning.items import (
    DAYS,
    EYE_MOVEMENTS,
    FINGER_NOSE,
    GAZE_EVOKED,
    HEAD_IMPULSE,
    HEARING_LOSS,
    HEEL_SHIN,
    NYSTAGMUS,
    ONSET,
    SITTING,
    SKEW,
    TRAINED,
)
from neuroform.reasoning.results import Urgency
from neuroform.reasoning.signs import (
    beats_to,
    brainstem_sign,
    cannot_stand,
    gait_ataxic,
    impulse_corrective,
    impulse_normal,
    neck_raised,
    nystagmus_central,
    ongoing,
    speech_ataxic,
    sym,
    weak,
)
from neuroform.reasoning.urgent_row import UrgentRow

_GRADES_BAD: tuple[LimbAtaxia, ...] = ("moderate", "severe", "cannot_perform")


def _limb_ataxia(facts: Facts) -> Sign:
    return any_of(*(facts.is_(ref[side], *_GRADES_BAD) for ref in (HEEL_SHIN, FINGER_NOSE) for side in SIDES))


def _impulse_against(facts: Facts) -> Sign:
    """The head impulse does not go with one labyrinth, given the side the nystagmus beats to."""
    wrong = [
        all_of(beats_to(facts, side), any_of(impulse_normal(facts, OTHER[side]), impulse_corrective(facts, side)))
        for side in SIDES
    ]
    both = all_of(*(impulse_corrective(facts, side) for side in SIDES))
    return any_of(*wrong, both)


# Each sign with the words that name it, in the order in which they are told.
_CENTRAL: tuple[tuple[str, WholeSign], ...] = (
    (N_("nystagmus of a central direction"), nystagmus_central),
    (N_("nystagmus that changes with gaze"), lambda facts: facts.is_(GAZE_EVOKED, "present")),
    (N_("skew"), lambda facts: facts.is_(SKEW, "present")),
    (N_("a head impulse that does not fit the nystagmus"), _impulse_against),
    (N_("unable to sit"), lambda facts: facts.is_(SITTING, "cannot_sit")),
    (N_("slurred or scanning speech"), speech_ataxic),
    (N_("limb ataxia"), _limb_ataxia),
    (N_("restricted eye movements"), lambda facts: facts.is_(EYE_MOVEMENTS, "restricted")),
    (N_("a brainstem sign"), brainstem_sign),
    (
        N_("a central symptom"),
        lambda facts: sym(
            facts,
            "double_vision",
            "slurred_speech",
            "swallowing_difficulty",
            "confusion",
            "drowsiness",
            "sudden_severe_headache",
        ),
    ),
)


def _any_central(facts: Facts) -> Sign:
    return any_of(*(sign(facts) for _words, sign in _CENTRAL))


@whole
def central_signs(facts: Facts) -> Sign:
    """Ongoing vertigo with a central sign."""
    return every(facts, ongoing, _any_central)


def _which(facts: Facts, _sign: Sign) -> str:
    return _list([_(words) for words, sign in _CENTRAL if sign(facts).met])


def _unknown(facts: Facts, sign: Sign) -> Sign:
    """Turn "not known" into a met sign that rests on the reason or the "uncertain" that stands there."""
    if sign.met is not None:
        return Sign(False)
    return Sign(True, tuple(path for path in sign.missing if path in facts.found), sign.missing)


_PARTS: tuple[tuple[str, Callable[[Facts], list[Sign]]], ...] = (
    (N_("head impulse"), lambda facts: [facts.known(HEAD_IMPULSE[side]) for side in SIDES]),
    (N_("nystagmus"), lambda facts: [facts.known(NYSTAGMUS)]),
    (N_("nystagmus changing with gaze"), lambda facts: [facts.known(GAZE_EVOKED)]),
    (N_("skew"), lambda facts: [facts.known(SKEW)]),
)


@whole
def _part_unknown(facts: Facts) -> Sign:
    return any_of(*(_unknown(facts, sign) for _words, signs in _PARTS for sign in signs(facts)))


@whole
def _untrained(facts: Facts) -> Sign:
    return facts.is_(TRAINED, "no")


@whole
def _no_nystagmus(facts: Facts) -> Sign:
    return facts.is_(NYSTAGMUS, "none")


def _unsure(facts: Facts) -> Sign:
    return any_of(_part_unknown(facts), _untrained(facts), _no_nystagmus(facts))


@whole
def central_not_excluded(facts: Facts) -> Sign:
    """Ongoing vertigo in which a part of the eye signs is unknown, untrained, or does not apply."""
    return every(facts, ongoing, _unsure)


def _not_excluded_urgency(facts: Facts, _sign: Sign) -> Urgency:
    """Today only where gait is known to be sound and nothing else speaks for danger."""
    alone = not _part_unknown(facts).met and not _untrained(facts).met
    walks = gait_ataxic(facts).met is False and not cannot_stand(facts).met
    return "same_day" if alone and walks else "immediate"


def _what_is_missing(facts: Facts, _sign: Sign) -> str:
    said = []
    for words, signs in _PARTS:
        missing = merged(sign.missing for sign in signs(facts))
        if not missing:
            continue
        blank = any(path not in facts.found for path in missing)
        how = _("not recorded") if blank else _("not examined or uncertain")
        said.append(f"{_(words)} ({how})")
    if _untrained(facts).met:
        said.append(_("the examiner is not trained in these signs"))
    if _no_nystagmus(facts).met:
        said.append(_("no nystagmus, so a normal head impulse means nothing and gait decides"))
    return "; ".join(said)


def _hearing_lost(facts: Facts) -> Sign:
    """Hearing is newly lost at the bedside, or told while the bedside test is blank."""
    found = any_of(*(facts.is_(HEARING_LOSS[side], "yes") for side in SIDES))
    blank = any(facts.blank(HEARING_LOSS[side]) for side in SIDES)
    told = sym(facts, "hearing_loss") if blank else Sign(False)
    return any_of(found, told)


@whole
def new_hearing_loss(facts: Facts) -> Sign:
    """Ongoing vertigo with new hearing loss."""
    return every(facts, ongoing, _hearing_lost)


@whole
def _sudden(facts: Facts) -> Sign:
    """Sudden, or acute within two days; an acute onset with the days blank may be that recent."""
    days = facts.test(DAYS, lambda found: found <= 2)
    recent = Sign(True) if days.met is None else days
    return any_of(facts.is_(ONSET, "sudden"), all_of(facts.is_(ONSET, "acute"), recent))


def _one_sided_ataxia(facts: Facts) -> Sign:
    """Heel-shin or finger-nose is not normal on one side only; mild counts unless vertigo is ongoing."""
    without_vertigo = denied(ongoing(facts))
    signs = []
    for ref in (HEEL_SHIN, FINGER_NOSE):
        bad = {side: facts.is_(ref[side], *_GRADES_BAD) for side in SIDES}
        any_grade = {side: facts.is_(ref[side], "mild", *_GRADES_BAD) for side in SIDES}
        signs += [all_of(bad[side], unless(bad[OTHER[side]])) for side in SIDES]
        signs += [all_of(any_grade[side], unless(any_grade[OTHER[side]]), without_vertigo) for side in SIDES]
    return any_of(*signs)


def _brain_or_cord(facts: Facts) -> Sign:
    """A sign of cerebellum, hemisphere or cord."""
    one_side_weak = any_of(*(all_of(weak(facts, side), unless(weak(facts, OTHER[side]))) for side in SIDES))
    weak_at_once = all_of(facts.is_(ONSET, "sudden"), any_side(weak, facts))
    return any_of(
        _one_sided_ataxia(facts),
        one_side_weak,
        weak_at_once,
        speech_ataxic(facts),
        sym(facts, "slurred_speech"),
        facts.is_(SITTING, "cannot_sit"),
        all_of(cannot_stand(facts), denied(ongoing(facts))),
    )


@whole
def sudden_signs(facts: Facts) -> Sign:
    """What came on suddenly, with a sign of cerebellum, hemisphere or cord."""
    return every(facts, _sudden, _brain_or_cord)


def _both_legs_said(facts: Facts, _sign: Sign) -> str:
    """Say what sudden weakness of both legs makes one think of, where both are weak."""
    if not both_sides(weak, facts).met:
        return ""
    return " " + _("Sudden weakness of both legs: think of cord, aorta and the anterior cerebral arteries.")


VERTIGO_ROWS = (
    UrgentRow(
        code="acute-vertigo-central-signs",
        raised=central_signs,
        urgency="immediate",
        detail=_which,
        says=N_(
            "acute vertigo with {detail}: a stroke or bleed of cerebellum or brainstem is possible. Stroke team now; "
            "check glucose. A normal scan, MRI included, in the first 48 hours does not exclude it."
        ),
        source=N_("Kattah 2009, Stroke 40:3504-3510 (first MRI false negative in about one in eight); NICE NG127"),
    ),
    UrgentRow(
        code="acute-vertigo-central-not-excluded",
        raised=central_not_excluded,
        urgency=_not_excluded_urgency,
        detail=_what_is_missing,
        says=N_(
            "acute vertigo in which a central cause is not excluded: {detail}. What can't be tested counts as "
            "dangerous; look again, also without fixation."
        ),
        source=N_("Kattah 2009, Stroke 40:3504-3510; NICE NG127"),
    ),
    UrgentRow(
        code="acute-vertigo-new-hearing-loss",
        raised=new_hearing_loss,
        urgency="immediate",
        says=N_(
            "acute vertigo with new hearing loss: an abnormal head impulse does not reassure, the infarct may lie in "
            "the labyrinth itself. Treatment of sudden deafness must not delay stroke assessment, nor the reverse."
        ),
        source=N_("Front Neurol 2022;13:941909; NICE NG127"),
    ),
    UrgentRow(
        code="sudden-cerebellar-or-hemispheric-signs",
        raised=sudden_signs,
        urgency="immediate",
        detail=_both_legs_said,
        says=N_(
            "sudden signs of cerebellum, hemisphere or cord: note when the person was last well; stroke team now; "
            "check glucose.{detail}"
        ),
        source=N_("common practice; NICE NG127"),
    ),
    UrgentRow(
        code="possible-unstable-neck",
        raised=neck_raised,
        urgency="immediate",
        says=N_(
            "the neck may be unstable: immobilise. No head impulse, positional test, head shaking, standing test or "
            "walking until it is cleared. Think of the vertebral artery."
        ),
        source=N_("common practice; NICE NG127"),
    ),
)


def _list(words: list[str]) -> str:
    """Join words as a sentence does."""
    if len(words) < 2:
        return "".join(words)
    return _("{first} and {last}").format(first=", ".join(words[:-1]), last=words[-1])
