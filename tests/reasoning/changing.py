"""Changes to whole examinations: right and left swapped, everything in reverse order, one finding taken away."""

import json
import re
from collections.abc import Iterator
from random import Random
from typing import Any

from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.exam.walk import entries
from tests.exam.strategies import place, raw_exam, raw_found

FREE_TEXT = ("reason", "comment", "family_name", "given_names", "place", "examiner")
_SIDE = re.compile(r"(?<![A-Za-z])(right|left)(?![A-Za-z])")
_OTHER = {"right": "left", "left": "right"}


def swapped(words: str) -> str:
    """Swap right and left where they stand as a word of a code or path."""
    return _SIDE.sub(lambda side: _OTHER[side[1]], words)


def mirrored(raw: Any) -> Any:
    """Return an exam as JSON holds it with right and left swapped everywhere, keys and lists in reverse order."""
    if isinstance(raw, dict):
        return {swapped(key): at if key in FREE_TEXT else mirrored(at) for key, at in reversed(raw.items())}
    if isinstance(raw, list):
        return [mirrored(at) for at in reversed(raw)]
    return swapped(raw) if isinstance(raw, str) else raw


def read_raw(raw: dict[str, Any]) -> Examination:
    """Read an exam as a file is read."""
    return files.read(json.dumps(raw).encode())


def recorded_paths(raw: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Yield the path of every finding and of every plain value below the sections."""
    for key, at in raw.items():
        here = (*path, key)
        if not path and key in ("format", "patient", "encounter", "conclusion"):
            continue
        if isinstance(at, dict) and "value" not in at and "not_examined" not in at:
            yield from recorded_paths(at, here)
        else:
            yield here


def without(raw: dict[str, Any], path: tuple[str, ...]) -> dict[str, Any]:
    """Return an exam with one finding taken away."""
    left: dict[str, Any] = json.loads(json.dumps(raw))
    at = left
    for key in path[:-1]:
        at = at[key]
    del at[path[-1]]
    return left


def varied(seed: int) -> dict[str, Any]:
    """Make the exam of a seed: much of the form filled, mostly normal, with a dozen findings drawn at random.

    So that patterns are supported often enough to say something, it leans on few abnormal findings.
    """
    rng = Random(seed)
    raw = raw_exam(rng, filled=rng.choice((0.5, 0.95)), healthy=rng.choice((0.0, 0.7, 0.95)))
    places = [(path, at) for at in entries() for path in at.paths if at.section != "conclusion"]
    for path, at in rng.sample(places, rng.randint(0, 12)):
        place(raw, path, raw_found(rng, at, 0.3))
    return raw
