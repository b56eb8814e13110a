"""What a letter tells of the history: symptoms, when it began, what was examined at all, and what does not fit."""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any

from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.exam.sensation import LEVEL
from neuroform.exam.walk import SIDES, entry, get, recorded
from neuroform.notes import heads
from neuroform.notes.content import Basis
from neuroform.notes.findings import DOES_NOT_FIT, contradicted
from neuroform.notes.values import ended
from neuroform.notes.wording import Wording

SYMPTOMS = "context.symptoms"
TOLD_OF: Mapping[str, frozenset[str]] = {
    "bladder": frozenset(
        {
            *("urinary_retention", "urinary_urgency", "bladder_or_bowel_disturbance", "bowel_incontinence"),
            *("saddle_numbness", "altered_genital_feeling"),
        }
    ),
    "breathing": frozenset({"breathlessness", "swallowing_difficulty"}),
}
"""Symptoms that stand again beside what was examined of the same matter."""
_CLOCK_WITHIN = 2.0
"""Days; what began longer ago is told by its day."""
_SETUP = frozenset(
    {
        *("standing.stand_by", "standing.footwear", "standing.feet_position", "standing.trial_seconds"),
        *("head_and_eyes.vertigo_now", "head_and_eyes.examiner_trained", "circulation.lying_minutes"),
    }
)
"""Recorded, and yet no test."""
_TESTED: tuple[tuple[str, str], ...] = (
    ("standing.sitting_balance", "sitting"),
    ("standing.", "standing"),
    ("walking.", "walking"),
    ("motor.power.", "strength"),
    ("motor.single_heel_raises", "strength"),
    ("motor.neck_flexion", "neck"),
    ("motor.breath_count", "breathing"),
    ("motor.", "muscles"),
    ("reflexes.", "reflexes"),
    ("sensation.", "feeling"),
    ("coordination.speech", "speech"),
    ("coordination.", "movement"),
    ("head_and_eyes.new_hearing_loss", "hearing"),
    ("head_and_eyes.visual_acuity", "eyesight"),
    ("head_and_eyes.head_impulse", "inner_ear"),
    ("head_and_eyes.positional", "inner_ear"),
    ("head_and_eyes.roll_test", "inner_ear"),
    ("head_and_eyes.brainstem_signs", "head"),
    ("head_and_eyes.", "eyes"),
    ("circulation.", "pressure"),
)
"""How paths begin, the narrower before the wider, and the name under which a letter tells of them."""


def symptoms(words: Wording, basis: Basis) -> str:
    """Return the symptoms in a sentence; a blank list is said to be blank, an empty one that none was told."""
    told = basis.exam.context.symptoms
    if told is None:
        return words("story.symptoms_blank")
    mark = f" ({DOES_NOT_FIT})" if SYMPTOMS in contradicted(basis) else ""
    return words("story.symptoms", symptoms=(", ".join(_named(told)) or words("story.none")) + mark)


def told_of(words: Wording, basis: Basis) -> dict[str, str]:
    """Return, matter by matter, the symptoms told of it: a phrase, which says so where the list is blank."""
    told = basis.exam.context.symptoms
    if told is None:
        return dict.fromkeys(TOLD_OF, words("story.told_blank"))
    found = {matter: ", ".join(_named(each for each in told if each in wanted)) for matter, wanted in TOLD_OF.items()}
    return {
        matter: words("story.told", symptoms=said) if said else words(f"story.{matter}_none")
        for matter, said in found.items()
    }


def clashes(words: Wording, basis: Basis) -> list[str]:
    """Return what does not fit, a sentence each, with the reason where one was given."""
    return [
        f"{ended(gap.message)} {ended(words('note.reason', reason=gap.reason))}" if gap.reason else ended(gap.message)
        for gap in basis.gaps
        if gap.does_not_fit
    ]


def began(words: Wording, exam: Examination) -> str:
    """Return about when it began, reckoned from the examination; "" where the duration is not told."""
    found = exam.context.duration_days
    if not isinstance(found, Examined):
        return ""
    days = float(found.value)
    try:
        at = exam.encounter.examined_at - timedelta(days=days)
    except OverflowError:
        return ""
    if days > _CLOCK_WITHIN:
        return words("story.about_day", day=heads.long_day(words, at.date()))
    at = _to_the_hour(at)
    return words("story.about_time", time=f"{at:%H:%M}", day=heads.long_day(words, at.date()))


def beside_onset(exam: Examination) -> str:
    """Return what the examiner wrote beside onset and duration, where a time last known well would stand."""
    found = (exam.context.onset, exam.context.duration_days)
    return "; ".join(each.comment for each in found if each is not None and each.comment)


def tested(exam: Examination) -> tuple[str, ...]:
    """Return the names of what was examined at all, in bedside order."""
    found = [
        next((name for start, name in _TESTED if path.startswith(start)), "")
        for path, value in recorded(exam)
        if isinstance(value, Examined) and path not in _SETUP
    ]
    return tuple(dict.fromkeys(name for name in found if name))


