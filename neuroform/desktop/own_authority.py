"""On the settings page: a clinic with no authority makes one, issues certificates with it, and withdraws them."""

import logging
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Literal

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from neuroform.desktop.painted import announce
from neuroform.desktop.read_and_sign.choosing import Choosing
from neuroform.desktop.read_and_sign.parts import PAD, Heading, Push, Said
from neuroform.desktop.read_and_sign.standing import watch
from neuroform.desktop.read_and_sign.writing import Line
from neuroform.desktop.theme import Theme
from neuroform.desktop.work import Work
from neuroform.errors import NeuroformError
from neuroform.language import N_, _
from neuroform.settings import Places, Settings, expanded
from neuroform.signing import moments
from neuroform.workflow import own_authority
from neuroform.workflow.own_authority import Folders, Issued

log = logging.getLogger(__name__)

Deed = Literal["make", "issue", "withdraw"]
DEEDS = {"make": N_("make one"), "issue": N_("issue a certificate"), "withdraw": N_("withdraw a certificate")}
PUSHES = {
    "make": N_("Make authority and certificate"),
    "issue": N_("Issue the certificate"),
    "withdraw": N_("Withdraw the certificate"),
}
ABOUT = {
    "make": N_(
        "For a clinic that nobody issues certificates to. The authority’s key is needed only to issue and to withdraw: "
        "its folder is best on a disk that lies in a drawer, and its passphrase with someone else."
    ),
    "issue": N_("To one more person, or anew where a certificate ends soon. Older papers stay as they are."),
    "withdraw": N_(
        "When its file was lost or somebody else knows its passphrase. Papers it signed are then relied on only where "
        "a time stamp shows that they are older."
    ),
}
FIELDS: dict[str, tuple[str, bool, frozenset[str]]] = {
    "apart": (N_("Folder of the authority"), False, frozenset(DEEDS)),
    "name": (N_("Name of the authority"), False, frozenset({"make"})),
    "authority": (N_("Passphrase of the authority"), True, frozenset(DEEDS)),
    "authority_again": (N_("The same once more"), True, frozenset({"make"})),
    "person": (N_("Who will sign"), False, frozenset({"make", "issue"})),
    "passphrase": (N_("Passphrase of the certificate"), True, frozenset({"make", "issue"})),
    "passphrase_again": (N_("The same once more"), True, frozenset({"make", "issue"})),
}
"""Label, whether it is hidden, and for which deeds it is asked."""
Made = tuple[Path | None, Path]


def now() -> datetime:
    """Return the moment, with this machine's offset."""
    return datetime.now().astimezone()


