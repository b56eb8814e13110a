"""Bytes changed, added or cut off a signed note, and signatures moved or added, are never accepted."""

import random
import re
from collections.abc import Callable
from datetime import datetime
from io import BytesIO

import pikepdf
import pytest
from pyhanko.sign import fields as sig_fields

from neuroform.signing import sign, verify, writing
from neuroform.signing.certificates import SigningCertificate


@pytest.mark.parametrize(
    "tail", [b" ", b"\n", b"\n\n%%EOF\n", b"% a remark\n", b"\x00", bytes(1000), b"5 0 obj\n<<>>\nendobj\n"]
)
def test_bytes_behind_the_end_of_the_file_are_not_accepted(
    tail: bytes, countersigned_note: bytes, authority: bytes
) -> None:
    found = verify.verify(countersigned_note + tail, trust=[authority])
    assert not found.valid
    told = ADDED if b"%%EOF" in tail else f"{CHANGED}: bytes were added at its end (revision 5). Don't rely on it."
    assert found.sentence == told
    assert [each.intact for each in found.signatures] == [True, True]
    assert all(each.changed_after and each.problem for each in found.signatures)


@pytest.mark.parametrize("head", [b" ", b"\n", b"%!PS-Adobe-3.0\n"])
def test_bytes_before_the_head_of_the_file_are_not_accepted(
    head: bytes, countersigned_note: bytes, authority: bytes
) -> None:
    found = verify.verify(head + countersigned_note, trust=[authority])
    assert (found.valid, found.sentence) == (False, DAMAGED)


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


@pytest.mark.parametrize("paper", ["signed_note", "countersigned_note"])
def test_a_signature_more_than_places_were_kept_for_is_not_accepted(
    paper: str, request: pytest.FixtureRequest, supervisor: SigningCertificate, authority: bytes
) -> None:
    found = verify.verify(_third_signature(request.getfixturevalue(paper), supervisor), trust=[authority])
    assert not found.valid
    assert found.signatures[-1].role == "other"
    number = 4 if paper == "signed_note" else 5
    assert found.signatures[0].changed_after == (f"the field Third was added (revision {number})",)
    assert found.sentence == f"{CHANGED}: the field Third was added (revision {number}). Don't rely on it."


def test_a_file_cut_back_to_its_first_signature_is_perfect_but_for_the_number_the_store_knows(
    signed_note: bytes, countersigned_note: bytes, authority: bytes
) -> None:
    cut = countersigned_note[: len(signed_note)]
    assert cut == signed_note
    assert verify.verify(cut, trust=[authority]).valid
    known = verify.verify(cut, trust=[authority], expected=2)
    assert not known.valid
    assert known.to_json()["expected_signatures"] == 2
    assert known.sentence == ("This paper was cut back: it had 2 signatures and shows 1. Don't rely on it.")
    assert verify.verify(countersigned_note, trust=[authority], expected=2).valid


def test_a_file_cut_anywhere_else_is_not_accepted(
    signed_note: bytes, countersigned_note: bytes, authority: bytes
) -> None:
    chance = random.Random(1)
    for end in chance.sample(range(8, len(countersigned_note)), 60):
        assert not verify.verify(countersigned_note[:end], trust=[authority]).valid or end == len(signed_note)


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


CHANGED = "This paper was changed after it was signed"
UNREADABLE = f"{CHANGED}: it can't be read as a PDF any more. Don't rely on it."
ADDED = f"{CHANGED}: something was added that can't be read. Don't rely on it."
DAMAGED = "This paper is damaged: it can't be read as a PDF any more. Don't rely on it."
AUTHOR, SUPERVISOR = "Dr Ilya Brandt (demonstration)", "Dr Pia Lindqvist (demonstration)"


def _no_longer_the_same(name: str, revisions: str) -> str:
    return f"{CHANGED}. What {name} signed is no longer the same ({revisions} of the file). Don't rely on it."


def _does_not_hold(name: str, why: str) -> str:
    return f"{CHANGED}. {name}'s signature doesn't hold: {why}. Don't rely on it."


