"""Whatever is done to a signed paper, verifying never calls it valid, and says what was done where it can."""

import random
import re
from collections.abc import Callable
from datetime import UTC, datetime
from io import BytesIO
from typing import Any

import pikepdf
import pytest
from pyhanko.pdf_utils import generic
from pyhanko.pdf_utils.generic import pdf_name
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign import fields as sig_fields

from neuroform.errors import SigningError
from neuroform.signing import sign, verify, writing
from neuroform.signing.certificates import SigningCertificate

Change = Callable[[IncrementalPdfFileWriter], None]
Reviser = Callable[[bytes, Change], bytes]


def _page(writer: IncrementalPdfFileWriter, index: int) -> Any:
    return writer.root["/Pages"]["/Kids"][index]


def paint_over(writer: IncrementalPdfFileWriter) -> None:
    painted = generic.StreamObject(stream_data=b"q 1 1 1 rg 0 0 600 850 re f Q")
    writer.add_stream_to_page(0, writer.add_object(painted))


def rewrite_page(writer: IncrementalPdfFileWriter) -> None:
    page = _page(writer, 1)
    page[pdf_name("/Contents")] = writer.add_object(generic.StreamObject(stream_data=b"q Q"))
    writer.update_container(page)


def turn_page(writer: IncrementalPdfFileWriter) -> None:
    page = _page(writer, 0)
    page[pdf_name("/Rotate")] = generic.NumberObject(180)
    writer.update_container(page)


def write_into_page_stream(writer: IncrementalPdfFileWriter) -> None:
    contents = _page(writer, 0).raw_get("/Contents")
    stream = generic.StreamObject(stream_data=b"q Q")
    writer.objects[(0, contents.idnum)] = stream


def annotate(writer: IncrementalPdfFileWriter) -> None:
    note = generic.DictionaryObject(
        {
            pdf_name("/Type"): pdf_name("/Annot"),
            pdf_name("/Subtype"): pdf_name("/FreeText"),
            pdf_name("/Rect"): generic.ArrayObject([generic.NumberObject(each) for each in (100, 600, 400, 700)]),
            pdf_name("/Contents"): generic.TextStringObject("both legs normal"),
            pdf_name("/F"): generic.NumberObject(4),
        }
    )
    writer.register_annotation(writer.root["/Pages"]["/Kids"].raw_get(0), writer.add_object(note))


def rename(writer: IncrementalPdfFileWriter) -> None:
    information = writer.trailer["/Info"]
    information[pdf_name("/Title")] = generic.TextStringObject("Another paper")
    writer.update_container(information)


def rewrite_metadata(writer: IncrementalPdfFileWriter) -> None:
    reference = writer.root.raw_get("/Metadata")
    data = reference.get_object().data.replace(b"Dr Ilya Brandt", b"Dr Ilse Rahman")
    writer.objects[(0, reference.idnum)] = generic.StreamObject(
        {pdf_name("/Type"): pdf_name("/Metadata"), pdf_name("/Subtype"): pdf_name("/XML")}, stream_data=data
    )


def add_text_field(writer: IncrementalPdfFileWriter) -> None:
    field = generic.DictionaryObject(
        {
            pdf_name("/FT"): pdf_name("/Tx"),
            pdf_name("/T"): generic.TextStringObject("Remark"),
            pdf_name("/V"): generic.TextStringObject("normal"),
        }
    )
    form = writer.root["/AcroForm"]
    form["/Fields"].append(writer.add_object(field))
    writer.update_container(form["/Fields"])
    writer.update_container(form)


def add_signature_field(writer: IncrementalPdfFileWriter) -> None:
    sig_fields.append_signature_field(writer, sig_fields.SigFieldSpec("Third"))


