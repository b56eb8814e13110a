"""What a row has to show: plain values gathered from the examination, compared to know whether to paint anew."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any, Literal

from neuroform.desktop import answering
from neuroform.desktop.answering import Choice
from neuroform.desktop.entering import Entering
from neuroform.desktop.form import Cell, Row, place, rows
from neuroform.exam.examination import age
from neuroform.exam.findings import SHOWN_UNITS, Examined, NotExamined
from neuroform.exam.sensation import MovementCount
from neuroform.exam.walk import entry, is_path, position, side_of
from neuroform.figures.limits import limit_words
from neuroform.figures.marks import Mark
from neuroform.figures.sway_cross import Trial
from neuroform.language import N_, _
from neuroform.reference.joint_position import intact_from

SHOWN_NAMES = 1
"""Findings that are named where one does not fit them; how many more there are follows."""
Line = Literal["normal", "abnormal", "copied", "not_examined", "none"]


@dataclass(frozen=True, kw_only=True)
class LimitView:
    """A limit to draw beside a number."""

    limit: float
    lowest: float
    highest: float
    better: Literal["high", "low"]
    value: float | None
    verdict: Literal["normal", "borderline", "abnormal"] | None
    words: str
    source: str


@dataclass(frozen=True, kw_only=True)
class CellView:
    """One place for an answer, as it stands."""

    name: str
    kind: str
    column: str
    said: str
    mark: Mark | None
    """None beside a list of what was told, which says nothing of normal or abnormal."""
    line: Line
    chosen: tuple[int, ...]
    """Which of the choices are the answer."""
    choices: tuple[Choice, ...]
    directions: tuple[Choice, ...]
    direction: int | None
    notes: tuple[str, ...]
    """Said beside the answer."""
    barred: str
    limit: LimitView | None
    trial: Trial | None
    ask: str
    """What may be typed, said in a blank place."""
    traced: bool


@dataclass(frozen=True, kw_only=True)
class RowView:
    """One row, as it stands."""

    label: str
    pair: bool
    wanted: bool
    cells: tuple[CellView, ...]
    focused: int | None
    """Which place has the focus."""
    typed: str | None
    pending: str
    pointed: int | None
    reason: bool
    """The reasons stand in place of the answers."""
    sealed: bool = False
    """It is only read: no answers to choose from."""


def state_of(entering: Entering, row: Row, *, focused: bool, misfits: frozenset[str]) -> tuple[object, ...]:
    """Return everything a row's view comes from, to be compared: cheaper than the view itself."""
    get, exam = entering.document.get, entering.document.exam
    own: list[object] = [id(entering.judge), entering.is_wanted(row), exam.standing.trial_seconds]
    for cell in row.cells:
        found = [get(path) for path in cell.paths]
        own += found
        if cell.kind == "sway":
            own += (get(f"{cell.trial}.{part}") for part in ("seconds", "ended"))
        if found[0] is not None:
            own.append(entering.judge.mark(exam, cell.path))
        own.append(entering.is_barred(cell))
    own += (misfit(entering, cell) for cell in row.cells if misfits.intersection(cell.paths))
    own += (misfits.intersection(row.paths), entering.traced.intersection(row.paths))
    if focused:
        own += (entering.at, entering.typed, entering.pending, entering.pointed, entering.mode)
    return tuple(own)


def view(entering: Entering, row: Row, *, focused: bool, misfits: frozenset[str]) -> RowView:
    """Gather what a row has to show; `misfits` are the paths of findings that do not fit another."""
    at = entering.at if focused else None
    return RowView(
        label=_(row.label),
        pair=row.pair,
        wanted=entering.is_wanted(row),
        cells=tuple(
            _cell(entering, cell, misfits, reason=cell is at and entering.mode == "reason") for cell in row.cells
        ),
        focused=row.cells.index(at) if at is not None else None,
        typed=entering.typed if at is not None else None,
        pending=entering.pending if at is not None else "",
        pointed=entering.pointed if at is not None else None,
        reason=at is not None and entering.mode == "reason",
        sealed=bool(entering.document.sealed),
    )


