"""Sessions of random keys and clicks against a model of the key table; and a program killed in the middle."""

import importlib.util
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from neuroform.desktop.document import Document
from neuroform.desktop.laid import Words
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.exam.findings import REASONS, Examined
from neuroform.exam.walk import entry, put, recorded
from neuroform.records.drafts import Drafts

IN_CI = os.environ.get("CI", "").lower() in {"1", "true", "yes"}
SESSIONS = 200 if IN_CI else 40
ACTS = 36
OF_THE_MODEL = ("walking.", "motor.", "reflexes.", "sensation.", "coordination.")
PLAIN_KEYS = [*"0123456789", *"+-.xsrltz", "Enter", "Left", "Right", "Up", "Down", "Backspace", "Delete", "Escape"]
TEN_SECONDS = 10.5


@pytest.fixture(scope="module")
def model() -> ModuleType:
    """Give the model of the key table."""
    name = "key_model"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name("key_model.py"))
        assert spec is not None
        assert spec.loader is not None
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


class Session:
    """One person at the keys and the mouse of a window, and the model beside it."""

    def __init__(self, window: Any, kit: ModuleType, model: ModuleType, chance: random.Random, complaint: Any) -> None:
        self.window, self.kit, self.model, self.chance = window, kit, model, chance
        self.complaint = complaint
        self.hand = model.Hand()
        self.saved: list[Examination] = []
        self.seconds = 0.0
        self.acts: list[str] = []
        self.place = window.examination
        self.entering = self.place.entering
        self.entering._clock = lambda: self.seconds
        self.place.opened = replace(self.place.opened, save=self._save)
        self.before = self.place.document.exam
        self.keys("m", "f", "babinski", "Enter")
        self.hand.go("reflexes.plantar.right")

    def _save(self, document: Document, _paths: tuple[str, ...]) -> datetime:
        self.saved.append(document.exam)
        moment: datetime = self.kit.AT
        return moment

    def keys(self, *pressed: str) -> None:
        """Press keys in the window."""
        self.acts += pressed
        self.kit.keys(self.window, pressed)

    @property
    def tail(self) -> str:
        """Return the last acts, for the one who reads a failure."""
        return "  ".join(self.acts[-24:])

    def act(self) -> None:
        """Do one thing, in the window and in the model, and compare them."""
        ways: list[Callable[[], None]] = [self.key, self.answer, self.click, self.explain]
        seldom = [self.jump, self.undo, self.redo, self.section, self.turn_page, self.rest, self.comment, self.time]
        self.chance.choices([*ways, *seldom], weights=[20, 22, 14, 5, 4, 5, 3, 2, 2, 3, 3, 3])[0]()
        self.compare()

    def compare(self) -> None:
        """What is recorded, what was saved and where the hand is are as the model says."""
        exam = self.place.document.exam
        found = {path: each for path, each in recorded(exam) if path.startswith(OF_THE_MODEL)}
        assert found == self.hand.found, self.tail
        assert self.entering.path == self.hand.path, self.tail
        assert exam is self.before or self.saved[-1] == exam, self.tail
        assert self.entering.unchecked is False

    # What the person does

    def key(self) -> None:
        key = self.chance.choice(PLAIN_KEYS)
        if self.hand.at is None and key == "Enter":
            key = "Up"
        self.keys(key)
        self.hand.press(key)

    def answer(self) -> None:
        row = self.hand.at
        if row is None:
            self.jump()
            return
        half_typed = ["Escape"] if self.hand.typed else []
        for key in (*half_typed, *self.typed_answer(row)):
            self.keys(key)
            self.hand.press(key)

    def typed_answer(self, row: Any) -> list[str]:
        """Return keys that are an answer to a row, most of the time."""
        chance = self.chance
        if row.kind == "choice":
            return [str(chance.randint(1, len(row.codes)))]
        if row.kind == "power":
            return [chance.choice("5555543210"), *chance.choice(["", "", "+", "-"])]
        if row.kind == "words":
            number = chance.randrange(len(row.codes) - 1)
            return [*(f"{number // 8 + 1}{number % 8 + 1}"), *chance.choice([[], ["Enter"]])]
        if row.kind == "joint_position":
            tried = chance.randint(1, 12)
            typed = chance.choice(["1", "2", "3", f"{chance.randint(0, 12)}/{tried}"])
        elif row.kind == "level":
            typed = chance.choice(["0", "t10", "c5", "l3", "s2", "t", "l9"])
        else:
            low, high = row.span
            typed = chance.choice([f"{chance.uniform(low, high):.1f}", str(chance.randint(int(low), int(high) + 5))])
            typed = typed.partition(".")[0] if row.step == 1 else typed
        return [*typed, "Enter"]

    def explain(self) -> None:
        if self.hand.mode or self.hand.at is None:
            return
        reason = self.chance.randint(1, 6)
        for key in ("x", str(reason)):
            self.keys(key)
            self.hand.press(key)

    def click(self) -> None:
        """Click on a word that stands in a row, or beside it."""
        row_number = self.chance.randrange(len(self.hand.rows))
        if self.hand.at is not None and self.chance.random() < 0.7:
            row_number = self.hand.row
        row = self.hand.rows[row_number]
        side = self.chance.randrange(row.sides)
        widget = self.place.sheet.page().widgets[row.paths[0]]
        here = self.hand.at is row and min(self.hand.side, row.sides - 1) == side
        if self.hand.mode == "reason" and here:
            code = self.chance.choice(self.model.REASONS)
            words = REASONS[code]
        elif row.codes and self.hand.typed is None:
            code = self.chance.choice(row.codes)
            answers = entry(row.path).answers
            assert answers is not None
            words = answers.words[code].replace("4-", "4−")
        else:
            code, words = "", ""
        at = self.word_of(widget, words, row, side) if words else None
        if at is None:
            code, at = "", self.beside(widget, row, side)
        self.press_mouse(widget, at)
        self.acts.append(f"click {row.paths[side]} {code}")
        if not here:
            blank = row.paths[side] not in self.hand.found
            self.hand.focus(row_number, side)
            if code and blank:
                self.hand.answer(code)
        elif code and self.hand.mode == "reason":
            self.hand.explain(code)
        elif code:
            self.hand.answer(code)

    def word_of(self, widget: Any, words: str, row: Any, side: int) -> QPoint | None:
        """Return the middle of a word that is painted on a side of a row."""
        theme, axis = self.window.theme, widget.width() / 2
        for thing in widget.laid().things:
            if isinstance(thing, Words) and thing.text == words:
                middle = thing.x + theme.width(thing.role, words) / 2
                if row.kind == "words" or (middle < axis) == (row.sides == 2 and side == 0):
                    return QPoint(round(middle), round(thing.y) - 4)
        return None

    def beside(self, widget: Any, row: Any, side: int) -> QPoint:
        """Return a place on a side of a row where nothing is written: close to the edge of the sheet."""
        away = widget.width() / 2 - 30
        return QPoint(round(widget.width() / 2 + (-away if row.sides == 2 and side == 0 else away)), 6)

    def press_mouse(self, widget: QWidget, at: QPoint) -> None:
        """Bring a row into sight and click on what is under the pointer there."""
        sheet = self.place.sheet
        top = widget.mapTo(sheet.viewport(), at).y()
        if not 20 < top < sheet.viewport().height() - 60:
            bar = sheet.verticalScrollBar()
            bar.setValue(bar.value() + top - 80)
        whole = widget.mapTo(self.window, at)
        under = self.window.childAt(whole)
        assert under is widget, (self.tail, under)
        QTest.mouseClick(under, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)

    def jump(self) -> None:
        """Find an item by a part of its name, or think better of it."""
        text, path = self.chance.choice(list(self.model.JUMPS.items()))
        if self.chance.random() < 0.2 and self.hand.mode == "":
            self.keys("f", text, "Escape")
            self.hand.leave()
            return
        self.keys("f", text, "Enter")
        self.hand.go(path)

    def undo(self) -> None:
        for _time in range(self.chance.choice([1, 1, 2, 5])):
            self.chord(Qt.KeyboardModifier.ControlModifier, "undo")
            self.hand.undo()

    def redo(self) -> None:
        self.chord(Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier, "redo")
        self.hand.redo()

    def chord(self, modifiers: Qt.KeyboardModifier, name: str) -> None:
        self.acts.append(name)
        QTest.keyClick(QApplication.focusWidget() or self.window, Qt.Key.Key_Z, modifiers)

    def section(self) -> None:
        """Click on a section's word in the strip."""
        wanted = self.chance.choice(list(self.model.TABLE))
        shown = "Strength" if wanted == "motor" else wanted.capitalize()
        words = next(part for part in self.window.strip.parts() if part.name.startswith(shown))
        QTest.mouseClick(
            self.window.strip, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, words.rect.center()
        )
        self.acts.append(f"click section {wanted}")
        self.keys("Home")
        self.hand.open(wanted)

    def turn_page(self) -> None:
        order = list(self.model.TABLE)
        step = self.chance.choice([-1, 1])
        at = order.index(self.hand.section) + step
        if 0 <= at < len(order):
            self.keys("PageDown" if step > 0 else "PageUp", "Home")
            self.hand.mode = ""
            self.hand.open(order[at])

    def rest(self) -> None:
        """Have the rest of the section answered with one key, where it is offered; think better of it at times."""
        hand, section = self.hand, self.hand.section
        if hand.mode == "reason":
            return
        self.keys("n")
        hand.leave()
        hand.pending = ""
        refused = self.complaint is None or (self.complaint and self.model.COMPLAINED[section] in self.complaint)
        if self.entering.mode != "together":
            lacking = [
                path for row in hand.rows for path in row.paths
                if path in self.model.ASKED_IN_FULL and path not in hand.found and not hand.barred(path)
            ]  # fmt: skip
            assert refused or not lacking, (self.tail, lacking)
            return
        assert not refused, self.tail
        hand.mode = "together"
        act = self.chance.choice(["Enter", "Enter", "Escape", "click"])
        if act == "click" and hand.at is not None and hand.at.kind in {"choice", "power"}:
            self.click()
            self.compare()
            return
        before = dict(hand.found)
        self.keys("Escape" if act == "click" else act)
        hand.mode = ""
        if act == "Enter":
            self.take_rest(before)

    def take_rest(self, before: dict[str, Any]) -> None:
        """What was asked for and blank is answered, nothing else is touched, all of it is marked."""
        hand = self.hand
        now = {p: each for p, each in recorded(self.place.document.exam) if p.startswith(OF_THE_MODEL)}
        fresh: dict[str, Any] = {}
        for row in hand.rows:
            for path in row.paths:
                if path in now and path not in before:
                    value = (row.together,) if row.kind == "words" else row.together
                    assert row.together, path
                    assert not hand.barred(path)
                    fresh[path] = Examined(value=value, entered="together")
                blank = path in self.model.ASKED_IN_FULL and path not in before and not hand.barred(path)
                assert path in now or not blank, (self.tail, path)
        assert fresh, self.tail
        hand.put(fresh, next(iter(fresh)))
        self.keys("Home")
        hand.row, hand.side = 0, 0
        hand.leave()

    def comment(self) -> None:
        if self.hand.path in self.hand.found and not self.hand.mode:
            words = self.chance.choice(["cold feet", "n", "7"])
            self.keys("w", words, self.chance.choice(["Enter", "Escape"]))
            self.hand.pending = ""
            self.hand.comment(words)

    def time(self) -> None:
        """Let the timer run on a place that is timed: what is pressed meanwhile is no answer."""
        row = self.hand.at
        if row is None or not row.timed or self.hand.mode:
            return
        self.keys("Space")
        barred = self.hand.refused(self.hand.path)
        if not barred:
            self.seconds += TEN_SECONDS
            self.keys("1", "x", "Space")
        self.hand.timed(TEN_SECONDS)


