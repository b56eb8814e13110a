"""Papers of the shared cases: each kind is written, on as few pages as a reader expects."""

import json
from pathlib import Path

from neuroform.exam import files
from neuroform.notes import papers
from neuroform.notes.content import KINDS, Earlier
from neuroform.settings import Settings
from neuroform.workflow.conclude import protocol_of
from neuroform.workflow.gathering import gather
from tests.notes.invented import pages_of, squeezed

EARLIER = Earlier(title="Legs and balance examination, note", when="12 November 2026, 09:30", sha256="9f" * 32)
USUAL = {"note": 2, "referral": 2, "patient_letter": 1, "completeness": 3, "addendum": 3}


def test_each_kind_takes_the_usual_pages_and_tells_what_is_urgent(shared_case: Path) -> None:
    exam = files.read(json.dumps(json.loads(shared_case.read_text(encoding="utf-8"))["exam"]).encode())
    basis, _concluded = gather(exam, protocol_of(exam, Settings()), Settings())
    urgent = basis.reading.urgent
    # Three frames of urgent findings, with what each rests on, take half a page by themselves.
    more = len(urgent) > 2
    for kind in KINDS:
        made = papers.make(kind, basis, earlier=EARLIER)
        assert made.page_count <= USUAL[kind] + more, kind
        if kind != "patient_letter":
            first = squeezed(pages_of(made.pdf)[0]).replace("- ", "-")
            assert all(squeezed(found.message) in first for found in urgent), kind
