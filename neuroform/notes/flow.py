"""Strips of a page that are never broken, and how they are shared out over pages."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from neuroform.notes import looks
from neuroform.notes.measures import now
from neuroform.notes.pages import Pages
from neuroform.notes.paragraphs import Paragraph
from neuroform.notes.tagging import Element, Tag

Shared = list[list[tuple[float, "Slice"]]]
"""Slices by page, each with its y."""
Maker = Callable[[Pages], Element]
"""Gives the element that content belongs to, made when it is first drawn, so that the tree is in reading order."""


@dataclass(frozen=True, kw_only=True)
class Slice:
    """A strip of a page that is never broken."""

    height: float
    draw: Callable[[Pages, float], None]
    """Draws it with its upper edge at a y."""
    keep: bool = False
    """It stays with the next one."""
    soft: bool = False
    """It stays with the next one where that takes no more pages."""
    gap: bool = False
    """Empty room, left out where a page begins."""
    head: "Slice | None" = None
    """What is repeated above it where a page begins with it."""


def lines_of(
    text: Paragraph,
    element: Maker,
    *,
    x: float,
    ascent: float | None = None,
    keep_last: bool = False,
) -> list[Slice]:
    """Return a paragraph as slices of one line; its first two lines stay together, and so do its last two."""
    count = len(text.lines)
    drop = looks.BASELINE * text.leading if ascent is None else ascent

    def drawer(number: int) -> Callable[[Pages, float], None]:
        alone = Paragraph(
            lines=(text.lines[number],), leading=text.leading, width=text.width, tag=text.tag, align=text.align
        )
        return lambda pages, y: pages.write(alone, element(pages), x=x, y=y + drop)

    return [
        Slice(
            height=text.leading,
            draw=drawer(number),
            keep=(number == 0 and count > 1) or number == count - 2 or (keep_last and number == count - 1),
        )
        for number in range(count)
    ]


def once(parent: Maker, tag: Tag) -> Maker:
    """Return a function that gives an element, made below its parent when it is first drawn."""
    made: list[Element] = []

    def element(pages: Pages) -> Element:
        if not made:
            made.append(parent(pages).add(tag))
        return made[0]

    return element


def root(pages: Pages) -> Element:
    """Return the document's own element."""
    return pages.root


def room(height: float) -> Slice:
    """Return empty room of a height."""
    return Slice(height=height, draw=lambda _pages, _y: None, gap=True)


def together(slices: Iterable[Slice]) -> Slice:
    """Return slices as one that is never broken."""
    parts: list[tuple[float, Slice]] = []
    height = 0.0
    for each in slices:
        parts.append((height, each))
        height += each.height
    return Slice(height=height, draw=_drawing(parts))


def _drawing(parts: list[tuple[float, Slice]]) -> Callable[[Pages, float], None]:
    def draw(pages: Pages, y: float) -> None:
        for down, each in parts:
            each.draw(pages, y + down)

    return draw


def in_company(slices: Sequence[Slice]) -> list[Slice]:
    """Keep the end of some slices with whatever follows them, so that it doesn't stand alone on a page."""
    kept = list(slices)
    held, alone = 0.0, True
    for place in range(len(kept) - 1, -1, -1):
        held += kept[place].height
        # One strip is company, however high it is.
        if held > looks.COMPANY and not kept[place].gap and not alone:
            break
        alone = alone and kept[place].gap
        kept[place] = replace(kept[place], keep=True)
    return kept


def shared_out(slices: Sequence[Slice], *, foot: float) -> Shared:
    """Give each slice its page and its y above `foot`; what stays together moves on together where it can.

    The empty room between blocks shrinks, no further than it has to, where that saves a page.
    """
    loose = _least_pages(slices, foot)
    if not any(each.soft for each in slices):
        return loose
    whole = _least_pages([replace(each, keep=each.keep or each.soft) for each in slices], foot)
    return whole if len(whole) <= len(loose) else loose


def _least_pages(slices: Sequence[Slice], foot: float) -> Shared:
    usual = _shared_out(slices, foot)
    if len(usual) == 1 or len(least := _shared_out(_squeezed(slices, looks.SQUEEZED), foot)) == len(usual):
        return usual
    tried = (_shared_out(_squeezed(slices, part), foot) for part in _PARTS)
    return next((pages for pages in tried if len(pages) == len(least)), least)


_PARTS = (0.9, 0.8, 0.7, 0.6, 0.5)


def _squeezed(slices: Iterable[Slice], part: float) -> list[Slice]:
    return [replace(each, height=each.height * part) if each.gap else each for each in slices]


def _shared_out(slices: Sequence[Slice], foot: float) -> Shared:
    pages: Shared = [[]]
    y = looks.TOP + now().letterhead
    for group in _kept_together(slices):
        height = sum(each.height for each in group)
        if y + height > foot and pages[-1] and not group[0].gap and height <= foot - looks.TOP_AFTER:
            pages.append([])
            y = looks.TOP_AFTER
        for each in group:
            if each.gap and not pages[-1]:
                continue
            if y + each.height > foot and pages[-1] and not each.gap:
                pages.append([])
                y = looks.TOP_AFTER
            if each.head is not None and not pages[-1]:
                pages[-1].append((y, each.head))
                y += each.head.height
            pages[-1].append((y, each))
            y += each.height
    return pages


def _kept_together(slices: Sequence[Slice]) -> Iterable[list[Slice]]:
    group: list[Slice] = []
    for each in slices:
        group.append(each)
        # Empty room before a group is no part of it.
        if not each.keep or (each.gap and len(group) == 1):
            yield group
            group = []
    if group:
        yield group
