"""Someone at the keyboard of the demonstration, in a process of its own: looks at the window, acts by keys alone."""

import json
import os
import signal
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from time import monotonic
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from neuroform.__main__ import open_demo
from neuroform.workflow import demo

NAMED = {
    "Enter": Qt.Key.Key_Return,
    "Escape": Qt.Key.Key_Escape,
    "PageDown": Qt.Key.Key_PageDown,
    "Tab": Qt.Key.Key_Tab,
    "F9": Qt.Key.Key_F9,
}
# What is found where the examination was left: as in an acute loss of the right vestibular nerve.
FOUND = {
    "head_and_eyes.gaze_evoked_nystagmus": "1",
    "head_and_eyes.skew": "1",
    "head_and_eyes.new_hearing_loss.right": "1",
    "head_and_eyes.new_hearing_loss.left": "1",
    "head_and_eyes.head_impulse.left": "1",
    "coordination.finger_nose.left": "1",
    "reflexes.ankle.right": "1",
    "reflexes.ankle.left": "1",
    "sensation.joint_position.great_toe.left": "10/10",
    "motor.power.ankle_dorsiflexion.left": "5",
}
PATIENCE_S = 60
Step = Callable[[], bool] | None
"""What is waited for before the next key; None for the window's own next turn."""


class Person:
    """Presses keys and looks; holds what was seen."""

    def __init__(self, folder: Path, story: str) -> None:
        self.papers = folder / demo.FOLDER / "papers"
        self.seen: dict[str, Any] = {}
        self._steps = {"sign": self._signs, "killed": self._is_killed, "look": self._looks}[story]()
        self._awaited: Step = None
        self._since = monotonic()
        self._timer = QTimer()
        self._timer.setInterval(5)
        self._timer.timeout.connect(self._turn)
        self._timer.start()

    def _turn(self) -> None:
        if self._awaited is not None and not self._awaited():
            if monotonic() - self._since > PATIENCE_S:
                self._end("waited in vain")
            return
        try:
            self._awaited = next(self._steps)
            self._since = monotonic()
        except StopIteration:
            self._end("")
        except Exception as error:
            self._end(f"{type(error).__name__}: {error}")

    def _end(self, problem: str) -> None:
        self._timer.stop()
        self.seen["problem"] = problem
        QApplication.closeAllWindows()

    def _sits_down(self) -> Iterator[Step]:
        yield lambda: self._examination() is not None
        # No window manager gives the window the keyboard here.
        self._examination().window.activateWindow()
        yield lambda: QApplication.focusWidget() is not None

    def _is_killed(self) -> Iterator[Step]:
        """Answer everything that is lacking, and be stopped in the middle of it all."""
        yield from self._sits_down()
        self.press("PageDown")
        yield None
        yield from self._answer_gaps()
        self._look("after")
        sys.stdout.write(json.dumps(self.seen) + "\n")
        sys.stdout.flush()
        os.kill(os.getpid(), signal.SIGKILL)

    def _looks(self) -> Iterator[Step]:
        """Open the window and look."""
        yield from self._sits_down()
        self._look("after")
        self.seen["recovered"] = self._examination().recovered.words

    def _signs(self) -> Iterator[Step]:
        """Answer everything that is lacking, then read and sign."""
        yield from self._sits_down()
        self._look("before")
        self.press("PageDown")
        yield None
        yield from self._answer_gaps()
        self._look("after")
        self.press("F9")
        yield lambda: not self._examination().in_rows
        self.press("F9")
        yield None
        self.seen["reasons_first"] = not any(self.papers.glob("*.pdf"))
        page = self._examination().page
        self.press(next(each.key for each in page.gaps.current.actions if each.deed == "reason_for_all"))
        self.write("asleep when asked")
        self.press("Enter")
        yield None
        self.press("F9")
        yield None
        self.seen["passphrase_has_focus"] = QApplication.focusWidget() is not None
        self.write(demo.PASSPHRASE)
        self.press("Enter")
        yield lambda: any(self.papers.glob("*.pdf"))
        self.seen["paper"] = str(next(self.papers.glob("*.pdf")))

    def _answer_gaps(self) -> Iterator[Step]:
        """Go from gap to gap with one key and answer each."""
        answered = []
        for _turn in range(3 * len(FOUND)):
            self.press("g")
            yield None
            at = self._at()
            if at not in FOUND or at in answered:
                break
            answered.append(at)
            self.write(FOUND[at])
            if len(FOUND[at]) > 1:
                self.press("Enter")
            yield None
        self.seen["answered"] = answered

    def press(self, key: str) -> None:
        """Press one key where the hand is."""
        target = QApplication.focusWidget() or QApplication.activeWindow()
        if target is None:
            raise RuntimeError(f"nothing has the keyboard for {key}")
        named = NAMED.get(key)
        if named is None:
            QTest.keyClicks(target, key)
        else:
            QTest.keyClick(target, named)

    def write(self, text: str) -> None:
        """Type characters one after the other."""
        for letter in text:
            self.press(letter)

    def _examination(self) -> Any:
        from neuroform.desktop.main_window import MainWindow

        windows = (each for each in QApplication.topLevelWidgets() if isinstance(each, MainWindow))
        return next((window.examination for window in windows), None)

    def _at(self) -> str:
        at = self._examination().entering.at
        return "" if at is None else str(at.path)

    def _look(self, when: str) -> None:
        concluded = self._examination().entering.conclusions
        self.seen[when] = {
            "needed": sum(gap.counts for gap in concluded.gaps),
            "answered": [concluded.progress.answered, concluded.progress.total],
            "urgent": [found.code for found in concluded.reading.urgent],
            "peripheral": concluded.reading.pattern("acute_vestibular_peripheral", "right").verdict,
        }


def main(folder: Path, story: str) -> int:
    """Open the demonstration, sit down at it, and tell what was seen."""
    original: Any = QApplication.exec
    people: list[Person] = []

    def executed(*_: object) -> int:
        people.append(Person(folder, story))
        return int(original())

    QApplication.exec = executed  # type: ignore[method-assign]
    status = open_demo()
    sys.stdout.write(json.dumps(people[0].seen) + "\n")
    return status


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), sys.argv[2]))
