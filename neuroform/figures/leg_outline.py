"""The outline of a leg, as cubic curves that can be cut at a height."""

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Literal

from neuroform.figures.shapes import Colour, Path, Point

View = Literal["front", "back"]
Curve = tuple[Point, Point, Point, Point]

SOLE = 120.2

_FRONT: tuple[Point, ...] = (
    *((-15.2, -2), (-15.9, 10), (-14.3, 27), (-11.2, 43), (-9.2, 53), (-8.8, 60.5), (-10.1, 71), (-9.6, 82)),
    *((-6.9, 94), (-4.9, 103), (-5.6, 107.5), (-8.8, 112), (-11.6, 115.8), (-11.6, 118.6), (-9.4, 120), (-2.5, 120.2)),
    *((2.8, 120), (5, 118.6), (5.2, 115.4), (4.6, 110.5), (5.3, 106), (4.3, 101.5), (5.7, 91), (8.2, 79)),
    *((8.6, 70), (7, 61), (7.6, 54.5), (9.6, 42), (12, 25), (12.9, 10), (12.6, 2)),
)
_CALF: tuple[Point, ...] = ((-10.6, 70), (-10.4, 79), (-7.2, 92))
_HEEL: tuple[Point, ...] = (
    *((-5.8, 107), (-7.6, 111.5), (-9.8, 116), (-9.2, 118.4), (-5.4, 119)),
    *((-3.8, 120.2), (1.2, 120.4), (4.6, 120), (5.6, 117.5), (5.2, 112.5)),
)
_INNER_CALF: tuple[Point, ...] = ((9.2, 78), (9.4, 69))
_BACK = (*_FRONT[:6], *_CALF, _FRONT[9], *_HEEL, *_FRONT[20:23], *_INNER_CALF, *_FRONT[25:])


@cache
def outline(view: View, cut: float | None = None) -> tuple[Curve, ...]:
    """Return the leg on the left of the drawing, its axis at x 0 and its outer side negative.

    The line runs from the outer thigh round the foot and up. `cut`: the height where it ends, if part is missing.
    """
    whole = _smooth(_FRONT if view == "front" else _BACK)
    return whole if cut is None else _above(whole, cut)


def below(curves: Sequence[Curve], height: float, fill: Colour) -> Path:
    """Fill the part of a leg below `height`."""
    (first, enter), (last, leave) = _ends(curves, height)
    parts = [_split(curves[first], enter)[1], *curves[first + 1 : last], _split(curves[last], leave)[0]]
    return _path(parts, closed=True, fill=fill)


def stroked(curves: Sequence[Curve], colour: Colour, width: float) -> Path:
    """Draw the outline itself, open at the thigh."""
    return _path(curves, stroke=colour, stroke_width=width)


def crossings(curves: Sequence[Curve], height: float) -> tuple[tuple[float, float], ...]:
    """Return where the leg begins and ends across, at `height`."""
    across = sorted(_along(curves[index], 0, t) for index, t in _meetings(curves, height))
    return tuple(zip(across[::2], across[1::2], strict=False))


def _smooth(points: Sequence[Point]) -> tuple[Curve, ...]:
    last = len(points) - 1
    curves = []
    for i in range(last):
        (ax, ay), (bx, by) = points[max(i - 1, 0)], points[i]
        (cx, cy), (dx, dy) = points[i + 1], points[min(i + 2, last)]
        leaving = (bx + (cx - ax) / 6, by + (cy - ay) / 6)
        arriving = (cx - (dx - bx) / 6, cy - (dy - by) / 6)
        curves.append(((bx, by), leaving, arriving, (cx, cy)))
    return tuple(curves)


def _above(curves: Sequence[Curve], height: float) -> tuple[Curve, ...]:
    (first, enter), (last, leave) = _ends(curves, height)
    outer, inner = _split(curves[first], enter)[0], _split(curves[last], leave)[1]
    end = (outer[3], outer[3], inner[0], inner[0])
    return (*curves[:first], outer, end, inner, *curves[last + 1 :])


def _ends(curves: Sequence[Curve], height: float) -> tuple[tuple[int, float], tuple[int, float]]:
    meetings = list(_meetings(curves, height))
    if len(meetings) < 2:
        raise ValueError(f"the leg does not reach {height}")
    return meetings[0], meetings[-1]


def _meetings(curves: Sequence[Curve], height: float) -> Iterator[tuple[int, float]]:
    for index, curve in enumerate(curves):
        if (curve[0][1] < height) != (curve[3][1] < height):
            low, high = 0.0, 1.0
            for _halving in range(40):
                middle = (low + high) / 2
                if (_along(curve, 1, middle) < height) == (curve[0][1] < height):
                    low = middle
                else:
                    high = middle
            yield index, (low + high) / 2


def _along(curve: Curve, axis: Literal[0, 1], t: float) -> float:
    """Return x (axis 0) or y (axis 1) at a part of the way along a curve."""
    s = 1 - t
    a, b, c, d = (point[axis] for point in curve)
    return s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d


def _split(curve: Curve, t: float) -> tuple[Curve, Curve]:
    a, b, c, d = curve
    ab, bc, cd = _between(a, b, t), _between(b, c, t), _between(c, d, t)
    abc, bcd = _between(ab, bc, t), _between(bc, cd, t)
    middle = _between(abc, bcd, t)
    return (a, ab, abc, middle), (middle, bcd, cd, d)


def _between(p: Point, q: Point, t: float) -> Point:
    return (p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t)


def _path(
    curves: Sequence[Curve],
    *,
    closed: bool = False,
    fill: Colour | None = None,
    stroke: Colour | None = None,
    stroke_width: float = 0.0,
) -> Path:
    steps = tuple((*leaving, *arriving, *end) for _start, leaving, arriving, end in curves)
    return Path(curves[0][0], steps, closed, fill, stroke, stroke_width)
