"""The sheet of keys, over the window while it is asked for."""

import math

from PySide6.QtCore import QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from neuroform.desktop.keyboard import key_name, key_word
from neuroform.desktop.keys import SHEET
from neuroform.desktop.painted import Painted, Part, Spoken
from neuroform.desktop.shape import margin, shape_of
from neuroform.desktop.theme import Role, Theme, thin_bar
from neuroform.desktop.whole_lines import Span, whole_to
from neuroform.language import N_, _

PITCH = 25
STEPS = {"Up": -3, "Down": 3, "PageUp": -9, "PageDown": 9, "Home": -99, "End": 99}
"""How many lines a key scrolls."""
MORE = 28
"""Height of the line that says that there is more below."""


class KeySheet(Painted):
    """Every key and what it does. Signals: `closed()`."""

    closed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def needed_height(self) -> int:
        """Return the height it takes at its width."""
        return round(max((y for _x, y, _t, _r, _c in self._texts()), default=0)) + self.theme.px(24)

    def _texts(self) -> list[tuple[float, float, str, Role, str]]:
        theme = self.theme
        edge = margin(self.width(), theme.scale)
        columns = {"full": 3, "middle": 2, "folded": 1}[shape_of(self.width(), theme.scale)]
        wide = (self.width() - 2 * edge) / columns
        texts: list[tuple[float, float, str, Role, str]] = []
        top = theme.px(20) + theme.metrics("title").ascent()
        texts.append((edge, top, _(N_("Keys")), "title", "ink"))
        heights = [float(top + theme.px(36))] * columns
        for number, (head, lines) in enumerate(SHEET):
            column = min(number, columns - 1) if columns == 3 else heights.index(min(heights))
            x, y = edge + column * wide, heights[column]
            texts.append((x, y, _(head), "strong", "ink"))
            y += theme.px(PITCH)
            keys = max(theme.width("key", _(line.keys)) for line in lines) + theme.px(14)
            for line in lines:
                texts.append((x, y, _(line.keys), "key", "accent"))
                for part in theme.wrapped("secondary", _(line.does), wide - keys - theme.px(20)):
                    texts.append((x + keys, y, part, "secondary", "ink2"))
                    y += theme.line("secondary")
                y += theme.px(PITCH) - theme.line("secondary")
            heights[column] = y + theme.px(14)
        return texts

    def spans(self) -> list[Span]:
        """Return where the lines stand."""
        theme = self.theme
        return [
            (y - theme.metrics(role).ascent(), y + theme.metrics(role).descent())
            for _x, y, _t, role, _c in self._texts()
        ]

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the table."""
        theme = self.theme
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.colour("sheet"))
        for x, y, text, role, token in self._texts():
            painter.setFont(theme.font(role))
            painter.setPen(theme.colour(token))
            painter.drawText(QPointF(x, y), text)
        words = _(N_("back"))
        y = theme.px(20) + theme.metrics("title").ascent()
        right = self.width() - margin(self.width(), theme.scale) - theme.px(8) - theme.width("key", key_word("Escape"))
        painter.setFont(theme.font("key"))
        painter.setPen(theme.colour("accent"))
        painter.drawText(QPointF(right, y), key_word("Escape"))
        painter.setFont(theme.font("secondary"))
        painter.setPen(theme.colour("ink2"))
        painter.drawText(QPointF(right - theme.px(8) - theme.width("secondary", words), y), words)
        painter.fillRect(QRectF(0, 0, self.width(), 1), theme.colour("rule"))
        painter.end()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Scroll with the arrows; close with Escape or Enter."""
        key = key_name(event)
        area = self.area()
        pitch = self.theme.px(PITCH)
        if key in STEPS and isinstance(area, KeySheetArea):
            area.scroll_lines(STEPS[key] * pitch)
        elif key in {"Escape", "Enter"}:
            self.closed.emit()
        else:
            super().keyPressEvent(event)

    def spoken(self) -> Spoken:
        """Return what it is, for a screen reader."""
        return Spoken(name=_(N_("Keys")), role="list", description=_(N_("Escape goes back")))

    def parts(self) -> tuple[Part, ...]:
        """Return every key and what it does."""
        rect = QRect(0, 0, self.width(), self.height())
        return tuple(
            Part(name=f"{_(line.keys)}: {_(line.does)}", role="text", rect=rect)
            for _head, lines in SHEET
            for line in lines
        )


class _More(QWidget):
    """Covers the foot of the sheet of keys where lines are left, and says so."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the words at the right, as the way back stands above."""
        theme = self.theme
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.colour("sheet"))
        y = self.height() - theme.px(10)
        right = self.width() - margin(self.width(), theme.scale) - theme.px(8) - theme.width("key", key_word("Down"))
        painter.setFont(theme.font("key"))
        painter.setPen(theme.colour("accent"))
        painter.drawText(QPointF(right, y), key_word("Down"))
        words = _(N_("more keys"))
        painter.setFont(theme.font("secondary"))
        painter.setPen(theme.colour("ink2"))
        painter.drawText(QPointF(right - theme.px(8) - theme.width("secondary", words), y), words)
        painter.end()


class KeySheetArea(QScrollArea):
    """Holds the sheet of keys where it is higher than the window. Signals: `closed()`."""

    closed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheet = KeySheet(theme)
        self.sheet.closed.connect(self.closed)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidget(self.sheet)
        self._more = _More(theme, self)
        self.verticalScrollBar().valueChanged.connect(lambda _value: self._cover())
        self.hide()

    def open(self, theme: Theme, box: QRect) -> None:
        """Stand over a part of the window."""
        self.sheet.theme = self._more.theme = theme
        self.verticalScrollBar().setStyleSheet(thin_bar(theme))
        self.setGeometry(box)
        self.sheet.resize(box.width(), box.height())
        wide = box.width() - (theme.px(5) if self.sheet.needed_height() > box.height() else 0)
        self.sheet.resize(wide, box.height())
        self.sheet.resize(wide, max(box.height(), self.sheet.needed_height()))
        self.show()
        self.raise_()
        self._cover()
        self.sheet.setFocus(Qt.FocusReason.TabFocusReason)

    def scroll_lines(self, by: int) -> None:
        """Scroll by about that much, so that no line is cut at the top."""
        bar = self.verticalScrollBar()
        bar.setValue(bar.value() + by)
        bar.setValue(math.floor(whole_to(self.sheet.spans(), bar.value())))

    def _cover(self) -> None:
        """Cover what would be cut at the foot, and a line's height more for the words that say so."""
        bar, high = self.verticalScrollBar(), self.viewport().height()
        left = any(bottom > bar.value() + high for _top, bottom in self.sheet.spans())
        self._more.setVisible(left)
        if left:
            foot = bar.value() + high - self.sheet.theme.px(MORE)
            top = math.floor(whole_to(self.sheet.spans(), foot)) - bar.value()
            self._more.setGeometry(0, top, self.viewport().width(), high - top)
            self._more.raise_()
