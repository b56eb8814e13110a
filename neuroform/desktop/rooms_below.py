"""What the window asks of the rooms below at this workplace: the rules, and the pages that need settings."""

from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from neuroform.desktop.document import Document
from neuroform.desktop.early import barred
from neuroform.desktop.judge import Judge
from neuroform.desktop.opening import BEING_SIGNED
from neuroform.errors import NeuroformError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _, offered
from neuroform.protocols.loading import load, names
from neuroform.reasoning.results import NextTest, Reading
from neuroform.settings import Places, Settings
from neuroform.workflow.paper_names import FOLDER, like

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from neuroform.desktop.main_window import MainWindow
    from neuroform.desktop.opening import Sealed
    from neuroform.desktop.read_and_sign.desk import Desk, Signed
    from neuroform.desktop.read_and_sign.page import History
    from neuroform.desktop.read_and_sign.signing_page import Results
    from neuroform.desktop.stepping_aside import SteppingAside
    from neuroform.desktop.verify_page import VerifyPage
    from neuroform.workflow.verifying import Looked

    Pages = Mapping[str, Callable[[MainWindow], QWidget]]


def now() -> datetime:
    """Return the time here, with its offset."""
    return datetime.now().astimezone()


def judge(settings: Settings) -> Judge:
    """Return the functions of the rooms below under these settings; loading them takes a moment."""
    return judge_by(lambda: settings)


def judge_by(settings: Callable[[], Settings]) -> Judge:
    """Return the same under the settings as they are whenever something is judged."""
    from neuroform.reasoning.marks import limit, mark
    from neuroform.workflow.conclude import Concluding

    def needed(_exam: Examination, conclusions: Any) -> tuple[str, ...]:
        found: tuple[str, ...] = conclusions.needed
        return found

    def propose(exam: Examination, reading: Reading) -> tuple[NextTest, ...]:
        from neuroform.reasoning import next_tests

        return next_tests.propose(exam, reading)

    conclude = Concluding(settings)
    return Judge(conclude=conclude, needed=needed, propose=propose, mark=marks(mark), limit=limit, barred=barred)


def marks(judge_one: Callable[[Examination, str], str]) -> Callable[[Examination, str], str]:
    """Return the same, judging each finding once as long as the examination is the same one."""
    judged: Examination | None = None
    known: dict[str, str] = {}

    def mark(exam: Examination, path: str) -> str:
        nonlocal judged
        if exam is not judged:
            judged = exam
            known.clear()
        found = known.get(path)
        if found is None:
            found = known[path] = judge_one(exam, path)
        return found

    return mark


