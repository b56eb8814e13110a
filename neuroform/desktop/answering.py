"""What the keys of an answer mean: choices and their keys, typed numbers, and the words for what is recorded."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from neuroform.desktop.form import Cell
from neuroform.errors import NeuroformError
from neuroform.exam import walk
from neuroform.exam.circulation import Pressure
from neuroform.exam.examination import Examination
from neuroform.exam.findings import REASONS, SHOWN_UNITS, Examined, NotExamined
from neuroform.exam.sensation import MovementCount
from neuroform.exam.walk import Entry
from neuroform.figures.noted import NARROW_SPACE
from neuroform.language import N_, _

TRIAL_SECONDS = 30.0
"""Taken where the examination does not say how long a trial lasts."""
PER_COLUMN = 8
"""Words of a long list that share the first digit of their key."""
TYPED = frozenset({"number", "joint_position", "pressure", "level"})


class NotReadableError(NeuroformError):
    """What was typed is no answer to this item."""


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One answer of a closed list and the key that gives it."""

    code: str
    words: str
    key: str


def choices(cell: Cell, exam: Examination) -> tuple[Choice, ...]:
    """Return the answers of a cell in the order they stand, mildest first; empty where something is typed."""
    return _choices(cell.entry.path, cell.kind, _seconds(exam) if cell.path.endswith(".ended") else 0.0)


def directions(cell: Cell) -> tuple[Choice, ...]:
    """Return the directions of a sway with their keys."""
    if cell.direction is None:
        return ()
    words = walk.entry(cell.direction).answers
    assert words is not None
    return tuple(Choice(code=code, words=_(each), key=str(n)) for n, (code, each) in enumerate(words.words.items(), 5))


def reasons(entry: Entry) -> tuple[Choice, ...]:
    """Return the reasons for not examining, a refusal first; none for what is no finding."""
    if entry.plain:
        return ()
    return tuple(Choice(code=code, words=_(words), key=str(n)) for n, (code, words) in enumerate(REASONS.items(), 1))


@cache
def _choices(path: str, kind: str, seconds: float) -> tuple[Choice, ...]:
    entry = walk.entry(path)
    if entry.answers is None or kind == "level":
        return ()
    codes = list(entry.answers.words)
    if kind == "power":
        keys = [code[-1] if code in {"4+", "4-"} else code for code in codes]
    elif kind == "words":
        keys = _list_keys(entry)
    else:
        keys = [str(n) for n in range(1, len(codes) + 1)]
    return tuple(
        Choice(code=code, words=_word(path, code, seconds), key=key) for code, key in zip(codes, keys, strict=True)
    )


def none_word(entry: Entry) -> str | None:
    """Return the code of a list that stands alone ("normal", "none"), or None where an empty list says it."""
    if entry.plain or entry.answers is None:
        return None
    return next((code for code in entry.answers.words if code in {"none", "normal"}), None)


def _list_keys(entry: Entry) -> list[str]:
    assert entry.answers is not None
    codes = list(entry.answers.words)
    alone = none_word(entry)
    others = [code for code in codes if code != alone]
    if len(others) <= 9:
        keys = {code: str(n) for n, code in enumerate(others, 1)}
    else:
        keys = {code: f"{n // PER_COLUMN + 1}{n % PER_COLUMN + 1}" for n, code in enumerate(others)}
    return [keys.get(code, "0") for code in codes]


def _seconds(exam: Examination) -> float:
    return exam.standing.trial_seconds or TRIAL_SECONDS


def trial_seconds(exam: Examination) -> float:
    """Return how long a trial of standing lasts in this examination."""
    return _seconds(exam)


def _word(path: str, code: str, seconds: float) -> str:
    if code == "held" and path.endswith(".ended"):
        return _(N_("stood for the full {seconds}")).format(seconds=with_unit(seconds, "s"))
    entry = walk.entry(path)
    assert entry.answers is not None
    return _(entry.answers.words[code]).replace("4-", "4−")


def with_unit(value: float, unit: str) -> str:
    """Write a number with the word for its UCUM unit."""
    words = _(SHOWN_UNITS[unit]) if unit in SHOWN_UNITS else unit
    return f"{number(value)}{NARROW_SPACE}{words}" if words else number(value)


def number(value: float) -> str:
    """Write a number without needless digits."""
    return f"{value:g}"


def said(cell: Cell, found: Any, exam: Examination, *, path: str | None = None) -> str:
    """Say what is recorded in a cell's place, in a few words; empty for blank."""
    if found is None:
        return ""
    if isinstance(found, NotExamined):
        return _(N_("not examined: {reason}")).format(reason=_(REASONS[found.not_examined]))
    value = found.value if isinstance(found, Examined) else found
    entry = cell.entry if path is None else walk.entry(path)
    if isinstance(value, MovementCount):
        return _(N_("{correct} of {trials}")).format(correct=value.correct, trials=value.trials)
    if isinstance(value, Pressure):
        return _pressure_words(value)
    if isinstance(value, tuple):
        return ", ".join(_word(entry.path, code, 0.0) for code in value) if value else _(N_("none"))
    if entry.answers is not None:
        return _word(entry.path, str(value), _seconds(exam))
    return value if isinstance(value, str) else with_unit(value, entry.item.unit)