@pytest.mark.parametrize("seed", range(SESSIONS))
def test_random_keys_and_clicks_do_what_the_key_table_says(
    opened: Callable[..., Any], kit: ModuleType, model: ModuleType, seed: int
) -> None:
    chance = random.Random(seed)
    complaint = chance.choice([(), (), ("weakness",), None])
    exam = put(kit.blank_exam(), "context.symptoms", complaint)
    session = Session(opened(exam), kit, model, chance, complaint)
    session.compare()
    for _act in range(ACTS):
        session.act()
    document = session.place.document
    left = document.exam
    assert files.read(files.write(left)) == left
    changes = len(session.hand.done)
    document._listeners.clear()
    for _change in range(changes):
        document.undo()
    assert document.exam == exam
    for _change in range(changes):
        document.redo()
    assert document.exam == left


def click_on(window: Any, path: str, words: str, *, left: bool = False) -> None:
    """Click on a word that stands in a row."""
    widget = window.examination.sheet.page().widgets[path]
    for thing in widget.laid().things:
        if isinstance(thing, Words) and thing.text == words and (thing.x > widget.width() / 2) == left:
            at = QPoint(round(thing.x) + 8, round(thing.y) - 4)
            QTest.mouseClick(widget, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)
            return
    raise AssertionError(f"{words} does not stand there")


