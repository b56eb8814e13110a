"""Every kind of paper is written, signed twice, judged by two programs, and carries the exam that makes its pages."""

import json
import subprocess
from collections.abc import Callable
from datetime import datetime, timedelta
from functools import partial
from hashlib import sha256
from pathlib import Path

import pytest

from neuroform import shipped
from neuroform.exam import files
from neuroform.notes.content import Earlier
from neuroform.settings import Settings
from neuroform.signing import certificates, pdfa, sign, verify
from neuroform.signing.certificates import DemoAuthority
from neuroform.workflow import papers, same_paper

AT = datetime.fromisoformat("2026-11-20T10:52:10+01:00")
SETTINGS = Settings(clinic_name="Fernhill balance clinic")
SECRET = "for show"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> DemoAuthority:
    """Give the files of an authority made for this module."""
    return certificates.make_demo_authority(
        tmp_path_factory.mktemp("authority"),
        names={"author": "Noor Castellan", "supervisor": "Ivo Brandt"},
        passphrase=SECRET,
        clock=lambda: AT,
    )


@pytest.fixture(scope="module")
def exam_file() -> bytes:
    """Give an exam that a letter can be written from."""
    exam = json.loads(shipped.read_bytes("resources", "demonstration", "exam.json"))
    letter = {"to": "falls_clinic", "recipient": "Dr Pia Holmgard", "question": "Can she go home?"}
    exam["conclusion"] = {"impression": "Acute vertigo.", "plan": "Seen again tomorrow.", "letter": letter}
    return json.dumps(exam).encode()


def order(kind: str, exam_file: bytes) -> papers.Order:
    """Order a paper of that kind."""
    earlier = Earlier(title="Legs and balance examination", when="1 November 2026, 09:00", sha256="ab" * 32)
    return papers.Order(
        kind=papers.kind_of(kind),
        exam=files.read(exam_file),
        exam_file=exam_file,
        earlier=earlier if kind == "addendum" else None,
    )


@pytest.mark.parametrize("kind", papers.OFFERED)
def test_a_paper_signed_twice_is_valid_to_two_programs_and_made_by_its_exam(
    kind: str, demo: DemoAuthority, exam_file: bytes, need_tool: Callable[[str], str], tmp_path: Path
) -> None:
    paper, _concluded = papers.write_paper(order(kind, exam_file), SETTINGS, clock=lambda: AT)
    for number, role in enumerate(demo.certificates):
        signer = certificates.load(demo.certificates[role].read_bytes(), passphrase=SECRET)
        paper = sign.sign(paper, signer=signer, role=role, clock=partial(AT.__add__, timedelta(hours=number)))

    found = verify.verify(paper, trust=[demo.authority.read_bytes()])
    assert found.valid, found
    assert [each.role for each in found.signatures] == ["author", "supervisor"]
    assert found.exam_sha256 == sha256(exam_file).hexdigest()
    assert pdfa.attached(paper) == exam_file
    comparison = same_paper.compare(paper, Settings(clinic_name="Brookside clinic"))
    assert (comparison.agrees, comparison.by) == (True, "pages")

    file = tmp_path / "paper.pdf"
    file.write_bytes(paper)
    said = subprocess.run([need_tool("pdfsig"), file], check=True, capture_output=True, text=True).stdout
    assert said.count("Signature Validation: Signature is Valid.") == 2
    assert said.count("Total document signed") == 1
