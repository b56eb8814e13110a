"""Writes papers: the pages, the exam file attached byte for byte, and the places for two signatures."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from neuroform.errors import PaperError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.protocols.loading import Protocol
from neuroform.settings import Settings, places
from neuroform.workflow.conclude import Conclusions, conclude, protocol_of

if TYPE_CHECKING:
    from neuroform.notes.content import Basis, Clinic, Kind
    from neuroform.notes.layout import UnsignedPaper

OFFERED = ("note",)
"""The kinds of paper that this version writes."""
ATTACHED = "exam.json"
"""The exam's name inside the paper; no name of a person."""


@dataclass(frozen=True, kw_only=True)
class Order:
    """Which paper of which examination."""

    kind: "Kind"
    exam: Examination
    exam_file: bytes
    """The exam file's own bytes; they travel in the paper unchanged."""
    protocol: Protocol | None = None
    """How much is to be examined, where the exam doesn't say."""
    demonstration: bool = False
    """Whether every page says that the person is invented."""


def kind_of(name: str) -> "Kind":
    """Return the kind of paper of that name. Raises PaperError for one that isn't written yet."""
    if name == "note":
        return "note"
    raise PaperError(
        _(N_("A paper of the kind “{kind}” isn't offered yet.")).format(kind=name),
        _(N_("Write one of: {kinds}.")).format(kinds=", ".join(OFFERED)),
    )


def write_paper(order: Order, settings: Settings, *, clock: Callable[[], datetime]) -> tuple[bytes, Conclusions]:
    """Return a paper ready to be signed (PDF/A-3b), and what was concluded for it.

    Gaps hold nothing back: they stand on the first page. Raises PaperError or GlyphError when it can't be made.
    """
    from neuroform.signing import fields

    pages, concluded = lay_out(order, settings)
    finished = _finished(pages, order, clock())
    boxes = pages.signature_boxes
    author, supervisor = (fields.Place(page=boxes[role].page, box=boxes[role].box) for role in ("author", "supervisor"))
    return fields.add(finished, author=author, supervisor=supervisor), concluded


def lay_out(order: Order, settings: Settings) -> "tuple[UnsignedPaper, Conclusions]":
    """Return a paper's bare pages, as a preview shows them, and what was concluded for it."""
    from neuroform.notes import papers

    basis, concluded = _basis(order, settings)
    return papers.make(order.kind, basis, clinic=_clinic(settings, order)), concluded


def write_text(order: Order, settings: Settings) -> tuple[str, Conclusions]:
    """Return the same paper as plain text, and what was concluded for it."""
    from neuroform.notes import papers

    basis, concluded = _basis(order, settings)
    return papers.text(order.kind, basis, clinic=_clinic(settings, order)), concluded


def _basis(order: Order, settings: Settings) -> "tuple[Basis, Conclusions]":
    from neuroform.notes.content import Basis

    protocol = order.protocol or protocol_of(order.exam, settings)
    concluded = conclude(order.exam, settings, protocol=protocol, with_next_tests=True)
    basis = Basis(
        exam=order.exam,
        reading=concluded.reading,
        gaps=concluded.gaps,
        sentences=concluded.sentences,
        progress=concluded.progress,
        needed=concluded.needed,
        protocol=_(protocol.label),
        next_tests=concluded.next_tests,
    )
    return basis, concluded


def _clinic(settings: Settings, order: Order) -> "Clinic":
    from neuroform.notes.content import Clinic

    own = places().templates
    return Clinic(
        name=settings.clinic_name,
        letterhead=settings.letterhead,
        telephones={each.who: each.number for each in settings.telephones},
        templates=own if own.is_dir() else None,
        demonstration=order.demonstration,
    )


def _finished(pages: "UnsignedPaper", order: Order, at: datetime) -> bytes:
    from neuroform.signing.pdfa import Attachment, finish

    exam = Attachment(data=order.exam_file, name=ATTACHED, description=_(N_("The examination, as it was recorded")))
    return finish(
        pages.pdf,
        attachments=[exam],
        title=pages.title,
        language=pages.language,
        author=order.exam.encounter.examiner,
        created=at,
    )
