"""Shapes: placing, mirroring and the room they take."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.figures.shapes import Line, Path, Rect, Shape, Text, enclosing, figure, placed, polygon

NUMBERS = st.floats(-500, 500, allow_nan=False).map(lambda number: round(number, 2))
SIZES = st.floats(0.1, 200, allow_nan=False).map(lambda number: round(number, 2))
LINES = st.builds(Line, NUMBERS, NUMBERS, NUMBERS, NUMBERS, SIZES)
RECTS = st.builds(Rect, NUMBERS, NUMBERS, SIZES, SIZES, st.just("ink"), st.sampled_from([None, "rule"]), SIZES)
POINTS = st.tuples(NUMBERS, NUMBERS)
CURVES = st.tuples(NUMBERS, NUMBERS, NUMBERS, NUMBERS, NUMBERS, NUMBERS)
PATHS = st.builds(Path, POINTS, st.lists(POINTS | CURVES, min_size=1).map(tuple), fill=st.just("shade"))
TEXTS = st.builds(Text, NUMBERS, NUMBERS, st.text("abc 1", min_size=1), SIZES, anchor=st.sampled_from(["start", "end"]))
SHAPES = st.lists(LINES | RECTS | PATHS | TEXTS, min_size=1)


@given(SHAPES)
def test_mirrored_shapes_take_the_mirrored_room(shapes: list[Shape]) -> None:
    left, top, right, bottom = enclosing(shapes)
    assert enclosing(placed(shapes, mirror=True)) == pytest.approx((-right, top, -left, bottom))


@given(SHAPES, NUMBERS, NUMBERS, st.floats(0.1, 10))
def test_placed_shapes_take_the_placed_room(shapes: list[Shape], x: float, y: float, scale: float) -> None:
    left, top, right, bottom = enclosing(shapes)
    expected = (left * scale + x, top * scale + y, right * scale + x, bottom * scale + y)
    assert enclosing(placed(shapes, x, y, scale=scale)) == pytest.approx(expected, abs=1e-6)


@given(SHAPES)
def test_mirroring_twice_gives_the_same_shapes_back(shapes: list[Shape]) -> None:
    once = placed(shapes, mirror=True)
    again = placed(once, mirror=True)
    assert [type(shape) for shape in again] == [type(shape) for shape in shapes]
    assert enclosing(again) == pytest.approx(enclosing(shapes))


def test_mirrored_text_still_starts_where_its_end_stood() -> None:
    (text,) = placed((Text(10, 5, "pin", 8, anchor="start"),), mirror=True)
    assert isinstance(text, Text)
    assert (text.x, text.words, text.anchor) == (-10, "pin", "end")


def test_scaled_shapes_keep_their_proportions() -> None:
    dashed = Rect(1, 1, 2, 2, None, "ink", 0.5, (2.0, 1.0))
    (rect,) = placed((dashed,), scale=2)
    assert rect == Rect(2, 2, 4, 4, None, "ink", 1.0, (4.0, 2.0))


def test_line_takes_its_width_across_but_not_along() -> None:
    assert enclosing((Line(0, 2, 0, 14, 2),)) == (-1, 2, 1, 14)
    assert enclosing((Line(2, 0, 14, 0, 2),)) == (2, -1, 14, 1)


def test_figure_without_a_box_takes_the_least_that_holds_it() -> None:
    made = figure((Rect(-1, -2, 4, 8), polygon(((0, 0), (9, 0), (0, 1)))), "two")
    assert (made.left, made.top, made.width, made.height, made.words) == (-1, -2, 10, 8, "two")
