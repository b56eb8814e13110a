"""Papers become PDF/A-3b with their examination attached, and keep their structure and their places for signatures."""

from datetime import UTC, datetime
from io import BytesIO

import pikepdf
import pytest

from neuroform.notes import papers
from neuroform.notes.content import KINDS, Basis, Clinic, Earlier, Kind
from neuroform.signing import fields, pdfa

EXAM_FILE = b'{"format": "neuroform-exam/1"}'
EARLIER = Earlier(title="Legs and balance examination, note", when="12 November 2026, 09:30", sha256="9f" * 32)


@pytest.mark.parametrize("kind", KINDS)
def test_a_paper_of_every_kind_can_be_filed_and_keeps_its_structure(kind: Kind, basis: Basis) -> None:
    made = papers.make(kind, basis, clinic=Clinic(demonstration=True), earlier=EARLIER)
    filed = pdfa.finish(
        made.pdf,
        attachments=[pdfa.Attachment(data=EXAM_FILE, name="exam.json", description="The examination")],
        title=made.title,
        language=made.language,
        author="Dr Tessa Quill",
        created=datetime(2026, 11, 20, 10, 20, tzinfo=UTC),
    )
    author, supervisor = (
        fields.Place(page=made.signature_boxes[role].page, box=made.signature_boxes[role].box)
        for role in ("author", "supervisor")
    )
    ready = fields.add(filed, author=author, supervisor=supervisor)
    assert pdfa.attached(ready) == EXAM_FILE
    with pikepdf.open(BytesIO(ready)) as document:
        assert str(document.Root.StructTreeRoot.K[0].S) == "/Document"
        assert bool(document.Root.MarkInfo.Marked)
        assert len(document.Root.AcroForm.Fields) == 2
