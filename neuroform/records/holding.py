"""Holds a draft for one window: no other window or program opens it until it is let go, or its program has ended.

Errs towards refusing: what can't be held is told of and not opened. The system lets go of what a killed program held.
"""

import os
import re
import sqlite3
from contextlib import suppress
from pathlib import Path

from neuroform.errors import DraftError
from neuroform.language import N_, _


class Hold:
    """A draft that nobody else opens meanwhile."""

    def __init__(self, path: Path, held: sqlite3.Connection) -> None:
        self._path, self._held = path, held

    def let_go(self, *, finished: bool = False) -> None:
        """Let others open the draft; of a `finished` one nothing stays behind."""
        self._held.close()
        if finished:
            with suppress(OSError):  # another program may just look at it; a file left behind holds nothing
                self._path.unlink()


def hold(journal: Path, exam_id: str) -> Hold | None:
    """Hold a draft of a journal; None where another window or program holds it.

    Whether the draft is still there is to be asked after that: it may just have been finished. Raises DraftError where
    it can't be known.
    """
    path = journal.with_name(f"{journal.name}.{re.sub(r'[^A-Za-z0-9-]', '-', exam_id)[:100]}.held")
    try:
        _begin_file(path)
        held = sqlite3.connect(path, isolation_level=None, timeout=0, check_same_thread=False)
    except (OSError, sqlite3.Error) as error:
        raise _not_held(path, error) from error
    try:
        # Nothing is ever written: SQLite's lock on a file is the one that every system knows and gives back.
        held.execute("PRAGMA journal_mode = MEMORY")
        held.execute("BEGIN EXCLUSIVE")
    except sqlite3.Error as error:
        held.close()
        if getattr(error, "sqlite_errorcode", None) == sqlite3.SQLITE_BUSY:
            return None
        raise _not_held(path, error) from error
    return Hold(path, held)


def _begin_file(path: Path) -> None:
    """Make the file where there is none; what is there is not opened: closing it again would give up its lock."""
    with suppress(FileExistsError):
        os.close(os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0), 0o600))


def _not_held(path: Path, error: Exception) -> DraftError:
    why = (error.strerror if isinstance(error, OSError) else None) or str(error)
    return DraftError(
        _(N_("Whether this draft is open in another window can't be seen from {file}: {why}.")).format(
            file=path, why=why
        ),
        _(N_("Make room, or allow writing there.")),
    )
