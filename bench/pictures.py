"""Renders every section and state of the window, light, dark and at 200 % text: `python -m bench.pictures [FOLDER]`."""

import os
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from bench import page_pictures
from neuroform import shipped
from neuroform.desktop import keys
from neuroform.desktop.app import application
from neuroform.desktop.document import Document
from neuroform.desktop.main_window import MainWindow
from neuroform.desktop.opening import Opened
from neuroform.desktop.theme import OTHER_SCRIPTS, Theme, load_faces
from neuroform.desktop.workplace import judge
from neuroform.exam import files
from neuroform.exam.examination import SECTIONS, Examination
from neuroform.language import _
from neuroform.protocols.loading import load
from neuroform.settings import Settings

AT = datetime(2026, 11, 20, 10, 22, 7, tzinfo=UTC)


@dataclass(frozen=True, kw_only=True)
class Look:
    """One way the window can look."""

    name: str
    size: tuple[int, int]
    scale: float = 1.0
    dark: bool = False


LOOKS = (
    Look(name="light", size=(1280, 800)),
    Look(name="dark", size=(1280, 800), dark=True),
    Look(name="small", size=(1024, 700)),
    Look(name="large-text", size=(1024, 700), scale=2.0),
    Look(name="large-text-dark", size=(1024, 700), scale=2.0, dark=True),
)
FRONT = Look(name="front", size=(1400, 875))
"""How the window looks in the README: `python -m bench.pictures --front FILE`."""

State = Callable[[MainWindow], None]


def pressed(path: str, *named: str) -> State:
    """Return a state: the focus on a path, then keys."""

    def act(window: MainWindow) -> None:
        assert window.examination is not None
        entering = window.examination.entering
        entering.go(path)
        for key in named:
            keys.press(entering, key)

    return act


def _find(window: MainWindow) -> None:
    assert window.examination is not None
    window.examination.open_find()
    window.examination.find.line.setText("vibr")


def _everything(window: MainWindow) -> None:
    assert window.examination is not None
    window.examination.entering.show_everything()


def _closing(window: MainWindow) -> None:
    assert window.examination is not None
    window.examination.entering.focus(99)


STATES: dict[str, State] = {
    "state-choices": pressed("reflexes.plantar.right", "Backspace"),
    "state-reasons": pressed("sensation.pinprick.right", "x"),
    "state-number": pressed("standing.firm.eyes_open.seconds", "1", "2"),
    "state-joint-position": pressed("sensation.joint_position.great_toe.right", "Backspace"),
    "state-sway": pressed("standing.firm.eyes_open.sway"),
    "state-power": pressed("motor.power.hip_flexion.left", "Backspace"),
    "state-words": pressed("context.symptoms", "3"),
    "state-gait": pressed("walking.pattern"),
    "state-pressure": pressed("circulation.lying", "1", "4", "2", "/", "8"),
    "state-timer": pressed("standing.firm.eyes_open.sway", "Space"),
    "state-comment": pressed("reflexes.knee.right", "1", "Up", "w"),
    "state-closing": _closing,
    "state-everything": _everything,
    "state-keys": lambda window: window.toggle_keys(),
    "state-find": _find,
    "state-places": lambda window: window.go(1),
    "state-strip": lambda window: window.strip.setFocus(),
    "state-interpretation": lambda window: window.to_band(1),
    "state-next": lambda window: window.to_band(2),
}


def main(folder: Path) -> None:
    """Write every picture into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    app = application()
    load_faces(OTHER_SCRIPTS)
    exams = {"demonstration": files.read(shipped.read_bytes("resources", "demonstration", "exam.json"))}
    for extra in sys.argv[2:]:
        exams[Path(extra).stem] = files.read(Path(extra).read_bytes())
    for name, exam in exams.items():
        for look in LOOKS:
            for title, state in _pictures():
                _one(app, exam, look, state, folder / f"{name}-{look.name}-{title}.png")
    pages = ((look.name, Theme(dark=look.dark, scale=look.scale), look.size) for look in LOOKS)
    page_pictures.pictures(app, folder, pages)
    print(f"{len(list(folder.glob('*.png')))} pictures in {folder}")


def front(file: Path) -> None:
    """Write the one picture that shows the program to those who don't know it yet."""
    app = application()
    exam = files.read(shipped.read_bytes("resources", "demonstration", "exam.json"))
    _one(app, exam, FRONT, pressed("standing.firm.eyes_closed.ended"), file)


def _pictures() -> Iterator[tuple[str, State]]:
    for section in SECTIONS:
        yield section, partial(_section, section)
    yield from STATES.items()


def _section(section: str, window: MainWindow) -> None:
    assert window.examination is not None
    window.examination.entering.open(section)


def _one(app: QApplication, exam: Examination, look: Look, state: State, file: Path) -> None:
    window = MainWindow(Theme(dark=look.dark, scale=look.scale))
    window.resize(*look.size)
    window.show()
    window.fill(
        Opened(exam=exam, judge=judge(Settings()), save=_saved, amount=_(load(exam.encounter.protocol or "full").label))
    )
    state(window)
    rest = time.monotonic() + 0.3
    while time.monotonic() < rest:
        app.processEvents()
        time.sleep(0.01)
    window.grab().save(str(file))
    window.close()
    window.deleteLater()


def _saved(_document: Document, _paths: tuple[str, ...]) -> datetime:
    return AT


if __name__ == "__main__":
    if "--front" in sys.argv[1:2]:
        front(Path(sys.argv[2]))
    else:
        main(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures"))
