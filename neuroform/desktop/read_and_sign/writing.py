"""Fields to write in: one that grows with its text, and one of a single line."""

from collections.abc import Iterable

from PySide6.QtCore import QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QPalette, QResizeEvent, QTextBlockFormat, QTextCharFormat, QTextCursor
from PySide6.QtWidgets import QFrame, QLineEdit, QSizePolicy, QTextEdit, QWidget

from neuroform.desktop.printable import printable, show_kept
from neuroform.desktop.read_and_sign.parts import Framed
from neuroform.desktop.theme import Theme, thin_bar
from neuroform.language import N_, _

LONGEST = 4000
Span = tuple[int, int]


def _dressed(editor: QWidget, theme: Theme) -> None:
    editor.setFont(theme.font("body"))
    palette = theme.palette()
    palette.setColor(QPalette.ColorRole.Base, theme.colour("sheet"))
    editor.setPalette(palette)


class Writing(Framed):
    """A text that may have several lines. Signals beside the frame's: `written(text)` when a person changed it."""

    written = Signal(str)

    def __init__(
        self, theme: Theme, name: str, hint: str = "", *, reads: bool = False, parent: QWidget | None = None
    ) -> None:
        """Take a text; one that only `reads` stands without a frame, in a lighter ink."""
        super().__init__(theme, parent)
        self.plain = reads
        self.editor = QTextEdit()
        self.editor.setReadOnly(reads)
        self.editor.setAcceptRichText(False)
        self.editor.setFrameShape(QFrame.Shape.NoFrame)
        self.editor.setTabChangesFocus(True)
        self.editor.setUndoRedoEnabled(False)
        self.editor.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.editor.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.editor.document().setDocumentMargin(0)
        self.editor.setAccessibleName(name)
        self.editor.setAccessibleDescription(hint)
        self.editor.setPlaceholderText(hint)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.hold(self.editor)
        self._own = False
        self.least_lines = 1
        self.most_lines = 0
        """Lines shown at once; what is longer scrolls. 0 shows all."""
        self.editor.textChanged.connect(self._changed)
        self.editor.document().documentLayout().documentSizeChanged.connect(self._grow)
        self.set_theme(theme)

    def text(self) -> str:
        """Return what stands there."""
        return self.editor.toPlainText()

    def set_text(self, text: str) -> None:
        """Show a text that came from elsewhere; the cursor stays where it was."""
        if text == self.text():
            return
        at = self.editor.textCursor().position()
        self._own = True
        self.editor.setPlainText(text)
        self._space_lines()
        self._own = False
        cursor = self.editor.textCursor()
        cursor.setPosition(min(at, len(text)))
        self.editor.setTextCursor(cursor)

    def lock(self, locked: bool) -> None:
        """Let the text only be read, or be written again."""
        if self.editor.isReadOnly() != locked:
            self.editor.setReadOnly(locked)
            self.editor.setPlaceholderText(_(N_("Blank")) if locked else self.editor.accessibleDescription())
            self.plain = locked
            self.update()

    def mark(self, changed: Iterable[Span], doubted: Iterable[Span]) -> None:
        """Mark the words that differ with a tint and a line, and those in doubt with a dashed line."""
        differing, doubtful = QTextCharFormat(), QTextCharFormat()
        differing.setBackground(self.theme.colour("tint"))
        differing.setUnderlineStyle(QTextCharFormat.UnderlineStyle.SingleUnderline)
        differing.setUnderlineColor(self.theme.colour("rule"))
        doubtful.setUnderlineStyle(QTextCharFormat.UnderlineStyle.DashUnderline)
        doubtful.setUnderlineColor(QColor(self.theme.colour("ink")))
        differ = [self._selection(span, differing) for span in changed]
        self.editor.setExtraSelections(differ + [self._selection(span, doubtful) for span in doubted])

    def _selection(self, span: Span, look: QTextCharFormat) -> "QTextEdit.ExtraSelection":
        cursor = QTextCursor(self.editor.document())
        cursor.setPosition(span[0])
        cursor.setPosition(span[1], QTextCursor.MoveMode.KeepAnchor)
        made = QTextEdit.ExtraSelection()
        made.cursor, made.format = cursor, look
        return made

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        _dressed(self.editor, theme)
        if self.plain:
            palette = self.editor.palette()
            palette.setColor(QPalette.ColorRole.Text, theme.colour("ink2"))
            self.editor.setPalette(palette)
        self.editor.verticalScrollBar().setStyleSheet(thin_bar(theme))
        self._own = True
        self._space_lines()
        self._own = False
        self._grow()
        self.update()

    def show_lines(self, most: int) -> None:
        """Show at most so many lines at once, 0 for all."""
        if most != self.most_lines:
            self.most_lines = most
            self._grow()

    def _space_lines(self) -> None:
        spaced = QTextBlockFormat()
        spaced.setLineHeight(self.theme.line("body"), QTextBlockFormat.LineHeightTypes.FixedHeight.value)
        cursor = QTextCursor(self.editor.document())
        cursor.select(QTextCursor.SelectionType.Document)
        cursor.mergeBlockFormat(spaced)

    def _grow(self, _size: QSizeF | None = None) -> None:
        least = self.least_lines * self.theme.line("body")
        lines = max(round(self.editor.document().size().height()), least)
        most = self.most_lines * self.theme.line("body")
        bar = Qt.ScrollBarPolicy.ScrollBarAsNeeded if most else Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        self.editor.setVerticalScrollBarPolicy(bar)
        high = (min(lines, most) if most else lines) + 2 * self.theme.px(7)
        if high != self.height():
            self.setFixedHeight(high)

    def _changed(self) -> None:
        if self._own:
            return
        kept = printable(self.text())[:LONGEST]
        if kept != self.text():
            self.set_text(kept)
        self.written.emit(kept)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the editor within the frame."""
        self.editor.setGeometry(self.inner())
        super().resizeEvent(event)


class Line(Framed):
    """A text of one line. Signals beside the frame's: `written(text)` when a person changed it."""

    written = Signal(str)

    def __init__(self, theme: Theme, name: str, *, secret: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.editor = QLineEdit()
        self.editor.setFrame(False)
        self.editor.setAccessibleName(name)
        self.setAccessibleName(name)
        if secret:
            self.editor.setEchoMode(QLineEdit.EchoMode.Password)
            self.editor.setInputMethodHints(Qt.InputMethodHint.ImhHiddenText | Qt.InputMethodHint.ImhNoPredictiveText)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.hold(self.editor)
        self._secret = secret
        self.editor.textEdited.connect(self._edited)
        self.set_theme(theme)

    def text(self) -> str:
        """Return what stands there."""
        return self.editor.text()

    def _edited(self, text: str) -> None:
        kept = text if self._secret else printable(text)
        if kept != text:
            show_kept(self.editor, kept)
        self.written.emit(kept)

    def set_text(self, text: str) -> None:
        """Show a text that came from elsewhere."""
        if text != self.editor.text():
            self.editor.setText(text)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        _dressed(self.editor, theme)
        self.setFixedHeight(theme.px(36))
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the editor within the frame."""
        self.editor.setGeometry(self.inner())
        super().resizeEvent(event)