def weak(exam: Examination) -> bool:
    """Tell whether any leg muscle was graded below 5."""
    return any(
        path.startswith("motor.power.") and isinstance(value, Examined) and value.value != "5"
        for path, value in recorded(exam)
    )


def has_already(exam: Examination) -> frozenset[str]:
    """Return what a person called to help for has already told or shown: bladder, breathing, head."""
    told = set(exam.context.symptoms or ())
    found = {"breathing"} if told & TOLD_OF["breathing"] else set()
    holds_back = told & {"urinary_retention", "saddle_numbness"} or _value(exam, "context.bladder") == "retention"
    if holds_back or _value(exam, "sensation.saddle") in {"reduced", "absent"}:
        found.add("bladder")
    if "head_injury" in told or _value(exam, "context.fall_injury") == "head":
        found.add("head")
    if told & {"weakness", "slurred_speech"} or weak(exam):
        found.add("weakness")
    found |= {name for name, symptoms in _TOLD_ALREADY if told & symptoms}
    found |= {name for name, holds in _shown_already(exam) if holds}
    return frozenset(found)


_TOLD_ALREADY: tuple[tuple[str, frozenset[str]], ...] = (
    ("control", TOLD_OF["bladder"]),
    ("legs", frozenset({"weakness"})),
    ("tingling", frozenset({"weakness", "numbness"})),
    ("fever", frozenset({"fever"})),
    ("double", frozenset({"double_vision"})),
    ("hearing", frozenset({"hearing_loss"})),
    ("headache", frozenset({"headache", "sudden_severe_headache"})),
    ("sick", frozenset({"vomiting"})),
    ("drowsy", frozenset({"confusion", "drowsiness"})),
    ("fainting", frozenset({"fainting"})),
)
"""What a call for help names, and the symptoms that make it a matter of getting worse."""
_NOT_STANDING = frozenset({"cannot_sit", "needed_support", "fell"})


def _shown_already(exam: Examination) -> tuple[tuple[str, bool], ...]:
    """Return the same of what was examined."""
    standing = (_value(exam, f"standing.{path}") for path in ("sitting_balance", "firm.eyes_open.ended"))
    hearing = (_value(exam, f"head_and_eyes.new_hearing_loss.{side}") for side in SIDES)
    return (
        ("control", _value(exam, "context.bladder") not in {None, "normal"}),
        ("legs", weak(exam)),
        ("tingling", weak(exam)),
        ("double", "double_vision" in (_value(exam, "head_and_eyes.brainstem_signs") or ())),
        ("hearing", "yes" in hearing),
        ("drowsy", "reduced_alertness" in (_value(exam, "head_and_eyes.brainstem_signs") or ())),
        ("standing", bool(_NOT_STANDING & set(standing)) or _value(exam, "context.walks_unaided") == "no"),
    )


def vertigo(exam: Examination) -> bool:
    """Tell whether vertigo is told or goes on."""
    return "vertigo" in (exam.context.symptoms or ()) or _value(exam, "head_and_eyes.vertigo_now") == "yes"


def about_cord_or_roots(exam: Examination) -> bool:
    """Tell whether anything told asks for feeling between the legs: bladder, bowel, back or both legs."""
    told = frozenset(exam.context.symptoms or ())
    return bool(told & (TOLD_OF["bladder"] | {"back_pain", "leg_pain_both"}))


def feeling_lost(exam: Examination) -> dict[str, str]:
    """Return, side by side, the highest part of a leg up to which feeling is less; "" on a side without loss."""
    order = tuple(LEVEL.words)
    found: dict[str, str] = {}
    for side in SIDES:
        values = (_value(exam, f"sensation.{kind}.{side}") for kind in ("pinprick", "light_touch", "temperature"))
        lost = [order.index(value) for value in values if value is not None and value not in LEVEL.normal]
        found[side] = order[max(lost)] if lost else ""
    return found


def changed_reflexes(exam: Examination) -> bool:
    """Tell whether any reflex of the legs was not as usual: lost, livelier, or the toe going up."""
    unusual = {"absent", "brisk", "clonus", "reduced", "extensor"}
    paths = (f"reflexes.{name}.{side}" for name in ("knee", "ankle", "plantar") for side in SIDES)
    return any(_value(exam, path) in unusual for path in paths)


def _to_the_hour(at: datetime) -> datetime:
    return (at + timedelta(minutes=30)).replace(minute=0, second=0, microsecond=0)


def _named(codes: Any) -> Iterator[str]:
    known = entry(SYMPTOMS).answers
    return (known.words[code] if known is not None else code for code in codes)


def _value(exam: Examination, path: str) -> Any:
    found = get(exam, path)
    return found.value if isinstance(found, Examined) else None
