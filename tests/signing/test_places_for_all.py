"""The places for signatures are part of what a paper says aloud, before and after they are signed.

By ISO 14289-1 (PDF/UA-1), 5 and 7.18, and the PDF Association's Matterhorn Protocol 1.1, checkpoints 06 and 28, both
from memory.
"""

from io import BytesIO
from typing import Any

import pikepdf
import pytest

PAPERS = ("note", "signed_note", "countersigned_note")


@pytest.fixture(params=PAPERS)
def paper(request: pytest.FixtureRequest) -> Any:
    """Give the note, opened, before its first signature and after each."""
    with pikepdf.open(BytesIO(request.getfixturevalue(request.param))) as document:
        yield document


def owner(document: Any, number: int) -> Any:
    """Look up whose element a number of the parent tree names."""
    numbers = list(document.Root.StructTreeRoot.ParentTree.Nums)
    return dict(zip(map(int, numbers[::2]), numbers[1::2], strict=True))[number]


def test_each_place_belongs_to_a_form_element_that_leads_back_to_it(paper: Any) -> None:
    places = list(paper.Root.AcroForm.Fields)
    assert [str(each.T) for each in places] == ["Author", "Supervisor"]
    assert [str(each.TU) for each in places] == ["Signature", "Countersignature"]
    for each in places:
        element = owner(paper, int(each.StructParent))
        assert element.S == "/Form"
        assert str(element.Alt) == str(each.TU)
        assert element.K.Type == "/OBJR"
        assert element.K.Obj.objgen == each.objgen
        assert element.Pg.objgen == each.P.objgen
        assert element.objgen in {kid.objgen for kid in element.P.K}


def test_the_places_are_read_behind_their_heading(paper: Any) -> None:
    document = paper.Root.StructTreeRoot.K[0]
    tags = [str(each.S) for each in document.K]
    first = tags.index("/Form")
    assert tags[first - 1 : first + 2] == ["/H2", "/Form", "/Form"]


def test_numbers_are_used_once_and_the_next_is_free(paper: Any) -> None:
    numbers = [int(each) for each in list(paper.Root.StructTreeRoot.ParentTree.Nums)[::2]]
    assert numbers == list(range(len(paper.pages) + 2))
    assert int(paper.Root.StructTreeRoot.ParentTreeNextKey) == len(numbers)


def test_every_page_is_walked_through_in_the_order_of_its_structure(paper: Any) -> None:
    assert all(page.obj.Tabs == "/S" for page in paper.pages)


def test_the_metadata_declare_both_standards(paper: Any) -> None:
    packet = paper.Root.Metadata.read_bytes().decode()
    assert "<pdfuaid:part>1</pdfuaid:part>" in packet
    # ISO 19005-3, 6.6.2.3: what PDF/A doesn't name itself has to be described.
    assert "<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>" in packet
    assert paper.open_metadata().pdfa_status == "3B"
    assert paper.open_metadata()["dc:title"].startswith("Legs and balance examination")


def test_pages_without_tags_are_not_called_accessible(unsigned: bytes) -> None:
    with pikepdf.open(BytesIO(unsigned)) as document:
        assert "pdfuaid" not in document.Root.Metadata.read_bytes().decode()
        assert all("/StructParent" not in each for each in document.Root.AcroForm.Fields)