def test_grade_4_is_refined_also_where_the_next_place_is_a_number(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened()
    kit.keys(window, "m")
    window.examination.entering.go("motor.power.great_toe_extension.left")
    kit.keys(window, "4+")
    assert window.examination.entering.path == "motor.single_heel_raises.right"
    assert window.examination.document.get("motor.power.great_toe_extension.left") == Examined(value="4+")


@pytest.mark.parametrize("side", ["right", "left"])
def test_one_click_on_a_word_of_a_blank_row_answers(opened: Callable[..., Any], kit: ModuleType, side: str) -> None:
    window = opened()
    window.examination.entering.go("reflexes.plantar.right")
    click_on(window, "reflexes.knee.right", "brisk", left=side == "left")
    assert window.examination.document.get(f"reflexes.knee.{side}") == Examined(value="brisk")


def test_click_on_an_answer_given_only_goes_there(opened: Callable[..., Any], kit: ModuleType) -> None:
    exam = put(kit.blank_exam(), "reflexes.knee.left", Examined(value="brisk"))
    window = opened(exam)
    window.examination.entering.go("reflexes.plantar.right")
    click_on(window, "reflexes.knee.right", "brisk", left=True)
    assert window.examination.document.exam == exam
    assert window.examination.entering.path == "reflexes.knee.left"


def test_click_takes_back_what_one_key_was_about_to_answer(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened(put(kit.blank_exam(), "context.symptoms", ()))
    window.examination.entering.go("reflexes.knee.right")
    kit.keys(window, "n")
    assert window.examination.entering.mode == "together"
    click_on(window, "reflexes.knee.right", "absent")
    kit.keys(window, ["Enter"])
    recorded_now = dict(recorded(window.examination.document.exam))
    assert recorded_now["reflexes.knee.right"] == Examined(value="absent")
    assert not [path for path in recorded_now if path.startswith("reflexes.ankle")]


def test_h23_key_for_none_records_nothing_where_a_caution_bars_the_test(
    opened: Callable[..., Any], kit: ModuleType
) -> None:
    window = opened(put(kit.blank_exam(), "context.cautions", ("cannot_stand",)))
    window.examination.entering.go("walking.pattern")
    kit.keys(window, "0")
    assert window.examination.document.get("walking.pattern") is None
    assert "cannot stand" in window.examination.entering.message


@pytest.mark.parametrize(
    ("key", "modifiers"),
    [
        (Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier),
        (Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier),
    ],
)
def test_every_chord_of_the_platform_makes_it_again(
    opened: Callable[..., Any], kit: ModuleType, key: Qt.Key, modifiers: Qt.KeyboardModifier
) -> None:
    window = opened()
    window.examination.entering.go("reflexes.knee.right")
    kit.keys(window, "2")
    target = QApplication.focusWidget() or window
    QTest.keyClick(target, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.examination.document.get("reflexes.knee.right") is None
    QTest.keyClick(target, key, modifiers)
    assert window.examination.document.get("reflexes.knee.right") == Examined(value="brisk")


ANY_KEYS = [
    *"0123456789", *"abcdefghijklmnopqrstuvwxyz", *"+-=/.,", "Enter", "Backspace", "Escape", "Space", "Tab",
    "Left", "Right", "Up", "Down", "Home", "End", "PageUp", "PageDown", "Delete",
]  # fmt: skip


@pytest.mark.parametrize("seed", range(SESSIONS // 4))
def test_no_key_and_no_click_breaks_the_window_or_loses_an_answer(
    opened: Callable[..., Any], kit: ModuleType, seed: int
) -> None:
    chance = random.Random(seed)
    protocol = chance.choice(["full", "ward", "acute_vertigo", "weak_legs", "follow_up"])
    size, scale = chance.choice([((1280, 800), 1.0), ((1024, 700), 1.0), ((1024, 700), 2.0)])
    window = opened(kit.blank_exam(protocol), size=size, scale=scale)
    document = window.examination.document
    kept: list[tuple[str, ...]] = []
    document.listen(kept.append)
    before = document.exam
    for _act in range(80):
        if chance.random() < 0.3:
            at = QPoint(chance.randrange(size[0]), chance.randrange(size[1]))
            under = window.childAt(at) or window
            QTest.mouseClick(
                under, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, under.mapFrom(window, at)
            )
        else:
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
