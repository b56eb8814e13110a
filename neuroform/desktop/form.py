"""The rows of each section, made from the catalogue: what stands beside what, and in which order it is asked."""

from dataclasses import dataclass
from functools import cache
from itertools import groupby
from typing import Literal

from neuroform.exam.examination import SECTIONS
from neuroform.exam.findings import MRC_ORDER, Group
from neuroform.exam.walk import SIDES, Entry, entries, section_group
from neuroform.language import N_, _

Kind = Literal["choice", "power", "level", "number", "joint_position", "pressure", "words", "text", "sway"]
Column = Literal["right", "left", "open", "closed", ""]

SIGHT: dict[str, Column] = {"eyes_open": "open", "eyes_closed": "closed"}
COLUMN_WORDS: dict[Column, str] = {
    "right": N_("patient’s right"),
    "left": N_("patient’s left"),
    "open": N_("eyes open"),
    "closed": N_("eyes closed"),
    "": "",
}
SIDE_WORDS: dict[Column, str] = {"right": N_("right"), "left": N_("left"), "open": "", "closed": "", "": ""}

HEADS = {
    "sensation.pinprick": N_("Reduced or lost up to"),
    "head_and_eyes.head_impulse": N_("Turned to this side"),
}
"""Heads of blocks that have no group of their own, by their first item."""

ALWAYS = frozenset({"context.reason", "context.consent", "conclusion.impression", "conclusion.plan"}) | frozenset(
    {"conclusion.told", "conclusion.urgency"}
)
"""Items that stand in the form whatever is to be examined."""
ELSEWHERE = frozenset({"conclusion.paragraph"})
"""Items that Read and sign asks for."""
EYES_FIRST = frozenset({"acute_vertigo"})
"""Where head and eyes are examined before the person stands up."""


@dataclass(frozen=True, kw_only=True)
class Cell:
    """One place for an answer."""

    path: str
    """Whole path."""
    entry: Entry
    kind: Kind
    column: Column
    name: str
    """Everything a listener needs: "Joint position, great toe, right"."""
    direction: str | None = None
    """Of a sway: the path of its direction, answered in the same place."""
    trial: str | None = None
    """The path of the timed stance it belongs to."""

    @property
    def paths(self) -> tuple[str, ...]:
        """Every path this place answers."""
        return (self.path,) if self.direction is None else (self.path, self.direction)


@dataclass(frozen=True, kw_only=True)
class Row:
    """One question."""

    label: str
    cells: tuple[Cell, ...]
    """One, or two: the patient's right or eyes open first."""

    @property
    def key(self) -> str:
        """The name it is known by: its first cell's path."""
        return self.cells[0].path

    @property
    def pair(self) -> bool:
        """Whether it has a column on each side of the axis, even where only one holds an answer."""
        return self.cells[0].column != ""

    @property
    def paths(self) -> tuple[str, ...]:
        """Every path it answers."""
        return tuple(path for cell in self.cells for path in cell.paths)


@dataclass(frozen=True, kw_only=True)
class Block:
    """Rows under one head."""

    title: str
    columns: tuple[Column, ...]
    caution: str
    rows: tuple[Row, ...]


def sections(protocol: str | None) -> tuple[str, ...]:
    """Return the sections in the order they are examined under a protocol."""
    if protocol not in EYES_FIRST:
        return SECTIONS
    rest = [name for name in SECTIONS if name not in {"context", "head_and_eyes"}]
    return ("context", "head_and_eyes", *rest)


@cache
def blocks(section: str) -> tuple[Block, ...]:
    """Return the blocks of a section in bedside order."""
    items = [entry for entry in entries() if entry.section == section and entry.path not in ELSEWHERE]
    made: list[Block] = []
    for _key, run in groupby(items, key=_run):
        made.append(_block(list(run)))
    return tuple(made)


@cache
def rows(section: str) -> tuple[Row, ...]:
    """Return the rows of a section in bedside order."""
    return tuple(row for block in blocks(section) for row in block.rows)


