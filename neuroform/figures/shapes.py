"""The shapes every drawing is made of: numbers and colour names, drawn alike on screen and on paper.

Coordinates are units with y down. A drawer multiplies them by its scale, uses flat caps and mitred joins, and looks
each colour up by its name. Text stands on its baseline; its size is in units too.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

Colour = Literal[
    "ground", "sheet", "ink", "ink2", "quiet", "rule", "hair", "accent", "tint", "urgent", "inv", "shade", "tile"
]
Anchor = Literal["start", "middle", "end"]
Weight = Literal[400, 500, 600]
Point = tuple[float, float]
Cubic = tuple[float, float, float, float, float, float]
Box = tuple[float, float, float, float]

_NARROW, _BROAD = frozenset("ijltfrI.,:;'’|()-[]\u202f\u00a0 "), frozenset("mwMW@%")


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    width: float
    colour: Colour = "ink"
    dash: tuple[float, ...] = ()
    """Lengths on and off in turn; empty is a whole line."""


@dataclass(frozen=True, slots=True)
class Rect:
    """An upright rectangle; its frame runs along the middle of its edge."""

    x: float
    y: float
    width: float
    height: float
    fill: Colour | None = "ink"
    stroke: Colour | None = None
    stroke_width: float = 0.0
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points, straight or curved, open or closed."""

    start: Point
    steps: tuple[Point | Cubic, ...]
    """Two numbers: a straight step to that point. Six: a cubic curve by two control points."""
    closed: bool = False
    fill: Colour | None = None
    stroke: Colour | None = None
    stroke_width: float = 0.0
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Text:
    """Words on one line; x is where their start, middle or end stands, y their baseline."""

    x: float
    y: float
    words: str
    size: float
    weight: Weight = 400
    anchor: Anchor = "start"
    colour: Colour = "ink"


Shape = Line | Rect | Path | Text


@dataclass(frozen=True, kw_only=True)
class Figure:
    """Shapes inside a declared box, and the same in words."""

    shapes: tuple[Shape, ...]
    """In the order they are drawn."""
    left: float
    top: float
    width: float
    height: float
    words: str
    """What the drawing shows, for a screen reader and for the text beside it."""


def figure(shapes: Iterable[Shape], words: str, *, box: Box | None = None) -> Figure:
    """Make a figure of `shapes`, in the `box` (left, top, right, bottom) or the least one that holds them."""
    kept = tuple(shapes)
    left, top, right, bottom = box if box is not None else enclosing(kept)
    return Figure(shapes=kept, left=left, top=top, width=right - left, height=bottom - top, words=words)


def polygon(points: Iterable[Point], fill: Colour = "ink") -> Path:
    """Fill the area between `points`."""
    first, *others = points
    return Path(first, tuple(others), closed=True, fill=fill)


def placed(
    shapes: Iterable[Shape], x: float = 0.0, y: float = 0.0, *, scale: float = 1.0, mirror: bool = False
) -> tuple[Shape, ...]:
    """Scale `shapes` about the origin, mirror them there left to right if asked, then move them by `x` and `y`."""
    return tuple(_placed(shape, x, y, scale, -scale if mirror else scale) for shape in shapes)


def enclosing(shapes: Iterable[Shape]) -> Box:
    """Return left, top, right and bottom of what the shapes may cover; text is estimated generously."""
    boxes = [_box(shape) for shape in shapes]
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def text_width(words: str, size: float) -> float:
    """Return a generous width of `words` in units, known before any font is."""
    return size * sum(map(_letter_width, words))


def _letter_width(letter: str) -> float:
    """Return a generous width in parts of the text size; ideographs take a whole one."""
    if letter in _NARROW:
        return 0.44
    if letter in _BROAD or letter >= "\u2e80":
        return 1.0
    return 0.8 if letter.isupper() else 0.66


_TURNED: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}


def _placed(shape: Shape, dx: float, dy: float, scale: float, across: float) -> Shape:
    dash = () if isinstance(shape, Text) else tuple(length * scale for length in shape.dash)
    if isinstance(shape, Line):
        ends = (shape.x1 * across + dx, shape.y1 * scale + dy, shape.x2 * across + dx, shape.y2 * scale + dy)
        return Line(*ends, shape.width * scale, shape.colour, dash)
    if isinstance(shape, Rect):
        width, height = shape.width * scale, shape.height * scale
        x = shape.x * across + dx - (width if across < 0 else 0.0)
        frame = shape.stroke_width * scale
        return Rect(x, shape.y * scale + dy, width, height, shape.fill, shape.stroke, frame, dash)
    if isinstance(shape, Path):
        start = (shape.start[0] * across + dx, shape.start[1] * scale + dy)
        steps = tuple(_moved(step, dx, dy, scale, across) for step in shape.steps)
        return replace(shape, start=start, steps=steps, stroke_width=shape.stroke_width * scale, dash=dash)
    anchor = _TURNED[shape.anchor] if across < 0 else shape.anchor
    return replace(shape, x=shape.x * across + dx, y=shape.y * scale + dy, size=shape.size * scale, anchor=anchor)


def _moved(step: Point | Cubic, dx: float, dy: float, scale: float, across: float) -> Point | Cubic:
    if len(step) == 2:
        return (step[0] * across + dx, step[1] * scale + dy)
    x1, y1, x2, y2, x, y = step
    return (x1 * across + dx, y1 * scale + dy, x2 * across + dx, y2 * scale + dy, x * across + dx, y * scale + dy)


def _box(shape: Shape) -> Box:
    if isinstance(shape, Line):
        half = shape.width / 2
        upright, level = shape.x1 == shape.x2, shape.y1 == shape.y2
        along, across = (0.0 if level and not upright else half), (0.0 if upright and not level else half)
        return (
            min(shape.x1, shape.x2) - along,
            min(shape.y1, shape.y2) - across,
            max(shape.x1, shape.x2) + along,
            max(shape.y1, shape.y2) + across,
        )
    if isinstance(shape, Text):
        width = text_width(shape.words, shape.size)
        left = shape.x - {"start": 0.0, "middle": width / 2, "end": width}[shape.anchor]
        return (left, shape.y - shape.size, left + width, shape.y + 0.3 * shape.size)
    half = shape.stroke_width / 2 if shape.stroke is not None else 0.0
    if isinstance(shape, Rect):
        return (shape.x - half, shape.y - half, shape.x + shape.width + half, shape.y + shape.height + half)
    across_all = [shape.start[0], *(x for step in shape.steps for x in step[::2])]
    down_all = [shape.start[1], *(y for step in shape.steps for y in step[1::2])]
    return (min(across_all) - half, min(down_all) - half, max(across_all) + half, max(down_all) + half)
