"""Where something that scrolls may end, so that no line of it is cut."""

from collections.abc import Iterable

from neuroform.desktop.laid import Fill, Laid, Words
from neuroform.desktop.theme import Theme

Span = tuple[float, float]
"""Top and bottom of a line."""


def whole_to(spans: Iterable[Span], y: float) -> float:
    """Return the last place above `y`, or `y` itself, that cuts no line."""
    for top, bottom in sorted(spans, reverse=True):
        if top < y < bottom:
            y = top
    return y


def whole_from(spans: Iterable[Span], y: float) -> float:
    """Return the first place below `y`, or `y` itself, that cuts no line."""
    for top, bottom in sorted(spans):
        if top < y < bottom:
            y = bottom
    return y


def lines(theme: Theme, laid: Laid) -> list[Span]:
    """Return where the lines of a row laid out stand: its words, and the rules below them."""
    found: list[Span] = []
    for thing in laid.things:
        if isinstance(thing, Words):
            measures = theme.metrics(thing.role)
            found.append((thing.y - measures.ascent(), thing.y + measures.descent()))
        elif isinstance(thing, Fill) and not thing.frame and thing.rect.height() < theme.px(6):
            found.append((thing.rect.top() - theme.px(5), thing.rect.bottom()))
    return found
