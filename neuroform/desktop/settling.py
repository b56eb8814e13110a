"""What is done once the window stands, so that none of it shows under the hand."""

import gc
import sys
import time

from neuroform.desktop.work import Cancel

PAUSE_S = 0.001
"""Left to the hand after each validator."""
MADE = (20_000, 20, 50)
"""How many objects are made before Python looks for what is no longer used, and how often it looks at older ones."""

M_TRIM_THRESHOLD, LARGE = -1, 128 * 1024
"""glibc's name for it (malloc.h), and its own first value; set once, it is not raised any more."""


def collect_later() -> None:
    """Look for nothing while the window opens: what is loaded then stays."""
    gc.disable()


def collect_seldom() -> None:
    """Leave alone for good what is loaded now, so that looking through it never shows under the hand."""
    gc.freeze()
    gc.set_threshold(*MADE)
    gc.enable()


def give_large_blocks_back() -> None:
    """Have pictures of pages and other large blocks go back to the system as soon as they are let go.

    Left to itself glibc soon keeps them, and after an hour's work holds a tenth more than is in use. Elsewhere there
    is nothing to ask.
    """
    if not sys.platform.startswith("linux"):
        return
    import ctypes

    mallopt = getattr(ctypes.CDLL(None), "mallopt", None)
    if mallopt is not None:
        mallopt(M_TRIM_THRESHOLD, LARGE)


def make_validators(cancel: Cancel) -> None:
    """Make the validators of all answers, in a worker: the first answer of each kind need not wait for its own."""
    from neuroform.exam.walk import adapter, entries

    for each in entries():
        cancel.check()
        adapter(each.path)
        time.sleep(PAUSE_S)
