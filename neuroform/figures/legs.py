"""The legs: shaded to where feeling is lost, a dimension line a kind, reflexes at the joints; front and back."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Literal

from neuroform.figures import leg_words
from neuroform.figures.leg_outline import SOLE, View, below, crossings, outline, stroked
from neuroform.figures.leg_words import LEVELS, Kind, LegFindings, Side
from neuroform.figures.marks import Mark, mark_shapes
from neuroform.figures.noted import Noted, Sides
from neuroform.figures.shapes import Figure, Line, Path, Shape, Text, figure, placed, text_width
from neuroform.language import N_, _

AXIS = 14.5
TOPS: dict[str, float] = {
    "toes": 115.0,
    "foot": 110.0,
    "ankle": 104.0,
    "mid_calf": 82.0,
    "knee": 58.0,
    "thigh": 30.0,
    "groin": 3.0,
}
"""Height where a loss up to this level ends."""

_CUTS = {"foot": 106.0, "below_knee": 76.0, "above_knee": 36.0}
_HATCH = 2.4
_NOT_EXAMINED_TOP = 84.0
_FIRST_LINE = 41.0
_LINE_PITCH = 22.2
_LABELS: dict[Kind, str] = {"pinprick": N_("pin"), "light_touch": N_("touch"), "temperature": N_("heat")}
_MARK_SCALE = 0.65
_KNEE, _ANKLE = 50.0, 95.0
_LABEL_EDGE = 37.0
_LETTER_EDGE = 32.0


@dataclass(frozen=True, kw_only=True)
class _Leg:
    side: Side
    mirrored: bool
    """True for the leg on the right of the drawing."""


def legs(
    findings: LegFindings,
    *,
    views: tuple[View, ...] = ("front", "back"),
    kinds: tuple[Kind, ...] = ("pinprick", "light_touch", "temperature"),
    brief: bool = False,
    text_scale: float = 1.0,
) -> Figure:
    """Draw the legs in each of `views`, the first about the origin, the next to its right.

    `kinds` get a dimension line beside the front view; `brief` names the sides by a letter; `text_scale` keeps words
    readable where the drawing is small. The figure's words tell all of it and always stand with it.
    """
    size = 8.3 * text_scale
    shapes: list[Shape] = []
    edge = 0.0
    for place, view in enumerate(views):
        drawn = figure(_view(findings, view, kinds, brief, size), "")
        x = 0.0 if place == 0 else edge + 12 - drawn.left
        shapes += placed(drawn.shapes, x)
        edge = x + drawn.left + drawn.width
    return figure(shapes, leg_words.in_words(findings))


def _view(findings: LegFindings, view: View, kinds: tuple[Kind, ...], brief: bool, size: float) -> Iterator[Shape]:
    facing: tuple[Side, Side] = ("right", "left") if view == "front" else ("left", "right")
    for side, mirrored in zip(facing, (False, True), strict=True):
        leg = _Leg(side=side, mirrored=mirrored)
        whole = _leg(view, _highest(findings, side), _cut(findings, side))
        yield from placed(whole, AXIS if mirrored else -AXIS, mirror=mirrored)
        yield from _reflex(findings, view, leg)
        if view == "front":
            yield from _dimensions(findings, kinds, leg, size)
        else:
            yield from _reflex_words(findings, leg, size)
    yield from _names(view, kinds, brief, size)


@cache
def _leg(view: View, lost: str | None, end: float) -> tuple[Shape, ...]:
    """Draw the leg on the left of the drawing, its axis at x 0, lost up to a level and ending at a height."""
    curves = outline(view, end if end < SOLE else None)
    shapes: list[Shape] = []
    reached = lost is not None and TOPS[lost] < end
    if lost is not None and reached:
        shapes.append(below(curves, TOPS[lost], "shade"))
        height = TOPS[lost] + _HATCH
        while height < end - 1:
            shapes += (Line(left, height, right, height, 0.5, "ink2") for left, right in crossings(curves, height))
            height += _HATCH
    if end > _KNEE + 10:
        shapes.append(_crease(view))
    if view == "front" and end == SOLE:
        shapes += (Line(x, 117, x, 119.8, 0.5, "ink2") for x in (-8.7, -6.1, -3.5, -0.9))
    shapes.append(stroked(curves, "ink", 0.8))
    if lost is not None and reached:
        top = TOPS[lost]
        shapes += (Line(left, top, right, top, 1.6) for left, right in crossings(curves, top))
    return tuple(shapes)


def _crease(view: View) -> Path:
    """Draw the lower rim of the kneecap, or the fold behind the knee."""
    half, top, pull = (3.9, 55.0, 60.7) if view == "front" else (4.7, 57.0, 58.9)
    return Path((-half, top), ((-half, pull, half, pull, half, top),), stroke="rule", stroke_width=0.55)


def _highest(findings: LegFindings, side: Side) -> str | None:
    levels = [_of(kind, side).value for kind in (findings.pinprick, findings.light_touch, findings.temperature)]
    lost = [level for level in levels if level is not None and level != "none"]
    return max(lost, key=LEVELS.index) if lost else None


def _cut(findings: LegFindings, side: Side) -> float:
    missing = findings.missing_right if side == "right" else findings.missing_left
    return SOLE if missing is None else _CUTS[missing]


def _of(pair: Sides, side: Side) -> Noted:
    return pair.right if side == "right" else pair.left


def _reflex(findings: LegFindings, view: View, leg: _Leg) -> Iterator[Shape]:
    noted = _of(findings.knee if view == "front" else findings.ankle, leg.side)
    top = _KNEE if view == "front" else _ANKLE
    if top < _cut(findings, leg.side):
        yield from placed(
            mark_shapes(reflex_mark(noted)),
            AXIS if leg.mirrored else -AXIS,
            top,
            scale=_MARK_SCALE,
            mirror=leg.mirrored,
        )


def reflex_mark(noted: Noted) -> Mark:
    """Return the mark of a reflex; unless it was judged, all but a normal or flexor one is marked abnormal."""
    if noted.not_examined is not None:
        return "not_examined"
    if noted.value is None:
        return "blank"
    abnormal = noted.value not in {"normal", "flexor"} if noted.abnormal is None else noted.abnormal
    return "abnormal" if abnormal else "normal"


def _dimensions(findings: LegFindings, kinds: tuple[Kind, ...], leg: _Leg, size: float) -> Iterator[Shape]:
    way = 1.0 if leg.mirrored else -1.0
    for place, kind in enumerate(kinds):
        x = way * (_FIRST_LINE + place * _pitch(kinds, size))
        yield from placed(_dimension(_of(findings.feeling(kind), leg.side)), x, mirror=leg.mirrored)
        yield Text(x, 121.5 + size, _(_LABELS[kind]), size, 500, "middle", "ink2")


def _pitch(kinds: tuple[Kind, ...], size: float) -> float:
    return max(_LINE_PITCH, *(text_width(_(_LABELS[kind]), size) for kind in kinds)) if kinds else 0.0


def _dimension(noted: Noted) -> Iterator[Shape]:
    if noted.not_examined is not None:
        yield Line(0, _NOT_EXAMINED_TOP, 0, SOLE, 0.7, "ink2", (2.0, 1.6))
    elif noted.value is None:
        yield from placed(mark_shapes("blank"), 0, SOLE - 14.1)
    elif noted.value == "none":
        yield from placed(mark_shapes("normal"), 0, SOLE - 14)
    else:
        top = TOPS[noted.value]
        yield Line(0, top, 0, SOLE, 0.8)
        for y in (top, SOLE):
            yield Line(-1.6, y, 1.6, y, 0.8)


def _reflex_words(findings: LegFindings, leg: _Leg, size: float) -> Iterator[Shape]:
    way = 1.0 if leg.mirrored else -1.0
    anchor: Literal["start", "end"] = "start" if leg.mirrored else "end"
    cut = _cut(findings, leg.side)
    for pair, words, baseline, leader in (
        (findings.knee, leg_words.KNEE, 58.7, 56.0),
        (findings.ankle, leg_words.ANKLE, 103.6, 101.0),
        (findings.plantar, leg_words.PLANTAR, 119.0, SOLE),
    ):
        noted = _of(pair, leg.side)
        strong = reflex_mark(noted) == "abnormal"
        said = _(words).format(finding=leg_words.short_words(noted))
        yield Text(
            way * _LABEL_EDGE, baseline, said, size, 600 if strong else 400, anchor, "ink" if strong else "quiet"
        )
        if leader < cut:
            yield Line(way * 33.5, leader, way * 18.7, leader, 0.5, "rule")


def _names(view: View, kinds: tuple[Kind, ...], brief: bool, size: float) -> Iterator[Shape]:
    outer = _FIRST_LINE + (len(kinds) - 1) * _pitch(kinds, size) + 12 if kinds else _LABEL_EDGE
    if brief:
        yield Text(-_LETTER_EDGE, 9, _(N_("R") if view == "front" else N_("L")), size, 600, "end", "ink2")
        yield Text(_LETTER_EDGE, 9, _(N_("L") if view == "front" else N_("R")), size, 600, "start", "ink2")
    elif view == "front":
        outer = max(outer, 32 + text_width(_(N_("patient’s right")), size))
        yield Text(-outer, 9, _(N_("patient’s right")), size, 600, "start", "ink2")
        yield Text(outer, 9, _(N_("patient’s left")), size, 600, "end", "ink2")
    else:
        yield Text(-_LABEL_EDGE, 9, _(N_("left")), size, 600, "end", "ink2")
        yield Text(_LABEL_EDGE, 9, _(N_("right")), size, 600, "start", "ink2")
    if not brief:
        name = N_("front") if view == "front" else N_("back¦of a leg")
        yield Text(0, 125 + size, _(name), size, 500, "middle", "ink2")
