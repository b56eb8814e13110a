"""Every kind of paper is written, signed twice, judged by four programs, and carries the exam that makes its pages."""

import json
import re
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
from tests.conftest import IN_CI
from tests.workflow import accessibility

AT = datetime.fromisoformat("2026-11-20T10:52:10+01:00")
SETTINGS = Settings(clinic_name="Fernhill balance clinic")
SECRET = "for show"
JARS = ("preflight", "pdfbox2", "xmpbox", "fontbox2", "commons-logging", "commons-io", "javax.activation", "jaxb-api")
# What PDF/A-1 forbids and PDF/A-3 allows (ISO 19005-3, 6.8: embedded files; 6.6.4: the part it declares), by the
# numbers of Apache PDFBox Preflight 2.0.27.
ALLOWED_SINCE = {
    "1.4.7 : Trailer Syntax error, EmbeddedFile entry is present in the Names dictionary",
    "1.2.9 : Body Syntax error, EmbeddedFile entry is present in a FileSpecification dictionary",
    "7.11.2 : Error on MetaData, part must be 1",
}
# Drawn in the frame of a signature, which a reader announces by the signature itself.
STAMPED = {"Signed", "Countersigned", "Noor", "Castellan", "Ivo", "Brandt", "Nov", "demonstration"} | {
    "electronic",
    "signature",
    "contained",
    "this",
    "file",
}


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


@pytest.fixture(scope="module")
def folder(demo: DemoAuthority, exam_file: bytes, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a folder with each kind of paper, signed twice, named after it."""
    place = tmp_path_factory.mktemp("papers")
    for kind in papers.OFFERED:
        paper, _concluded = papers.write_paper(order(kind, exam_file), SETTINGS, clock=lambda: AT)
        for number, role in enumerate(demo.certificates):
            signer = certificates.load(demo.certificates[role].read_bytes(), passphrase=SECRET)
            paper = sign.sign(paper, signer=signer, role=role, clock=partial(AT.__add__, timedelta(hours=number)))
        (place / f"{kind}.pdf").write_bytes(paper)
    return place


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
    kind: str, folder: Path, demo: DemoAuthority, exam_file: bytes, need_tool: Callable[[str], str]
) -> None:
    file = folder / f"{kind}.pdf"
    paper = file.read_bytes()
    found = verify.verify(paper, trust=[demo.authority.read_bytes()])
    assert found.valid, found
    assert [each.role for each in found.signatures] == ["author", "supervisor"]
    assert found.exam_sha256 == sha256(exam_file).hexdigest()
    assert pdfa.attached(paper) == exam_file
    comparison = same_paper.compare(paper, Settings(clinic_name="Brookside clinic"))
    assert (comparison.agrees, comparison.by) == (True, "pages")

    said = subprocess.run([need_tool("pdfsig"), file], check=True, capture_output=True, text=True).stdout
    assert said.count("Signature Validation: Signature is Valid.") == 2
    assert said.count("Total document signed") == 1


def test_the_signed_papers_are_accessible_to_an_independent_checker(folder: Path, tmp_path: Path) -> None:
    """PDF/UA-1 by the machine-checkable conditions of the Matterhorn Protocol, as outloud 0.2.1 knows them."""
    if not accessibility.made() and not IN_CI:
        pytest.skip(f"the accessibility checker isn't installed: python3 tests/workflow/{accessibility.__name__}.py")
    told = tmp_path / "told.json"
    command: list[str | Path] = [
        accessibility.make(),
        "--quiet",
        "--fail-on",
        "never",
        "--json",
        told,
        *sorted(folder.iterdir()),
    ]
    subprocess.run(command, check=True, capture_output=True)
    results = json.loads(told.read_text(encoding="utf-8"))["results"]
    assert len(results) == len(papers.OFFERED)
    for each in results:
        assert each["error"] is None, each
        assert each["counts"]["error"] == 0, each["findings"]
        assert unspoken(each["findings"]) <= STAMPED, Path(each["path"]).name
        assert each["stats"]["features"]["forms"], Path(each["path"]).name


def unspoken(findings: list[dict[str, str]]) -> set[str]:
    """Return the words that no element announces, by warnings that may be of nothing else."""
    assert {each["rule"] for each in findings} <= {"TAG-003"}, findings
    return {word for each in findings for word in each["evidence"].split("; ")}


def test_the_signed_papers_break_no_rule_of_pdfa_that_an_independent_checker_knows(
    folder: Path, need_tool: Callable[[str], str]
) -> None:
    """Preflight knows PDF/A-1b: it may object to what PDF/A-3 allows since, and to nothing else."""
    jars = ":".join(need_tool(f"/usr/share/java/{name}.jar") for name in JARS)
    for file in sorted(folder.iterdir()):
        command: list[str | Path] = [need_tool("java"), "-cp", jars, "org.apache.pdfbox.preflight.Validator_A1b", file]
        said = subprocess.run(command, check=False, capture_output=True, text=True)
        found = set(re.findall(r"^\d+(?:\.\d+)+ : .+$", said.stdout, re.MULTILINE))
        assert found == ALLOWED_SINCE, (file.name, said.stdout, said.stderr)
