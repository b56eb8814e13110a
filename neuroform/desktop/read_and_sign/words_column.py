"""The examiner's words beside what the findings say: letter, impression, interpretation, plan, who was told."""

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from neuroform.desktop.read_and_sign.choosing import Choosing
from neuroform.desktop.read_and_sign.differences import changed, same_words
from neuroform.desktop.read_and_sign.doubts import Doubt
from neuroform.desktop.read_and_sign.letter_part import LETTER, LetterPart
from neuroform.desktop.read_and_sign.parts import BAR, Heading, Said, Word
from neuroform.desktop.read_and_sign.writing import Writing
from neuroform.desktop.theme import Theme
from neuroform.exam.conclusion import URGENCY
from neuroform.exam.examination import Examination
from neuroform.exam.walk import entry, get
from neuroform.language import N_, _

IMPRESSION, PARAGRAPH = "conclusion.impression", "conclusion.paragraph"
PLAN, TOLD = "conclusion.plan", "conclusion.told"
READ_LINES = 7
"""Lines of the generated text that stand above the wording; the rest scrolls."""
WRITE_LINES = 10
"""Lines of the wording shown at once, so that what is in doubt stands in sight below it."""
WRITTEN = (IMPRESSION, PARAGRAPH, PLAN, TOLD)


class WordsColumn(QWidget):
    """Shows the words and says what a person wrote. Signals: `wrote(path, text)`, `hurried(code)`, `as_written()`."""

    wrote = Signal(str, str)
    hurried = Signal(str)
    as_written = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.fields = {path: self._field(theme, path) for path in WRITTEN}
        self.telephone = Said(theme, "", "label", "urgent")
        self.letter = LetterPart(theme, {path: self._field(theme, path) for path in LETTER})
        self.fields |= self.letter.fields
        self.fields[IMPRESSION].least_lines = 2
        self.fields[PARAGRAPH].show_lines(WRITE_LINES)
        self.generated = Writing(theme, _(N_("Interpretation, as written from the findings")), reads=True)
        self.wording_head = Heading(theme, _(N_("Your wording")))
        self.edit = Word(theme, _(N_("edit the wording")))
        self.edit.clicked.connect(self.open_wording)
        self.back = Word(theme, _(N_("use the text as written")))
        self.back.clicked.connect(self._as_written)
        self._wording_open = False
        self._sealed = False
        self.urgency = Choosing(theme, _(N_("Urgency")), URGENCY.words, named=True)
        self.urgency.chosen.connect(self.hurried)
        self.warnings = {path: Said(theme, "", "secondary", "ink") for path in (IMPRESSION, PARAGRAPH)}
        self.too_slow = Said(theme, "", "secondary", "urgent")
        self._themed = [
            Heading(theme, _(N_("Your words")), role="strong"),
            Heading(theme, _(N_("Your impression"))),
            Heading(theme, _(N_("Interpretation, as written from the findings"))),
            Heading(theme, _(N_("Plan"))),
            Heading(theme, _(N_("Told: who, and when"))),
        ]
        self._lay(theme)

    def _field(self, theme: Theme, path: str) -> Writing:
        item = entry(path).item
        made = Writing(theme, _(item.label), _(item.hint))
        made.written.connect(lambda text: self.wrote.emit(path, text))
        return made

    def _lay(self, theme: Theme) -> None:
        own, impression, generated, plan, told = self._themed
        back = QHBoxLayout()
        back.addWidget(self.edit)
        back.addWidget(self.back)
        back.addStretch()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, BAR, 0)
        layout.setSpacing(theme.px(2))
        upper: tuple[tuple[QWidget, int], ...] = (
            (own, 0),
            (self.telephone, 2),
            (self.letter, 4),
            (impression, 4),
            (self.fields[IMPRESSION], 2),
            (self.warnings[IMPRESSION], 2),
            (generated, 14),
            (self.generated, 2),
            (self.wording_head, 14),
            (self.fields[PARAGRAPH], 2),
            (self.warnings[PARAGRAPH], 2),
        )
        lower: tuple[tuple[QWidget, int], ...] = (
            (self.urgency, 8),
            (self.too_slow, 2),
            (plan, 12),
            (self.fields[PLAN], 2),
            (told, 12),
            (self.fields[TOLD], 2),
        )
        _stack(layout, upper, theme)
        layout.addLayout(back)
        _stack(layout, lower, theme)
        layout.addStretch()

    def show_exam(self, exam: Examination, generated: str, slow: str, *, but: str = "") -> None:
        """Show what the examination holds and its paragraph, all `but` the field being written in."""
        for path, field in self.fields.items():
            if path != but:
                field.set_text(get(exam, path) or (generated if path == PARAGRAPH else ""))
        self.generated.set_text(generated or _(N_("No findings are recorded yet.")))
        self.urgency.choose(exam.conclusion.urgency)
        self.too_slow.say(slow)
        edited = exam.conclusion.paragraph is not None
        self.wording_head.say_beside(_(N_("edited: the note will say so")) if edited else _(N_("as written")))
        self._show_wording(edited or self._wording_open)

    def seal(self, sealed: bool) -> None:
        """Let the words only be read, those of a letter excepted."""
        self._sealed = sealed
        for path in WRITTEN:
            self.fields[path].lock(sealed)
        for button in self.urgency.buttons():
            button.setEnabled(not sealed)
        self._show_wording(not self.fields[PARAGRAPH].isHidden())

    def open_wording(self) -> None:
        """Open the field of the wording and put the hand there."""
        self._wording_open = True
        self._show_wording(True)
        self.fields[PARAGRAPH].setFocus(Qt.FocusReason.TabFocusReason)

    def _as_written(self) -> None:
        self._wording_open = False
        self.as_written.emit()
        self._show_wording(False)
        self.edit.setFocus(Qt.FocusReason.TabFocusReason)

    def _show_wording(self, shown: bool) -> None:
        """Show the field beside the text it was made from, which then takes less room; or that text alone, whole."""
        self.generated.show_lines(READ_LINES if shown else 0)
        for each in (self.wording_head, self.fields[PARAGRAPH]):
            each.setVisible(shown)
        self.back.setVisible(shown and not self._sealed)
        self.edit.setVisible(not shown and not self._sealed)

    def show_doubts(self, path: str, found: Iterable[Doubt], generated: str) -> None:
        """Mark words in doubt, and those that differ from the generated text, and say why below."""
        doubts = tuple(found)
        field = self.fields[path]
        text = field.text()
        differing = changed(generated, text) if path == PARAGRAPH and not same_words(generated, text) else ()
        field.mark(differing, [(each.start, each.end) for each in doubts])
        self.warnings[path].say("\n".join(each.words for each in doubts))

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        for held in (self._themed, self.fields.values(), self.warnings.values()):
            for each in held:
                each.set_theme(theme)
        for part in (self.generated, self.wording_head, self.edit, self.back, self.urgency, self.too_slow):
            part.set_theme(theme)
        self.telephone.set_theme(theme)
        self.letter.set_theme(theme)


def _stack(layout: QVBoxLayout, widgets: tuple[tuple[QWidget, int], ...], theme: Theme) -> None:
    for widget, above in widgets:
        layout.addSpacing(theme.px(above))
        layout.addWidget(widget)
