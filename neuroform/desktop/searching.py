"""Reaches an item by part of its name or by another name it goes by."""

import unicodedata
from dataclasses import dataclass

from neuroform.desktop.form import ELSEWHERE, Row, places, section_label
from neuroform.exam.walk import entries
from neuroform.language import _

MOST = 9


@dataclass(frozen=True, kw_only=True)
class Hit:
    """One item that fits what was typed."""

    path: str
    """Whole path of its first answer."""
    words: str
    """Its name."""
    section: str
    """The word for its section."""
    other: str
    """The other name that fitted, when it was not its own."""


def search(text: str) -> tuple[Hit, ...]:
    """Return the items whose name or other name holds every word typed, best first; none for nothing typed."""
    wanted = _plain(text).split()
    if not wanted:
        return ()
    ranked: list[tuple[int, int, Hit]] = []
    for number, entry in enumerate(entries()):
        if entry.path in ELSEWHERE or entry.paths[0] not in places():
            continue
        group = _(entry.groups[-1][1].label) if entry.groups and not entry.item.short else ""
        name = f"{group}: {_(entry.item.label)}" if group else _(entry.item.label)
        for rank, (words, other) in enumerate(
            [(name, ""), *((also, also) for also in _others(entry.path, entry.item.also))]
        ):
            found = _plain(words)
            if all(word in found for word in wanted):
                starts = any(part.startswith(wanted[0]) for part in found.replace("-", " ").split())
                hit = Hit(path=entry.paths[0], words=name, section=_(section_label(entry.section)), other=other)
                ranked.append((0 if starts else 1 + bool(rank), number, hit))
                break
    ranked.sort(key=lambda each: each[:2])
    return tuple(hit for _rank, _number, hit in ranked[:MOST])


def _others(path: str, also: tuple[str, ...]) -> tuple[str, ...]:
    """Return an item's other names; the stance test goes by its eponym."""
    return ("Romberg", *also) if path.startswith("standing.firm.eyes_") and path.endswith(".sway") else also


def _plain(text: str) -> str:
    """Fold case and accents away."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


def row_name(row: Row) -> str:
    """Return the name of a whole row, both sides of it."""
    return row.cells[0].name if len(row.cells) == 1 else _(row.cells[0].entry.item.label)
