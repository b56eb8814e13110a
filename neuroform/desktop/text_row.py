"""A question that is answered in words: the row holds an editor, which has the focus."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QFrame, QPlainTextEdit, QWidget

from neuroform.desktop.keyboard import key_name
from neuroform.desktop.printable import printable
from neuroform.desktop.row import RowWidget
from neuroform.desktop.row_view import RowView
from neuroform.desktop.theme import Theme
from neuroform.language import N_, _

LONGEST = 4000


class TextRow(RowWidget):
    """Shows one text. Signals beside the row's: `written(text)` on every change."""

    written = Signal(str)

    def __init__(
        self, theme: Theme, view: RowView, text: str, on_key: Callable[[QKeyEvent], bool], parent: QWidget | None = None
    ) -> None:
        super().__init__(theme, view, parent)
        self._on_key = on_key
        self.editor = QPlainTextEdit(self)
        self.editor.setFrameShape(QFrame.Shape.NoFrame)
        self.editor.setTabChangesFocus(True)
        self.editor.setUndoRedoEnabled(False)
        self.editor.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self.editor.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.editor.document().setDocumentMargin(0)
        self.editor.setPlainText(text)
        self.editor.setAccessibleName(view.cells[0].name)
        self._say_what_is_asked()
        self.editor.installEventFilter(self)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFocusProxy(self.editor)
        self.editor.textChanged.connect(self._changed)
        self._dress()

    def show_view(self, view: RowView) -> bool:
        """Show what the row holds now; tell whether its height changed."""
        changed = super().show_view(view)
        self._say_what_is_asked()
        return changed

    def _say_what_is_asked(self) -> None:
        words = _(N_("blank") if self.view.sealed else N_("in your own words"))
        if words != self.editor.placeholderText():
            self.editor.setPlaceholderText(words)

    def show_text(self, text: str) -> None:
        """Show a text that came from elsewhere, from undo."""
        if text != self.editor.toPlainText():
            self.editor.blockSignals(True)
            self.editor.setPlainText(text)
            self.editor.blockSignals(False)
            self._lay_anew()

    def _show_without(self, text: str) -> None:
        """Show what was written without what can't be kept; the cursor stays behind the same words."""
        before = len(printable(self.editor.toPlainText()[: self.editor.textCursor().position()]))
        self.show_text(text)
        cursor = self.editor.textCursor()
        cursor.setPosition(min(before, self.editor.document().characterCount() - 1))
        self.editor.setTextCursor(cursor)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        super().set_theme(theme)
        self._dress()

    def _dress(self) -> None:
        self.editor.setFont(self.theme.font("body"))
        palette = self.theme.palette()
        palette.setColor(QPalette.ColorRole.Base, self.theme.colour("sheet"))
        self.editor.setPalette(palette)

    def lines(self) -> int:
        """Return how many lines the text takes, 1 to 8."""
        return max(1, min(8, len(self._wrapped())))

    def _room(self) -> int:
        return round(self.width() / 2) - self.theme.px(15 + 24 + 10)

    def least_height(self) -> int:
        """Return the height the text takes."""
        return self.lines() * self.theme.line("body") + self.theme.px(16)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the row, and the line the text stands on."""
        super().paintEvent(event)
        box = self.editor.geometry()
        painter = QPainter(self)
        token = "ink" if self.editor.toPlainText() or self.view.focused is not None else "hair"
        high = 1.6 if self.editor.toPlainText() else 1.2
        wide = min(self.theme.width("body", max(self._wrapped(), key=len)), box.width()) if token == "ink" else 44
        line = QRectF(box.left(), box.bottom(), max(wide, self.theme.px(44)), high * self.theme.scale)
        painter.fillRect(line, self.theme.colour(token))
        painter.end()

    def _wrapped(self) -> list[str]:
        return self.theme.wrapped("body", self.editor.toPlainText(), max(self._room(), 60) - 8)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the editor beside the label."""
        super().resizeEvent(event)
        self._place()

    def _place(self) -> None:
        x = round(self.width() / 2) + self.theme.px(15)
        self.editor.setGeometry(x, self.theme.px(5), self._room(), self.lines() * self.theme.line("body") + 2)

    def _changed(self) -> None:
        written = self.editor.toPlainText()
        text = printable(written)[:LONGEST]
        if text != written:
            self._show_without(text)
        self._lay_anew()
        self._place()
        self.written.emit(text)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Enter, Escape, arrows at the edge and undo act on the form, everything else on the text."""
        if event.type() == QEvent.Type.FocusIn:
            self.reached.emit(-1)
        elif event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            if event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo):
                event.ignore()
                return True
        elif event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent) and self._leaves(event):
            return self._on_key(event)
        return super().eventFilter(watched, event)

    def _leaves(self, event: QKeyEvent) -> bool:
        key = key_name(event)
        if key == "Enter":
            return not event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        if key in {"Escape", "PageUp", "PageDown"}:
            return True
        block = self.editor.textCursor().block()
        if key == "Up":
            return not block.previous().isValid()
        return key == "Down" and not block.next().isValid()
