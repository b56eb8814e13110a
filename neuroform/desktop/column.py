"""A column of the band: things said, each reachable and traceable to the findings it rests on."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from neuroform.desktop.drawing import draw, pen
from neuroform.desktop.keyboard import key_name
from neuroform.desktop.painted import Painted, Part, Spoken
from neuroform.desktop.theme import Role, Theme
from neuroform.figures.marks import Mark, Urgency, mark_shapes, urgent_frame
from neuroform.language import _


@dataclass(frozen=True, kw_only=True)
class SystemView:
    """One system: its mark, name and state."""

    mark: Mark
    name: str
    state: str


@dataclass(frozen=True, kw_only=True)
class Said:
    """Something the band says, and the findings it rests on."""

    text: str
    items: tuple[str, ...] = ()
    head: str = ""
    """A line above the text, stronger than it."""
    urgency: Urgency | None = None


@dataclass(frozen=True, kw_only=True)
class _Run:
    """A piece of a line of text that belongs to one thing said."""

    said: int
    x: float
    y: float
    text: str
    role: Role
    token: str


class Column(Painted):
    """One column of the band: what it says can be reached with the arrows and chosen.

    Signals: `chosen(items)` the findings something rests on; `left()` the hand goes back to the form.
    """

    chosen = Signal(tuple)
    left = Signal()

    def __init__(self, theme: Theme, title: str, empty: str, *, flowing: bool = False) -> None:
        super().__init__(theme)
        self._title = title
        self._empty = empty
        self._flowing = flowing
        self.said: tuple[Said, ...] = ()
        self.systems: tuple[SystemView, ...] = ()
        self._at = 0
        self._runs: list[_Run] = []
        self._drawn: list[Callable[[QPainter], None]] = []
        self._high = 0
        self._width_laid = -1
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.changed: Callable[[], None] = lambda: None

    def set_empty(self, words: str) -> None:
        """Say other words where there is nothing to say; none while nobody looked yet."""
        if words != self._empty:
            self._empty = words
            self._width_laid = -1
            self._lay()
            self.update()

    def show_said(self, said: tuple[Said, ...], systems: tuple[SystemView, ...] = ()) -> bool:
        """Show other things; tell whether anything was different."""
        if said == self.said and systems == self.systems:
            return False
        self.said, self.systems = said, systems
        self._at = min(self._at, max(0, len(said) - 1))
        self._width_laid = -1
        self._lay()
        self.update()
        return True

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        super().set_theme(theme)
        self._width_laid = -1
        self._lay()

    def resizeEvent(self, _event: object) -> None:
        """Break lines anew for another width."""
        self._lay()

    def content_height(self) -> int:
        """Return how high everything it says stands."""
        return self._high

    # Laying out

    def _lay(self) -> None:
        if self.width() == self._width_laid or self.width() < 40:
            return
        self._width_laid = self.width()
        theme = self.theme
        self._runs, self._drawn = [], []
        y = float(theme.px(14) + theme.metrics("label").ascent() / 2)
        self._runs.append(_Run(said=-1, x=0, y=y, text=_(self._title), role="strong", token="ink"))
        y += theme.px(26)
        if self.systems:
            y = self._lay_systems(y)
        if not self.said:
            for line in theme.wrapped("secondary", _(self._empty), self.width() - theme.px(6)):
                self._runs.append(_Run(said=-1, x=0, y=y, text=line, role="secondary", token="quiet"))
                y += theme.line("secondary")
        elif self._flowing:
            y = self._flow(y)
        else:
            for number, each in enumerate(self.said):
                y = self._block(number, each, y)
        self._high = round(y - theme.px(8))
        if self.minimumHeight() != self._high:
            self.setMinimumHeight(self._high)
            self.changed()

    def _lay_systems(self, y: float) -> float:
        theme = self.theme
        gap = self._systems_gap()
        x, deepest, start = 0.0, 1, y
        for system in self.systems:
            name = theme.width("label", system.name)
            lines = [system.state]
            if theme.width("secondary", system.state) > name + theme.px(40):
                lines = theme.wrapped("secondary", system.state, max(name, theme.px(92)))
            wide = max(name, *(theme.width("secondary", line) for line in lines)) + theme.px(14)
            if x > 0 and x + wide > self.width():
                x, start = 0.0, start + theme.px(20) + theme.line("secondary") * deepest
                deepest = 1
            self._mark(system.mark, x, start)
            self._runs.append(_Run(said=-1, x=x + theme.px(14), y=start, text=system.name, role="label", token="ink"))
            for number, line in enumerate(lines, 1):
                down = start + number * theme.px(16.5)
                self._runs.append(_Run(said=-1, x=x + theme.px(14), y=down, text=line, role="secondary", token="quiet"))
            deepest = max(deepest, len(lines))
            x += wide + gap
        return start + theme.px(16.5) * deepest + theme.px(25)

    def _systems_gap(self) -> float:
        """Return the widest gap at which the systems stand on one line."""
        theme = self.theme
        wide = sum(max(theme.width("label", s.name), theme.px(70)) + theme.px(14) for s in self.systems)
        free = (self.width() - wide) / max(1, len(self.systems) - 1)
        return min(theme.px(20), max(theme.px(5), free))

    def _mark(self, kind: Mark, x: float, y: float) -> None:
        theme, scale = self.theme, self.theme.scale
        at = x + theme.px(4)
        self._drawn.append(lambda painter: draw(painter, theme, mark_shapes(kind), at, y - 13 * scale))

    def _flow(self, y: float) -> float:
        """Run the sentences on as one paragraph, each still reachable."""
        theme = self.theme
        x, space, room = 0.0, theme.width("body", " "), self.width() - theme.px(4)
        for number, each in enumerate(self.said):
            line_x, words = x, list[str]()
            for word in each.text.split():
                wide = theme.width("body", word)
                if x + wide > room and (words or line_x > 0):
                    if words:
                        text = " ".join(words)
                        self._runs.append(_Run(said=number, x=line_x, y=y, text=text, role="body", token="ink"))
                    y += theme.line("body") + theme.px(1)
                    x = line_x = 0.0
                    words = []
                words.append(word)
                x += wide + space
            if words:
                self._runs.append(_Run(said=number, x=line_x, y=y, text=" ".join(words), role="body", token="ink"))
        return y + theme.px(20)

    def _block(self, number: int, each: Said, y: float) -> float:
        theme = self.theme
        room = self.width() - theme.px(6)
        if each.urgency is not None:
            frame, top = urgent_frame(each.urgency).shapes, y - 12 * theme.scale
            self._drawn.append(lambda painter: draw(painter, theme, frame, 0, top))
            self._runs.append(_Run(said=number, x=theme.px(22), y=y, text=each.head, role="strong", token="urgent"))
            y += theme.px(19)
        elif each.head:
            for line in theme.wrapped("label", each.head, room):
                self._runs.append(_Run(said=number, x=0, y=y, text=line, role="label", token="ink"))
                y += theme.px(17)
        role: Role = "body" if each.urgency is not None else "secondary"
        token = "ink" if each.urgency is not None else "quiet"
        for line in theme.wrapped(role, each.text, room):
            self._runs.append(_Run(said=number, x=0, y=y, text=line, role=role, token=token))
            y += theme.line("secondary")
        return y + theme.px(7)

    # Painting

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what was laid out; what is reached stands in a frame."""
        theme = self.theme
        painter = QPainter(self)
        if self.hasFocus():
            for box in self._boxes(self._at):
                painter.fillRect(box, theme.colour("sheet"))
        for drawn in self._drawn:
            drawn(painter)
        for run in self._runs:
            painter.setFont(theme.font(run.role))
            painter.setPen(theme.colour(run.token))
            painter.drawText(QPointF(run.x, run.y), run.text)
        if self.hasFocus():
            painter.setPen(pen(theme.colour("accent"), 2.0))
            for box in self._boxes(self._at):
                painter.drawRect(box.adjusted(1, 1, -1, -1))
            if not self.said:
                painter.drawRect(QRectF(0, theme.px(1), self.width() - 2, theme.px(27)))
        painter.end()

    def part_rect(self, number: int) -> QRect:
        """Return where something said stands."""
        box = QRectF()
        for each in self._boxes(number):
            box = box.united(each)
        return box.toAlignedRect().intersected(QRect(0, 0, self.width(), max(self.height(), self._high)))

    def _boxes(self, number: int) -> list[QRectF]:
        """Return the frames of something said: one, or where sentences run on one a line."""
        theme = self.theme
        boxes = [
            QRectF(max(0.0, run.x - 4), run.y - theme.px(15), theme.width(run.role, run.text) + 8, theme.px(20))
            for run in self._runs
            if run.said == number
        ]
        if self._flowing or not boxes:
            return boxes
        whole = QRectF()
        for each in boxes:
            whole = whole.united(each)
        return [whole]

    # The hand

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Rove with the arrows, choose with Enter, go back with Escape."""
        key = key_name(event)
        if key in {"Up", "Left", "Down", "Right"} and self.said:
            self._at = max(0, min(len(self.said) - 1, self._at + (1 if key in {"Down", "Right"} else -1)))
            self.reveal()
            self.update()
            self.tell_focus()
        elif key in {"Enter", "Space"}:
            self._choose(self._at)
        elif key == "Escape":
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _choose(self, number: int) -> None:
        if number < len(self.said) and self.said[number].items:
            self.chosen.emit(self.said[number].items)

    def reveal(self) -> None:
        """Bring what is reached into sight."""
        area = self.area()
        if area is not None:
            rect = self.part_rect(self._at)
            area.ensureVisible(rect.center().x(), rect.top(), 0, 8)
            area.ensureVisible(rect.center().x(), rect.bottom(), 0, 8)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show what is reached."""
        super().focusInEvent(event)
        self.reveal()
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the frame away."""
        super().focusOutEvent(event)
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose what is under the pointer."""
        for number in range(len(self.said)):
            if self.part_rect(number).contains(event.position().toPoint()):
                self._at = number
                self._choose(number)
                return

    def spoken(self) -> Spoken:
        """Return the column's name and its systems, for a screen reader."""
        told = "; ".join(f"{system.name}: {system.state}" for system in self.systems)
        return Spoken(name=_(self._title), role="list", description=told if self.said else told or _(self._empty))

    def parts(self) -> tuple[Part, ...]:
        """Return what it says, one by one."""
        return tuple(
            Part(
                name=f"{each.head}: {each.text}" if each.head else each.text,
                role="link" if each.items else "text",
                rect=self.part_rect(number),
                focused=number == self._at,
            )
            for number, each in enumerate(self.said)
        )


class ColumnArea(QScrollArea):
    """Holds a column and scrolls where it says more than the band has room for."""

    def __init__(self, column: Column, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.column = column
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidgetResizable(True)
        self.setWidget(column)
        self.dress(theme)

    def dress(self, theme: Theme) -> None:
        """Take another palette."""
        palette = theme.palette()
        self.setPalette(palette)
        self.viewport().setAutoFillBackground(False)
        self.column.setAutoFillBackground(False)
        wide = theme.px(4)
        self.verticalScrollBar().setStyleSheet(
            f"QScrollBar{{background:transparent;width:{wide}px;margin:0;border:0}}"
            f"QScrollBar::handle{{background:{theme.colour('rule').name()};min-height:16px}}"
            "QScrollBar::add-line,QScrollBar::sub-line,QScrollBar::add-page,QScrollBar::sub-page"
            "{background:transparent;height:0;border:0}"
        )
