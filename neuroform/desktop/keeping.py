"""Has one draft of the journal for one window: takes it, keeps every change in it, and lets it go."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from neuroform.desktop.document import Document
from neuroform.desktop.opening import Save
from neuroform.desktop.rooms_below import now
from neuroform.exam.walk import is_path
from neuroform.records.drafts import Draft, Drafts, Step
from neuroform.records.holding import Hold, hold

if TYPE_CHECKING:
    from neuroform.desktop.work import Cancel
    from neuroform.workflow.withdrawn import Withdrawn


@dataclass(frozen=True, kw_only=True)
class Taken:
    """What there is to go on with."""

    draft: Draft | None = None
    hold: Hold | None = None
    elsewhere: bool = False
    """Whether another window has a later one open."""


def take(drafts: Drafts, clinic: str) -> Taken:
    """Hold the last draft of a clinic that no other window has open."""
    elsewhere = False
    for draft in drafts.latest():
        if draft.clinic != clinic:
            continue
        held = hold(drafts.path, draft.exam_id)
        if held is None:
            elsewhere = True
        elif any(each.exam_id == draft.exam_id for each in drafts.latest()):
            return Taken(draft=draft, hold=held, elsewhere=elsewhere)
        else:  # finished in another window, just now
            held.let_go(finished=True)
    return Taken(elsewhere=elsewhere)


def held_anew(drafts: Drafts, exam_id: str) -> Hold:
    """Hold a draft that is about to begin."""
    held = hold(drafts.path, exam_id)
    assert held is not None  # an id of its own
    return held


class Kept:
    """One draft in the journal, as long as its window has it."""

    def __init__(self, drafts: Drafts, clinic: str, exam_id: str, held: Hold) -> None:
        self._drafts, self._clinic, self._exam_id, self._hold = drafts, clinic, exam_id, held
        self.save = saver(drafts, clinic, exam_id)
        self._finished = False
        self._told: tuple[int, tuple[Withdrawn, ...]] | None = None

    def finish(self) -> None:
        """Say that nothing is left to recover."""
        self._drafts.finish(self._clinic, self._exam_id, now())
        self._finished = True

    def close(self) -> None:
        """Let go of the draft and close the journal."""
        self._drafts.close()
        self._hold.let_go(finished=self._finished)

    def withdrawn(self, cancel: "Cancel") -> "tuple[Withdrawn, ...]":
        """Return the urgent findings that the journal tells were withdrawn; read again only after a change."""
        from neuroform.workflow.withdrawn import withdrawn

        drafts = Drafts(self._drafts.path)
        try:
            changes = next((each.changes for each in drafts.latest() if each.exam_id == self._exam_id), 0)
            if self._told is None or self._told[0] != changes:
                self._told = changes, withdrawn(_until(cancel, drafts.steps(self._exam_id)))
            return self._told[1]
        finally:
            drafts.close()


def _until(cancel: "Cancel", steps: Iterable[Step]) -> Iterator[Step]:
    """Yield the steps until the reading is called off."""
    for step in steps:
        cancel.check()
        yield step


def saver(drafts: Drafts, clinic: str, exam_id: str) -> Save:
    """Return what keeps every change in the journal at once."""

    def save(document: Document, paths: tuple[str, ...]) -> datetime:
        at = now()
        if all(is_path(path) for path in paths):
            for path in paths:
                drafts.append(clinic, exam_id, path, document.get(path), at)
        else:
            drafts.begin(clinic, exam_id, document.exam, at)
        return at

    return save
