"""Read and sign: one page with what is lacking, the examiner's words, the paper itself, and the signature."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QFileDialog, QWidget

from neuroform.desktop.document import Document
from neuroform.desktop.judge import Conclusions, Judge
from neuroform.desktop.painted import announce
from neuroform.desktop.read_and_sign import lacking
from neuroform.desktop.read_and_sign.blocking import blocked
from neuroform.desktop.read_and_sign.desk import KIND_WORDS, Desk, Signed
from neuroform.desktop.read_and_sign.differences import same_words
from neuroform.desktop.read_and_sign.doubts import doubts, too_slow
from neuroform.desktop.read_and_sign.lacking import Lacking
from neuroform.desktop.read_and_sign.letter_part import READER, telephone_first
from neuroform.desktop.read_and_sign.page_parts import PageParts
from neuroform.desktop.read_and_sign.pages import Picture
from neuroform.desktop.read_and_sign.preview import Preview
from neuroform.desktop.read_and_sign.signing_act import SigningAct
from neuroform.desktop.read_and_sign.words_column import IMPRESSION, PARAGRAPH
from neuroform.desktop.theme import Theme
from neuroform.desktop.work import Work
from neuroform.exam.examination import Examination
from neuroform.language import N_, _

_OWN_KEYS = frozenset({Qt.Key.Key_F9, Qt.Key.Key_Escape})
ChooseFile = Callable[[QWidget], Path | None]


class ReadAndSign(PageParts):
    """Holds no examination: what is done here changes the document, and it is shown as the document stands.

    Signals: `went(path)` to answer an item in the form, `left()` back to the form, `kept()` the person keeps the draft,
    `signed(signed)` a paper was signed and saved, `certificate_chosen(path)`.
    """

    went = Signal(str)
    left = Signal()
    kept = Signal()
    signed = Signal(object)
    certificate_chosen = Signal(object)

    def __init__(
        self,
        theme: Theme,
        document: Document,
        judge: Judge,
        desk: Desk,
        work: Work,
        *,
        certificate: Path | str | None = None,
        choose_file: ChooseFile | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(theme, desk.kinds, desk.shown_passphrase, parent)
        self.document = document
        self._judge, self._certificate, self._desk = judge, certificate, desk
        self._choose_file = choose_file or _chosen_certificate
        self._conclusions: Conclusions | None = None
        self._generated = ""
        self._kind = desk.kinds[0]
        self._paper_problem = ""
        self._result: tuple[Signed, Examination] | None = None
        self._failure = ""
        self._writing = ""
        self._dirty = True
        self.preview = Preview(desk, work, self)
        self.act = SigningAct(desk, work, self)
        self.sized = self.preview.set_width
        self.paper.kinds.choose(self._kind)
        self._connect()
        document.listen(self._changed)

    def _connect(self) -> None:
        self.gaps.went.connect(self._go)
        self.gaps.left_out.connect(self._leave_out)
        self.gaps.explained.connect(self._explain)
        self.gaps.moved.connect(lambda: self.columns.reveal(self.gaps, self.gaps.at_rect()))
        self.gaps.ended.connect(lambda: self.words.fields[IMPRESSION].setFocus(Qt.FocusReason.TabFocusReason))
        self.words.wrote.connect(self._write)
        self.words.hurried.connect(lambda code: self.document.put("conclusion.urgency", code))
        self.words.letter.sent.connect(lambda code: self.document.put(READER, code or None))
        self.words.as_written.connect(lambda: self.document.put(PARAGRAPH, None))
        for field in self.words.fields.values():
            field.entered.connect(lambda: self.focusNextPrevChild(True))
            field.left.connect(self._rest)
            field.undone.connect(self.document.undo)
            field.redone.connect(self.document.redo)
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

    # What the window calls

    def open(self) -> None:
        """Show the examination as it stands, the hand on the first gap."""
        self.refresh()
        self.gaps.setFocus(Qt.FocusReason.OtherFocusReason)

    def set_certificate(self, chosen: Path | str | None) -> None:
        """Sign with another certificate from now on: a file, or the address of a token."""
        self._certificate = chosen
        self._show_foot()

    def keys(self) -> tuple[tuple[str, str], ...]:
        """Return the keys that work here: what each does, and its name."""
        return (
            (_(N_("next gap")), "Enter"),
            (_(N_("sign")), "F9"),
            (_(N_("back")), "Esc"),
            (_(N_("keys")), "F1"),
        )

    # What the document holds

    def _changed(self, _paths: tuple[str, ...]) -> None:
        self._dirty = True
        self._failure = ""
        if self.isVisible():
            self.refresh()

    def refresh(self) -> None:
        """Show the examination as it stands."""
        self._dirty = False
        exam = self.document.exam
        try:
            found: Conclusions | None = self._judge.conclude(exam)
        except Exception:  # whatever fails, an examination that was not checked is never signed
            found = None
        self._conclusions = found
        self._generated = " ".join(sentence.text for sentence in found.sentences) if found else ""
        self.gaps.show_gaps(lacking.lacking(found.gaps, exam) if found else {})
        slow = too_slow(exam, found.reading) if found else ""
        self.words.show_exam(exam, self._generated, slow, but=self._writing)
        self._show_letter(exam, found)
        for path in (IMPRESSION, PARAGRAPH):
            text = self.words.fields[path].text()
            needed = self._judge.needed(exam, found) if found else ()
            doubtful = doubts(text, self._generated, exam, found.reading, needed) if found else ()
            self.words.show_doubts(path, doubtful, self._generated)
        self.who.show_who(exam, self._certificate)
        self.doing.show_person(exam)
        self.preview.want(exam, self._kind)
        self._show_foot()
        self._show_last()

    def _show_letter(self, exam: Examination, found: Conclusions | None) -> None:
        propose = self._desk.propose_reader
        proposed = propose(exam, found.reading) if propose is not None and found is not None else None
        self.words.letter.setVisible(self._kind == "referral")
        self.words.letter.show_reader(exam, proposed)
        urgent = found is not None and any(each.urgency == "immediate" for each in found.reading.urgent)
        self.words.telephone.say(telephone_first(self._desk.telephones) if urgent else "")

    def _write(self, path: str, text: str) -> None:
        kept: str | None = text if text.strip() else None
        if path == PARAGRAPH and same_words(text, self._generated):
            kept = None
        self._writing = path
        self.document.put(path, kept, typing=True)
        self._writing = ""
        if text.endswith((".", "\n")):
            self.document.stop_typing()
        if self.isVisible() and self.document.get(path) == kept:
            self._mark(path)

    def _mark(self, path: str) -> None:
        found = self._conclusions
        if found is not None and path in {IMPRESSION, PARAGRAPH}:
            exam = self.document.exam
            text = self.words.fields[path].text()
            doubtful = doubts(text, self._generated, exam, found.reading, self._judge.needed(exam, found))
            self.words.show_doubts(path, doubtful, self._generated)

    def _rest(self) -> None:
        self.document.stop_typing()
        if self._conclusions is not None and self.isVisible():
            slow = too_slow(self.document.exam, self._conclusions.reading)
            self.words.show_exam(self.document.exam, self._generated, slow)

    # Gaps

    def _go(self, gap: Lacking) -> None:
        path = lacking.first_place(gap.gap)
        if path is not None:
            self.went.emit(path)

    def _leave_out(self, gap: Lacking, code: str) -> None:
        found = lacking.left_out(self.document.exam, gap.gap, code)
        self.document.put_all(found, at=next(iter(found), None))

    def _explain(self, gap: Lacking, reason: str) -> None:
        exam = lacking.explained(self.document.exam, gap.gap, reason)
        if exam != self.document.exam:
            self.document.replace(exam, ("conclusion.gap_reasons",))
        if reason.strip():
            self.gaps.next_gap()

    # The paper

    def _choose_kind(self, kind: str) -> None:
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
        """Sign, or put the hand where something is lacking and say what."""
        told = self._blocked()
        if self.act.running:
            return
        if told or self._certificate is None:
            self._lead()
            self._failure = ""
            self._show_foot()
            announce(self, told, at_once=True)
            return
        self._result, self._failure = None, ""
        passphrase = self.secret.take()
        self.act.begin(self.document.exam, self._kind, self._certificate, passphrase)
        self.doing.stop.setFocus(Qt.FocusReason.OtherFocusReason)

    def _lead(self) -> None:
        """Put the hand on the first thing that stands in the way."""
        gaps = self._conclusions.gaps if self._conclusions else ()
        if self._conclusions is None or any(gap.counts for gap in gaps):
            target: QWidget = self.gaps
        elif self._certificate is None:
            target = self.who.choose
        else:
            target = self.secret.field.editor
        target.setFocus(Qt.FocusReason.OtherFocusReason)
        self.columns.reveal(target, target.rect())

    def _blocked(self) -> str:
        gaps = self._conclusions.gaps if self._conclusions else None
        return blocked(gaps, certificate=self._certificate, passphrase=self.secret.given, paper=self._paper_problem)

    def _retry(self) -> None:
        self._failure = ""
        self._show_foot()

    def _show_foot(self) -> None:
        if self.act.running:
            return
        told = self._blocked()
        result = self._result
        if self._failure:
            self.doing.show_state("blocked" if told else "ready", self._failure)
        elif result is not None and result[0].kind == self._kind:
            self._show_result(*result, told)
        else:
            self.doing.show_state("blocked" if told else "ready", told)
        self.who.show_who(self.document.exam, self._certificate)
        self.secret.say_of(self._certificate)
        self.columns.arrange()
        self.columns.update()

    def _show_result(self, signed: Signed, exam: Examination, told: str) -> None:
        who = _(N_("Signed by {name} at {time}")).format(name=signed.name, time=f"{signed.at:%H:%M}")
        if signed.warning:
            who = f"{signed.warning} {who}"
        if exam == self.document.exam:
            words = _(N_("{signed} and saved as the file below. It can’t be changed; add to it with an addendum."))
            self.doing.show_state("signed", words.format(signed=who), str(signed.path))
            return
        words = _(N_("{signed}. The examination has changed since: the signed paper doesn’t hold that."))
        self.doing.show_state("blocked" if told else "ready", words.format(signed=who), str(signed.path))

    def _finished(self, signed: Signed, exam: Examination) -> None:
        self._result, self._failure = (signed, exam), ""
        self._show_foot()
        self.doing.keep.setFocus(Qt.FocusReason.OtherFocusReason)
        self.columns.reveal(self.doing, self.doing.rect())
        announce(self, self.doing.told.text(), at_once=True)
        self.signed.emit(signed)

    def _failed(self, words: str) -> None:
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

    # The window

    def _show_last(self) -> None:
        found = self._conclusions
        if found is None:
            self.last.show_line(_(N_("This examination could not be checked")), "", self.keys())
            return
        open_gaps = sum(gap.counts for gap in found.gaps)
        needed = _(N_("{count} needed to sign")).format(count=open_gaps) if open_gaps else _(N_("No gaps"))
        progress = _(N_("{answered} of {total} answered or explained"))
        told = progress.format(answered=found.progress.answered, total=found.progress.total)
        self.last.show_line(needed, told, self.keys())

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
        elif not self.gaps.give_up():
            self.secret.clear()
            self.left.emit()

    def showEvent(self, event: QShowEvent) -> None:
        """Show what changed meanwhile."""
        super().showEvent(event)
        self._arrange()
        if self._dirty:
            self.refresh()

    def hideEvent(self, event: QHideEvent) -> None:
        """Forget what was typed to sign with."""
        self.secret.clear()
        super().hideEvent(event)


def _chosen_certificate(parent: QWidget) -> Path | None:
    kinds = _(N_("Certificates with a key (*.p12 *.pfx)"))
    name, _kind = QFileDialog.getOpenFileName(parent, _(N_("The certificate that signs")), "", kinds)
    return Path(name) if name else None
