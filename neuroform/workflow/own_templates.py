"""Lets the program's own templates stand in for a clinic's that can't be used, so that a paper is never held up."""

from dataclasses import replace
from typing import TYPE_CHECKING

from neuroform.errors import PaperError

if TYPE_CHECKING:
    from neuroform.notes.content import Basis, Clinic, Earlier, Kind, Paper


def content(kind: "Kind", basis: "Basis", *, clinic: "Clinic", earlier: "Earlier | None") -> "Paper":
    """Return what a paper holds; where the clinic's templates can't be used, in the program's, and its foot says so."""
    from neuroform.notes import papers
    from neuroform.notes.wording import TemplateError

    try:
        return papers.content(kind, basis, clinic=clinic, earlier=earlier)
    except TemplateError:
        built_in = replace(clinic, templates=None, refused=True)
        return papers.content(kind, basis, clinic=built_in, earlier=earlier)


def refused(kind: "Kind", basis: "Basis", *, clinic: "Clinic", earlier: "Earlier | None") -> PaperError | None:
    """Return why the clinic's templates can't be used for a paper; None where they can."""
    from neuroform.notes import papers
    from neuroform.notes.wording import TemplateError

    try:
        papers.content(kind, basis, clinic=clinic, earlier=earlier)
    except TemplateError as error:
        return error
    return None
