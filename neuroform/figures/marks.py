"""The small marks beside a finding: each state has its own shape, so that it is told apart without colour."""

from functools import cache
from typing import Literal

from neuroform.figures.shapes import Box, Figure, Line, Path, Rect, Shape, figure, polygon
from neuroform.language import N_, _

Mark = Literal["normal", "abnormal", "borderline", "not_examined", "blank", "does_not_fit", "partly_tested"]
Urgency = Literal["immediate", "same_day", "within_days"]
Answer = Literal["normal", "abnormal", "borderline", "not_examined", "copied", "focus"]

CELL: Box = (-4.0, 0.0, 4.0, 16.0)

MARK_WORDS: dict[Mark, str] = {
    "normal": N_("normal"),
    "abnormal": N_("abnormal"),
    "borderline": N_("borderline"),
    "not_examined": N_("not examined"),
    "blank": N_("blank"),
    "does_not_fit": N_("does not fit"),
    "partly_tested": N_("partly tested"),
}
URGENCY_WORDS: dict[Urgency, str] = {
    "immediate": N_("Now"),
    "same_day": N_("Today"),
    "within_days": N_("Within days"),
}

_STROKE = 1.7
_LINE = Line(0, 2, 0, 14, _STROKE)
_FOOT = Rect(-3.5, 13, 7, 1.1, fill="quiet")
_MARKS: dict[Mark, tuple[Shape, ...]] = {
    "normal": (_LINE,),
    "abnormal": (Line(0, 1, 0, 15, 1.4), polygon(((0, 2.5), (3.4, 8), (0, 13.5), (-3.4, 8)))),
    "borderline": (_LINE, Rect(-2.5, 7.2, 5, 1.6)),
    "not_examined": tuple(Line(0, top, 0, foot, _STROKE) for top, foot in ((2, 5), (6.5, 9.5), (11, 14))),
    "blank": (_FOOT,),
    "does_not_fit": (Path((-2.5, 1), ((-2.5, 8), (2.5, 8), (2.5, 15)), stroke="ink", stroke_width=_STROKE),),
    "partly_tested": (Line(0, 2, 0, 8, _STROKE), _FOOT),
}

_FRAME = 14.0
_FRAME_STROKE = 1.6
_FILLED: dict[Urgency, float] = {"immediate": 14.0, "same_day": 7.0, "within_days": 3.6}


def mark(kind: Mark) -> Figure:
    """Draw the mark of a state in a cell 8 wide and 16 high, its axis at x 0."""
    return figure(_MARKS[kind], _(MARK_WORDS[kind]), box=CELL)


def mark_shapes(kind: Mark) -> tuple[Shape, ...]:
    """Return the mark's shapes alone, to be placed in a larger drawing."""
    return _MARKS[kind]


def urgent_frame(urgency: Urgency) -> Figure:
    """Draw the frame of an urgent finding, 14 by 14, filled from its foot the more the sooner it must be seen to."""
    return figure(_urgent(urgency), _(URGENCY_WORDS[urgency]), box=(0, 0, _FRAME, _FRAME))


def answer_line(kind: Answer, width: float) -> Figure:
    """Draw the line an answer stands on, `width` long, its upper edge at y 0.

    A choice in focus has a thinner line; a borderline answer has that of a normal one, its mark tells it.
    """
    shapes: tuple[Shape, ...]
    if kind == "copied":
        shapes = (Rect(0, 0, width, 1.6), Rect(0, 3.1, width, 1.6))
    elif kind == "not_examined":
        shapes = (Line(0, 1, width, 1, 2, dash=(4, 3)),)
    else:
        shapes = (Rect(0, 0, width, {"abnormal": 4.0, "focus": 1.2}.get(kind, 1.6)),)
    return figure(shapes, "", box=(0, 0, width, 4.7))


def plumb(length: float) -> Figure:
    """Draw the plumb line that falls from the item in focus at the origin; its bob is hollow, so it is no finding."""
    bob = Path(
        (0, length),
        ((4, length + 7), (0, length + 14), (-4, length + 7)),
        closed=True,
        stroke="accent",
        stroke_width=1.5,
    )
    return figure((Line(0, 0, 0, length, 1.5, "accent"), bob), "", box=(-5, 0, 5, length + 15.2))


@cache
def _urgent(urgency: Urgency) -> tuple[Shape, ...]:
    inset, filled = _FRAME_STROKE / 2, _FILLED[urgency]
    inner = _FRAME - _FRAME_STROKE
    return (
        Rect(inset, inset, inner, inner, fill=None, stroke="urgent", stroke_width=_FRAME_STROKE),
        Rect(0, _FRAME - filled, _FRAME, filled, fill="urgent"),
    )
