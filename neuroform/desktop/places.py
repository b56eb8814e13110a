"""The places that hold nothing yet: each says so in one line."""

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop.keyboard import key_name, key_word
from neuroform.desktop.painted import Painted, Spoken
from neuroform.desktop.shape import margin
from neuroform.desktop.theme import Theme
from neuroform.language import N_, _


class EmptyPlace(Painted):
    """One line about a place. Signals: `left()` Escape was pressed."""

    left = Signal()

    def __init__(self, theme: Theme, title: str, line: str, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._title = title
        self._line = line
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def spoken(self) -> Spoken:
        """Return the line, for a screen reader."""
        return Spoken(name=f"{_(self._title)}. {_(self._line)}", role="text")

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the title and the line."""
        theme = self.theme
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.colour("sheet"))
        x, y = margin(self.width(), theme.scale), theme.px(18) + theme.metrics("title").ascent()
        painter.setPen(theme.colour("ink"))
        painter.setFont(theme.font("title"))
        painter.drawText(QPointF(x, y), _(self._title))
        y += theme.line("title") + theme.px(4)
        painter.setFont(theme.font("body"))
        for line in theme.wrapped("body", _(self._line), self.width() - 2 * x):
            painter.drawText(QPointF(x, y), line)
            y += theme.line("body")
        y += theme.px(8)
        painter.setPen(theme.colour("quiet"))
        painter.setFont(theme.font("secondary"))
        words = _(N_("back to the examination"))
        painter.drawText(QPointF(x, y), words)
        painter.setPen(theme.colour("accent"))
        painter.setFont(theme.font("key"))
        painter.drawText(QPointF(x + theme.width("secondary", words) + theme.px(8), y), key_word("Escape"))
        painter.end()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back with Escape."""
        if key_name(event) == "Escape":
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Nothing but the words has the focus here."""
        super().focusInEvent(event)
        self.update()


def patients(theme: Theme, parent: QWidget | None = None) -> EmptyPlace:
    """Return the place of the people examined."""
    return EmptyPlace(
        theme,
        N_("Patients"),
        N_("Nobody is kept here yet: this version holds the one examination that is open."),
        parent,
    )


def supervision(theme: Theme, parent: QWidget | None = None) -> EmptyPlace:
    """Return the place of what waits for a second pair of eyes."""
    return EmptyPlace(
        theme,
        N_("Supervision"),
        N_("No note waits here yet: this version signs, but sends nothing to be read."),
        parent,
    )
