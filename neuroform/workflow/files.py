"""Reads and writes whole files: never half of one, never over what it was made from."""

import os
import secrets
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from neuroform.errors import FileError, NeuroformError
from neuroform.exam import files as exam_files
from neuroform.exam.examination import Examination
from neuroform.language import N_, _

LARGEST_PAPER = 200_000_000
"""Bytes."""


class OutputError(NeuroformError):
    """A file cannot be written."""


def read_exam(path: Path) -> tuple[Examination, bytes]:
    """Return the examination in a file, and the file's own bytes.

    Raises FileError when it can't be read, ExamFileError when it holds no examination.
    """
    data = read_file(path, largest=exam_files.LARGEST)
    return exam_files.read(data), data


def read_file(path: Path, *, largest: int = LARGEST_PAPER) -> bytes:
    """Return a file's bytes. Raises FileError when there is none, it can't be read or is larger than `largest`."""
    try:
        with path.open("rb") as file:
            data = file.read(largest + 1)
    except (OSError, ValueError) as error:
        why = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise FileError(
            _(N_("{file} can't be read: {why}.")).format(file=path, why=why), _(N_("Name a file that can."))
        ) from error
    if len(data) > largest:
        raise FileError(_(N_("{file} is larger than any such file.")).format(file=path), _(N_("Name another file.")))
    return data


def write_file(path: Path, data: bytes, *, made_from: Iterable[Path] = (), private: bool = False) -> None:
    """Write a file aside and rename it into its place, so that there is a whole one or none.

    A `private` one can be read by nobody else who works on this machine. A link at `path` is replaced, never followed.
    Raises OutputError when `path` is one of the files it was made from, a folder, or can't be written.
    """
    for source in made_from:
        if _same(source, path):
            raise OutputError(
                _(N_("{file} would be overwritten by what is made from it.")).format(file=path),
                _(N_("Name another output. Nothing was written.")),
            )
    aside = path.with_name(f".{path.name[:200]}.{secrets.token_hex(8)}.new")
    try:
        if path.is_dir() and not path.is_symlink():
            raise IsADirectoryError(0, _(N_("it is a folder")))
        _write_whole(aside, data, mode=0o600 if private else 0o666)
        try:
            aside.replace(path)
        except OSError:
            aside.unlink(missing_ok=True)
            raise
    except (OSError, ValueError) as error:
        why = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise OutputError(
            _(N_("{file} can't be written: {why}.")).format(file=path, why=why),
            _(N_("Make room or name another place. Nothing was written.")),
        ) from error


def _write_whole(aside: Path, data: bytes, *, mode: int) -> None:
    """Write a new file and wait until it is on the disk; leave nothing behind when that fails."""
    handle = os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
    except BaseException:
        with suppress(OSError):
            aside.unlink()
        raise


def _same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except (OSError, ValueError):
        return one.absolute() == other.absolute()