DIGITS, NO_MORE = "the signature's own digits were changed", "it can't be read"
WRITTEN_ANEW = "This paper is damaged: something was added behind the last signature. Don't rely on it."
INSIDE = _no_longer_the_same(AUTHOR, "revisions 1 to 3")
# Where one bit of a byte is turned, and the whole answer: of the paper signed once, and of that signed twice.
CLASSES: dict[str, tuple[Callable[[bytes], int], str, str]] = {
    "header": (lambda _pdf: 1, UNREADABLE, UNREADABLE),
    "version": (lambda _pdf: 7, INSIDE, INSIDE),
    "object": (_object_header, INSIDE, INSIDE),
    "stream": (_stream, INSIDE, INSIDE),
    "cross-reference": (_cross_reference, UNREADABLE, ADDED),
    "byte range": (_byte_range, DAMAGED, _does_not_hold(SUPERVISOR, DIGITS)),
    "first signature digit": (lambda pdf: _digits(pdf)[0], UNREADABLE, ADDED),
    "padding": (_last_of_padding, _does_not_hold(AUTHOR, DIGITS), _does_not_hold(SUPERVISOR, DIGITS)),
    "opening bracket": (lambda pdf: _digits(pdf)[0] - 1, DAMAGED, ADDED),
    "closing bracket": (lambda pdf: _digits(pdf)[1], DAMAGED, ADDED),
    "trailer": (lambda pdf: pdf.rindex(b"startxref"), UNREADABLE, ADDED),
    "offset in the trailer": (lambda pdf: pdf.rindex(b"startxref") + 11, UNREADABLE, ADDED),
    "end mark": (lambda pdf: pdf.rindex(b"%%EOF") + 3, UNREADABLE, ADDED),
    "last byte": (
        lambda pdf: len(pdf) - 1,
        _no_longer_the_same(AUTHOR, "revisions 1 to 4"),
        _no_longer_the_same(SUPERVISOR, "revisions 4 to 5"),
    ),
}