def _pressure_words(value: Pressure) -> str:
    told = f"{number(value.systolic)}/{number(value.diastolic)}{NARROW_SPACE}{_(SHOWN_UNITS['mm[Hg]'])}"
    if value.pulse is None:
        return told
    return _(N_("{pressure}, pulse {pulse}")).format(pressure=told, pulse=number(value.pulse))


def typed_as(cell: Cell, found: Any) -> str:
    """Return what a person would have typed for a recorded answer."""
    value = found.value if isinstance(found, Examined) else found
    if value is None or isinstance(value, NotExamined):
        return ""
    if isinstance(value, MovementCount):
        return f"{value.correct}/{value.trials}"
    if isinstance(value, Pressure):
        pulse = f" {number(value.pulse)}" if value.pulse is not None else ""
        return f"{number(value.systolic)}/{number(value.diastolic)}{pulse}"
    if isinstance(value, str):
        if cell.kind == "joint_position":
            return next(choice.key for choice in _choices(cell.entry.path, cell.kind, 0.0) if choice.code == value)
        return value
    return number(value)


def starts(cell: Cell, key: str, typed: str) -> bool:
    """Tell whether a key belongs to what is typed in a cell, given what stands there already."""
    if cell.kind == "number":
        return key in "0123456789" or (key in ".," and not cell.entry.whole and "." not in typed)
    if cell.kind == "joint_position":
        return key in "0123456789" or (key in "/ " and typed.isdigit())
    if cell.kind == "pressure":
        return key in "0123456789" or (key in "/ -" and bool(typed))
    if cell.kind == "level":
        return key.isdigit() or (not typed and key.lower() in "ctls")
    return False


def read(cell: Cell, typed: str) -> Any:
    """Return the value that was typed; NotReadableError says in a sentence why it is none."""
    reader = {"number": _number, "joint_position": _joint_position, "pressure": _pressure, "level": _level}[cell.kind]
    return reader(cell, typed.strip())


def _number(cell: Cell, typed: str) -> float | int:
    entry = cell.entry
    try:
        value = int(typed) if entry.whole else float(typed)
    except ValueError as error:
        raise NotReadableError(_(N_("“{typed}” is no number.")).format(typed=typed)) from error
    high = entry.high if entry.high is not None else value
    low = entry.low if entry.low is not None else value
    unit = entry.item.unit
    if value > high:
        words = _(N_("“{typed}” is more than {high}.")).format(typed=typed, high=with_unit(high, unit))
        raise NotReadableError(words)
    if value < low or (entry.above is not None and value <= entry.above):
        least = entry.above if entry.above is not None else low
        words = (
            N_("“{typed}” is not more than {low}.") if entry.above is not None else N_("“{typed}” is less than {low}.")
        )
        raise NotReadableError(_(words).format(typed=typed, low=with_unit(least, unit)))
    if entry.step and value % entry.step:
        words = _(N_("“{typed}” is not in steps of {step}.")).format(typed=typed, step=number(entry.step))
        raise NotReadableError(words)
    return value


def _joint_position(cell: Cell, typed: str) -> Any:
    words = {choice.key: choice.code for choice in _choices(cell.entry.path, cell.kind, 0.0)}
    if typed in words:
        return words[typed]
    correct, slash, trials = typed.replace(" ", "/").partition("/")
    if not (slash and correct.isdigit() and trials.isdigit()):
        raise NotReadableError(_(N_("Type correct / tried, 9/10, or the number of a word.")))
    right, tried = int(correct), int(trials)
    if not 1 <= tried <= 20:
        raise NotReadableError(_(N_("Movements tried are 1 to 20.")))
    if right > tried:
        raise NotReadableError(
            _(N_("{correct} correct of {trials} tried cannot be.")).format(correct=right, trials=tried)
        )
    return MovementCount(correct=right, trials=tried)


def _pressure(cell: Cell, typed: str) -> Pressure:
    parts = typed.replace("/", " ").replace("-", " ").split()
    if len(parts) not in {2, 3} or not all(part.isdigit() for part in parts):
        raise NotReadableError(_(N_("Type systolic / diastolic pulse: 142/88 76.")))
    numbers = [float(part) for part in parts]
    if not all(20 <= each <= 300 for each in numbers):
        raise NotReadableError(_(N_("Pressures and pulse are 20 to 300.")))
    if numbers[0] <= numbers[1]:
        raise NotReadableError(_(N_("The systolic pressure comes first and is the higher one.")))
    return Pressure(systolic=numbers[0], diastolic=numbers[1], pulse=numbers[2] if len(numbers) == 3 else None)


def _level(cell: Cell, typed: str) -> str:
    answers = cell.entry.answers
    assert answers is not None
    wanted = "none" if typed in {"0", "1"} else typed.upper()
    if wanted not in answers.words:
        raise NotReadableError(_(N_("Type a level such as T10, or 0 for none.")))
    return wanted
