"""What the strip shows of each section: one segment an item that is to be examined, abnormal, or asked for."""

from collections.abc import Iterable
from weakref import WeakKeyDictionary

from neuroform.completeness.gaps import Gap, Severity
from neuroform.desktop.entering import Entering
from neuroform.desktop.form import place, section_label
from neuroform.desktop.moving import SIGN
from neuroform.desktop.strip import SectionView
from neuroform.exam.findings import NotExamined
from neuroform.exam.walk import entry, is_path, position, recorded_in
from neuroform.figures.item_line import Segment, State
from neuroform.language import N_

WRITTEN = frozenset({"conclusion"})
"""Sections that are written, not examined."""


def sections_view(entering: Entering) -> tuple[SectionView, ...]:
    """Return the sections in bedside order, Read and sign last."""
    at = entering.at.entry.path if entering.at is not None else None
    shown = []
    for section, (items, segments) in _every(entering).items():
        focused = items.index(at) if section == entering.section and at in items else None
        shown.append(SectionView(name=section, label=section_label(section), segments=segments, focused=focused))
    return (*shown, SectionView(name=SIGN, label=N_("Read and sign")))


def segments_of(entering: Entering) -> dict[str, tuple[Segment, ...]]:
    """Return the segments of every section."""
    return {section: segments for section, (_items, segments) in _every(entering).items()}


def forget(entering: Entering) -> None:
    """Make the segments anew the next time."""
    _kept.pop(entering, None)


def _every(entering: Entering) -> dict[str, tuple[tuple[str, ...], tuple[Segment, ...]]]:
    """Return the items and segments of every section; those of a section stay the same as long as it does."""
    exam, kept = entering.document.exam, _kept.setdefault(entering, {})
    gaps = entering.conclusions.gaps
    misfits = frozenset([path for gap in gaps if gap.does_not_fit for path in gap.items])
    asked = frozenset([path for gap in gaps if _asks(gap) for path in gap.items]) - entering.needed
    misfits_in, asked_in = _by_section(misfits), _by_section(asked)
    made = {}
    for section in entering.order:
        items = entering.items(section)
        # A finding is judged by its own section and by the age, which the person and the date give.
        basis = (getattr(exam, section), exam.patient, exam.encounter, entering.judge)
        beside = (items, misfits_in.get(section), asked_in.get(section))
        known = kept.get(section)
        if known is None or known[1] != beside or any(a is not b for a, b in zip(known[0], basis, strict=True)):
            beyond = asked_in.get(section, set()) | misfits_in.get(section, set())
            shown = _with_others(entering, section, items, beyond)
            segments = tuple(segment(entering, item, misfits, asked) for item in shown)
            known = kept[section] = (basis, beside, shown, segments)
        made[section] = known[2:]
    return made


def _asks(gap: Gap) -> bool:
    return gap.severity is not Severity.NOTICE and gap.reason is None


def _by_section(paths: Iterable[str]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for path in paths:
        found.setdefault(path.partition(".")[0], set()).add(path)
    return found


def _with_others(entering: Entering, section: str, items: tuple[str, ...], asked: set[str]) -> tuple[str, ...]:
    """Return the items that are to be examined, and in their places others: abnormal, or a gap asks for the other side.

    Where nothing is to be examined everything answered stands, and all that a gap asks for.
    """
    exam, mark = entering.document.exam, entering.judge.mark
    alone = not items and section not in WRITTEN
    others: set[str] = set()
    answered: set[str] = set()
    for path, _found in recorded_in(exam, section):
        item = entry(path).path
        answered.add(item)
        if place(path) and (alone or mark(exam, path) == "abnormal"):
            others.add(item)
    for path in asked:
        if is_path(path) and place(path):
            item = entry(path).path
            if alone or item in answered:
                others.add(item)
    known = set(items)
    return tuple(sorted(known | others, key=position)) if others - known else items


_Known = tuple[tuple[object, ...], tuple[object, ...], tuple[str, ...], tuple[Segment, ...]]
_kept: WeakKeyDictionary[Entering, dict[str, _Known]] = WeakKeyDictionary()


def segment(entering: Entering, item: str, misfits: frozenset[str], asked: frozenset[str] = frozenset()) -> Segment:
    """Return the segment of one item, both its sides together; a blank side leaves it blank.

    Of an item that is not to be examined the sides count that a gap asks for, `asked`, or that are answered.
    """
    every = entry(item).paths
    paths = [path for path in every if path in entering.needed or path in asked]
    if not any(path in entering.needed for path in every):
        paths = [path for path in every if path in asked or entering.document.get(path) is not None]
    found = [entering.document.get(path) for path in paths]
    exam = entering.document.exam
    state: State = "answered"
    entered = {getattr(each, "entered", None) for each in found}
    if any(each is None for each in found):
        state = "blank"
    elif all(isinstance(each, NotExamined) for each in found):
        state = "not_examined"
    elif "copied" in entered:
        state = "copied"
    elif "together" in entered:
        state = "together"
    judged = [
        each is not None and entering.judge.mark(exam, path) == "abnormal"
        for path, each in zip(paths, found, strict=True)
    ]
    return Segment(state=state, abnormal=any(judged), does_not_fit=bool(misfits.intersection(paths)))