def _cell(entering: Entering, cell: Cell, misfits: frozenset[str], *, reason: bool) -> CellView:
    exam = entering.document.exam
    found = entering.document.get(cell.path)
    choices = answering.reasons(cell.entry) if reason else answering.choices(cell, exam)
    if entering.document.sealed:
        choices = tuple(replace(choice, key="") for choice in choices)
    mark = _mark(entering, cell, found, misfits)
    limit = _limit(entering, cell, found, mark)
    typing = cell is entering.at and entering.typed is not None
    return CellView(
        name=cell.name,
        kind=cell.kind,
        column=cell.column,
        said=_said(entering, cell, found),
        mark="blank" if typing else mark,
        line=_line(found, mark),
        chosen=() if reason else _chosen(found, choices),
        choices=choices,
        directions=() if reason else answering.directions(cell),
        direction=_direction(entering, cell),
        notes=tuple(_notes(entering, cell, found, limit, misfits)),
        barred=entering.is_barred(cell) if found is None else "",
        limit=limit,
        trial=_trial(entering, cell),
        ask=_ask(cell),
        traced=bool(entering.traced.intersection(cell.paths)),
    )


def _mark(entering: Entering, cell: Cell, found: Any, misfits: frozenset[str]) -> Mark | None:
    if misfits.intersection(cell.paths):
        return "does_not_fit"
    if found is None:
        return "blank"
    if isinstance(found, NotExamined):
        return "not_examined"
    judged = entering.judge.mark(entering.document.exam, cell.path)
    if judged == "neutral" and cell.kind == "words" and found:
        return None
    return "abnormal" if judged == "abnormal" else "borderline" if judged == "borderline" else "normal"


def _line(found: Any, mark: Mark | None) -> Line:
    if found is None:
        return "none"
    if isinstance(found, NotExamined):
        return "not_examined"
    if getattr(found, "entered", None) == "copied":
        return "copied"
    return "abnormal" if mark in {"abnormal", "does_not_fit"} else "normal"


def _value(found: Any) -> Any:
    return found.value if isinstance(found, Examined) else None if isinstance(found, NotExamined) else found


def _chosen(found: Any, choices: Iterable[Choice]) -> tuple[int, ...]:
    value = _value(found)
    codes = value if isinstance(value, tuple) else (value,)
    return tuple(number for number, choice in enumerate(choices) if choice.code in codes)


def _said(entering: Entering, cell: Cell, found: Any) -> str:
    words = answering.said(cell, found, entering.document.exam)
    if cell.direction is None or not isinstance(found, Examined) or found.value == "none":
        return words
    where = entering.document.get(cell.direction)
    if not isinstance(where, Examined):
        return words
    told = answering.said(cell, where, entering.document.exam, path=cell.direction)
    away = _(N_("to the {side}")).format(side=told) if where.value in {"right", "left"} else told
    return f"{words}, {away}"


def _direction(entering: Entering, cell: Cell) -> int | None:
    if cell.direction is None:
        return None
    found = entering.document.get(cell.direction)
    codes = [choice.code for choice in answering.directions(cell)]
    return codes.index(found.value) if isinstance(found, Examined) else None


def _notes(
    entering: Entering, cell: Cell, found: Any, limit: LimitView | None, misfits: frozenset[str]
) -> Iterable[str]:
    if found is None:
        return
    entered = getattr(found, "entered", None)
    if entered == "copied":
        yield _(N_("copied from the other side"))
    elif entered == "together":
        yield _(N_("answered with one key"))
    if misfits.intersection(cell.paths):
        yield from _misfits(entering, cell)
    if isinstance(_value(found), MovementCount):
        least = intact_from(_value(found).trials)
        if least is not None:
            yield _(N_("intact from {count}")).format(count=least)
    if limit is None and cell.trial is not None and cell.kind == "number" and isinstance(found, Examined):
        length = answering.trial_seconds(entering.document.exam)
        if found.value < length:
            yield _(N_("of {seconds}")).format(seconds=answering.with_unit(length, "s"))
    comment = getattr(found, "comment", None)
    if comment:
        yield comment


