"""A page over the rest of the window, read from top to bottom: one column that scrolls, no wider than reads well."""

from collections.abc import Iterable
from typing import Protocol

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from neuroform.desktop.read_and_sign.overlays import Scrolling
from neuroform.desktop.read_and_sign.parts import PAD
from neuroform.desktop.shape import margin
from neuroform.desktop.theme import Theme


class Dressed(Protocol):
    """A part that can take another palette or text size."""

    def set_theme(self, theme: Theme) -> None:
        """Take it."""


class LongPage(QWidget):
    """Holds one column; Escape leaves it. Signals: `left()` the person goes back."""

    left = Signal()

    def __init__(self, theme: Theme, *, widest: int, spacing: int, parent: QWidget | None = None) -> None:
        """Begin an empty column of at most `widest` units, its parts `spacing` units apart."""
        super().__init__(parent)
        self.theme = theme
        self._widest = widest
        self.dressed: list[Dressed] = []
        """What takes another palette or text size with the page."""
        self.held = QWidget()
        self.column = QVBoxLayout(self.held)
        self.column.setContentsMargins(0, 0, 0, theme.px(16))
        self.column.setSpacing(theme.px(spacing))
        self.area = Scrolling(theme, self.held, self)

    def parts(self) -> Iterable[Dressed]:
        """Return everything that is dressed with the page."""
        return self.dressed

    def leave(self) -> None:
        """Go back."""
        self.left.emit()

    def place(self) -> None:
        """Put the column into the page."""
        theme = self.theme
        edge = margin(self.width(), theme.scale) - PAD
        self.area.setGeometry(edge, theme.px(14), self.width() - 2 * edge, self.height() - theme.px(14))
        self.held.setMaximumWidth(min(theme.px(self._widest), self.area.width()))

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        for part in self.parts():
            part.set_theme(theme)
        self.area.dress(theme)
        self.place()
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back with Escape."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Place everything anew."""
        super().resizeEvent(event)
        self.place()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the sheet."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.theme.colour("sheet"))
        painter.end()
