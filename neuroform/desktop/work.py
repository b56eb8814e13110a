"""One pool of workers for everything slow: a function runs there, its result comes back to the window's thread."""

import logging
import threading
from collections.abc import Callable
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QObject, QRunnable, Qt, QThreadPool, Signal

R = TypeVar("R")

log = logging.getLogger(__name__)


class Cancelled(Exception):  # noqa: N818  # an outcome, not a failure
    """The work was called off."""


class Cancel:
    """Asks work to stop; the work looks at it where it can stop cleanly."""

    def __init__(self) -> None:
        self._asked = threading.Event()

    def ask(self) -> None:
        """Ask the work to stop."""
        self._asked.set()

    @property
    def asked(self) -> bool:
        """Whether it was asked to stop."""
        return self._asked.is_set()

    def check(self) -> None:
        """Raise Cancelled where it was asked to stop."""
        if self.asked:
            raise Cancelled


class _Outcome(QObject):
    """Carries what happened across threads. Signals: `done(result)`, `failed(error)`, `progressed(what)`."""

    done = Signal(object)
    failed = Signal(object)
    progressed = Signal(object)


class _Job(QRunnable, Generic[R]):
    def __init__(self, function: Callable[[], R], outcome: _Outcome, cancel: Cancel) -> None:
        super().__init__()
        self._function = function
        self._outcome = outcome
        self._cancel = cancel
        self.setAutoDelete(True)

    def run(self) -> None:
        """Run the function and send what came of it."""
        try:
            self._cancel.check()
            result = self._function()
        except Cancelled:
            self._send(self._outcome.failed, Cancelled())
        except Exception as error:  # every failure has to reach the window, whatever it is
            self._send(self._outcome.failed, error)
        else:
            self._send(self._outcome.done, result)

    def _send(self, signal: Any, value: object) -> None:
        try:
            signal.emit(value)
        except RuntimeError:
            log.debug("the window closed before a worker was done")


class Work:
    """The pool; results arrive in the thread that asked, and none after `close`."""

    def __init__(self, pool: QThreadPool | None = None) -> None:
        self._pool = pool or QThreadPool.globalInstance()
        self._running: set[_Outcome] = set()
        self._cancels: set[Cancel] = set()

    def run(
        self,
        function: Callable[[], R],
        on_done: Callable[[R], None],
        *,
        on_failed: Callable[[Exception], None] | None = None,
        on_progress: Callable[[Any], None] | None = None,
        cancel: Cancel | None = None,
    ) -> Callable[[Any], None]:
        """Run `function` in a worker; return what the function may call to report progress from there.

        Cancelled work ends in `on_failed(Cancelled())`. Without `on_failed` a failure is logged.
        """
        outcome, stop = _Outcome(), cancel or Cancel()
        self._running.add(outcome)
        self._cancels.add(stop)

        def over() -> None:
            self._running.discard(outcome)
            self._cancels.discard(stop)

        def done(result: Any) -> None:
            if outcome in self._running:
                over()
                on_done(result)

        def failed(error: Any) -> None:
            if outcome not in self._running:
                return
            over()
            if on_failed is not None:
                on_failed(error)
            elif not isinstance(error, Cancelled):
                log.error("work failed: %s", type(error).__name__)

        outcome.done.connect(done, Qt.ConnectionType.QueuedConnection)
        outcome.failed.connect(failed, Qt.ConnectionType.QueuedConnection)
        if on_progress is not None:
            outcome.progressed.connect(on_progress, Qt.ConnectionType.QueuedConnection)
        self._pool.start(_Job(function, outcome, stop))
        report: Callable[[Any], None] = outcome.progressed.emit
        return report

    def close(self) -> None:
        """Call everything off and wait until the workers are out."""
        for cancel in tuple(self._cancels):
            cancel.ask()
        self._running.clear()
        self._pool.waitForDone(5000)
