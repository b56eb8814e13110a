"""The foot of the page: who signs and for whom, the passphrase, and the signature."""

from datetime import datetime, time
from pathlib import Path
from typing import Literal

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from neuroform.desktop.read_and_sign.parts import PAD, Heading, Push, Said, Word
from neuroform.desktop.read_and_sign.writing import Line
from neuroform.desktop.theme import Theme
from neuroform.errors import NeuroformError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.signing.moments import day

SIGN_WORDS = {
    "note": N_("Sign the note"),
    "referral": N_("Sign the referral"),
    "patient_letter": N_("Sign the letter"),
    "completeness": N_("Sign the sheet"),
    "addendum": N_("Sign the addendum"),
}
State = Literal["ready", "blocked", "working", "signed"]


class Who(QWidget):
    """Who signs, and with which certificate. Signals: `asked_certificate()` to choose another file."""

    asked_certificate = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._head = Heading(theme, _(N_("Sign")), role="strong")
        self._examiner = Said(theme, "", "label")
        self._certificate = Said(theme, "", "secondary", "quiet")
        self.choose = Word(theme, _(N_("choose a certificate")))
        self.choose.clicked.connect(self.asked_certificate)
        layout = _column(self, theme, self._head, self._examiner, self._certificate)
        layout.addWidget(self.choose, 0, Qt.AlignmentFlag.AlignLeft)
        layout.addStretch()

    def show_who(self, exam: Examination, certificate: Path | str | None) -> None:
        """Show the examiner and the file or token that signs."""
        parts = (exam.encounter.examiner, exam.encounter.designation)
        self._examiner.say(", ".join(part for part in parts if part))
        name = _signs(certificate)
        self._certificate.say(name)
        self.choose.setText(_(N_("choose another") if certificate else N_("choose a certificate")))
        self.choose.setAccessibleDescription(name)

    def offer(self, offered: bool) -> None:
        """Offer another certificate, or not where nothing is left to sign."""
        self.choose.setVisible(offered)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        for each in (self._head, self._examiner, self._certificate, self.choose):
            each.set_theme(theme)


def _signs(certificate: Path | str | None) -> str:
    """Return what signs, in words."""
    if certificate is None:
        return _(N_("no certificate chosen"))
    if isinstance(certificate, Path):
        return _(N_("certificate {file}")).format(file=certificate.name)
    from neuroform.signing.tokens import address

    try:
        label = address(certificate).token
    except NeuroformError:  # why it can't be used is said where it is
        label = None
    return _(N_("certificate on the token {label}")).format(label=label) if label else _(N_("certificate on a token"))


