"""The findings of an examination as rows of a paper: abnormal, not examined, blank, recorded, normal.

Errs towards saying more: what no rule calls normal is never listed as normal, and nothing recorded is left out.
"""

from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from typing import Any

from neuroform.exam.examination import Examination, age
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import Entry, entries, get, side_of
from neuroform.figures.marks import Mark
from neuroform.figures.noted import number
from neuroform.figures.sway_cross import Trial
from neuroform.figures.sway_cross import in_words as trial_words
from neuroform.notes.content import Basis, Cell, Row
from neuroform.notes.values import finding_words, label, lowered, reason_words
from neuroform.reasoning import marks
from neuroform.reference.results import Limit

COPIED = "copied from the other side"
TOGETHER = "answered with one key"
DOES_NOT_FIT = "does not fit"
_PARTS = ("sway", "direction", "seconds", "ended")


@dataclass(frozen=True, kw_only=True)
class Observation:
    """One line of findings: an item with its sides, or a whole trial of standing."""

    section: str
    label: str
    entry: Entry
    cells: tuple[tuple[str, Cell], ...]
    """(side or "", cell) of what is recorded or to be examined."""
    comments: tuple[tuple[str, str], ...]
    """(side or "", the examiner's comment)."""
    together: bool

    @property
    def marks(self) -> frozenset[Mark | None]:
        """The marks of all its cells."""
        return frozenset(cell.mark for _side, cell in self.cells)

    @property
    def row(self) -> Row:
        """The observation as a row."""
        held = dict(self.cells)
        return Row(label=self.label, right=held.get("right"), left=held.get("left"), single=held.get(""))


def observations(basis: Basis) -> tuple[Observation, ...]:
    """Return everything recorded or to be examined, in bedside order, the conclusion's own words left out."""
    needed, clashing = frozenset(basis.needed), contradicted(basis)
    found: list[Observation] = []
    for entry in entries():
        if entry.section == "conclusion":
            continue
        trial, part = entry.path.rpartition(".")[::2]
        if part in _PARTS and _is_whole(basis.exam, trial):
            if part == "sway":
                found += _trial(basis.exam, entry, trial, needed, clashing)
            continue
        found += _item(basis.exam, entry, needed, clashing)
    return tuple(found)


def trial_at(exam: Examination, path: str) -> Trial:
    """Return one trial of standing for drawing; a reason on its first part covers the whole."""
    parts = {part: get(exam, f"{path}.{part}") for part in _PARTS}
    for found in parts.values():
        if isinstance(found, NotExamined):
            return Trial(not_examined=found.not_examined)
    return Trial(**{part: found.value for part, found in parts.items() if isinstance(found, Examined)})


def contradicted(basis: Basis) -> frozenset[str]:
    """Return the paths of findings that do not fit each other."""
    return frozenset(path for gap in basis.gaps if gap.does_not_fit for path in gap.items)


def limits(basis: Basis) -> Iterator[tuple[str, Limit]]:
    """Yield (label, limit) for every recorded number that was judged by a published limit."""
    for entry in entries():
        if entry.kind in {"number", "joint_position", "pressure"} and not entry.plain:
            recorded = [path for path in entry.paths if isinstance(get(basis.exam, path), Examined)]
            limit = next((found for path in recorded if (found := marks.limit(basis.exam, path)) is not None), None)
            if limit is not None:
                yield label(entry), limit


def named(path: str) -> str:
    """Return a finding's name, its side in words."""
    from neuroform.exam.walk import entry

    side = side_of(path) if entry(path).sided else None
    return f"{label(entry(path))}, {side}" if side else label(entry(path))


def _is_whole(exam: Examination, trial: str) -> bool:
    """Tell whether a group is a trial whose parts can be told in one phrase."""
    try:
        parts = [get(exam, f"{trial}.{part}") for part in _PARTS]
    except AttributeError:
        return False
    reasons = [found for found in parts if isinstance(found, NotExamined)]
    if not reasons:
        return True
    return len(reasons) == 1 and sum(found is not None for found in parts) == 1


def _trial(
    exam: Examination, entry: Entry, trial: str, needed: frozenset[str], clashing: frozenset[str]
) -> Iterator[Observation]:
    paths = [f"{trial}.{part}" for part in _PARTS]
    recorded = [path for path in paths if get(exam, path) is not None]
    if not recorded and not needed.intersection(paths):
        return
    states = {marks.mark(exam, path) for path in recorded}
    found = [get(exam, path) for path in recorded]
    mark = _trial_mark(exam, states, paths, recorded)
    if clashing.intersection(paths):
        mark = "does_not_fit"
    notes = tuple(_entered(found) | ({DOES_NOT_FIT: None} if mark == "does_not_fit" else {}))
    comments = tuple(("", each.comment) for each in found if each.comment)
    words = trial_words(trial_at(exam, trial))
    reasons = [each for each in found if isinstance(each, NotExamined)]
    if reasons:
        words = finding_words(entry, reasons[0])
    reason = _why(reasons[0]) if reasons else ""
    cell = Cell(words=words, mark=mark, notes=notes, copied=COPIED in notes, reason=reason)
    yield Observation(
        section=entry.section,
        label=entry.groups[-1][1].label,
        entry=entry,
        cells=(("", cell),),
        comments=comments,
        together=TOGETHER in notes,
    )


