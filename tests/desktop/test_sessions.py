"""Sessions of random keys against a small model of the key table; and a program killed in the middle."""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from neuroform.desktop import keys
from neuroform.desktop.document import Document
from neuroform.desktop.entering import Entering
from neuroform.desktop.workplace import judge
from neuroform.exam import files
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import recorded
from neuroform.records.drafts import Drafts
from neuroform.settings import Settings

# The key table, written down again by hand: digits to codes, for rows of two sides with a closed list.
TABLE = {
    "reflexes.knee": {
        "1": "normal",
        "2": "brisk",
        "3": "clonus",
        "4": "reduced",
        "5": "with_reinforcement",
        "6": "absent",
    },
    "reflexes.ankle": {
        "1": "normal",
        "2": "brisk",
        "3": "clonus",
        "4": "reduced",
        "5": "with_reinforcement",
        "6": "absent",
    },
    "reflexes.plantar": {"1": "flexor", "2": "extensor", "3": "equivocal", "4": "mute"},
}
REASONS: dict[str, Any] = {
    "1": "declined",
    "2": "unable",
    "3": "unsafe",
    "4": "absent",
    "5": "no_equipment",
    "6": "deferred",
}
ROWS = list(TABLE)
SIDES = ("right", "left")


class Model:
    """The three rows of the reflexes, and one place of the hand."""

    def __init__(self) -> None:
        self.found: dict[str, Any] = {}
        self.row, self.side, self.reason = 0, 0, False

    def press(self, key: str) -> None:
        if self.row == len(ROWS):
            if key == "Up":
                self.row = len(ROWS) - 1
            return
        path = f"{ROWS[self.row]}.{SIDES[self.side]}"
        if self.reason:
            self.reason = False
            if key in REASONS:
                self.found[path] = NotExamined(not_examined=REASONS[key])
                self._on()
                return
            if key in {"x", "Escape", "Backspace"}:
                return
        if key in TABLE[ROWS[self.row]]:
            self.found[path] = Examined(value=TABLE[ROWS[self.row]][key])
            self._on()
        elif key == "x":
            self.reason = True
        elif key == "Backspace":
            self.found.pop(path, None)
        elif key == "s":
            self._copy()
        elif key in {"r", "l"}:
            self.side = "rl".index(key)
        elif key in {"Up", "Down"}:
            self.row = max(0, min(len(ROWS), self.row + (1 if key == "Down" else -1)))

    def _copy(self) -> None:
        right = self.found.get(f"{ROWS[self.row]}.right")
        if right is None or ROWS[self.row] == "reflexes.plantar":
            return
        copied = (
            Examined(value=right.value, entered="copied")
            if isinstance(right, Examined)
            else NotExamined(not_examined=right.not_examined, entered="copied")
        )
        self.found[f"{ROWS[self.row]}.left"] = copied
        self.side = 1
        self._on()

    def _on(self) -> None:
        if self.side == 0:
            self.side = 1
        else:
            self.row, self.side = self.row + 1, 0


KEYS = ["1", "2", "3", "4", "5", "6", "7", "x", "s", "r", "l", "Up", "Down", "Backspace", "Escape"]


@pytest.mark.parametrize("seed", range(60))
def test_random_keys_do_what_the_key_table_says(kit: ModuleType, seed: int) -> None:
    chance = random.Random(seed)
    entering = Entering(Document(kit.blank_exam()), judge(Settings()))
    entering.go("reflexes.knee.right")
    model = Model()
    for _press in range(40):
        key = chance.choice(KEYS)
        if model.row < len(ROWS) and key in TABLE[ROWS[model.row]] and model.row == len(ROWS) - 1 and model.side:
            key = "Up"
        keys.press(entering, key)
        model.press(key)
        now = {path: found for path, found in recorded(entering.document.exam) if path.startswith("reflexes.")}
        assert now == model.found, (seed, key)


ANY_KEYS = [
    *"0123456789", *"abcdefghijklmnopqrstuvwxyz", *"+-=/.,", "Enter", "Backspace", "Escape", "Space",
    "Left", "Right", "Up", "Down", "Home", "End", "PageUp", "PageDown", "Delete",
]  # fmt: skip


@pytest.mark.parametrize("seed", range(12))
def test_no_key_breaks_the_window_or_loses_an_answer(opened: Callable[..., Any], kit: ModuleType, seed: int) -> None:
    chance = random.Random(seed)
    window = opened(kit.blank_exam(chance.choice(["full", "ward", "acute_vertigo", "weak_legs"])))
    document = window.examination.document
    kept: list[tuple[str, ...]] = []
    document.listen(kept.append)
    before = document.exam
    for _press in range(80):
        kit.keys(window, [chance.choice(ANY_KEYS)])
        if document.exam is not before:
            assert kept, "a change nobody was told of"
            before = document.exam
    assert files.read(files.write(document.exam)) == document.exam
    entering = window.examination.entering
    while document._done:
        entering.undo()
    assert document.exam == kit.blank_exam(document.exam.encounter.protocol)


KILLED = """
import os, sys, time
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from PySide6.QtCore import QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from neuroform.desktop import app, main_window

fill = main_window.MainWindow.fill

def filled(window, opened):
    fill(window, opened)
    place = window.examination
    place.entering.open("reflexes")
    def typed():
        for key in "26x1":
            QTest.keyClicks(QApplication.focusWidget(), key)
        place.entering.go("context.falls_past_year")
        QTest.keyClicks(QApplication.focusWidget(), "12")
        print("typed", flush=True)
        time.sleep(60)
    QTimer.singleShot(0, typed)

main_window.MainWindow.fill = filled
app.open_demo()
"""


def test_h28_kill_in_the_middle_of_typing_loses_nothing(tmp_path: Path) -> None:
    environment = {**os.environ, "NEUROFORM_HOME": str(tmp_path), "QT_QPA_PLATFORM": "offscreen"}
    running = subprocess.Popen([sys.executable, "-c", KILLED], env=environment, stdout=subprocess.PIPE, text=True)
    assert running.stdout is not None
    try:
        assert running.stdout.readline().strip() == "typed"
    finally:
        running.send_signal(signal.SIGKILL)
        running.wait(20)
        running.stdout.close()
    journal = next(tmp_path.rglob("drafts.sqlite"))
    drafts = Drafts(journal)
    back = drafts.replay(drafts.latest()[0].exam_id)
    drafts.close()
    assert back.lost == 0
    assert back.exam.context.falls_past_year == Examined(value=12)
    assert time.time() - back.at.timestamp() < 120
