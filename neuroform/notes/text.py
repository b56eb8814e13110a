"""A paper as plain text to paste elsewhere: urgent findings before anything else, sides as words, no columns."""

from collections.abc import Iterable, Iterator

from neuroform.figures.noted import NARROW_SPACE
from neuroform.figures.sway_cross import in_words
from neuroform.language import in_english
from neuroform.notes.content import (
    Block,
    Call,
    Cell,
    Explained,
    Findings,
    Marked,
    Paper,
    Prose,
    Row,
    RunIn,
    Signatures,
    Summary,
)
from neuroform.notes.pieces import clean


@in_english()
def written(paper: Paper) -> str:
    """Return a paper as text of whole lines; it begins with the urgent findings."""
    lines = [*_urgent(paper), *_head(paper)]
    if paper.first is not None:
        lines += _block(paper.first)
    for block in paper.blocks:
        lines += _block(block)
    lines += ["", paper.foot.person, paper.foot.paper, paper.foot.caution, paper.foot.version]
    if paper.banner:
        lines.append(paper.banner)
    text = "\n".join(clean(line) for line in lines).replace(NARROW_SPACE, " ").replace("\N{NO-BREAK SPACE}", " ")
    return f"{text.strip()}\n"


def _urgent(paper: Paper) -> Iterator[str]:
    for urgent in paper.urgent:
        yield f"{urgent.word} ({urgent.caption}): {urgent.message}"
        if urgent.found:
            yield f"  {urgent.found}"
        if urgent.source:
            yield f"  {urgent.source}"
    if paper.urgent:
        yield ""


def _head(paper: Paper) -> Iterator[str]:
    if paper.banner:
        yield paper.banner
    yield f"{paper.title}, {paper.kind_word}" if paper.kind_word else paper.title
    yield paper.intro or paper.when
    if paper.person:
        yield ", ".join(paper.person)
    for column in paper.columns:
        yield f"{column.caption}: {'; '.join(column.lines)}"
    if paper.item_line_words:
        yield paper.item_line_words


def _block(block: Block) -> Iterator[str]:
    yield ""
    match block:
        case Prose():
            yield block.heading
            if block.before:
                yield block.before
            yield from block.paragraphs
            if block.after:
                yield block.after
        case RunIn():
            yield block.heading
            yield from (f"{lead}: {words}" if lead else words.strip() for lead, words in block.lines)
        case Marked():
            yield block.heading
            yield from (f"- {label}: {why}" for _mark, label, why in block.entries)
        case Findings():
            yield block.heading
            yield from (_row(row) for row in block.rows)
        case Explained():
            yield block.heading
            yield from (f"- {what} {reason}" for what, reason in block.entries)
        case Summary():
            yield from _summary(block)
        case Call():
            yield block.heading
            yield from (f"- {words}" for words in block.lines)
        case Signatures():
            yield block.heading
            author, supervisor = block.waiting
            yield f"{block.author}: {author}"
            yield f"{block.supervisor}: {supervisor}"


def _row(row: Row) -> str:
    cells = (("right ", row.right), ("left ", row.left), ("", row.single))
    return f"- {row.label}: " + "; ".join(f"{side}{_cell(cell)}" for side, cell in cells if cell is not None)


def _cell(cell: Cell) -> str:
    return f"{cell.words} ({', '.join(cell.notes)})" if cell.notes else cell.words


def _summary(block: Summary) -> Iterable[str]:
    yield block.heading
    yield block.stance
    for title, trial in block.crosses:
        yield f"- {title}: {in_words(trial)}"
    for name, state, _mark in block.systems:
        yield f"- {name}: {state}"
    yield block.legs_words
