"""The words of one finding, as the catalogue gives them; what is blank or not examined is said to be."""

from typing import Any

from neuroform.exam.circulation import Pressure
from neuroform.exam.findings import REASONS, SHOWN_UNITS, Examined, NotExamined
from neuroform.exam.sensation import LEVEL, MovementCount
from neuroform.exam.walk import Entry, name_of, section_group
from neuroform.figures.noted import NARROW_SPACE, number

BLANK = "blank"
NOT_EXAMINED = "not examined ({reason})"
_LONG, _YEARS = 180, 730
"""From so many days a duration is told in months, and in years."""
_NEARLY = 5
"""Days that make no difference to a count of months or years."""


def value_words(entry: Entry, value: Any) -> str:
    """Return the words of a recorded value: "absent", "12 s", "8 of 10", "142/88 mmHg"."""
    match value:
        case MovementCount():
            return f"{value.correct} of {value.trials}"
        case Pressure():
            pressure = f"{number(value.systolic)}/{number(value.diastolic)}{NARROW_SPACE}{SHOWN_UNITS['mm[Hg]']}"
            if value.pulse is None:
                return pressure
            return f"{pressure}, pulse {number(value.pulse)}{NARROW_SPACE}{SHOWN_UNITS['/min']}"
        case tuple():
            return ", ".join(_word(entry, word) for word in value) if value else "none"
        case bool():
            raise TypeError("no finding is true or false")
        case int() | float():
            return _with_unit(entry, value)
        case _ if entry.answers is LEVEL and value not in LEVEL.normal:
            word = _word(entry, value)
            return f"up to {word}" if value == "mid_calf" else f"up to the {word}"
        case _:
            return _word(entry, str(value))


def finding_words(entry: Entry, found: Any) -> str:
    """Return the words of what stands under a path: a value, a reason, or nothing."""
    match found:
        case None:
            return BLANK
        case NotExamined():
            return NOT_EXAMINED.format(reason=reason_words(found))
        case Examined():
            return value_words(entry, found.value)
        case _:
            return value_words(entry, found)


def reason_words(found: NotExamined) -> str:
    """Return why something was not examined."""
    return REASONS[found.not_examined]


def label(entry: Entry) -> str:
    """Return an item's name where it stands alone; a pressure's says that it is one."""
    if entry.kind == "pressure":
        return f"{section_group(entry.section).label}, {lowered(entry.item.label)}"
    return name_of(entry.path)


def lowered(text: str) -> str:
    """Return text that begins small, to stand within a sentence; a name or abbreviation keeps its capital."""
    return text if text[1:2].isupper() else text[:1].lower() + text[1:]


def shortened(said: str, most: int) -> str:
    """Return text of at most that many characters, an ellipsis where it was longer."""
    return said if len(said) <= most else f"{said[: most - 1].rstrip()}…"


def begun(said: str) -> str:
    """Return text that begins with a capital, the rest as it is."""
    return said[:1].upper() + said[1:]


def ended(said: str) -> str:
    """Return a sentence with one full stop."""
    return said if said.endswith((".", "!", "?", "…")) else f"{said}."


def _word(entry: Entry, code: str) -> str:
    return entry.answers.words.get(code, code) if entry.answers is not None else code


def _long(days: float) -> str:
    """Return months or years, as people say it, of a duration of many days."""
    name, each = ("months", 365.25 / 12) if days < _YEARS else ("years", 365.25)
    count = round(days / each)
    about = "" if abs(days - count * each) <= _NEARLY else "about "
    return f"{about}{count}{NARROW_SPACE}{name}"


def _with_unit(entry: Entry, value: float) -> str:
    if not entry.item.unit:
        return f"{value:.1f}" if entry.step == 0.5 else number(value)
    if entry.item.unit == "d" and value == 1:
        return f"1{NARROW_SPACE}day"
    if entry.item.unit == "d" and value >= _LONG:
        return _long(value)
    return f"{number(value)}{NARROW_SPACE}{SHOWN_UNITS.get(entry.item.unit, entry.item.unit)}"
