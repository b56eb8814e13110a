"""Visit every item: the models are the catalogue, and everything that lists items walks it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from operator import attrgetter
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin

from pydantic import TypeAdapter
from typing_extensions import TypeAliasType

from neuroform.exam.examination import SECTIONS, Examination
from neuroform.exam.findings import Answers, Examined, Finding, Group, Item, Section, Sided
from neuroform.exam.sensation import MovementCount
from neuroform.language import _

Kind = Literal["choice", "words", "number", "text", "joint_position", "pressure"]
Side = Literal["right", "left"]
SIDES: tuple[Side, Side] = ("right", "left")
OTHER: dict[str, Side] = {"right": "left", "left": "right"}


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One item of the catalogue."""

    path: str
    """Dotted path without a side."""
    item: Item
    section: str
    groups: tuple[tuple[str, Group], ...]
    """The blocks it stands in below its section, outermost first: (path, what is known of it)."""
    kind: Kind
    sided: bool
    plain: bool
    """A bare value instead of a finding."""
    value_type: Any
    low: float | None = None
    high: float | None = None
    above: float | None = None
    """A number has to be more than this."""
    step: float | None = None
    whole: bool = False

    @property
    def answers(self) -> Answers | None:
        """The closed list, when there is one."""
        return self.item.answers

    @property
    def paths(self) -> tuple[str, ...]:
        """The whole paths of its findings: both sides, right first, or the one."""
        return tuple(f"{self.path}.{side}" for side in SIDES) if self.sided else (self.path,)


@cache
def entries() -> tuple[Entry, ...]:
    """Return every item of the ten sections in bedside order."""
    found: list[Entry] = []
    for name in SECTIONS:
        if (section := group_type(Examination.model_fields[name].annotation)) is not None:
            found += _walk(section, name, name, ())
    return tuple(found)


@cache
def _by_path() -> dict[str, Entry]:
    return {path: entry for entry in entries() for path in {entry.path, *entry.paths}}


def entry(path: str) -> Entry:
    """Return the item a path names, with or without its side; KeyError when there is none."""
    return _by_path()[path]


def is_path(path: str) -> bool:
    """Tell whether a path names an item, with or without its side."""
    return path in _by_path()


@cache
def position(path: str) -> int:
    """Return the place of an item's finding in bedside order, right before left."""
    return _positions()[path]


@cache
def _positions() -> dict[str, int]:
    ordered = [path for entry in entries() for path in entry.paths]
    whole = {path: 2 * n for n, path in enumerate(ordered)}
    return {**{entry.path: whole[entry.paths[0]] for entry in entries()}, **whole}


def name_of(path: str) -> str:
    """Return an item's name where it stands alone: "Firm ground, eyes closed: how it ended"; the side is left out."""
    at = entry(path)
    own = _(at.item.label)
    if not at.groups or at.item.short:
        return own
    return f"{_(at.groups[-1][1].label)}: {own[:1].lower()}{own[1:]}"


def section_group(name: str) -> Group:
    """Return what is known of a section."""
    return next(m for m in Examination.model_fields[name].metadata if isinstance(m, Group))


def side_of(path: str) -> Side | None:
    """Return the side a whole path ends in, or None."""
    last = path.rpartition(".")[2]
    return "right" if last == "right" else "left" if last == "left" else None


def get(exam: Examination, path: str) -> Any:
    """Return what stands under a whole path: a finding, a plain value, or None for blank."""
    return _getter(path)(exam)


@cache
def _getter(path: str) -> Callable[[Examination], Any]:
    return attrgetter(path)


def put(exam: Examination, path: str, found: Any) -> Examination:
    """Return the exam with one finding or plain value replaced; None makes it blank.

    Raises pydantic's ValidationError when the value is not one of the item's.
    """
    checked = None if found is None else adapter(path).validate_python(found)
    changed: Examination = _replaced(exam, path.split("."), checked)
    return changed


def adapter(path: str) -> TypeAdapter[Any]:
    """Return the validator of what stands under a path: a finding, or a plain value."""
    at = entry(path)
    return _adapter(at.value_type, at.plain)


@cache
def _adapter(value_type: Any, plain: bool) -> TypeAdapter[Any]:
    """Return a validator; items of one type share it, since making one takes longer than a key may."""
    return TypeAdapter(value_type if plain else _finding_of(value_type))


@cache
def value_adapter(path: str) -> TypeAdapter[Any]:
    """Return the validator of the value alone."""
    return TypeAdapter(entry(path).value_type)


