"""A paper whose exam and pages belong together says so; every other one says what doesn't (H13, the wrong person)."""

import json
from collections.abc import Callable
from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pytest

import neuroform
from neuroform import shipped
from neuroform.exam import files
from neuroform.settings import Settings
from neuroform.signing import pdfa
from neuroform.workflow import papers, program, recipe, same_paper
from neuroform.workflow.recipe import Recipe

SETTINGS = Settings(clinic_name="Fernhill balance clinic", letterhead=("2 Fern Hill",))
ELSEWHERE = Settings(clinic_name="Brookside clinic")
AT = datetime.fromisoformat("2026-11-20T10:52:10+01:00")
EXAM: dict[str, Any] = json.loads(shipped.read_bytes("resources", "demonstration", "exam.json"))


def changed(*steps: str, to: object) -> bytes:
    """Return the exam with one value changed."""
    exam = json.loads(json.dumps(EXAM))
    at = exam
    for step in steps[:-1]:
        at = at.setdefault(step, {})
    at[steps[-1]] = to
    return json.dumps(exam).encode()


EXAM_FILE = changed("reflexes", "ankle", to={"right": {"value": "absent"}, "left": {"value": "normal"}})
OTHER_FILES = {
    "another finding": changed(
        "reflexes", "ankle", to={"right": {"value": "absent"}, "left": {"not_examined": "declined"}}
    ),
    "the sides exchanged": changed("reflexes", "ankle", to={"right": {"value": "normal"}, "left": {"value": "absent"}}),
    "another name": changed("patient", "family_name", to="Ferrand"),
    "another day of birth": changed("patient", "birth_date", to="1967-06-15"),
    "another number": changed("patient", "identifiers", to=[{"scheme": "local", "value": "DEMO-032"}]),
}


def written(
    pages_of: bytes, attached: bytes | None = None, *, carries: Recipe | None = None, recipe_file: bytes | None = None
) -> bytes:
    """Return a paper with the pages of one exam and another attached, and its recipe where one is given."""
    exam = files.read(pages_of)
    way = carries or recipe.guessed("note", exam, SETTINGS)
    attachments = [
        pdfa.Attachment(
            data=pages_of if attached is None else attached, name="exam.json", description="The examination"
        )
    ]
    recipe_file = recipe.written(carries) if carries is not None else recipe_file
    if recipe_file is not None:
        attachments.append(
            pdfa.Attachment(data=recipe_file, name=recipe.NAME, description="The paper", relationship="Supplement")
        )
    return pdfa.finish(
        recipe.again(exam, way, SETTINGS).pages(),
        attachments=attachments,
        title="A paper",
        language="en-GB",
        author="Noor Castellan",
        created=AT,
    )


def carried(kind: Any = "note") -> Recipe:
    return recipe.guessed(kind, files.read(EXAM_FILE), SETTINGS)


def test_a_paper_as_the_program_writes_it_is_made_by_its_exam() -> None:
    order = papers.Order(kind="note", exam=files.read(EXAM_FILE), exam_file=EXAM_FILE)
    paper, _concluded = papers.write_paper(order, SETTINGS, clock=lambda: AT)
    found = same_paper.compare(paper, SETTINGS)
    assert found.agrees
    assert found.by == "pages"
    assert found.sentence == "The examination in this paper makes the same pages."


@pytest.mark.parametrize("kind", ["note", "completeness", "patient_letter"])
def test_every_kind_that_carries_its_recipe_is_made_again_anywhere(kind: Any) -> None:
    paper = written(EXAM_FILE, carries=carried(kind))
    assert same_paper.compare(paper, ELSEWHERE).by == "pages"
    assert same_paper.compare(paper, ELSEWHERE).agrees


def test_an_addendums_note_travels_in_its_recipe() -> None:
    from neuroform.notes.content import Earlier

    earlier = Earlier(title="Legs and balance examination", when="1 November 2026, 09:00", sha256="ab" * 32)
    guessed = carried("addendum")
    way = Recipe(kind=guessed.kind, clinic=guessed.clinic, protocol=guessed.protocol, earlier=earlier)
    assert same_paper.compare(written(EXAM_FILE, carries=way), ELSEWHERE).by == "pages"


def test_another_clinics_paper_without_its_recipe_is_compared_by_words() -> None:
    found = same_paper.compare(written(EXAM_FILE), ELSEWHERE)
    assert found.agrees
    assert found.by == "words"
    assert found.sentence.startswith("The pages tell ")
    assert found.sentence.endswith("no more was compared: another version or another clinic wrote it.")


