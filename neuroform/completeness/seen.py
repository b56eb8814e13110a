"""An examination as the rules see it: what was found, how much is to be examined, and what must not be asked for."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from functools import cache, lru_cache
from typing import Any

from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import entries, entry, side_of
from neuroform.protocols.loading import Protocol
from neuroform.protocols.safety import impossible, not_advised
from neuroform.reasoning.facts import Facts, Ref, SidedRef
from neuroform.reasoning.marks import mark
from neuroform.reasoning.results import Paths, Reading
from neuroform.reasoning.signs import neck_raised

Slot = tuple[str, Paths]
"""One answer that is needed: the path that stands for it, and the paths by which it can be given."""


class Seen(Facts):
    """The facts of an examination, and what completeness needs beside them."""

    __slots__ = ("_barred", "_earlier", "_needed", "_slots", "_unsafe", "earlier", "now", "protocol")

    def __init__(
        self, facts: Facts, reading: Reading, protocol: Protocol, *, earlier: Facts | None, now: datetime
    ) -> None:
        for name in Facts.__slots__:
            # Shared, its memory too, so that nothing is read twice.
            setattr(self, name, getattr(facts, name))
        self.protocol = protocol
        self.earlier = earlier
        """The examination this one follows."""
        self.now = now
        raised = reading.raised("possible-unstable-neck") is not None or bool(neck_raised(facts).met)
        self._unsafe: Mapping[str, str] = not_advised(self.exam, neck_raised=raised)
        self._barred: Mapping[str, str] = impossible(self.exam)
        self._slots: tuple[Slot, ...] | None = None
        self._needed: frozenset[str] | None = None

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
        return path in self._barred or (bool(self._unsafe) and without_side(path) in self._unsafe)

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
        if self._slots is None:
            wanted = _slots(self.protocol)
            if self.exam.context.symptoms:
                wanted += _of_items(self.protocol.with_symptoms)
            if self.earlier is not None and self.protocol.follows:
                again = tuple((path, (path,)) for path in revisited(self.earlier))
                wanted = tuple({slot[0]: slot for slot in (*again, *wanted)}.values())
            found = self.found
            self._slots = tuple(slot for slot in wanted if slot[0] in found or self._wanted(slot))
        return self._slots

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

    @property
    def needed(self) -> frozenset[str]:
        """The paths that stand for the answers that are needed."""
        if self._needed is None:
            self._needed = frozenset(path for path, _ways in self.slots)
        return self._needed


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
