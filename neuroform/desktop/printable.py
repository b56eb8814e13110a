"""What may be written: text as any file can hold it, whatever was pasted."""

import re
from typing import TYPE_CHECKING

from neuroform.language import N_

if TYPE_CHECKING:
    from PySide6.QtWidgets import QLineEdit

_UNPRINTABLE = re.compile(r"[\x00-\x08\x0B-\x1F\x7F-\x9F\uD800-\uDFFF]")
NOT_KEPT = N_("That text can’t be kept as it stands: it is too long, or holds a character no file can hold.")


def printable(text: str) -> str:
    """Return a text without the characters that no file can hold; lines and tabs stay."""
    return _UNPRINTABLE.sub("", text)


def show_kept(editor: "QLineEdit", kept: str) -> None:
    """Show in a line what is kept of it; the cursor stays behind the same words."""
    before = len(printable(editor.text()[: editor.cursorPosition()]))
    editor.setText(kept)
    editor.setCursorPosition(before)
