"""An addendum to a signed note: what is added, the paper as it will be signed, and the signature."""

from collections.abc import MutableMapping
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop.document import Document
from neuroform.desktop.read_and_sign.desk import Desk, Signed
from neuroform.desktop.read_and_sign.page_parts import headed
from neuroform.desktop.read_and_sign.parts import Heading, Said
from neuroform.desktop.read_and_sign.signing_page import ChooseFile, SigningPage
from neuroform.desktop.read_and_sign.writing import Writing
from neuroform.desktop.theme import Theme
from neuroform.desktop.work import Work
from neuroform.language import N_, _

LINES = 8
"""Lines the field has from the start."""


class AddendumPage(SigningPage):
    """Writes and signs one addendum after another; the note they add to is never touched."""

    def __init__(
        self,
        theme: Theme,
        document: Document,
        desk: Desk,
        work: Work,
        *,
        note: Path,
        signed: str,
        certificate: Path | str | None = None,
        choose_file: ChooseFile | None = None,
        drafted: MutableMapping[Path, str] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Add to the `note`, of which `signed` says by whom and when; `drafted` keeps what was written but not signed.

        The `document` holds the note's own examination, sealed.
        """
        self.field = Writing(
            theme, _(N_("What is added")), _(N_("What was found or learnt since, or what to correct."))
        )
        self.field.least_lines = LINES
        head = Heading(theme, _(N_("What is added")), role="strong")
        about = Heading(theme, _(N_("The signed note")), role="strong")
        facts = [
            Said(theme, signed, "label"),
            Said(theme, note.name, "secondary", "ink2"),
            Said(theme, _(N_("It stays as it was signed, and the addendum names it: both are read together.")), "body"),
        ]
        super().__init__(
            theme,
            _(N_("Addendum")),
            _(N_("A paper of its own, signed as the note was.")),
            document=document,
            desk=desk,
            work=work,
            columns=(headed(theme, about, *facts), headed(theme, head, self.field)),
            certificate=certificate,
            choose_file=choose_file,
            parent=parent,
        )
        self.dressed += [head, self.field, about, *facts]
        self._note = note
        self._drafted: MutableMapping[Path, str] = {} if drafted is None else drafted
        self._done: Signed | None = None
        self.field.set_text(self._drafted.get(note, ""))
        self.field.written.connect(self._wrote)
        self.field.entered.connect(lambda: self.focusNextPrevChild(True))
        self.setFocusProxy(self.field)
        self.doing.show_kind(self._kind)

    def open(self) -> None:
        """Show the page, the hand where something is added."""
        self.refresh()
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)

    def showEvent(self, event: QShowEvent) -> None:
        """Show how the addendum stands."""
        super().showEvent(event)
        self._arrange()
        self.refresh()

    def refresh(self) -> None:
        """Show what is added, and its paper."""
        super().refresh()
        keys = ((_(N_("sign")), "F9"), (_(N_("back")), "Esc"), (_(N_("keys")), "F1"))
        self.last.show_line("", "", keys)

    def _wrote(self, text: str) -> None:
        self._failure = ""
        self._drafted[self._note] = text
        self.refresh()

    def _added(self) -> tuple[str, ...]:
        return (self.field.text().strip(),)

    def _blocked(self) -> str:
        if not self.field.text().strip():
            return _(N_("Write what is added to the note."))
        return super()._blocked()

    def _first_lack(self) -> QWidget:
        return super()._first_lack() if self.field.text().strip() else self.field.editor

    def _signed_as_it_stands(self) -> Signed | None:
        return self._done

    def _following(self) -> str:
        return _(N_("Write another addendum"))

    def _follow(self) -> None:
        self._done = None
        self.field.lock(False)
        self.field.set_text("")
        self.open()

    def _sealed_by(self, signed: Signed) -> None:
        self._done = signed
        self._drafted.pop(self._note, None)
        self.field.lock(True)
