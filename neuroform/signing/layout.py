"""Where revisions and signatures lie in a signed file: plain byte arithmetic, no library trusted for it."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from neuroform.errors import SigningError
from neuroform.language import N_, _

_BYTE_RANGE = re.compile(rb"/ByteRange\s*\[\s*(\d{1,10})\s+(\d{1,10})\s+(\d{1,10})\s+(\d{1,10})\s*\]")
_END = re.compile(rb"startxref\s+\d+\s+%%EOF(?:\r\n|\r|\n)?")
_MARKS = (b"%PDF-", b"startxref", b"%%EOF", b" obj")


@dataclass(frozen=True, kw_only=True)
class Span:
    """The bytes one signature covers: all from 0 to `end`, but for its own digits."""

    gap_start: int
    """Where the signature's digits begin, at the opening bracket."""
    gap_end: int
    """Where they end, behind the closing bracket."""
    end: int
    """Where the signed part of the file ends."""


def require_pdf(data: bytes) -> None:
    """Raise SigningError unless `data` is a PDF, whole or damaged.

    A damaged header alone doesn't make it something else: whoever changed it still gets the answer "not valid".
    """
    if not any(mark in data for mark in _MARKS):
        raise SigningError(_(N_("This file isn't a PDF.")), _(N_("Choose a paper that was saved as PDF.")))


def span(byte_range: tuple[int, ...], size: int) -> Span | None:
    """Return what a byte range covers, or None unless it starts at 0 and leaves out exactly one stretch."""
    if len(byte_range) != 4:
        return None
    start, first, second_start, second = byte_range
    if start != 0 or not 0 < first < second_start or second <= 0 or second_start + second > size:
        return None
    return Span(gap_start=first, gap_end=second_start, end=second_start + second)


def signed_ends(pdf: bytes) -> list[int]:
    """Return where each signed revision ends, in order; [] for an unsigned file.

    Taken from the byte ranges as written, so that a later update can't move it behind itself; a range inside
    compressed data isn't seen, and this program writes none there.
    """
    return sorted(found.end for found in _spans(pdf))


def revision_ends(pdf: bytes) -> list[int]:
    """Return where each revision of the file ends, in order."""
    return [found.end() for found in _END.finditer(pdf)]


def revision_at(pdf: bytes, end: int) -> int:
    """Return the number, from 1, of the revision that ends at byte `end` or holds it."""
    return 1 + sum(1 for other in revision_ends(pdf) if other < end)


def _spans(pdf: bytes) -> Iterator[Span]:
    for found in _BYTE_RANGE.finditer(pdf):
        covered = span(tuple(int(number) for number in found.groups()), len(pdf))
        if covered is None:
            continue
        digits = pdf[covered.gap_start : covered.gap_end]
        if digits[:1] == b"<" and digits[-1:] == b">" and found.start() < covered.end:
            yield covered
