"""Where the parts of the page stand: three columns over a foot, or one below the other where the room is narrow."""

from collections.abc import Sequence

from PySide6.QtCore import QRect, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QVBoxLayout, QWidget

from neuroform.desktop.read_and_sign.overlays import Scrolling
from neuroform.desktop.read_and_sign.parts import BAR, PAD
from neuroform.desktop.shape import margin, shape_of
from neuroform.desktop.theme import Theme

DIVIDERS = (0.3125, 0.64)
"""Of the width, between the columns."""


class Columns(QWidget):
    """Holds the three columns and the three blocks of the foot. Signals: `arranged()` after everything was placed."""

    arranged = Signal()

    def __init__(self, theme: Theme, columns: Sequence[QWidget], blocks: Sequence[QWidget], parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme
        self.columns = tuple(columns)
        self.blocks = tuple(blocks)
        self.areas: tuple[Scrolling, ...] = ()
        self.narrow: bool | None = None
        self._held: QWidget | None = None

    @property
    def foot_height(self) -> int:
        """The height of the foot below the columns; 0 where everything stands one below the other."""
        if self.narrow:
            return 0
        edges = self._edges()
        needed = [_height(block, right - left) for block, (left, right) in zip(self.blocks, edges, strict=True)]
        return max(max(needed) + self.theme.px(22), self.theme.px(134))

    def _edges(self) -> list[tuple[int, int]]:
        """Return left and right of each column, the room for the frame of the focus included."""
        theme, wide = self.theme, self.width()
        first, second = (round(wide * part) for part in DIVIDERS)
        beside, gap = margin(wide, theme.scale), theme.px(20)
        return [
            (beside - PAD, first - gap + PAD),
            (first + gap - PAD, second - gap + PAD),
            (second + gap - PAD, wide - beside + PAD),
        ]

    def arrange(self) -> None:
        """Place everything for the width and height there are."""
        theme = self.theme
        narrow = shape_of(self.width(), theme.scale) == "folded"
        if narrow != self.narrow:
            self._hold(narrow)
        if narrow:
            beside = margin(self.width(), theme.scale) - PAD
            self.areas[0].setGeometry(beside, 0, self.width() - 2 * beside, self.height())
            self.arranged.emit()
            return
        high = self.height() - self.foot_height
        top = theme.px(4)
        for area, block, (left, right) in zip(self.areas, self.blocks, self._edges(), strict=True):
            area.setGeometry(left, top, right - left + BAR, high - top - theme.px(8))
            block.setGeometry(QRect(left, high + theme.px(14), right - left, self.foot_height - theme.px(14)))
        self.arranged.emit()

    def _hold(self, narrow: bool) -> None:
        """Put columns and blocks into one scrolling column, or each column into its own."""
        self.narrow = narrow
        old = self.areas
        for area in old:
            area.takeWidget()
        if narrow:
            held = QWidget()
            layout = QVBoxLayout(held)
            layout.setContentsMargins(0, 0, 0, self.theme.px(12))
            layout.setSpacing(self.theme.px(24))
            for each in (*self.columns, *self.blocks):
                layout.addWidget(each)
            layout.addStretch()
            self._held = held
            self.areas = (Scrolling(self.theme, held, self),)
        else:
            self.areas = tuple(Scrolling(self.theme, column, self) for column in self.columns)
            for block in self.blocks:
                block.setParent(self)
            if self._held is not None:
                self._held.deleteLater()
                self._held = None
        for each in (*self.areas, *self.columns, *self.blocks):
            each.show()
        for area in old:
            area.deleteLater()

    def reveal(self, widget: QWidget, rect: QRect) -> None:
        """Bring a part of a widget into sight."""
        for area in self.areas:
            held = area.widget()
            if held is not None and (held is widget or held.isAncestorOf(widget)):
                at = QRect(widget.mapTo(held, rect.topLeft()), rect.size())
                area.ensureVisible(at.center().x(), at.bottom(), 0, 8)
                area.ensureVisible(at.center().x(), at.top(), 0, 8)

    def dress(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        for area in self.areas:
            area.dress(theme)
        self.arrange()

    def paintEvent(self, _event: object) -> None:
        """Paint the sheet, the dividers, and the foot on ground below an ink line."""
        theme, painter = self.theme, QPainter(self)
        painter.fillRect(self.rect(), theme.colour("sheet"))
        if not self.narrow:
            high = self.height() - self.foot_height
            for part in DIVIDERS:
                painter.fillRect(round(self.width() * part), 0, 1, high - theme.px(12), theme.colour("hair"))
            painter.fillRect(0, high, self.width(), self.foot_height, theme.colour("ground"))
            painter.fillRect(0, high, self.width(), max(round(2.5 * theme.scale), 2), theme.colour("ink"))
        painter.end()

    def resizeEvent(self, _event: object) -> None:
        """Place everything anew."""
        self.arrange()


def _height(block: QWidget, width: int) -> int:
    return block.heightForWidth(width) if block.hasHeightForWidth() else block.sizeHint().height()
