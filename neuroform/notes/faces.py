"""The typefaces of a paper: which characters they hold, how wide they are, and shaped outlines for other scripts."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from typing import Any, Literal

from neuroform import shipped

Weight = Literal[400, 500, 600]
Outline = tuple[tuple[str, tuple[float, ...]], ...]
"""Steps of a glyph's path: m, l and c with their coordinates, and h."""

MAIN: Mapping[Weight, str] = {
    400: "IBMPlexSans-Regular",
    500: "IBMPlexSans-Medium",
    600: "IBMPlexSans-SemiBold",
}
COMPANIONS = ("IBMPlexSansArabic-Regular", "IBMPlexSansHebrew-Regular", "IBMPlexSansDevanagari-Regular")
UNITS = 1000.0


@dataclass(frozen=True, kw_only=True)
class Glyph:
    """One shaped glyph, in units of a thousandth of the text's size, y up."""

    x: float
    y: float
    outline: Outline


@dataclass(frozen=True, kw_only=True)
class Cluster:
    """The glyphs of some letters that were shaped together."""

    letters: str
    x: float
    """Where it begins, from the left end of its run."""
    advance: float
    glyphs: tuple[Glyph, ...]


@dataclass(frozen=True, kw_only=True)
class Shaped:
    """A run of one script as outlines."""

    clusters: tuple[Cluster, ...]
    """In the order they are read, which for Arabic and Hebrew is from the right."""
    advance: float


def registered(weight: Weight) -> str:
    """Return the name under which reportlab knows the main face of a weight, loading it first if need be."""
    return _registered(MAIN[weight])


@cache
def font(weight: Weight) -> Any:
    """Return reportlab's font of a weight, which numbers its letters anew in every document."""
    from reportlab.pdfbase import pdfmetrics

    return pdfmetrics.getFont(registered(weight))


def holds(name: str) -> "frozenset[int]":
    """Return the characters that a face can draw."""
    return _characters(name)


@cache
def advances(weight: Weight) -> "Mapping[int, float]":
    """Return the width of each character of a main face, in thousandths of the text's size."""
    widths: dict[int, float] = dict(_face(MAIN[weight]).charWidths)
    return widths


@cache
def shape(text: str, name: str) -> Shaped:
    """Shape a run of one script with a face; every character has to be one the face holds."""
    uharfbuzz = _harfbuzz()
    font, outlines = _shaper(name)
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    uharfbuzz.shape(font, buffer)
    starts = sorted({info.cluster for info in buffer.glyph_infos})
    ends = dict(zip(starts, [*starts[1:], len(text)], strict=True))
    found: dict[int, list[Glyph]] = {}
    places: dict[int, tuple[float, float]] = {}
    x = 0.0
    for info, at in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        glyph = Glyph(x=x + at.x_offset, y=at.y_offset, outline=outlines(info.codepoint))
        found.setdefault(info.cluster, []).append(glyph)
        left, wide = places.get(info.cluster, (x, 0.0))
        places[info.cluster] = (left, wide + at.x_advance)
        x += at.x_advance
    clusters = tuple(
        Cluster(
            letters=text[start : ends[start]], x=places[start][0], advance=places[start][1], glyphs=tuple(found[start])
        )
        for start in starts
    )
    return Shaped(clusters=clusters, advance=x)


@cache
def _registered(file: str) -> str:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    name = f"Paper-{file}"
    pdfmetrics.registerFont(TTFont(name, BytesIO(shipped.read_bytes("resources", "fonts", f"{file}.ttf"))))
    return name


def _face(file: str) -> Any:
    from reportlab.pdfbase import pdfmetrics

    font: Any = pdfmetrics.getFont(_registered(file))
    return font.face


def _harfbuzz() -> Any:
    """Return the shaping library, whose parts its annotations leave out."""
    import uharfbuzz

    return uharfbuzz


@cache
def _characters(file: str) -> frozenset[int]:
    if file in MAIN.values():
        return frozenset(_face(file).charToGlyph)
    return frozenset(_harfbuzz().Face(shipped.read_bytes("resources", "fonts", f"{file}.ttf")).unicodes)


@cache
def _shaper(file: str) -> tuple[Any, Any]:
    uharfbuzz = _harfbuzz()
    font = uharfbuzz.Font(uharfbuzz.Face(shipped.read_bytes("resources", "fonts", f"{file}.ttf")))
    pens = uharfbuzz.DrawFuncs()
    pens.set_move_to_func(lambda x, y, steps: steps.append(("m", (x, y))))
    pens.set_line_to_func(lambda x, y, steps: steps.append(("l", (x, y))))
    pens.set_cubic_to_func(lambda ax, ay, bx, by, x, y, steps: steps.append(("c", (ax, ay, bx, by, x, y))))
    pens.set_quadratic_to_func(_quadratic)
    pens.set_close_path_func(lambda steps: steps.append(("h", ())))

    @cache
    def outline(glyph: int) -> Outline:
        steps: list[tuple[str, tuple[float, ...]]] = []
        font.draw_glyph(glyph, pens, steps)
        return tuple(steps)

    return font, outline


def _quadratic(cx: float, cy: float, x: float, y: float, steps: list[tuple[str, tuple[float, ...]]]) -> None:
    """Write a quadratic curve as the cubic one PDF knows."""
    fx, fy = steps[-1][1][-2:]
    first = (fx + 2 / 3 * (cx - fx), fy + 2 / 3 * (cy - fy))
    second = (x + 2 / 3 * (cx - x), y + 2 / 3 * (cy - y))
    steps.append(("c", (*first, *second, x, y)))
