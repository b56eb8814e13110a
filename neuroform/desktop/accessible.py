"""Interfaces of painted widgets for assistive technology: a group, and an interface for each part within it."""

from typing import Any

from PySide6.QtCore import QObject, QRect
from PySide6.QtGui import QAccessible, QAccessibleInterface, QWindow
from PySide6.QtWidgets import QAccessibleWidget

from neuroform.desktop.painted import Painted, Part

_GROUPS = {
    "group": QAccessible.Role.Grouping,
    "list": QAccessible.Role.List,
    "tabs": QAccessible.Role.PageTabList,
    "field": QAccessible.Role.EditableText,
    "text": QAccessible.Role.StaticText,
    "button": QAccessible.Role.Button,
}
_PARTS = {
    "radio": QAccessible.Role.RadioButton,
    "check": QAccessible.Role.CheckBox,
    "button": QAccessible.Role.Button,
    "tab": QAccessible.Role.PageTab,
    "link": QAccessible.Role.Link,
    "text": QAccessible.Role.StaticText,
    "field": QAccessible.Role.EditableText,
}


class PartInterface(QAccessibleInterface):
    """One part of a painted widget, read live from it."""

    def __init__(self, widget: Painted, number: int) -> None:
        super().__init__()
        self._widget = widget
        self._number = number

    def _part(self) -> Part | None:
        parts = self._widget.parts()
        return parts[self._number] if self._number < len(parts) else None

    def isValid(self) -> bool:
        """Tell whether the part is still there."""
        return self._part() is not None

    def object(self) -> QObject:
        """Return nothing: a part is no object of its own."""
        return None  # type: ignore[return-value]  # Qt's own contract for virtual children

    def window(self) -> QWindow:
        """Return the window it is in."""
        return self._widget.window().windowHandle()

    def parent(self) -> QAccessibleInterface:
        """Return the widget's interface."""
        return QAccessible.queryAccessibleInterface(self._widget)

    def child(self, index: int) -> QAccessibleInterface:
        """Return nothing: parts hold nothing."""
        return None  # type: ignore[return-value]  # as above

    def childAt(self, x: int, y: int) -> QAccessibleInterface:
        """Return nothing: parts hold nothing."""
        return None  # type: ignore[return-value]  # as above

    def childCount(self) -> int:
        """Return 0."""
        return 0

    def indexOfChild(self, child: QAccessibleInterface) -> int:
        """Return that there is none."""
        return -1

    def role(self) -> QAccessible.Role:
        """Return what it is."""
        part = self._part()
        return _PARTS[part.role] if part else QAccessible.Role.NoRole

    def text(self, kind: QAccessible.Text) -> str:
        """Return its name, value or description."""
        part = self._part()
        if part is None:
            return ""
        kinds = QAccessible.Text
        return {kinds.Name: part.name, kinds.Value: part.value, kinds.Description: part.description}.get(kind, "")

    def setText(self, kind: QAccessible.Text, text: str) -> None:
        """Refuse: parts are read only."""

    def rect(self) -> QRect:
        """Return where it stands on the screen."""
        part = self._part()
        if part is None:
            return QRect()
        return QRect(self._widget.mapToGlobal(part.rect.topLeft()), part.rect.size())

    def state(self) -> QAccessible.State:
        """Return whether it is chosen and has the focus."""
        state = QAccessible.State()
        part = self._part()
        if part is None:
            state.invalid = True
            return state
        state.checkable = part.role in {"radio", "check"}
        state.checked = part.chosen and part.role in {"radio", "check"}
        state.selectable = part.role in {"tab", "link"}
        state.selected = part.chosen and part.role == "tab"
        state.focusable = True
        state.focused = part.focused and self._widget.hasFocus()
        state.invisible = not self._widget.isVisible()
        return state


class PaintedInterface(QAccessibleWidget):
    """A painted widget: a group with its parts as children."""

    def __init__(self, widget: Painted) -> None:
        super().__init__(widget, QAccessible.Role.Grouping, "")
        self._painted = widget
        self._children: list[PartInterface] = []

    def role(self) -> QAccessible.Role:
        """Return what the widget is."""
        return _GROUPS[self._painted.spoken().role]

    def text(self, kind: QAccessible.Text) -> str:
        """Return its name, value or description."""
        spoken = self._painted.spoken()
        kinds = QAccessible.Text
        return {kinds.Name: spoken.name, kinds.Value: spoken.value, kinds.Description: spoken.description}.get(kind, "")

    def childCount(self) -> int:
        """Return how many parts and widgets it holds."""
        return len(self._painted.parts()) + super().childCount()

    def child(self, index: int) -> QAccessibleInterface:
        """Return a part, or a widget within it."""
        count = len(self._painted.parts())
        while len(self._children) < count:
            self._children.append(PartInterface(self._painted, len(self._children)))
        return self._children[index] if index < count else super().child(index - count)

    def indexOfChild(self, child: QAccessibleInterface) -> int:
        """Return the place of a part."""
        for number, each in enumerate(self._children):
            if each is child:
                return number
        own = super().indexOfChild(child)
        return own if own < 0 else own + len(self._painted.parts())

    def focusChild(self) -> QAccessibleInterface:
        """Return the part that has the focus."""
        for number, part in enumerate(self._painted.parts()):
            if part.focused and self._painted.hasFocus():
                return self.child(number)
        return super().focusChild()


_kept: dict[int, QAccessibleWidget] = {}


def _interface(class_name: str, thing: Any) -> QAccessibleInterface | None:
    """Make the interface of a painted widget, or of the window; Qt asks for it once."""
    made: QAccessibleWidget
    if isinstance(thing, Painted):
        made = PaintedInterface(thing)
    elif class_name == "MainWindow":
        made = QAccessibleWidget(thing, QAccessible.Role.Window, thing.windowTitle())
    else:
        return None
    key = id(thing)
    _kept[key] = made
    thing.destroyed.connect(lambda: _kept.pop(key, None))
    return made


_installed = False


def install() -> None:
    """Have Qt use these interfaces; once for the process."""
    global _installed
    if not _installed:
        QAccessible.installFactory(_interface)
        _installed = True
