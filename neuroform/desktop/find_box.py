"""Finds an item by part of its name and goes there."""

from PySide6.QtCore import QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QLineEdit, QWidget

from neuroform.desktop.drawing import pen
from neuroform.desktop.keyboard import key_word
from neuroform.desktop.painted import Painted, Part, Spoken, announce
from neuroform.desktop.searching import MOST, Hit, search
from neuroform.desktop.theme import Role, Theme
from neuroform.language import N_, _


class _Line(QLineEdit):
    """The line one types on; arrows and Enter act on what was found."""

    moved = Signal(int)
    taken = Signal()
    closed = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand arrows, Enter and Escape on."""
        if event.key() in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            self.moved.emit(1 if event.key() == Qt.Key.Key_Down else -1)
        elif event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.taken.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Close when the hand goes elsewhere."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.ActiveWindowFocusReason:
            self.closed.emit()


class FindBox(Painted):
    """Stands over the sheet while one looks for an item. Signals: `found(path)`, `closed()`."""

    found = Signal(str)
    closed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.hits: tuple[Hit, ...] = ()
        self._at = 0
        self._top = 0
        self._rows = MOST
        self.line = _Line(self)
        self.line.setAccessibleName(_(N_("Find an item")))
        self.line.setPlaceholderText(_(N_("part of a name, or an eponym")))
        self.line.textChanged.connect(self._search)
        self.line.moved.connect(self._move)
        self.line.taken.connect(self._take)
        self.line.closed.connect(self.closed)
        self._dress()
        self.hide()

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        super().set_theme(theme)
        self._dress()

    def _dress(self) -> None:
        theme = self.theme
        self.line.setFont(theme.font("body"))
        palette = theme.palette()
        palette.setColor(QPalette.ColorRole.Base, theme.colour("sheet"))
        self.line.setPalette(palette)
        self.line.setStyleSheet(
            f"QLineEdit{{border:2px solid {theme.colour('accent').name()};padding:0 {theme.px(8)}px;"
            f"background:{theme.colour('sheet').name()};color:{theme.colour('ink').name()}}}"
        )

    def open(self) -> None:
        """Begin with nothing typed."""
        self.line.clear()
        self._search("")
        self.show()
        self.raise_()
        self.line.setFocus()

    def needed_height(self) -> int:
        """Return the height it takes."""
        return self._height(max(1, len(self.hits)))

    def _height(self, rows: int) -> int:
        return self.theme.px(20 + 36 + 14) + rows * self._pitch()

    def _fit(self) -> None:
        """Take as many whole rows as there is room for; where some are left over, the last line tells how many."""
        parent = self.parentWidget()
        room = parent.height() - self.y() if parent is not None else self.needed_height()
        self._rows = max(1, len(self.hits))
        if self.needed_height() > room:
            self._rows = max(1, (room - self._height(0)) // self._pitch() - 1)
        over = self._rows < len(self.hits)
        self.resize(self.width(), self._height(self._rows + over))
        self._top = max(min(self._top, self._at), self._at - self._rows + 1)

    def _pitch(self) -> int:
        return self.theme.px(28)

    def resizeEvent(self, _event: object) -> None:
        """Keep the line at the top."""
        self.line.setGeometry(self.theme.px(12), self.theme.px(12), self.width() - self.theme.px(24), self.theme.px(36))

    def _search(self, text: str) -> None:
        self.hits = search(text)
        self._at = self._top = 0
        self._fit()
        self.update()
        if self.hits:
            announce(self, self._said(self.hits[0]))

    def _said(self, hit: Hit) -> str:
        return f"{hit.words}, {hit.section}" + (f", {hit.other}" if hit.other else "")

    def _move(self, step: int) -> None:
        self._at = max(0, min(len(self.hits) - 1, self._at + step))
        self._fit()
        self.update()
        if self.hits:
            announce(self, self._said(self.hits[self._at]))

    def _take(self) -> None:
        if self.hits:
            self.found.emit(self.hits[self._at].path)

    def _rect(self, number: int) -> QRect:
        """Return where a row stands, in sight or not."""
        pitch = self._pitch()
        top = self.theme.px(56) + (number - self._top) * pitch
        return QRect(self.theme.px(12), top, self.width() - self.theme.px(24), pitch)

    def _in_sight(self) -> range:
        return range(self._top, min(len(self.hits), self._top + self._rows))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what was found, the other name that fitted beside it."""
        theme = self.theme
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.colour("sheet"))
        painter.setPen(pen(theme.colour("ink"), 1.2))
        painter.drawRect(QRectF(self.rect()).adjusted(0.6, 0.6, -0.6, -0.6))
        if not self.hits:
            words = (
                N_("No item has that name.")
                if self.line.text().strip()
                else N_("Type part of a name: “vibr”, “Babinski”.")
            )
            painter.setFont(theme.font("secondary"))
            painter.setPen(theme.colour("quiet"))
            painter.drawText(QPointF(theme.px(22), theme.px(56 + 19)), _(words))
        for number in self._in_sight():
            hit, rect = self.hits[number], self._rect(number)
            if number == self._at:
                painter.fillRect(rect, theme.colour("tint"))
            y = rect.top() + theme.px(19)
            section = theme.width("secondary", hit.section)
            right = rect.right() - theme.px(10) - section
            words = theme.fitted("label", hit.words, right - theme.px(40))
            painter.setFont(theme.font("label"))
            painter.setPen(theme.colour("ink"))
            painter.drawText(QPointF(theme.px(22), y), words)
            painter.setFont(theme.font("secondary"))
            painter.setPen(theme.colour("quiet"))
            painter.drawText(QPointF(right, y), hit.section)
            if hit.other:
                x = theme.px(22) + theme.width("label", words) + theme.px(14)
                painter.drawText(QPointF(x, y), theme.fitted("secondary", hit.other, right - x - theme.px(10)))
        self._tell_more(painter)
        painter.end()

    def _tell_more(self, painter: QPainter) -> None:
        """Say on the last line how many rows stand above and below what is in sight."""
        theme, seen = self.theme, self._in_sight()
        above, below = seen.start, len(self.hits) - seen.stop
        told = [(N_("{count} above"), above, key_word("Up")), (N_("{count} below"), below, key_word("Down"))]
        x, y = float(theme.px(22)), self._rect(self._top + self._rows).top() + theme.px(19)
        for words, count, key in told:
            if not count:
                continue
            parts: tuple[tuple[str, Role, str], ...] = (
                (_(words).format(count=count), "secondary", "quiet"),
                (key, "key", "accent"),
            )
            for text, role, token in parts:
                painter.setFont(theme.font(role))
                painter.setPen(theme.colour(token))
                painter.drawText(QPointF(x, y), text)
                x += theme.width(role, text) + theme.px(8 if role == "secondary" else 18)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Go to the item under the pointer."""
        for number in self._in_sight():
            if self._rect(number).contains(event.position().toPoint()):
                self.found.emit(self.hits[number].path)
                return

    def spoken(self) -> Spoken:
        """Return what it is, for a screen reader."""
        return Spoken(name=_(N_("Items found")), role="list")

    def parts(self) -> tuple[Part, ...]:
        """Return what was found."""
        return tuple(
            Part(name=self._said(hit), role="link", rect=self._rect(n), focused=n == self._at)
            for n, hit in enumerate(self.hits[:MOST])
        )
