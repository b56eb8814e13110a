"""Keeps every change to an examination the moment it is made: an append-only journal of one workplace.

Errs towards keeping: what was written is never changed, and a change that can't be read back costs only itself.
The file isn't encrypted.
"""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from neuroform.errors import DraftError, ExamFileError
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.exam.walk import adapter, is_path, put
from neuroform.language import N_, _

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
SELECT clinic, exam_id, at, seq FROM journal AS last
WHERE seq = (SELECT MAX(seq) FROM journal WHERE clinic = last.clinic AND exam_id = last.exam_id)
AND NOT (path IS NULL AND value IS NULL) ORDER BY at DESC, exam_id DESC
"""


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

        It survives a killed program once this returns. Raises DraftError, with the change not kept.
        """
        if path is None and not isinstance(value, Examination):
            raise TypeError("without a path the value is a whole examination")
        self._write(clinic, exam_id, path, _text(path, value), at)

    def finish(self, clinic: str, exam_id: str, at: datetime) -> None:
        """Say that nothing is left to recover: the examination was signed, saved or put away."""
        self._write(clinic, exam_id, None, None, at)

    def latest(self) -> tuple[Draft, ...]:
        """Return every draft that was not finished, the last changed first."""
        with self._told():
            rows = self._open.execute(_OPEN).fetchall()
        return tuple(
            Draft(clinic=clinic, exam_id=exam_id, at=_moment(at), changes=seq) for clinic, exam_id, at, seq in rows
        )

    def replay(self, exam_id: str) -> Recovered:
        """Read a draft back, change by change. Raises DraftError when there is none, or nothing of it can be read."""
        with self._told():
            rows = self._open.execute(
                "SELECT path, value, at FROM journal WHERE exam_id = ? ORDER BY seq", (exam_id,)
            ).fetchall()
        exam: Examination | None = None
        changed: dict[str, Any] = {}
        """What stands last under each path since the last whole examination: a long draft is put together once."""
        lost, last, where = 0, "", None
        for path, value, at in rows:
            try:
                if path is None and value is not None:
                    exam, changed = files.read(value.encode()), {}
                elif value is not None:
                    changed[path] = _read_back(exam, path, value)
                last, where = at, path or where
            except (ExamFileError, ValidationError, KeyError):
                lost += 1
        if exam is None:
            raise DraftError(
                _(N_("Nothing of this draft can be read back from {file}.")).format(file=self.path),
                _(N_("Enter the examination again; the file is left as it is.")),
            )
        for path, found in changed.items():
            exam = put(exam, path, found)
        return Recovered(exam=exam, at=_moment(last), lost=lost, path=where)

    def steps(self, exam_id: str) -> Iterator[Step]:
        """Yield a draft as it stood after each change, the first first; what can't be read back is passed over."""
        with self._told():
            rows = self._open.execute(
                "SELECT path, value, at FROM journal WHERE exam_id = ? ORDER BY seq", (exam_id,)
            ).fetchall()
        exam: Examination | None = None
        for path, value, at in rows:
            try:
                exam = _applied(exam, path, value)
            except (ExamFileError, ValidationError, KeyError):
                continue
            if exam is not None and value is not None:
                yield Step(exam=exam, at=_moment(at), path=path)

    def checkpoint(self) -> None:
        """Move everything to the file itself, so that it survives a power cut as well."""
        with self._told():
            self._open.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def _write(self, clinic: str, exam_id: str, path: str | None, value: str | None, at: datetime) -> None:
        with self._told():
            self._open.execute(_APPEND, (clinic, exam_id, path, value, _stamp(at)))

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
        except sqlite3.OperationalError as error:
            raise _not_kept(self.path, str(error)) from error
        except sqlite3.DatabaseError as error:
            raise DraftError(
                _(N_("The drafts in {file} are damaged: {why}.")).format(file=self.path, why=error),
                _(N_("Put the file aside and go on with a new one; keep the old one for whoever mends it.")),
            ) from error
        except OSError as error:
            raise _not_kept(self.path, error.strerror or str(error)) from error


def put_aside(path: Path, at: datetime) -> Path:
    """Rename a damaged journal, its companions with it, so that a new one can begin; return its new name."""
    aside = path.with_name(f"{path.name}.damaged-{at.astimezone(UTC):%Y%m%dT%H%M%SZ}")
    try:
        for ending in ("-wal", "-shm", ""):
            companion = path.with_name(path.name + ending)
            if companion.exists():
                companion.rename(aside.with_name(aside.name + ending))
    except OSError as error:
        raise _not_kept(path, error.strerror or str(error)) from error
    return aside


def _begin_file(path: Path) -> None:
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    # Made before SQLite does, so that nobody else can read even the first change; never through a planted link.
    os.close(os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o600))


def _statements() -> Iterator[str]:
    statement = ""
    for line in _SCHEMA.strip().splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement
            statement = ""


def _text(path: str | None, value: Any) -> str:
    if path is None:
        return files.write(value).decode()
    return "null" if value is None else adapter(path).dump_json(value, exclude_none=True).decode()


def _applied(exam: Examination | None, path: str | None, value: str | None) -> Examination | None:
    if value is None:
        return exam
    if path is None:
        return files.read(value.encode())
    found = _read_back(exam, path, value)
    return None if exam is None else put(exam, path, found)


def _read_back(exam: Examination | None, path: str, value: str) -> Any:
    """Return what a change put under a path; KeyError where there is no examination yet, or no such path."""
    if exam is None or not is_path(path):
        raise KeyError(path)
    return None if value == "null" else adapter(path).validate_json(value)


def _stamp(at: datetime) -> str:
    """Return a moment as text of one width, so that it sorts."""
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def _moment(stamp: str) -> datetime:
    return datetime.strptime(stamp, "%Y-%m-%dT%H:%M:%S.%fZ").replace(tzinfo=UTC)


def _not_kept(path: Path, why: str) -> DraftError:
    return DraftError(
        _(N_("What you enter can't be kept in {file}: {why}.")).format(file=path, why=why),
        _(N_("Make room, or allow writing there; until then it is lost when the program stops.")),
    )
