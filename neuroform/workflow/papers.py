"""Writes papers: the pages, the exam file attached byte for byte, and the places for two signatures."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from neuroform.errors import PaperError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _, in_english
from neuroform.protocols.loading import Protocol
from neuroform.settings import Settings, places
from neuroform.workflow import own_templates, recipe
from neuroform.workflow.conclude import Conclusions, protocol_of
from neuroform.workflow.gathering import gather
from neuroform.workflow.logo import printed

if TYPE_CHECKING:
    from neuroform.notes.content import Clinic, Earlier, Kind, Paper
    from neuroform.notes.layout import UnsignedPaper

OFFERED = ("note", "referral", "patient_letter", "completeness", "addendum")
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
    earlier: "Earlier | None" = None
    """Of an addendum: the note it adds to."""


def kind_of(name: str) -> "Kind":
    """Return the kind of paper of that name. Raises PaperError for one that isn't offered."""
    from neuroform.notes.content import KINDS

    for kind in KINDS:
        if kind == name and kind in OFFERED:
            return kind
    raise PaperError(
        _(N_("A paper of the kind “{kind}” isn't offered.")).format(kind=name),
        _(N_("Write one of: {kinds}.")).format(kinds=", ".join(OFFERED)),
    )


def write_paper(order: Order, settings: Settings, *, clock: Callable[[], datetime]) -> tuple[bytes, Conclusions]:
    """Return a paper ready to be signed (PDF/A-3b), and what was concluded for it.

    Gaps hold nothing back: they stand on the first page. Raises PaperError or GlyphError when it can't be made.
    """
    from neuroform.signing import fields

    pages, concluded = lay_out(order, settings)
    boxes = pages.signature_boxes
    author, supervisor = (fields.Place(page=boxes[role].page, box=boxes[role].box) for role in ("author", "supervisor"))
    with in_english():
        finished = _finished(pages, order, settings, clock())
        return fields.add(finished, author=author, supervisor=supervisor), concluded


def lay_out(order: Order, settings: Settings) -> "tuple[UnsignedPaper, Conclusions]":
    """Return a paper's bare pages, as a preview shows them, and what was concluded for it."""
    from neuroform.notes.layout import lay_out as laid_out

    content, concluded = _content(order, settings)
    return laid_out(content), concluded


def write_text(order: Order, settings: Settings) -> tuple[str, Conclusions]:
    """Return the same paper as plain text, and what was concluded for it."""
    from neuroform.notes.text import written

    content, concluded = _content(order, settings)
    return written(content), concluded


def refused_templates(order: Order, settings: Settings) -> PaperError | None:
    """Return why the clinic's own templates stand aside for the program's in this paper; None where they don't."""
    basis, _concluded = gather(order.exam, _protocol(order, settings), settings)
    return own_templates.refused(order.kind, basis, clinic=_clinic(settings, order), earlier=order.earlier)


def _content(order: Order, settings: Settings) -> "tuple[Paper, Conclusions]":
    basis, concluded = gather(order.exam, _protocol(order, settings), settings)
    clinic = _clinic(settings, order)
    return own_templates.content(order.kind, basis, clinic=clinic, earlier=order.earlier), concluded


def _protocol(order: Order, settings: Settings) -> Protocol:
    return order.protocol or protocol_of(order.exam, settings)


def _clinic(settings: Settings, order: Order) -> "Clinic":
    from neuroform.notes.content import Clinic

    own = places().templates
    return Clinic(
        name=settings.clinic_name,
        letterhead=settings.letterhead,
        telephones={each.who: each.number for each in settings.telephones},
        templates=own if own.is_dir() else None,
        demonstration=order.demonstration,
        logo=printed(settings.logo),
    )


def _finished(pages: "UnsignedPaper", order: Order, settings: Settings, at: datetime) -> bytes:
    from neuroform.signing.pdfa import Attachment, finish

    how = recipe.Recipe(
        kind=order.kind,
        clinic=_clinic(settings, order),
        protocol=_protocol(order, settings).name,
        earlier=order.earlier,
    )
    exam = Attachment(data=order.exam_file, name=ATTACHED, description=_(N_("The examination, as it was recorded")))
    again = Attachment(
        data=recipe.written(how),
        name=recipe.NAME,
        description=_(N_("What is needed beside the examination to write this paper again")),
        relationship="Supplement",
    )
    return finish(
        pages.pdf,
        attachments=[exam, again],
        title=pages.title,
        language=pages.language,
        author=order.exam.encounter.examiner,
        created=at,
    )
