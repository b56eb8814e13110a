"""The examination in the window: what it holds now, what it held before, and who is told of a change."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from neuroform.exam import walk
from neuroform.exam.examination import Examination

Told = Callable[[tuple[str, ...]], None]
"""Called with the whole paths that changed."""

DEEPEST = 2000
"""Steps that can be undone."""


@dataclass(frozen=True, kw_only=True)
class Step:
    """One change that can be undone."""

    before: Examination
    after: Examination
    paths: tuple[str, ...]
    at: str | None
    """The whole path that had the focus."""
    typing: bool
    """Further typing into the same place belongs to this step."""


class Document:
    """Holds one examination; every change makes a new one and tells the listeners which paths it touched."""

    def __init__(self, exam: Examination) -> None:
        self.exam = exam
        self._done: list[Step] = []
        self._undone: list[Step] = []
        self._listeners: list[Told] = []
        self.sealed = ""
        """Why nothing may be changed; empty while it may."""
        self._but = ""
        self._refused: list[Callable[[], None]] = []

    def seal(self, why: str, but: str = "") -> None:
        """Refuse every change from now on, undo included, but of what stands below the path `but`.

        With an empty `why` changes are allowed again.
        """
        self.sealed, self._but = why, but
        self.stop_typing()

    @property
    def seals(self) -> tuple[str, str]:
        """Why nothing may be changed, and below which path it still may: what `seal` was called with last."""
        return self.sealed, self._but

    def when_refused(self, told: Callable[[], None]) -> None:
        """Call `told` whenever a change was refused because the examination is sealed."""
        self._refused.append(told)

    def _refuses(self, paths: tuple[str, ...]) -> bool:
        below = f"{self._but}."
        if not self.sealed or (self._but and all(path.startswith(below) for path in paths)):
            return False
        for told in tuple(self._refused):
            told()
        return True

    def listen(self, told: Told) -> None:
        """Call `told` after every change."""
        self._listeners.append(told)

    def forget(self, told: Told) -> None:
        """Call `told` no more."""
        if told in self._listeners:
            self._listeners.remove(told)

    def get(self, path: str) -> Any:
        """Return what stands under a whole path."""
        return walk.get(self.exam, path)

    def put(self, path: str, found: Any, *, at: str | None = None, typing: bool = False) -> None:
        """Record a finding or plain value, None for blank; raises pydantic's ValidationError when it is not allowed."""
        if walk.get(self.exam, path) != found:
            self.replace(walk.put(self.exam, path, found), (path,), at=at or path, typing=typing)

    def put_all(self, found: Mapping[str, Any], *, at: str | None = None) -> None:
        """Record several findings as one step."""
        exam = self.exam
        for path, each in found.items():
            exam = walk.put(exam, path, each)
        if exam != self.exam:
            self.replace(exam, tuple(found), at=at)

    def replace(self, exam: Examination, paths: Iterable[str], *, at: str | None = None, typing: bool = False) -> None:
        """Take a changed examination as one step; `paths` names what is different in it."""
        touched = tuple(paths)
        if self._refuses(touched):
            return
        before = self.exam
        last = self._done[-1] if self._done else None
        if typing and last is not None and last.typing and last.paths == touched:
            self._done.pop()
            before = last.before
        self._done.append(Step(before=before, after=exam, paths=touched, at=at, typing=typing))
        del self._done[:-DEEPEST]
        self._undone.clear()
        self._set(exam, touched)

    def stop_typing(self) -> None:
        """Let the next typing be a step of its own."""
        if self._done and self._done[-1].typing:
            last = self._done.pop()
            self._done.append(Step(before=last.before, after=last.after, paths=last.paths, at=last.at, typing=False))

    def undo(self) -> Step | None:
        """Take back the last change; return it, or None when there is none."""
        if not self._done or self._refuses(self._done[-1].paths):
            return None
        step = self._done.pop()
        self._undone.append(step)
        self._set(step.before, step.paths)
        return step

    def redo(self) -> Step | None:
        """Make again what was taken back; return it, or None when there is nothing."""
        if not self._undone or self._refuses(self._undone[-1].paths):
            return None
        step = self._undone.pop()
        self._done.append(step)
        self._set(step.after, step.paths)
        return step

    def _set(self, exam: Examination, paths: tuple[str, ...]) -> None:
        self.exam = exam
        for told in tuple(self._listeners):
            told(paths)
