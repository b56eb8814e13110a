"""Timing where the hand is: Space starts and stops, a trial ends by itself and asks how."""

from abc import abstractmethod
from collections.abc import Callable

from neuroform.desktop import answering
from neuroform.desktop.answering import NotReadableError
from neuroform.desktop.form import place
from neuroform.desktop.recording import Recording
from neuroform.desktop.timing import Running, timer_for
from neuroform.language import N_, _


class Timed(Recording):
    """Adds the timer to recording."""

    running: Running | None = None
    _clock: Callable[[], float]

    @abstractmethod
    def go(self, path: str) -> bool:
        """Put the focus on the place that answers a path."""

    def space(self) -> bool:
        """Start the timer of the place in focus; False where nothing is timed."""
        cell = self.at
        running = timer_for(cell, self.document.exam, self._clock()) if cell else None
        if cell is None or running is None or self.refuses(cell):
            return False
        self.leave()
        self.running = running
        self.tell("timer")
        return True

    def tick(self) -> None:
        """Look at the clock: a trial ends by itself at its length."""
        if self.running is not None and self.running.over(self._clock()):
            self.stop()

    def seconds(self) -> float:
        """Return how long the timer has run."""
        return self.running.seconds(self._clock()) if self.running else 0.0

    def stop(self) -> None:
        """Stop the timer, record the seconds and ask how the trial ended."""
        running, self.running = self.running, None
        if running is None:
            return
        seconds = running.seconds(self._clock())
        self.tell("timer")
        found = place(running.path)
        assert found is not None
        cell = found[1].cells[found[2]]
        try:
            self.document.put(running.path, self._finding(cell, answering.read(cell, answering.number(seconds))))
        except NotReadableError as refused:
            self.say(str(refused))
            return
        if running.trial is None:
            self.go(running.path)
            self.move_on(cell)
            return
        self.go(f"{running.trial}.ended")
        self.say(_(N_("{seconds}. How did it end?")).format(seconds=answering.with_unit(seconds, "s")))

    def cancel_timer(self) -> None:
        """Stop the timer and record nothing."""
        self.running = None
        self.tell("timer")
        self.say(_(N_("The timer was stopped; nothing was recorded.")))
