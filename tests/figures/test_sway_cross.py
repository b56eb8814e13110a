"""The sway cross: grade, direction and ending, each where it belongs."""

from collections.abc import Callable
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.figures.noted import Reason
from neuroform.figures.shapes import Figure, Line, Rect, Shape, Text, enclosing, placed
from neuroform.figures.sway_cross import Direction, Ended, Sway, Trial, sway_cross

SWAYS: tuple[Sway, ...] = get_args(Sway)
DIRECTIONS: tuple[Direction, ...] = get_args(Direction)
ENDINGS: tuple[Ended, ...] = get_args(Ended)
REASONS: tuple[Reason, ...] = get_args(Reason)
TRIALS = st.builds(
    Trial,
    sway=st.none() | st.sampled_from(SWAYS),
    direction=st.none() | st.sampled_from(DIRECTIONS),
    ended=st.none() | st.sampled_from(ENDINGS),
    seconds=st.none() | st.integers(0, 60),
) | st.builds(Trial, not_examined=st.sampled_from(REASONS))
SWAPPED: dict[Direction, Direction] = {"right": "left", "left": "right"}


def lines(drawn: Figure) -> list[Line]:
    return [shape for shape in drawn.shapes if isinstance(shape, Line)]


def geometry(shapes: tuple[Shape, ...]) -> set[tuple[object, ...]]:
    """Return what a drawing holds but for its texts, whatever way its lines run."""
    found: set[tuple[object, ...]] = set()
    for shape in shapes:
        if isinstance(shape, Line):
            ends = sorted([(round(shape.x1, 6), shape.y1), (round(shape.x2, 6), shape.y2)])
            found.add(("line", *ends, shape.width))
        elif isinstance(shape, Rect):
            found.add(("rect", round(shape.x, 6), shape.y, shape.width, shape.height, shape.fill, shape.dash))
    return found


@given(TRIALS)
def test_mirrored_cross_is_the_cross_of_the_mirrored_trial(trial: Trial) -> None:
    direction = SWAPPED.get(trial.direction, trial.direction) if trial.direction is not None else None
    other = Trial(
        sway=trial.sway,
        direction=direction,
        ended=trial.ended,
        seconds=trial.seconds,
        not_examined=trial.not_examined,
    )
    assert geometry(placed(sway_cross(trial).shapes, mirror=True)) == geometry(sway_cross(other).shapes)


@given(trial=TRIALS, names=st.booleans(), text_scale=st.floats(1, 1.6))
def test_cross_stays_inside_its_box_with_its_words_in_the_shipped_font(
    trial: Trial, names: bool, text_scale: float, text_width: Callable[[Text], float]
) -> None:
    drawn = sway_cross(trial, names=names, text_scale=text_scale)
    left, top, right, bottom = enclosing(drawn.shapes)
    assert (drawn.left, drawn.top, drawn.left + drawn.width, drawn.top + drawn.height) == pytest.approx(
        (left, top, right, bottom)
    )
    for text in (shape for shape in drawn.shapes if isinstance(shape, Text)):
        half = text_width(text) / 2
        assert drawn.left <= text.x - half
        assert text.x + half <= drawn.left + drawn.width


def test_patients_right_is_at_the_left_and_forward_is_down() -> None:
    assert lines(sway_cross(Trial(sway="slight", direction="right")))[0].x1 == -14.5
    assert lines(sway_cross(Trial(sway="slight", direction="left")))[0].x1 == 14.5
    assert lines(sway_cross(Trial(sway="slight", direction="forward")))[0].y1 == 14.5
    assert lines(sway_cross(Trial(sway="slight", direction="backward")))[0].y1 == -14.5
    letters = {shape.words: shape.x for shape in sway_cross(Trial()).shapes if isinstance(shape, Text)}
    assert letters["R"] < 0 < letters["L"]


@pytest.mark.parametrize(
    ("sway", "distances"), [("slight", [14.5]), ("moderate", [14.5, 20]), ("marked", [14.5, 20, 25.5])]
)
def test_grade_is_the_number_of_lines_across_the_direction(sway: Sway, distances: list[float]) -> None:
    drawn = lines(sway_cross(Trial(sway=sway, direction="forward")))
    assert [line.y1 for line in drawn] == distances
    assert all((line.x1, line.x2, line.y1 - line.y2, line.width) == (-7, 7, 0, 2.4) for line in drawn)