def recorded(exam: Examination) -> Iterator[tuple[str, Any]]:
    """Yield (whole path, finding or plain value) for everything that is not blank, in bedside order."""
    for name in SECTIONS:
        yield from recorded_in(exam, name)


def recorded_in(exam: Examination, section: str) -> Iterator[tuple[str, Any]]:
    """Yield (whole path, finding or plain value) for everything of a section that is not blank, in bedside order."""
    return _recorded(getattr(exam, section), section)


def _recorded(group: Section, path: str) -> Iterator[tuple[str, Any]]:
    for name, at in group.__dict__.items():
        if at is None:
            continue
        here = f"{path}.{name}"
        if isinstance(at, Section):
            if at.model_fields_set:
                yield from _recorded(at, here)
        elif isinstance(at, Sided):
            if at.right is not None:
                yield f"{here}.right", at.right
            if at.left is not None:
                yield f"{here}.left", at.left
        elif is_path(here):  # the reasons for gaps are no item
            yield here, at


def _replaced(model: Any, steps: list[str], found: Any) -> Any:
    name, *rest = steps
    new = _replaced(getattr(model, name), rest, found) if rest else found
    if isinstance(model, Sided):
        other = getattr(model, OTHER[name])
        return Sided(right=new, left=other) if name == "right" else Sided(right=other, left=new)
    return model.model_copy(update={name: new})


def _walk(model: type[Section], path: str, section: str, groups: tuple[tuple[str, Group], ...]) -> Iterator[Entry]:
    for name, field in model.model_fields.items():
        here = f"{path}.{name}"
        item = next((m for m in field.metadata if isinstance(m, Item)), None)
        if item:
            yield _entry(here, item, section, groups, field.annotation)
        elif (inner := group_type(field.annotation)) is not None:
            group = next((m for m in field.metadata if isinstance(m, Group)), None)
            yield from _walk(inner, here, section, (*groups, (here, group)) if group else groups)


def group_type(annotation: Any) -> type[Section] | None:
    """Return the group a field holds, also behind `| None`."""
    if get_origin(annotation) in (Union, UnionType):
        annotation = next(a for a in get_args(annotation) if a is not type(None))
    is_group = isinstance(annotation, type) and issubclass(annotation, Section)
    return annotation if is_group else None


def _entry(path: str, item: Item, section: str, groups: tuple[tuple[str, Group], ...], annotation: Any) -> Entry:
    sided = get_origin(annotation) is Sided
    value = get_args(annotation)[0] if sided else _examined_in(annotation)
    plain = value is None
    if plain:
        value = next(a for a in get_args(annotation) if a is not type(None))
    bounds = _bounds(value)
    return Entry(
        path=path,
        item=item,
        section=section,
        groups=groups,
        kind=_kind(value, item),
        sided=sided,
        plain=plain,
        value_type=value,
        **bounds,
    )


def _examined_in(annotation: Any) -> Any:
    """Return T where an annotation holds Examined[T], else None."""
    if get_origin(annotation) is Examined:
        return get_args(annotation)[0]
    if isinstance(annotation, TypeAliasType):
        return None
    return next((found for a in get_args(annotation) if (found := _examined_in(a)) is not None), None)


def _finding_of(value: Any) -> Any:
    generic: Any = Finding
    return generic[value]


def _parts(value: Any) -> tuple[Any, list[Any]]:
    """Return the innermost type of an alias and all metadata on the way."""
    metadata: list[Any] = []
    while True:
        if isinstance(value, TypeAliasType):
            value = value.__value__
        elif isinstance(get_origin(value), TypeAliasType):
            value = get_origin(value).__value__
        elif hasattr(value, "__metadata__"):
            metadata += value.__metadata__
            value = value.__origin__
        else:
            return value, metadata


def _bounds(value: Any) -> dict[str, Any]:
    inner, metadata = _parts(value)
    if inner not in (int, float):
        return {}
    found: dict[str, Any] = {"whole": inner is int}
    for mark in (m for field in metadata for m in getattr(field, "metadata", [field])):
        for name, ours in (("ge", "low"), ("le", "high"), ("gt", "above"), ("multiple_of", "step")):
            if hasattr(mark, name):
                found[ours] = getattr(mark, name)
    return found


def _kind(value: Any, item: Item) -> Kind:
    inner, _ = _parts(value)
    if inner in (int, float):
        return "number"
    if inner is str:
        return "text"
    if get_origin(inner) is Literal:
        return "choice"
    if get_origin(inner) is tuple:
        return "words"
    return "joint_position" if MovementCount in get_args(inner) or item.answers else "pressure"
