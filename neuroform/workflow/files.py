"""Reads and writes whole files: never half of one, never over what it was made from."""

import os
import secrets
import stat
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from neuroform.errors import FileError, NeuroformError
from neuroform.exam import files as exam_files
from neuroform.exam.examination import Examination
from neuroform.language import N_, _

LARGEST_PAPER = 200_000_000
"""Bytes."""
_FOLDER = N_("it is a folder")
_NO_FILE = N_("it is no ordinary file")


class OutputError(NeuroformError):
    """A file cannot be written."""


def read_exam(path: Path) -> tuple[Examination, bytes]:
    """Return the examination in a file, and the file's own bytes.

    Raises FileError when it can't be read, ExamFileError when it holds no examination.
    """
    data = read_file(path, largest=exam_files.LARGEST)
    return exam_files.read(data), data


def read_file(path: Path, *, largest: int = LARGEST_PAPER) -> bytes:
    """Return a file's bytes.

    Raises FileError when there is none, it can't be read, is larger than `largest`, or is a pipe or a device.
    """
    try:
        with _opened(path) as file:
            data = file.read(largest + 1)
    except (OSError, ValueError) as error:
        why = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise FileError(
            _(N_("{file} can't be read: {why}.")).format(file=path, why=why), _(N_("Name a file that can."))
        ) from error
    if len(data) > largest:
        raise FileError(_(N_("{file} is larger than any such file.")).format(file=path), _(N_("Name another file.")))
    return data


def write_file(
    path: Path, data: bytes, *, made_from: Iterable[Path] = (), private: bool = False, new: bool = False
) -> None:
    """Write a file aside and rename it into its place, so that there is a whole one or none.

    A `private` one can be read by nobody else who works on this machine. A link at `path` is replaced, never followed.
    A `new` one replaces nothing: FileExistsError where something is there, even if it came only now.
    Raises OutputError when `path` is one of the files it was made from, a folder, a pipe or a device, a link to one,
    or can't be written.
    """
    for source in made_from:
        if _same(source, path):
            raise OutputError(
                _(N_("{file} would be overwritten by what is made from it.")).format(file=path),
                _(N_("Name another output. Nothing was written.")),
            )
    try:
        _check_free(path)
        aside = path.with_name(f".{path.name[:200]}.{secrets.token_hex(8)}.new")
        _write_whole(aside, data, mode=0o600 if private else 0o666)
        try:
            _place_new(aside, path) if new else aside.replace(path)
        except OSError:
            aside.unlink(missing_ok=True)
            raise
    except (OSError, ValueError) as error:
        if new and isinstance(error, FileExistsError):
            raise
        why = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise OutputError(
            _(N_("{file} can't be written: {why}.")).format(file=path, why=why),
            _(N_("Make room or name another place. Nothing was written.")),
        ) from error


def _opened(path: Path) -> BinaryIO:
    """Open a file without waiting for whoever should write into it; OSError for what is none."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        _check_ordinary(os.fstat(handle).st_mode)
        return os.fdopen(handle, "rb")
    except BaseException:
        os.close(handle)
        raise


def _check_free(path: Path) -> None:
    """Raise OSError where a name stands for something that a file must not take the place of."""
    if not path.name:
        raise IsADirectoryError(0, _(_FOLDER))
    try:
        _check_ordinary(path.stat().st_mode)
    except FileNotFoundError:
        return
    # There a link is an open file of the program's own, /dev/stdout above all, and every program needs it.
    folder = path.parent.resolve()
    if path.is_symlink() and (folder == Path("/dev") or folder.is_relative_to("/proc")):
        raise OSError(0, _(_NO_FILE))


def _check_ordinary(mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(0, _(_FOLDER))
    if not stat.S_ISREG(mode):
        raise OSError(0, _(_NO_FILE))


def _place_new(aside: Path, path: Path) -> None:
    """Give a file its name where nothing has it; FileExistsError where something does."""
    try:
        os.link(aside, path)
    except FileExistsError:
        raise
    except OSError:
        # Where files have one name only, the name is taken first and its empty file replaced.
        with path.open("xb"):
            pass
        aside.replace(path)
    else:
        aside.unlink()


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
