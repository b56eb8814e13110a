"""What the strip shows of each section: one segment an item that is to be examined."""

from weakref import WeakKeyDictionary

from neuroform.desktop.entering import Entering
from neuroform.desktop.form import section_label
from neuroform.desktop.moving import SIGN
from neuroform.desktop.strip import SectionView
from neuroform.exam.findings import NotExamined
from neuroform.exam.walk import entry
from neuroform.figures.item_line import Segment, State
from neuroform.language import N_


def sections_view(entering: Entering) -> tuple[SectionView, ...]:
    """Return the sections in bedside order, Read and sign last."""
    at = entering.at.entry.path if entering.at is not None else None
    shown = []
    every = segments_of(entering)
    for section in entering.order:
        items = entering.items(section)
        segments = every[section]
        focused = items.index(at) if section == entering.section and at in items else None
        shown.append(SectionView(name=section, label=section_label(section), segments=segments, focused=focused))
    return (*shown, SectionView(name=SIGN, label=N_("Read and sign")))


def segments_of(entering: Entering) -> dict[str, tuple[Segment, ...]]:
    """Return the segments of every section; those of a section stay the same as long as it does."""
    exam, kept = entering.document.exam, _kept.setdefault(entering, {})
    misfits = frozenset(path for gap in entering.conclusions.gaps if gap.does_not_fit for path in gap.items)
    made = {}
    for section in entering.order:
        items = entering.items(section)
        # A finding is judged by its own section and by the age, which the person and the date give.
        basis = (getattr(exam, section), exam.patient, exam.encounter, entering.judge)
        beside = (items, frozenset(path for path in misfits if path.startswith(f"{section}.")))
        known = kept.get(section)
        if known is None or known[1] != beside or any(a is not b for a, b in zip(known[0], basis, strict=True)):
            segments = tuple(segment(entering, item, misfits) for item in items)
            known = kept[section] = (basis, beside, segments)
        made[section] = known[2]
    return made


_Known = tuple[tuple[object, ...], tuple[object, ...], tuple[Segment, ...]]
_kept: WeakKeyDictionary[Entering, dict[str, _Known]] = WeakKeyDictionary()


def segment(entering: Entering, item: str, misfits: frozenset[str]) -> Segment:
    """Return the segment of one item, both its sides together; a blank side leaves it blank."""
    paths = [path for path in entry(item).paths if path in entering.needed]
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
