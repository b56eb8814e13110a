"""The legs: shaded to where feeling is lost, on the side it is lost, and always with its sentence."""

from collections.abc import Callable
from itertools import pairwise
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.figures.leg_outline import View, crossings, outline
from neuroform.figures.leg_words import LEVELS, LegFindings, Missing
from neuroform.figures.legs import TOPS, legs, reflex_mark
from neuroform.figures.noted import Noted, Reason, Sides
from neuroform.figures.shapes import Figure, Line, Path, Rect, Shape, Text, placed

REASONS: tuple[Reason, ...] = get_args(Reason)
MISSING: tuple[Missing, ...] = get_args(Missing)
REFLEXES = ("absent", "with_reinforcement", "reduced", "normal", "brisk", "clonus")
PLANTARS = ("flexor", "extensor", "equivocal", "mute")


def noted(values: tuple[str, ...]) -> st.SearchStrategy[Noted]:
    reasons = st.builds(Noted, not_examined=st.sampled_from(REASONS))
    return st.just(Noted()) | reasons | st.builds(Noted, value=st.sampled_from(values))


def sides(values: tuple[str, ...]) -> st.SearchStrategy[Sides]:
    return st.builds(Sides, right=noted(values), left=noted(values))


FINDINGS = st.builds(
    LegFindings,
    pinprick=sides(LEVELS),
    light_touch=sides(LEVELS),
    temperature=sides(LEVELS),
    knee=sides(REFLEXES),
    ankle=sides(REFLEXES),
    plantar=sides(PLANTARS),
    missing_right=st.none() | st.sampled_from(MISSING),
    missing_left=st.none() | st.sampled_from(MISSING),
)


def swapped(findings: LegFindings) -> LegFindings:
    def turn(pair: Sides) -> Sides:
        return Sides(right=pair.left, left=pair.right)

    return LegFindings(
        pinprick=turn(findings.pinprick),
        light_touch=turn(findings.light_touch),
        temperature=turn(findings.temperature),
        knee=turn(findings.knee),
        ankle=turn(findings.ankle),
        plantar=turn(findings.plantar),
        missing_right=findings.missing_left,
        missing_left=findings.missing_right,
    )


