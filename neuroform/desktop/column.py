"""A column of the band: things said, each reachable and traceable to the findings it rests on."""

from PySide6.QtCore import QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPainterPath, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from neuroform.desktop.column_layout import APART, PAD, ColumnLayout, LaidColumn, Said, SystemView, Told
from neuroform.desktop.drawing import draw, pen
from neuroform.desktop.keyboard import key_name
from neuroform.desktop.painted import Painted, Part, Spoken
from neuroform.desktop.theme import Theme
from neuroform.language import _


class Column(Painted):
    """One column of the band: what it says can be reached with the arrows and chosen.

    Signals: `chosen(items)` the findings something rests on; `left()` the hand goes back to the form; `reached()` it
    has the keyboard; `lost()` it has it no more.
    """

    chosen = Signal(tuple)
    left = Signal()
    reached = Signal()
    lost = Signal()

    def __init__(self, theme: Theme, title: str, empty: str, *, key: str, flowing: bool = False) -> None:
        super().__init__(theme)
        self._title = title
        self.key = key
        self._empty = empty
        self._flowing = flowing
        self.said: tuple[Said, ...] = ()
        self.systems: tuple[SystemView, ...] = ()
        self.unfolded = False
        """Whether it shows all it says, scrolled where there is no room for that."""
        self._room = 0
        self._at = 0
        self._laid = LaidColumn()
        self._laid_for = (-1, -1, False)
        self._high = 0
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def set_empty(self, words: str) -> None:
        """Say other words where there is nothing to say; none while nobody looked yet."""
        if words != self._empty:
            self._empty = words
            self._lay_anew()

    def show_said(self, said: tuple[Said, ...], systems: tuple[SystemView, ...] = ()) -> bool:
        """Show other things; tell whether anything was different."""
        if said == self.said and systems == self.systems:
            return False
        self.said, self.systems = said, systems
        self._at = min(self._at, max(0, len(said) - 1))
        self._lay_anew()
        return True

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        super().set_theme(theme)
        self._lay_anew()

    def set_room(self, high: int, *, unfolded: bool) -> None:
        """Take the height that is in sight; unfolded it shows all it says, more than that height or not."""
        self._room, self.unfolded = high, unfolded
        self._lay()

    def resizeEvent(self, _event: object) -> None:
        """Break lines anew for another width."""
        self._lay()

    def content_height(self) -> int:
        """Return how high everything it says stands."""
        return self._high

    @property
    def overflows(self) -> bool:
        """Whether it says more than is in sight."""
        return not self._laid.whole

    def _lay_anew(self) -> None:
        self._laid_for = (-1, -1, False)
        self._lay()
        self.update()

    def _lay(self) -> None:
        wanted = (self.width(), self._room, self.unfolded)
        if wanted == self._laid_for or self.width() < 40:
            return
        self._laid_for = wanted
        told = Told(
            title=self._title,
            key=self.key,
            said=self.said,
            systems=self.systems,
            empty=self._empty,
            flowing=self._flowing,
        )
        room = None if self.unfolded or not self._room else self._room
        self._laid = ColumnLayout(self.theme, self.width()).lay(told, room)
        self._high = self._laid.height
        self.setMinimumHeight(self._high if self.unfolded else 0)
        self.update()

    # Painting

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what was laid out; what is reached stands in a frame."""
        theme = self.theme
        painter = QPainter(self)
        frame = self._frame() if self.hasFocus() else None
        if frame is not None:
            painter.fillPath(frame, theme.colour("sheet"))
        for sign in self._laid.signs:
            draw(painter, theme, sign.shapes, sign.x, sign.y)
        top, foot = self._in_sight()
        for run in self._laid.runs:
            ascent, descent = theme.metrics(run.role).ascent(), theme.metrics(run.role).descent()
            if run.y - ascent < top - 1 or run.y + descent > foot + 1:
                continue
            painter.setFont(theme.font(run.role))
            painter.setPen(theme.colour(run.token))
            painter.drawText(QPointF(run.x, run.y), run.text)
        if frame is not None:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(pen(theme.colour("accent"), 2.0))
            painter.drawPath(frame)
        painter.end()

    def _frame(self) -> QPainterPath:
        """Return the outline of what is reached: around all its lines, or around the title where nothing is said."""
        path = QPainterPath()
        for box in self._boxes(self._at):
            path.addRect(box)
        if not self.said:
            path.addRect(QRectF(1, self.theme.px(3), self.width() - 2, self.theme.px(27)))
        return path.simplified()

    def _in_sight(self) -> tuple[float, float]:
        """Return from where to where the column is in sight: no line is painted in part."""
        area = self.area()
        if area is None:
            return 0.0, float(self.height())
        return float(-self.y()), float(-self.y() + area.viewport().height())

    def part_rect(self, number: int) -> QRect:
        """Return where something said stands."""
        box = QRectF()
        for each in self._boxes(number):
            box = box.united(each)
        return box.toAlignedRect().intersected(QRect(0, 0, self.width(), max(self.height(), self._high)))

    def _boxes(self, number: int) -> list[QRectF]:
        """Return the frames of something said: one, or where sentences run on one a line."""
        theme = self.theme
        off, high = theme.px(PAD) - 2, theme.line("body") + theme.px(1)
        runs = self._laid.runs
        boxes = []
        for run in (each for each in runs if each.said == number):
            right = run.x + theme.width(run.role, run.text)
            beside = {each.said for each in runs if each.y == run.y and each.said >= 0} if self._flowing else set()
            # Where another sentence stands before or after it, the frame keeps to the gap between them.
            close = theme.px(APART) if beside else off
            before, after = (close if number + step in beside else off for step in (-1, 1))
            box = QRectF(run.x - before, run.y - theme.px(15.5), right - run.x + before + after, high)
            boxes.append(box)
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
        self.reached.emit()
        self.reveal()
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the frame away."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.ActiveWindowFocusReason:
            self.lost.emit()
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
        self.unfolded = False
        self.verticalScrollBar().valueChanged.connect(lambda _value: column.update())
        self.dress(theme)

    def unfold(self, unfolded: bool) -> None:
        """Show all the column says, or what there is room for."""
        self.unfolded = unfolded
        self.column.set_room(self.viewport().height(), unfolded=unfolded)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell the column how much of it is in sight."""
        super().resizeEvent(event)
        self.column.set_room(self.viewport().height(), unfolded=self.unfolded)

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
