"""Tells whether what asked a worker still stands when the answer comes."""

from collections.abc import Callable

from PySide6.QtCore import QObject


def watch(owner: QObject) -> Callable[[], bool]:
    """Return what tells whether `owner` still stands: an answer to a page that was closed is thrown away."""
    gone: list[bool] = []
    owner.destroyed.connect(lambda: gone.append(True))
    return lambda: not gone