@cache
def places() -> dict[str, tuple[str, Row, int]]:
    """Return where every whole path is answered: its section, its row and which cell of it."""
    found: dict[str, tuple[str, Row, int]] = {}
    for section in SECTIONS:
        for row in rows(section):
            for number, cell in enumerate(row.cells):
                found.update((path, (section, row, number)) for path in cell.paths)
    return found


def place(path: str) -> tuple[str, Row, int] | None:
    """Return where a path is answered, also one that leaves out its side."""
    return places().get(path) or places().get(f"{path}.right")


def section_label(section: str) -> str:
    """Return the word for a section."""
    return section_group(section).label


def _run(entry: Entry) -> tuple[str, bool | None]:
    """Tell which block an item belongs to: its group, or else the run of items of its shape."""
    if entry.groups:
        return entry.groups[0][0], None
    return "", entry.sided


def _block(items: list[Entry]) -> Block:
    first = items[0]
    group: Group | None = first.groups[0][1] if first.groups else None
    columns = group.columns is not None if group is not None else False
    made = _eyes(items) if columns else [_row(entry, group) for entry in items if not _is_direction(entry)]
    pairs = [row for row in made if row.pair]
    shown: tuple[Column, ...] = ()
    if pairs:
        shown = ("open", "closed") if pairs[0].cells[0].column in {"open", "closed"} else ("right", "left")
    title = group.label if group is not None else HEADS.get(first.path, "")
    if group is not None and not columns and len({e.groups[1:] and e.groups[1][0] for e in items}) == 1:
        title = first.groups[-1][1].label
    return Block(title=title, columns=shown, caution=group.caution if group else "", rows=tuple(made))


def _eyes(items: list[Entry]) -> list[Row]:
    """Set the trials with eyes open and closed beside each other."""
    made: dict[str, list[Cell]] = {}
    labels: dict[str, str] = {}
    for entry in items:
        if _is_direction(entry):
            continue
        tail = entry.path.removeprefix(entry.groups[0][0] + ".")
        sight, _dot, rest = tail.partition(".")
        column = SIGHT.get(sight, "")
        key = rest if column else tail
        made.setdefault(key, []).append(_cell(entry, entry.path, column))
        labels[key] = entry.item.row
    return [Row(label=labels[key], cells=tuple(cells)) for key, cells in made.items()]


def _row(entry: Entry, group: Group | None) -> Row:
    label = entry.item.row
    if group is not None and len(entry.groups) > 1 and not entry.path.endswith(_TRIAL_PARTS):
        label = entry.groups[-1][1].label
    if entry.sided:
        cells = tuple(_cell(entry, f"{entry.path}.{side}", side) for side in SIDES)
    else:
        cells = (_cell(entry, entry.path, ""),)
    return Row(label=label, cells=cells)


_TRIAL_PARTS = (".apart.eyes_open.sway", ".apart.eyes_open.seconds", ".apart.eyes_open.ended")


def _is_direction(entry: Entry) -> bool:
    return entry.path.startswith("standing.") and entry.path.endswith(".direction")


def _cell(entry: Entry, path: str, column: Column) -> Cell:
    kind = _kind(entry)
    parent, _dot, last = path.rpartition(".")
    in_trial = entry.path.startswith(("standing.firm.", "standing.foam.", "standing.apart.")) and last in {
        "sway",
        "seconds",
        "ended",
    }
    words = [_(entry.item.label)]
    if entry.groups and not entry.item.short:
        words[0] = f"{_(entry.groups[-1][1].label)}: {words[0]}"
    if SIDE_WORDS[column]:
        words.append(_(SIDE_WORDS[column]))
    return Cell(
        path=path,
        entry=entry,
        kind=kind,
        column=column,
        name=", ".join(words),
        direction=f"{parent}.direction" if kind == "sway" else None,
        trial=parent if in_trial else None,
    )


def _kind(entry: Entry) -> Kind:
    if entry.path.endswith(".sway"):
        return "sway"
    if entry.kind == "choice" and entry.answers is not None:
        if set(entry.answers.words) == set(MRC_ORDER):
            return "power"
        return "choice" if len(entry.answers.words) <= 9 else "level"
    return entry.kind
