"""An update added to a signed note, as any PDF program can, is named in words and never accepted."""

from collections.abc import Callable
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any

import pytest
from pyhanko.pdf_utils import generic
from pyhanko.pdf_utils.generic import pdf_name
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign import fields as sig_fields

from neuroform import shipped
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
    data = reference.get_object().data.replace(b"Noor Castellan", b"Nora Castellan")
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


def retell_figure(writer: IncrementalPdfFileWriter) -> None:
    """Change what those who don't see a figure are told of it."""
    waiting = [writer.root["/StructTreeRoot"]["/K"]]
    while waiting:
        each = waiting.pop()
        if isinstance(each, generic.ArrayObject):
            waiting += [each[number] for number in range(len(each))]
        elif isinstance(each, generic.DictionaryObject):
            if "/Alt" in each:
                each[pdf_name("/Alt")] = generic.TextStringObject("no sway with eyes open or closed")
                writer.update_container(each)
                return
            if "/K" in each:
                waiting.append(each["/K"])
    pytest.fail("the note has no figure")


def exchange_face(writer: IncrementalPdfFileWriter) -> None:
    """Let the letters of page 1 be drawn with another face."""
    fonts = _page(writer, 0)["/Resources"]["/Font"]
    first, second, *_more = sorted(fonts)
    fonts[first], fonts[second] = fonts.raw_get(second), fonts.raw_get(first)
    writer.update_container(fonts)


def link_away(writer: IncrementalPdfFileWriter) -> None:
    link = generic.DictionaryObject(
        {
            pdf_name("/Type"): pdf_name("/Annot"),
            pdf_name("/Subtype"): pdf_name("/Link"),
            pdf_name("/Rect"): generic.ArrayObject([generic.NumberObject(each) for each in (0, 0, 595, 842)]),
            pdf_name("/A"): generic.DictionaryObject(
                {pdf_name("/S"): pdf_name("/URI"), pdf_name("/URI"): generic.TextStringObject("https://example.org/")}
            ),
        }
    )
    writer.register_annotation(writer.root["/Pages"]["/Kids"].raw_get(1), writer.add_object(link))


def another_language(writer: IncrementalPdfFileWriter) -> None:
    writer.root[pdf_name("/Lang")] = generic.TextStringObject("de-DE")
    writer.update_root()


def attach_another(writer: IncrementalPdfFileWriter) -> None:
    embedded = generic.StreamObject({pdf_name("/Type"): pdf_name("/EmbeddedFile")}, stream_data=b"a letter")
    specification = generic.DictionaryObject(
        {
            pdf_name("/Type"): pdf_name("/Filespec"),
            pdf_name("/F"): generic.TextStringObject("letter.txt"),
            pdf_name("/UF"): generic.TextStringObject("letter.txt"),
            pdf_name("/EF"): generic.DictionaryObject({pdf_name("/F"): writer.add_object(embedded)}),
        }
    )
    associated = writer.root["/AF"]
    associated.append(writer.add_object(specification))
    writer.update_container(associated)


def forget_certification(writer: IncrementalPdfFileWriter) -> None:
    del writer.root["/Perms"]
    writer.update_root()


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
    pytest.param(
        drop_attachment,
        "the attachment exam.json was taken away (revision {last}); "
        "the attachment paper.json was taken away (revision {last})",
        id="the exam removed",
    ),
    pytest.param(run_at_opening, "the document's entry OpenAction was changed (revision {last})", id="a script"),
    pytest.param(
        redraw_stamp, "the field Author, signed already, was changed (revision {last})", id="another stamp drawn"
    ),
    pytest.param(
        retell_figure, "the document's entry StructTreeRoot was changed (revision {last})", id="a figure told otherwise"
    ),
    pytest.param(
        exchange_face,
        "page 1 looks different (revision {last}); page 2 looks different (revision {last})",
        id="a face exchanged",
    ),
    pytest.param(link_away, "an annotation was added to page 2 (revision {last})", id="a link"),
    pytest.param(another_language, "the document's entry Lang was changed (revision {last})", id="another language"),
    pytest.param(attach_another, "the attachment letter.txt was added (revision {last})", id="a second attachment"),
    pytest.param(forget_certification, "something was added that its signatures don't allow", id="certification gone"),
    pytest.param(hide_object, "something was added that its signatures don't allow", id="an object shown nowhere"),
    pytest.param(write_page_again, "something was added that its signatures don't allow", id="a page written again"),
]


