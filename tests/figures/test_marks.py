"""Marks, frames and answer lines: exact geometry, each state its own."""

from collections.abc import Callable
from itertools import combinations
from typing import get_args

import pytest

from neuroform.figures.marks import Answer, Mark, Urgency, answer_line, mark, plumb, urgent_frame
from neuroform.figures.shapes import Line, Path, Rect

MARKS: tuple[Mark, ...] = get_args(Mark)
URGENCIES: tuple[Urgency, ...] = get_args(Urgency)


@pytest.mark.parametrize("kind", MARKS)
def test_mark_stands_in_its_cell_about_the_axis(kind: Mark) -> None:
    drawn = mark(kind)
    assert (drawn.left, drawn.top, drawn.width, drawn.height) == (-4, 0, 8, 16)


def test_normal_is_the_line_alone() -> None:
    assert mark("normal").shapes == (Line(0, 2, 0, 14, 1.7),)


def test_abnormal_is_a_line_with_a_lozenge() -> None:
    line, lozenge = mark("abnormal").shapes
    assert line == Line(0, 1, 0, 15, 1.4)
    assert isinstance(lozenge, Path)
    assert (lozenge.start, *lozenge.steps) == ((0, 2.5), (3.4, 8), (0, 13.5), (-3.4, 8))
    assert lozenge.fill == "ink"


def test_borderline_is_the_normal_line_with_a_bar() -> None:
    assert mark("borderline").shapes == (*mark("normal").shapes, Rect(-2.5, 7.2, 5, 1.6))


def test_not_examined_is_a_broken_line() -> None:
    lines = [(shape.y1, shape.y2) for shape in mark("not_examined").shapes if isinstance(shape, Line)]
    assert lines == [(2, 5), (6.5, 9.5), (11, 14)]


def test_blank_is_a_quiet_foot_and_nothing_of_the_normal_line() -> None:
    assert mark("blank").shapes == (Rect(-3.5, 13, 7, 1.1, fill="quiet"),)


def test_partly_tested_is_half_a_line_over_the_foot_of_a_blank() -> None:
    assert mark("partly_tested").shapes == (Line(0, 2, 0, 8, 1.7), *mark("blank").shapes)


def test_what_does_not_fit_steps_aside() -> None:
    (path,) = mark("does_not_fit").shapes
    assert isinstance(path, Path)
    assert (path.start, *path.steps) == ((-2.5, 1), (-2.5, 8), (2.5, 8), (2.5, 15))
    assert path.stroke_width == 1.7


def test_every_mark_has_its_own_words() -> None:
    words = {kind: mark(kind).words for kind in MARKS}
    assert words["does_not_fit"] == "does not fit"
    assert len(set(words.values())) == len(MARKS)


@pytest.mark.parametrize(("one", "other"), list(combinations(MARKS, 2)))
def test_marks_are_told_apart_in_grey(in_grey: Callable[..., bytes], one: Mark, other: Mark) -> None:
    pixels = zip(in_grey(mark(one), scale=1), in_grey(mark(other), scale=1), strict=True)
    assert sum(abs(a - b) > 64 for a, b in pixels) >= 4


@pytest.mark.parametrize(("urgency", "filled"), [("immediate", 14), ("same_day", 7), ("within_days", 3.6)])
def test_urgent_frame_is_filled_from_its_foot(urgency: Urgency, filled: float) -> None:
    frame, fill = urgent_frame(urgency).shapes
    assert isinstance(frame, Rect)
    assert isinstance(fill, Rect)
    assert (frame.stroke, frame.stroke_width, frame.fill) == ("urgent", 1.6, None)
    assert (fill.height, fill.y + fill.height, fill.width) == (filled, 14, 14)


def test_urgent_frames_say_how_soon_and_are_told_apart_in_grey(in_grey: Callable[..., bytes]) -> None:
    assert [urgent_frame(urgency).words for urgency in URGENCIES] == ["Now", "Today", "Within days"]
    assert len({in_grey(urgent_frame(urgency), scale=1) for urgency in URGENCIES}) == 3


@pytest.mark.parametrize(
    ("kind", "edges"),
    [
        ("normal", [(0, 1.6)]),
        ("borderline", [(0, 1.6)]),
        ("abnormal", [(0, 4)]),
        ("focus", [(0, 1.2)]),
        ("copied", [(0, 1.6), (3.1, 1.6)]),
    ],
)
def test_answer_line_has_the_thickness_of_its_kind(kind: Answer, edges: list[tuple[float, float]]) -> None:
    drawn = [(shape.y, shape.height) for shape in answer_line(kind, 40).shapes if isinstance(shape, Rect)]
    assert drawn == edges
    assert answer_line(kind, 40).width == 40


def test_answer_line_of_what_was_not_examined_is_broken() -> None:
    (line,) = answer_line("not_examined", 40).shapes
    assert isinstance(line, Line)
    assert line.dash
    assert line.width == 2


def test_bob_of_the_plumb_line_is_hollow() -> None:
    line, bob = plumb(20).shapes
    assert line == Line(0, 0, 0, 20, 1.5, "accent")
    assert isinstance(bob, Path)
    assert bob.fill is None
    assert bob.closed
