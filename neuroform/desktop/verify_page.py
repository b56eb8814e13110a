"""A page for someone who only has the file: whether a paper can be relied on, in one sentence first, then why."""

import logging
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime, time
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from neuroform.desktop.long_page import Dressed, LongPage
from neuroform.desktop.painted import announce
from neuroform.desktop.read_and_sign.pages import ONE_AT_A_TIME
from neuroform.desktop.read_and_sign.parts import PAD, Heading, Push, Said, Word
from neuroform.desktop.read_and_sign.standing import watch
from neuroform.desktop.read_and_sign.writing import Line
from neuroform.desktop.theme import Role, Theme
from neuroform.desktop.work import Work
from neuroform.errors import NeuroformError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.settings import Settings, expanded
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


class VerifyPage(LongPage):
    """Verifies any paper, those kept here by name.

    Signals beside the page's: `opened(looked, path)` the examination in a paper is to be read, never changed.
    """

    opened = Signal(object, object)

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
        super().__init__(theme, widest=WIDEST, spacing=4, parent=parent)
        self._check, self._work = check_paper, work
        self._stands = watch(self)
        self._choose_file = choose_file or _chosen_paper
        self._kept = kept or tuple
        self._round = 0
        self._looked: tuple[Looked, Path] | None = None
        self._found: list[Said | Heading] = []
        self.papers: list[Word] = []
        self.path = Line(theme, _(N_("File of the paper")))
        self.path.entered.connect(self._entered)
        self.choose = Push(theme, _(N_("Choose a paper")))
        self.choose.clicked.connect(self._choose)
        self.sentence = Said(theme, "", "person")
        self.read = Word(theme, _(N_("open its examination, to read")))
        self.read.clicked.connect(self._read)
        self.read.hide()
        self._papers_head = Heading(theme, _(N_("Papers kept here")))
        self._answer, self._list = QVBoxLayout(), QVBoxLayout()
        self._lay(theme)
        self.setFocusProxy(self.path)
        self.list_papers()

    def _lay(self, theme: Theme) -> None:
        title = Said(theme, _(N_("Verify a paper")), "title")
        told = Said(theme, _(N_("Who signed it, when, and whether anything was changed since.")), "body", "ink2")
        self.dressed += [title, told, self.path, self.choose, self.sentence, self.read, self._papers_head]
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, PAD, 0)
        row.setSpacing(theme.px(16))
        row.addWidget(self.path, 1)
        row.addWidget(self.choose)
        for held in (self._answer, self._list):
            held.setSpacing(theme.px(2))
        column = self.column
        column.addWidget(title)
        column.addWidget(told)
        column.addSpacing(theme.px(8))
        column.addLayout(row)
        column.addSpacing(theme.px(16))
        column.addWidget(self.sentence)
        column.addLayout(self._answer)
        column.addWidget(self.read, 0, Qt.AlignmentFlag.AlignLeft)
        column.addSpacing(theme.px(16))
        column.addWidget(self._papers_head)
        column.addLayout(self._list)
        column.addStretch()

    def parts(self) -> Iterable[Dressed]:
        """Return everything that is dressed with the page."""
        return (*self.dressed, *self._found, *self.papers)

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
                self._looked = (found, path)
                self._show(found)

        def failed(error: Exception) -> None:
            if self._stands() and now == self._round:
                self._fail(error)

        self._work.run(lambda: self._check(path), done, on_failed=failed)

    def answer(self) -> str:
        """Return everything that was found, as text."""
        return "\n".join([self.sentence.text(), *(each.text() for each in self._found if isinstance(each, Said))])

    def tell(self, words: str) -> None:
        """Say, below the answer, why the examination can't be shown."""
        self._say(words, "body")
        announce(self, words, at_once=True)

    def _read(self) -> None:
        if self._looked is not None:
            self.opened.emit(*self._looked)

    def _entered(self) -> None:
        if self.path.text().strip():
            try:
                path = expanded(self.path.text().strip())
            except NeuroformError as refused:
                self.tell(str(refused))
                return
            self.open_file(path)

    def _choose(self) -> None:
        path = self._choose_file(self)
        if path is not None:
            self.open_file(path)

    def _clear(self) -> None:
        for each in self._found:
            self._answer.removeWidget(each)
            each.deleteLater()
        self._found = []
        self._looked = None
        self.read.hide()

    def _show(self, found: Looked) -> None:
        self.sentence.say(found.verification.sentence)
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
