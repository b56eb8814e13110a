"""A clinic's logo: a picture that is checked, kept by copy beside the settings, and printed in grey as papers are.

Errs towards leaving it out: a logo that can't be read any more never holds a paper back.
"""

from functools import lru_cache
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.errors import FileError
from neuroform.language import N_, _
from neuroform.settings import Places
from neuroform.workflow.files import OutputError, read_file, write_file

if TYPE_CHECKING:
    from PIL.Image import Image

LARGEST = 2_000_000
"""Bytes of the file that is chosen."""
WIDEST, HIGHEST = 480, 160
"""Pixels that are printed at most: enough for a line's height of paper."""
LARGEST_PRINTED = 120_000
_PIXELS = 25_000_000
_ENDINGS = {"PNG": ".png", "JPEG": ".jpg"}
_LEAST = 8
"""Pixels of a side."""


def check(path: Path) -> None:
    """Raise FileError, with a sentence to act on, where a file is no logo."""
    _opened(path)


def keep(path: Path, places: Places) -> Path:
    """Copy a logo beside the settings and return the copy.

    Raises FileError where it is none, OutputError where the copy can't be written.
    """
    data, kind = _opened(path)
    target = places.config / f"logo{_ENDINGS[kind]}"
    if target == path:
        return path
    try:
        places.config.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(
            _(N_("{folder} can’t be made: {why}.")).format(folder=places.config, why=error.strerror),
            _(N_("Make room or allow writing there, then save again.")),
        ) from error
    write_file(target, data)
    return target


def printed(path: Path | None) -> bytes:
    """Return a logo as papers print it: a grey PNG of a few kilobytes; empty where there is none that can be read."""
    try:
        return b"" if path is None else _made(path)
    except FileError:
        return b""


def refused(path: Path | None) -> FileError | None:
    """Return why a logo that was chosen isn't printed; None where it is, or none was chosen."""
    try:
        if path is not None:
            _made(path)
    except FileError as error:
        return error
    return None


def is_printed(data: bytes) -> bool:
    """Tell whether bytes are a logo as papers print it."""
    if len(data) > LARGEST_PRINTED:
        return False
    try:
        kind, picture = _picture(data)
    except Exception:  # whatever a stranger's file does to the decoder
        return False
    return kind == "PNG" and picture.mode == "L" and picture.width <= WIDEST and picture.height <= HIGHEST


def _made(path: Path) -> bytes:
    """Return a logo as papers print it, made once until its file changes. Raises FileError where it can't be."""
    try:
        changed = path.stat().st_mtime_ns
    except (OSError, ValueError):
        changed = 0  # reading it tells why
    return _printed(path, changed)


@lru_cache(maxsize=4)
def _printed(path: Path, _changed: int) -> bytes:
    data, _kind = _opened(path)
    from PIL import Image

    shown = _eight_bits(_picture(data)[1]).convert("RGBA")
    sheet = Image.new("RGBA", shown.size, "white")
    grey = Image.alpha_composite(sheet, shown).convert("L")
    grey.thumbnail((WIDEST, HIGHEST))
    held = BytesIO()
    grey.save(held, "PNG", optimize=True)
    return held.getvalue()


def _opened(path: Path) -> tuple[bytes, str]:
    """Return a file's bytes and kind, decoded once to see that it can be."""
    data = read_file(path, largest=LARGEST)
    try:
        kind, picture = _picture(data)
    except Exception as error:  # the decoder refuses in many ways
        raise _refused(path) from error
    if kind not in _ENDINGS or min(picture.size) < _LEAST:
        raise _refused(path)
    return data, kind


def _picture(data: bytes) -> "tuple[str, Image]":
    from PIL import Image

    with Image.open(BytesIO(data), formats=("PNG", "JPEG")) as picture:
        if picture.width * picture.height > _PIXELS:
            raise ValueError("too many pixels")
        picture.load()
        return str(picture.format), picture.copy()


def _eight_bits(picture: "Image") -> "Image":
    """Return a picture of 16-bit grey in the 8 bits that are printed; any other as it is.

    Pillow cuts such values off at 255 where they should be scaled (0 to 65535, PNG specification, section 13.12).
    """
    if not picture.mode.startswith("I"):
        return picture
    scaled = picture.convert("I").point(lambda value: value * (255 / 65535)).convert("L")
    clear = picture.info.get("transparency")
    if isinstance(clear, int):
        scaled.info["transparency"] = round(clear * (255 / 65535))
    return scaled


def _refused(path: Path) -> FileError:
    return FileError(
        _(N_("{file} is no picture that can be printed.")).format(file=path.name),
        _(N_("Choose a PNG or JPEG of at most 2 MB.")),
    )
