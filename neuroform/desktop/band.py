"""The band: urgent findings, interpretation and what to examine next, while one works; and the last line."""

from PySide6.QtCore import QPointF, QRectF, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop import shape
from neuroform.desktop.column import Column, ColumnArea
from neuroform.desktop.column_layout import PAD
from neuroform.desktop.drawing import draw
from neuroform.desktop.painted import Painted, Spoken
from neuroform.desktop.shape import margin, shape_of
from neuroform.desktop.theme import Role, Theme
from neuroform.figures.marks import urgent_frame
from neuroform.language import N_, _

LAST = shape.LAST
"""Height of the last line."""


class Band(QWidget):
    """The three columns on ground, below an ink line; folded, the gravest urgent finding alone.

    Signals: `chosen(items)` findings to mark; `left()` the hand goes back to the form; `reached(column)` one has the
    keyboard; `lost()` none has it.
    """

    chosen = Signal(tuple)
    left = Signal()
    reached = Signal(int)
    lost = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.folded = False
        self.open: Column | None = None
        """The column that is unfolded over the sheet, because it says more than the band has room for."""
        self.urgent = Column(theme, N_("Urgent findings"), "", key="F5")
        self.interpretation = Column(theme, N_("Interpretation"), "", key="F6", flowing=True)
        self.following = Column(theme, N_("Examine next"), "", key="F7")
        self.areas = [ColumnArea(column, theme, self) for column in self.columns]
        for number, column in enumerate(self.columns):
            column.chosen.connect(self.chosen)
            column.left.connect(self.left)
            column.reached.connect(lambda number=number: self.reached.emit(number))
            column.lost.connect(self.lost)

    @property
    def columns(self) -> tuple[Column, Column, Column]:
        """The columns from left to right."""
        return self.urgent, self.interpretation, self.following

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        for area in self.areas:
            area.column.set_theme(theme)
            area.dress(theme)
        self.arrange()

    def resizeEvent(self, _event: object) -> None:
        """Place the columns anew."""
        self.arrange()

    def arrange(self) -> None:
        """Place the columns by the shape of the window."""
        theme, width = self.theme, self.width()
        e, pad = width / theme.scale, theme.px(PAD)
        for area in self.areas:
            area.unfold(area.column is self.open)
        if self.folded:
            for area in self.areas:
                area.setVisible(area.column is self.open)
                edge = margin(width, theme.scale)
                area.setGeometry(edge - pad, theme.px(4), width - 2 * edge + pad, self.height() - theme.px(8))
            return
        if e >= 1120:
            second = 300 + 0.18 * (e - 1280)
            third = e - 408 - 0.12 * (e - 1280)
        else:
            second = 222 * e / 1024
            third = 738 * e / 1024
        edges = [theme.px(24), theme.px(second), theme.px(third), width - theme.px(24)]
        for number, area in enumerate(self.areas):
            gap = theme.px(28) if number < 2 else 0
            area.setVisible(True)
            wide = edges[number + 1] - edges[number] - gap + pad
            area.setGeometry(edges[number] - pad, theme.px(3), wide, self.height() - theme.px(5))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the ink line, and folded the gravest urgent finding in one line."""
        theme = self.theme
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.colour("ground"))
        painter.fillRect(QRectF(0, 0, self.width(), 2.5 * theme.scale), theme.colour("ink"))
        if self.folded and self.open is None:
            self._folded(painter)
        painter.end()

    def _folded(self, painter: QPainter) -> None:
        theme = self.theme
        edge = margin(self.width(), theme.scale)
        x, y = float(edge), theme.px(21)
        gravest = next((said for said in self.urgent.said if said.urgency), None)
        if gravest is None:
            painter.setFont(theme.font("secondary"))
            painter.setPen(theme.colour("quiet"))
            painter.drawText(QPointF(x, y), _(N_("No urgent findings from what is recorded so far.")))
            return
        assert gravest.urgency is not None
        draw(painter, theme, urgent_frame(gravest.urgency).shapes, x, y - 12 * theme.scale)
        x += theme.px(22)
        painter.setFont(theme.font("strong"))
        painter.setPen(theme.colour("urgent"))
        painter.drawText(QPointF(x, y), gravest.head)
        x += theme.width("strong", gravest.head) + theme.px(11)
        painter.setFont(theme.font("label"))
        painter.setPen(theme.colour("ink"))
        more = len(self.urgent.said) - 1
        tail = f"  +{more}" if more else ""
        room = self.width() - edge - x - theme.width("label", tail)
        if more or theme.width("label", gravest.text) > room:
            right = self.width() - edge - theme.width("key", self.urgent.key)
            room -= self.width() - edge - right + theme.px(10)
            painter.setFont(theme.font("key"))
            painter.setPen(theme.colour("accent"))
            painter.drawText(QPointF(right, y), self.urgent.key)
            painter.setFont(theme.font("label"))
            painter.setPen(theme.colour("ink"))
        said = gravest.text if theme.width("label", gravest.text) <= room else gravest.short or gravest.text
        painter.drawText(QPointF(x, y), theme.fitted("label", said, room) + tail)


class LastLine(Painted):
    """The last line of the window: what is needed to sign, how far it is, and the keys that work here."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.needed = self.progress = ""
        self.keys: tuple[tuple[str, str], ...] = ()
        self.folded = False

    def show_line(self, needed: str, progress: str, keys: tuple[tuple[str, str], ...]) -> None:
        """Show other words."""
        if (needed, progress, keys) != (self.needed, self.progress, self.keys):
            self.needed, self.progress, self.keys = needed, progress, keys
            self.update()

    def spoken(self) -> Spoken:
        """Return the line, for a screen reader."""
        return Spoken(name=f"{self.needed}. {self.progress}", role="text")

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint words at the left, keys at the right."""
        theme = self.theme
        painter = QPainter(self)
        edge, y = margin(self.width(), theme.scale), theme.px(20)
        painter.fillRect(self.rect(), theme.colour("ground"))
        painter.fillRect(QRectF(edge, 0, self.width() - 2 * edge, 1), theme.colour("hair"))
        if shape_of(self.width(), theme.scale) == "folded":
            self._narrow(painter, edge, y)
        else:
            x = self._text(painter, edge, y, self.needed, "strong", "ink") + theme.px(14)
            x = self._text(painter, x, y, self.progress, "secondary", "quiet") + theme.px(30)
            self._keys(painter, self.keys, x, y)
        painter.end()

    def _narrow(self, painter: QPainter, edge: int, y: float) -> None:
        """Paint what is needed to sign first, then the keys that there is room for, and how far it is last."""
        theme = self.theme
        keys = self.keys
        if self.folded:
            keys = ((_(N_("Interpretation")), "F6"), (_(N_("Examine next")), "F7"), *keys[-1:])
        last = self._key_width(keys[-1]) + theme.px(18) if keys else 0.0
        room = self.width() - 2 * edge - last
        x = float(edge)
        if self.needed:
            x = self._text(painter, x, y, theme.fitted("strong", self.needed, room), "strong", "ink") + theme.px(14)
        left = self._keys(painter, keys, x, y)
        if theme.width("secondary", self.progress) <= left - x:
            self._text(painter, x, y, self.progress, "secondary", "quiet")

    def _key_width(self, named: tuple[str, str]) -> float:
        theme = self.theme
        return theme.width("secondary", named[0]) + theme.width("key", named[1]) + theme.px(7)

    def _keys(self, painter: QPainter, keys: tuple[tuple[str, str], ...], left: float, y: float) -> float:
        """Paint the keys at the right, as many as there is room for, the last first; return where they begin."""
        theme = self.theme
        right = float(self.width() - margin(self.width(), theme.scale))
        for words, key in reversed(keys):
            wide = self._key_width((words, key))
            if right - wide < left:
                break
            x = self._text(painter, right - wide, y, words, "secondary", "ink2") + theme.px(7)
            self._text(painter, x, y, key, "key", "accent")
            right -= wide + theme.px(18)
        return right

    def _text(self, painter: QPainter, x: float, y: float, text: str, role: Role, token: str) -> float:
        painter.setFont(self.theme.font(role))
        painter.setPen(self.theme.colour(token))
        painter.drawText(QPointF(x, y), text)
        return x + self.theme.width(role, text)
