"""What the window's tests share: an invented person, and a window opened on an examination."""

from collections.abc import Iterable
from datetime import UTC, date, datetime

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from neuroform.desktop.document import Document
from neuroform.desktop.main_window import MainWindow
from neuroform.desktop.opening import Opened
from neuroform.desktop.theme import Theme
from neuroform.desktop.workplace import judge
from neuroform.exam.examination import Examination, Identifier, Patient, new_examination
from neuroform.settings import Settings
from neuroform.workflow import demo

AT = datetime(2026, 11, 20, 10, 15, tzinfo=UTC)
NAMED = {
    "Enter": Qt.Key.Key_Return,
    "Backspace": Qt.Key.Key_Backspace,
    "Escape": Qt.Key.Key_Escape,
    "Space": Qt.Key.Key_Space,
    "Left": Qt.Key.Key_Left,
    "Right": Qt.Key.Key_Right,
    "Up": Qt.Key.Key_Up,
    "Down": Qt.Key.Key_Down,
    "Home": Qt.Key.Key_Home,
    "End": Qt.Key.Key_End,
    "PageUp": Qt.Key.Key_PageUp,
    "PageDown": Qt.Key.Key_PageDown,
    "Delete": Qt.Key.Key_Delete,
    "Tab": Qt.Key.Key_Tab,
}
JUDGE = judge(Settings())


def blank_exam(protocol: str = "full") -> Examination:
    """Return a blank examination of an invented person, 71 years old."""
    patient = Patient(
        family_name="Rahman",
        given_names="Ilse",
        birth_date=date(1955, 3, 3),
        identifiers=(Identifier(scheme="local", value="4471"),),
    )
    return new_examination(patient=patient, examiner="Examiner A", at=AT, protocol=protocol)


def half_done() -> Examination:
    """Return the demonstration's examination."""
    return demo.half_done(AT)


def open_on(
    exam: Examination, *, size: tuple[int, int] = (1280, 800), scale: float = 1.0, dark: bool = False
) -> MainWindow:
    """Return a window that shows an examination."""
    window = MainWindow(Theme(dark=dark, scale=scale))
    window.resize(*size)
    window.show()
    window.fill(Opened(exam=exam, judge=JUDGE, save=_save, amount="full examination"))
    window.activateWindow()
    QApplication.processEvents()
    assert window.examination is not None
    window.examination.to_form()
    return window


def _save(_document: Document, _paths: tuple[str, ...]) -> datetime:
    return AT


def keys(window: MainWindow, pressed: Iterable[str] | str) -> None:
    """Press keys where the focus is: a text of single keys, or a list that names others."""
    for key in pressed:
        target = QApplication.focusWidget() or window
        if key in NAMED:
            QTest.keyClick(target, NAMED[key])
        else:
            QTest.keyClicks(target, key)