def _misfits(entering: Entering, cell: Cell) -> Iterable[str]:
    """Yield what the finding does not fit, by name: once for each gap, at the first of its rows in the section."""
    for gap in entering.conclusions.gaps:
        if not gap.does_not_fit or not set(cell.paths) & set(gap.items):
            continue
        here = [path for path in gap.items if path.startswith(f"{cell.entry.section}.") and place(path)]
        found = place(min(here, key=position)) if here else None
        row = found[1] if found is not None else None
        if row is None or cell not in row.cells:
            continue
        if cell.path != [each.path for each in row.cells if set(each.paths) & set(gap.items)][-1]:
            continue
        own = {path for each in rows(cell.entry.section) for path in each.paths}
        others = [path for path in gap.items if path not in own] or [p for p in gap.items if p not in row.paths]
        names = list(dict.fromkeys(_place_name(path) for path in others if is_path(path)))
        if not names:
            continue
        shown = "; ".join(names[:SHOWN_NAMES])
        if len(names) > SHOWN_NAMES:
            shown = _(N_("{names} and {count} more")).format(names=shown, count=len(names) - SHOWN_NAMES)
        yield _(N_("does not fit: {message}")).format(message=shown)


def _place_name(path: str) -> str:
    """Name the place that answers a path, without its side."""
    found = place(path)
    if found is None or side_of(path) is not None:
        return _(entry(path).item.label)
    return next(cell.name for cell in found[1].cells if path in cell.paths)


def misfit(entering: Entering, cell: Cell) -> str:
    """Say in one sentence what the finding in a place does not fit; empty where it fits."""
    for gap in entering.conclusions.gaps:
        if gap.does_not_fit and set(cell.paths) & set(gap.items):
            return gap.message
    return ""


def _limit(entering: Entering, cell: Cell, found: Any, mark: Mark | None) -> LimitView | None:
    if cell.kind != "number" or cell.entry.plain:
        return None
    limit = entering.judge.limit(entering.document.exam, cell.path)
    if limit is None:
        return None
    value = _value(found)
    if limit.better == "high":
        lowest = 0.0
        highest = max(cell.entry.high if cell.entry.high and cell.entry.high <= 60 else limit.value * 2, limit.value)
    else:
        lowest, highest = 0.0, limit.value * 2
    verdict: Literal["normal", "borderline", "abnormal"]
    verdict = "abnormal" if mark in {"abnormal", "does_not_fit"} else "borderline" if mark == "borderline" else "normal"
    words = limit_words(limit.value, _unit(cell), _age(entering), limit.unverified)
    if mark == "borderline":
        words = _(N_("{limit}, borderline")).format(limit=words)
    return LimitView(
        limit=limit.value,
        lowest=lowest,
        highest=highest,
        better=limit.better,
        value=value,
        verdict=verdict if value is not None else None,
        words=words,
        source=". ".join(part for part in (limit.source, limit.method, limit.population) if part),
    )


def _unit(cell: Cell) -> str:
    return _(SHOWN_UNITS.get(cell.entry.item.unit, ""))


def _age(entering: Entering) -> int:
    return age(entering.document.exam)


def _trial(entering: Entering, cell: Cell) -> Trial | None:
    if cell.kind != "sway" or cell.trial is None:
        return None
    sway = entering.document.get(cell.path)
    if isinstance(sway, NotExamined):
        return Trial(not_examined=sway.not_examined)
    parts = {name: _value(entering.document.get(f"{cell.trial}.{name}")) for name in ("direction", "seconds", "ended")}
    return Trial(sway=_value(sway), **parts)


def _ask(cell: Cell) -> str:
    asked = cell.entry
    if cell.kind == "joint_position":
        return _(N_("or correct / tried, 9/10"))
    if cell.kind == "pressure":
        return _(N_("systolic / diastolic pulse, 142/88 76"))
    if cell.kind == "level":
        return _(N_("a level such as t10; 0 for none"))
    if cell.kind != "number":
        return ""
    unit = asked.item.unit
    high = answering.with_unit(asked.high, unit) if asked.high is not None else ""
    low = answering.number(asked.low if asked.low is not None else asked.above or 0)
    return _(N_("{low} to {high}")).format(low=low, high=high)
