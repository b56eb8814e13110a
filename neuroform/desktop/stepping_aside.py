"""What the Examination place does when it is no longer the one being written in: sealed, standing aside, renewed."""

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from neuroform.desktop.document import Document
from neuroform.desktop.entering import Entering
from neuroform.desktop.find_box import FindBox
from neuroform.desktop.key_sheet import KeySheetArea
from neuroform.desktop.keyboard import key_word
from neuroform.desktop.notice import Notice
from neuroform.desktop.opening import BEING_SIGNED, Opened, Sealed
from neuroform.desktop.painted import announce
from neuroform.desktop.sheet import Sheet
from neuroform.desktop.sheet_head import SheetHead
from neuroform.desktop.work import Work
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.signing.moments import minute

if TYPE_CHECKING:
    from neuroform.desktop.main_window import MainWindow


class SteppingAside(ABC):
    """The half of the place that another examination, a signature or new settings ask for."""

    window: "MainWindow"
    opened: Opened
    work: Work
    document: Document
    entering: Entering
    page: QWidget | None
    head: SheetHead
    sheet: Sheet
    recovered: Notice
    together: Notice
    find: FindBox
    keys: KeySheetArea
    _rest: QTimer
    _saved: datetime | None
    _on_page: bool = False
    _sealed_as: Examination | None = None
    _told_of: tuple[Path, ...] = ()

    @property
    @abstractmethod
    def in_rows(self) -> bool:
        """Whether the rows are in sight, and not another page."""

    @abstractmethod
    def finish(self) -> None:
        """Open Read and sign."""

    @abstractmethod
    def back(self) -> None:
        """Show the rows, and the hand in them."""

    @abstractmethod
    def close(self) -> None:
        """Stop what runs and let go of what was opened."""

    @abstractmethod
    def _open(self, section: str) -> None: ...

    @abstractmethod
    def _trace(self, items: tuple[str, ...]) -> None: ...

    @abstractmethod
    def _show_all(self) -> None: ...

    def _tell_notices(self) -> None:
        """Say above the rows what has to be known from the start."""
        words: list[str] = []
        sealed = self.opened.sealed
        if self.opened.recovered is not None:
            words.append(_recovered(self.opened.recovered.astimezone(), self.opened.lost))
        words += self.opened.notices if sealed is None else (sealed.words,)
        keys = sealed.keys if sealed is not None else ((_(N_("close")), key_word("Escape")),)
        self.recovered.tell(" ".join(words), keys if words else ())
        if words:
            announce(self.recovered, " ".join(words))

    def _dismiss(self) -> None:
        """Put the notice away; one that says why nothing may be changed stays as long as that is so."""
        if self.opened.sealed is not None:
            self.opened.sealed.leave()
        elif self.recovered.words:
            self.recovered.tell("", ())
            self.window.arrange()

    def seal(self, sealed: Sealed, *, pages: "Mapping[str, Callable[[MainWindow], QWidget]]") -> None:
        """Let the examination only be read from now on, and say so above the rows; what is written yet isn't kept."""
        self.document.seal(sealed.why, sealed.but)
        self._sealed_as = self.document.exam
        at = self._saved or datetime.now().astimezone()
        self.opened = replace(
            self.opened, sealed=sealed, recovered=None, pages=pages, save=lambda _document, _paths: at
        )
        # Another judge, so that every row is shown anew: without keys that would change it.
        self.entering.take_judge(replace(self.entering.judge, propose=lambda _exam, _reading: ()))
        self._rest.start()
        self._tell_notices()
        self.recovered.setVisible(self.in_rows)
        self._show_all()
        self.window.arrange()

    def holds_back(self) -> str:
        """Say why the next examination has to wait: this one is not signed, or a letter is not; empty where it hasn't.

        A letter holds it back once, an addendum until it is signed or blank.
        """
        if self.signs:
            return _(BEING_SIGNED)
        if self.opened.sealed is None:
            return _(N_("Sign the note first, or keep the draft by closing the window."))
        drafted = self.opened.drafted()
        if drafted:
            told = _(N_("An addendum to {file} is written and not signed: sign it, or clear its text."))
            return told.format(file=drafted[0].name)
        if self._letter_since():
            return _(N_("A letter written since is kept only in its signed paper: F10 again goes on."))
        return ""

    def loses(self) -> str:
        """Say, once for what is written as it stands, what closing the window would lose; empty where nothing."""
        drafted = self.opened.drafted()
        lost = drafted and drafted != self._told_of
        self._told_of = drafted
        if lost:
            told = _(N_("An addendum to {file} is written and not signed: closing again loses it."))
            return told.format(file=drafted[0].name)
        if self.opened.sealed is not None and self._letter_since():
            return _(N_("A letter written since is kept only in its signed paper: closing again loses it."))
        return ""

    def _letter_since(self) -> bool:
        """Tell, once for each wording, whether something was written since the note was signed."""
        before, self._sealed_as = self._sealed_as or self.opened.exam, self.document.exam
        return self.document.exam != before

    def letter_signed(self) -> None:
        """Take note that the letter is signed as it stands: nothing of it would be lost."""
        self._sealed_as = self.document.exam

    @property
    def signs(self) -> bool:
        """Whether a paper is being signed, on this place's page or on one that stands over it."""
        acts = (getattr(page, "act", None) for page in (self.page, self.window.page))
        return any(getattr(act, "running", False) for act in acts)

    def tell(self, words: str) -> None:
        """Say something where the person looks: on the page, one that stands over it, or above the rows."""
        page = self.page if not self.in_rows else None
        teller = getattr(self.window.page or page, "tell", None)
        if teller is not None:
            teller(words)
        else:
            self.entering.say(words)

    def attend(self, now: bool) -> None:
        """Follow the parts that stand in every place, or leave them to another examination that is shown."""
        for signal, then in ((self.window.strip.chosen, self._open), (self.window.band.chosen, self._trace)):
            if now:
                signal.connect(then)
            else:
                signal.disconnect(then)

    def step_aside(self) -> None:
        """Leave the window to another examination; nothing of this one is lost."""
        self.entering.leave()
        self.attend(False)
        self._rest.stop()
        self._on_page = not self.in_rows
        for part in self._parts():
            part.hide()

    def come_back(self) -> None:
        """Take the window again, as it was left."""
        self.attend(True)
        if self._on_page:
            self._show_all()
            self.finish()
        else:
            self.back()
        self._rest.start()

    def show_again(self) -> None:
        """Show in the parts of every place what this examination holds."""
        self._show_all()

    def give_up(self) -> None:
        """Leave the window for good."""
        self.attend(False)
        self.close()
        for part in self._parts():
            part.hide()
            part.deleteLater()

    def renew_page(self) -> None:
        """Make Read and sign anew the next time it is opened, or at once where it is in sight."""
        page = self.page
        if page is None or getattr(getattr(page, "act", None), "running", False):
            return
        self.page = None
        in_sight = page.isVisible()
        page.hide()
        page.deleteLater()
        if in_sight:
            self.finish()

    def _parts(self) -> list[QWidget]:
        parts = [self.head, self.sheet, self.recovered, self.together, self.find, self.keys]
        return [*parts, self.page] if self.page is not None else parts


def _recovered(at: datetime, lost: int) -> str:
    """Return that the program had stopped, up to when all of it is here, or how many changes are not."""
    if not lost:
        told = _(N_("This examination was open when the program stopped. Everything up to {time} is here."))
        return told.format(time=_when(at))
    told = _(
        N_(
            "This examination was open when the program stopped. Not all of it is here: changes that could not be read "
            "back: {count}. The rest, up to {time}, is here; check it."
        )
    )
    return told.format(count=lost, time=_when(at))


def _when(at: datetime) -> str:
    """Return a time of today, or the day with it: what is old must not pass for today's."""
    return f"{at:%H:%M:%S}" if at.date() == datetime.now(at.tzinfo).date() else minute(at)
