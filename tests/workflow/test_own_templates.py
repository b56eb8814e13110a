"""A clinic's template that can't be used is told of, and never holds a paper up: the program's stands in."""

import os
from datetime import datetime
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest

from neuroform import shipped
from neuroform.exam import files
from neuroform.settings import Settings, places
from neuroform.workflow import papers, same_paper

AT = datetime.fromisoformat("2026-11-20T10:52:10+01:00")
EXAM_FILE = shipped.read_bytes("resources", "demonstration", "exam.json")
SETTINGS = Settings(clinic_name="Fernhill balance clinic")
PRYING = '[[block]]\nheading = "Question"\ntext = "{% include \'/etc/hostname\' %}"\n'


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give the folder of a clinic's templates."""
    monkeypatch.setenv("NEUROFORM_HOME", str(tmp_path))
    places().templates.mkdir(parents=True)
    return places().templates


def order(kind: str) -> papers.Order:
    return papers.Order(kind=papers.kind_of(kind), exam=files.read(EXAM_FILE), exam_file=EXAM_FILE)


def last_page(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(BytesIO(pdf))
    text = str(document[len(document) - 1].get_textpage().get_text_range())
    document.close()
    return text


def broken(own: Path, name: str) -> None:
    text = {"papers.toml": "[note\n", "layout.toml": "[page]\nleft = 1\n", "patient_letter.toml": PRYING}[name]
    (own / name).write_text(text, encoding="utf-8")


@pytest.mark.parametrize("harm", ["folder", "loop", "nowhere", "pipe"])
def test_what_stands_there_and_is_no_file_is_not_passed_over(own: Path, harm: str) -> None:
    file = own / "layout.toml"
    match harm:
        case "folder":
            file.mkdir()
        case "pipe":
            os.mkfifo(file)
        case _:
            file.symlink_to(file if harm == "loop" else own / "missing")
    refused = papers.refused_templates(order("note"), SETTINGS)
    assert refused is not None
    assert "layout.toml can't be used: it is no ordinary file" in refused.what
    text, _concluded = papers.write_text(order("note"), SETTINGS)
    assert "built-in templates" in text


CASES = [("note", "papers.toml"), ("completeness", "layout.toml"), ("patient_letter", "patient_letter.toml")]


@pytest.mark.parametrize(("kind", "name"), CASES)
def test_the_paper_is_written_with_the_programs_own_and_its_foot_says_so(own: Path, kind: str, name: str) -> None:
    usual, _concluded = papers.write_paper(order(kind), SETTINGS, clock=lambda: AT)
    assert papers.refused_templates(order(kind), SETTINGS) is None
    broken(own, name)
    paper, _concluded = papers.write_paper(order(kind), SETTINGS, clock=lambda: AT)
    assert "built-in templates" in last_page(paper)
    assert last_page(paper).replace("built-in templates", "templates") == last_page(usual)
    text, _concluded = papers.write_text(order(kind), SETTINGS)
    assert "built-in templates" in text
    refused = papers.refused_templates(order(kind), SETTINGS)
    assert refused is not None
    assert name in refused.what
    assert refused.do == "Mend it, or move it away to use the program's own."


@pytest.mark.parametrize(("kind", "name"), CASES)
def test_such_a_paper_is_made_again_from_its_exam_here_and_elsewhere(
    own: Path, kind: str, name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken(own, name)
    paper, _concluded = papers.write_paper(order(kind), SETTINGS, clock=lambda: AT)
    here = same_paper.compare(paper, SETTINGS)
    monkeypatch.setenv("NEUROFORM_HOME", str(tmp_path / "elsewhere"))
    elsewhere = same_paper.compare(paper, Settings(clinic_name="Brookside clinic"))
    assert [(each.agrees, each.by) for each in (here, elsewhere)] == [(True, "pages")] * 2


def test_a_template_read_by_nobody_for_this_kind_is_not_complained_of(own: Path) -> None:
    broken(own, "patient_letter.toml")
    assert papers.refused_templates(order("note"), SETTINGS) is None
    assert "built-in templates" not in last_page(papers.write_paper(order("note"), SETTINGS, clock=lambda: AT)[0])