def swap_attachment(writer: IncrementalPdfFileWriter) -> None:
    specification = writer.root["/AF"][0]
    reference = specification["/EF"].raw_get("/F")
    writer.objects[(0, reference.idnum)] = generic.StreamObject(
        {pdf_name("/Type"): pdf_name("/EmbeddedFile"), pdf_name("/Subtype"): pdf_name("/application/json")},
        stream_data=b'{"format": "neuroform-exam/1", "legs": "normal"}',
    )


def drop_attachment(writer: IncrementalPdfFileWriter) -> None:
    del writer.root["/AF"]
    del writer.root["/Names"]
    writer.update_root()


def run_at_opening(writer: IncrementalPdfFileWriter) -> None:
    writer.root[pdf_name("/OpenAction")] = generic.DictionaryObject(
        {pdf_name("/S"): pdf_name("/JavaScript"), pdf_name("/JS"): generic.TextStringObject("app.alert('changed')")}
    )
    writer.update_root()


def hide_object(writer: IncrementalPdfFileWriter) -> None:
    writer.add_object(generic.TextStringObject("shown nowhere"))


def write_page_again(writer: IncrementalPdfFileWriter) -> None:
    writer.update_container(_page(writer, 0))


def redraw_stamp(writer: IncrementalPdfFileWriter) -> None:
    field = next(iter(sig_fields.enumerate_sig_fields(writer, with_name="Author")))[2].get_object()
    drawn = generic.StreamObject(
        {
            pdf_name("/Type"): pdf_name("/XObject"),
            pdf_name("/Subtype"): pdf_name("/Form"),
            pdf_name("/BBox"): generic.ArrayObject([generic.NumberObject(each) for each in (0, 0, 186, 64)]),
        },
        stream_data=b"0 0 186 64 re f",
    )
    field[pdf_name("/AP")] = generic.DictionaryObject({pdf_name("/N"): writer.add_object(drawn)})
    writer.update_container(field)


def add_page(writer: IncrementalPdfFileWriter) -> None:
    tree = writer.root["/Pages"]
    page = generic.DictionaryObject(
        {
            pdf_name("/Type"): pdf_name("/Page"),
            pdf_name("/MediaBox"): generic.ArrayObject([generic.NumberObject(each) for each in (0, 0, 595, 842)]),
            pdf_name("/Resources"): generic.DictionaryObject(),
            pdf_name("/Parent"): writer.root.raw_get("/Pages"),
        }
    )
    tree["/Kids"].append(writer.add_object(page))
    tree[pdf_name("/Count")] = generic.NumberObject(3)
    writer.update_container(tree["/Kids"])
    writer.update_container(tree)


UPDATES = [
    pytest.param(paint_over, "page 1 was covered over (revision {last})", id="a page painted over"),
    pytest.param(rewrite_page, "page 2 was rewritten (revision {last})", id="a page's contents replaced"),
    pytest.param(write_into_page_stream, "page 1 was rewritten (revision {last})", id="a page's stream overwritten"),
    pytest.param(turn_page, "page 1 looks different (revision {last})", id="a page turned"),
    pytest.param(add_page, "page 3 was added (revision {last})", id="a page added"),
    pytest.param(annotate, "an annotation was added to page 1 (revision {last})", id="an annotation"),
    pytest.param(rename, "the document information was changed (revision {last})", id="the title changed"),
    pytest.param(rewrite_metadata, "the document information was changed (revision {last})", id="metadata changed"),
    pytest.param(add_text_field, "the field Remark was added (revision {last})", id="a field added"),
    pytest.param(add_signature_field, "the field Third was added (revision {last})", id="a signature field added"),
    pytest.param(swap_attachment, "the attachment exam.json was exchanged (revision {last})", id="the exam swapped"),
    pytest.param(drop_attachment, "the attachment exam.json was taken away (revision {last})", id="the exam removed"),
    pytest.param(run_at_opening, "the document's entry OpenAction was changed (revision {last})", id="a script"),
    pytest.param(
        redraw_stamp, "the field Author, signed already, was changed (revision {last})", id="another stamp drawn"
    ),
    pytest.param(hide_object, "something was added that its signatures don't allow", id="an object shown nowhere"),
    pytest.param(write_page_again, "something was added that its signatures don't allow", id="a page written again"),
]


