"""Keeps the two places for signatures on a paper, both made before the first signature."""

from dataclasses import dataclass
from typing import Literal

from neuroform.language import N_, _
from neuroform.signing import layout

Role = Literal["author", "supervisor"]
Box = tuple[float, float, float, float]

FIELD_NAMES: dict[Role, str] = {"author": "Author", "supervisor": "Supervisor"}
"""The fields' technical names, the same in every language."""

SIZE = (186.0, 64.0)
"""Width and height of a signature on paper, in points."""


@dataclass(frozen=True, kw_only=True)
class Place:
    """Where a signature will stand."""

    page: int
    """Page, from 0; -1 is the last."""
    box: Box
    """Left, bottom, right, top in points from the page's lower left corner."""


def add(pdf: bytes, *, author: Place, supervisor: Place) -> bytes:
    """Return `pdf` with an empty signature field for each role, drawn dashed, as one more revision.

    A field added after the first signature would break that signature, so both are made here. The supervisor's field
    locks everything once it is signed. Raises SigningError when the file can't take them.
    """
    layout.require_pdf(pdf)
    from neuroform.signing import writing

    waiting = {
        "author": (
            _(N_("Signature")),
            _(N_("not yet signed")),
            _(N_("waits for the author")),
            _(N_("a place is kept for it in this file")),
        ),
        "supervisor": (
            _(N_("Countersignature")),
            _(N_("not yet countersigned")),
            _(N_("waits for a supervisor")),
            _(N_("a place is kept for it in this file")),
        ),
    }
    return writing.add_fields(
        pdf,
        [
            writing.NewField(role="author", place=author, lines=waiting["author"], locks=False),
            writing.NewField(role="supervisor", place=supervisor, lines=waiting["supervisor"], locks=True),
        ],
    )