def _trial_mark(exam: Examination, states: AbstractSet[str], paths: list[str], recorded: list[str]) -> Mark | None:
    if not recorded:
        return "blank"
    if "not_examined" in states:
        return "not_examined"
    if "abnormal" in states:
        return "abnormal"
    if "borderline" in states:
        return "borderline"
    sway = get(exam, paths[0])
    still = isinstance(sway, Examined) and sway.value == "none"
    # Where there was no sway there is no direction to tell.
    wanted = [path for path in paths if not (still and path.endswith(".direction"))]
    if any(get(exam, path) is None for path in wanted):
        return "partly_tested"
    # A direction is never normal: a whole trial is only where every part of it is.
    return "normal" if states == {"normal"} else None


def _item(exam: Examination, entry: Entry, needed: frozenset[str], clashing: frozenset[str]) -> Iterator[Observation]:
    shown = [path for path in entry.paths if get(exam, path) is not None or path in needed]
    if not shown:
        return
    # Where one side is told, the other is never passed over.
    shown = list(entry.paths) if any(get(exam, path) is not None for path in entry.paths) else shown
    cells = tuple((side_of(path) or "" if entry.sided else "", _cell(exam, entry, path, clashing)) for path in shown)
    comments = tuple(
        (side_of(path) or "" if entry.sided else "", found.comment)
        for path in shown
        if isinstance(found := get(exam, path), Examined | NotExamined) and found.comment
    )
    together = any(TOGETHER in cell.notes for _side, cell in cells)
    yield Observation(
        section=entry.section, label=label(entry), entry=entry, cells=cells, comments=comments, together=together
    )


def _cell(exam: Examination, entry: Entry, path: str, clashing: frozenset[str]) -> Cell:
    found = get(exam, path)
    state = marks.mark(exam, path)
    mark: Mark | None = "normal"
    if found is None:
        mark = "blank"
    elif isinstance(found, NotExamined):
        mark = "not_examined"
    elif path in clashing:
        mark = "does_not_fit"
    elif state in {"abnormal", "borderline"}:
        mark = "abnormal" if state == "abnormal" else "borderline"
    elif state != "normal":
        mark = None
    notes: dict[str, None] = {}
    if isinstance(found, Examined) and (limit := marks.limit(exam, path)) is not None:
        notes[limit_note(limit, age(exam))] = None
    if state == "borderline":
        notes["borderline"] = None
    notes |= _entered([found])
    if mark == "does_not_fit":
        notes[DOES_NOT_FIT] = None
    words = finding_words(entry, found)
    reason = _why(found) if isinstance(found, NotExamined) else ""
    return Cell(words=words, mark=mark, notes=tuple(notes), copied=COPIED in notes, reason=reason)


def limit_note(limit: Limit, years: int) -> str:
    """Return what stands beside a number that has a published limit: "limit at 71: 3.5, unverified"."""
    said = f"limit at {years}: {number(limit.value)}" if limit.band is not None else f"limit: {number(limit.value)}"
    return f"{said}, unverified" if limit.unverified else said


def _why(found: NotExamined) -> str:
    return f"{reason_words(found)}; {found.comment}" if found.comment else reason_words(found)


def _entered(found: Iterable[Any]) -> dict[str, None]:
    """Return how it was entered, where it was not entered by itself."""
    how = {each.entered for each in found if isinstance(each, Examined | NotExamined)}
    return {words: None for code, words in (("copied", COPIED), ("together", TOGETHER)) if code in how}


def both_sides(observed: Observation) -> str:
    """Return an observation's findings with the sides as words, right first."""
    cells = observed.cells
    if len(cells) == 2 and cells[0][1].words == cells[1][1].words:
        return on_both(cells[0][1].words)
    return ", ".join(f"{cell.words} on the {side}" if side else cell.words for side, cell in cells)


def on_both(words: str) -> str:
    """Return what was found alike on both sides; what is denied is denied of either."""
    if words == "no":
        return "not present on either side"
    return f"{words} on either side" if words == "none" or words.startswith("no ") else f"{words} on both sides"


def sentence(observed: Observation) -> str:
    """Return an observation in a phrase: its name, then what was found."""
    name = observed.entry.item.label if observed.entry.kind == "pressure" else observed.label
    # "Single leg, eyes open: stood for" has its colon already.
    return f"{lowered(name)}{' ' if ': ' in name else ': '}{both_sides(observed)}"


def said(exam: Examination, entry: Entry, clashing: AbstractSet[str] = frozenset()) -> str:
    """Return what stands under an item in words, blank and not examined told apart, sides as words.

    What is among the `clashing` paths is said not to fit.
    """
    told = [
        f"{finding_words(entry, get(exam, path))}{f' ({DOES_NOT_FIT})' if path in clashing else ''}"
        for path in entry.paths
    ]
    if not entry.sided:
        return told[0]
    right, left = told
    return on_both(right) if right == left else f"{right} on the right, {left} on the left"
