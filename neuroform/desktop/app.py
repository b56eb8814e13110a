"""Opens the window: shown first, filled after."""

import os
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QStyleFactory

from neuroform.desktop import accessible
from neuroform.desktop.main_window import TITLE, MainWindow
from neuroform.desktop.settling import collect_later, collect_seldom
from neuroform.desktop.theme import OTHER_SCRIPTS, Theme, load_faces
from neuroform.language import _, use

if TYPE_CHECKING:
    from neuroform.desktop.opening import Beginning, Opened

SIZE = (1280, 800)


def application(arguments: Sequence[str] = (), *, faces: bool = True) -> QApplication:
    """Return the application with its style and its faces; one is made where there is none."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication([*arguments] or sys.argv[:1])
        app.setApplicationName(_(TITLE))
        app.setDesktopFileName("neuroform")
        app.setStyle(QStyleFactory.create("Fusion"))
    if faces:
        load_faces()
    return app


def wants_dark(scheme: str) -> bool:
    """Tell whether a colour scheme ("system", "light", "dark") is dark here."""
    if scheme == "system":
        return QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark
    return scheme == "dark"


def open_window() -> int:
    """Open the window on this workplace; return the exit status when it is closed."""
    from neuroform.settings import load, places

    where = places()
    settings = load(where.settings)

    def prepare() -> "Opened | Beginning":
        from neuroform.desktop.workplace import open_workplace

        return open_workplace(where, settings)

    return run(prepare, scheme=settings.colour_scheme, scale=settings.text_scale, language=settings.language)


def open_demo() -> int:
    """Open the window on the demonstration clinic; return the exit status when it is closed."""

    def prepare() -> "Opened":
        from neuroform.desktop.workplace import open_demonstration

        return open_demonstration()

    return run(prepare)


def run(
    prepare: "Callable[[], Opened | Beginning]", *, scheme: str = "system", scale: float = 1.0, language: str = "en"
) -> int:
    """Open the window and stay until it is closed; return the exit status.

    `prepare` is called once the window stands on the screen: it loads what the window opens on. What it raises ends
    the program.
    """
    collect_later()
    # Validation loads no code of other packages, and does not go looking for any.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")
    use(language)
    app = application(faces=False)
    accessible.install()
    window = MainWindow(Theme(dark=wants_dark(scheme), scale=scale))
    window.resize(*_room(app))
    failed: list[BaseException] = []

    def fill() -> None:
        try:
            load_faces()
            window.take(prepare())
        except BaseException as error:
            failed.append(error)
            app.exit(1)
            return
        if window.examination is None:
            collect_seldom()
        QTimer.singleShot(0, lambda: load_faces(OTHER_SCRIPTS))

    window.when_shown(fill)
    window.scheme = scheme
    QGuiApplication.styleHints().colorSchemeChanged.connect(lambda _scheme: _follow(window))
    window.show()
    status = app.exec()
    if failed:
        raise failed[0]
    return status


def _follow(window: MainWindow) -> None:
    """Take the system's colours where those are asked for."""
    if window.scheme == "system":
        window.set_theme(Theme(dark=wants_dark("system"), scale=window.theme.scale))


def _room(app: QApplication) -> tuple[int, int]:
    """Return the size the window opens with: the usual one, or what the screen has room for."""
    screen = app.primaryScreen().availableGeometry()
    return min(SIZE[0], screen.width()), min(SIZE[1], screen.height())
