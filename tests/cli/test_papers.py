"""`write`, `sign`, `verify` and `extract`: a paper carries its exam unchanged and says whether it can be relied on."""

import json
from hashlib import sha256
from pathlib import Path

import pytest

from tests.cli.conftest import Command, Signer

pytestmark = pytest.mark.usefixtures("passphrase")


@pytest.fixture
def note(command: Command, exam_file: Path, tmp_path: Path) -> Path:
    """Give an unsigned note."""
    exam_file.write_bytes(exam_file.read_bytes().replace(b"\n", b"\r\n"))
    assert command("write", exam_file, "--kind", "note", "-o", tmp_path / "note.pdf").status == 0
    return tmp_path / "note.pdf"


@pytest.fixture
def signed(command: Command, note: Path, signer: Signer, tmp_path: Path) -> Path:
    """Give the note signed by its author."""
    assert command("sign", note, "--with", signer.certificate, "-o", tmp_path / "signed.pdf").status == 0
    return tmp_path / "signed.pdf"


def test_a_note_carries_the_exam_byte_for_byte(command: Command, note: Path, exam_file: Path, tmp_path: Path) -> None:
    said = command("extract", note, "-o", tmp_path / "again.json")
    assert (said.status, said.out, said.err) == (0, "", "")
    assert (tmp_path / "again.json").read_bytes() == exam_file.read_bytes()
    assert b"\r\n" in exam_file.read_bytes()


def test_writing_never_refuses_for_gaps_but_tells_them(command: Command, exam_file: Path, tmp_path: Path) -> None:
    said = command("write", exam_file, "--kind", "note", "-o", tmp_path / "note.pdf")
    assert (said.status, said.out) == (0, "")
    assert said.err
    assert (tmp_path / "note.pdf").read_bytes().startswith(b"%PDF-1.7")


def test_the_same_paper_is_written_as_plain_text(command: Command, exam_file: Path, tmp_path: Path) -> None:
    said = command("write", exam_file, "--kind", "note", "-o", tmp_path / "note.txt")
    assert (said.status, said.out) == (0, "")
    text = (tmp_path / "note.txt").read_text(encoding="utf-8")
    assert "Ferrandis" in text
    assert "corrective saccade" in text


@pytest.mark.parametrize("logo", ["gone.png", "exam.json", "."])
def test_a_logo_that_is_not_printed_is_told_and_holds_no_paper_back(
    command: Command, exam_file: Path, own_home: Path, tmp_path: Path, logo: str
) -> None:
    settings = own_home / "settings.toml"
    settings.write_text(f"[clinic]\nlogo = '{tmp_path / logo}'\n", encoding="utf-8")
    try:
        said = command("write", exam_file, "--kind", "note", "-o", tmp_path / "note.pdf")
        text = command("write", exam_file, "--kind", "note", "-o", tmp_path / "note.txt")
    finally:
        settings.unlink()
    assert (said.status, said.out) == (0, "")
    assert "The paper is written without the clinic's logo." in said.err
    assert (tmp_path / "note.pdf").read_bytes().startswith(b"%PDF-1.7")
    assert "logo" not in text.err


def test_a_paper_is_signed_as_it_is_written(command: Command, exam_file: Path, signer: Signer, tmp_path: Path) -> None:
    out = tmp_path / "note.pdf"
    assert command("write", exam_file, "--kind", "note", "-o", out, "--sign-with", signer.certificate).status == 0
    said = command("verify", out, "--trust", signer.authority, "--json")
    assert (said.status, json.loads(said.out)["valid"]) == (0, True)


def test_a_signed_paper_is_valid_with_its_authority_and_not_without(
    command: Command, signed: Path, signer: Signer, exam_file: Path
) -> None:
    trusted = command("verify", signed, "--trust", signer.authority, "--json")
    answer = json.loads(trusted.out)
    assert trusted.out.isascii()
    assert list(answer) == ["file", "valid", "signatures", "expected_signatures", "exam_sha256"]
    assert (trusted.status, answer["valid"], answer["expected_signatures"]) == (0, True, None)
    assert answer["exam_sha256"] == sha256(exam_file.read_bytes()).hexdigest()
    (signature,) = answer["signatures"]
    assert set(signature) == {"role", "name", "signed_at", "intact", "trusted", "changed_after", "problem"}
    assert (signature["role"], signature["intact"], signature["trusted"]) == ("author", True, True)
    assert (signature["changed_after"], signature["problem"]) == ([], None)

    unknown = command("verify", signed, "--json")
    answer = json.loads(unknown.out)
    assert (unknown.status, answer["valid"]) == (1, False)
    assert (answer["signatures"][0]["intact"], answer["signatures"][0]["trusted"]) == (True, False)
    assert answer["signatures"][0]["problem"]


