"""A signed paper opens as the exam it carries; one that was changed, isn't signed or tells another exam doesn't."""

import os
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from neuroform import shipped
from neuroform.errors import SigningError
from neuroform.exam import files
from neuroform.settings import Settings
from neuroform.workflow import demo, papers, signing, verifying
from neuroform.workflow.verifying import Looked

SETTINGS = Settings(clinic_name="Fernhill balance clinic")
EXAM_FILE = shipped.read_bytes("resources", "demonstration", "exam.json")
KINDS = ("note", "referral", "patient_letter", "completeness")


def clock() -> datetime:
    return datetime(2026, 11, 20, 9, 52, tzinfo=UTC)


@pytest.fixture(scope="module")
def clinic(tmp_path_factory: pytest.TempPathFactory) -> demo.Demo:
    folder = tmp_path_factory.mktemp("clinic")
    made = demo.open_demo(folder, clock=clock)
    demo.make_certificates(folder, clock=clock)
    return made


Sign = Callable[..., bytes]


@pytest.fixture(scope="module")
def sign(clinic: demo.Demo) -> Sign:
    """Give a function that writes and signs a paper of the demonstration's exam."""

    def make(kind: str = "note", *, paper: bytes | None = None) -> bytes:
        order = papers.Order(kind=papers.kind_of(kind), exam=files.read(EXAM_FILE), exam_file=EXAM_FILE)
        written = paper or papers.write_paper(order, SETTINGS, clock=clock)[0]
        assert clinic.settings.certificate is not None
        with signing.opened(clinic.settings.certificate, demo.PASSPHRASE) as certificate:
            return signing.sign_paper(written, certificate=certificate, role="author", clock=clock)

    return make


def looked(paper: bytes, settings: Settings) -> Looked:
    return verifying.looked_into(paper, signing.verify_paper(paper, settings), settings)


@pytest.mark.parametrize("kind", KINDS)
def test_every_signed_kind_opens_as_the_exam_it_carries(sign: Sign, clinic: demo.Demo, kind: str) -> None:
    paper = sign(kind)
    assert verifying.read_back(paper, clinic.settings) == files.read(EXAM_FILE)
    found = looked(paper, clinic.settings)
    assert found.exam == files.read(EXAM_FILE)
    assert found.comparison is not None
    assert found.comparison.agrees


def test_a_paper_by_another_clinic_opens_too_and_says_who_signed_is_not_certain(sign: Sign) -> None:
    paper = sign()
    assert verifying.read_back(paper, Settings()) == files.read(EXAM_FILE)
    found = looked(paper, Settings())
    assert found.exam is not None
    assert not found.verification.valid
    assert "certificate not trusted." in "\n".join(verifying.told(found))


def test_an_unsigned_paper_does_not_open(clinic: demo.Demo) -> None:
    order = papers.Order(kind="note", exam=files.read(EXAM_FILE), exam_file=EXAM_FILE)
    paper = papers.write_paper(order, SETTINGS, clock=clock)[0]
    with pytest.raises(SigningError, match="isn't signed"):
        verifying.read_back(paper, clinic.settings)
    assert looked(paper, clinic.settings).exam is None


@pytest.mark.parametrize("where", ["within", "behind"])
def test_a_changed_paper_does_not_open(sign: Sign, clinic: demo.Demo, where: str) -> None:
    paper = bytearray(sign())
    if where == "within":
        paper[len(paper) // 3] ^= 1
    else:
        paper += b"% more\n"
    with pytest.raises(SigningError, match="changed after it was signed"):
        verifying.read_back(bytes(paper), clinic.settings)
    found = looked(bytes(paper), clinic.settings)
    assert found.exam is None
    assert found.verification.sentence.startswith("This paper was changed after it was signed")
    told = verifying.told(found)
    assert "not trusted" not in " ".join(told)
    if where == "within":
        assert told[0].endswith(": not valid, altered since it was signed.")


def test_an_exam_that_is_not_the_one_on_the_pages_is_not_offered_h13(sign: Sign, clinic: demo.Demo) -> None:
    exam = files.read(EXAM_FILE)
    other = exam.model_copy(update={"patient": exam.patient.model_copy(update={"family_name": "Someone"})})
    order = papers.Order(kind="note", exam=other, exam_file=EXAM_FILE)
    paper = sign(paper=papers.write_paper(order, SETTINGS, clock=clock)[0])
    found = looked(paper, clinic.settings)
    assert found.verification.valid
    assert found.comparison is not None
    assert found.comparison.agrees is False
    assert found.exam is None


def test_the_papers_kept_are_listed_the_newest_first(tmp_path: Path) -> None:
    for number, name in enumerate(("older.pdf", "newer.pdf", "other.txt")):
        (tmp_path / name).touch()
        os.utime(tmp_path / name, (number, number))
    assert [each.name for each in verifying.signed_papers(tmp_path)] == ["newer.pdf", "older.pdf"]
    assert verifying.signed_papers(tmp_path / "nowhere") == ()
