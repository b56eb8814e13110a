"""What a paper carries beside its exam so that anyone can write it again, and writing it again."""

import json
from base64 import b64decode, b64encode
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.errors import PaperError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.settings import Settings, places
from neuroform.workflow import logo, own_templates, program
from neuroform.workflow.conclude import named_protocol, protocol_of
from neuroform.workflow.gathering import gather

if TYPE_CHECKING:
    from neuroform.notes.content import Basis, Clinic, Earlier, Kind, Paper

NAME = "paper.json"
"""Its name inside the paper."""
_FORMAT = "neuroform-paper/1"
_LARGEST = 400_000
_EARLIER = ("title", "when", "sha256")
_ADDED = "text"


def _this_program() -> str:
    return program.digest()


@dataclass(frozen=True, kw_only=True)
class Recipe:
    """Everything on a paper's pages that its exam doesn't say."""

    kind: "Kind"
    clinic: "Clinic"
    protocol: str
    """The name of what was to be examined."""
    earlier: "Earlier | None" = None
    """Of an addendum: the note it adds to."""
    program: str = field(default_factory=_this_program)
    """The digest of the program that wrote the paper; empty where the paper doesn't say."""

    @property
    def by_this_program(self) -> bool:
        """Whether program, templates and limits are still what they were when the paper was written."""
        return self.program == _this_program()


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
    del clinic["templates"], clinic["refused"]
    clinic["logo"] = b64encode(recipe.clinic.logo).decode()
    earlier = None if recipe.earlier is None else asdict(recipe.earlier)
    held = {
        "format": _FORMAT,
        "program": recipe.program,
        "kind": recipe.kind,
        "protocol": recipe.protocol,
        "clinic": clinic,
        "earlier": earlier,
    }
    return json.dumps(held, ensure_ascii=False, indent=1).encode()


def read(data: bytes) -> Recipe:
    """Return a recipe out of a paper. Raises PaperError when `data` is none."""
    try:
        return _read(data)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        raise PaperError(_(N_("What it says of how it was written can't be read."))) from error


def _read(data: bytes) -> Recipe:
    from neuroform.notes.content import KINDS, Clinic

    held = json.loads(data) if len(data) <= _LARGEST else None
    if not isinstance(held, Mapping) or held.get("format") != _FORMAT or held.get("kind") not in KINDS:
        raise ValueError("not a recipe of this format")
    clinic, earlier = held["clinic"], held["earlier"]
    return Recipe(
        program=str(held.get("program", "")),
        kind=held["kind"],
        protocol=str(held["protocol"]),
        clinic=Clinic(
            name=str(clinic["name"]),
            letterhead=tuple(str(line) for line in clinic["letterhead"]),
            telephones={str(who): str(number) for who, number in clinic["telephones"].items()},
            templates=_templates(),
            demonstration=clinic["demonstration"] is True,
            logo=_logo(clinic.get("logo", "")),
        ),
        earlier=None if earlier is None else _note(earlier),
    )


def _logo(held: str) -> bytes:
    data = b64decode(held, validate=True)
    if data and not logo.is_printed(data):
        raise ValueError("not a logo as papers print it")
    return data


def _note(earlier: Mapping[str, object]) -> "Earlier":
    from neuroform.notes.content import Earlier

    named = {name: str(earlier[name]) for name in _EARLIER}
    return Earlier(**named, text=str(earlier.get(_ADDED, "")))


def guessed(kind: "Kind", exam: Examination, settings: Settings) -> Recipe:
    """Return the recipe by which this workplace would write that kind of paper."""
    from neuroform.notes.content import Clinic

    clinic = Clinic(
        name=settings.clinic_name,
        letterhead=settings.letterhead,
        telephones={each.who: each.number for each in settings.telephones},
        templates=_templates(),
        logo=logo.printed(settings.logo),
    )
    return Recipe(kind=kind, clinic=clinic, protocol=protocol_of(exam, settings).name)


def built_in(recipe: Recipe) -> Recipe:
    """Return a recipe for the same paper where the clinic's own templates could not be used."""
    return replace(recipe, clinic=replace(recipe.clinic, templates=None, refused=True))


def again(exam: Examination, recipe: Recipe, settings: Settings) -> Again:
    """Gather all that a paper is written from. Raises ProtocolError or PaperError when it can't be."""
    basis, _concluded = gather(exam, named_protocol(recipe.protocol), settings)
    content = own_templates.content(recipe.kind, basis, clinic=recipe.clinic, earlier=recipe.earlier)
    return Again(content=content, basis=basis)


def _templates() -> Path | None:
    own = places().templates
    return own if own.is_dir() else None