def rounded(numbers: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(round(number, 6) + 0.0 for number in numbers)


def geometry(shapes: tuple[Shape, ...]) -> list[tuple[object, ...]]:
    """Return what a drawing holds, but for the names of the sides, whatever way its lines run."""
    found: list[tuple[object, ...]] = []
    for shape in shapes:
        if isinstance(shape, Line):
            ends = sorted([rounded((shape.x1, shape.y1)), rounded((shape.x2, shape.y2))])
            found.append(("line", *ends, shape.width, shape.colour, shape.dash))
        elif isinstance(shape, Rect):
            found.append(("rect", rounded((shape.x, shape.y, shape.width, shape.height)), shape.fill))
        elif isinstance(shape, Path):
            points = sorted([rounded(shape.start), *(rounded(step[-2:]) for step in shape.steps)])
            found.append(("path", tuple(points), shape.fill, shape.stroke, shape.stroke_width))
        elif shape.words not in {"patient’s right", "patient’s left", "right", "left", "R", "L"}:
            found.append(("text", shape.words, rounded((shape.x, shape.y)), shape.anchor, shape.weight))
    return sorted(found, key=repr)


@given(FINDINGS, st.sampled_from(["front", "back"]))
def test_mirrored_legs_are_the_legs_of_the_mirrored_findings(findings: LegFindings, view: View) -> None:
    drawn = placed(legs(findings, views=(view,)).shapes, mirror=True)
    assert geometry(drawn) == geometry(legs(swapped(findings), views=(view,)).shapes)


def along(shape: Path) -> list[tuple[float, float]]:
    """Return points on a path, curves sampled."""
    points = [shape.start]
    for step in shape.steps:
        if len(step) == 2:
            points.append(step)
            continue
        (ax, ay), (bx, by, cx, cy, dx, dy) = points[-1], step
        for part in range(1, 21):
            t, s = part / 20, 1 - part / 20
            weights = (s**3, 3 * s * s * t, 3 * s * t * t, t**3)
            x = sum(w * p for w, p in zip(weights, (ax, bx, cx, dx), strict=True))
            points.append((x, sum(w * p for w, p in zip(weights, (ay, by, cy, dy), strict=True))))
    return points


def inside(drawn: Figure, x: float, y: float) -> bool:
    across = drawn.left - 1e-6 <= x <= drawn.left + drawn.width + 1e-6
    return across and drawn.top - 1e-6 <= y <= drawn.top + drawn.height + 1e-6


@given(findings=FINDINGS, brief=st.booleans(), text_scale=st.floats(1, 1.5))
def test_legs_stay_inside_their_box_with_their_words_in_the_shipped_font(
    findings: LegFindings, brief: bool, text_scale: float, text_width: Callable[[Text], float]
) -> None:
    drawn = legs(findings, brief=brief, text_scale=text_scale)
    for shape in drawn.shapes:
        if isinstance(shape, Path):
            assert all(inside(drawn, x, y) for x, y in along(shape))
        elif isinstance(shape, Text):
            start = shape.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[shape.anchor] * text_width(shape)
            assert inside(drawn, start, shape.y)
            assert inside(drawn, start + text_width(shape), shape.y)
        elif isinstance(shape, Line):
            assert inside(drawn, shape.x1, shape.y1)
            assert inside(drawn, shape.x2, shape.y2)


@pytest.mark.parametrize("view", ["front", "back"])
def test_outline_is_a_leg_between_thigh_and_sole(view: View) -> None:
    curves = outline(view)
    assert len(curves) == 30
    assert curves[0][0] == (-15.2, -2)
    assert curves[-1][3] == (12.6, 2)
    for level in TOPS.values():
        ((left, right),) = crossings(curves, level)
        assert left < 0 < right
        assert right - left > 5


def test_curves_leave_a_point_towards_the_neighbours_of_it() -> None:
    # Control points a sixth of the way between the neighbours: Catmull-Rom as cubic curves.
    (x0, y0), (x1, y1), (x2, y2) = (curve[0] for curve in outline("front")[4:7])
    _start, leaving, _arriving, _end = outline("front")[5]
    assert leaving == pytest.approx((x1 + (x2 - x0) / 6, y1 + (y2 - y0) / 6))


def shaded(findings: LegFindings, view: View) -> dict[str, float]:
    """Return the top of the shading on the left and the right of a drawing."""
    paths = [
        shape for shape in legs(findings, views=(view,)).shapes if isinstance(shape, Path) and shape.fill == "shade"
    ]
    return {"left" if path.start[0] < 0 else "right": round(min(y for _x, y in along(path)), 3) for path in paths}


@pytest.mark.parametrize("level", LEVELS[1:])
def test_shading_ends_at_the_level_on_the_side_of_the_loss(level: str) -> None:
    findings = LegFindings(pinprick=Sides(right=Noted(value=level), left=Noted(value="none")))
    assert shaded(findings, "front") == {"left": TOPS[level]}
    assert shaded(findings, "back") == {"right": TOPS[level]}


def test_levels_are_drawn_at_their_heights() -> None:
    assert TOPS == {"toes": 115, "foot": 110, "ankle": 104, "mid_calf": 82, "knee": 58, "thigh": 30, "groin": 3}


def test_shading_follows_the_highest_kind() -> None:
    findings = LegFindings(
        pinprick=Sides(right=Noted(value="toes"), left=Noted(value="toes")),
        light_touch=Sides(right=Noted(value="knee"), left=Noted(value="none")),
        temperature=Sides(right=Noted(not_examined="no_equipment"), left=Noted()),
    )
    assert shaded(findings, "front") == {"left": TOPS["knee"], "right": TOPS["toes"]}


def test_hatching_is_even_and_stays_inside_the_leg() -> None:
    findings = LegFindings(pinprick=Sides(right=Noted(value="mid_calf")))
    hatch = [
        shape
        for shape in legs(findings, views=("front",)).shapes
        if isinstance(shape, Line) and shape.width == 0.5 and shape.y1 == shape.y2
    ]
    heights = [line.y1 for line in hatch]
    assert heights[0] == pytest.approx(84.4)
    assert all(after - before == pytest.approx(2.4) for before, after in pairwise(heights))
    for line in hatch:
        ((left, right),) = crossings(outline("front"), line.y1)
        assert (line.x1, line.x2) == pytest.approx((left - 14.5, right - 14.5))


@pytest.mark.parametrize(
    "findings",
    [
        LegFindings(),
        LegFindings(pinprick=Sides(right=Noted(value="none"), left=Noted(value="none"))),
        LegFindings(pinprick=Sides(right=Noted(not_examined="declined"), left=Noted(not_examined="declined"))),
    ],
)
def test_nothing_is_shaded_where_nothing_was_lost(findings: LegFindings) -> None:
    assert shaded(findings, "front") == {}


def test_blank_not_reduced_unexamined_and_lost_are_told_apart_in_grey(in_grey: Callable[..., bytes]) -> None:
    kinds = [
        Noted(),
        Noted(value="none"),
        Noted(not_examined="declined"),
        *(Noted(value=level) for level in LEVELS[1:]),
    ]
    drawn = [
        in_grey(legs(LegFindings(light_touch=Sides(right=kind)), views=("front",), brief=True), scale=2)
        for kind in kinds
    ]
    assert len({len(pixels) for pixels in drawn}) == 1
    assert len(set(drawn)) == len(kinds)


def test_loss_above_the_end_of_a_leg_is_shaded_down_to_it() -> None:
    findings = LegFindings(pinprick=Sides(right=Noted(value="thigh")), missing_right="below_knee")
    (path,) = [
        shape for shape in legs(findings, views=("front",)).shapes if isinstance(shape, Path) and shape.fill == "shade"
    ]
    heights = [y for _x, y in along(path)]
    assert (min(heights), max(heights)) == pytest.approx((30, 76))


def test_missing_foot_is_not_drawn_and_is_told() -> None:
    drawn = legs(LegFindings(missing_left="foot"), views=("front",), kinds=())
    leg = [shape for shape in drawn.shapes if isinstance(shape, Path) and shape.stroke == "ink" and shape.start[0] > 0]
    assert max(y for path in leg for _x, y in along(path)) <= 106.1
    assert drawn.words.startswith("The left foot is missing.")


def test_what_cannot_be_reached_is_refused() -> None:
    with pytest.raises(ValueError, match="does not reach"):
        outline("front", 300)


@pytest.mark.parametrize(
    ("reflex", "mark"),
    [
        (Noted(), "blank"),
        (Noted(not_examined="unable"), "not_examined"),
        (Noted(value="normal"), "normal"),
        (Noted(value="flexor"), "normal"),
        (Noted(value="absent"), "abnormal"),
        (Noted(value="extensor"), "abnormal"),
        (Noted(value="brisk"), "abnormal"),
        (Noted(value="brisk", abnormal=False), "normal"),
        (Noted(value="normal", abnormal=True), "abnormal"),
    ],
)
def test_reflex_has_the_mark_of_its_state(reflex: Noted, mark: str) -> None:
    assert reflex_mark(reflex) == mark


def test_reflexes_are_written_on_the_side_they_belong_to() -> None:
    findings = LegFindings(
        knee=Sides(right=Noted(value="normal"), left=Noted(not_examined="absent")),
        ankle=Sides(right=Noted(value="absent"), left=Noted()),
    )
    texts = [shape for shape in legs(findings, views=("back",)).shapes if isinstance(shape, Text)]
    assert {text.words: text.x > 0 for text in texts if text.words.startswith(("knee", "ankle"))} == {
        "knee normal": True,
        "ankle absent": True,
        "knee not examined": False,
        "ankle blank": False,
    }
    assert {text.words: text.weight for text in texts}["ankle absent"] == 600


def test_sentence_says_right_before_left_and_every_state_by_its_own_words() -> None:
    findings = LegFindings(
        pinprick=Sides(right=Noted(value="mid_calf"), left=Noted(value="ankle")),
        light_touch=Sides(right=Noted(value="toes"), left=Noted(value="none")),
        temperature=Sides(right=Noted(not_examined="no_equipment"), left=Noted(not_examined="no_equipment")),
        knee=Sides(right=Noted(value="normal"), left=Noted(value="normal")),
        ankle=Sides(right=Noted(value="absent"), left=Noted()),
        plantar=Sides(right=Noted(value="flexor"), left=Noted(not_examined="absent")),
    )
    assert legs(findings).words == (
        "Pinprick reduced or lost up to the mid-calf on the right and the ankle on the left. "
        "Light touch reduced or lost up to the toes on the right and not reduced on the left. "
        "Temperature not examined (no equipment) on both sides. "
        "Knee reflexes normal on both sides. "
        "Ankle reflex absent on the right and blank on the left. "
        "Plantar response flexor on the right and not examined (limb, eye or joint missing) on the left."
    )


@given(FINDINGS)
def test_drawing_never_stands_without_six_sentences(findings: LegFindings) -> None:
    words = legs(findings).words
    told = (findings.missing_right is not None) + (findings.missing_left is not None) + 6
    assert words.count(". ") + words.endswith(".") == told


def test_unknown_words_are_refused() -> None:
    with pytest.raises(ValueError, match="'hip' is not one of"):
        LegFindings(pinprick=Sides(right=Noted(value="hip")))
    with pytest.raises(ValueError, match="'flexor' is not one of"):
        LegFindings(knee=Sides(left=Noted(value="flexor")))


def test_value_never_stands_beside_a_reason() -> None:
    with pytest.raises(ValueError, match="beside a reason"):
        Noted(value="toes", not_examined="declined")
