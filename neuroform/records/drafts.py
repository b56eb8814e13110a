"""Keeps every change to an examination the moment it is made: an append-only journal of one workplace.

Errs towards keeping: what was written is never changed, and a change that can't be read back costs only itself.
The file isn't encrypted.
"""

import errno
import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from neuroform.errors import DraftError
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.exam.walk import put
from neuroform.language import N_, _
from neuroform.records import changes

VERSION = 1
_PATIENCE_MS = 5000
_SCHEMA = """
CREATE TABLE journal (
    clinic TEXT NOT NULL, exam_id TEXT NOT NULL, seq INTEGER NOT NULL, path TEXT, value TEXT, at TEXT NOT NULL,
    PRIMARY KEY (clinic, exam_id, seq)
) WITHOUT ROWID;
CREATE TRIGGER journal_keeps_what_was BEFORE UPDATE ON journal BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER journal_keeps_all BEFORE DELETE ON journal BEGIN SELECT RAISE(ABORT, 'append only'); END;
"""
_APPEND = """
INSERT INTO journal SELECT ?1, ?2, COALESCE(MAX(seq), 0) + 1, ?3, ?4, ?5
FROM journal WHERE clinic = ?1 AND exam_id = ?2
"""
_OPEN = """
SELECT clinic, exam_id, seq FROM journal AS last
WHERE seq = (SELECT MAX(seq) FROM journal WHERE clinic = last.clinic AND exam_id = last.exam_id)
AND NOT (path IS NULL AND value IS NULL)
"""
_ROWS = "SELECT path, value, at FROM journal WHERE exam_id = ? ORDER BY seq"
_WHOLE = """
SELECT path, value, at FROM journal
WHERE clinic = ? AND exam_id = ? AND path IS NULL AND value IS NOT NULL ORDER BY seq DESC
"""
_MOMENTS = "SELECT at FROM journal WHERE clinic = ? AND exam_id = ? ORDER BY seq DESC"


class DamagedError(DraftError):
    """The journal's file is damaged as a whole: it can only be put aside."""


@dataclass(frozen=True, kw_only=True)
class Draft:
    """An examination that was not finished."""

    clinic: str
    exam_id: str
    at: datetime
    """When its last change was made."""
    changes: int


@dataclass(frozen=True, kw_only=True)
class Recovered:
    """A draft read back."""

    exam: Examination
    at: datetime
    """When the last change in it was made."""
    lost: int
    """Changes that could not be read back."""
    path: str | None
    """Where the last change of a single item was made."""


@dataclass(frozen=True, kw_only=True)
class Step:
    """An examination as it stood after one change."""

    exam: Examination
    at: datetime
    path: str | None
    """The whole path that was changed; None for a whole examination."""


