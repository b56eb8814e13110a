"""The head of the window: who is examined, and the three places."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop.drawing import pen
from neuroform.desktop.keyboard import key_name
from neuroform.desktop.painted import Painted, Part, Spoken
from neuroform.desktop.shape import HEAD, HEAD_FOLDED, margin, shape_of
from neuroform.desktop.theme import Role, Theme
from neuroform.language import N_, _

PLACES = (N_("Examination"), N_("Patients"), N_("Supervision"))


@dataclass(frozen=True, kw_only=True)
class Person:
    """Who is examined, in the words of the head; these stay in sight in every place."""

    name: str = ""
    facts: tuple[str, ...] = ()
    """Age, date of birth, identifier."""
    state: str = ""
    """How much is to be examined, and when the draft was saved."""
    brief: tuple[str, ...] = ()
    """The same in fewer words, the most of them first, for where there is no room for it."""


class Head(Painted):
    """Shows the person and the places.

    Signals: `chosen(place)` a place was chosen; `left()` the hand goes back to the form.
    """

    chosen = Signal(int)
    left = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.person = Person()
        self.place = 0
        self._at = 0
        self._rects: list[QRect] = []
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def needed_height(self) -> int:
        """Return the height it takes."""
        folded = shape_of(self.width(), self.theme.scale) == "folded"
        return self.theme.px(HEAD_FOLDED if folded else HEAD)

    def show_person(self, person: Person) -> None:
        """Show who is examined."""
        if person != self.person:
            self.person = person
            self.update()

    def show_place(self, place: int) -> None:
        """Mark the place one is in."""
        self.place = self._at = place
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the person at the left and the places at the right."""
        theme = self.theme
        painter = QPainter(self)
        folded = shape_of(self.width(), theme.scale) == "folded"
        y = self.height() - theme.px(HEAD_FOLDED - 21 if folded else HEAD - 27)
        right = self._folded(painter, y) if folded and not self.hasFocus() else self._places(painter, y)
        room = right - theme.px(12 if folded else 32)
        x = float(margin(self.width(), theme.scale))
        apart = theme.px(12 if folded else 24)
        left = room - x - self._facts_width() - apart
        # A long name gives way to the shortest word on how the examination stands, but no further than it can be read.
        least = self._state_width(-1)
        name = theme.fitted("person", self.person.name, max(left - least, min(room - x, theme.px(150))))
        x = self._text(painter, x, y, name, "person", "ink")
        for number, fact in enumerate(self.person.facts):
            x += theme.px(14 if number == 0 else 16)
            if x + theme.width("secondary", fact) > room:
                break
            x = self._text(painter, x, y, fact, "secondary", "ink2")
        else:
            x += apart
            self._text(painter, x, y, self._state(room - x), "secondary", "quiet")
        painter.end()

    def _facts_width(self) -> float:
        wide, px = self.theme.width, self.theme.px
        return sum(wide("secondary", fact) + px(16 if n else 14) for n, fact in enumerate(self.person.facts))

    def _state_width(self, number: int) -> float:
        return self.theme.width("secondary", (self.person.state, *self.person.brief)[number])

    def _state(self, room: float) -> str:
        """Return how the examination stands in as many words as there is room for."""
        told = (self.person.state, *self.person.brief)
        return next((words for words in told if self.theme.width("secondary", words) <= room), "")

    def _folded(self, painter: QPainter, y: float) -> float:
        theme = self.theme
        right = self.width() - margin(self.width(), theme.scale) - theme.width("key", "F2")
        self._text(painter, right, y, "F2", "key", "accent")
        words = _(N_("Places"))
        beside = theme.width("secondary", words) + theme.px(9)
        person = theme.width("person", self.person.name) + self._facts_width() + self._state_width(-1)
        # The word gives way to who is examined and how the examination stands; its key stays.
        if margin(self.width(), theme.scale) + person + theme.px(24) <= right - beside:
            right -= beside
            self._text(painter, right, y, words, "secondary", "ink2")
        self._rects = [QRect(round(right), 0, self.width() - round(right), self.height())] * len(PLACES)
        return right

    def _places(self, painter: QPainter, y: float) -> float:
        theme = self.theme
        widths = [theme.width("strong" if n == self.place else "body", _(words)) for n, words in enumerate(PLACES)]
        gap = theme.px(26)
        x = self.width() - margin(self.width(), theme.scale) - sum(widths) - gap * (len(widths) - 1)
        left = x
        self._rects = []
        for number, words in enumerate(PLACES):
            here = number == self.place
            self._text(painter, x, y, _(words), "strong" if here else "body", "ink" if here else "ink2")
            if here:
                line = QRectF(x, y + theme.px(7), widths[number], 3 * theme.scale)
                painter.fillRect(line, theme.colour("ink"))
            box = QRect(
                round(x) - theme.px(6), round(y) - theme.px(20), round(widths[number]) + theme.px(12), theme.px(30)
            )
            self._rects.append(box)
            if self.hasFocus() and number == self._at:
                painter.setPen(pen(theme.colour("accent"), 2.0))
                painter.drawRect(QRectF(box).adjusted(1, 1, -1, -1))
            x += widths[number] + gap
        return left

    def _text(self, painter: QPainter, x: float, y: float, text: str, role: Role, token: str) -> float:
        painter.setFont(self.theme.font(role))
        painter.setPen(self.theme.colour(token))
        painter.drawText(QPointF(x, y), text)
        return x + self.theme.width(role, text)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Rove over the places with the arrows; Enter goes there, Escape back to the form."""
        key = key_name(event)
        if key in {"Left", "Right"}:
            self._at = max(0, min(len(PLACES) - 1, self._at + (1 if key == "Right" else -1)))
            self.update()
            self.tell_focus()
        elif key in {"Enter", "Space"}:
            self.chosen.emit(self._at)
        elif key in {"Escape", "Down"}:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Begin at the place one is in."""
        super().focusInEvent(event)
        self._at = self.place
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Go to the place under the pointer."""
        at = next((n for n, rect in enumerate(self._rects) if rect.contains(event.position().toPoint())), None)
        if at is not None and len(set(map(QRect.getRect, self._rects))) == 1:
            self.setFocus(Qt.FocusReason.TabFocusReason)
        elif at is not None:
            self.chosen.emit(at)

    def spoken(self) -> Spoken:
        """Return who is examined, for a screen reader."""
        return Spoken(
            name=", ".join([self.person.name, *self.person.facts]), role="tabs", description=self.person.state
        )

    def parts(self) -> tuple[Part, ...]:
        """Return the places."""
        rects = self._rects or [self.rect()] * len(PLACES)
        return tuple(
            Part(name=_(words), role="tab", rect=rects[n], chosen=n == self.place, focused=n == self._at)
            for n, words in enumerate(PLACES)
        )