class Workplace:
    """Holds the settings as they were saved last, and makes what depends on them when it is asked for."""

    def __init__(
        self,
        places: Places,
        settings: Settings,
        *,
        prepare: Callable[[], None] | None = None,
        shown_passphrase: str = "",
    ) -> None:
        """`prepare` makes a demonstration's certificates, which `shown_passphrase` opens."""
        self.places, self.settings = places, settings
        self._prepare, self._shown_passphrase = prepare, shown_passphrase
        self._drafted: dict[Path, str] = {}
        self._results: Results = {}

    def drafted(self) -> tuple[Path, ...]:
        """Return the notes to which an addendum is written and not signed."""
        return tuple(note for note, text in self._drafted.items() if text.strip())

    def judge(self) -> Judge:
        """Return the rules, loaded now."""
        return judge_by(lambda: self.settings)

    def pages(self) -> "Mapping[str, Callable[[MainWindow], QWidget]]":
        """Return what makes the pages for settings and for verifying a paper."""
        return {"settings": self._settings_page, "verify": self._verify_page}

    def finisher(
        self, finished: Callable[[], None], history: "History | None" = None
    ) -> "Callable[[MainWindow, Document], QWidget]":
        """Return what makes Read and sign; `finished` is called once the note is signed and nothing is left to recover.

        `history` returns the urgent findings that were withdrawn; called from a worker, with what calls it off.
        """

        def finish(window: "MainWindow", document: Document) -> "QWidget":
            from neuroform.desktop.read_and_sign.page import ReadAndSign
            from neuroform.desktop.work import Work

            place = next(
                each for each in (window.examination, window.own) if each is not None and each.document is document
            )
            page = ReadAndSign(
                window.theme,
                document,
                self.judge(),
                self._desk(),
                Work(),
                certificate=self.settings.signs_with,
                results=self._results,
                history=history,
                reads=place.work,
                parent=window,
            )
            page.signed.connect(lambda signed: self._signed(place, signed, finished))
            page.adds.connect(lambda: window.show_page("addendum"))
            return page

        return finish

    def closed(self, exam: Examination, amount: str) -> "tuple[Sealed, Pages] | None":
        """Return how a draft stands whose note was signed before the program stopped, None where none was.

        Nothing but the names of files is looked at where no paper has the examination's own.
        """
        for path in like(self.places.data / FOLDER, exam, "note"):
            from neuroform.desktop.reading_back import once_signed, signed_note

            signed = signed_note(path, exam, self.settings)
            if signed is not None:
                self._results["note"] = (signed, exam)
                return once_signed(signed, amount), {**self.pages(), "addendum": self._addendum(signed)}
        return None

    def _addendum(self, signed: "Signed") -> "Callable[[MainWindow], QWidget]":
        """Return what makes the page of an addendum to one's own note."""
        from neuroform.signing.moments import minute

        by = _(N_("Signed by {name}, {when}")).format(name=signed.name, when=minute(signed.at))
        add = self._adder(signed.path, by)

        def page(window: "MainWindow") -> "QWidget":
            assert window.examination is not None
            return add(window, window.examination.document)

        return page

    def _desk(self, note: Path | None = None) -> "Desk":
        from neuroform.desktop.read_and_sign.desk import desk

        return desk(
            self.places,
            self.settings,
            clock=now,
            prepare=self._prepare,
            shown_passphrase=self._shown_passphrase,
            note=note,
        )

    def _signed(self, place: "SteppingAside", signed: "Signed", finished: Callable[[], None]) -> None:
        """Close the examination under its signed note, whichever is shown; any other paper leaves it a draft."""
        from neuroform.desktop.reading_back import once_signed

        if signed.kind == "referral":
            place.letter_signed()
        if signed.kind != "note":
            return
        pages = {**place.opened.pages, "addendum": self._addendum(signed)}
        place.seal(once_signed(signed, place.opened.amount), pages=pages)
        try:
            finished()
        except NeuroformError as refused:
            place.entering.say(str(refused))

    def _adder(self, note: Path, signed: str) -> "Callable[[MainWindow, Document], QWidget]":
        def add(window: "MainWindow", document: Document) -> "QWidget":
            from neuroform.desktop.read_and_sign.addendum import AddendumPage
            from neuroform.desktop.work import Work

            return AddendumPage(
                window.theme,
                document,
                self._desk(note),
                Work(),
                note=note,
                signed=signed,
                certificate=self.settings.signs_with,
                drafted=self._drafted,
                parent=window,
            )

        return add

    def _verify_page(self, window: "MainWindow") -> "QWidget":
        from neuroform.desktop.verify_page import VerifyPage, check
        from neuroform.desktop.work import Work
        from neuroform.workflow.verifying import signed_papers

        kept = self.places.data / FOLDER
        page = VerifyPage(
            window.theme,
            lambda path: check(path, self.settings),
            Work(),
            kept=lambda: signed_papers(kept),
            parent=window,
        )
        page.opened.connect(lambda looked, path: self._read(window, page, looked, path))
        return page

    def _read(self, window: "MainWindow", page: "VerifyPage", looked: "Looked", path: Path) -> None:
        """Show the examination of a paper to read, or say on the page why it can't be."""
        from dataclasses import replace

        from neuroform.desktop.handing_over import read, stop_reading
        from neuroform.desktop.reading_back import read_back

        shown = window.examination
        if shown is not None and shown.signs:
            page.tell(_(BEING_SIGNED))
            return
        try:
            opened = read_back(
                looked,
                path,
                judge=self.judge(),
                protocols=self.places.protocols,
                usual=self.settings.protocol,
                leave=lambda: stop_reading(window),
                adder=self._adder,
            )
        except NeuroformError as refused:
            page.tell(str(refused))
            return
        read(window, replace(opened, pages=self.pages(), vibration=self.settings.vibration))

    def _settings_page(self, window: "MainWindow") -> "QWidget":
        from neuroform.desktop.new_settings import take
        from neuroform.desktop.settings_page import SettingsPage
        from neuroform.desktop.theme import Theme
        from neuroform.settings import load as load_settings

        folders = (self.places.protocols,)
        amounts = {name: _(load(name, folders).label) for name in names(folders)}
        kept = load_settings(self.places.settings)
        page = SettingsPage(window.theme, self.places, kept, amounts=amounts, languages=offered(), parent=window)
        page.scaled.connect(lambda scale: window.set_theme(Theme(dark=window.theme.dark, scale=scale)))

        def saved(settings: Settings) -> None:
            before, self.settings = self.settings, settings
            window.close_page()
            take(window, before, settings)

        page.saved.connect(saved)
        return page
