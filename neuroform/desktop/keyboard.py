"""Turns Qt's key events into the names the key table uses."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from neuroform.language import N_, _

_NAMED = {
    Qt.Key.Key_Return: "Enter",
    Qt.Key.Key_Enter: "Enter",
    Qt.Key.Key_Backspace: "Backspace",
    Qt.Key.Key_Delete: "Delete",
    Qt.Key.Key_Escape: "Escape",
    Qt.Key.Key_Space: "Space",
    Qt.Key.Key_Left: "Left",
    Qt.Key.Key_Right: "Right",
    Qt.Key.Key_Up: "Up",
    Qt.Key.Key_Down: "Down",
    Qt.Key.Key_Home: "Home",
    Qt.Key.Key_End: "End",
    Qt.Key.Key_PageUp: "PageUp",
    Qt.Key.Key_PageDown: "PageDown",
}
_WORDS = {
    "Enter": N_("Enter"),
    "Escape": N_("Escape"),
    "Backspace": N_("Backspace"),
    "Space": N_("Space"),
    "Up": N_("Up"),
    "Down": N_("Down"),
}
_CHORDS = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier


def key_name(event: QKeyEvent) -> str:
    """Return the name of a key or its character in lower case; nothing for chords and keys without meaning here."""
    if event.modifiers() & _CHORDS:
        return ""
    named = _NAMED.get(Qt.Key(event.key()))
    if named is not None:
        return named
    text = event.text()
    return text.lower() if len(text) == 1 and text.isprintable() else ""


def key_word(name: str) -> str:
    """Return what stands on a key: its word in the language in use, or its character."""
    return _(_WORDS.get(name, name))
