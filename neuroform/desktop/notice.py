"""A bar that says one thing and waits: what was recovered, or what one key would record."""

from PySide6.QtCore import QPointF, QRectF, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop.painted import Painted, Spoken
from neuroform.desktop.shape import margin
from neuroform.desktop.theme import Theme


class Notice(Painted):
    """Shows one message with its keys. Signals: `clicked()`."""

    clicked = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.words = ""
        self.keys: tuple[tuple[str, str], ...] = ()
        self.hide()

    def tell(self, words: str, keys: tuple[tuple[str, str], ...]) -> None:
        """Show a message, or with no words nothing."""
        self.words, self.keys = words, keys
        self.setVisible(bool(words))
        self.update()

    def needed_height(self) -> int:
        """Return the height it takes at its width."""
        if not self.words:
            return 0
        return len(self._lines()) * self.theme.line("body") + self.theme.px(16)

    def _lines(self) -> list[str]:
        room = self.width() - 2 * margin(self.width(), self.theme.scale) - self._keys_width() - self.theme.px(20)
        if room < self.theme.px(220):
            room = self.width() - 2 * margin(self.width(), self.theme.scale)
            return [*self.theme.wrapped("label", self.words, room), ""]
        return self.theme.wrapped("label", self.words, room)

    def _keys_width(self) -> float:
        theme = self.theme
        return sum(theme.width("secondary", w) + theme.width("key", k) + theme.px(25) for w, k in self.keys)

    def spoken(self) -> Spoken:
        """Return the message, for a screen reader."""
        keys = ", ".join(f"{words} {key}" for words, key in self.keys)
        return Spoken(name=self.words, role="text", description=keys)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the message at the left and its keys at the right."""
        theme = self.theme
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.colour("shade"))
        edge = margin(self.width(), theme.scale)
        painter.fillRect(QRectF(0, 0, self.width(), 1), theme.colour("rule"))
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), theme.colour("rule"))
        y = theme.px(8) + theme.metrics("label").ascent()
        painter.setFont(theme.font("label"))
        painter.setPen(theme.colour("ink"))
        lines = self._lines()
        for line in lines:
            painter.drawText(QPointF(edge, y), line)
            y += theme.line("body")
        y -= theme.line("body")
        x = self.width() - edge - self._keys_width() + theme.px(18)
        for words, key in self.keys:
            painter.setFont(theme.font("secondary"))
            painter.setPen(theme.colour("ink2"))
            painter.drawText(QPointF(x, y), words)
            x += theme.width("secondary", words) + theme.px(7)
            painter.setFont(theme.font("key"))
            painter.setPen(theme.colour("accent"))
            painter.drawText(QPointF(x, y), key)
            x += theme.width("key", key) + theme.px(18)
        painter.end()

    def mousePressEvent(self, _event: QMouseEvent) -> None:
        """Say that it was clicked."""
        self.clicked.emit()
