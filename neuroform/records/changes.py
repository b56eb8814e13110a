"""One change to an examination as the journal holds it, and what it takes to read it back."""

from datetime import UTC, datetime
from typing import Any

from neuroform.errors import ExamFileError
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.exam.walk import adapter, entry, is_path, put

Row = tuple[bytes | None, bytes | None, bytes]
"""Path, value and moment of one change as they stand in the file, whatever became of them there."""
UNREADABLE = (ExamFileError, ValueError, KeyError)
"""What a change that can't be read back raises; pydantic's refusals and bad bytes are ValueErrors."""


def text(path: str | None, value: Any) -> str:
    """Return a change's value as the journal keeps it: JSON. Raises KeyError for what is no whole path."""
    if path is None:
        return files.write(value).decode()
    if not _is_whole(path):
        raise KeyError(path)
    return "null" if value is None else adapter(path).dump_json(value, exclude_none=True).decode()


def decoded(row: Row) -> tuple[str | None, bytes | None, datetime]:
    """Return path, value and moment of a change; ValueError where it isn't one that was ever written."""
    path, value, at = row
    if path is not None and value is None:
        raise ValueError("a path without a value")
    return None if path is None else path.decode(), value, moment(at.decode())


def holds_exam(row: Row) -> bool:
    """Tell whether a change is a whole examination that can be read."""
    try:
        _path, value, _at = decoded(row)
        return value is not None and files.read(value) is not None
    except UNREADABLE:
        return False


def applied(exam: Examination | None, path: str | None, value: bytes | None) -> Examination | None:
    """Return an examination after one change; raises one of UNREADABLE where that can't be read back."""
    if value is None:
        return exam
    if path is None:
        return files.read(value)
    found = read_back(exam, path, value)
    return None if exam is None else put(exam, path, found)


def read_back(exam: Examination | None, path: str, value: bytes) -> Any:
    """Return what a change put under a path; KeyError where there is no examination yet, or no such whole path."""
    if exam is None or not _is_whole(path):
        raise KeyError(path)
    return None if value == b"null" else adapter(path).validate_json(value)


def _is_whole(path: str) -> bool:
    """Tell whether a path names one finding: an item with sides needs its side."""
    return is_path(path) and path in entry(path).paths


def stamp(at: datetime) -> str:
    """Return a moment as text of one width, so that it sorts."""
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def moment(text: str) -> datetime:
    """Return the moment that `stamp` wrote; ValueError where it didn't."""
    return datetime.strptime(text, "%Y-%m-%dT%H:%M:%S.%fZ").replace(tzinfo=UTC)
