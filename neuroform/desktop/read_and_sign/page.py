"""Read and sign: one page with what is lacking, the examiner's words, the paper itself, and the signature."""

import logging
from collections.abc import Callable
from pathlib import Path

from pydantic import ValidationError
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from neuroform.completeness.gaps import Gap
from neuroform.desktop.document import Document
from neuroform.desktop.judge import Conclusions, Judge
from neuroform.desktop.keyboard import key_word
from neuroform.desktop.opening import CLOSED, LETTER
from neuroform.desktop.printable import NOT_KEPT
from neuroform.desktop.read_and_sign import contradicted, lacking
from neuroform.desktop.read_and_sign.blocking import blocked
from neuroform.desktop.read_and_sign.desk import Desk, Signed
from neuroform.desktop.read_and_sign.differences import same_words
from neuroform.desktop.read_and_sign.doubts import Doubt, doubts, too_slow
from neuroform.desktop.read_and_sign.gap_list import GapList
from neuroform.desktop.read_and_sign.lacking import Lacking
from neuroform.desktop.read_and_sign.letter_part import READER, telephone_first
from neuroform.desktop.read_and_sign.page_parts import headed
from neuroform.desktop.read_and_sign.parts import Heading
from neuroform.desktop.read_and_sign.signing_page import ChooseFile, Results, SigningPage
from neuroform.desktop.read_and_sign.standing import watch
from neuroform.desktop.read_and_sign.withdrawn_list import WithdrawnList
from neuroform.desktop.read_and_sign.words_column import IMPRESSION, PARAGRAPH, WordsColumn
from neuroform.desktop.theme import Theme
from neuroform.desktop.work import Cancel, Cancelled, Work
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.workflow.withdrawn import Withdrawn

log = logging.getLogger(__name__)


History = Callable[[Cancel], tuple[Withdrawn, ...]]
"""Returns the urgent findings that were withdrawn; stops where it is asked to."""


