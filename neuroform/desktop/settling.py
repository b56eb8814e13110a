"""What is done once the window stands, so that none of it shows under the hand."""

import gc
import time

from neuroform.desktop.work import Cancel

PAUSE_S = 0.001
"""Left to the hand after each validator."""
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


def make_validators(cancel: Cancel) -> None:
    """Make the validators of all answers, in a worker: the first answer of each kind need not wait for its own."""
    from neuroform.exam.walk import adapter, entries

    for each in entries():
        cancel.check()
        adapter(each.path)
        time.sleep(PAUSE_S)
