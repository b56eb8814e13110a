"""What every painted widget shares: a theme, words for a screen reader, and parts that can be reached within it."""

from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QRect
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QAccessibleEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from neuroform.desktop.theme import Theme

PartRole = Literal["radio", "check", "button", "tab", "link", "text", "field"]


@dataclass(frozen=True, kw_only=True)
class Part:
    """Something within a painted widget that can be reached, named and chosen by itself."""

    name: str
    role: PartRole
    rect: QRect
    chosen: bool = False
    focused: bool = False
    description: str = ""
    value: str = ""


@dataclass(frozen=True, kw_only=True)
class Spoken:
    """What a screen reader is told of a widget."""

    name: str
    role: Literal["group", "list", "tabs", "field", "text", "button"] = "group"
    description: str = ""
    value: str = ""


class Painted(QWidget):
    """A widget that paints itself; subclasses say what it is in words."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme

    def spoken(self) -> Spoken:
        """Return what a screen reader is told."""
        return Spoken(name=self.accessibleName(), description=self.accessibleDescription())

    def parts(self) -> tuple[Part, ...]:
        """Return what can be reached within, in reading order."""
        return ()

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        self.updateGeometry()
        self.update()

    def area(self) -> QScrollArea | None:
        """Return the area that scrolls this widget, when one does."""
        port = self.parentWidget()
        area = port.parentWidget() if port is not None else None
        return area if isinstance(area, QScrollArea) else None

    def tell_focus(self) -> None:
        """Let assistive technology know that another part has the focus."""
        if not QAccessible.isActive():
            return
        at = next((n for n, part in enumerate(self.parts()) if part.focused), None)
        event = QAccessibleEvent(self, QAccessible.Event.Focus)
        if at is not None:
            event.setChild(at)
        QAccessible.updateAccessibility(event)


def announce(widget: QWidget, words: str, *, at_once: bool = False) -> None:
    """Have a message read aloud by assistive technology, politely unless it is for now."""
    if not words or not QAccessible.isActive():
        return
    event = QAccessibleAnnouncementEvent(widget, words)
    kinds = QAccessible.AnnouncementPoliteness
    event.setPoliteness(kinds.Assertive if at_once else kinds.Polite)
    QAccessible.updateAccessibility(event)
