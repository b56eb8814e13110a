"""A paper for those who do not see it: a whole structure tree, every mark in it or declared decoration."""

import re
from io import BytesIO
from typing import Any

import pikepdf
import pytest

from neuroform.notes import papers
from neuroform.notes.content import KINDS, Basis, Earlier, Kind

EARLIER = Earlier(title="Legs and balance examination, note", when="12 November 2026, 09:30", sha256="9f" * 32)


@pytest.fixture(scope="module", params=KINDS)
def paper(request: pytest.FixtureRequest, basis: Basis) -> Any:
    """Give each kind of paper, opened."""
    kind: Kind = request.param
    with pikepdf.open(BytesIO(papers.make(kind, basis, earlier=EARLIER).pdf)) as document:
        yield document


@pytest.fixture(scope="module")
def note(basis: Basis) -> Any:
    """Give the note, opened."""
    with pikepdf.open(BytesIO(papers.make("note", basis).pdf)) as document:
        yield document


def elements(at: Any) -> list[Any]:
    """List the structure elements below one, in reading order."""
    found = []
    for kid in at.get("/K", []):
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            found += [kid, *elements(kid)]
    return found


def tags(document: Any) -> list[str]:
    """List the tags of a document in reading order."""
    return [str(each.S) for each in elements(document.Root.StructTreeRoot)]


def test_a_paper_names_its_language_and_title_and_says_it_is_tagged(paper: Any) -> None:
    # ISO 14289-1 (PDF/UA-1), 7.1 and 7.2, from memory.
    assert bool(paper.Root.MarkInfo.Marked)
    assert str(paper.Root.Lang) == "en-GB"
    assert bool(paper.Root.ViewerPreferences.DisplayDocTitle)
    assert "Okonjo-Vale" in str(paper.docinfo["/Title"])


def test_everything_on_a_page_is_content_or_declared_decoration(paper: Any) -> None:
    # ISO 14289-1, 7.1: all real content is tagged, the rest is an artifact. From memory.
    for page in paper.pages:
        depth = 0
        for instruction in pikepdf.parse_content_stream(page):
            name = str(instruction.operator)
            if name in {"BDC", "BMC"}:
                depth += 1
            elif name == "EMC":
                depth -= 1
            elif name in {"Tj", "TJ", "f", "f*", "B", "S", "s", "b"}:
                assert depth > 0, (name, instruction.operands)
        assert depth == 0


def test_every_stretch_of_content_has_one_owner(paper: Any) -> None:
    numbers = paper.Root.StructTreeRoot.ParentTree.Nums
    for index, page in enumerate(paper.pages):
        marked = re.findall(rb"/MCID (\d+)", page.Contents.read_bytes())
        assert int(page.obj.StructParents) == index
        assert [int(number) for number in marked] == list(range(len(marked)))
        owners = numbers[2 * index + 1]
        assert len(owners) == len(marked)
        assert all("/S" in owner for owner in owners)


def test_headings_begin_with_the_title_and_skip_no_level(paper: Any) -> None:
    headings = [tag for tag in tags(paper) if re.fullmatch(r"/H\d", tag)]
    assert headings[0] == "/H1"
    assert headings.count("/H1") == 1
    assert set(headings) <= {"/H1", "/H2"}


def test_every_figure_has_words(paper: Any) -> None:
    for each in elements(paper.Root.StructTreeRoot):
        if str(each.S) == "/Figure":
            assert str(each.Alt).strip()


def test_lists_and_tables_are_built_as_the_standard_says(paper: Any) -> None:
    # ISO 32000-1, 14.8.4.3: L holds LI, LI holds Lbl or LBody; Table holds TR, TR holds TH and TD.
    allowed = {"/L": {"/LI"}, "/LI": {"/Lbl", "/LBody"}, "/Table": {"/TR"}, "/TR": {"/TH", "/TD"}}
    for each in elements(paper.Root.StructTreeRoot):
        kids = {str(kid.S) for kid in each.get("/K", []) if isinstance(kid, pikepdf.Dictionary) and "/S" in kid}
        if str(each.S) in allowed:
            assert kids <= allowed[str(each.S)]


def test_every_row_of_a_table_has_as_many_cells(note: Any) -> None:
    for table in (each for each in elements(note.Root.StructTreeRoot) if str(each.S) == "/Table"):
        widths = {sum(int(cell.get("/A", {}).get("/ColSpan", 1)) for cell in row.K) for row in table.K}
        assert len(widths) == 1


def test_the_note_s_findings_are_a_table_with_heads(note: Any) -> None:
    scopes = [
        str(each.A.Scope) for each in elements(note.Root.StructTreeRoot) if str(each.S) == "/TH" and "/Scope" in each.A
    ]
    assert scopes.count("/Column") == 2
    assert scopes.count("/Row") > 10


def test_the_summary_s_drawings_tell_what_they_show(note: Any) -> None:
    told = [str(each.Alt) for each in elements(note.Root.StructTreeRoot) if str(each.S) == "/Figure"]
    assert "marked sway, backward; stepped at 12\u202fs" in told
    assert any("Pinprick reduced or lost up to the mid-calf on the right" in words for words in told)
    assert any("51 of 52" in words or "answered or explained" in words for words in told)


def test_every_font_is_embedded(paper: Any) -> None:
    # ISO 19005-3 (PDF/A-3), 6.2.11.4: every font used is embedded. From memory.
    for page in paper.pages:
        fonts = page.Resources.Font
        for name in fonts:
            assert "/FontFile2" in fonts[name].FontDescriptor, str(fonts[name].BaseFont)


def test_no_page_keeps_an_empty_transition(paper: Any) -> None:
    assert all("/Trans" not in page.obj for page in paper.pages)