@pytest.mark.parametrize(("change", "words"), UPDATES)
def test_an_update_after_the_last_signature_is_named(
    change: Change, words: str, countersigned_note: bytes, authority: bytes, revise: Reviser
) -> None:
    found = verify.verify(revise(countersigned_note, change), trust=[authority])
    said = words.format(last=5)
    assert not found.valid
    assert [each.intact for each in found.signatures] == [True, True]
    assert all("; ".join(each.changed_after) == said for each in found.signatures)
    assert found.sentence == f"This paper was changed after it was signed: {said}. Don't rely on it."
    assert found.exam_sha256 == sha256(shipped.read_bytes("resources", "demonstration", "exam.json")).hexdigest()


@pytest.mark.parametrize(("change", "words"), UPDATES)
def test_an_update_that_the_supervisor_signed_over_counts_against_the_author(
    change: Change,
    words: str,
    signed_note: bytes,
    supervisor: SigningCertificate,
    authority: bytes,
    revise: Reviser,
    clock: Callable[[], datetime],
) -> None:
    changed = revise(signed_note, change)
    with pytest.raises(SigningError, match="can't be signed"):
        sign.sign(changed, signer=supervisor, role="supervisor", clock=clock)
    over = _signed_unseen(changed, supervisor)
    found = verify.verify(over, trust=[authority])
    assert not found.valid
    author, other = found.signatures
    assert author.intact
    assert set(words.format(last=4).split("; ")) <= set(author.changed_after)
    assert other.intact
    assert other.changed_after == ()


def unlock(writer: IncrementalPdfFileWriter) -> None:
    field = _waiting(writer)
    del field["/Lock"]
    writer.update_container(field)


def move_waiting_field(writer: IncrementalPdfFileWriter) -> None:
    field = _waiting(writer)
    field[pdf_name("/Rect")] = generic.ArrayObject([generic.NumberObject(each) for each in (0, 0, 595, 842)])
    writer.update_container(field)


def draw_waiting_field_signed(writer: IncrementalPdfFileWriter) -> None:
    author = next(iter(sig_fields.enumerate_sig_fields(writer, with_name="Author")))[2].get_object()
    field = _waiting(writer)
    field[pdf_name("/AP")] = author["/AP"]
    writer.update_container(field)


def take_waiting_field_away(writer: IncrementalPdfFileWriter) -> None:
    form = writer.root["/AcroForm"]
    form["/Fields"].pop()
    writer.update_container(form["/Fields"])
    writer.update_container(form)


def _waiting(writer: IncrementalPdfFileWriter) -> Any:
    return next(iter(sig_fields.enumerate_sig_fields(writer, with_name="Supervisor")))[2].get_object()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        pytest.param(unlock, "the field Supervisor was changed", id="its lock taken away"),
        pytest.param(move_waiting_field, "the field Supervisor was changed", id="laid over the page"),
        pytest.param(draw_waiting_field_signed, "the field Supervisor was changed", id="drawn as if signed"),
        pytest.param(take_waiting_field_away, "the field Supervisor was taken away", id="taken away"),
    ],
)
def test_the_place_that_waits_for_the_supervisor_can_only_be_signed(
    change: Change, words: str, signed_note: bytes, authority: bytes, revise: Reviser
) -> None:
    found = verify.verify(revise(signed_note, change), trust=[authority])
    assert not found.valid
    told = f"This paper was changed after it was signed: {words} (revision 4). Don't rely on it."
    assert found.sentence == told


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


def test_an_update_to_a_paper_signed_once_is_named(signed_note: bytes, authority: bytes, revise: Reviser) -> None:
    found = verify.verify(revise(signed_note, paint_over), trust=[authority])
    assert not found.valid
    assert found.sentence == (
        "This paper was changed after it was signed: page 1 was covered over (revision 4). Don't rely on it."
    )
