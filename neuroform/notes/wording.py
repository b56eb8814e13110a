"""The wording of papers, read from templates: the program's own, and a clinic's in its place where it has one."""

import hashlib
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from neuroform import shipped
from neuroform.errors import PaperError
from neuroform.language import N_, _

LARGEST = 200_000
"""Bytes of one template; the largest shipped one has a tenth of it."""
_FIELD = re.compile(r"\{([a-z_]+)\}")


class TemplateError(PaperError):
    """A clinic's own template can't be used; the program's can."""


@dataclass(frozen=True)
class Wording:
    """The words of one kind of file, by dotted name."""

    table: Mapping[str, Any]

    def __call__(self, name: str, /, **fields: object) -> str:
        """Return a text with its {fields} filled in; a field nobody fills stays as it is written."""
        found = self._at(name)
        if not isinstance(found, str):
            raise _unfit(name, N_("{name} has to be a text"))
        return _FIELD.sub(lambda field: str(fields.get(field[1], field[0])), found)

    def has(self, name: str) -> bool:
        """Tell whether there is something of this name."""
        at: Any = self.table
        for step in name.split("."):
            if not isinstance(at, Mapping) or step not in at:
                return False
            at = at[step]
        return True

    def texts(self, name: str) -> tuple[str, ...]:
        """Return a list of texts."""
        found = self._at(name)
        if not isinstance(found, list) or not all(isinstance(each, str) for each in found):
            raise _unfit(name, N_("{name} has to be a list of texts"))
        return tuple(found)

    def names(self, name: str) -> tuple[str, ...]:
        """Return the names in a table of texts, as they are ordered there."""
        found = self._at(name)
        if not isinstance(found, Mapping):
            raise _unfit(name, N_("{name} has to be a table of texts"))
        return tuple(found)

    def _at(self, name: str) -> Any:
        at: Any = self.table
        for step in name.split("."):
            if not isinstance(at, Mapping) or step not in at:
                raise _unfit(name, N_("{name} is missing"))
            at = at[step]
        return at


@dataclass(frozen=True, kw_only=True)
class Source:
    """A template as it was read."""

    name: str
    table: Mapping[str, Any]
    own: bool
    """It is the clinic's."""
    digest: bytes


def wording(folder: Path | None) -> Wording:
    """Return the words of every paper; what a clinic's file lacks is the program's.

    Raises TemplateError when the clinic's file can't be used.
    """
    return Wording(merged("papers.toml", folder))


def merged(name: str, folder: Path | None) -> Mapping[str, Any]:
    """Return a template's table, what the clinic's file holds in the place of the program's."""
    ours, theirs = _shipped(name), _clinics(folder, name)
    return ours.table if theirs is None else _over(ours.table, theirs.table)


def source(name: str, folder: Path | None) -> Source:
    """Return the template of a letter, the clinic's where it has one; raises TemplateError when it can't be used."""
    return _clinics(folder, name) or _shipped(name)


def exists(name: str) -> bool:
    """Tell whether the program ships a template of this name."""
    return name.rpartition("/")[2] in shipped.names("templates", *name.split("/")[:-1])


def digest(names: tuple[str, ...], folder: Path | None) -> str:
    """Return eight digits that tell which templates a paper was made with."""
    whole = hashlib.sha256()
    for name in names:
        for found in (_shipped(name), _clinics(folder, name)):
            if found is not None:
                whole.update(found.digest)
    return whole.hexdigest()[:8]


@cache
def _shipped(name: str) -> Source:
    data = shipped.read_bytes("templates", *name.split("/"))
    return Source(name=name, table=tomllib.loads(data.decode()), own=False, digest=hashlib.sha256(data).digest())


def _clinics(folder: Path | None, name: str) -> Source | None:
    if folder is None or not _stands(file := folder / name):
        return None
    try:
        if not file.is_file():
            raise _broken(file, _(N_("it is no ordinary file")))
        if file.stat().st_size > LARGEST:
            raise _broken(file, _(N_("it is larger than any template")))
        data = file.read_bytes()
        table = tomllib.loads(data.decode("utf-8"))
    except OSError as error:
        raise _broken(file, error.strerror or str(error)) from error
    except (ValueError, RecursionError) as error:
        raise _broken(file, str(error)) from error
    return Source(name=name, table=table, own=True, digest=hashlib.sha256(data).digest())


def _stands(file: Path) -> bool:
    """Tell whether there is something of this name, whatever it is; a link that leads nowhere is something too."""
    try:
        file.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError as error:
        raise _broken(file, error.strerror or str(error)) from error
    return True


def _broken(file: Path, why: str) -> TemplateError:
    return TemplateError(
        _(N_("The clinic's template {file} can't be used: {why}.")).format(file=file.name, why=why),
        _(N_("Mend it, or move it away to use the program's own.")),
    )


def _unfit(name: str, why: str) -> TemplateError:
    return TemplateError(
        _(N_("The wording of papers can't be used: {why}.")).format(why=_(why).format(name=name)),
        _(N_("Mend the clinic's papers.toml, or move it away to use the program's own.")),
    )


def _over(ours: Mapping[str, Any], theirs: Mapping[str, Any]) -> dict[str, Any]:
    merged = dict(ours)
    for name, value in theirs.items():
        held = merged.get(name)
        merged[name] = _over(held, value) if isinstance(held, Mapping) and isinstance(value, Mapping) else value
    return merged