def test_no_sway_is_a_square_in_the_centre() -> None:
    shapes = sway_cross(Trial(sway="none", ended="held")).shapes
    assert Rect(-2.5, -2.5, 5, 5) in shapes
    assert not [shape for shape in shapes if isinstance(shape, Line)]


def test_any_direction_marks_all_four() -> None:
    assert len(lines(sway_cross(Trial(sway="moderate", direction="any")))) == 8
    assert len(lines(sway_cross(Trial(sway="moderate", direction="any", ended="fell")))) == 12


def test_sway_without_a_direction_stands_in_the_centre() -> None:
    places: dict[Sway, list[float]] = {"slight": [0], "moderate": [-2.75, 2.75], "marked": [-5.5, 0, 5.5]}
    for sway, expected in places.items():
        drawn = lines(sway_cross(Trial(sway=sway)))
        assert [line.x1 for line in drawn] == expected
        assert all((line.y1, line.y2) == (-7, 7) for line in drawn)


@pytest.mark.parametrize("ended", ENDINGS)
def test_lost_balance_is_a_bar_beyond_the_tile(ended: Ended) -> None:
    bars = [
        line for line in lines(sway_cross(Trial(sway="marked", direction="backward", ended=ended))) if line.width == 3
    ]
    lost = ended in {"stepped", "opened_eyes", "needed_support", "fell"}
    assert bars == ([Line(-9, -32.5, 9, -32.5, 3)] if lost else [])


def test_balance_lost_to_nowhere_known_is_still_shown() -> None:
    assert Line(-9, 7.5, 9, 7.5, 3) in sway_cross(Trial(sway="marked", ended="fell")).shapes


def test_tiles_of_a_blank_are_empty_and_of_the_unexamined_broken() -> None:
    tiles = [shape for shape in sway_cross(Trial()).shapes if isinstance(shape, Rect)]
    broken = [shape for shape in sway_cross(Trial(not_examined="unsafe")).shapes if isinstance(shape, Rect)]
    assert [(tile.x, tile.y, tile.width) for tile in tiles] == [
        (-9, -9, 18),
        (-9, 11, 18),
        (-9, -29, 18),
        (-29, -9, 18),
        (11, -9, 18),
    ]
    assert all(tile.fill is None and not tile.dash for tile in tiles)
    assert all(tile.fill is None and tile.dash == (2.6, 2.2) for tile in broken)


@pytest.mark.parametrize(
    ("trial", "words"),
    [
        (Trial(), "blank"),
        (Trial(not_examined="unable"), "not examined; could not"),
        (Trial(sway="none", ended="held", seconds=30), "no sway; stood for the full 30\u202fs"),
        (Trial(sway="slight", direction="forward", ended="held"), "slight sway, forward; stood for the full time"),
        (
            Trial(sway="marked", direction="right", ended="stepped", seconds=12),
            "marked sway, to the right; stepped at 12\u202fs",
        ),
        (
            Trial(sway="moderate", direction="any", ended="needed_support", seconds=4),
            "moderate sway, any direction; needed support at 4\u202fs",
        ),
        (Trial(sway="slight"), "slight sway, direction blank; ending blank"),
        (Trial(sway="none", seconds=12), "no sway; 12\u202fs, ending blank"),
        (Trial(ended="fell"), "sway blank; fell"),
        (
            Trial(sway="moderate", direction="left", ended="stopped_early"),
            "moderate sway, to the left; stopped by examiner",
        ),
    ],
)
def test_cross_ends_in_words_that_say_what_is_blank(trial: Trial, words: str) -> None:
    assert sway_cross(trial).words == words


def test_every_grade_direction_and_ending_is_told_apart_in_grey(in_grey: Callable[..., bytes]) -> None:
    trials = [Trial(), Trial(not_examined="unsafe"), Trial(sway="none")]
    trials += [Trial(sway=sway, direction=to) for sway in SWAYS[1:] for to in (*DIRECTIONS, None)]
    trials += [Trial(sway="marked", direction=to, ended="fell") for to in (*DIRECTIONS, None)]
    drawn = [in_grey(sway_cross(trial), scale=1) for trial in trials]
    assert len(set(drawn)) == len(trials)


def test_trial_that_was_not_examined_holds_no_finding() -> None:
    with pytest.raises(ValueError, match="holds no finding"):
        Trial(sway="none", not_examined="unable")
