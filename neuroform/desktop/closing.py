"""The line that closes a section: what is still blank, what is folded away, and where Enter goes."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop.drawing import pen
from neuroform.desktop.keyboard import key_word
from neuroform.desktop.painted import Painted, Spoken
from neuroform.desktop.shape import margin
from neuroform.desktop.theme import Role, Theme
from neuroform.language import N_, _


@dataclass(frozen=True, kw_only=True)
class ClosingView:
    """What the closing line says."""

    left: str
    """How far the section is."""
    following: str
    """Where Enter goes."""
    more: str
    """What m unfolds, or folds again."""
    focused: bool = False


class ClosingLine(Painted):
    """The last stop of a section.

    Signals: `reached(-1)` it wants the focus; `gone()` it was clicked; `unfolded()` the rest was asked for.
    """

    reached = Signal(int)
    gone = Signal()
    unfolded = Signal()

    def __init__(self, theme: Theme, on_key: Callable[[QKeyEvent], bool], parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.view = ClosingView(left="", following="", more="")
        self._on_key = on_key
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_view(self, view: ClosingView) -> None:
        """Show another state."""
        if view != self.view:
            self.view = view
            self.update()

    def needed_height(self) -> int:
        """Return the height the line takes."""
        return self.theme.px(34 + 34) if self.view.more else self.theme.px(40)

    def spoken(self) -> Spoken:
        """Return what a screen reader is told."""
        words = _(N_("Enter: {following}")).format(following=self.view.following)
        return Spoken(name=self.view.left, role="button", description=f"{words}. {self.view.more}")

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the line."""
        theme, view = self.theme, self.view
        painter = QPainter(self)
        axis, edge = self.width() / 2, margin(self.width(), theme.scale)
        first = theme.px(36)
        if view.focused:
            painter.fillRect(QRectF(edge, 0, self.width() - 2 * edge, first), theme.colour("tint"))
            box = QRectF(axis + theme.px(5), 1, self.width() - edge - axis - theme.px(5) - 1, first - 2)
            painter.fillRect(box, theme.colour("sheet"))
            painter.setPen(pen(theme.colour("accent"), 2.0))
            painter.drawRect(box)
        y = theme.px(23)
        left = theme.fitted("label", view.left, axis - theme.px(15) - edge)
        self._text(painter, axis - theme.px(15) - theme.width("label", left), y, left, "label", "ink")
        x = self._text(painter, axis + theme.px(15), y, view.following, "label", "ink")
        self._text(painter, x + theme.px(10), y, key_word("Enter"), "key", "accent")
        if view.more:
            y += theme.px(34)
            x = self._text(painter, axis + theme.px(15), y, view.more, "secondary", "quiet")
            self._text(painter, x + theme.px(10), y, "m", "key", "accent")
        painter.end()

    def _text(self, painter: QPainter, x: float, y: float, text: str, role: Role, token: str) -> float:
        painter.setFont(self.theme.font(role))
        painter.setPen(self.theme.colour(token))
        painter.drawText(QPointF(x, y), text)
        return x + self.theme.width(role, text)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Say that the line was reached."""
        super().focusInEvent(event)
        if event.reason() != Qt.FocusReason.OtherFocusReason:
            self.reached.emit(-1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand keys to the form."""
        if not self._on_key(event):
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Go on, or unfold."""
        if self.view.more and event.position().y() > self.theme.px(36):
            self.unfolded.emit()
        else:
            self.gone.emit()
