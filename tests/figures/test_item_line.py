"""The item line: one segment an item, each state its own shape."""

from collections.abc import Callable
from itertools import combinations
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.figures.item_line import (
    PAPER,
    STRIP,
    SUPERVISION,
    SUPERVISION_SEGMENT,
    Segment,
    Sizes,
    State,
    item_line,
    sections_line,
    segment_width,
)
from neuroform.figures.shapes import Line, Path, Rect, enclosing

STATES: tuple[State, ...] = get_args(State)
SEGMENTS = st.builds(Segment, state=st.sampled_from(STATES), abnormal=st.booleans(), does_not_fit=st.booleans())
ANSWERED = Segment(state="answered")
BLANK = Segment(state="blank")
TOGETHER = Segment(state="together")


def brackets(segments: list[Segment]) -> list[tuple[float, float]]:
    """Return from where to where brackets run under segments 10 wide."""
    paths = [shape for shape in item_line(segments, 10).shapes if isinstance(shape, Path)]
    return [(path.start[0], path.steps[1][0]) for path in paths]


def test_answered_segment_is_filled_and_a_blank_one_is_a_frame() -> None:
    filled, frame = item_line([ANSWERED, BLANK], 10).shapes
    assert filled == Rect(0, 0, 10, 5)
    assert isinstance(frame, Rect)
    assert (frame.fill, frame.stroke, frame.stroke_width) == (None, "rule", 1)
    assert (frame.x - 0.5, frame.width + 1, frame.y - 0.5, frame.height + 1) == (12, 10, 0, 5)


def test_copied_segment_is_two_bars_at_top_and_foot() -> None:
    assert item_line([Segment(state="copied")], 10).shapes == (Rect(0, 0, 10, 1.7), Rect(0, 3.3, 10, 1.7))


@pytest.mark.parametrize("width", [4.0, 7.45, 8.5, 21.0])
def test_segment_not_examined_is_broken_at_every_width(width: float) -> None:
    dashes = [shape for shape in item_line([Segment(state="not_examined")], width).shapes if isinstance(shape, Rect)]
    assert len(dashes) >= 2
    assert dashes[0].x == 0
    assert dashes[-1].x + dashes[-1].width == pytest.approx(width)
    assert all((dash.y, dash.height) == (1.25, 2.5) for dash in dashes)
    assert dashes[0].width / (dashes[1].x - dashes[0].x) == pytest.approx(0.65)


def test_abnormal_item_stands_up_from_its_segment() -> None:
    _bar, upright = item_line([Segment(state="answered", abnormal=True)], 10).shapes
    assert upright == Line(5, -7, 5, 0, 2)


def test_upright_of_what_does_not_fit_steps_aside() -> None:
    _bar, upright = item_line([Segment(state="answered", abnormal=True, does_not_fit=True)], 10).shapes
    assert isinstance(upright, Path)
    assert (upright.start, *upright.steps) == ((2.5, -9), (2.5, -4.5), (7.5, -4.5), (7.5, 0))


def test_one_bracket_runs_under_what_one_key_answered() -> None:
    assert brackets([TOGETHER, TOGETHER, TOGETHER]) == [(0.5, 33.5)]
    assert brackets([ANSWERED, TOGETHER, TOGETHER, BLANK, TOGETHER]) == [(12.5, 33.5), (48.5, 57.5)]
    assert brackets([ANSWERED, Segment(state="copied"), BLANK]) == []


def test_bracket_hangs_three_below_and_rises_to_two_above() -> None:
    (path,) = [shape for shape in item_line([TOGETHER], 10).shapes if isinstance(shape, Path)]
    assert [path.start[1], *(step[1] for step in path.steps)] == [-2, 8, 8, -2]
    assert path.stroke_width == 1


@given(st.lists(SEGMENTS, max_size=30), st.floats(4, 40), st.sampled_from([STRIP, PAPER, SUPERVISION]))
def test_line_stays_inside_its_box_whatever_it_shows(segments: list[Segment], width: float, sizes: Sizes) -> None:
    drawn = item_line(segments, width, sizes)
    if drawn.shapes:
        left, top, right, bottom = enclosing(drawn.shapes)
        assert left >= drawn.left - 1e-9
        assert top >= drawn.top - 1e-9
        assert right <= drawn.left + drawn.width + 1e-9
        assert bottom <= drawn.top + drawn.height + 1e-9


@given(st.lists(st.lists(SEGMENTS, max_size=8), max_size=8))
def test_sections_on_one_line_stay_inside_its_box(sections: list[list[Segment]]) -> None:
    drawn = sections_line(sections, SUPERVISION_SEGMENT)
    if drawn.shapes:
        left, _top, right, _bottom = enclosing(drawn.shapes)
        assert left >= -1e-9
        assert right <= drawn.width + 1e-9


def test_sections_stand_apart_by_the_wider_gap() -> None:
    first, second, third = sections_line([[ANSWERED, ANSWERED], [], [ANSWERED]], 7.45).shapes
    assert [shape.x for shape in (first, second, third) if isinstance(shape, Rect)] == pytest.approx([0, 8.85, 23.3])


@given(st.floats(20, 400), st.integers(1, 20))
def test_segments_fill_the_line_they_are_fitted_to(total: float, count: int) -> None:
    width = segment_width(total, count)
    assert item_line([ANSWERED] * count, width).width == pytest.approx(total)


def test_fitting_no_segments_needs_no_width() -> None:
    assert segment_width(100, 0) == 0
    assert item_line([], 10).shapes == ()


@pytest.mark.parametrize(("sizes", "scale"), [(STRIP, 2), (SUPERVISION, 2), (PAPER, 2)])
def test_states_are_told_apart_in_grey(in_grey: Callable[..., bytes], sizes: Sizes, scale: float) -> None:
    kinds = [Segment(state=state) for state in STATES]
    kinds += [Segment(state="answered", abnormal=True), Segment(state="answered", does_not_fit=True)]
    drawn = [in_grey(item_line([kind], SUPERVISION_SEGMENT, sizes), scale=scale) for kind in kinds]
    for one, other in combinations(drawn, 2):
        assert sum(abs(a - b) > 64 for a, b in zip(one, other, strict=True)) >= 6


def test_words_count_what_the_line_shows() -> None:
    segments = [ANSWERED, Segment(state="answered", abnormal=True), TOGETHER, TOGETHER, BLANK]
    segments += [Segment(state="copied"), Segment(state="not_examined"), Segment(state="answered", does_not_fit=True)]
    assert item_line(segments, 10).words == (
        "7 of 8 answered or explained; abnormal: 1; does not fit: 1; not examined: 1; "
        "copied from the other side: 1; answered with one key: 2; blank: 1"
    )


def test_words_of_a_blank_line_never_sound_answered() -> None:
    assert item_line([BLANK, BLANK], 10).words == "0 of 2 answered or explained; blank: 2"
