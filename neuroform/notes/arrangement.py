"""The layout of papers, read from templates: the program's own, and a clinic's in its place where it has one."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from neuroform.language import N_, _
from neuroform.notes.measures import Measures
from neuroform.notes.note import ORDER
from neuroform.notes.wording import TemplateError, merged

FILE = "layout.toml"
_WIDEST = 204.0
"""Both margins and the column of headings together: beside them tables and drawings have the room they need."""
# Name in the file, field of the measures, least and most.
_PAGE = (
    ("left", "margin_left", 28.0, 85.0),
    ("right", "margin_right", 28.0, 85.0),
    ("headings", "headings", 90.0, 120.0),
    ("letterhead", "letterhead", 0.0, 200.0),
)
_TYPE = (
    ("body", "body_size", 9.6, 13.0),
    ("small", "small_size", 8.2, 11.0),
    ("letter", "letter_size", 9.6, 13.0),
    ("patient", "patient_size", 12.0, 18.0),
)


@dataclass(frozen=True, kw_only=True)
class Arrangement:
    """How papers are laid out."""

    measures: Measures
    order: tuple[str, ...]
    """Of a note's blocks."""


def arrangement(folder: Path | None) -> Arrangement:
    """Return the layout of every paper; what a clinic's file lacks is the program's.

    Raises TemplateError when the clinic's file can't be used, naming the entry and what may stand there.
    """
    table = merged(FILE, folder)
    unknown = sorted(set(table) - {"page", "type", "note"})
    if unknown:
        raise _unfit(_(N_("{name} isn't known")).format(name=unknown[0]))
    fields = {**_numbers(table, "page", _PAGE), **_numbers(table, "type", _TYPE)}
    if fields["margin_left"] + fields["margin_right"] + fields["headings"] > _WIDEST:
        raise _unfit(_(N_("left, right and headings take more than {most} together")).format(most=f"{_WIDEST:g}"))
    order = table["note"].get("order") if isinstance(table["note"], Mapping) else None
    if not isinstance(order, list) or sorted(map(str, order)) != sorted(ORDER):
        raise _unfit(_(N_("note.order has to name each of these once: {names}")).format(names=", ".join(ORDER)))
    return Arrangement(measures=Measures(**fields), order=tuple(order))


def _numbers(
    table: Mapping[str, Any], name: str, allowed: tuple[tuple[str, str, float, float], ...]
) -> dict[str, float]:
    held = table[name]
    known = {each for each, _field, _least, _most in allowed}
    unknown = sorted(set(held) - known) if isinstance(held, Mapping) else [""]
    if unknown:
        raise _unfit(_(N_("{name} isn't known")).format(name=f"{name}.{unknown[0]}".rstrip(".")))
    found = {}
    for each, field, least, most in allowed:
        value = held[each]
        if isinstance(value, bool) or not isinstance(value, int | float) or not least <= value <= most:
            words = _(N_("{name} has to be a number from {least} to {most}"))
            raise _unfit(words.format(name=f"{name}.{each}", least=f"{least:g}", most=f"{most:g}"))
        found[field] = float(value)
    return found


def _unfit(why: str) -> TemplateError:
    return TemplateError(
        _(N_("The clinic's template {file} can't be used: {why}.")).format(file=FILE, why=why),
        _(N_("Mend it, or move it away to use the program's own.")),
    )
