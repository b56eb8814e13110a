"""Draws the figures' shapes and checked lines of text on a PDF page."""

from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING

from neuroform.figures.shapes import Colour, Figure, Line, Path, Rect, Shape, Text
from neuroform.notes import faces, paragraphs
from neuroform.notes.pieces import Piece, Style

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

GREY: dict[Colour, float] = {
    "ground": 1.0,
    "sheet": 1.0,
    "ink": 0x11 / 255,
    "ink2": 0x33 / 255,
    "quiet": 0x55 / 255,
    "rule": 0x77 / 255,
    "hair": 0xBB / 255,
    "accent": 0x11 / 255,
    "tint": 1.0,
    "urgent": 0x11 / 255,
    "inv": 1.0,
    "shade": 0xE8 / 255,
    "tile": 0x22 / 255,
}
"""The colours of a paper, which has none: how light each is."""
_GREYS: dict[Colour, str] = {colour: f"{light:.4g} g" for colour, light in GREY.items()}
"""What sets each for filling."""


def stream(canvas: "Canvas") -> list[str]:
    """Return the operators of the page so far: reportlab has no other way in for marked content and outlines."""
    code: list[str] = vars(canvas)["_code"]
    return code


def draw_figure(canvas: "Canvas", figure: Figure, *, x: float, y: float, scale: float) -> None:
    """Draw a figure with its origin at (x, y) in points from the page's lower left corner."""
    code = stream(canvas)
    code.append(f"q {_numbers(scale, 0, 0, -scale, x, y)} cm 0 J 0 j")
    lines = [shape for shape in figure.shapes if not isinstance(shape, Text)]
    if len(lines) == len(figure.shapes):
        code.append(_operators(figure.shapes))
    else:
        for shape in figure.shapes:
            if isinstance(shape, Text):
                _draw_words(canvas, shape)
            else:
                code.append(_operators((shape,)))
    code.append("Q")


def draw_pieces(canvas: "Canvas", pieces: tuple[Piece, ...], *, x: float, y: float) -> None:
    """Draw the pieces of a line from `x` on, their baseline at `y`."""
    code = stream(canvas)
    for piece in pieces:
        code.append(_GREYS[piece.style.colour])
        if piece.companion is None:
            code.append(_words(canvas, piece.text, piece.style, x, y))
        else:
            _draw_shaped(canvas, piece, x, y)
        x += piece.width


def _words(
    canvas: "Canvas", text: str, style: Style, x: float, y: float, *, unseen: bool = False, wide: float = 1
) -> str:
    """Return what writes text in a main face; `wide` stretches it.

    The canvas's own way of writing formats every number anew and takes most of the time a page needs.
    """
    font = faces.font(style.weight)
    document = vars(canvas)["_doc"]
    held = " ".join(
        f"{font.getSubsetInternalName(subset, document)} {style.size:g} Tf <{codes.hex()}> Tj"
        for subset, codes in font.splitString(text, document)
    )
    if unseen:
        return f"BT {x:.2f} {y:.2f} Td 3 Tr {100 * wide:.2f} Tz {held} 0 Tr 100 Tz ET"
    return f"BT {x:.2f} {y:.2f} Td {held} ET"


def _draw_shaped(canvas: "Canvas", piece: Piece, x: float, y: float) -> None:
    """Draw outlines from left to right, each letter's share of them tagged with the letter.

    Programs that extract text expect the order that is seen and turn what is read from the right themselves.
    """
    scale = piece.style.size / faces.UNITS
    code = stream(canvas)
    for cluster in sorted(faces.shape(piece.text, piece.companion or "").clusters, key=lambda each: each.x):
        letters = cluster.letters[::-1] if piece.right_to_left else cluster.letters
        share = cluster.advance * scale / len(letters)
        for place, letter in enumerate(letters):
            text = ("\ufeff" + letter).encode("utf-16-be").hex().upper()
            code.append(f"/Span <</ActualText <{text}>>> BDC")
            code.append(_stand_in(canvas, piece.style, x + cluster.x * scale + place * share, y, share))
            if place == 0:
                code.extend(_outlines(cluster, x, y, scale))
            code.append("EMC")


def _outlines(cluster: faces.Cluster, x: float, y: float, scale: float) -> list[str]:
    filled = []
    for glyph in cluster.glyphs:
        steps = [_step(kind, at, x + glyph.x * scale, y + glyph.y * scale, scale) for kind, at in glyph.outline]
        if steps:
            filled.append(" ".join([*steps, "f"]))
    return filled


def _stand_in(canvas: "Canvas", style: Style, x: float, y: float, width: float) -> str:
    """Return what writes one unseen letter of that width: programs that extract text hang the real letters on it."""
    advance = faces.advances(style.weight)[ord("x")] * style.size / faces.UNITS
    return _words(canvas, "x", style, x, y, unseen=True, wide=max(width, 0.1) / advance)


def _step(kind: str, at: tuple[float, ...], dx: float, dy: float, scale: float) -> str:
    moved = (f"{place * scale + (dx if index % 2 == 0 else dy):.3f}" for index, place in enumerate(at))
    return " ".join([*moved, kind])


@lru_cache(maxsize=4096)
def _operators(shapes: tuple[Shape, ...]) -> str:
    """Return what draws shapes without words; a paper has the same few marks many times."""
    return " ".join(part for shape in shapes for part in _drawn(shape))


def _drawn(shape: Shape) -> Iterator[str]:
    if isinstance(shape, Text):
        raise TypeError("words are drawn by themselves")
    if isinstance(shape, Line):
        yield f"[{_numbers(*shape.dash)}] 0 d {_numbers(shape.width)} w {_numbers(GREY[shape.colour])} G"
        yield f"{_numbers(shape.x1, shape.y1)} m {_numbers(shape.x2, shape.y2)} l S"
        return
    if shape.fill is not None:
        yield f"{_numbers(GREY[shape.fill])} g"
    if shape.stroke is not None:
        yield f"[{_numbers(*shape.dash)}] 0 d {_numbers(shape.stroke_width)} w {_numbers(GREY[shape.stroke])} G"
    if isinstance(shape, Rect):
        yield f"{_numbers(shape.x, shape.y, shape.width, shape.height)} re"
    else:
        yield from _path(shape)
    yield {(True, True): "B", (True, False): "f", (False, True): "S", (False, False): "n"}[
        shape.fill is not None, shape.stroke is not None
    ]


def _path(shape: Path) -> Iterator[str]:
    yield f"{_numbers(*shape.start)} m"
    for step in shape.steps:
        yield f"{_numbers(*step)} {'l' if len(step) == 2 else 'c'}"
    if shape.closed:
        yield "h"


def _numbers(*found: float) -> str:
    """Write numbers as PDF does: no exponents, no more digits than show."""
    return " ".join(f"{number:.4f}".rstrip("0").rstrip(".") for number in found)


def _draw_words(canvas: "Canvas", shape: Text) -> None:
    style = Style(size=shape.size, leading=shape.size, weight=shape.weight, colour=shape.colour)
    (line,) = paragraphs.paragraph(shape.words, style, width=float("inf")).lines
    left = {"start": 0.0, "middle": -line.width / 2, "end": -line.width}[shape.anchor]
    code = stream(canvas)
    code.append(f"q {_numbers(1, 0, 0, -1, shape.x, shape.y)} cm")
    draw_pieces(canvas, line.pieces, x=left, y=0)
    code.append("Q")
