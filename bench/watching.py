"""Sits in a window's process: reports when it was first painted and when a first key changed something."""

import json
import sys
import time
from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget

ANSWERS = (Qt.Key.Key_1, Qt.Key.Key_2)
TO_THE_TOP = (Qt.Key.Key_Escape, *[Qt.Key.Key_PageUp] * 9, Qt.Key.Key_PageDown, Qt.Key.Key_Home)
"""To the first row of the section after the history, from wherever the hand is."""
UNFOLD = Qt.Key.Key_M
"""Shows every item of every section."""
GO_ON = (Qt.Key.Key_Return, Qt.Key.Key_Backspace, Qt.Key.Key_Backspace, Qt.Key.Key_Down)
"""Past a row that wants another kind of answer."""
PATIENCE_S = 30
_NAMED = 0x01000000
"""From here on Qt counts keys that write nothing."""


class Watch(QObject):
    """Types from the first paint on until something changes, then prints both moments and ends the program.

    Moments are those of the system's steady clock, which parent and child share.
    """

    def __init__(
        self, application: QApplication, *, keys: int = 0, painted: Callable[[], object] = lambda: None
    ) -> None:
        """Watch an application; `painted` is called on and on from its first paint until something changes."""
        super().__init__()
        self._application = application
        self._painted: float | None = None
        self._changed: float | None = None
        self._changes = 0
        self._at = ""
        self._keys = keys
        self._told = painted
        self._began = time.monotonic()
        application.installEventFilter(self)
        self._typing = QTimer(self)
        self._typing.setInterval(0)
        self._typing.timeout.connect(self._type)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        """Note the first paint of a shown window."""
        painted = event.type() == QEvent.Type.Paint and isinstance(watched, QWidget) and watched.window().isVisible()
        if painted and self._painted is None:
            self._painted = time.monotonic()
            QTimer.singleShot(0, self._typing.start)
        return False

    def changed(self, at: str = "") -> None:
        """Note that a key changed something, and where."""
        self._changes += 1
        self._at = at
        if self._changed is None:
            self._changed = time.monotonic()

    def _type(self) -> None:
        self._told()
        if self._changed is not None or time.monotonic() - self._began > PATIENCE_S:
            self._typing.stop()
            self._report()
            return
        target = self._application.focusWidget() or self._application.activeWindow()
        if target is not None:
            _press(target, ANSWERS[0])

    def _report(self) -> None:
        cpu = self._key_times() if self._keys and self._changed is not None else []
        told = {"painted": self._painted, "changed": self._changed, "key_cpu_ms": cpu}
        sys.stdout.write(json.dumps(told) + "\n")
        sys.stdout.flush()
        QTimer.singleShot(0, lambda: self._application.exit(0))

    def _key_times(self) -> list[float]:
        """Return the processor time that this thread spends on each answer and on what it repaints.

        An answer takes the hand to the next place by itself; where nothing was taken, or the same again, it is led on.
        """
        times: list[float] = []
        self._hit(*TO_THE_TOP, UNFOLD)
        for number in range(self._keys * 6):
            before, at = self._changes, self._at
            began = time.thread_time()
            self._hit(ANSWERS[number % len(ANSWERS)])
            spent = (time.thread_time() - began) * 1000
            taken = self._changes > before
            if taken:
                times.append(spent)
            if not taken or self._at == at:
                self._hit(*GO_ON)
            if self._at.startswith("conclusion"):
                self._hit(*TO_THE_TOP)
                self._at = ""
            if len(times) == self._keys:
                break
        return times

    def _hit(self, *keys: Qt.Key) -> None:
        for key in keys:
            target = self._application.focusWidget() or self._application.activeWindow()
            if target is not None:
                _press(target, key)
            self._application.processEvents()


def _press(target: QWidget, key: Qt.Key) -> None:
    """Press and let go of a digit's key, as a keyboard does."""
    for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
        event = QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, chr(key).lower() if key < _NAMED else "")
        QApplication.sendEvent(target, event)
