"""What is done once the window stands, so that none of it shows under the hand."""

import gc

from PySide6.QtCore import QObject, QTimer

STEP_MS = 10
"""Between one validator made beforehand and the next."""
MADE = (20_000, 20, 50)
"""How many objects are made before Python looks for what is no longer used, and how often it looks at older ones."""


def collect_later() -> None:
    """Look for nothing while the window opens: what is loaded then stays."""
    gc.disable()


def collect_seldom() -> None:
    """Leave alone for good what is loaded now, so that looking through it never shows under the hand."""
    gc.freeze()
    gc.set_threshold(*MADE)
    gc.enable()


def make_validators(owner: QObject) -> None:
    """Make the validators of answers one after the other while the hands rest, as long as `owner` lives."""
    from neuroform.exam.walk import adapter, entries

    left = iter(entries())
    timer = QTimer(owner)

    def make() -> None:
        following = next(left, None)
        if following is None:
            timer.stop()
        else:
            adapter(following.path)

    timer.timeout.connect(make)
    timer.start(STEP_MS)
