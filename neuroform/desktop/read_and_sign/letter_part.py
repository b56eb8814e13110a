"""What a letter needs beside the findings: to whom it goes, the question, what was done, whom to ring."""

from collections.abc import Iterable, Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from neuroform.desktop.read_and_sign.choosing import Choosing
from neuroform.desktop.read_and_sign.parts import Heading, Said, Word
from neuroform.desktop.read_and_sign.writing import Writing
from neuroform.desktop.theme import Theme
from neuroform.exam.conclusion import LETTER_TO
from neuroform.exam.examination import Examination
from neuroform.exam.walk import entry
from neuroform.language import N_, _
from neuroform.settings import Telephone

READER = "conclusion.letter.to"
LETTER = tuple(f"conclusion.letter.{name}" for name in ("recipient", "question", "done", "contact"))


class LetterPart(QWidget):
    """Shown where the paper is a letter. Signals: `sent(code)` to whom it goes, empty to follow the proposal."""

    sent = Signal(str)

    def __init__(self, theme: Theme, fields: Mapping[str, Writing], parent: QWidget | None = None) -> None:
        """Hold the `fields` of the texts, by their paths."""
        super().__init__(parent)
        self.fields = dict(fields)
        self.to = Choosing(theme, _(N_("The letter goes to")), LETTER_TO.words)
        self.to.chosen.connect(self.sent)
        self.proposal = Said(theme, "", "secondary", "ink2")
        self.follow = Word(theme, _(N_("send it there")))
        self.follow.clicked.connect(lambda: self.sent.emit(""))
        self._heads = [Heading(theme, _(N_("The letter goes to")))]
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, theme.px(8))
        layout.setSpacing(theme.px(2))
        for widget in (self._heads[0], self.to, self.proposal):
            layout.addWidget(widget)
        layout.addWidget(self.follow, 0, Qt.AlignmentFlag.AlignLeft)
        for path, field in self.fields.items():
            head = Heading(theme, _(entry(path).item.label))
            self._heads.append(head)
            layout.addSpacing(theme.px(10))
            layout.addWidget(head)
            layout.addWidget(field)
        self.hide()

    def show_reader(self, exam: Examination, proposed: str | None) -> None:
        """Show to whom the letter goes, and whom the findings propose."""
        chosen = exam.conclusion.letter.to
        self.to.choose(chosen)
        told = ""
        if proposed is not None:
            words = _(N_("Proposed from the findings: {reader}."))
            if chosen is None:
                words = _(N_("Proposed from the findings: {reader}. It is written to them unless you choose."))
            told = words.format(reader=_(LETTER_TO.words[proposed]))
        self.proposal.say(told)
        self.follow.setVisible(proposed is not None and chosen not in {None, proposed})

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size; the fields are dressed by whoever made them."""
        parts: list[Choosing | Said | Word | Heading] = [self.to, self.proposal, self.follow, *self._heads]
        for part in parts:
            part.set_theme(theme)


def telephone_first(telephones: Iterable[Telephone]) -> str:
    """Return that a call comes before any paper, with the clinic's numbers."""
    numbers = "; ".join(f"{each.who}: {each.number}" for each in telephones)
    told = _(N_("Telephone first: a paper only confirms the call."))
    return f"{told} {numbers}".strip()
