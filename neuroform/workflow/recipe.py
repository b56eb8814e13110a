"""What a paper carries beside its exam so that anyone can write it again, and writing it again."""

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.errors import PaperError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.settings import Settings, places
from neuroform.workflow.conclude import named_protocol, protocol_of
from neuroform.workflow.gathering import gather

if TYPE_CHECKING:
    from neuroform.notes.content import Basis, Clinic, Earlier, Kind, Paper

NAME = "paper.json"
"""Its name inside the paper."""
_FORMAT = "neuroform-paper/1"
_LARGEST = 100_000
_EARLIER = ("title", "when", "sha256")


@dataclass(frozen=True, kw_only=True)
class Recipe:
    """Everything on a paper's pages that its exam doesn't say."""

    kind: "Kind"
    clinic: "Clinic"
    protocol: str
    """The name of what was to be examined."""
    earlier: "Earlier | None" = None
    """Of an addendum: the note it adds to."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Again:
    """A paper that can be written again."""

    content: "Paper"
    """What stands on it."""
    basis: "Basis"
    """What it is written from."""

    @property
    def version(self) -> str:
        """The line at its foot that names program and templates."""
        return self.content.foot.version

    def pages(self) -> bytes:
        """Return its bare pages, PDF. Raises GlyphError for a character no shipped face can draw."""
        from neuroform.notes.layout import lay_out

        return lay_out(self.content).pdf


def written(recipe: Recipe) -> bytes:
    """Return a recipe as it travels in a paper: JSON, UTF-8, without the templates, whose digest is on the page."""
    clinic = asdict(recipe.clinic)
    del clinic["templates"]
    earlier = None if recipe.earlier is None else asdict(recipe.earlier)
    held = {"format": _FORMAT, "kind": recipe.kind, "protocol": recipe.protocol, "clinic": clinic, "earlier": earlier}
    return json.dumps(held, ensure_ascii=False, indent=1).encode()


def read(data: bytes) -> Recipe:
    """Return a recipe out of a paper. Raises PaperError when `data` is none."""
    try:
        return _read(data)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        raise PaperError(_(N_("What it says of how it was written can't be read."))) from error


def _read(data: bytes) -> Recipe:
    from neuroform.notes.content import KINDS, Clinic, Earlier

    held = json.loads(data) if len(data) <= _LARGEST else None
    if not isinstance(held, Mapping) or held.get("format") != _FORMAT or held.get("kind") not in KINDS:
        raise ValueError("not a recipe of this format")
    clinic, earlier = held["clinic"], held["earlier"]
    return Recipe(
        kind=held["kind"],
        protocol=str(held["protocol"]),
        clinic=Clinic(
            name=str(clinic["name"]),
            letterhead=tuple(str(line) for line in clinic["letterhead"]),
            telephones={str(who): str(number) for who, number in clinic["telephones"].items()},
            templates=_templates(),
            demonstration=clinic["demonstration"] is True,
        ),
        earlier=None if earlier is None else Earlier(**{name: str(earlier[name]) for name in _EARLIER}),
    )


def guessed(kind: "Kind", exam: Examination, settings: Settings) -> Recipe:
    """Return the recipe by which this workplace would write that kind of paper."""
    from neuroform.notes.content import Clinic

    clinic = Clinic(
        name=settings.clinic_name,
        letterhead=settings.letterhead,
        telephones={each.who: each.number for each in settings.telephones},
        templates=_templates(),
    )
    return Recipe(kind=kind, clinic=clinic, protocol=protocol_of(exam, settings).name)


def again(exam: Examination, recipe: Recipe, settings: Settings) -> Again:
    """Gather all that a paper is written from. Raises ProtocolError or PaperError when it can't be."""
    from neuroform.notes import papers

    basis, _concluded = gather(exam, named_protocol(recipe.protocol), settings)
    content = papers.content(recipe.kind, basis, clinic=recipe.clinic, earlier=recipe.earlier)
    return Again(content=content, basis=basis)


def _templates() -> Path | None:
    own = places().templates
    return own if own.is_dir() else None
