"""The item line: one segment an item, told apart by shape; what is abnormal stands up from it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from neuroform.figures.shapes import Box, Figure, Line, Path, Rect, Shape, figure, placed
from neuroform.language import N_, _

State = Literal["answered", "blank", "not_examined", "copied", "together"]


@dataclass(frozen=True, kw_only=True)
class Segment:
    """One item that is to be examined."""

    state: State
    abnormal: bool = False
    does_not_fit: bool = False
    """It stands in a contradiction; its upright then steps aside, abnormal or not."""


@dataclass(frozen=True, kw_only=True)
class Sizes:
    """How large an item line is drawn."""

    height: float
    """Of a segment; everything on it keeps its proportion to a segment 5 high."""
    gap: float
    """Between segments."""
    section_gap: float
    """Between sections on one line."""

    @property
    def unit(self) -> float:
        """One unit of the strip's drawing at this size."""
        return self.height / 5


STRIP = Sizes(height=5, gap=2, section_gap=16)
SUPERVISION = Sizes(height=4, gap=1.4, section_gap=7)
PAPER = Sizes(height=3.6, gap=1.4, section_gap=8)

SUPERVISION_SEGMENT = 7.45
STRIP_PITCH = 10.5
"""Least room an item takes under a section's name in the strip, gap included."""

_STEP_WIDTH = 1.8
_ABOVE = 9.9
_BELOW = 4.0


def segment_width(total: float, count: int, sizes: Sizes = STRIP) -> float:
    """Return how wide each of `count` segments is when they fill a line `total` long."""
    return (total - sizes.gap * (count - 1)) / count if count else 0.0


def item_line(segments: Sequence[Segment], width: float, sizes: Sizes = STRIP) -> Figure:
    """Draw `segments`, each `width` wide, from x 0; their upper edge is y 0."""
    long = _length(len(segments), width, sizes)
    return figure(_shapes(segments, width, sizes), in_words(segments), box=_room(long, sizes))


def sections_line(sections: Sequence[Sequence[Segment]], width: float, sizes: Sizes = SUPERVISION) -> Figure:
    """Draw the segments of several sections on one line, a wider gap between sections."""
    shapes: list[Shape] = []
    x = 0.0
    for segments in sections:
        shapes += placed(_shapes(segments, width, sizes), x)
        x += _length(len(segments), width, sizes) + (sizes.section_gap if segments else 0.0)
    every = [segment for segments in sections for segment in segments]
    return figure(shapes, in_words(every), box=_room(max(x - sizes.section_gap, 0.0), sizes))


def in_words(segments: Sequence[Segment]) -> str:
    """Say how far the items are: how many are answered or explained, and what stands out."""
    done = sum(segment.state != "blank" for segment in segments)
    parts = [_(N_("{done} of {all} answered or explained")).format(done=done, all=len(segments))]
    counts = (
        (N_("abnormal: {count}"), sum(segment.abnormal for segment in segments)),
        (N_("does not fit: {count}"), sum(segment.does_not_fit for segment in segments)),
        (N_("not examined: {count}"), _count(segments, "not_examined")),
        (N_("copied from the other side: {count}"), _count(segments, "copied")),
        (N_("answered with one key: {count}"), _count(segments, "together")),
        (N_("blank: {count}"), _count(segments, "blank")),
    )
    parts += [_(words).format(count=count) for words, count in counts if count]
    return "; ".join(parts)


def _count(segments: Sequence[Segment], state: State) -> int:
    return sum(segment.state == state for segment in segments)


def _length(count: int, width: float, sizes: Sizes) -> float:
    return count * width + max(count - 1, 0) * sizes.gap


def _room(long: float, sizes: Sizes) -> Box:
    return (0.0, -_ABOVE * sizes.unit, long, sizes.height + _BELOW * sizes.unit)


def _shapes(segments: Sequence[Segment], width: float, sizes: Sizes) -> list[Shape]:
    shapes: list[Shape] = []
    x = 0.0
    for state, group in groupby(segments, key=lambda segment: segment.state):
        start = x
        for segment in group:
            shapes += placed(_bar(state, width / sizes.unit), x, scale=sizes.unit)
            shapes += placed(_upright(segment, width / sizes.unit), x, scale=sizes.unit)
            x += width + sizes.gap
        if state == "together":
            shapes += placed(_bracket((x - sizes.gap - start) / sizes.unit), start, scale=sizes.unit)
    return shapes


def _bar(state: State, width: float) -> Iterator[Shape]:
    if state == "blank":
        yield Rect(0.5, 0.5, width - 1, 4, fill=None, stroke="rule", stroke_width=1)
    elif state == "not_examined":
        dashes = max(2, round(width / 4.5))
        pitch = width / (dashes - 0.35)
        for count in range(dashes):
            yield Rect(count * pitch, 1.25, 0.65 * pitch, 2.5)
    elif state == "copied":
        yield Rect(0, 0, width, 1.7)
        yield Rect(0, 3.3, width, 1.7)
    else:
        yield Rect(0, 0, width, 5)


def _upright(segment: Segment, width: float) -> Iterator[Shape]:
    middle = width / 2
    if segment.does_not_fit:
        aside = min(2.5, middle - _STEP_WIDTH / 2)
        steps = ((middle - aside, -4.5), (middle + aside, -4.5), (middle + aside, 0))
        yield Path((middle - aside, -9), steps, stroke="ink", stroke_width=_STEP_WIDTH)
    elif segment.abnormal:
        yield Line(middle, -7, middle, 0, 2)


def _bracket(length: float) -> Iterator[Shape]:
    steps = ((0.5, 8), (length - 0.5, 8), (length - 0.5, -2))
    yield Path((0.5, -2), steps, stroke="ink", stroke_width=1)
