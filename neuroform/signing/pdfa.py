"""Turns laid-out pages into a paper to file: the exam attached, PDF/A-3b, and reads the exam back."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import TYPE_CHECKING, Literal

from neuroform.errors import PaperError, SigningError
from neuroform.language import N_, _
from neuroform.signing import layout

if TYPE_CHECKING:
    from pikepdf import Dictionary, Object, Pdf

CREATOR = N_("Legs and balance examination")


@dataclass(frozen=True, kw_only=True)
class Attachment:
    """A file that travels inside the paper."""

    data: bytes
    """The file, byte for byte."""
    name: str
    """Its name inside the paper, without a folder."""
    description: str
    """What it is, in the paper's language."""
    mime_type: str = "application/json"
    """Its kind, as a MIME type."""
    relationship: Literal["Source", "Supplement"] = "Source"
    """Source: the exam that the pages were written from. Supplement: what else is needed to write them again."""


def finish(
    pdf: bytes,
    *,
    attachments: Sequence[Attachment],
    title: str,
    language: str,
    author: str,
    created: datetime,
    structure: "Callable[[Pdf], None] | None" = None,
) -> bytes:
    """Return `pdf` as PDF/A-3b with `attachments` as its sources; the validator has passed what is returned.

    `language` is a tag such as "en-GB"; `created` carries its zone. `structure` may add a structure tree to the open
    document. Raises PaperError when the pages can't be made PDF/A, naming what is in the way.
    """
    import pikepdf
    from pikepdf import pdfa

    if created.tzinfo is None:
        raise ValueError("created lacks its zone")
    with _opened(pdf, PaperError) as document:
        if structure is not None:
            structure(document)
        for page in document.pages:
            # reportlab leaves an empty transition on every page, which PDF/A forbids.
            if page.obj.get("/Trans") is not None:
                del page.obj["/Trans"]
        document.Root.AF = pikepdf.Array([_attach(document, each, created) for each in attachments])
        document.Root.Lang = pikepdf.String(language)
        document.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
        _describe(document, title=title, language=language, author=author, created=created)
        out = BytesIO()
        try:
            # 1.7 from the start: a signature would otherwise write a version into the catalogue later.
            pdfa.save(
                document,
                out,
                "3b",
                min_version="1.7",
                deterministic_id=True,
                object_stream_mode=pikepdf.ObjectStreamMode.disable,
            )
        except pdfa.PdfaError as error:
            found = "; ".join(str(finding) for finding in error.report.findings[:3])
            raise PaperError(
                _(N_("The paper can't be filed for the long term: {found}.")).format(found=found),
                _(N_("Report this, with the paper's kind; the examination is untouched.")),
            ) from error
    return out.getvalue()


def attached(pdf: bytes) -> bytes:
    """Return the exam that a paper carries, byte for byte, from the revision that was signed first.

    Raises SigningError for a file that isn't a PDF or carries no exam.
    """
    ends = layout.signed_ends(pdf)
    found = _embedded(pdf[: ends[0]] if ends else pdf, "/Source")
    if found is None:
        raise SigningError(
            _(N_("This paper carries no examination.")), _(N_("Choose a paper that was written by this program."))
        )
    return found


def supplement(pdf: bytes) -> bytes | None:
    """Return what a paper carries beside its exam to be written again, from the revision that was signed first."""
    ends = layout.signed_ends(pdf)
    return _embedded(pdf[: ends[0]] if ends else pdf, "/Supplement")


def attached_now(pdf: bytes) -> bytes | None:
    """Return the exam that a reader of the file as it stands is given, whoever put it there; None if there is none."""
    return _embedded(pdf, "/Source")


def _embedded(pdf: bytes, relationship: str) -> bytes | None:
    with _opened(pdf, SigningError) as document:
        for specification in _associated(document):
            if str(specification.get("/AFRelationship", "")) == relationship:
                files = specification.get("/EF")
                if files is not None and files.get("/F") is not None:
                    return files.F.read_bytes()
    return None


def _associated(document: "Pdf") -> "Iterator[Object]":
    found = document.Root.get("/AF")
    if found is not None:
        yield from found.as_list()


def _attach(document: "Pdf", attachment: Attachment, created: datetime) -> "Dictionary":
    import pikepdf
    from pikepdf.models.metadata import encode_pdf_date

    moment = encode_pdf_date(created)
    specification = pikepdf.AttachedFileSpec(
        document,
        attachment.data,
        filename=attachment.name,
        description=attachment.description,
        mime_type=attachment.mime_type,
        relationship=pikepdf.Name(f"/{attachment.relationship}"),
        creation_date=moment,
        mod_date=moment,
    )
    document.attachments[attachment.name] = specification
    return document.make_indirect(specification.obj)


def _describe(document: "Pdf", *, title: str, language: str, author: str, created: datetime) -> None:
    moment = created.replace(microsecond=0).isoformat()
    with document.open_metadata(set_pikepdf_as_editor=False) as metadata:
        metadata["dc:title"] = title
        metadata["dc:creator"] = [author]
        metadata["dc:language"] = [language]
        metadata["xmp:CreateDate"] = moment
        metadata["xmp:ModifyDate"] = moment
        metadata["xmp:CreatorTool"] = _(CREATOR)


def _opened(pdf: bytes, error: type[PaperError] | type[SigningError]) -> "Pdf":
    import pikepdf

    try:
        return pikepdf.open(BytesIO(pdf))
    except (pikepdf.PdfError, pikepdf.PasswordError) as cause:
        raise error(
            _(N_("This file can't be read as a PDF.")), _(N_("Choose another file, or fetch this one again."))
        ) from cause
