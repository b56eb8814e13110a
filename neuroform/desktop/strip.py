"""The strip: every section with its item line, and the plumb line that falls from the item in focus."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from PySide6.QtCore import QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop.drawing import draw, pen
from neuroform.desktop.keyboard import key_name
from neuroform.desktop.painted import Painted, Part, Spoken
from neuroform.desktop.shape import STRIP, STRIP_FOLDED, margin, shape_of
from neuroform.desktop.theme import Role, Theme
from neuroform.figures.item_line import STRIP_PITCH, Segment, in_words, item_line, segment_width
from neuroform.figures.marks import plumb
from neuroform.figures.shapes import Shape
from neuroform.language import N_, _

BEFORE, AFTER = "\u2039", "\u203a"
"""Angle marks beside how many sections stand out of sight."""
BASELINE = 22
LINE = 38
BOB = 18
"""How far the bob hangs below the strip."""


@dataclass(frozen=True, kw_only=True)
class SectionView:
    """One section in the strip."""

    name: str
    label: str
    segments: tuple[Segment, ...] = ()
    focused: int | None = None
    """Which segment is in focus."""


@dataclass(frozen=True, kw_only=True)
class _Placed:
    view: SectionView
    rect: QRect
    x: float
    width: float


class Strip(Painted):
    """Shows the sections.

    Signals: `chosen(section)` one was chosen; `left()` the hand goes back; `plumbed(x)` where the line falls.
    """

    chosen = Signal(str)
    left = Signal()
    plumbed = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.sections: tuple[SectionView, ...] = ()
        self.current = ""
        self._at = 0
        self._placed: list[_Placed] = []
        self._before = self._after = 0
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def needed_height(self) -> int:
        """Return the height it takes."""
        return self.theme.px(STRIP - self._saved())

    def _saved(self) -> int:
        """Return how much lower the strip is where room is scarce."""
        return STRIP - STRIP_FOLDED if shape_of(self.width(), self.theme.scale) == "folded" else 0

    def show_sections(self, sections: Sequence[SectionView], current: str) -> None:
        """Show the sections as they stand."""
        if (tuple(sections), current) != (self.sections, self.current):
            if current != self.current:
                self._at = next((n for n, each in enumerate(sections) if each.name == current), 0)
            before, self.sections = self.sections, tuple(sections)
            same = current == self.current and [len(s.segments) for s in before] == [len(s.segments) for s in sections]
            self.current = current
            if not same:
                self.arrange()
                self.update()
                return
            changed = {new.name: new for old, new in zip(before, sections, strict=True) if old != new}
            for number, placed in enumerate(self._placed):
                if placed.view.name in changed:
                    self._placed[number] = replace(placed, view=changed[placed.view.name])
                    self.update(placed.rect.adjusted(-2, -2, 2, 6))
            self._hang()

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        super().set_theme(theme)
        self.arrange()

    def resizeEvent(self, _event: object) -> None:
        """Place the sections anew."""
        self.arrange()

    # Where the sections stand

    def arrange(self) -> None:
        """Place the sections: all of them, or where there is no room the ones around the current one."""
        self._placed = []
        self._before = self._after = 0
        if not self.sections or self.width() < 10:
            return
        theme = self.theme
        edge = margin(self.width(), theme.scale)
        room = self.width() - 2 * edge
        last = self.sections[-1]
        here = next((n for n, each in enumerate(self.sections) if each.name == self.current), 0)
        first, end = self._window(here, room)
        shown = self.sections[first:end]
        self._before, self._after = first, len(self.sections) - 1 - end
        self._before, self._after = max(0, self._before), max(0, self._after)
        widths = [self._wide(each) for each in (*shown, last)]
        left = edge + (self._count_width() if self._before else 0)
        right = self.width() - edge - widths[-1]
        free = right - left - sum(widths[:-1]) - (self._count_width() if self._after else 0)
        gap = min(free / len(shown), theme.px(60)) if len(shown) > 0 else 0.0
        x = float(left)
        for each, wide in zip(shown, widths, strict=False):
            self._place(each, x, wide)
            x += wide + gap
        self._place(last, right, widths[-1])
        self._hang()

    def _hang(self) -> None:
        at = next((placed for placed in self._placed if placed.view.name == self.current), None)
        self.plumbed.emit(-1 if at is None else self._plumb_x(at))

    def _window(self, here: int, room: float) -> tuple[int, int]:
        """Return from where to where sections fit, the current one among them; the last one is placed by itself."""
        theme = self.theme
        count = len(self.sections) - 1
        here = min(here, count - 1)
        least = theme.px(14)
        taken = self._wide(self.sections[-1]) + self._wide(self.sections[here]) + least
        first, end = here, here + 1
        while first > 0 or end < count:
            options = []
            if end < count:
                options.append((end, self._wide(self.sections[end])))
            if first > 0:
                options.append((first - 1, self._wide(self.sections[first - 1])))
            grown = False
            for index, wide in sorted(options, key=lambda option: abs(option[0] - here)):
                new_first, new_end = min(first, index), max(end, index + 1)
                counts = self._count_width() * ((new_first > 0) + (new_end < count))
                if taken + wide + least + counts <= room:
                    first, end, taken, grown = new_first, new_end, taken + wide + least, True
                    break
            if not grown:
                break
        return first, end

    def _count_width(self) -> float:
        return self.theme.width("secondary", f"{BEFORE} 10") + self.theme.px(14)

    def _wide(self, each: SectionView) -> float:
        words = self.theme.width("section", _(each.label))
        return max(words, STRIP_PITCH * self.theme.scale * len(each.segments))

    def _place(self, view: SectionView, x: float, wide: float) -> None:
        rect = QRect(round(x) - 6, 2, round(wide) + 12, self.theme.px(STRIP - self._saved()) - 6)
        self._placed.append(_Placed(view=view, rect=rect, x=x, width=wide))

    def line_top(self) -> int:
        """Return where the item lines stand."""
        return self.theme.px(LINE - self._saved() * 0.6)

    def _plumb_x(self, placed: _Placed) -> int:
        if placed.view.focused is None:
            return -1
        scale = self.theme.scale
        wide = segment_width(placed.width / scale, len(placed.view.segments))
        return round(placed.x + (placed.view.focused * (wide + 2) + wide / 2) * scale)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint words and item lines, and the frame of the item in focus, where they have to be."""
        theme = self.theme
        painter = QPainter(self)
        y = theme.px(BASELINE - self._saved() / 3)
        for placed in self._placed:
            if not placed.rect.adjusted(-2, -2, 2, 6).intersects(event.rect()):
                continue
            here = placed.view.name == self.current
            self._text(
                painter,
                placed.x,
                y,
                _(placed.view.label),
                "section" if here else "secondary",
                "ink" if here else "ink2",
            )
            self._items(painter, placed)
            if self.hasFocus() and self.sections and placed.view.name == self.sections[self._at].name:
                painter.setPen(pen(theme.colour("accent"), 2.0))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(QRectF(placed.rect))
        edge = margin(self.width(), theme.scale)
        if self._before:
            self._text(painter, edge, y, f"{BEFORE} {self._before}", "secondary", "quiet")
        if self._after and self._placed:
            words = f"{self._after} {AFTER}"
            x = self._placed[-1].x - theme.width("secondary", words) - theme.px(14)
            self._text(painter, x, y, words, "secondary", "quiet")
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), theme.colour("rule"))
        painter.end()

    def _items(self, painter: QPainter, placed: _Placed) -> None:
        theme, scale = self.theme, self.theme.scale
        top = self.line_top()
        if not placed.view.segments:
            painter.fillRect(QRectF(placed.x, top + 2 * scale, placed.width, max(1.0, scale)), theme.colour("rule"))
            return
        wide = segment_width(placed.width / scale, len(placed.view.segments))
        draw(painter, theme, _line(placed.view.segments, wide), placed.x, top)
        if placed.view.focused is not None:
            x = placed.x + placed.view.focused * (wide + 2) * scale
            box = QRectF(x - 2 * scale, top - 2.2 * scale, (wide + 4) * scale, 9.4 * scale)
            painter.setPen(pen(theme.colour("accent"), 1.6 * scale))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(box)

    def _text(self, painter: QPainter, x: float, y: float, text: str, role: Role, token: str) -> None:
        painter.setFont(self.theme.font(role))
        painter.setPen(self.theme.colour(token))
        painter.drawText(QPointF(x, y), text)

    # The hand

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Rove over the sections with the arrows; Enter opens one, Escape goes back."""
        key = key_name(event)
        steps = {"Left": -1, "Right": 1}
        if key in steps:
            self._at = max(0, min(len(self.sections) - 1, self._at + steps[key]))
            if not any(placed.view.name == self.sections[self._at].name for placed in self._placed):
                self.chosen.emit(self.sections[self._at].name)
                self.setFocus()
            self.update()
            self.tell_focus()
        elif key in {"Enter", "Space"} and self.sections:
            self.chosen.emit(self.sections[self._at].name)
            self.left.emit()
        elif key in {"Escape", "Down"}:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Begin at the current section."""
        super().focusInEvent(event)
        self._at = next((n for n, each in enumerate(self.sections) if each.name == self.current), 0)
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Open the section under the pointer."""
        for placed in self._placed:
            if placed.rect.contains(event.position().toPoint()):
                self.chosen.emit(placed.view.name)
                self.left.emit()

    def spoken(self) -> Spoken:
        """Return what it is, for a screen reader."""
        return Spoken(name=_(N_("Sections")), role="tabs")

    def parts(self) -> tuple[Part, ...]:
        """Return the sections, each with its item line in words."""
        rects = {placed.view.name: placed.rect for placed in self._placed}
        return tuple(
            Part(
                name=_(each.label),
                role="tab",
                rect=rects.get(each.name, self.rect()),
                chosen=each.name == self.current,
                focused=n == self._at,
                description=in_words(each.segments) if each.segments else "",
            )
            for n, each in enumerate(self.sections)
        )


@lru_cache(maxsize=256)
def _line(segments: tuple[Segment, ...], width: float) -> tuple[Shape, ...]:
    return tuple(item_line(segments, width).shapes)


class Plumb(QWidget):
    """The plumb line over the edge of strip and sheet; it takes no clicks."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()

    def fall(self, x: int, top: int, foot: int) -> None:
        """Hang at `x` from `top` so that the bob ends at `foot`; hide where x is below 0."""
        self.setVisible(x >= 0)
        if x >= 0:
            half = self.theme.px(6)
            self.setGeometry(x - half, top, 2 * half, foot - top)
            self.raise_()
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the line and its hollow bob."""
        scale = self.theme.scale
        painter = QPainter(self)
        length = self.height() / scale - 15.2
        shapes = plumb(length).shapes
        draw(painter, self.theme, shapes, self.width() / 2, 0)
        painter.end()
