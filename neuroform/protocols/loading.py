"""Reads how much is to be examined: protocols as files, a clinic's own before the shipped one of the same name."""

import re
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from neuroform import shipped
from neuroform.errors import Problem, ProtocolError
from neuroform.exam.walk import entry, is_path, position, side_of
from neuroform.language import N_, _

FOLDER = ("resources", "protocols")
_NAME = re.compile(r"[a-z0-9_-]{1,100}")
_LONGEST = 100_000
"""Bytes; a protocol is a page of text."""

SHIPPED_LABELS = (
    N_("full examination"),
    N_("ward examination"),
    N_("acute vertigo"),
    N_("acute leg weakness"),
    N_("follow-up"),
)
"""The labels of the shipped files, marked here because a data file can't be."""


@dataclass(frozen=True, kw_only=True)
class Protocol:
    """Which items an examination must hold."""

    name: str
    label: str
    """Shown bare; `_()` translates those of the shipped files."""
    must: tuple[str, ...]
    """Items without a side, each to be answered; both sides of a sided one."""
    any_of: tuple[tuple[str, ...], ...] = ()
    """Of each group one is to be answered; the first stands for the group."""
    with_symptoms: tuple[str, ...] = ()
    """Items asked for as well once a symptom is recorded."""
    with_pulse: tuple[str, ...] = ()
    """Blood pressure readings that need the pulse beside them."""
    follows: bool = False
    """Whether what was abnormal, deferred or without equipment in an earlier examination is asked for again."""
    order: Mapping[str, int] = field(default_factory=dict, compare=False, repr=False)
    """Place of each whole path where the file's order is not the bedside order, else empty."""


def load(name: str, folders: Iterable[Path] = ()) -> Protocol:
    """Return a protocol by its name; a file in one of the clinic's `folders` shadows the shipped one.

    Raises ProtocolError, with every problem found, when there is none of that name or its file can't be used.
    """
    clinic = tuple(folders)
    for folder in clinic if _NAME.fullmatch(name) else ():
        if (file := folder / f"{name}.toml").is_file():
            return _named(name, file)
    if name not in _shipped_names():
        raise ProtocolError(
            _(N_("There is no examination named “{name}”.")).format(name=name),
            _(N_("Use one of {names}.")).format(names=", ".join(names(clinic))),
        )
    return _named(name, shipped.path(*FOLDER, f"{name}.toml"))


def _named(name: str, file: Path) -> Protocol:
    protocol = load_file(file)
    if protocol.name != name:
        allowed = _(N_("the file's own name, “{name}”")).format(name=name)
        raise _unusable(file, [Problem(path="name", found=repr(protocol.name), allowed=allowed)])
    return protocol


def load_file(file: Path) -> Protocol:
    """Return the protocol a file holds, whatever the file's name. Raises ProtocolError."""
    try:
        content = file.read_bytes()
        if len(content) > _LONGEST:
            raise ValueError(_(N_("it is too long")))
        table = tomllib.loads(content.decode("utf-8"))
    except (OSError, ValueError) as error:
        told = error.strerror if isinstance(error, OSError) and error.strerror else error
        raise ProtocolError(
            _(N_("{file} can't be read: {error}.")).format(file=file, error=told),
            _(N_("Mend the file, or take it away.")),
        ) from error
    return _protocol(file, table)


def names(folders: Iterable[Path] = ()) -> tuple[str, ...]:
    """Return the names of all protocols: the shipped ones, then the clinic's own, each once."""
    own = sorted(
        file.stem
        for folder in folders
        if folder.is_dir()
        for file in folder.glob("*.toml")
        if _NAME.fullmatch(file.stem)
    )
    return tuple(dict.fromkeys((*_shipped_names(), *own)))


def _shipped_names() -> tuple[str, ...]:
    found = {file.removesuffix(".toml") for file in shipped.names(*FOLDER) if file.endswith(".toml")}
    first = ("full", "ward", "acute_vertigo", "weak_legs", "follow_up")
    return (*(name for name in first if name in found), *sorted(found.difference(first)))