def test_every_recorded_finding_is_found_by_its_words() -> None:
    """Were one left out, words alone could not miss it."""
    count = same_paper.compare(written(EXAM_FILE), ELSEWHERE).sentence.split()[3:6]
    assert count[0] == count[2]
    assert int(count[0]) > 15


def test_another_versions_paper_is_compared_by_words(monkeypatch: pytest.MonkeyPatch) -> None:
    paper, swapped = written(EXAM_FILE, carries=carried()), written(EXAM_FILE, OTHER_FILES["another finding"])
    monkeypatch.setattr(neuroform, "__version__", "9.9.9")
    assert same_paper.compare(paper, SETTINGS).by == "words"
    assert same_paper.compare(paper, SETTINGS).agrees
    assert same_paper.compare(swapped, SETTINGS).agrees is False


def _painted_words(paper: bytes) -> bytes:
    """Rewrite the first page's title as a program of other code would have."""
    out = BytesIO()
    with pikepdf.open(BytesIO(paper)) as document:
        page = document.pages[0]
        page.contents_add(b"q 0.9 g 51 20 20 2 re f Q")
        document.save(out)
    return out.getvalue()


def test_a_paper_of_the_same_version_but_other_code_is_compared_by_words(monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(program, "digest", lambda: "of another program")
        older = _painted_words(written(EXAM_FILE, carries=carried()))
        swapped = written(EXAM_FILE, OTHER_FILES["another finding"], carries=carried())
    found = same_paper.compare(older, ELSEWHERE)
    assert (found.agrees, found.by) == (True, "words")
    assert found.sentence.endswith("another version or another clinic wrote it.")
    assert same_paper.compare(swapped, ELSEWHERE).agrees is False


def test_pages_that_come_out_the_same_are_the_same_whatever_code_wrote_them(monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(program, "digest", lambda: "of another program")
        paper = written(EXAM_FILE, carries=carried())
    assert same_paper.compare(paper, ELSEWHERE).by == "pages"


def test_the_programs_digest_tells_its_code_its_templates_and_its_limits(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = program.digest()
    assert len(told) == 64
    for changed_file in ("notes/layout.py", "templates/papers.toml", "resources/reference"):
        listed = list(program._files())
        name, file = next(each for each in listed if each[0].startswith(changed_file))
        other = tmp_path / file.name
        other.write_bytes(file.read_bytes() + b"\n")
        exchanged = [(each, other if each == name else where) for each, where in listed]
        with monkeypatch.context() as patch:
            patch.setattr(program, "_files", lambda exchanged=exchanged: exchanged)
            program.digest.cache_clear()
            assert program.digest() != told, name
    program.digest.cache_clear()
    assert not any(name.startswith(("desktop/", "cli/")) for name, _file in program._files())


@pytest.mark.parametrize("way", ["pages", "words"])
@pytest.mark.parametrize("other", OTHER_FILES)
def test_an_exam_that_was_swapped_does_not_agree(other: str, way: str) -> None:
    """H13: whose it is comes first, then what was found."""
    paper = written(EXAM_FILE, OTHER_FILES[other], carries=carried() if way == "pages" else None)
    found = same_paper.compare(paper, ELSEWHERE)
    assert found.agrees is False
    assert found.sentence.endswith(". Don't rely on it.")
    persons = {
        "another name": "Ferrand, Lotte, born 14 Jun 1967",
        "another day of birth": "Ferrandis, Lotte, born 15 Jun 1967",
        "another number": "Ferrandis, Lotte, born 14 Jun 1967",
    }
    if other in persons:
        assert found.sentence.startswith(
            f"The examination in this paper is of {persons[other]}, whom page 1 doesn't name."
        )
    else:
        assert found.by == way
        assert ("doesn't make these pages: page 1 says “" in found.sentence) == (way == "pages")
        assert ("has findings that its pages don't tell: Ankle reflex (" in found.sentence) == (way == "words")


def _painted(paper: bytes, operators: bytes) -> bytes:
    out = BytesIO()
    with pikepdf.open(BytesIO(paper)) as document:
        document.pages[0].contents_add(operators)
        document.save(out)
    return out.getvalue()


def test_a_page_that_only_looks_different_does_not_agree() -> None:
    paper = _painted(written(EXAM_FILE, carries=carried()), b"q 1 1 1 rg 300 400 60 30 re f Q")
    found = same_paper.compare(paper, SETTINGS)
    assert found.agrees is False
    assert found.sentence == (
        "The examination in this paper doesn't make these pages: page 1 looks different. Don't rely on it."
    )


def test_a_page_more_does_not_agree() -> None:
    out = BytesIO()
    with pikepdf.open(BytesIO(written(EXAM_FILE, carries=carried()))) as document:
        document.pages.append(document.pages[0])
        document.save(out)
    found = same_paper.compare(out.getvalue(), SETTINGS)
    assert found.agrees is False
    assert "pages instead of" in found.sentence


def test_an_exam_exchanged_after_signing_is_told(signed_note: bytes) -> None:
    assert same_paper.compare(signed_note, SETTINGS).agrees
    changed_after = _with_another_exam(signed_note)
    found = same_paper.compare(changed_after, SETTINGS)
    assert found.agrees is False
    assert found.sentence == ("The examination in this paper was exchanged after it was signed. Don't rely on it.")


@pytest.fixture(scope="module")
def signed_note(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """Give a note signed by an invented examiner."""
    from neuroform.signing import certificates, fields, sign

    demo = certificates.make_demo_authority(
        tmp_path_factory.mktemp("authority"),
        names={"author": "Noor Castellan"},
        passphrase="for show",
        clock=lambda: AT,
    )
    signer = certificates.load(demo.certificates["author"].read_bytes(), passphrase="for show")
    paper = fields.add(
        written(EXAM_FILE, carries=carried()),
        author=fields.Place(page=-1, box=(100, 100, 286, 164)),
        supervisor=fields.Place(page=-1, box=(300, 100, 486, 164)),
    )
    return sign.sign(paper, signer=signer, role="author", clock=lambda: AT)


def _with_another_exam(paper: bytes) -> bytes:
    from pyhanko.pdf_utils import generic
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

    writer = IncrementalPdfFileWriter(BytesIO(paper))
    reference = writer.root["/AF"][0]["/EF"].raw_get("/F")
    stream = generic.StreamObject(
        {generic.pdf_name("/Type"): generic.pdf_name("/EmbeddedFile")}, stream_data=OTHER_FILES["another finding"]
    )
    writer.objects[(0, reference.idnum)] = stream
    out = BytesIO()
    write: Callable[[BytesIO], None] = writer.write
    write(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("attached", "why"),
    [
        (b"{}", "can't be told"),
        (b"not an exam", "can't be told"),
        (json.dumps({**EXAM, "format": "neuroform-exam/99"}).encode(), "can't be told"),
    ],
)
def test_an_exam_that_cannot_be_read_leaves_it_open(attached: bytes, why: str) -> None:
    found = same_paper.compare(written(EXAM_FILE, attached), SETTINGS)
    assert found.agrees is None
    assert why in found.sentence


def test_a_paper_without_an_exam_or_no_paper_at_all_leaves_it_open() -> None:
    exam = files.read(EXAM_FILE)
    bare = recipe.again(exam, carried(), SETTINGS).pages()
    for paper in (bare, b"", b"a letter", b"%PDF-1.7\nbroken"):
        found = same_paper.compare(paper, SETTINGS)
        assert found.agrees is None
        assert found.sentence.startswith("Whether the pages match the examination in this paper can't be told: ")


@pytest.mark.parametrize(
    "broken",
    [
        b"",
        b"[]",
        b"{",
        b'{"format": "neuroform-paper/1"}',
        b'{"format": "neuroform-paper/1", "kind": "spell"}',
        b"\xff",
    ],
)
def test_a_recipe_that_cannot_be_read_leaves_it_open(broken: bytes) -> None:
    found = same_paper.compare(written(EXAM_FILE, recipe_file=broken), SETTINGS)
    assert found.agrees is None
    assert found.sentence.endswith("can't be told: what it says of how it was written can't be read.")


def test_a_recipe_comes_back_as_it_was_written() -> None:
    settings = Settings(clinic_name="Żabia", letterhead=("one", "two"))
    way = recipe.guessed("note", files.read(EXAM_FILE), settings)
    assert recipe.read(recipe.written(way)) == way


def test_comparing_reads_no_name_from_a_script_it_cannot_read_back() -> None:
    """A name drawn as outlines can't be read back: birth and number are asked for, and the picture is compared."""
    arabic = changed("patient", "family_name", to="حداد")
    paper = written(arabic, carries=carried())
    assert same_paper.compare(paper, SETTINGS).agrees
    other = written(arabic, changed("patient", "family_name", to="خوري"), carries=carried())
    assert same_paper.compare(other, SETTINGS).agrees is False