class OwnAuthority(QWidget):
    """Signals: `made(certificate, trusted)`: a certificate's file, or None, and the file that verifying trusts."""

    made = Signal(object, object)

    def __init__(
        self, theme: Theme, places: Places, settings: Settings, work: Work, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.theme, self.places = theme, places
        self._work = work
        self._stands = watch(self)
        self.running = False
        self.labels: list[Said] = []
        self.fields: dict[str, Line] = {}
        self._rows: dict[str, QWidget] = {}
        self._withdrawable: dict[str, Issued] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.px(8))
        self._head = Heading(theme, _(N_("The clinic’s own authority")))
        self.deeds = Choosing(theme, _(N_("The clinic’s own authority")), DEEDS)
        self.deeds.chosen.connect(self._show)
        self.about = Said(theme, "", "secondary", "quiet")
        for widget in (self._head, self.deeds, self.about):
            self._column.addWidget(widget)
        usual = own_authority.folders(places)
        given = {"apart": str(usual.apart), "name": settings.clinic_name, "person": settings.examiner_name}
        for name, (label, secret, _deeds) in FIELDS.items():
            self.fields[name] = Line(theme, _(label), secret=secret)
            self.fields[name].set_text(given.get(name, ""))
            self.fields[name].entered.connect(lambda: self.focusNextPrevChild(True))
            self._rows[name] = self._row(_(label), self.fields[name])
        self.fields["apart"].written.connect(lambda _text: self._show_issued())
        self.which = Choosing(theme, _(N_("Which certificate")), {})
        self._rows["which"] = self._row(_(N_("Which certificate")), self.which)
        self._which_row = self._laid
        self.push = Push(theme, _(PUSHES["make"]))
        self.push.clicked.connect(self.act)
        self.told = Said(theme, "", "label")
        held = QHBoxLayout()
        held.setContentsMargins(PAD, 0, PAD, 0)
        held.addWidget(self.push)
        held.addStretch()
        self._column.addLayout(held)
        self._column.addWidget(self.told)
        self._show("")

    def _row(self, label: str, field: QWidget) -> QWidget:
        held = QWidget()
        row = QHBoxLayout(held)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(self.theme.px(8))
        name = Said(self.theme, label, "label")
        self.labels.append(name)
        row.addWidget(name, 0, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(field, 1)
        self._laid = row
        self._column.addWidget(held)
        return held

    # What is shown

    @property
    def where(self) -> Folders:
        """Where the authority that is written of lies; FileError where nobody can say."""
        return own_authority.folders(self.places, apart=expanded(self.text("apart")))

    def text(self, name: str) -> str:
        """Return what stands in a field."""
        return self.fields[name].text() if FIELDS[name][1] else self.fields[name].text().strip()

    def _show(self, deed: str) -> None:
        """Ask for what a deed needs; with none chosen, for nothing."""
        self.told.say("")
        self.about.say(_(ABOUT[deed]) if deed else "")
        for name, row in self._rows.items():
            row.setVisible(deed in FIELDS[name][2] if name in FIELDS else deed == "withdraw")
        self.push.setVisible(bool(deed))
        if deed:
            self.push.setText(_(PUSHES[deed]))
            self._show_issued()

    def _show_issued(self) -> None:
        """Offer what can be withdrawn."""
        if self.deeds.current != "withdraw":
            return
        try:
            found = own_authority.issued(self.where)
        except NeuroformError as error:
            self.told.say(str(error))
            found = ()
        self._withdrawable = {f"{each.serial:x}": each for each in found if each.withdrawn is None}
        old, self.which = self.which, Choosing(self.theme, _(N_("Which certificate")), self._offers())
        self._which_row.replaceWidget(old, self.which)
        old.deleteLater()
        self.push.setEnabled(bool(self._withdrawable))

    def _offers(self) -> dict[str, str]:
        words = _(N_("{name}, to {day}"))
        return {
            serial: words.format(name=each.name, day=moments.day(each.valid_until))
            for serial, each in self._withdrawable.items()
        }

    def forget(self) -> None:
        """Clear every passphrase, and close what was opened."""
        self._clear()
        self.deeds.choose(None)
        self._show("")

    def _clear(self) -> None:
        for name, (_label, secret, _deeds) in FIELDS.items():
            if secret:
                self.fields[name].editor.clear()

    # What is done

    def act(self) -> None:
        """Do what is chosen in a worker, or say what is missing."""
        deed = self.deeds.current
        if self.running or deed is None:
            return
        lacking = self._lacking(deed)
        if lacking:
            self._tell(lacking)
            return
        self.running = True
        self.push.setEnabled(False)
        self.told.say(_(N_("This takes a few seconds.")))
        todo = self._todo(deed)
        self._clear()
        self._work.run(todo, self._done, on_failed=self._failed)

    def _lacking(self, deed: str) -> str:
        try:
            expanded(self.text("apart"))
        except NeuroformError as refused:
            return str(refused)
        for name, (label, secret, deeds) in FIELDS.items():
            if deed in deeds and not self.text(name):
                return _(N_("Blank: {field}.")).format(field=_(label))
            twice = f"{name}_again"
            if secret and twice in FIELDS and deed in FIELDS[twice][2] and self.text(name) != self.text(twice):
                return _(N_("{field}: the two are not the same.")).format(field=_(label))
        if deed == "make" and self.text("authority") == self.text("passphrase"):
            return _(N_("Authority and certificate each need a passphrase of their own."))
        if (
            deed == "make"
            and min(len(self.text(name)) for name in ("authority", "passphrase")) < own_authority.SHORTEST
        ):
            return _(N_("A passphrase that keeps a key has at least {count} characters.")).format(
                count=own_authority.SHORTEST
            )
        if deed == "withdraw" and self.which.current is None:
            return _(N_("Choose the certificate to withdraw."))
        return ""

    def _todo(self, deed: str) -> Callable[[], Made]:
        """Return what the worker does; it holds the passphrases no longer than that takes."""
        where, name, person = self.where, self.text("name"), self.text("person")
        secret, daily = self.text("authority"), self.text("passphrase")
        if deed == "withdraw":
            serial = self._withdrawable[self.which.current or ""].serial
            return lambda: (None, own_authority.withdraw(where, serial, authority_passphrase=secret, clock=now))

        def issue() -> Made:
            if deed == "make":
                own_authority.make(where, name=name, passphrase=secret, clock=now)
            path = own_authority.issue(where, name=person, authority_passphrase=secret, passphrase=daily, clock=now)
            return path, where.trusted

        return issue

    def _done(self, found: Made) -> None:
        if not self._stands():
            return
        self.running = False
        self.push.setEnabled(True)
        certificate, trusted = found
        told = _(N_("Withdrawn. The list stands in {file}: give it to everyone who verifies your papers."))
        if certificate is not None:
            told = _(N_("Made: {certificate} signs; {file} is what others need to verify."))
        self._show_issued()
        self._tell(told.format(certificate=certificate, file=trusted))
        self.made.emit(certificate, trusted)

    def _failed(self, error: Exception) -> None:
        if not self._stands():
            return
        self.running = False
        self.push.setEnabled(True)
        if not isinstance(error, NeuroformError):
            log.error("the authority failed: %s", type(error).__name__)
        told = str(error) if isinstance(error, NeuroformError) else _(N_("That could not be done. Try again."))
        self._tell(told)

    def _tell(self, words: str) -> None:
        self.told.say(words)
        announce(self, words, at_once=True)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        parts: list[Heading | Choosing | Said | Push | Line] = [self._head, self.deeds, self.about, self.which]
        parts += [self.push, self.told, *self.labels, *self.fields.values()]
        for part in parts:
            part.set_theme(theme)