class Drafts:
    """The journal of one workplace; several programs may have it open at once."""

    def __init__(self, path: Path) -> None:
        """Open the journal, or begin one: file 0600, a new folder 0700. Raises DraftError where that can't be done."""
        self.path = path
        with self._told():
            _begin_file(path)
            self._open = sqlite3.connect(
                path, isolation_level=None, timeout=_PATIENCE_MS / 1000, check_same_thread=False
            )
            self._open.text_factory = bytes  # decoded row by row: one bad row must not keep the others back
            try:
                self._prepare()
            except BaseException:
                self._open.close()
                raise

    def close(self) -> None:
        """Close the file; what was appended is in it."""
        self._open.close()

    def begin(self, clinic: str, exam_id: str, exam: Examination, at: datetime) -> None:
        """Keep the whole examination, as it opens, after undo, or when who was examined changes."""
        self.append(clinic, exam_id, None, exam, at)

    def append(self, clinic: str, exam_id: str, path: str | None, value: Any, at: datetime) -> None:
        """Keep one change: what now stands under an item's whole `path`, None for blank; path None is a whole exam.

        It survives a killed program once this returns. Raises DraftError, with the change not kept, and KeyError for
        what is no whole path.
        """
        if path is None and not isinstance(value, Examination):
            raise TypeError("without a path the value is a whole examination")
        self._write(clinic, exam_id, path, changes.text(path, value), at)

    def finish(self, clinic: str, exam_id: str, at: datetime) -> None:
        """Say that nothing is left to recover: the examination was signed, saved or put away."""
        self._write(clinic, exam_id, None, None, at)

    def latest(self) -> tuple[Draft, ...]:
        """Return every draft that was not finished and can be read back, the last changed first."""
        found = [self._draft(*each) for each in self._unfinished()]
        return tuple(sorted((each for each in found if each is not None), key=_recency, reverse=True))

    def unreadable(self, clinic: str) -> tuple[str, ...]:
        """Return the clinic's drafts that were not finished and of which nothing can be read back, by exam_id."""
        mine = [each for each in self._unfinished() if each[0] == clinic]
        return tuple(exam_id for clinic, exam_id, count in mine if self._draft(clinic, exam_id, count) is None)

    def replay(self, exam_id: str) -> Recovered:
        """Read a draft back, change by change. Raises DraftError when there is none, or nothing of it can be read."""
        exam: Examination | None = None
        changed: dict[str, Any] = {}
        """What stands last under each path since the last whole examination: a long draft is put together once."""
        lost, last, where = 0, None, None
        for row in self._rows(exam_id):
            try:
                path, value, at = changes.decoded(row)
                if value is not None and path is None:
                    exam, changed = files.read(value), {}
                elif value is not None and path is not None:
                    changed[path] = changes.read_back(exam, path, value)
                last, where = at, path or where
            except changes.UNREADABLE:
                lost += 1
        if exam is None or last is None:
            raise nothing_left(self.path)
        for path, found in changed.items():
            exam = put(exam, path, found)
        return Recovered(exam=exam, at=last, lost=lost, path=where)

    def steps(self, exam_id: str) -> Iterator[Step]:
        """Yield a draft as it stood after each change, the first first; what can't be read back is passed over."""
        exam: Examination | None = None
        for row in self._rows(exam_id):
            try:
                path, value, at = changes.decoded(row)
                exam = changes.applied(exam, path, value)
            except changes.UNREADABLE:
                continue
            if exam is not None and value is not None:
                yield Step(exam=exam, at=at, path=path)

    def _rows(self, exam_id: str) -> list[changes.Row]:
        with self._told():
            return self._open.execute(_ROWS, (exam_id,)).fetchall()

    def _unfinished(self) -> Iterator[tuple[str, str, int]]:
        """Yield clinic, exam_id and number of changes of what was not finished; names that are no text are nobody's."""
        with self._told():
            rows = self._open.execute(_OPEN).fetchall()
        for clinic, exam_id, seq in rows:
            with suppress(UnicodeDecodeError):
                yield clinic.decode(), exam_id.decode(), seq

    def _draft(self, clinic: str, exam_id: str, count: int) -> Draft | None:
        """Return a draft as it is listed, None where no whole examination of it can be read."""
        with self._told():
            if not any(map(changes.holds_exam, self._open.execute(_WHOLE, (clinic, exam_id)))):
                return None
            for (stamp,) in self._open.execute(_MOMENTS, (clinic, exam_id)):
                with suppress(ValueError):
                    return Draft(clinic=clinic, exam_id=exam_id, at=changes.moment(stamp.decode()), changes=count)
        return None

    def checkpoint(self) -> None:
        """Move everything to the file itself, so that it survives a power cut as well."""
        with self._told():
            self._open.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def _write(self, clinic: str, exam_id: str, path: str | None, value: str | None, at: datetime) -> None:
        with self._told():
            self._open.execute(_APPEND, (clinic, exam_id, path, value, changes.stamp(at)))

    def _prepare(self) -> None:
        for pragma in ("journal_mode = WAL", "synchronous = NORMAL", "trusted_schema = OFF", "cell_size_check = ON"):
            self._open.execute(f"PRAGMA {pragma}")
        self._open.execute("BEGIN IMMEDIATE")
        (version,) = self._open.execute("PRAGMA user_version").fetchone()
        if version == 0:
            for statement in _statements():
                self._open.execute(statement)
            self._open.execute(f"PRAGMA user_version = {VERSION}")
        self._open.execute("COMMIT")
        if version > VERSION:
            raise DraftError(
                _(N_("The drafts in {file} were kept by a newer version.")).format(file=self.path),
                _(N_("Open them with that version.")),
            )

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Turn what SQLite and the system refuse into one sentence and what to do."""
        try:
            yield
        except sqlite3.DatabaseError as error:
            # What SQLite gives no code of its own is a table that is missing or not as it was made.
            if isinstance(error, sqlite3.OperationalError) and error.sqlite_errorcode != sqlite3.SQLITE_ERROR:
                raise not_kept(self.path, str(error)) from error
            raise DamagedError(
                _(N_("The drafts in {file} are damaged: {why}.")).format(file=self.path, why=error),
                _(N_("Close the program and open it again: the file is then put aside and a new one begun.")),
            ) from error
        except OSError as error:
            raise not_kept(self.path, error.strerror or str(error)) from error


def _begin_file(path: Path) -> None:
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    # Made before SQLite does, so that nobody else can read even the first change; never through a planted link. What
    # is there is not opened: closing it again would give up the locks of whoever has it open in this process.
    try:
        os.close(os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600))
    except FileExistsError:
        if path.is_symlink():
            raise OSError(errno.ELOOP, os.strerror(errno.ELOOP)) from None


def _statements() -> Iterator[str]:
    statement = ""
    for line in _SCHEMA.strip().splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement
            statement = ""


def _recency(draft: Draft) -> tuple[datetime, str]:
    return draft.at, draft.exam_id


def nothing_left(path: Path) -> DraftError:
    """Return why a draft can't be gone on with."""
    return DraftError(
        _(N_("Nothing of this draft can be read back from {file}.")).format(file=path),
        _(N_("Enter the examination again; the file is left as it is.")),
    )


def not_kept(path: Path, why: str) -> DraftError:
    """Return why nothing is kept in a file."""
    return DraftError(
        _(N_("What you enter can't be kept in {file}: {why}.")).format(file=path, why=why),
        _(N_("Make room, or allow writing there; until then it is lost when the program stops.")),
    )