class _Problems(list[Problem]):
    def add(self, path: str, found: object, allowed: str) -> None:
        self.append(Problem(path=path, found=repr(found), allowed=allowed))


_ITEMS = ("must", "with_symptoms", "with_pulse")


def _protocol(file: Path, table: dict[str, Any]) -> Protocol:
    problems = _Problems()
    readers: Mapping[str, Callable[[str, Any, _Problems], Any]] = {
        "name": _name,
        "label": _label,
        **dict.fromkeys(_ITEMS, _items),
        "any_of": _groups,
        "follows": _switch,
    }
    for key, found in table.items():
        if key not in readers:
            problems.add(key, found, _(N_("one of {keys}")).format(keys=", ".join(readers)))
    for key in ("name", "label", "must"):
        if key not in table:
            problems.append(Problem(path=key, found=_(N_("nothing")), allowed=_(N_("it has to stand in the file"))))
    read = {key: reader(key, table[key], problems) for key, reader in readers.items() if key in table}
    if not problems:
        _each_once(read, problems)
    if problems:
        raise _unusable(file, problems)
    return Protocol(**read, order=_own_order(read["must"], read.get("any_of", ())))


def _unusable(file: Path, problems: list[Problem]) -> ProtocolError:
    return ProtocolError(
        _(N_("{file} can't be used as an examination: {problem}.")).format(file=file, problem=problems[0]),
        _(N_("Mend the file, or take it away.")),
        problems=problems,
    )


def _name(path: str, found: Any, problems: _Problems) -> str | None:
    if isinstance(found, str) and _NAME.fullmatch(found):
        return found
    problems.add(path, found, _(N_("small letters, digits, “_” and “-”")))
    return None


def _label(path: str, found: Any, problems: _Problems) -> str | None:
    if isinstance(found, str) and found.strip() and len(found) <= 200 and found.isprintable():
        return found.strip()
    problems.add(path, found, _(N_("one line of text, at most 200 characters")))
    return None


def _switch(path: str, found: Any, problems: _Problems) -> bool | None:
    if isinstance(found, bool):
        return found
    problems.add(path, found, _(N_("true or false")))
    return None


def _items(path: str, found: Any, problems: _Problems) -> tuple[str, ...]:
    if not isinstance(found, list):
        problems.add(path, found, _(N_("a list of items")))
        return ()
    for place, item in enumerate(found):
        here = f"{path}[{place}]"
        if not isinstance(item, str) or not is_path(item):
            problems.add(here, item, _(N_("the path of an item")))
        elif entry(item).sided and side_of(item):
            problems.add(here, item, _(N_("the path without a side; both sides are meant")))
    return tuple(item for item in found if isinstance(item, str))


def _groups(path: str, found: Any, problems: _Problems) -> tuple[tuple[str, ...], ...]:
    if not isinstance(found, list):
        problems.add(path, found, _(N_("a list of lists of items")))
        return ()
    groups = tuple(_items(f"{path}[{place}]", group, problems) for place, group in enumerate(found))
    for place, group in enumerate(groups):
        sided = {entry(item).sided for item in group if is_path(item)}
        if not group or len(sided) > 1:
            problems.add(f"{path}[{place}]", list(group), _(N_("items that are all sided, or all not")))
    return groups


def _each_once(read: Mapping[str, Any], problems: _Problems) -> None:
    seen: set[str] = set()
    listed = (
        *read["must"],
        *read.get("with_symptoms", ()),
        *(item for group in read.get("any_of", ()) for item in group),
    )
    for item in listed:
        if item in seen:
            problems.add("must", item, _(N_("each item once")))
        seen.add(item)
    for item in read.get("with_pulse", ()):
        if item not in seen or entry(item).kind != "pressure":
            problems.add("with_pulse", item, _(N_("a blood pressure that stands among the items")))


def _own_order(must: tuple[str, ...], any_of: tuple[tuple[str, ...], ...]) -> dict[str, int]:
    listed = (*must, *(item for group in any_of for item in group))
    places = [position(item) for item in must]
    if places == sorted(places):
        return {}
    whole = [path for item in listed for path in entry(item).paths]
    return {path: place for place, path in enumerate(whole)}
