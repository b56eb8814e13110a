"""Null in a file: blank where an item, a group or a side may stand, refused inside findings and under unknown keys."""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, get_origin

from neuroform.errors import Problem
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Section, Sided
from neuroform.exam.walk import SIDES, group_type
from neuroform.language import N_, _


def without_nulls(raw: dict[str, Any]) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """Return a raw exam without the nulls that mean blank, and a problem for each that stands inside a finding.

    A null under an unknown key stays, so that the key is refused. What holds no null is returned as it was.
    """
    misplaced: list[Problem] = []
    return _group(raw, _inner(Examination), "", misplaced), tuple(misplaced)


def _group(at: dict[str, Any], known: Mapping[str, Any], path: str, misplaced: list[Problem]) -> dict[str, Any]:
    kept = {}
    for name, found in at.items():
        here = f"{path}.{name}" if path else name
        if found is None and name in known:
            continue
        if isinstance(found, dict) and name in known:
            inner = known[name]
            if inner is None:
                misplaced += _inside(found, here)
            else:
                found = _group(found, _sides() if inner is Sided else _inner(inner), here, misplaced)
        kept[name] = found
    same = len(kept) == len(at) and all(kept[name] is at[name] for name in kept)
    return at if same else kept


def _inside(finding: dict[str, Any], path: str) -> Iterator[Problem]:
    for name, found in finding.items():
        here = path if name == "value" else f"{path}.{name}"
        if isinstance(found, dict):
            yield from _inside(found, here)
        elif found is None:
            yield Problem(path=here, found="null", allowed=_(N_("a value, or no such key")))


@cache
def _inner(model: type[Section]) -> Mapping[str, Any]:
    """Return what stands under each key: the group, Sided, or None for a finding or plain value."""
    return {name: _kind(field.annotation) for name, field in model.model_fields.items()}


def _kind(annotation: Any) -> Any:
    return Sided if get_origin(annotation) is Sided else group_type(annotation)


@cache
def _sides() -> Mapping[str, Any]:
    return dict.fromkeys(SIDES)
