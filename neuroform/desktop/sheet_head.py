"""Above the rows: the section, its caution, how to test what is in focus, what was just said, the timer."""

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop.painted import Painted, Spoken
from neuroform.desktop.shape import margin, shape_of
from neuroform.desktop.theme import Role, Theme


class SheetHead(Painted):
    """Two lines of words; they are set as keywords."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.title = self.caution = self.hint = self.message = self.blank = self.timer = self.timer_of = ""

    def spoken(self) -> Spoken:
        """Return the section, its caution and how to test, for a screen reader."""
        told = (self.caution, self.message or self.hint, self.blank)
        return Spoken(name=self.title, role="text", description=" ".join(each for each in told if each))

    def needed_height(self) -> int:
        """Return the height it takes."""
        folded = shape_of(self.width(), self.theme.scale) == "folded"
        around = 17 if folded else 24
        return self.theme.px(around) + self.theme.line("title") + self.theme.line("secondary")

    def show_words(self, **words: str) -> None:
        """Show other words; keywords are this widget's attributes."""
        changed = False
        for name, value in words.items():
            if getattr(self, name) != value:
                setattr(self, name, value)
                changed = True
        if changed:
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint two lines, and the timer at the right while it runs."""
        theme = self.theme
        painter = QPainter(self)
        edge, width = margin(self.width(), theme.scale), self.width()
        folded = shape_of(width, theme.scale) == "folded"
        y = theme.px(9 if folded else 18) + theme.metrics("title").ascent() * 0.92
        right = float(width - edge)
        if folded and self.message and not self.timer:
            beside = theme.width("secondary", self.blank) + theme.px(16) if self.blank else 0.0
            lines = self._in_two(right - edge - beside, right - edge)
            if len(lines) == 2:
                self._text(painter, edge, y, lines[0], "section", "ink")
                self._text(painter, edge, y + theme.line("secondary") + theme.px(6), lines[1], "section", "ink")
                self._text(painter, right - beside + theme.px(16), y, self.blank, "secondary", "quiet")
                painter.end()
                return
        x = self._text(painter, edge, y, self.title, "title", "ink")
        if self.timer:
            right -= theme.width("timer", self.timer)
            self._text(painter, right, y + theme.px(12), self.timer, "timer", "ink")
            told = theme.width("secondary", self.timer_of)
            right -= told + theme.px(12)
            self._text(painter, right, y + theme.px(12), self.timer_of, "secondary", "quiet")
        elif self.blank:
            right -= theme.width("secondary", self.blank)
            self._text(painter, right, y, self.blank, "secondary", "quiet")
        second = y + theme.line("secondary") + theme.px(6)
        room = right - edge - theme.px(16) if self.timer else width - 2 * edge
        lower = self.message or self.hint
        if not folded:
            caution = theme.fitted("label", self.caution, right - x - theme.px(34))
            self._text(painter, x + theme.px(18), y, caution, "label", "ink")
        elif not self.message and self.caution:
            lower = self.caution
        role: Role = "label" if self.message else "secondary"
        token = "ink" if self.message else "ink2"
        self._text(painter, edge, second, theme.fitted(role, lower, room), role, token)
        painter.end()

    def _in_two(self, first: float, second: float) -> list[str]:
        """Return a message that one line has no room for as two, the upper one in place of the title."""
        theme = self.theme
        if theme.width("label", self.message) <= second:
            return [self.message]
        upper = theme.wrapped("section", self.message, first)[0]
        return [upper, theme.fitted("section", self.message[len(upper) :].strip(), second)]

    def _text(self, painter: QPainter, x: float, y: float, text: str, role: Role, token: str) -> float:
        painter.setFont(self.theme.font(role))
        painter.setPen(self.theme.colour(token))
        painter.drawText(QPointF(x, y), text)
        return x + self.theme.width(role, text)
