"""The negatives that matter to a letter's reader, and what is blank: told as normal only where all of it is."""

from collections.abc import Mapping
from typing import Any

from neuroform.exam.walk import entry, is_path
from neuroform.notes import story
from neuroform.notes.content import Basis
from neuroform.notes.findings import Observation
from neuroform.notes.note import blank_names, phrases
from neuroform.notes.values import label, lowered
from neuroform.notes.wording import Wording

_VERTIGO_NEGATIVES = (
    "head_and_eyes.head_impulse",
    "head_and_eyes.nystagmus",
    "head_and_eyes.gaze_evoked_nystagmus",
    "head_and_eyes.skew",
    "head_and_eyes.new_hearing_loss",
)
"""What every reader of a letter about vertigo has to find, normal or blank."""
SADDLE = "sensation.saddle"
MOST_BLANK = 8
"""How many blank items a letter names."""


def wanted(basis: Basis, source: Mapping[str, Any]) -> list[str]:
    """Return the negatives that matter to a reader; about vertigo the eyes and ears come first, and no saddle."""
    named = source.get("negatives")
    paths = [path for path in named if isinstance(path, str)] if isinstance(named, list) else []
    if not story.vertigo(basis.exam):
        return paths
    spine = story.about_cord_or_roots(basis.exam) or any(SADDLE in each.items for each in basis.reading.urgent)
    kept = (path for path in paths if path != SADDLE or spine)
    return [*dict.fromkeys((*_VERTIGO_NEGATIVES, *kept))]


def blank_items(words: Wording, basis: Basis, told: list[str]) -> str:
    """Return what is to be examined and was left blank in one phrase, without the conclusion and what is told above."""
    names = [each for each in blank_names(basis) if each.removesuffix(", both sides") not in told]
    more = len(names) - MOST_BLANK
    return "; ".join([*names[:MOST_BLANK], *([words("urgent.more", count=more)] if more > 0 else [])])


def negatives(observed: tuple[Observation, ...], paths: list[str]) -> dict[str, Any]:
    """Return the negatives that matter to a reader: found normal on every side, or else not looked for."""
    by_path = {each.entry.path: each for each in observed}
    normal, unseen = [], []
    for path in paths:
        each = by_path.get(path)
        if each is not None and each.marks == {"normal"}:
            normal.append(each)
        elif each is None:
            unseen.append(lowered(label(entry(path))) if is_path(path) else path)
        else:
            unseen += _left_blank(each)
    return {"negatives": [*phrases(normal)], "not_looked_for": unseen}


def _left_blank(observed: Observation) -> list[str]:
    blank = [side for side, cell in observed.cells if cell.mark == "blank"]
    name = lowered(observed.label)
    return [name] if len(blank) == len(observed.cells) else [f"{name} on the {side}" for side in blank]
