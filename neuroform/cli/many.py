"""Answers for many exam files: in the order given, on all cores, none held back longer than it takes."""

import json
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from neuroform.cli import funnel
from neuroform.errors import NeuroformError
from neuroform.language import N_, _

FEW = 24
"""Up to this many files one process is quicker than several."""
SHARE = 16
"""Files that a process takes at a time."""


@dataclass(frozen=True, kw_only=True)
class Told:
    """The answer about one file."""

    text: str
    """What goes to standard output, whole lines without the last line's end."""
    no: bool = False
    """Whether the answer is "no"."""
    unreadable: str | None = None
    """Why the file couldn't be read."""


Teller = Callable[[str], Told]
"""Answers about one file by its name; goes to other processes, so it is a function of a module or a partial of one."""


def tell(files: Sequence[str], teller: Teller, *, as_json: bool) -> int:
    """Write the answer about each file and return the exit status.

    A single unreadable file raises what is wrong with it; of several, each has its message and the others go on.
    """
    if len(files) == 1:
        told = teller(files[0])
        if told.unreadable is not None:
            funnel.say(told.unreadable)
            return funnel.BAD
        _write(told.text)
        return funnel.NO if told.no else funnel.DONE
    bad = no = False
    with _Progress(len(files)) as progress:
        for file, told in zip(files, _answers(files, teller), strict=True):
            progress.pause()
            if told.unreadable is not None:
                funnel.say(f"{file}: {told.unreadable}")
                if as_json:
                    _write(json.dumps({"file": file, "unreadable": told.unreadable}))
            else:
                _write(told.text)
            bad, no = bad or told.unreadable is not None, no or told.no
            progress.step()
    return funnel.BAD if bad else funnel.NO if no else funnel.DONE


def readable(teller: Callable[[], Told]) -> Told:
    """Return what `teller` does, or the message of what it raises as an unreadable file's.

    A fault of the program itself ends one file's answer, not the others'.
    """
    try:
        return teller()
    except NeuroformError as error:
        return Told(text="", unreadable=funnel.message(error))
    except Exception as fault:
        return Told(text="", unreadable=funnel.fault_message(fault))


def _answers(files: Sequence[str], teller: Teller) -> Iterator[Told]:
    cores = _cores()
    if len(files) <= FEW or cores == 1:
        yield from map(teller, files)
        return
    from multiprocessing import get_context

    # Forked where that is safe: everything is imported already, and nothing here starts threads.
    context = get_context("fork" if sys.platform.startswith("linux") else "spawn")
    with context.Pool(min(cores, len(files) // SHARE + 1)) as pool:
        yield from pool.imap(teller, files, chunksize=SHARE)


def _cores() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _write(text: str) -> None:
    sys.stdout.write(f"{text}\n")


class _Progress:
    """Counts on a terminal, below the answers when those go elsewhere; silent otherwise."""

    def __init__(self, total: int) -> None:
        self._total = total
        self._done = 0
        self._shown = total > FEW and sys.stderr.isatty()

    def __enter__(self) -> "_Progress":
        return self

    def __exit__(self, *_: object) -> None:
        self.pause()

    def pause(self) -> None:
        """Take the count away before something else is written."""
        if self._shown:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()

    def step(self) -> None:
        """Count one more file."""
        self._done += 1
        if self._shown:
            sys.stderr.write(_(N_("{done} of {total}")).format(done=self._done, total=self._total))
            sys.stderr.flush()
