"""Words, fields and buttons of the pages that are not rows: everything stands on a line, in the theme's type."""

from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QLabel, QPushButton, QRadioButton, QSizePolicy, QWidget

from neuroform.desktop.drawing import pen
from neuroform.desktop.painted import Painted, Spoken
from neuroform.desktop.theme import Role, Theme

PAD = 10
"""Between a word and the frame that shows the focus: every column keeps it free at its left."""


BAR = 8
"""Pixels at the right of a column that a scroll bar may take."""


def write_lines(
    painter: QPainter, theme: Theme, role: Role, token: str, lines: list[str], x: float, top: float
) -> float:
    """Write lines of text from `top` down; return where the next would begin."""
    painter.setFont(theme.font(role))
    painter.setPen(theme.colour(token))
    high = theme.line(role)
    metrics = theme.metrics(role)
    for line in lines:
        baseline = top + (high - metrics.height()) / 2 + metrics.ascent()
        painter.drawText(QPointF(x, round(baseline)), line)
        top += high
    return top


def frame(
    painter: QPainter, theme: Theme, rect: QRectF, *, focused: bool, token: str = "rule", width: float = 1
) -> None:
    """Draw the frame of a field, or 2 px in the accent where the focus is."""
    stroke = 2.0 if focused else width
    inset = stroke / 2
    painter.setPen(pen(theme.colour("accent" if focused else token), stroke))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(rect.adjusted(inset, inset, -inset, -inset))


