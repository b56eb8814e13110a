"""An examination as the rules see it: what was found, how much is to be examined, and what must not be asked for."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from functools import cache, lru_cache
from typing import Any, TypeVar

from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import entries, entry, side_of
from neuroform.protocols.loading import Protocol
from neuroform.reasoning.facts import Facts, Ref, SidedRef
from neuroform.reasoning.marks import mark
from neuroform.reasoning.results import Paths, Reading
from neuroform.reasoning.settled import not_possible, settled, unsafe

T = TypeVar("T")
CLOCKS_DIFFER = timedelta(minutes=15)
"""By as much the clocks of two machines may differ."""
Slot = tuple[str, Paths]
"""One answer that is needed: the path that stands for it, and the paths by which it can be given."""


class Seen(Facts):
    """The facts of an examination, and what completeness needs beside them."""

    __slots__ = ("earlier", "protocol", "reading", "source")

    def __init__(
        self, facts: Facts, reading: Reading, protocol: Protocol, *, earlier: Facts | None, now: datetime
    ) -> None:
        for name in Facts.__slots__:
            # Shared, its memory too, so that nothing is read twice.
            setattr(self, name, getattr(facts, name))
        self.source = facts
        """The facts these are of, which keep what is read."""
        self.protocol = protocol
        self.earlier = earlier
        """The examination this one follows."""
        self.reading = settled(facts, reading)
        self.settle(_AHEAD, self.exam.encounter.examined_at > now + CLOCKS_DIFFER)
        slots = tuple(self._needed_slots())
        self.settle(_SLOTS, slots)
        self.settle(_NEEDED, frozenset(path for path, _ways in slots))

    def kept(self, make: Callable[..., T], *of: Any, by: Facts | None = None) -> T:
        """Return what `make` reads, with these facts or those given."""
        return self.source.kept(make, *of, by=by or self)

    def keeping(self, make: Callable[..., T], *, by: Facts | None = None) -> Callable[..., T]:
        """Return `kept` for one `make`, to be called again and again."""
        return self.source.keeping(make, by=by or self)

    def settle(self, name: str, value: Any) -> None:
        """Settle a value that others are read from."""
        self.source.settle(name, value)

    def answered(self, path: str) -> bool:
        """Tell whether a finding has a value or a reason, by any method; empty text is no answer."""
        if (ways := methods().get(path)) is not None:
            return any(self._stands(way) for way in ways)
        return self._stands(path) or self._covered(path)

    def _stands(self, path: str) -> bool:
        found = self.found.get(path)
        return found is not None and (not isinstance(found, str) or bool(found.strip()))

    def _covered(self, path: str) -> bool:
        """Tell whether the reason for a whole trial answers this part of it."""
        parts = _trial_parts().get(path)
        if parts is None:
            return False
        sway, seconds = (self.found.get(part) for part in parts)
        return isinstance(seconds if sway is None else sway, NotExamined)

    def barred(self, path: str) -> bool:
        """Tell whether a finding must not be asked for: unsafe now, or impossible."""
        return path in not_possible(self) or without_side(path) in unsafe(self)

    def open(self, item: Ref[Any] | str) -> bool:
        """Tell whether a finding is blank and can be asked for."""
        path = item if isinstance(item, str) else item.path
        return not self.answered(path) and not self.barred(path)

    def any_value(self, *items: Ref[Any] | SidedRef[Any]) -> bool:
        """Tell whether one of the items was examined, on a side."""
        return any(isinstance(self.found.get(path), Examined) for item in items for path in _both(item))

    def none_answered(self, *items: Ref[Any] | SidedRef[Any]) -> bool:
        """Tell whether nobody said anything about any of the items."""
        return not any(self.answered(path) for item in items for path in _both(item))

    @property
    def slots(self) -> tuple[Slot, ...]:
        """Every answer that is needed and can be asked for, or was given."""
        slots: tuple[Slot, ...] = self.settled(_SLOTS)
        return slots

    @property
    def needed(self) -> frozenset[str]:
        """The paths that stand for the answers that are needed."""
        needed: frozenset[str] = self.settled(_NEEDED)
        return needed

    @property
    def dated_ahead(self) -> bool:
        """Whether the examination lies in the future."""
        ahead: bool = self.settled(_AHEAD)
        return ahead

    def _needed_slots(self) -> Iterator[Slot]:
        wanted = _slots(self.protocol)
        if self.exam.context.symptoms:
            wanted += _of_items(self.protocol.with_symptoms)
        if self.earlier is not None and self.protocol.follows:
            again = tuple((path, (path,)) for path in revisited(self.earlier))
            wanted = tuple({slot[0]: slot for slot in (*again, *wanted)}.values())
        recorded = self.found.keys()
        return (slot for slot in wanted if slot[0] in recorded or self._wanted(slot))

    def _wanted(self, slot: Slot) -> bool:
        path, ways = slot
        if path == _ON_FIXATION and self._no_nystagmus():
            return False
        return any(way in self.found for way in ways) or not self.barred(path)

    def _no_nystagmus(self) -> bool:
        found = self.found.get("head_and_eyes.nystagmus")
        return isinstance(found, Examined) and found.value == "none"

    @property
    def lacking(self) -> Paths:
        """The paths that stand for needed answers that nobody gave."""
        found = self.found
        return tuple(
            path
            for path, ways in self.slots
            if path not in found and not self.answered(path) and not any(way in found for way in ways)
        )

    @property
    def remarked(self) -> tuple[tuple[str, Any], ...]:
        """The findings with a comment, or not entered by themselves, by path."""
        return self.once("remarked", self._remarked)

    def _remarked(self) -> tuple[tuple[str, Any], ...]:
        return tuple(
            (path, at)
            for path, at in self.found.items()
            if isinstance(at, Examined | NotExamined) and (at.comment is not None or at.entered is not None)
        )


_AHEAD = "dated ahead"
_SLOTS = "slots"
_NEEDED = "needed"
_ON_FIXATION = "head_and_eyes.nystagmus_on_fixation"


def revisited(earlier: Facts) -> Paths:
    """Return what was abnormal, deferred or without equipment in an earlier examination."""
    return tuple(path for path, found in earlier.found.items() if _to_revisit(earlier, path, found))


def _to_revisit(earlier: Facts, path: str, found: Any) -> bool:
    if isinstance(found, NotExamined):
        return found.not_examined in ("deferred", "no_equipment")
    return mark(earlier, path) == "abnormal"


@lru_cache(maxsize=32)
def _slots(protocol: Protocol) -> tuple[Slot, ...]:
    groups = (tuple(zip(*(entry(item).paths for item in group), strict=True)) for group in protocol.any_of)
    return (*_of_items(protocol.must), *((ways[0], ways) for group in groups for ways in group))


@lru_cache(maxsize=32)
def _of_items(items: Paths) -> tuple[Slot, ...]:
    return tuple((path, (path,)) for item in items for path in entry(item).paths)


@cache
def methods() -> Mapping[str, Paths]:
    """Return, for every vibration finding, the paths by which the same site can be answered."""
    kinds = ("vibration", "vibration_score", "vibration_seconds")
    known = {path for at in entries() if at.path.startswith("sensation.vibration") for path in at.paths}
    ways: dict[str, Paths] = {}
    for path in known:
        _section, _kind, site = path.split(".", 2)
        ways[path] = tuple(way for kind in kinds if (way := f"sensation.{kind}.{site}") in known)
    return ways


@cache
def _trial_parts() -> Mapping[str, tuple[str, str]]:
    parts: dict[str, tuple[str, str]] = {}
    for at in entries():
        if at.path.startswith("standing.") and at.path.endswith(".sway"):
            trial = at.path.removesuffix(".sway")
            for part in ("sway", "seconds", "ended", "direction"):
                parts[f"{trial}.{part}"] = (f"{trial}.sway", f"{trial}.seconds")
    return parts


@cache
def without_side(path: str) -> str:
    """Return the item of a finding."""
    return path.rpartition(".")[0] if side_of(path) else path


def _both(item: Ref[Any] | SidedRef[Any]) -> Iterable[str]:
    return (item.right.path, item.left.path) if isinstance(item, SidedRef) else (item.path,)