@pytest.mark.parametrize(("change", "words"), UPDATES)
def test_an_update_after_the_last_signature_is_named(
    change: Change, words: str, countersigned: bytes, authority: bytes, exam: bytes, revise: Reviser
) -> None:
    found = verify.verify(revise(countersigned, change), trust=[authority])
    said = words.format(last=5)
    assert not found.valid
    assert [each.intact for each in found.signatures] == [True, True]
    assert all(said in each.changed_after for each in found.signatures)
    assert found.sentence.startswith("This paper was changed after it was signed: ")
    assert said in found.sentence
    assert found.sentence.endswith("Don't rely on it.")
    assert found.exam_sha256 == verify.verify(countersigned, trust=[authority]).exam_sha256


@pytest.mark.parametrize(("change", "words"), UPDATES)
def test_an_update_that_the_supervisor_signed_over_counts_against_the_author(
    change: Change,
    words: str,
    signed: bytes,
    supervisor: SigningCertificate,
    authority: bytes,
    revise: Reviser,
    clock: Callable[[], datetime],
) -> None:
    changed = revise(signed, change)
    with pytest.raises(SigningError, match="can't be signed"):
        sign.sign(changed, signer=supervisor, role="supervisor", clock=clock)
    over = _signed_unseen(changed, supervisor)
    found = verify.verify(over, trust=[authority])
    assert not found.valid
    author, other = found.signatures
    assert author.intact
    assert words.format(last=4) in author.changed_after
    assert other.intact
    assert other.changed_after == ()


def _signed_unseen(pdf: bytes, certificate: SigningCertificate) -> bytes:
    """Countersign as a careless program would, without looking at what was changed."""
    return writing.sign(
        pdf,
        certificate=certificate,
        role="supervisor",
        at=datetime(2026, 11, 20, 11, 0, tzinfo=UTC),
        stamp=sign.words(certificate, role="supervisor", at=datetime(2026, 11, 20, 11, 0, tzinfo=UTC)),
        reason=None,
        location=None,
    )


def test_an_update_to_a_paper_signed_once_is_named(signed: bytes, authority: bytes, revise: Reviser) -> None:
    found = verify.verify(revise(signed, paint_over), trust=[authority])
    assert not found.valid
    assert found.sentence == (
        "This paper was changed after it was signed: page 1 was covered over (revision 4). Don't rely on it."
    )


@pytest.mark.parametrize(
    "tail", [b" ", b"\n", b"\n\n%%EOF\n", b"% a remark\n", b"\x00", bytes(1000), b"5 0 obj\n<<>>\nendobj\n"]
)
def test_bytes_behind_the_end_of_the_file_are_not_accepted(tail: bytes, countersigned: bytes, authority: bytes) -> None:
    found = verify.verify(countersigned + tail, trust=[authority])
    assert not found.valid
    assert found.sentence.startswith("This paper was changed after it was signed: ")
    assert [each.intact for each in found.signatures] == [True, True]
    assert all(each.changed_after and each.problem for each in found.signatures)


@pytest.mark.parametrize("head", [b" ", b"\n", b"%!PS-Adobe-3.0\n"])
def test_bytes_before_the_head_of_the_file_are_not_accepted(
    head: bytes, countersigned: bytes, authority: bytes
) -> None:
    assert not verify.verify(head + countersigned, trust=[authority]).valid


def _third_signature(pdf: bytes, certificate: SigningCertificate) -> bytes:
    from pyhanko.sign import signers

    writer = writing.FiledWriter(BytesIO(pdf))
    metadata = signers.PdfSignatureMetadata(
        field_name="Third", subfilter=sig_fields.SigSeedSubFilter.PADES, md_algorithm="sha256"
    )
    out = signers.PdfSigner(
        metadata, signer=writing.KeySigner(certificate), new_field_spec=sig_fields.SigFieldSpec("Third")
    ).sign_pdf(writer)
    return bytes(out.getvalue())