def test_a_supervisor_signs_after_the_author(
    command: Command, note: Path, signed: Path, signer: Signer, tmp_path: Path
) -> None:
    twice = tmp_path / "twice.pdf"
    as_supervisor = ("--with", signer.supervisor, "--as", "supervisor")
    assert command("sign", signed, *as_supervisor, "-o", twice).status == 0
    answer = json.loads(command("verify", twice, "--trust", signer.authority, "--json").out)
    assert [each["role"] for each in answer["signatures"]] == ["author", "supervisor"]
    assert answer["valid"]
    for paper in (note, twice):
        refused = command("sign", paper, *as_supervisor, "-o", tmp_path / "refused.pdf")
        assert (refused.status, refused.out) == (2, "")
        assert refused.err
    assert not (tmp_path / "refused.pdf").exists()


def test_an_unsigned_paper_is_not_valid(command: Command, note: Path, signer: Signer) -> None:
    said = command("verify", note, "--trust", signer.authority, "--json")
    answer = json.loads(said.out)
    assert (said.status, answer["valid"], answer["signatures"]) == (1, False, [])
    assert "isn't signed" in command("verify", note, "--trust", signer.authority).out


def test_a_changed_paper_is_not_valid(command: Command, signed: Path, signer: Signer) -> None:
    content = bytearray(signed.read_bytes())
    content[len(content) // 3] ^= 1
    signed.write_bytes(content)
    said = command("verify", signed, "--trust", signer.authority, "--json")
    assert (said.status, json.loads(said.out)["valid"]) == (1, False)


def test_what_is_no_paper_is_bad_input(command: Command, exam_file: Path, tmp_path: Path, signer: Signer) -> None:
    for words in (
        ("verify", exam_file),
        ("verify", tmp_path / "missing.pdf"),
        ("verify", exam_file, "--json"),
        ("extract", exam_file, "-o", tmp_path / "out"),
        ("extract", tmp_path / "missing.pdf", "-o", tmp_path / "out"),
        ("sign", exam_file, "--with", signer.certificate, "-o", tmp_path / "out"),
    ):
        said = command(*words)
        assert (said.status, said.out) == (2, ""), words
        assert len(said.err.splitlines()) == 1, words
    assert not (tmp_path / "out").exists()


def test_an_authority_that_is_none_is_bad_input(command: Command, signed: Path, exam_file: Path) -> None:
    assert command("verify", signed, "--trust", exam_file, "--json").status == 2
    assert command("verify", signed, "--trust", "no such file").status == 2


def test_an_output_that_is_an_input_is_refused(command: Command, exam_file: Path, note: Path, signer: Signer) -> None:
    before = {file: file.read_bytes() for file in (exam_file, note, signer.certificate)}
    for words in (
        ("write", exam_file, "--kind", "note", "-o", exam_file),
        ("sign", note, "--with", signer.certificate, "-o", note),
        ("sign", note, "--with", signer.certificate, "-o", signer.certificate),
        ("extract", note, "-o", note),
    ):
        said = command(*words)
        assert (said.status, said.out) == (2, "")
        assert "overwritten" in said.err
    assert {file: file.read_bytes() for file in before} == before


def test_a_wrong_passphrase_signs_nothing(
    command: Command, note: Path, signer: Signer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NEUROFORM_PASSPHRASE", "guess")
    said = command("sign", note, "--with", signer.certificate, "-o", tmp_path / "out.pdf")
    assert (said.status, said.out) == (2, "")
    assert said.err == "That passphrase doesn't open this certificate. Nothing was signed.\n"
    assert not (tmp_path / "out.pdf").exists()


def test_without_a_terminal_the_passphrase_comes_from_the_environment(
    program: Command, note: Path, signer: Signer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("NEUROFORM_PASSPHRASE")
    said = program("sign", note, "--with", signer.certificate, "-o", tmp_path / "out.pdf")
    assert (said.status, said.out) == (2, "")
    assert "NEUROFORM_PASSPHRASE" in said.err


@pytest.mark.parametrize(
    "words",
    [
        ("--kind", "addendum", "-o", "out.pdf"),
        ("--kind", "note", "--to", "old.pdf", "-o", "out.pdf"),
        ("--kind", "note", "--sign-with", "any.p12", "-o", "out.txt"),
        ("--kind", "note", "--sign-with", "missing.p12", "-o", "out.pdf"),
        ("--kind", "note", "-o", "no/such/folder/out.pdf"),
    ],
    ids=" ".join,
)
def test_what_cannot_be_written_is_told_and_nothing_is(
    command: Command, exam_file: Path, tmp_path: Path, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    said = command("write", exam_file, *words)
    assert (said.status, said.out) == (2, "")
    assert said.err.strip()
    assert list(tmp_path.iterdir()) == [exam_file]