@pytest.mark.parametrize("paper", ["signed_note", "countersigned_note"])
def test_a_signature_digit_in_the_midst_is_enough(paper: str, request: pytest.FixtureRequest, authority: bytes) -> None:
    """What stands in the midst of the digits differs from key to key, and with it what a turned bit makes of them."""
    pdf = request.getfixturevalue(paper)
    turned = verify.verify(_flipped(pdf, sum(_digits(pdf)) // 2), trust=[authority])
    name, role = (AUTHOR, "Author") if paper == "signed_note" else (SUPERVISOR, "Supervisor")
    answers = {UNREADABLE, ADDED, _does_not_hold(role, NO_MORE), _does_not_hold(name, DIGITS)}
    assert not turned.valid
    assert turned.sentence in answers


@pytest.mark.parametrize("paper", ["signed_note", "countersigned_note"])
@pytest.mark.parametrize("place", CLASSES)
def test_one_byte_of_every_class_is_enough_and_is_answered(
    place: str, paper: str, request: pytest.FixtureRequest, authority: bytes
) -> None:
    pdf = request.getfixturevalue(paper)
    where, once, twice = CLASSES[place]
    at = where(pdf)
    turned = verify.verify(_flipped(pdf, at), trust=[authority])
    assert (turned.valid, turned.sentence) == (False, once if paper == "signed_note" else twice)
    for value in {pdf[at] ^ 0x20, ord("0"), ord(" ")} - {pdf[at]}:
        found = verify.verify(pdf[:at] + bytes((value,)) + pdf[at + 1 :], trust=[authority])
        assert not found.valid
        # Never "as it was signed, but who signed it isn't certain".
        assert found.sentence.startswith((CHANGED, "This paper is damaged"))


def test_digits_in_small_letters_are_not_accepted(countersigned_note: bytes, authority: bytes) -> None:
    """No digest covers the digits: to a reader of hexadecimal, small letters are the same signature."""
    start, end = _digits(countersigned_note)
    changed = countersigned_note[:start] + countersigned_note[start:end].lower() + countersigned_note[end:]
    assert changed != countersigned_note
    found = verify.verify(changed, trust=[authority])
    assert (found.valid, found.sentence) == (False, _does_not_hold(SUPERVISOR, DIGITS))


def test_space_among_the_digits_is_not_accepted(countersigned_note: bytes, authority: bytes) -> None:
    _start, end = _digits(countersigned_note)
    changed = countersigned_note[: end - 2] + b"\n\n" + countersigned_note[end:]
    found = verify.verify(changed, trust=[authority])
    assert (found.valid, found.sentence) == (False, _does_not_hold(SUPERVISOR, DIGITS))


def test_no_random_byte_is_accepted(
    countersigned_note: bytes, signed_note: bytes, authority: bytes, flips: int
) -> None:
    chance = random.Random(20261120)
    for number in range(flips):
        pdf = countersigned_note if number % 2 else signed_note
        at = chance.randrange(len(pdf))
        changed = pdf[:at] + bytes((pdf[at] ^ chance.randrange(1, 256),)) + pdf[at + 1 :]
        found = verify.verify(changed, trust=[authority])
        assert not found.valid, (number, at)
        assert found.sentence.startswith((CHANGED, "This paper is damaged")), (number, at)


def test_no_random_digit_of_the_last_signature_is_accepted(
    signed_note: bytes, countersigned_note: bytes, authority: bytes, flips: int
) -> None:
    """The digits lie outside every digest: each must be what the signer wrote."""
    chance = random.Random(4471)
    for number in range(flips):
        # What was countersigned takes five times as long to judge.
        pdf = signed_note if number % 8 else countersigned_note
        at = chance.randrange(*_digits(pdf))
        other = chance.choice([each for each in b"0123456789ABCDEFabcdef" if each != pdf[at]])
        changed = pdf[:at] + bytes((other,)) + pdf[at + 1 :]
        assert not verify.verify(changed, trust=[authority]).valid, at


def test_a_change_inside_is_told_by_whose_part_it_is_in(
    signed_note: bytes, countersigned_note: bytes, authority: bytes
) -> None:
    early = verify.verify(_flipped(countersigned_note, _stream(countersigned_note)), trust=[authority])
    assert [each.intact for each in early.signatures] == [False, False]
    assert early.signatures[0].problem == (
        "What Dr Ilya Brandt (demonstration) signed is no longer the same (revisions 1 to 3 of the file)."
    )
    late = verify.verify(_flipped(countersigned_note, len(signed_note) + 40), trust=[authority])
    assert [each.intact for each in late.signatures] == [True, False]
    assert late.signatures[1].problem == (
        "What Dr Pia Lindqvist (demonstration) signed is no longer the same (revision 4 of the file)."
    )


def _flipped(pdf: bytes, at: int) -> bytes:
    return pdf[:at] + bytes((pdf[at] ^ 1,)) + pdf[at + 1 :]


def test_a_file_written_anew_is_not_accepted(countersigned_note: bytes, authority: bytes) -> None:
    out = BytesIO()
    with pikepdf.open(BytesIO(countersigned_note)) as document:
        document.save(out)
    found = verify.verify(out.getvalue(), trust=[authority])
    assert (found.valid, found.sentence) == (False, WRITTEN_ANEW)


def test_a_signature_taken_from_another_paper_is_not_accepted(
    signed_note: bytes, note: bytes, examiner: SigningCertificate, authority: bytes, clock: Callable[[], datetime]
) -> None:
    other = sign.sign(note, signer=examiner, role="author", clock=clock, reason="another paper")
    start, end = _digits(signed_note)
    other_start, other_end = _digits(other)
    moved = (
        signed_note[:start] + other[other_start:other_end].ljust(end - start, b"0")[: end - start] + signed_note[end:]
    )
    assert moved != signed_note
    found = verify.verify(moved, trust=[authority])
    assert (found.valid, found.sentence) == (False, _no_longer_the_same(AUTHOR, "revisions 1 to 3"))
