"""A value against its published limit: a track with its best end at the spine, hatched beyond the limit."""

from collections.abc import Iterator
from math import isfinite
from typing import Literal

from neuroform.figures.noted import number, with_unit
from neuroform.figures.shapes import Figure, Line, Path, Rect, Shape, Text, figure, placed, polygon
from neuroform.language import N_, _

Better = Literal["high", "low"]
Verdict = Literal["normal", "borderline", "abnormal"]

LENGTH = 120.0
_HATCH_HEIGHT = 5.0
_HATCH_PITCH = 3.0
_VALUE_Y = -3.0


def limit_track(
    *,
    limit: float,
    lowest: float,
    highest: float,
    value: float | None = None,
    verdict: Verdict | None = None,
    better: Better = "high",
    side: Literal["right", "left"] = "left",
    age: int | None = None,
    unit: str = "",
    unverified: bool = False,
    ends: bool = False,
    caption: bool = False,
) -> Figure:
    """Draw a value on a track 120 long; the best end stands at the origin, the worst outward.

    `side`: the patient's right runs to the left, the left (and what has no side) to the right. A value needs its
    `verdict`; a value past an end of the scale stands at that end. `ends` writes the ends of the scale, `caption` the
    limit below. Raises ValueError for a limit off the scale, or a value without verdict.
    """
    numbers = [limit, lowest, highest, *([] if value is None else [value])]
    if not all(map(isfinite, numbers)) or not lowest <= limit <= highest or lowest == highest:
        raise ValueError(f"no track from {lowest} to {highest} with its limit at {limit} and its value at {value}")
    if (value is None) != (verdict is None):
        raise ValueError("a value and its verdict come together")
    best, worst = (highest, lowest) if better == "high" else (lowest, highest)

    def place(number: float) -> float:
        return LENGTH * min(max((best - number) / (best - worst), 0.0), 1.0)

    shapes = list(_track(place(limit)))
    if value is not None and verdict is not None:
        shapes += placed(_VALUES[verdict], place(value), _VALUE_Y)
    shapes += _labels(best, worst, ends, limit_words(limit, unit, age, unverified) if caption else "")
    words = in_words(limit, value, verdict, unit=unit, age=age, unverified=unverified)
    return figure(placed(shapes, mirror=side == "right"), words)


def limit_words(limit: float, unit: str = "", age: int | None = None, unverified: bool = False) -> str:
    """Say a limit: "limit at 71: 3.5, unverified"."""
    value = with_unit(limit, unit)
    if age is None:
        words = N_("limit: {limit}, unverified") if unverified else N_("limit: {limit}")
        return _(words).format(limit=value)
    words = N_("limit at {age}: {limit}, unverified") if unverified else N_("limit at {age}: {limit}")
    return _(words).format(age=age, limit=value)


def in_words(
    limit: float,
    value: float | None,
    verdict: Verdict | None,
    *,
    unit: str = "",
    age: int | None = None,
    unverified: bool = False,
) -> str:
    """Say the value, how it stands to its limit, and the limit."""
    told = limit_words(limit, unit, age, unverified)
    if value is None:
        return told
    stands = N_("at the limit") if value == limit else N_("below the limit") if value < limit else N_("above the limit")
    parts = [with_unit(value, unit), _(stands)]
    if verdict == "borderline":
        parts.append(_(N_("borderline")))
    return f"{', '.join(parts)}; {told}"


def _halo(*points: tuple[float, float]) -> Path:
    return Path(points[0], points[1:], closed=True, fill="sheet", stroke="sheet", stroke_width=1.2)


_LOZENGE = ((0.0, -4.5), (3.0, 0.0), (0.0, 4.5), (-3.0, 0.0))
_UPRIGHT_HALO = _halo((-0.85, -4), (0.85, -4), (0.85, 4), (-0.85, 4))
_UPRIGHT = Line(0, -4, 0, 4, 1.7)
_VALUES: dict[Verdict, tuple[Shape, ...]] = {
    "normal": (_UPRIGHT_HALO, _UPRIGHT),
    "borderline": (_UPRIGHT_HALO, _UPRIGHT, Rect(-2.5, -0.8, 5, 1.6)),
    "abnormal": (_halo(*_LOZENGE), polygon(_LOZENGE)),
}


def _track(limit: float) -> Iterator[Shape]:
    yield from hatched(limit, LENGTH)
    yield Line(0, 0, LENGTH, 0, 1.2, "ink2")
    yield Line(limit, -7, limit, 3, 1.4)


def hatched(left: float, right: float) -> Iterator[Line]:
    """Draw slanting lines 5 high on y 0 between two places."""
    foot = left + _HATCH_PITCH / 2 - _HATCH_HEIGHT
    while foot < right:
        start, end = max(foot, left), min(foot + _HATCH_HEIGHT, right)
        if end > start:
            yield Line(start, foot - start, end, foot - end, 0.6, "rule")
        foot += _HATCH_PITCH


def _labels(best: float, worst: float, ends: bool, caption: str) -> Iterator[Shape]:
    if ends:
        yield Text(-5, 3, number(best), 8.3, 400, "end", "quiet")
        yield Text(LENGTH + 5, 3, number(worst), 8.3, 400, "start", "quiet")
    if caption:
        yield Text(LENGTH / 2, 15, caption, 8.3, 400, "middle", "quiet")
