"""A page over the rest of the window, read from top to bottom: one column that scrolls, no wider than reads well."""

from collections.abc import Iterable
from typing import Protocol

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from neuroform.desktop.band import LAST, LastLine
from neuroform.desktop.read_and_sign.overlays import Scrolling
from neuroform.desktop.read_and_sign.parts import PAD
from neuroform.desktop.shape import margin
from neuroform.desktop.theme import Theme
from neuroform.language import N_, _


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
        self.foot: QWidget | None = None
        """What stays in sight below the column."""
        self.last = LastLine(theme, self)
        self.dressed.append(self.last)

    def parts(self) -> Iterable[Dressed]:
        """Return everything that is dressed with the page."""
        return self.dressed

    def keys(self) -> tuple[tuple[str, str], ...]:
        """Return the keys that work here: what each does, and its name."""
        return ((_(N_("back")), "Esc"),)

    def leave(self) -> None:
        """Go back."""
        self.left.emit()

    def place(self) -> None:
        """Put the column into the page."""
        theme = self.theme
        edge = margin(self.width(), theme.scale) - PAD
        wide, last = self.width() - 2 * edge, theme.px(LAST)
        below = self.height() - last
        self.last.setGeometry(0, below, self.width(), last)
        self.last.show_line("", "", self.keys())
        if self.foot is not None:
            layout = self.foot.layout()
            high = layout.heightForWidth(wide) if layout is not None and layout.hasHeightForWidth() else -1
            high = max(high, self.foot.sizeHint().height())
            below -= high
            self.foot.setGeometry(edge, below, wide, high)
        self.area.setGeometry(edge, theme.px(14), wide, max(below - theme.px(14), theme.px(40)))
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
