"""The line on which a comment is written, over the row it belongs to."""

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPalette
from PySide6.QtWidgets import QLineEdit, QWidget

from neuroform.desktop.printable import printable, show_kept
from neuroform.desktop.theme import Theme
from neuroform.language import N_, _

LONGEST = 1000


class CommentLine(QLineEdit):
    """Signals: `written(text)` on every change by hand; `over()` the hand goes back to the row."""

    written = Signal(str)
    over = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setMaxLength(LONGEST)
        self.setAccessibleName(_(N_("Comment")))
        self.textEdited.connect(self._edited)
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.setFont(theme.font("body"))
        palette = theme.palette()
        palette.setColor(QPalette.ColorRole.Base, theme.colour("sheet"))
        self.setPalette(palette)
        self.setStyleSheet(
            f"QLineEdit{{border:2px solid {theme.colour('accent').name()};padding:0 {theme.px(8)}px;"
            f"background:{theme.colour('sheet').name()};color:{theme.colour('ink').name()}}}"
        )

    def open(self, name: str, text: str) -> None:
        """Begin with the comment that stands there."""
        words = _(N_("Comment on {item}")).format(item=name)
        self.setAccessibleName(words)
        self.setPlaceholderText(_(N_("{words}; Enter when done")).format(words=words))
        self.setText(text)

    def _edited(self, text: str) -> None:
        kept = printable(text)
        if kept != text:
            show_kept(self, kept)
        self.written.emit(kept)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back to the row with Enter, Escape, Up or Down."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape, Qt.Key.Key_Up, Qt.Key.Key_Down}:
            self.over.emit()
            return
        super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Close."""
        super().focusOutEvent(event)
        self.hide()

    def event(self, event: QEvent) -> bool:
        """Leave undo to the form."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            from PySide6.QtGui import QKeySequence

            if event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo):
                event.ignore()
                return True
        return super().event(event)