@pytest.mark.parametrize("paper", ["signed", "countersigned"])
def test_a_signature_more_than_places_were_kept_for_is_not_accepted(
    paper: str, request: pytest.FixtureRequest, supervisor: SigningCertificate, authority: bytes
) -> None:
    found = verify.verify(_third_signature(request.getfixturevalue(paper), supervisor), trust=[authority])
    assert not found.valid
    assert found.signatures[-1].role == "other"
    assert any("the field Third was added" in words for words in found.signatures[0].changed_after)


def test_a_file_cut_back_to_its_first_signature_is_perfect_but_for_the_number_the_store_knows(
    signed: bytes, countersigned: bytes, authority: bytes
) -> None:
    cut = countersigned[: len(signed)]
    assert cut == signed
    assert verify.verify(cut, trust=[authority]).valid
    known = verify.verify(cut, trust=[authority], expected=2)
    assert not known.valid
    assert known.to_json()["expected_signatures"] == 2
    assert known.sentence == ("This paper was cut back: it had 2 signatures and shows 1. Don't rely on it.")
    assert verify.verify(countersigned, trust=[authority], expected=2).valid


def test_a_file_cut_anywhere_else_is_not_accepted(signed: bytes, countersigned: bytes, authority: bytes) -> None:
    chance = random.Random(1)
    for end in chance.sample(range(8, len(countersigned)), 60):
        assert not verify.verify(countersigned[:end], trust=[authority]).valid or end == len(signed)


def _digits(pdf: bytes) -> tuple[int, int]:
    """Return where the last signature's digits begin and end, brackets excluded."""
    found = list(re.finditer(rb"/Contents <([0-9A-F]+)>", pdf))[-1]
    return found.span(1)


def _object_header(pdf: bytes) -> int:
    return [found.start() for found in re.finditer(rb"\n\d+ 0 obj", pdf)][3] + 1


def _stream(pdf: bytes) -> int:
    return pdf.index(b"stream\n") + 30


def _cross_reference(pdf: bytes) -> int:
    return int(re.findall(rb"startxref\s+(\d+)", pdf)[-1]) + 2


def _byte_range(pdf: bytes) -> int:
    return [found.end() for found in re.finditer(rb"/ByteRange \[0 ", pdf)][-1]


def _last_of_padding(pdf: bytes) -> int:
    end = _digits(pdf)[1]
    assert pdf[end - 8 : end] == b"00000000"
    return end - 1


CLASSES: dict[str, Callable[[bytes], int]] = {
    "header": lambda _pdf: 1,
    "version": lambda _pdf: 7,
    "object": _object_header,
    "stream": _stream,
    "cross-reference": _cross_reference,
    "byte range": _byte_range,
    "first signature digit": lambda pdf: _digits(pdf)[0],
    "signature digit": lambda pdf: sum(_digits(pdf)) // 2,
    "padding": _last_of_padding,
    "opening bracket": lambda pdf: _digits(pdf)[0] - 1,
    "closing bracket": lambda pdf: _digits(pdf)[1],
    "trailer": lambda pdf: pdf.rindex(b"startxref"),
    "offset in the trailer": lambda pdf: pdf.rindex(b"startxref") + 11,
    "end mark": lambda pdf: pdf.rindex(b"%%EOF") + 3,
    "last byte": lambda pdf: len(pdf) - 1,
}


@pytest.mark.parametrize("paper", ["signed", "countersigned"])
@pytest.mark.parametrize("place", CLASSES)
def test_one_byte_of_every_class_is_enough(
    place: str, paper: str, request: pytest.FixtureRequest, authority: bytes
) -> None:
    pdf = request.getfixturevalue(paper)
    at = CLASSES[place](pdf)
    for value in {pdf[at] ^ 0x01, pdf[at] ^ 0x20, ord("0"), ord(" ")} - {pdf[at]}:
        changed = pdf[:at] + bytes((value,)) + pdf[at + 1 :]
        assert not verify.verify(changed, trust=[authority]).valid


