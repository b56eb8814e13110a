"""The answers an item may have, supposed one after the other to see what each would do."""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from neuroform.exam.circulation import Pressure
from neuroform.exam.walk import Entry, entry
from neuroform.reasoning.items import AT_1_MIN, AT_3_MIN, EC_ENDED, EC_SWAY, EO_ENDED, EO_SWAY, LYING

Supposed = Mapping[str, Any]
"""Values by whole path that are supposed together."""

_LYING = Pressure(systolic=130, diastolic=80)
_STANDING = (Pressure(systolic=128, diastolic=80), Pressure(systolic=90, diastolic=60))
_STEADY, _LOST, _SWAYED = ("slight", "held"), ("marked", "fell"), ("marked", "held")
_TRIALS = ((EO_SWAY.path, EO_ENDED.path), (EC_SWAY.path, EC_ENDED.path))
_PRESSURES = (LYING.path, AT_1_MIN.path, AT_3_MIN.path)


@cache
def together(path: str) -> tuple[str, ...]:
    """Return the paths that are answered in one go with a path, itself among them, in bedside order."""
    for group in (*_TRIALS, _PRESSURES):
        if path in group:
            return group
    return (path,)


@cache
def supposed(paths: tuple[str, ...]) -> tuple[Supposed, ...]:
    """Return what may be found when these paths are examined: the same on both sides, or one after the other."""
    return tuple(_answers(paths))


def _answers(paths: tuple[str, ...]) -> Iterator[Supposed]:
    group = together(paths[0])
    if group == _PRESSURES:
        for standing in _STANDING:
            pressures = dict(zip(_PRESSURES, (_LYING, standing, standing), strict=True))
            yield {path: pressures[path] for path in paths}
    elif group in _TRIALS:
        for answer in (_STEADY, _LOST, _SWAYED):
            trial = dict(zip(group, answer, strict=True))
            yield {path: trial[path] for path in paths}
    else:
        for value in _values(entry(paths[0])):
            yield dict.fromkeys(paths, value)


def _values(at: Entry) -> tuple[Any, ...]:
    if at.kind == "words":
        return tuple((word,) for word in at.answers.words) if at.answers else ()
    if at.answers is not None:
        return tuple(at.answers.words)
    if at.kind == "number":
        return _numbers(at)
    return ()


def _numbers(at: Entry) -> tuple[float, ...]:
    """Return the ends and the middle of what a number may be."""
    low = at.low if at.low is not None else (at.above or 0.0) + 1
    high = at.high if at.high is not None else low
    middle = (low + high) / 2
    found = (low, middle, high)
    return tuple(int(number) for number in found) if at.whole else found
