"""What every page that signs does: shows the paper as it will be signed, signs it, and says what came of it."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QFileDialog, QWidget

from neuroform.desktop.document import Document
from neuroform.desktop.painted import announce
from neuroform.desktop.read_and_sign.blocking import blocked
from neuroform.desktop.read_and_sign.desk import KIND_WORDS, Desk, Signed
from neuroform.desktop.read_and_sign.foot import State
from neuroform.desktop.read_and_sign.page_parts import PageParts
from neuroform.desktop.read_and_sign.pages import Picture
from neuroform.desktop.read_and_sign.preview import Preview
from neuroform.desktop.read_and_sign.signing_act import SigningAct
from neuroform.desktop.theme import Theme
from neuroform.desktop.work import Work
from neuroform.exam.examination import Examination
from neuroform.language import N_, _

_OWN_KEYS = frozenset({Qt.Key.Key_F9, Qt.Key.Key_Escape})
ChooseFile = Callable[[QWidget], Path | None]
Results = dict[str, tuple[Signed, Examination]]
"""What was signed of an examination by kind of paper, and the examination as it was then."""


class SigningPage(PageParts):
    """Holds no examination: what it signs is the document's.

    Signals: `left()` back to the form, `kept()` the person is done here, `signed(signed)` a paper was signed and saved,
    `certificate_chosen(path)`.
    """

    left = Signal()
    kept = Signal()
    signed = Signal(object)
    certificate_chosen = Signal(object)

    def __init__(
        self,
        theme: Theme,
        title: str,
        subtitle: str,
        *,
        document: Document,
        desk: Desk,
        work: Work,
        columns: tuple[QWidget, QWidget],
        certificate: Path | str | None = None,
        choose_file: ChooseFile | None = None,
        results: Results | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Sign with the functions of `desk`; `results` is what was signed of this examination before."""
        super().__init__(
            theme,
            title,
            subtitle,
            columns=columns,
            kinds=desk.kinds,
            shown_passphrase=desk.shown_passphrase,
            parent=parent,
        )
        self.document = document
        self._certificate, self._desk = certificate, desk
        self._choose_file = choose_file or _chosen_certificate
        self._kind = desk.kinds[0]
        self._paper_problem = ""
        self._results: Results = {} if results is None else results
        self._failure = ""
        self._before: tuple[str, str] = ("", "")
        self.preview = Preview(desk, work, self)
        self.act = SigningAct(desk, work, self)
        self.sized = self.preview.set_width
        self.paper.kinds.choose(self._kind)
        self._connect_signing()

    def _connect_signing(self) -> None:
        self.paper.chosen.connect(self._choose_kind)
        self.paper.turned.connect(self.preview.turn)
        self.full.turned.connect(self.preview.turn)
        self.paper.enlarged.connect(lambda: self.open_over(self.full, self.full.view))
        self.paper.read_as_text.connect(self._read_as_text)
        self.preview.drawn.connect(self._show_picture)
        self.preview.outdated.connect(self.paper.show_stale)
        self.preview.failed.connect(self._show_paper_problem)
        self.who.asked_certificate.connect(self._ask_certificate)
        self.secret.typed.connect(self._retry)
        self.secret.entered.connect(self.sign)
        self.doing.signs.connect(self.sign)
        self.doing.keeps.connect(self.kept)
        self.doing.stops.connect(self.act.stop)
        self.act.stepped.connect(lambda words: self.doing.show_state("working", words))
        self.act.signed.connect(self._finished)
        self.act.failed.connect(self._failed)

    # What a page says for itself

    def refresh(self) -> None:
        """Show the examination as it stands."""
        self.who.show_who(self.document.exam, self._certificate)
        self.doing.show_person(self.document.exam)
        self.preview.want(self.document.exam, self._kind, *self._added())
        self._show_foot()

    def _added(self) -> tuple[str, ...]:
        """Return what is signed beside the examination."""
        return ()

    def _blocked(self) -> str:
        """Return what stands in the way of a signature."""
        return blocked((), certificate=self._certificate, passphrase=self.secret.given, paper=self._paper_problem)

    def _first_lack(self) -> QWidget:
        """Return where the hand goes when something is lacking."""
        return self.who.choose if self._certificate is None else self.secret.field.editor

    def _following(self) -> str:
        """Return what the button does once the paper is signed; empty where nothing follows."""
        return ""

    def _follow(self) -> None:
        """Do that."""

    def _signed_as_it_stands(self) -> Signed | None:
        """Return the paper of this kind that was signed of the examination as it stands."""
        result = self._results.get(self._kind)
        return result[0] if result is not None and result[1] == self.document.exam else None

    # What the window calls

    def set_certificate(self, chosen: Path | str | None) -> None:
        """Sign with another certificate from now on: a file, or the address of a token."""
        self._certificate = chosen
        self._show_foot()

    def tell(self, words: str) -> None:
        """Say something below the buttons."""
        self.doing.told.say(words)
        self.columns.arrange()
        announce(self, words, at_once=True)

    # The paper

    def _choose_kind(self, kind: str) -> None:
        if self.act.running:
            self.paper.kinds.choose(self._kind)
            return
        self._kind = kind
        self._failure = ""
        self.doing.show_kind(kind)
        self.refresh()

    def _show_picture(self, picture: Picture) -> None:
        self._paper_problem = ""
        kind = _(KIND_WORDS[self._kind])
        if self.full.isVisible():
            self.full.show_picture(picture, kind)
        else:
            self.paper.show_picture(picture, kind)
        if self.text.isVisible():
            self.text.show_text(self.preview.text or "")
        self._show_foot()

    def _show_paper_problem(self, words: str) -> None:
        self._paper_problem = words
        self.paper.show_words(words)
        self._show_foot()

    def _read_as_text(self) -> None:
        self.text.show_text(self.preview.text or _(N_("The paper is being written.")))
        self.open_over(self.text, self.text.editor)

    # The signature

    def sign(self) -> None:
        """Sign, or put the hand where something is lacking and say what; what is signed is not signed again."""
        if self.act.running:
            return
        if self._signed_as_it_stands() is not None:
            self.secret.clear()
            self._follow() if self._following() else announce(self, self.doing.told.text(), at_once=True)
            return
        told = self._blocked()
        if told or self._certificate is None:
            target = self._first_lack()
            target.setFocus(Qt.FocusReason.OtherFocusReason)
            self.columns.reveal(target, target.rect())
            self._failure = ""
            self._show_foot()
            announce(self, told, at_once=True)
            return
        self._failure = ""
        self._before = self.document.seals
        # What is on its way to be signed must not become something else meanwhile.
        self.document.seal(_(N_("The paper is being signed.")))
        self.paper.kinds.setEnabled(False)
        self.act.begin(self.document.exam, self._kind, self._certificate, self.secret.take(), *self._added())
        self.doing.stop.setFocus(Qt.FocusReason.OtherFocusReason)

    def _retry(self) -> None:
        self._failure = ""
        self._show_foot()

    def _show_foot(self) -> None:
        if self.act.running:
            return
        told, done = self._blocked(), self._signed_as_it_stands()
        state: State = "blocked" if told else "ready"
        earlier = self._results.get(self._kind)
        if done is not None:
            words = _(N_("{signed} and saved as the file below. It can’t be changed."))
            if self._kind in {"note", "addendum"}:
                words = _(N_("{signed} and saved as the file below. It can’t be changed; add to it with an addendum."))
            self.doing.show_state("signed", words.format(signed=_by(done)), str(done.path), following=self._following())
        elif self._failure:
            self.doing.show_state(state, self._failure)
        elif earlier is not None:
            words = _(N_("{signed}. The examination has changed since: the signed paper doesn’t hold that."))
            self.doing.show_state(state, words.format(signed=_by(earlier[0])), str(earlier[0].path))
        else:
            self.doing.show_state(state, told)
        self.doing.show_keep(sealed=bool(self.document.sealed))
        self.who.show_who(self.document.exam, self._certificate)
        self.secret.say_of(self._certificate)
        self.secret.ask(done is None)
        self.who.offer(done is None)
        self.columns.arrange()
        self.columns.update()

    def _finished(self, signed: Signed, exam: Examination) -> None:
        self._let_go()
        self._results[signed.kind] = (signed, exam)
        self._failure = ""
        self._sealed_by(signed)
        self.refresh()
        self.doing.keep.setFocus(Qt.FocusReason.OtherFocusReason)
        self.columns.reveal(self.doing, self.doing.rect())
        announce(self, self.doing.told.text(), at_once=True)
        self.signed.emit(signed)

    def _sealed_by(self, signed: Signed) -> None:
        """Take note of what the signature closes."""

    def _let_go(self) -> None:
        """Let the examination and the kind of paper be as they were before the signature."""
        self.document.seal(*self._before)
        self.paper.kinds.setEnabled(True)

    def _failed(self, words: str) -> None:
        self._let_go()
        self._failure = words
        self._show_foot()
        self.secret.field.editor.setFocus(Qt.FocusReason.OtherFocusReason)
        self.columns.reveal(self.doing, self.doing.rect())
        announce(self, words, at_once=True)

    def _ask_certificate(self) -> None:
        path = self._choose_file(self)
        if path is not None:
            self._failure = ""
            self.set_certificate(path)
            self.certificate_chosen.emit(path)
            self.secret.field.editor.setFocus(Qt.FocusReason.OtherFocusReason)

    # Keys

    def event(self, event: QEvent) -> bool:
        """Keep the page's own keys from the window's shortcuts."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and event.key() in _OWN_KEYS:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Sign, or go back."""
        key = event.key()
        if key == Qt.Key.Key_F9:
            self.sign()
        elif key == Qt.Key.Key_Escape:
            self._escape()
        else:
            super().keyPressEvent(event)

    def _escape(self) -> None:
        if self.act.running:
            self.act.stop()
        elif self.full.isVisible() or self.text.isVisible():
            self.close_over()
        elif not self._give_up():
            self.secret.clear()
            self.left.emit()

    def _give_up(self) -> bool:
        """Close what is half done on the page; False where nothing is."""
        return False

    def hideEvent(self, event: QHideEvent) -> None:
        """Forget what was typed to sign with."""
        self.secret.clear()
        super().hideEvent(event)


def _by(signed: Signed) -> str:
    who = _(N_("Signed by {name} at {time}")).format(name=signed.name, time=f"{signed.at:%H:%M}")
    return f"{signed.warning} {who}" if signed.warning else who


def _chosen_certificate(parent: QWidget) -> Path | None:
    kinds = _(N_("Certificates with a key (*.p12 *.pfx)"))
    name, _kind = QFileDialog.getOpenFileName(parent, _(N_("The certificate that signs")), "", kinds)
    return Path(name) if name else None
