"""A page for someone who only has the file: whether a paper can be relied on, in one sentence first, then why."""

import logging
from collections.abc import Callable, Sequence
from datetime import datetime, time
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from neuroform.desktop.painted import announce
from neuroform.desktop.read_and_sign.overlays import Scrolling
from neuroform.desktop.read_and_sign.pages import ONE_AT_A_TIME
from neuroform.desktop.read_and_sign.parts import PAD, Heading, Push, Said, Word
from neuroform.desktop.read_and_sign.standing import watch
from neuroform.desktop.read_and_sign.writing import Line
from neuroform.desktop.shape import margin
from neuroform.desktop.theme import Role, Theme
from neuroform.desktop.work import Work
from neuroform.errors import NeuroformError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.settings import Settings
from neuroform.signing import moments
from neuroform.workflow import signing, verifying
from neuroform.workflow.files import read_file
from neuroform.workflow.verifying import Looked

if TYPE_CHECKING:
    from neuroform.signing.verification import Signature

log = logging.getLogger(__name__)

LISTED = 12
"""Papers kept here that are listed, the newest first; any other is chosen as a file."""
WIDEST = 760
"""Units; longer lines read badly."""


Check = Callable[[Path], Looked]
Kept = Callable[[], Sequence[Path]]
ChooseFile = Callable[[QWidget], Path | None]


def check(path: Path, settings: Settings) -> Looked:
    """Verify a paper by the authorities in the settings; slow, so call it from a worker.

    Raises FileError when a file can't be read, SigningError when it is no PDF or an authority's file holds none.
    """
    paper = read_file(path)
    verification = signing.verify_paper(paper, settings)
    with ONE_AT_A_TIME:
        return verifying.looked_into(paper, verification, settings)


