"""Works for an hour's worth of keys and clicks in the program's own window, or waits in a bare one; tells its memory.

Run in a process of its own: `python -m bench.hour KEYS` or `python -m bench.hour bare`.
"""

import gc
import json
import random
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent, QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from neuroform.__main__ import open_demo

SIXTHS = 6
SEED = 71
REST_S = 0.25
"""Longer than the hands rest before the next tests are thought about."""
PREVIEW_S = 1.2
_NAMED = {
    "Enter": Qt.Key.Key_Return,
    "Escape": Qt.Key.Key_Escape,
    "Backspace": Qt.Key.Key_Backspace,
    "Down": Qt.Key.Key_Down,
    "Up": Qt.Key.Key_Up,
    "Left": Qt.Key.Key_Left,
    "Right": Qt.Key.Key_Right,
    "Home": Qt.Key.Key_Home,
    "PageDown": Qt.Key.Key_PageDown,
    "PageUp": Qt.Key.Key_PageUp,
    "Tab": Qt.Key.Key_Tab,
    **{f"F{n}": Qt.Key(Qt.Key.Key_F1 + n - 1) for n in range(1, 10)},
}
_WRITES = [*"1111122233456", *"1234567890", "x", "s", "r", "l", "n", "g", "+", "/", "."]
_MOVES = ["Enter", "Enter", "Down", "Down", "Up", "Left", "Right", "Backspace", "Escape"]


def memory() -> float:
    """Return how much of this process stands in the machine’s memory, in MB."""
    told = Path("/proc/self/smaps_rollup").read_text(encoding="ascii")
    kilobytes = next(line.split()[1] for line in told.splitlines() if line.startswith("Rss:"))
    return int(kilobytes) / 1024


class Hour:
    """Someone who examines one person after another, tries everything the window has, and never rests long."""

    def __init__(self, application: QApplication, keys: int) -> None:
        self._application = application
        self._keys = keys
        self._pressed = 0
        self._chance = random.Random(SEED)
        self._taken: list[float] = []
        self._objects: list[int] = []

    def work(self) -> None:
        """Do it all, tell the memory after each sixth, and end the program."""
        window = self._window()
        self._wait(1.0)
        for sixth in range(1, SIXTHS + 1):
            while self._pressed < self._keys * sixth / SIXTHS:
                for _section in range(10):
                    self._enter()
                    self._press("PageDown")
                self._press(*["PageUp"] * 10)
                self._look_around()
                self._click(window)
                self._someone_else(window)
            self._wait(REST_S)
            self._let_go()
            self._taken.append(memory())
            self._objects.append(len(gc.get_objects()))
        told = {"keys": self._pressed, "megabytes": self._taken, "objects": self._objects}
        sys.stdout.write(json.dumps(told) + "\n")
        sys.stdout.flush()
        self._application.exit(0)

    def _let_go(self) -> None:
        """Delete what waits for the event loop to come round, which it does not while this works."""
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        gc.collect()

    def _window(self) -> Any:
        return next(each for each in self._application.topLevelWidgets() if hasattr(each, "examination"))

    def _enter(self) -> None:
        """Answer, correct, copy, explain and comment in a section, and take some of it back."""
        for _act in range(14):
            self._press(self._chance.choice(_WRITES if self._chance.random() < 0.7 else _MOVES))
        self._press("Escape", "Escape")
        for _change in range(3):
            self._chord(Qt.Key.Key_Z)
        self._chord(Qt.Key.Key_Z, Qt.KeyboardModifier.ShiftModifier)

    def _look_around(self) -> None:
        """Open and leave everything that opens."""
        self._press("F1", "Escape", "F2", "Right", "Enter", "Escape", "F3", "Right", "Escape")
        self._press("f", *"vibr", "Down", "Escape", "F5", "Escape", "F6", "Down", "Escape", "F7", "Escape")
        self._press("F4", "Tab", "Tab", "Escape", "F8", "Escape")
        self._chord(Qt.Key.Key_Plus)
        self._chord(Qt.Key.Key_Minus)
        self._wait(REST_S)
        self._press("F9")
        self._wait(PREVIEW_S)
        self._press("Tab", "Tab", "Escape")
        self._wait(REST_S)

    def _click(self, window: Any) -> None:
        for _click in range(12):
            at = QPoint(self._chance.randrange(window.width()), self._chance.randrange(120, window.height() - 230))
            under = window.childAt(at)
            if under is not None:
                QTest.mouseClick(
                    under, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, under.mapFrom(window, at)
                )
                self._pressed += 1
            self._application.processEvents()
        self._press("Escape", "Escape")

    def _someone_else(self, window: Any) -> None:
        """Examine another person in a window of their own, and close it."""
        from dataclasses import replace

        from neuroform.desktop.main_window import MainWindow
        from neuroform.desktop.theme import Theme

        kind = type(window)
        assert issubclass(kind, MainWindow)
        other: Any = kind(Theme(dark=self._chance.random() < 0.5))
        other.resize(window.size())
        other.show()
        opened = window.examination.opened
        other.fill(replace(opened, save=_not_kept, close=lambda: None, rules=None))
        other.activateWindow()
        other.examination.to_form()
        self._application.processEvents()
        for _section in range(3):
            self._enter()
            self._press("PageDown")
        other.close()
        other.deleteLater()
        window.activateWindow()
        window.to_form()
        self._application.processEvents()

    def _press(self, *keys: str) -> None:
        for key in keys:
            target = self._application.focusWidget() or self._window()
            if key in _NAMED:
                QTest.keyClick(target, _NAMED[key])
            else:
                QTest.keyClicks(target, key)
            self._pressed += 1
            self._application.processEvents()

    def _chord(self, key: Qt.Key, more: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        target = self._application.focusWidget() or self._window()
        QTest.keyClick(target, key, Qt.KeyboardModifier.ControlModifier | more)
        self._pressed += 1
        self._application.processEvents()

    def _wait(self, seconds: float) -> None:
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            self._application.processEvents()
            time.sleep(0.01)


def _not_kept(_document: object, _paths: tuple[str, ...]) -> Any:
    from neuroform.desktop.workplace import now

    return now()


def _when_open(application: QApplication, then: Callable[[], None]) -> None:
    """Call `then` once the examination stands in the window and the rules are loaded."""
    for each in application.topLevelWidgets():
        place = getattr(each, "examination", None)
        if place is not None and place.entering.conclusions.gaps:
            QTimer.singleShot(0, then)
            return
    QTimer.singleShot(20, lambda: _when_open(application, then))


def main(keys: int) -> int:
    """Open the demonstration and work in it."""
    original: Any = QApplication.exec

    def executed(*_: object) -> int:
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        _when_open(application, Hour(application, keys).work)
        return int(original())

    QApplication.exec = executed  # type: ignore[method-assign]
    return open_demo()


def bare() -> int:
    """Open a bare window, tell its memory once it stands, and end."""
    application = QApplication(sys.argv[:1])
    field = QLineEdit()
    field.show()

    def tell() -> None:
        sys.stdout.write(json.dumps({"keys": 0, "megabytes": [memory()], "objects": []}) + "\n")
        sys.stdout.flush()
        application.exit(0)

    QTimer.singleShot(500, tell)
    return application.exec()


if __name__ == "__main__":
    sys.exit(bare() if sys.argv[1:] == ["bare"] else main(int(sys.argv[1]) if len(sys.argv) > 1 else 3600))