def test_digits_in_small_letters_are_not_accepted(countersigned: bytes, authority: bytes) -> None:
    """No digest covers the digits: to a reader of hexadecimal, small letters are the same signature."""
    start, end = _digits(countersigned)
    changed = countersigned[:start] + countersigned[start:end].lower() + countersigned[end:]
    assert changed != countersigned
    found = verify.verify(changed, trust=[authority])
    assert not found.valid
    assert "digits were changed" in found.sentence


def test_space_among_the_digits_is_not_accepted(countersigned: bytes, authority: bytes) -> None:
    _start, end = _digits(countersigned)
    changed = countersigned[: end - 2] + b"\n\n" + countersigned[end:]
    assert not verify.verify(changed, trust=[authority]).valid


def test_no_random_byte_is_accepted(countersigned: bytes, signed: bytes, authority: bytes, flips: int) -> None:
    chance = random.Random(20261120)
    for number in range(flips):
        pdf = countersigned if number % 2 else signed
        at = chance.randrange(len(pdf))
        changed = pdf[:at] + bytes((pdf[at] ^ chance.randrange(1, 256),)) + pdf[at + 1 :]
        assert not verify.verify(changed, trust=[authority]).valid, (number, at)


def test_no_random_digit_of_the_last_signature_is_accepted(countersigned: bytes, authority: bytes, flips: int) -> None:
    """The digits lie outside every digest: each must be what the signer wrote."""
    chance = random.Random(4471)
    start, end = _digits(countersigned)
    for _number in range(flips):
        at = chance.randrange(start, end)
        other = chance.choice([each for each in b"0123456789ABCDEFabcdef" if each != countersigned[at]])
        changed = countersigned[:at] + bytes((other,)) + countersigned[at + 1 :]
        assert not verify.verify(changed, trust=[authority]).valid, at


def test_a_change_inside_is_told_by_whose_part_it_is_in(signed: bytes, countersigned: bytes, authority: bytes) -> None:
    early = verify.verify(_flipped(countersigned, _stream(countersigned)), trust=[authority])
    assert [each.intact for each in early.signatures] == [False, False]
    assert early.signatures[0].problem == (
        "What Dr Ilya Brandt (demonstration) signed is no longer the same (revisions 1 to 3 of the file)."
    )
    late = verify.verify(_flipped(countersigned, len(signed) + 40), trust=[authority])
    assert [each.intact for each in late.signatures] == [True, False]
    assert late.signatures[1].problem == (
        "What Dr Pia Lindqvist (demonstration) signed is no longer the same (revision 4 of the file)."
    )


def _flipped(pdf: bytes, at: int) -> bytes:
    return pdf[:at] + bytes((pdf[at] ^ 1,)) + pdf[at + 1 :]


def test_a_file_written_anew_is_not_accepted(countersigned: bytes, authority: bytes) -> None:
    out = BytesIO()
    with pikepdf.open(BytesIO(countersigned)) as document:
        document.save(out)
    assert not verify.verify(out.getvalue(), trust=[authority]).valid


def test_a_signature_taken_from_another_paper_is_not_accepted(
    signed: bytes, unsigned: bytes, examiner: SigningCertificate, authority: bytes, clock: Callable[[], datetime]
) -> None:
    other = sign.sign(unsigned, signer=examiner, role="author", clock=clock, reason="another paper")
    start, end = _digits(signed)
    other_start, other_end = _digits(other)
    moved = signed[:start] + other[other_start:other_end].ljust(end - start, b"0")[: end - start] + signed[end:]
    assert moved != signed
    assert not verify.verify(moved, trust=[authority]).valid
