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
from neuroform.notes.measures import now
from neuroform.notes.pages import Pages
from neuroform.notes.paragraphs import Paragraph, Run, paragraph
from neuroform.notes.tagging import Element

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
    when = paragraph(paper.when, looks.DATE, width=now().width, align="right")
    title = _title_lines(paper, now().width if patient else now().width - when.widest - 10)
    more = title.height - title.leading
    height = (_NAMES_AT if line else looks.HEAD) - looks.TOP + 10 + more

    def draw(pages: Pages, y: float) -> None:
        down = y - looks.TOP
        pages.write(title, pages.root.add("H1"), x=now().left, y=looks.HEAD + down)
        if not patient:
            pages.write(when, pages.root.add("P"), x=now().left, y=looks.HEAD + down)
        if line:
            _item_line(pages, paper, down + more)

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
    names = [paragraph(name, looks.SECTION, width=now().width) for name, _segments in paper.item_line]
    segments = [held for _name, held in paper.item_line]
    widths = _section_widths([name.widest for name in names], [len(held) for held in segments])
    starts = [0.0, *accumulate(width + _SECTION_GAP for width in widths)]
    element = pages.root.add("Figure", alt=paper.item_line_words)
    pages.figure(_line(segments, widths, starts), element, x=now().left, y=_LINE_AT + down, scale=1)
    with pages.content(element):
        for name, start in zip(names, starts, strict=False):
            pages.lines(name, x=now().left + start, y=_NAMES_AT + down)


def _line(segments: Sequence[Sequence[Segment]], widths: Sequence[float], starts: Sequence[float]) -> Figure:
    shapes: list[Shape] = []
    for held, width, start in zip(segments, widths, starts, strict=False):
        each = (width - PAPER.gap * (len(held) - 1)) / len(held)
        shapes += placed(drawn_line(held, each, PAPER).shapes, start)
    return figure(shapes, "", box=(0, -8, now().width, _NAMES_AT - _LINE_AT + 3))


def _section_widths(words: Sequence[float], counts: Sequence[int]) -> list[float]:
    """Share the line out: each section as wide as its name at least, else by how many items it has."""
    free = now().width - _SECTION_GAP * (len(words) - 1)
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
    ends = [*starts[1:], now().width + 8]
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
            pages.write(caption, pages.root.add("P"), x=now().left + start, y=at)
            at += caption.height + 1
            for line in lines:
                pages.write(line, pages.root.add("P"), x=now().left + start, y=at)
                at += line.height

    return Slice(height=tallest + 9, draw=draw)


def _person_line(paper: Paper) -> list[Slice]:
    """Return the person of a letter below a strong rule."""
    name, *details = paper.person
    runs = [Run(name, looks.PERSON), Run(f" \u2003{', '.join(details)}", looks.DETAIL)]
    line = paragraph(runs, looks.PERSON, width=now().width)

    def draw(pages: Pages, y: float) -> None:
        pages.rule(x1=now().left, x2=now().right, y=y, width=1.2, colour="ink")
        pages.write(line, pages.root.add("P"), x=now().left, y=y + 17)

    return [Slice(height=line.height + 16, draw=draw)]


def _intro(paper: Paper) -> list[Slice]:
    line = paragraph(paper.intro, now().body, width=now().width)
    made = once(root, "P")
    return [Slice(height=line.height + 8, draw=lambda pages, y: pages.write(line, made(pages), x=now().left, y=y + 9))]


def _urgent(urgent: Urgent, *, framed: bool) -> Slice:
    """Set an urgent finding in its frame; in a letter, whose reader it is the reason for, on the letter's own grid."""
    width = now().right - now().text - 10
    message, source = _message(urgent, width)
    word = paragraph(urgent.word, now().strong, width=70)
    caption = paragraph(urgent.caption, looks.QUIET, width=70)
    square = urgent_frame(urgent.urgency)
    below = source.height if source is not None else 0.0
    height = max(message.height + below, word.height + caption.height) + (9 if framed else 6)
    left = now().left + (9 if framed else 0)

    def draw(pages: Pages, y: float) -> None:
        if framed:
            pages.frame(left=now().left, top=y, width=now().width, height=height, line=0.8)
        with pages.decoration():
            pages.mark(square, x=left, y=y + (9.5 if framed else 4), scale=1)
        box: Element = pages.root.add("Sect")
        pages.write(word, box.add("H2"), x=left + 21, y=y + 14.5)
        pages.write(caption, box.add("P"), x=left + 21, y=y + 27)
        pages.write(message, box.add("P"), x=now().text, y=y + 14.5)
        if source is not None:
            pages.write(source, box.add("P"), x=now().text, y=y + 14 + message.height - 0.5)

    return Slice(height=height, draw=draw)


def _message(urgent: Urgent, width: float) -> tuple[Paragraph, Paragraph | None]:
    """Set the message, below it what was found, and the source behind that; with nothing found behind the message."""
    message = paragraph(urgent.message, now().strong, width=width)
    if urgent.found:
        below = [Run(urgent.found, now().small)]
        if urgent.source:
            below.append(Run(f" \u2002{urgent.source}", looks.QUIET))
        return message, paragraph(below, now().small, width=width)
    if not urgent.source:
        return message, None
    runs = [Run(urgent.message, now().strong), Run(f" \u2002{urgent.source}", looks.QUIET)]
    both = paragraph(runs, now().strong, width=width)
    if len(message.lines) > 1 and len(both.lines) == len(message.lines):
        return both, None
    return message, paragraph(urgent.source, looks.QUIET, width=width)
