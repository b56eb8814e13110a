"""The table of findings: the patient's right and left always in the same columns, outward from the item's name."""

from dataclasses import dataclass, replace

from neuroform.figures.marks import Answer, answer_line, mark
from neuroform.notes import looks
from neuroform.notes.blocks import headed
from neuroform.notes.content import Cell, Findings, Row
from neuroform.notes.flow import Maker, Slice, once, root
from neuroform.notes.measures import now
from neuroform.notes.pages import Pages
from neuroform.notes.paragraphs import Align, Paragraph, paragraph, width_of
from neuroform.notes.tagging import Element

_ASCENT = looks.BASELINE * looks.HEADING.leading
_LABEL = 2 * (looks.SPINE - 8)
_SINGLE = 9.0
"""From the axis to the name and to the answer of a row with one cell."""
_GAP = 6.0


def _side() -> float:
    """Return the width of the room for one side's answer."""
    return now().axis - looks.ANSWER - now().text


@dataclass(frozen=True, kw_only=True)
class _Set:
    """A cell measured: its answer, and its note beside or below it."""

    cell: Cell
    words: Paragraph
    note: Paragraph | None
    beside: bool

    @property
    def height(self) -> float:
        below = 0.0 if self.note is None or self.beside else self.note.height + 2
        return self.words.height + below


def findings(block: Findings) -> list[Slice]:
    """Return the table as strips, one a row, its heads with the first."""
    table = once(root, "Table")
    again = _heads(block, None)
    rows = [replace(_row(row, table), head=again if row.single is None else None) for row in block.rows]
    # Neither the first nor the last row stands alone on a page.
    if len(rows) > 1:
        rows[0], rows[-2] = replace(rows[0], keep=True), replace(rows[-2], keep=True)
    if all(row.single is not None for row in block.rows):
        return headed(block.heading, rows)
    heads = _heads(block, table)
    return headed(block.heading, [heads, *rows])


def _heads(block: Findings, table: Maker | None) -> Slice:
    """Return the heads of the columns: of the table, or repeated on a later page as decoration."""
    right = paragraph(block.right, looks.COLUMN, width=_side(), align="right")
    left = paragraph(block.left, looks.COLUMN, width=_side())

    def draw(pages: Pages, y: float) -> None:
        if table is None:
            with pages.decoration("Pagination"):
                pages.lines(right, x=now().text, y=y + _ASCENT)
                pages.lines(left, x=now().axis + looks.ANSWER, y=y + _ASCENT)
        else:
            row = table(pages).add("TR")
            pages.write(right, row.add("TH", scope="Column"), x=now().text, y=y + _ASCENT)
            row.add("TD")
            pages.write(left, row.add("TH", scope="Column"), x=now().axis + looks.ANSWER, y=y + _ASCENT)
        pages.rule(x1=now().text, x2=now().right, y=y + 15, colour="hair")

    return Slice(height=16.5, draw=draw, keep=True)


def _row(row: Row, table: Maker) -> Slice:
    if row.single is not None:
        return _single(row, row.single, table)
    right = _measured(row.right, _side(), "right")
    left = _measured(row.left, _side(), "left")
    label = paragraph(row.label, looks.ITEM, width=_LABEL, align="middle")
    tallest = max(label.height, right.height if right else 0.0, left.height if left else 0.0)

    def draw(pages: Pages, y: float) -> None:
        at = y + 11.5
        made = table(pages).add("TR")
        _cell(pages, made.add("TD"), right, at, -1)
        pages.write(label, made.add("TH", scope="Row"), x=now().axis - _LABEL / 2, y=at)
        _cell(pages, made.add("TD"), left, at, 1)

    return Slice(height=_pitch(tallest), draw=draw)


def _single(row: Row, cell: Cell, table: Maker) -> Slice:
    width = now().right - now().axis - _SINGLE
    answer = _measured(cell, width, "left")
    assert answer is not None
    label = paragraph(row.label, looks.ITEM, width=now().axis - _SINGLE - now().text, align="right")

    def draw(pages: Pages, y: float) -> None:
        at = y + 11.5
        made = table(pages).add("TR")
        pages.write(label, made.add("TH", scope="Row"), x=now().text, y=at)
        data = made.add("TD", span=2)
        _mark(pages, data, cell, now().axis, at)
        _answer(pages, data, answer, now().axis + _SINGLE, at)

    return Slice(height=looks.SINGLE_PITCH + max(0.0, label.height - 12, answer.height - 12), draw=draw)


def _pitch(tallest: float) -> float:
    """Return a row's height: the usual pitch, more where something takes a second line."""
    return looks.PITCH + max(0.0, tallest - 12)


def _measured(cell: Cell | None, width: float, align: Align) -> _Set | None:
    if cell is None:
        return None
    strong = cell.mark in {"abnormal", "does_not_fit"}
    style = looks.ANSWER_STRONG if strong else looks.QUIET_ANSWER if cell.mark == "blank" else looks.ANSWER_PLAIN
    words = paragraph(cell.words, style, width=width, align=align)
    if not cell.notes:
        return _Set(cell=cell, words=words, note=None, beside=False)
    notes = ", ".join(cell.notes)
    free = width - words.widest - _GAP
    beside = len(words.lines) == 1 and width_of(notes, looks.NOTE) <= free
    note = paragraph(notes, looks.NOTE, width=free if beside else width, align=align)
    return _Set(cell=cell, words=words, note=note, beside=beside)


def _cell(pages: Pages, element: Element, measured: _Set | None, y: float, way: int) -> None:
    """Draw one side's answer; `way` is -1 for the patient's right, which runs leftward, and 1 for the left."""
    if measured is None:
        return
    _mark(pages, element, measured.cell, now().axis + way * looks.SPINE, y)
    _answer(pages, element, measured, now().text if way < 0 else now().axis + looks.ANSWER, y)


def _answer(pages: Pages, element: Element, measured: _Set, x: float, y: float) -> None:
    words, note = measured.words, measured.note
    pages.write(words, element, x=x, y=y)
    _lines(pages, measured.cell, words, x, y)
    if note is None:
        return
    if not measured.beside:
        pages.write(note, element, x=x, y=y + words.height + 1.5)
    elif words.align == "right":
        pages.write(note, element, x=x, y=y)
    else:
        pages.write(note, element, x=x + words.widest + _GAP, y=y)


def _lines(pages: Pages, cell: Cell, words: Paragraph, x: float, y: float) -> None:
    """Draw the line an answer stands on, under each of its lines; what is blank stands on none."""
    kind = _answer_kind(cell)
    if kind is None:
        return
    with pages.decoration():
        for line in words.lines:
            left = x + (words.width - line.width if words.align == "right" else 0.0)
            pages.mark(answer_line(kind, line.width / looks.LINE), x=left, y=y + 2.6, scale=looks.LINE)
            y += words.leading


def _answer_kind(cell: Cell) -> Answer | None:
    if cell.copied:
        return "copied"
    if cell.mark == "does_not_fit":
        return "abnormal"
    if cell.mark in {"abnormal", "borderline", "not_examined"}:
        return cell.mark
    return None if cell.mark == "blank" else "normal"


def _mark(pages: Pages, element: Element, cell: Cell, x: float, y: float) -> None:
    """Draw a finding's mark; its name is the figure's alternative text."""
    if cell.mark is None:
        return
    drawn = mark(cell.mark)
    pages.figure(drawn, element.add("Figure", alt=drawn.words), x=x, y=y - 8.4, scale=looks.MARK)
