"""Tells by a digest which program, templates and limits wrote a paper: a version number alone outlives changes."""

from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from importlib import metadata
from pathlib import Path

import neuroform
from neuroform import shipped

_ELSEWHERE = frozenset({"desktop", "cli"})
"""Rooms that no paper is made in."""
_SHIPPED = (("templates",), ("resources", "fonts"), ("resources", "protocols"), ("resources", "reference"))
_LIBRARIES = ("reportlab", "uharfbuzz")
"""What draws the letters."""


@cache
def digest() -> str:
    """Return the SHA-256, in hexadecimal, of all that decides what stands on a paper but the examination."""
    whole = sha256()
    for name, file in _files():
        whole.update(name.encode())
        whole.update(sha256(file.read_bytes()).digest())
    for library in _LIBRARIES:
        whole.update(metadata.version(library).encode())
    return whole.hexdigest()


def _files() -> Iterator[tuple[str, Path]]:
    """Yield each file with a name that is the same wherever the program is installed, in one order."""
    package = Path(neuroform.__file__).parent
    for file in sorted(package.rglob("*.py")):
        inside = file.relative_to(package)
        if inside.parts[0] not in _ELSEWHERE:
            yield inside.as_posix(), file
    for parts in _SHIPPED:
        folder = shipped.path(*parts)
        for file in sorted(each for each in folder.rglob("*") if each.is_file() and not each.name.startswith(".")):
            yield f"{'/'.join(parts)}/{file.relative_to(folder).as_posix()}", file