class VerifyPage(QWidget):
    """Verifies any paper, those kept here by name.

    Signals: `left()` the person goes back, `opened(exam)` the examination in the paper is to be read, never changed.
    """

    left = Signal()
    opened = Signal(object)

    def __init__(
        self,
        theme: Theme,
        check_paper: Check,
        work: Work,
        *,
        kept: Kept | None = None,
        choose_file: ChooseFile | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Verify with `check_paper`, in a worker; `kept` returns the papers of this workplace, the newest first."""
        super().__init__(parent)
        self.theme = theme
        self._check, self._work = check_paper, work
        self._stands = watch(self)
        self._choose_file = choose_file or _chosen_paper
        self._kept = kept or tuple
        self._round = 0
        self._exam: Examination | None = None
        title = Said(theme, _(N_("Verify a paper")), "title")
        told = _(N_("Who signed it, when, and whether anything was changed since."))
        self.path = Line(theme, _(N_("File of the paper")))
        self.path.entered.connect(self._entered)
        self.choose = Push(theme, _(N_("Choose a paper")))
        self.choose.clicked.connect(self._choose)
        self.sentence = Said(theme, "", "person")
        self.read = Word(theme, _(N_("open its examination, to read")))
        self.read.clicked.connect(lambda: self.opened.emit(self._exam))
        self.read.hide()
        self._themed: list[Said | Heading | Push | Line | Word] = [
            title,
            Said(theme, told, "body", "ink2"),
            self.path,
            self.choose,
            self.sentence,
            self.read,
        ]
        self._found: list[Said | Heading] = []
        self.papers: list[Word] = []
        self._papers_head = Heading(theme, _(N_("Papers kept here")))
        self._themed.append(self._papers_head)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, PAD, 0)
        row.setSpacing(theme.px(16))
        row.addWidget(self.path, 1)
        row.addWidget(self.choose)
        self._held = QWidget()
        self._column = QVBoxLayout(self._held)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.px(4))
        self._column.addWidget(title)
        self._column.addWidget(self._themed[1])
        self._column.addSpacing(theme.px(8))
        self._column.addLayout(row)
        self._column.addSpacing(theme.px(16))
        self._column.addWidget(self.sentence)
        self._answer = QVBoxLayout()
        self._answer.setSpacing(theme.px(2))
        self._column.addLayout(self._answer)
        self._column.addWidget(self.read, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addSpacing(theme.px(16))
        self._column.addWidget(self._papers_head)
        self._list = QVBoxLayout()
        self._list.setSpacing(theme.px(2))
        self._column.addLayout(self._list)
        self._column.addStretch()
        self.area = Scrolling(theme, self._held, self)
        self.setFocusProxy(self.path)
        self.list_papers()

    def list_papers(self) -> None:
        """Name the papers kept here as they are now."""
        for word in self.papers:
            self._list.removeWidget(word)
            word.deleteLater()
        self.papers = []
        for path in list(self._kept())[:LISTED]:
            word = Word(self.theme, path.stem)
            word.setAccessibleDescription(_(N_("verify this paper")))
            word.clicked.connect(lambda _checked=False, path=path: self.open_file(path))
            self._list.addWidget(word, 0, Qt.AlignmentFlag.AlignLeft)
            self.papers.append(word)
        self._papers_head.setVisible(bool(self.papers))

    def open_file(self, path: Path) -> None:
        """Verify a paper and say what was found."""
        self.path.set_text(str(path))
        self._round += 1
        now = self._round
        self._clear()
        self.sentence.say(_(N_("Reading the paper.")))

        def done(found: Looked) -> None:
            if self._stands() and now == self._round:
                self._show(found)

        def failed(error: Exception) -> None:
            if self._stands() and now == self._round:
                self._fail(error)

        self._work.run(lambda: self._check(path), done, on_failed=failed)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        for held in (self._themed, self._found, self.papers):
            for each in held:
                each.set_theme(theme)
        self.area.dress(theme)
        self._place()
        self.update()

    def answer(self) -> str:
        """Return everything that was found, as text."""
        return "\n".join([self.sentence.text(), *(each.text() for each in self._found if isinstance(each, Said))])

    def _entered(self) -> None:
        if self.path.text().strip():
            self.open_file(Path(self.path.text().strip()).expanduser())

    def _choose(self) -> None:
        path = self._choose_file(self)
        if path is not None:
            self.open_file(path)

    def _clear(self) -> None:
        for each in self._found:
            self._answer.removeWidget(each)
            each.deleteLater()
        self._found = []
        self._exam = None
        self.read.hide()

    def _show(self, found: Looked) -> None:
        self.sentence.say(found.verification.sentence)
        self._exam = found.exam
        if found.verification.signatures:
            self._head(_(N_("Signatures")))
        for signature in found.verification.signatures:
            self._signature(signature)
        if found.verification.listed:
            self._say(found.verification.listed, "secondary", "ink2")
        if found.comparison is not None:
            self._head(_(N_("The examination in this paper")))
            if found.exam is not None:
                self._say(_person(found.exam), "label")
            self._say(found.comparison.sentence, "body")
        self.read.setVisible(found.exam is not None)
        announce(self, self.sentence.text(), at_once=True)

    def _signature(self, signature: "Signature") -> None:
        self._say(verifying.headline(signature), "label")
        self._say(verifying.state(signature), "secondary", "ink2")
        if signature.problem is not None and signature.problem not in self.sentence.text():
            self._say(signature.problem, "secondary")

    def _fail(self, error: Exception) -> None:
        if isinstance(error, NeuroformError):
            told = str(error)
        else:
            log.error("verifying failed: %s", type(error).__name__)
            told = _(N_("This paper could not be verified. Don’t rely on it."))
        self.sentence.say(told)
        announce(self, told, at_once=True)

    def _head(self, words: str) -> None:
        self._answer.addSpacing(self.theme.px(12))
        self._add(Heading(self.theme, words))

    def _say(self, words: str, role: Role, token: str = "ink") -> None:
        self._add(Said(self.theme, words, role, token))

    def _add(self, widget: Said | Heading) -> None:
        self._answer.addWidget(widget)
        self._found.append(widget)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back with Escape."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Place everything anew."""
        super().resizeEvent(event)
        self._place()

    def _place(self) -> None:
        theme = self.theme
        edge = margin(self.width(), theme.scale) - PAD
        self.area.setGeometry(edge, theme.px(14), self.width() - 2 * edge, self.height() - theme.px(14))
        self._held.setMaximumWidth(min(theme.px(WIDEST), self.area.width()))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the sheet."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.theme.colour("sheet"))
        painter.end()


def _person(exam: Examination) -> str:
    patient, encounter = exam.patient, exam.encounter
    name = ", ".join(part for part in (patient.family_name, patient.given_names) if part)
    born = moments.day(datetime.combine(patient.birth_date, time.min))
    words = _(N_("{name}, born {born}; examined {when} by {examiner}"))
    when = moments.minute(encounter.examined_at)
    return words.format(name=name, born=born, when=when, examiner=encounter.examiner)


def _chosen_paper(parent: QWidget) -> Path | None:
    name, _kind = QFileDialog.getOpenFileName(parent, _(N_("The paper")), "", _(N_("Papers (*.pdf)")))
    return Path(name) if name else None
