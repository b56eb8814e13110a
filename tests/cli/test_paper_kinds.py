"""`write`: every kind of paper, signed or as text, and the addendum that names the note it adds to."""

import json
from hashlib import sha256
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest

from tests.cli.conftest import Command, Signer

pytestmark = pytest.mark.usefixtures("passphrase")
ALONE = ("note", "referral", "patient_letter", "completeness")


def words_of(paper: Path) -> str:
    """Read a paper's words, every white space as one blank."""
    document = pypdfium2.PdfDocument(BytesIO(paper.read_bytes()))
    try:
        pages = [str(document[number].get_textpage().get_text_range()) for number in range(len(document))]
    finally:
        document.close()
    return " ".join(" ".join(pages).split())


@pytest.fixture
def signed(command: Command, exam_file: Path, signer: Signer, tmp_path: Path) -> Path:
    """Give the exam's note, signed as it is written."""
    note = tmp_path / "note.pdf"
    signing = ("--sign-with", signer.certificate)
    assert command("write", exam_file, "--kind", "note", "-o", note, *signing).status == 0
    return note


@pytest.mark.parametrize("kind", ALONE)
def test_every_kind_is_written_signed_and_valid(
    command: Command, exam_file: Path, signer: Signer, tmp_path: Path, kind: str
) -> None:
    paper = tmp_path / "paper.pdf"
    signing = ("--sign-with", signer.certificate)
    assert command("write", exam_file, "--kind", kind, "-o", paper, *signing).status == 0
    assert json.loads(command("verify", paper, "--trust", signer.authority, "--json").out)["valid"]
    assert command("extract", paper, "-o", tmp_path / "again.json").status == 0
    assert (tmp_path / "again.json").read_bytes() == exam_file.read_bytes()


@pytest.mark.parametrize("kind", ALONE)
def test_every_kind_is_written_as_text_that_names_the_person(
    command: Command, exam_file: Path, tmp_path: Path, kind: str
) -> None:
    said = command("write", exam_file, "--kind", kind, "-o", tmp_path / "paper.TXT")
    assert (said.status, said.out) == (0, "")
    assert "Ferrandis" in (tmp_path / "paper.TXT").read_text(encoding="utf-8")


def test_an_addendum_names_the_note_its_date_and_its_digest(
    command: Command, exam_file: Path, signed: Path, signer: Signer, tmp_path: Path
) -> None:
    exam = json.loads(exam_file.read_text(encoding="utf-8"))
    before = f"{sha256(signed.read_bytes()).hexdigest()}"
    adding = ("--kind", "addendum", "--to", signed, "--sign-with", signer.certificate)
    addendum = tmp_path / "addendum.pdf"
    assert command("write", exam_file, *adding, "-o", addendum).status == 0
    words = words_of(addendum)
    assert "Legs and balance examination, note" in words
    assert before in words
    assert exam["encounter"]["examined_at"][:4] in words
    assert json.loads(command("verify", addendum, "--trust", signer.authority, "--json").out)["valid"]
    assert sha256(signed.read_bytes()).hexdigest() == before

    again = tmp_path / "again.txt"
    assert command("write", exam_file, "--kind", "addendum", "--to", addendum, "-o", again).status == 0
    assert sha256(addendum.read_bytes()).hexdigest() in again.read_text(encoding="utf-8")


def test_an_addendum_adds_to_nothing_but_a_signed_note_as_it_was_signed(
    command: Command, exam_file: Path, signed: Path, signer: Signer, tmp_path: Path
) -> None:
    out, changed, unsigned, letter = (tmp_path / name for name in ("out.pdf", "changed.pdf", "bare.pdf", "letter.pdf"))
    content = bytearray(signed.read_bytes())
    content[len(content) // 3] ^= 1
    changed.write_bytes(content)
    assert command("write", exam_file, "--kind", "note", "-o", unsigned).status == 0
    writing = ("--kind", "referral", "--sign-with", signer.certificate)
    assert command("write", exam_file, *writing, "-o", letter).status == 0
    for paper, why in (
        (changed, "changed after it was signed"),
        (unsigned, "isn't signed"),
        (letter, "is no note"),
        (exam_file, "PDF"),
        (tmp_path / "missing.pdf", "can't be read"),
    ):
        said = command("write", exam_file, "--kind", "addendum", "--to", paper, "-o", out)
        assert (said.status, said.out) == (2, ""), paper
        assert why in said.err, paper
        assert len(said.err.splitlines()) == 1
    assert not out.exists()


@pytest.mark.parametrize(
    "changes",
    [{"birth_date": "1950-01-02"}, {"identifiers": [{"scheme": "local", "value": "other"}]}],
    ids=["another birth date", "another identifier"],
)
def test_an_addendum_about_another_person_is_refused_h13(
    command: Command, exam_file: Path, signed: Path, tmp_path: Path, changes: dict[str, object]
) -> None:
    exam = json.loads(exam_file.read_text(encoding="utf-8"))
    exam["patient"] |= changes
    other = tmp_path / "other.json"
    other.write_text(json.dumps(exam), encoding="utf-8")
    said = command("write", other, "--kind", "addendum", "--to", signed, "-o", tmp_path / "out.pdf")
    assert (said.status, said.out) == (2, "")
    assert "Ferrandis" in said.err
    assert "somebody else" in said.err
    assert not (tmp_path / "out.pdf").exists()


def test_an_addendum_is_never_written_over_its_note(command: Command, exam_file: Path, signed: Path) -> None:
    before = signed.read_bytes()
    said = command("write", exam_file, "--kind", "addendum", "--to", signed, "-o", signed)
    assert (said.status, said.out) == (2, "")
    assert signed.read_bytes() == before
