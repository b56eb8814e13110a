"""How much room the window has, and the measures every part of it shares."""

from typing import Literal

Shape = Literal["full", "middle", "folded"]
"""Width by text scale of 1120 and more, 900 to 1119, less."""

MARGIN = 24


def shape_of(width: int, scale: float) -> Shape:
    """Return the shape a window of this width has at a text scale."""
    effective = width / scale
    return "full" if effective >= 1120 else "middle" if effective >= 900 else "folded"


def margin(width: int, scale: float) -> int:
    """Return the margin of the page; where room is scarce it does not grow with the text."""
    return MARGIN if shape_of(width, scale) == "folded" else round(MARGIN * scale)


HEAD, STRIP, BAND, LAST = 40, 60, 187, 31
"""Heights of the window's parts; the last line is the foot of the band."""
HEAD_FOLDED, STRIP_FOLDED = 31, 45
