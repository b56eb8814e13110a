"""Signing keeps its order, refuses in words, and draws what it signs."""

from collections.abc import Callable
from datetime import UTC, datetime
from io import BytesIO
from itertools import pairwise

import pikepdf
import pytest

from neuroform.errors import GlyphError, SigningError
from neuroform.signing import fields, layout, sign, stamp
from neuroform.signing.certificates import SigningCertificate

Clock = Callable[[], datetime]
SIGNED = datetime(2026, 11, 20, 9, 52, 10, tzinfo=UTC)


def test_a_paper_without_places_cannot_be_signed(finished: bytes, examiner: SigningCertificate, clock: Clock) -> None:
    with pytest.raises(SigningError, match=r"has no place for this signature\. Nothing was signed\."):
        sign.sign(finished, signer=examiner, role="author", clock=clock)


def test_the_supervisor_cannot_sign_first(unsigned: bytes, supervisor: SigningCertificate, clock: Clock) -> None:
    with pytest.raises(SigningError, match="The author hasn't signed this paper yet, and signs first"):
        sign.sign(unsigned, signer=supervisor, role="supervisor", clock=clock)


def test_nobody_signs_twice(
    signed: bytes, countersigned: bytes, examiner: SigningCertificate, supervisor: SigningCertificate, clock: Clock
) -> None:
    with pytest.raises(SigningError, match="The author has signed this paper already"):
        sign.sign(signed, signer=examiner, role="author", clock=clock)
    with pytest.raises(SigningError, match="countersigned already"):
        sign.sign(countersigned, signer=supervisor, role="supervisor", clock=clock)


def test_places_are_made_once(unsigned: bytes, signed: bytes) -> None:
    place = fields.Place(page=0, box=(50, 50, 236, 114))
    for pdf in (unsigned, signed):
        with pytest.raises(SigningError, match="places for signatures already"):
            fields.add(pdf, author=place, supervisor=place)


@pytest.mark.parametrize("data", [b"", b"a letter", b"%PDF-1.7\nbroken"])
def test_what_is_no_whole_pdf_is_not_signed(data: bytes, examiner: SigningCertificate, clock: Clock) -> None:
    with pytest.raises(SigningError):
        sign.sign(data, signer=examiner, role="author", clock=clock)


def test_a_paper_changed_since_is_not_countersigned(
    signed: bytes, supervisor: SigningCertificate, clock: Clock
) -> None:
    at = len(signed) // 2
    changed = signed[:at] + bytes((signed[at] ^ 1,)) + signed[at + 1 :]
    with pytest.raises(SigningError, match="Nothing was signed"):
        sign.sign(changed, signer=supervisor, role="supervisor", clock=clock)


def test_signing_adds_a_revision_and_touches_nothing_before_it(
    finished: bytes, unsigned: bytes, signed: bytes, countersigned: bytes
) -> None:
    papers = (finished, unsigned, signed, countersigned)
    for before, after in pairwise(papers):
        assert after.startswith(before)
    assert [len(layout.revision_ends(each)) for each in papers] == [1, 2, 3, 4]


def test_the_author_certifies_and_the_supervisor_locks(countersigned: bytes) -> None:
    """ISO 32000-1, 12.8.2: level 2 allows filling in forms, level 1 nothing; a lock names the fields."""
    with pikepdf.open(BytesIO(countersigned)) as document:
        author, supervisor = document.Root.AcroForm.Fields.as_list()
        (certified,) = author.V.Reference.as_list()
        (locked,) = supervisor.V.Reference.as_list()
        assert [str(author.T), str(supervisor.T)] == ["Author", "Supervisor"]
        assert certified.TransformMethod == pikepdf.Name.DocMDP
        assert certified.TransformParams.P == 2
        assert document.Root.Perms.DocMDP.objgen == author.V.objgen
        assert locked.TransformMethod == pikepdf.Name.FieldMDP
        assert locked.TransformParams.Action == pikepdf.Name.All
        assert supervisor.Lock.P == 1
        assert author.V.SubFilter == supervisor.V.SubFilter == pikepdf.Name("/ETSI.CAdES.detached")


def test_reason_and_location_stand_in_the_signature(
    unsigned: bytes, examiner: SigningCertificate, clock: Clock
) -> None:
    pdf = sign.sign(unsigned, signer=examiner, role="author", clock=clock, reason="examined", location="Ward 4")
    with pikepdf.open(BytesIO(pdf)) as document:
        value = document.Root.AcroForm.Fields[0].V
        assert [str(value.Reason), str(value.Location)] == ["examined", "Ward 4"]
        assert value.M == "D:20261120105210+01'00'"


def test_a_clock_without_its_zone_is_a_bug(unsigned: bytes, examiner: SigningCertificate) -> None:
    with pytest.raises(ValueError, match="zone"):
        sign.sign(unsigned, signer=examiner, role="author", clock=lambda: SIGNED.replace(tzinfo=None))


@pytest.mark.parametrize("name", ["李小龙", "Dr \N{ZERO WIDTH JOINER}", "Dr \x07 Bell"])
def test_a_name_that_cannot_be_drawn_is_refused_by_its_character(
    name: str, unsigned: bytes, examiner: SigningCertificate, clock: Clock
) -> None:
    drawn = stamp.Stamp(caption="Signed", name=name)
    with pytest.raises(GlyphError) as caught:
        sign.sign(unsigned, signer=examiner, role="author", clock=clock, stamp=drawn)
    assert caught.value.character in name


@pytest.mark.parametrize("name", ["Zażółć Gęślą", "Ελένη Παππά", "Ольга Иванова", "Nguyễn Thị Hòa", "N" * 60])
def test_names_in_the_scripts_of_the_typeface_are_drawn(name: str) -> None:
    page = stamp.draw(stamp.Stamp(caption="Signed", name=name, lines=["20 Nov 2026, 10:52:10"]), width=186, height=64)
    with pikepdf.open(BytesIO(page)) as document:
        assert len(document.pages) == 1
        kinds = {str(font.Subtype) for font in document.pages[0].Resources.Font.as_dict().values()}
        assert kinds == {"/TrueType"}


def test_the_moment_on_paper_is_the_moment_signed(examiner: SigningCertificate) -> None:
    at = datetime(2026, 3, 3, 8, 5, 9, tzinfo=UTC)
    assert list(sign.words(examiner, role="author", at=at, reason="examined").lines) == [
        "3 Mar 2026, 08:05:09",
        "examined",
        "electronic signature, contained in this file",
    ]
