"""Draws what a signature looks like on paper, with the family's own embedded face."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from typing import TYPE_CHECKING, Any
from unicodedata import category

from neuroform import shipped
from neuroform.errors import GlyphError
from neuroform.language import N_, _

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_PLAIN = ("SigningSans", "IBMPlexSans-Regular.ttf")
_STRONG = ("SigningSans-SemiBold", "IBMPlexSans-SemiBold.ttf")
_INK = "#111111"
_QUIET = "#555555"
_LEFT = 8.0


@dataclass(frozen=True, kw_only=True)
class Stamp:
    """The words in a signature's frame."""

    caption: str
    """Small, above."""
    name: str
    """Who signed, or what the place waits for."""
    lines: Sequence[str] = ()
    """What follows below, each on its own line; those that don't fit the height are left out."""
    signed: bool = True
    """Whether the frame is drawn whole; else dashed."""


def draw(stamp: Stamp, *, width: float, height: float) -> bytes:
    """Return a one-page PDF of `width` by `height` points that holds the drawn stamp.

    Raises GlyphError for a character that the face lacks: a signature never shows a blank.
    """
    from reportlab.pdfgen.canvas import Canvas

    for words in (stamp.caption, stamp.name, *stamp.lines):
        _check_glyphs(words)
    out = BytesIO()
    # A plain canvas would name Helvetica, unembedded, on the page.
    plain: Any = _face(*_PLAIN)  # the stubs take a font's name for a number
    canvas = Canvas(out, pagesize=(width, height), initialFontName=plain, invariant=True)
    _frame(canvas, width=width, height=height, signed=stamp.signed)
    plain_face, strong_face = _face(*_PLAIN), _face(*_STRONG)
    top = height - 13.5
    _line(canvas, stamp.caption, face=strong_face, size=7.0, colour=_QUIET, y=top, width=width)
    name_face = strong_face if stamp.signed else plain_face
    _line(canvas, stamp.name, face=name_face, size=9.2, colour=_INK, y=top - 13.5, width=width)
    y = top - 26.5
    for number, words in enumerate(stamp.lines):
        if y < 5:
            break
        size, colour = (8.6, _INK) if number == 0 else (7.0, _QUIET)
        _line(canvas, words, face=plain_face, size=size, colour=colour, y=y, width=width)
        y -= 12
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _frame(canvas: "Canvas", *, width: float, height: float, signed: bool) -> None:
    canvas.setLineWidth(0.7)
    canvas.setStrokeColor(_INK)
    canvas.setFillColor("#FFFFFF")
    if not signed:
        canvas.setDash(3, 2)
    canvas.rect(0.35, 0.35, width - 0.7, height - 0.7, stroke=1, fill=1)


def _line(canvas: "Canvas", words: str, *, face: str, size: float, colour: str, y: float, width: float) -> None:
    """Write one line, smaller where it is too long for the frame."""
    needed = canvas.stringWidth(words, face, size)
    room = width - 2 * _LEFT
    canvas.setFont(face, size if needed <= room else size * room / needed)
    canvas.setFillColor(colour)
    canvas.drawString(_LEFT, y, words)


@cache
def _face(name: str, file: str) -> str:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    pdfmetrics.registerFont(TTFont(name, BytesIO(shipped.read_bytes("resources", "fonts", file))))
    return name


@cache
def _characters() -> frozenset[int]:
    from reportlab.pdfbase import pdfmetrics

    font: Any = pdfmetrics.getFont(_face(*_PLAIN))
    return frozenset(font.face.charToGlyph)


def _check_glyphs(words: str) -> None:
    for character in words:
        # Joiners and direction marks have glyphs that draw nothing.
        if ord(character) not in _characters() or category(character).startswith("C"):
            raise GlyphError(
                _(N_("The signature's text holds {character}, which its typeface can't draw.")).format(
                    character=f"“{character}” (U+{ord(character):04X})" if character.isprintable() else repr(character)
                ),
                _(N_("Give the name as it should be shown in letters of the paper's typeface.")),
                character=character,
            )