class ReadAndSign(SigningPage):
    """Holds no examination: what is done here changes the document, and it is shown as the document stands.

    Signals beside the page's: `went(path)` to answer an item in the form, `adds()` an addendum is to be written.
    """

    went = Signal(str)
    adds = Signal()

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
        results: Results | None = None,
        history: History | None = None,
        reads: Work | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Show what `history` tells was withdrawn; called from a worker of `reads`, which may end before `work`."""
        self.gaps = GapList(theme)
        self.gaps_head = Heading(theme, _(N_("Gaps")), role="strong")
        self.withdrawn = WithdrawnList(theme)
        self.words = WordsColumn(theme)
        super().__init__(
            theme,
            _(N_("Read and sign")),
            "",
            document=document,
            desk=desk,
            work=work,
            columns=(headed(theme, self.withdrawn, self.gaps_head, self.gaps), self.words),
            certificate=certificate,
            choose_file=choose_file,
            results=results,
            parent=parent,
        )
        self.dressed += [self.gaps_head, self.gaps, self.withdrawn, self.words]
        self.setFocusProxy(self.gaps)
        self._judge, self._work, self._history = judge, work, history
        self._stands = watch(self)
        self._reads, self._reading = reads or work, Cancel()
        self._conclusions: Conclusions | None = None
        self._gaps: tuple[Gap, ...] = ()
        self._generated = ""
        self._writing = ""
        self._dirty = True
        self._connect()
        document.listen(self._changed)

    def _connect(self) -> None:
        self.gaps.went.connect(self._go)
        self.gaps.left_out.connect(self._leave_out)
        self.gaps.explained.connect(self._explain)
        self.gaps.all_explained.connect(self._explain_all)
        self.gaps.moved.connect(lambda: self.columns.reveal(self.gaps, self.gaps.at_rect()))
        self.gaps.ended.connect(lambda: self.words.fields[IMPRESSION].setFocus(Qt.FocusReason.TabFocusReason))
        self.words.wrote.connect(self._write)
        self.words.hurried.connect(lambda code: self.document.put("conclusion.urgency", code))
        self.words.letter.sent.connect(lambda code: self.document.put(READER, code or None))
        self.words.as_written.connect(self._as_written)
        for field in self.words.fields.values():
            field.entered.connect(lambda: self.focusNextPrevChild(True))
            field.left.connect(self._rest)
            field.undone.connect(self.document.undo)
            field.redone.connect(self.document.redo)

    # What the window calls

    def open(self) -> None:
        """Show the examination as it stands, the hand on the first gap; where it is signed, on what follows."""
        self.refresh()
        if self._history is not None:
            self._read_history(self._history)
        first = self.doing.sign if self._signed_as_it_stands() is not None and self._following() else self.gaps
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _read_history(self, history: History) -> None:
        self._reading.ask()
        cancel = self._reading = Cancel()
        self._reads.run(lambda: history(cancel), self._show_withdrawn, on_failed=self._no_history, cancel=cancel)

    def _show_withdrawn(self, found: tuple[Withdrawn, ...]) -> None:
        if self._stands():
            self.withdrawn.show_withdrawn(found)
            self.columns.arrange()

    def _no_history(self, error: Exception) -> None:
        if isinstance(error, Cancelled):
            return
        log.error("what was withdrawn could not be read: %s", type(error).__name__)
        if self._stands():
            self.withdrawn.say(_(N_("Whether an urgent finding was withdrawn can’t be read back.")))

    def keys(self) -> tuple[tuple[str, str], ...]:
        """Return the keys that work here: what each does, and its name."""
        signs = self._following() if self._signed_as_it_stands() is not None else _(N_("sign"))
        next_gap = () if self.document.sealed else ((_(N_("next gap")), key_word("Enter")),)
        return (
            *next_gap,
            *(((_(N_("next examination")), "F10"),) if self.document.sealed else ()),
            *(((signs[:1].lower() + signs[1:], "F9"),) if signs else ()),
            (_(N_("back")), "Esc"),
            (_(N_("keys")), "F1"),
        )

    # What the document holds

    def _changed(self, _paths: tuple[str, ...]) -> None:
        if not self._stands():
            self.document.forget(self._changed)
            return
        self._dirty = True
        self._failure = ""
        if self.isVisible():
            self.refresh()

    def refresh(self) -> None:
        """Show the examination as it stands."""
        self._dirty = False
        exam, sealed = self.document.exam, bool(self.document.sealed)
        try:
            found: Conclusions | None = self._judge.conclude(exam)
        except Exception:  # whatever fails, an examination that was not checked is never signed
            found = None
        self._conclusions = found
        self._generated = " ".join(sentence.text for sentence in found.sentences) if found else ""
        slow = too_slow(exam, found.reading) if found else ""
        self.words.show_exam(exam, self._generated, slow, but=self._writing)
        self.words.seal(sealed)
        self._show_letter(exam, found)
        self._judge_words()
        draft = _(N_("The note as it will be kept. It stays a draft until you sign."))
        self.say_below_title(self.document.sealed or draft)
        super().refresh()
        self._show_last()

    def _judge_words(self) -> None:
        """Mark the words that say more than the findings, and ask a reason for those of the interpretation."""
        exam, found = self.document.exam, self._conclusions
        self.words.show_doubts(IMPRESSION, self._doubts(IMPRESSION), self._generated)
        doubtful = self._doubts(PARAGRAPH)
        self.words.show_doubts(PARAGRAPH, doubtful, self._generated)
        edited = exam.conclusion.paragraph is not None
        self._gaps = (*(contradicted.gaps(doubtful, exam) if edited else ()), *(found.gaps if found else ()))
        self.gaps.show_gaps(lacking.lacking(self._gaps, exam, sealed=bool(self.document.sealed)) if found else {})

    def _doubts(self, path: str) -> tuple[Doubt, ...]:
        found, exam = self._conclusions, self.document.exam
        if found is None:
            return ()
        text = self.words.fields[path].text()
        return doubts(text, self._generated, exam, found.reading, self._judge.needed(exam, found))

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
        if self.isVisible() and self.document.get(path) == kept and path in {IMPRESSION, PARAGRAPH}:
            self._judge_words()

    def _as_written(self) -> None:
        self.document.put(PARAGRAPH, None)
        self._drop_stale_reasons()

    def _rest(self) -> None:
        self.document.stop_typing()
        if self._conclusions is not None and self.isVisible():
            self._drop_stale_reasons()
            slow = too_slow(self.document.exam, self._conclusions.reading)
            self.words.show_exam(self.document.exam, self._generated, slow)

    def _drop_stale_reasons(self) -> None:
        """Take back reasons for what the wording no longer says."""
        edited = self.document.exam.conclusion.paragraph is not None
        exam = contradicted.without_stale(self.document.exam, self._doubts(PARAGRAPH) if edited else ())
        if exam is not self.document.exam:
            self.document.replace(exam, ("conclusion.gap_reasons",))

    # Gaps

    def _go(self, gap: Lacking) -> None:
        if gap.gap.rule == contradicted.WORDING_RULE:
            self.words.open_wording()
            return
        path = lacking.first_place(gap.gap)
        if path is not None:
            self.went.emit(path)

    def _leave_out(self, gap: Lacking, code: str) -> None:
        found = lacking.left_out(self.document.exam, gap.gap, code)
        self.document.put_all(found, at=next(iter(found), None))

    def _explain(self, gap: Lacking, reason: str) -> None:
        try:
            if gap.gap.rule == contradicted.WORDING_RULE:
                exam = contradicted.explained(self.document.exam, gap.gap, reason, self._doubts(PARAGRAPH))
            else:
                exam = lacking.explained(self.document.exam, gap.gap, reason)
        except ValidationError:
            self.tell(_(NOT_KEPT))
            return
        if exam != self.document.exam:
            self.document.replace(exam, ("conclusion.gap_reasons",))
        if reason.strip():
            self.gaps.next_gap()

    def _explain_all(self, reason: str) -> None:
        """Give one reason for every gap that asks for one before the signature."""
        exam = self.document.exam
        for gap in self._gaps:
            if lacking.asks_for_a_reason(gap):
                exam = lacking.explained(exam, gap, reason)
        if exam != self.document.exam:
            self.document.replace(exam, ("conclusion.gap_reasons",))
            self.gaps.next_gap()

    def _give_up(self) -> bool:
        return self.gaps.give_up()

    # The signature

    def _first_lack(self) -> QWidget:
        if self._conclusions is None or any(gap.counts or lacking.asks_for_a_reason(gap) for gap in self._gaps):
            self.gaps.lead()
            return self.gaps
        return super()._first_lack()

    def _blocked(self) -> str:
        gaps = self._gaps if self._conclusions else None
        return blocked(gaps, certificate=self._certificate, passphrase=self.secret.given, paper=self._paper_problem)

    def _signed_as_it_stands(self) -> Signed | None:
        if self._kind == "note" and "note" in self._results:
            return self._results["note"][0]
        return super()._signed_as_it_stands()

    def _following(self) -> str:
        return _(N_("Write an addendum")) if self._kind == "note" else ""

    def _follow(self) -> None:
        self.adds.emit()

    def _sealed_by(self, signed: Signed) -> None:
        if signed.kind == "note":
            self.document.seal(_(CLOSED), LETTER)

    # The window

    def _show_last(self) -> None:
        found = self._conclusions
        if found is None:
            self.last.show_line(_(N_("This examination could not be checked")), "", self.keys())
            return
        progress = _(N_("{answered} of {total} answered or explained"))
        told = progress.format(answered=found.progress.answered, total=found.progress.total)
        needed = _(N_("Signed")) if self._signed_as_it_stands() else lacking.still_needed(self._gaps)
        self.last.show_line(needed, told, self.keys())

    def showEvent(self, event: QShowEvent) -> None:
        """Show what changed meanwhile."""
        super().showEvent(event)
        self._arrange()
        if self._dirty:
            self.refresh()
