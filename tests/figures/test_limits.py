"""The limit track: best at the spine, worst outward, hatched beyond the limit."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.figures.limits import Better, Verdict, limit_track, limit_words
from neuroform.figures.shapes import Figure, Line, Path, Shape, Text, enclosing, placed

VERDICTS: tuple[Verdict, ...] = ("normal", "borderline", "abnormal")


def upright(drawn: Figure) -> float:
    (line,) = [shape for shape in drawn.shapes if isinstance(shape, Line) and shape.width == 1.4]
    assert (line.y1, line.y2) == (-7, 3)
    return line.x1


def hatch(drawn: Figure) -> list[Line]:
    return [shape for shape in drawn.shapes if isinstance(shape, Line) and shape.colour == "rule"]


def test_limit_stands_where_the_scale_puts_it() -> None:
    # 8 at the spine, 0 at 120: 3.5 lies 4.5 of 8 outward.
    assert upright(limit_track(limit=3.5, lowest=0, highest=8)) == pytest.approx(67.5)
    assert upright(limit_track(limit=3.5, lowest=0, highest=8, side="right")) == pytest.approx(-67.5)
    assert upright(limit_track(limit=10, lowest=0, highest=40, better="low")) == pytest.approx(30)


def test_track_is_hatched_beyond_the_limit_alone() -> None:
    lines = hatch(limit_track(limit=3.5, lowest=0, highest=8))
    assert lines
    assert all(min(line.x1, line.x2) >= 67.5 and max(line.x1, line.x2) <= 120 for line in lines)
    assert all(-5 <= y <= 0 for line in lines for y in (line.y1, line.y2))


def test_nothing_is_hatched_where_the_limit_is_the_worst_value() -> None:
    assert hatch(limit_track(limit=0, lowest=0, highest=8)) == []


def centre(verdict: Verdict, value: float) -> float:
    shapes = limit_track(limit=3.5, lowest=0, highest=8, value=value, verdict=verdict).shapes
    halo = next(shape for shape in shapes if isinstance(shape, Path) and shape.stroke == "sheet")
    left, _top, right, _bottom = enclosing((halo,))
    return (left + right) / 2


@pytest.mark.parametrize("verdict", VERDICTS)
@pytest.mark.parametrize(("value", "x"), [(8, 0), (6, 30), (2.5, 82.5), (0, 120), (9, 0), (-1, 120)])
def test_value_stands_on_the_scale_or_at_its_end(verdict: Verdict, value: float, x: float) -> None:
    assert centre(verdict, value) == pytest.approx(x)


def test_value_has_the_mark_of_its_verdict(in_grey: Callable[..., bytes]) -> None:
    tracks = [limit_track(limit=3.5, lowest=0, highest=8, value=3, verdict=verdict) for verdict in VERDICTS]
    bare = limit_track(limit=3.5, lowest=0, highest=8)
    assert len({in_grey(track, scale=2, margin=10 - track.height / 2) for track in (*tracks, bare)}) == 4


@given(
    st.sampled_from(["high", "low"]),
    st.floats(0, 8),
    st.none() | st.floats(-2, 10),
    st.sampled_from(VERDICTS),
)
def test_right_track_is_the_left_one_mirrored(
    better: Better, limit: float, value: float | None, verdict: Verdict
) -> None:
    def track(right: bool) -> Figure:
        return limit_track(
            limit=limit,
            lowest=0,
            highest=8,
            value=value,
            verdict=None if value is None else verdict,
            better=better,
            side="right" if right else "left",
            ends=True,
            caption=True,
        )

    def places(shapes: tuple[Shape, ...]) -> list[tuple[float, ...]]:
        return [enclosing((shape,)) for shape in shapes]

    assert track(right=True).words == track(right=False).words
    mirrored = placed(track(right=False).shapes, mirror=True)
    for drawn, expected in zip(places(track(right=True).shapes), places(mirrored), strict=True):
        assert drawn == pytest.approx(expected)


def test_ends_and_caption_are_written_when_asked() -> None:
    drawn = limit_track(limit=3.5, lowest=0, highest=8, age=71, unverified=True, ends=True, caption=True)
    assert [shape.words for shape in drawn.shapes if isinstance(shape, Text)] == [
        "8",
        "0",
        "limit at 71: 3.5, unverified",
    ]
    bare = limit_track(limit=3.5, lowest=0, highest=8)
    assert not [shape for shape in bare.shapes if isinstance(shape, Text)]


@pytest.mark.parametrize(
    ("value", "verdict", "words"),
    [
        (2.5, "abnormal", "2.5, below the limit; limit at 71: 3.5, unverified"),
        (3.0, "borderline", "3, below the limit, borderline; limit at 71: 3.5, unverified"),
        (3.5, "normal", "3.5, at the limit; limit at 71: 3.5, unverified"),
        (5.0, "normal", "5, above the limit; limit at 71: 3.5, unverified"),
        (None, None, "limit at 71: 3.5, unverified"),
    ],
)
def test_words_say_value_and_limit(value: float | None, verdict: Verdict | None, words: str) -> None:
    drawn = limit_track(limit=3.5, lowest=0, highest=8, value=value, verdict=verdict, age=71, unverified=True)
    assert drawn.words == words


def test_limit_is_said_with_its_unit_and_without_an_age() -> None:
    assert limit_words(13.5, "s") == "limit: 13.5\u202fs"
    assert limit_words(13.5, "s", unverified=True) == "limit: 13.5\u202fs, unverified"
    assert limit_words(9, "s", 65) == "limit at 65: 9\u202fs"


@pytest.mark.parametrize(
    ("limit", "lowest", "highest"), [(9, 0, 8), (-1, 0, 8), (0, 0, 0), (float("nan"), 0, 8), (1, 0, float("inf"))]
)
def test_limit_off_the_scale_is_refused(limit: float, lowest: float, highest: float) -> None:
    with pytest.raises(ValueError, match="no track"):
        limit_track(limit=limit, lowest=lowest, highest=highest)


def test_value_and_verdict_come_together() -> None:
    with pytest.raises(ValueError, match="come together"):
        limit_track(limit=3.5, lowest=0, highest=8, value=3)
    with pytest.raises(ValueError, match="come together"):
        limit_track(limit=3.5, lowest=0, highest=8, verdict="normal")
