"""The opening of a paper: its title, the item line, who and when, and urgent findings in their frames."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

from neuroform.figures.item_line import PAPER, Segment
from neuroform.figures.item_line import item_line as drawn_line
from neuroform.figures.marks import urgent_frame
from neuroform.figures.shapes import Figure, Shape, figure, placed
from neuroform.notes import looks
from neuroform.notes.blocks import prose
from neuroform.notes.content import Column, Paper, Urgent
from neuroform.notes.flow import Slice, once, room, root
from neuroform.notes.pages import Pages
from neuroform.notes.paragraphs import Paragraph, Run, paragraph
from neuroform.notes.tagging import Element

_WIDTH = looks.RIGHT - looks.LEFT
_COLUMNS = (0.0, 193.7, 343.7)
_LINE_AT = 74.7
_NAMES_AT = 89.0
_SECTION_GAP = 9.0


def slices(paper: Paper) -> list[Slice]:
    """Return the opening of a paper from its title to what has to be done first."""
    found = [_title(paper)]
    if paper.kind == "patient_letter":
        found += _intro(paper)
    else:
        if paper.person:
            found += [room(9), _columns(paper.columns), room(9), *_person_line(paper)]
        else:
            found += [_columns(paper.columns), room(6)]
    for urgent in paper.urgent:
        found += [_urgent(urgent, framed=paper.kind != "referral"), room(5)]
    if paper.urgent:
        found.append(room(4))
    if paper.first is not None:
        found += [*prose(paper.first, ruled=False), room(4)]
    return found


def _title(paper: Paper) -> Slice:
    line = bool(paper.item_line)
    patient = paper.kind == "patient_letter"
    when = paragraph(paper.when, looks.DATE, width=_WIDTH, align="right")
    title = _title_lines(paper, _WIDTH if patient else _WIDTH - when.widest - 10)
    more = title.height - title.leading
    height = (_NAMES_AT if line else looks.HEAD) - looks.TOP + 10 + more

    def draw(pages: Pages, _y: float) -> None:
        pages.write(title, pages.root.add("H1"), x=looks.LEFT, y=looks.HEAD)
        if not patient:
            pages.write(when, pages.root.add("P"), x=looks.LEFT, y=looks.HEAD)
        if line:
            _item_line(pages, paper, more)

    return Slice(height=height, draw=draw)


def _title_lines(paper: Paper, width: float) -> Paragraph:
    """Set the title, smaller where it would take a second line beside the day."""
    for size in (looks.TITLE.size, 16.0):
        title = _title_in(paper, size, width)
        if len(title.lines) == 1:
            return title
    return _title_in(paper, 14.5, width)


def _title_in(paper: Paper, size: float, width: float) -> Paragraph:
    runs = [Run(paper.title, replace(looks.TITLE, size=size))]
    if paper.kind_word:
        runs.append(Run(f"\u2002{paper.kind_word}", replace(looks.KIND, size=size)))
    return paragraph(runs, looks.TITLE, width=width)


def _item_line(pages: Pages, paper: Paper, down: float) -> None:
    names = [paragraph(name, looks.SECTION, width=_WIDTH) for name, _segments in paper.item_line]
    segments = [held for _name, held in paper.item_line]
    widths = _section_widths([name.widest for name in names], [len(held) for held in segments])
    starts = [0.0, *accumulate(width + _SECTION_GAP for width in widths)]
    element = pages.root.add("Figure", alt=paper.item_line_words)
    pages.figure(_line(segments, widths, starts), element, x=looks.LEFT, y=_LINE_AT + down, scale=1)
    with pages.content(element):
        for name, start in zip(names, starts, strict=False):
            pages.lines(name, x=looks.LEFT + start, y=_NAMES_AT + down)


def _line(segments: Sequence[Sequence[Segment]], widths: Sequence[float], starts: Sequence[float]) -> Figure:
    shapes: list[Shape] = []
    for held, width, start in zip(segments, widths, starts, strict=False):
        each = (width - PAPER.gap * (len(held) - 1)) / len(held)
        shapes += placed(drawn_line(held, each, PAPER).shapes, start)
    return figure(shapes, "", box=(0, -8, _WIDTH, _NAMES_AT - _LINE_AT + 3))


def _section_widths(words: Sequence[float], counts: Sequence[int]) -> list[float]:
    """Share the line out: each section as wide as its name at least, else by how many items it has."""
    free = _WIDTH - _SECTION_GAP * (len(words) - 1)
    low, high = 0.0, free
    for _halving in range(40):
        middle = (low + high) / 2
        if sum(max(word, count * middle) for word, count in zip(words, counts, strict=True)) > free:
            high = middle
        else:
            low = middle
    return [max(word, count * low) for word, count in zip(words, counts, strict=True)]


def _columns(columns: Sequence[Column]) -> Slice:
    starts = _COLUMNS if len(columns) == 3 else (0.0, 275.0)
    ends = [*starts[1:], _WIDTH + 8]
    set_columns = []
    tallest = 0.0
    for column, start, end in zip(columns, starts, ends, strict=True):
        caption = paragraph(column.caption, looks.CAPTION, width=end - start - 8)
        first = looks.PERSON if column.strong else looks.DETAIL
        styles = [first, *(looks.DETAIL for _line in column.lines[1:])]
        lines = [
            paragraph(words, style, width=end - start - 8) for words, style in zip(column.lines, styles, strict=True)
        ]
        set_columns.append((start, caption, lines))
        tallest = max(tallest, caption.height + sum(line.height for line in lines))

    def draw(pages: Pages, y: float) -> None:
        for start, caption, lines in set_columns:
            at = y + 9
            pages.write(caption, pages.root.add("P"), x=looks.LEFT + start, y=at)
            at += caption.height + 1
            for line in lines:
                pages.write(line, pages.root.add("P"), x=looks.LEFT + start, y=at)
                at += line.height

    return Slice(height=tallest + 9, draw=draw)


def _person_line(paper: Paper) -> list[Slice]:
    """Return the person of a letter below a strong rule."""
    name, *details = paper.person
    runs = [Run(name, looks.PERSON), Run(f" \u2003{', '.join(details)}", looks.DETAIL)]
    line = paragraph(runs, looks.PERSON, width=_WIDTH)

    def draw(pages: Pages, y: float) -> None:
        pages.rule(x1=looks.LEFT, x2=looks.RIGHT, y=y, width=1.2, colour="ink")
        pages.write(line, pages.root.add("P"), x=looks.LEFT, y=y + 17)

    return [Slice(height=line.height + 16, draw=draw)]


def _intro(paper: Paper) -> list[Slice]:
    line = paragraph(paper.intro, looks.BODY, width=_WIDTH)
    made = once(root, "P")
    return [Slice(height=line.height + 8, draw=lambda pages, y: pages.write(line, made(pages), x=looks.LEFT, y=y + 9))]


def _urgent(urgent: Urgent, *, framed: bool) -> Slice:
    """Set an urgent finding in its frame; in a letter, whose reader it is the reason for, on the letter's own grid."""
    width = looks.RIGHT - looks.TEXT - 10
    message, source = _message(urgent, width)
    word = paragraph(urgent.word, looks.STRONG, width=70)
    caption = paragraph(urgent.caption, looks.QUIET, width=70)
    square = urgent_frame(urgent.urgency)
    below = source.height if source is not None else 0.0
    height = max(message.height + below, word.height + caption.height) + (9 if framed else 6)
    left = looks.LEFT + (9 if framed else 0)

    def draw(pages: Pages, y: float) -> None:
        if framed:
            pages.frame(left=looks.LEFT, top=y, width=_WIDTH, height=height, line=0.8)
        with pages.decoration():
            pages.mark(square, x=left, y=y + (9.5 if framed else 4), scale=1)
        box: Element = pages.root.add("Sect")
        pages.write(word, box.add("H2"), x=left + 21, y=y + 14.5)
        pages.write(caption, box.add("P"), x=left + 21, y=y + 27)
        pages.write(message, box.add("P"), x=looks.TEXT, y=y + 14.5)
        if source is not None:
            pages.write(source, box.add("P"), x=looks.TEXT, y=y + 14 + message.height - 0.5)

    return Slice(height=height, draw=draw)


def _message(urgent: Urgent, width: float) -> tuple[Paragraph, Paragraph | None]:
    """Set the message and its source below it, or behind it where its last line has room."""
    message = paragraph(urgent.message, looks.STRONG, width=width)
    if not urgent.source:
        return message, None
    runs = [Run(urgent.message, looks.STRONG), Run(f" \u2002{urgent.source}", looks.QUIET)]
    both = paragraph(runs, looks.STRONG, width=width)
    if len(message.lines) > 1 and len(both.lines) == len(message.lines):
        return both, None
    return message, paragraph(urgent.source, looks.QUIET, width=width)
