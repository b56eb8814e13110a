"""The words of the interpretation: phrases from the template, put together so that the grammar holds."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from neuroform import shipped
from neuroform.errors import PaperError
from neuroform.exam.walk import SIDES, Side
from neuroform.language import _
from neuroform.reasoning.facts import Facts, SidedRef
from neuroform.reasoning.results import Paths


@cache
def _phrases() -> Mapping[str, Mapping[str, str]]:
    return tomllib.loads(shipped.read_text("templates", "paragraph", "en.toml"))


def say(table: str, name: str, **fields: object) -> str:
    """Return a phrase with its fields filled in; PaperError when the template lacks it."""
    try:
        return _phrases()[table][name].format(**fields)
    except (KeyError, IndexError) as lacking:
        raise PaperError(
            _("The template of the interpretation lacks “{name}” or one of its fields.").format(name=f"{table}.{name}"),
            _("Restore the shipped template."),
        ) from lacking


def has(table: str, name: str) -> bool:
    """Tell whether the template has a phrase."""
    return name in _phrases().get(table, {})


@cache
def rank(table: str, name: str) -> int:
    """Return the place of a phrase in its table; one that is not there stands last."""
    names = list(_phrases().get(table, {}))
    return names.index(name) if name in names else len(names)


def listed(words: Iterable[str]) -> str:
    """Join words as a sentence does: "a", "a and b", "a, b and c"."""
    *first, last = [*words] or [""]
    return say("plain", "and").join([say("plain", "comma").join(first), last]) if first else last


def seconds(found: float) -> str:
    """Return a time with its unit, joined by a space that does not break."""
    return say("plain", "seconds", seconds=f"{found:g}")


def sentence(text: str) -> str:
    """Begin with a capital and end with one full stop."""
    return text[:1].upper() + text[1:].rstrip(".") + "."


@dataclass(frozen=True, kw_only=True)
class Place:
    """An item on both sides and what its place is called; without a name its sides stand alone."""

    ref: SidedRef[Any]
    single: str = ""
    plural: str = ""

    def named(self, sides: Iterable[Side], *, both: str = "both") -> str:
        """Return "both great toes", "the right great toe", or "on both sides"; "either" where `both` says so."""
        which = both if len(tuple(sides)) == len(SIDES) else next(iter(sides))
        if self.single:
            return say("grouped", which, single=self.single, plural=self.plural)
        return say("grouped", f"{which}_sides" if which == both else f"{which}_side")


@dataclass(frozen=True, kw_only=True)
class Part:
    """A value and the places where it was found."""

    word: str
    places: tuple[str, ...]
    paths: Paths


def parts(facts: Facts, places: Iterable[Place], word: Any) -> tuple[Part, ...]:
    """Group what was found by its word, right before left; `word` turns (value, path) into words."""
    found: dict[str, list[tuple[Place, list[Side]]]] = {}
    for place in places:
        for side in SIDES:
            value = facts.value(place.ref[side])
            if value is None:
                continue
            rows = found.setdefault(word(value, place.ref[side].path), [])
            if rows and rows[-1][0] is place:
                rows[-1][1].append(side)
            else:
                rows.append((place, [side]))
    return tuple(
        Part(
            word=words,
            places=tuple(place.named(sides) for place, sides in rows),
            paths=tuple(place.ref[side].path for place, sides in rows for side in sides),
        )
        for words, rows in found.items()
    )


def not_found(facts: Facts, subject: str, place: Place, *, plural: bool = False) -> tuple[tuple[str, Paths], ...]:
    """Say of each side that it was not recorded, or not examined and why: two different things."""
    said: dict[str | None, list[Side]] = {}
    for side in SIDES:
        if facts.value(place.ref[side]) is None:
            said.setdefault(facts.reason(place.ref[side]), []).append(side)
    end = "_plural" if plural else ""
    lines = []
    for reason, sides in said.items():
        where = place.named(sides, both="either")
        where = where if where.startswith("on ") else f"at {where}"
        name = "not_recorded" if reason is None else "not_examined"
        shown = say("reasons", reason) if reason else ""
        text = say("grouped", name + end, subject=subject, places=where, reason=shown)
        lines.append((text, tuple(place.ref[side].path for side in sides)))
    return tuple(lines)


def grouped(subject: str, found: Iterable[Part], *, plural: bool = False, tail: str = "") -> str:
    """Return one sentence: "Position sense was absent at both great toes and intact at both ankles"."""
    said = []
    for part in found:
        places = listed(part.places)
        named = not part.places[0].startswith("on ")
        said.append(say("grouped", "at" if named else "on", word=part.word, places=places))
    return say("grouped", "were" if plural else "was", subject=subject, parts=listed(said) + tail)
