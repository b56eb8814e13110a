"""The timer of timed stance, walking and turning: no Qt, no clock of its own."""

from dataclasses import dataclass

from neuroform.desktop.answering import trial_seconds
from neuroform.desktop.form import Cell
from neuroform.exam.examination import Examination


@dataclass(frozen=True, kw_only=True)
class Running:
    """A timer that runs; times are seconds of one steady clock."""

    path: str
    """Where the seconds go."""
    trial: str | None
    """The trial that asks how it ended, when it is one."""
    started: float
    ends_after: float | None
    """The length of the trial, after which it stops by itself."""

    def seconds(self, now: float) -> float:
        """Return how long it has run, at most the length of the trial, to a tenth of a second."""
        passed = max(0.0, now - self.started)
        return round(passed if self.ends_after is None else min(passed, self.ends_after), 1)

    def over(self, now: float) -> bool:
        """Tell whether the length of the trial is reached."""
        return self.ends_after is not None and now - self.started >= self.ends_after


def timer_for(cell: Cell, exam: Examination, now: float) -> Running | None:
    """Start the timer that belongs to a cell, None where nothing is timed there."""
    if cell.trial is not None:
        return Running(path=f"{cell.trial}.seconds", trial=cell.trial, started=now, ends_after=trial_seconds(exam))
    if cell.entry.plain or cell.entry.item.unit != "s":
        return None
    if cell.path.startswith("standing."):
        return Running(path=cell.path, trial=None, started=now, ends_after=trial_seconds(exam))
    return Running(path=cell.path, trial=None, started=now, ends_after=cell.entry.high)
