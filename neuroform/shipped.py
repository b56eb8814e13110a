"""Finds what the program ships: the packaged folders of an installed copy, else those of the checkout."""

from pathlib import Path

from neuroform.errors import ShippedFileError
from neuroform.language import N_, _

FOLDERS = ("resources", "templates")
_PACKAGE = Path(__file__).resolve().parent


def path(*parts: str) -> Path:
    """Return where a shipped file or folder stands; `parts` open with "resources" or "templates".

    Raises ShippedFileError when there is no such file, ValueError for a path that would leave the shipped folders.
    """
    if not parts or parts[0] not in FOLDERS or not all(_plain(part) for part in parts):
        raise ValueError(f"not a shipped path: {parts!r}")
    for root in (_PACKAGE, _PACKAGE.parent):
        if (root / parts[0]).is_dir():
            found = root.joinpath(*parts)
            if found.exists():
                return found
            break
    raise ShippedFileError(
        _(N_("{file}, a part of Neuroform, is missing.")).format(file="/".join(parts)),
        _(N_("Install Neuroform anew.")),
    )


def read_bytes(*parts: str) -> bytes:
    """Return the bytes of a shipped file; raises as `path` does."""
    return path(*parts).read_bytes()


def read_text(*parts: str) -> str:
    """Return a shipped UTF-8 file as text; raises as `path` does."""
    return path(*parts).read_text(encoding="utf-8")


def names(*parts: str) -> tuple[str, ...]:
    """Return the sorted names in a shipped folder, hidden ones left out; raises as `path` does."""
    return tuple(sorted(entry.name for entry in path(*parts).iterdir() if not entry.name.startswith((".", "__"))))


def _plain(part: str) -> bool:
    return bool(part) and part not in {".", ".."} and not set(part) & set("/\\:\0")
