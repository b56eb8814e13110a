"""Pictures of the pages around the form: Read and sign, what follows a signature, verifying, settings, beginning."""

import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

from PySide6.QtWidgets import QApplication

from neuroform.desktop.main_window import MainWindow
from neuroform.desktop.read_and_sign import lacking
from neuroform.desktop.read_and_sign.addendum import AddendumPage
from neuroform.desktop.read_and_sign.page import ReadAndSign
from neuroform.desktop.rooms_below import judge, now
from neuroform.desktop.theme import Theme
from neuroform.desktop.verify_page import VerifyPage
from neuroform.desktop.workplace import CLINIC, open_workplace, opened
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.settings import Places
from neuroform.workflow import demo

REASON = "Left for the balance clinic tomorrow."
LONGEST = 30.0
"""Seconds that a slow step may take."""


class Scene:
    """One window over the real rooms in a folder of its own."""

    def __init__(self, app: QApplication, theme: Theme, size: tuple[int, int], clinic: demo.Demo) -> None:
        self.app, self.clinic = app, clinic
        self._folder = tempfile.TemporaryDirectory()
        self.places = Places(config=Path(self._folder.name), data=Path(self._folder.name))
        self.window = MainWindow(theme)
        self.window.resize(*size)
        self.window.show()

    def open(self, exam: Examination) -> None:
        """Open the window on an examination."""
        self.window.fill(
            opened(
                self.places,
                self.clinic.settings,
                clinic=CLINIC,
                begin=lambda: exam,
                shown_passphrase=demo.PASSPHRASE,
            )
        )
        assert self.window.examination is not None
        self.window.examination.load_rules()
        self.wait(0.3)

    def close(self) -> None:
        """Close the window and forget its folder."""
        self.window.close()
        self.window.deleteLater()
        self.app.processEvents()
        self._folder.cleanup()

    def wait(self, seconds: float) -> None:
        """Let the window do what it does by itself."""
        self.until(lambda: False, seconds)

    def until(self, is_so: Callable[[], bool], seconds: float = LONGEST) -> None:
        """Let the window do what it does until something is so, or for so long."""
        end = time.monotonic() + seconds
        while time.monotonic() < end and not is_so():
            self.app.processEvents()
            time.sleep(0.01)
        self.app.processEvents()

    def page(self) -> ReadAndSign:
        """Open Read and sign, its paper drawn."""
        self.window.finish()
        place = self.window.examination
        assert place is not None
        page = place.page
        assert isinstance(page, ReadAndSign)
        self.until(lambda: page.paper.view.is_current)
        self.wait(0.2)
        return page

    def sign(self, page: ReadAndSign | AddendumPage) -> Path:
        """Sign what a page shows; return the paper."""
        signed: list[Path] = []
        page.signed.connect(lambda each: signed.append(each.path))
        page.secret.field.editor.setText(demo.PASSPHRASE)
        page.sign()
        self.until(lambda: bool(signed))
        self.wait(0.3)
        return signed[0]


def complete(clinic: demo.Demo) -> Examination:
    """Return the demonstration's examination with a reason for every gap."""
    exam = clinic.exam
    for gap in judge(clinic.settings).conclude(exam).gaps:
        exam = lacking.explained(exam, gap, REASON)
    return exam


def read_and_sign(scene: Scene) -> None:
    """Show the half-done examination on its last page."""
    scene.open(scene.clinic.exam)
    scene.page()


def wording(scene: Scene) -> None:
    """Show a wording that says more than the findings."""
    scene.open(complete(scene.clinic))
    page = scene.page()
    page.words.open_wording()
    page.words.fields["conclusion.paragraph"].editor.insertPlainText("The gait was normal. ")
    page.sign()
    scene.until(lambda: page.paper.view.is_current)


def withdrawn(scene: Scene) -> None:
    """Show an urgent finding that was raised and withdrawn."""
    scene.open(complete(scene.clinic))
    assert scene.window.examination is not None
    document = scene.window.examination.document
    document.put("context.symptoms", (*(document.exam.context.symptoms or ()), "back_pain"))
    document.put("context.bladder", Examined(value="retention"))
    document.put("context.bladder", Examined(value="normal"))
    page = scene.page()
    scene.until(lambda: bool(page.withdrawn.lines))
    scene.wait(0.1)


def signed(scene: Scene) -> None:
    """Show what the page says once the note is signed."""
    scene.open(complete(scene.clinic))
    scene.sign(scene.page())


def signed_form(scene: Scene) -> None:
    """Show the form under its signed note."""
    signed(scene)
    assert scene.window.examination is not None
    scene.window.examination.back()


def addendum(scene: Scene) -> None:
    """Show an addendum being written."""
    signed(scene)
    scene.window.show_page("addendum")
    page = scene.window.page
    assert isinstance(page, AddendumPage)
    page.field.editor.insertPlainText("The left head impulse was seen again with a colleague: no corrective saccade.")
    scene.wait(0.6)
    scene.until(lambda: page.paper.view.is_current)
    scene.wait(0.2)


def verified(scene: Scene) -> VerifyPage:
    """Show a signed paper verified."""
    scene.open(complete(scene.clinic))
    path = scene.sign(scene.page())
    scene.window.show_page("verify")
    page = scene.window.page
    assert isinstance(page, VerifyPage)
    page.open_file(path)
    scene.until(page.read.isVisible)
    scene.wait(0.2)
    return page


def reading(scene: Scene) -> None:
    """Show the examination of a signed paper being read."""
    verified(scene).read.click()
    scene.wait(0.3)


def settings(scene: Scene) -> None:
    """Show the settings."""
    scene.open(scene.clinic.exam)
    scene.window.show_page("settings")
    scene.wait(0.2)


def beginning(scene: Scene) -> None:
    """Show the question who is examined."""
    scene.window.take(open_workplace(scene.places, replace(scene.clinic.settings, protocol="full")))
    scene.wait(0.1)


PAGES: dict[str, Callable[[Scene], object]] = {
    "page-read-and-sign": read_and_sign,
    "page-wording": wording,
    "page-withdrawn": withdrawn,
    "page-signed": signed,
    "page-signed-form": signed_form,
    "page-addendum": addendum,
    "page-verified": verified,
    "page-reading": reading,
    "page-settings": settings,
    "page-beginning": beginning,
}


def pictures(
    app: QApplication, folder: Path, looks: Iterator[tuple[str, Theme, tuple[int, int]]], only: str = ""
) -> None:
    """Write a picture of every page in every look into a folder; `only` those whose name holds it."""
    with tempfile.TemporaryDirectory() as kept:
        clinic = demo.open_demo(Path(kept), clock=now)
        demo.make_certificates(Path(kept), clock=now)
        for look, theme, size in looks:
            for name, show in PAGES.items():
                if only in name:
                    scene = Scene(app, theme, size, clinic)
                    show(scene)
                    scene.window.grab().save(str(folder / f"{look}-{name}.png"))
                    scene.close()
