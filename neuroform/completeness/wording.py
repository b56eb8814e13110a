"""Names the items of a gap for a person to read."""

from collections import Counter
from collections.abc import Mapping
from functools import cache, lru_cache

from neuroform.exam.walk import Side, entries, entry, is_path, side_of
from neuroform.language import N_, _, current

_OUTSIDE: Mapping[str, str] = {
    "patient.birth_date": N_("Date of birth"),
    "encounter.examined_at": N_("Time of the examination"),
    "encounter.protocol": N_("How much is to be examined"),
}
"""What a gap can name beside the items of the catalogue."""
_SIDE_WORDS: Mapping[str, str] = {"right": N_("right"), "left": N_("left"), "both": N_("both sides")}


def side_in_words(side: Side) -> str:
    """Return "right" or "left"."""
    return _(_SIDE_WORDS[side])


def items_in_words(paths: tuple[str, ...]) -> str:
    """Return the items as a person reads them: "Pinprick (right); Power, hip flexion (both sides)"."""
    return _in_words(paths, current())


@lru_cache(maxsize=4096)
def _in_words(paths: tuple[str, ...], _language: str) -> str:
    sides: dict[str, list[Side]] = {}
    for path in paths:
        side = side_of(path)
        sides.setdefault(path.removesuffix(f".{side}"), []).extend([side] if side else [])
    return "; ".join(_one(item, found) for item, found in sides.items())


def _one(item: str, sides: list[Side]) -> str:
    if not is_path(item):
        return _(_OUTSIDE.get(item, item))
    at = entry(item)
    label = _(at.item.label)
    if at.item.label in _shared_labels() and at.groups:
        group = at.groups[-1][1].label
        label = f"{_(group)}: {label}"
    if not sides:
        return label
    return f"{label} ({_(_SIDE_WORDS['both' if len(sides) > 1 else sides[0]])})"


@cache
def _shared_labels() -> frozenset[str]:
    """Return the labels that more than one item has; they need their group's name before them."""
    return frozenset(label for label, count in Counter(at.item.label for at in entries()).items() if count > 1)