class Secret(QWidget):
    """The passphrase: typed for one signature and cleared. Signals: `typed()`, `entered()`."""

    typed = Signal()
    entered = Signal()

    def __init__(self, theme: Theme, shown: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._head = Heading(theme, _(N_("Passphrase")), role="strong")
        self.field = Line(theme, _(N_("Passphrase")), secret=True)
        self._shown = shown
        self._told = Said(theme, "", "secondary", "ink2" if shown else "quiet")
        self.say_of(None)
        self.field.written.connect(lambda _text: self.typed.emit())
        self.field.entered.connect(self.entered)
        layout = _column(self, theme, self._head, self.field, self._told)
        layout.addStretch()
        self._fit(theme)

    def _fit(self, theme: Theme) -> None:
        self.field.setMaximumWidth(theme.px(260))

    def say_of(self, certificate: Path | str | None) -> None:
        """Say what is asked for: a file's passphrase, or a token's PIN."""
        told = _(N_("never written down, asked for at each signature"))
        if self._shown:
            told = _(N_("for this demonstration: {passphrase}")).format(passphrase=self._shown)
        elif isinstance(certificate, str):
            told = _(N_("the token’s PIN; never written down, asked for at each signature"))
        self._told.say(told)
        self.field.editor.setAccessibleDescription(told)

    def ask(self, asked: bool) -> None:
        """Ask for it, or not where nothing is left to sign."""
        for each in (self._head, self.field, self._told):
            each.setVisible(asked)

    def take(self) -> str:
        """Return the passphrase and clear the field, what it could undo included."""
        words = self.field.editor.text()
        self.clear()
        return words

    def clear(self) -> None:
        """Clear the field."""
        self.field.editor.clear()

    @property
    def given(self) -> bool:
        """Whether something was typed."""
        return bool(self.field.editor.text())

    @property
    def hides(self) -> bool:
        """Whether what is typed is hidden."""
        return self.field.editor.echoMode() is not QLineEdit.EchoMode.Normal

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        for each in (self._head, self.field, self._told):
            each.set_theme(theme)
        self._fit(theme)


class Doing(QWidget):
    """For whom, the buttons, and what stands in the way. Signals: `signs()`, `keeps()`, `stops()`."""

    signs = Signal()
    keeps = Signal()
    stops = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.person = Said(theme, "", "strong")
        self.sign = Push(theme, _(SIGN_WORDS["note"]), main=True)
        self.keep = Push(theme, _(N_("Keep as a draft")))
        self.stop = Push(theme, _(N_("Cancel")))
        self.told = Said(theme, "", "label")
        self.path = Said(theme, "", "secondary", "ink2")
        self.sign.clicked.connect(self.signs)
        self.keep.clicked.connect(self.keeps)
        self.stop.clicked.connect(self.stops)
        self.state: State = "blocked"
        self._signs = _(SIGN_WORDS["note"])
        row = QHBoxLayout()
        row.setContentsMargins(PAD, 0, PAD, 0)
        row.setSpacing(theme.px(16))
        for each in (self.sign, self.stop, self.keep):
            row.addWidget(each)
        layout = _column(self, theme, self.person)
        layout.addSpacing(theme.px(8))
        layout.addLayout(row)
        layout.addSpacing(theme.px(2))
        layout.addWidget(self.told)
        layout.addWidget(self.path)
        layout.addStretch()
        self.stop.hide()

    def show_person(self, exam: Examination) -> None:
        """Show whose paper it is."""
        patient = exam.patient
        name = ", ".join(part for part in (patient.family_name, patient.given_names) if part)
        born = _(N_("{name}, born {day}")).format(name=name, day=day(datetime.combine(patient.birth_date, time.min)))
        known = [_(N_("ID {number}")).format(number=each.value) for each in patient.identifiers[:1]]
        self.person.say(", ".join([born, *known]))
        self.sign.setAccessibleDescription(self.person.text())

    def show_state(self, state: State, told: str, path: str = "", *, following: str = "") -> None:
        """Show what can be done now, `following` a signature in its place, and the words below the buttons."""
        self.state = state
        self.sign.setText(following or self._signs)
        self.sign.setVisible(state != "working")
        self.stop.setVisible(state == "working")
        self.sign.setEnabled(state == "ready" or bool(following))
        self.keep.setEnabled(state != "working")
        self.told.say(told)
        self.path.say(path)
        self.sign.setAccessibleDescription(f"{self.person.text()}. {told}" if told else self.person.text())

    def show_kind(self, kind: str) -> None:
        """Name the paper on the button."""
        self._signs = _(SIGN_WORDS[kind])
        self.sign.setText(self._signs)

    def show_keep(self, *, sealed: bool) -> None:
        """Name the way back: what is sealed is no draft."""
        self.keep.setText(_(N_("Back to the examination") if sealed else N_("Keep as a draft")))

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        for each in (self.person, self.sign, self.keep, self.stop, self.told, self.path):
            each.set_theme(theme)


def _column(holder: QWidget, theme: Theme, *widgets: QWidget) -> QVBoxLayout:
    layout = QVBoxLayout(holder)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(theme.px(2))
    for each in widgets:
        layout.addWidget(each)
    return layout