class Said(QLabel):
    """Words that wrap, in one role and colour; empty ones take no room."""

    def __init__(
        self, theme: Theme, text: str = "", role: Role = "body", token: str = "ink", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.theme, self.role, self.token = theme, role, token
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.say(text)

    def say(self, text: str) -> None:
        """Show other words."""
        if text != self.text() or not text:
            self.setText(text)
            if not text:
                self.hide()
            elif self.parentWidget() is not None:
                # Without a parent yet it would come up as a window of its own.
                self.show()
            self.updateGeometry()

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        self.updateGeometry()
        self.update()

    def _lines(self, width: int) -> list[str]:
        return self.theme.wrapped(self.role, self.text(), max(width - 2 * PAD, 40))

    def hasHeightForWidth(self) -> bool:
        """Tell Qt that the height follows from the width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the wrapped lines."""
        return len(self._lines(width)) * self.theme.line(self.role)

    def sizeHint(self) -> QSize:
        """Return the size on one line."""
        return QSize(round(self.theme.width(self.role, self.text())) + 2 * PAD + 2, self.theme.line(self.role))

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        return QSize(4 * PAD, self.theme.line(self.role))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Write the lines."""
        painter = QPainter(self)
        write_lines(painter, self.theme, self.role, self.token, self._lines(self.width()), PAD, 0)
        painter.end()


class Heading(Painted):
    """A name over a hair line, and quiet words at its right end."""

    def __init__(self, theme: Theme, words: str, *, role: Role = "section", parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.words, self.role, self.beside = words, role, ""
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def say_beside(self, words: str) -> None:
        """Show words at the right end."""
        self.beside = words
        self.update()

    def spoken(self) -> Spoken:
        """Return the name and what stands beside it."""
        return Spoken(name=self.words, role="text", description=self.beside)

    def sizeHint(self) -> QSize:
        """Return one line and the space below it."""
        return QSize(80, self.theme.line(self.role) + self.theme.px(8))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Write the name on its line."""
        painter = QPainter(self)
        token = "ink" if self.role == "strong" else "ink2"
        write_lines(painter, self.theme, self.role, token, [self.words], PAD, 0)
        room = self.width() - 3 * PAD - self.theme.width(self.role, self.words)
        beside = self.theme.fitted("secondary", self.beside, room)
        x = self.width() - PAD - self.theme.width("secondary", beside)
        write_lines(painter, self.theme, "secondary", "quiet", [beside], x, 0)
        if self.role != "strong":
            y = self.theme.line(self.role) + self.theme.px(3)
            painter.fillRect(QRectF(PAD, y, self.width() - 2 * PAD, 1), self.theme.colour("hair"))
        painter.end()


class _OnLine:
    """How a word on its line is measured and painted, with its key below it where it has one."""

    def __init__(self, theme: Theme, key: str = "") -> None:
        self.theme, self.key = theme, key

    def size(self, words: str) -> QSize:
        high = self.theme.line("body") + self.theme.px(8)
        if self.key:
            high += self.theme.line("key")
        return QSize(round(self.theme.width("strong", words)) + 2 * PAD, high)

    def paint(self, button: QAbstractButton, *, chosen: bool) -> None:
        painter = QPainter(button)
        theme, words = self.theme, button.text()
        role: Role = "strong" if chosen else "body"
        token = "ink" if button.isEnabled() else "quiet"
        top = theme.px(1)
        wide = theme.width(role, words)
        below = write_lines(painter, theme, role, token, [words], PAD, top) + theme.px(1)
        painter.fillRect(QRectF(PAD, below, wide, 4.0 if chosen else 1.2), theme.colour(token if chosen else "rule"))
        if self.key and button.isEnabled():
            write_lines(painter, theme, "key", "accent", [self.key], PAD, below + theme.px(3))
        if button.hasFocus():
            frame(painter, theme, QRectF(button.rect()), focused=True)
        painter.end()


def _enters(button: QAbstractButton, event: QKeyEvent) -> bool:
    """Press a button with Enter, as Space does."""
    entered = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
    if entered and button.isEnabled():
        button.click()
    return entered


class Word(QPushButton):
    """Something to do, as a word on a line."""

    def __init__(self, theme: Theme, words: str, key: str = "", parent: QWidget | None = None) -> None:
        super().__init__(words, parent)
        self._look = _OnLine(theme, key)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self._look.theme = theme
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Return the size of the word and its frame."""
        return self._look.size(self.text())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Press it with Enter too."""
        if not _enters(self, event):
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Write the word on its line."""
        self._look.paint(self, chosen=False)


class WordChoice(QRadioButton):
    """One of several words, the chosen one on a heavy line."""

    def __init__(self, theme: Theme, words: str, parent: QWidget | None = None) -> None:
        super().__init__(words, parent)
        self._look = _OnLine(theme)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self._look.theme = theme
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Return the size of the word at its heaviest."""
        return self._look.size(self.text())

    def minimumSizeHint(self) -> QSize:
        """Return the same size: a word is never cut."""
        return self.sizeHint()

    def hitButton(self, at: QPoint) -> bool:
        """Take a click anywhere on the word."""
        return self.rect().contains(at)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Press it with Enter too."""
        if not _enters(self, event):
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Write the word on its line."""
        self._look.paint(self, chosen=self.isChecked())


class Push(QPushButton):
    """A button with a frame; the main one is filled while it can be used."""

    def __init__(self, theme: Theme, words: str, *, main: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(words, parent)
        self.theme, self._main = theme, main
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Return the size of the words and the frame."""
        return QSize(round(self.theme.width("strong", self.text())) + self.theme.px(32), self.theme.px(36))

    def minimumSizeHint(self) -> QSize:
        """Return the same size: words are never cut."""
        return self.sizeHint()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Press it with Enter too."""
        if not _enters(self, event):
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the frame or the fill, and the words in the middle."""
        painter = QPainter(self)
        box = QRectF(self.rect())
        theme = self.theme
        filled = self._main and self.isEnabled()
        if filled:
            painter.fillRect(box, theme.colour("accent"))
            if self.hasFocus():
                frame(painter, theme, box.adjusted(3, 3, -3, -3), focused=False, token="inv", width=2)
        elif self.isEnabled():
            painter.fillRect(box, theme.colour("sheet"))
            frame(painter, theme, box, focused=self.hasFocus(), token="ink", width=1.2)
        else:
            frame(painter, theme, box, focused=self.hasFocus())
        token = "inv" if filled else "ink" if self.isEnabled() else "quiet"
        painter.setFont(theme.font("strong"))
        painter.setPen(theme.colour(token))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self.text())
        painter.end()


class Framed(QWidget):
    """Holds an editor in a frame that shows the focus. Signals: `entered()`, `left()`, `undone()`, `redone()`."""

    entered = Signal()
    left = Signal()
    undone = Signal()
    redone = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.plain = False
        """Whether the frame is left out until the focus is there."""
        self._editor: QWidget | None = None

    def hold(self, editor: QWidget) -> None:
        """Take the editor."""
        self._editor = editor
        editor.setParent(self)
        editor.installEventFilter(self)
        self.setFocusProxy(editor)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the ground and the frame."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.theme.colour("sheet"))
        focused = self._editor is not None and self._editor.hasFocus()
        if focused or not self.plain:
            frame(painter, self.theme, QRectF(self.rect()), focused=focused)
        painter.end()

    def inner(self) -> QRect:
        """Return where the editor stands."""
        high = self.theme.px(7)
        return self.rect().adjusted(PAD, high, -PAD, -high)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the focus; take Enter, and leave undo to the examination."""
        kind = event.type()
        if kind in {QEvent.Type.FocusIn, QEvent.Type.FocusOut}:
            self.update()
            if kind == QEvent.Type.FocusOut:
                self.left.emit()
        elif kind in {QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress} and isinstance(event, QKeyEvent):
            if event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo):
                return self._undo(event)
            if kind == QEvent.Type.KeyPress and self._enters(event):
                self.entered.emit()
                return True
        return super().eventFilter(watched, event)

    def _undo(self, event: QKeyEvent) -> bool:
        event.accept()
        if event.type() == QEvent.Type.KeyPress:
            (self.undone if event.matches(QKeySequence.StandardKey.Undo) else self.redone).emit()
        return True

    def _enters(self, event: QKeyEvent) -> bool:
        shifted = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        return event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and not shifted
