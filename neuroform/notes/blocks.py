"""The blocks of a paper as strips: each a heading at the side and what stands beside it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from neuroform.figures.marks import Mark, mark, urgent_frame
from neuroform.notes import looks
from neuroform.notes.content import (
    Block,
    Call,
    Explained,
    Findings,
    Kind,
    Marked,
    Prose,
    RunIn,
    Signatures,
    Summary,
)
from neuroform.notes.flow import Maker, Slice, lines_of, once, room, root, together
from neuroform.notes.measures import now
from neuroform.notes.pages import HEIGHT, Pages
from neuroform.notes.paragraphs import Run, paragraph
from neuroform.notes.pieces import Style

SIGNATURE = (186.0, 64.0)
"""Width and height of a signature's place in points."""
_ASCENT = looks.BASELINE * looks.HEADING.leading
_BULLET = 12.0
"""Room for the mark before a line of a list."""


@dataclass(frozen=True, kw_only=True)
class SignatureBox:
    """Where a signature will stand."""

    page: int
    """From 0."""
    box: tuple[float, float, float, float]
    """Left, bottom, right, top in points from the page's lower left corner."""


def slices(block: Block, kind: Kind, boxes: dict[str, SignatureBox]) -> list[Slice]:
    """Return a block as strips; the places for signatures enter `boxes` when they are drawn."""
    # What draws rows and figures is imported here, because it lays out with this module's headings.
    from neuroform.notes.rows import findings
    from neuroform.notes.summary import summary

    match block:
        case Prose() if kind == "patient_letter":
            return plain_prose(block)
        case Prose():
            letter = kind == "referral"
            return prose(block, ruled=not letter, style=now().letter if letter and block.tone == "body" else None)
        case RunIn():
            return _run_in(block)
        case Marked():
            return _marked(block)
        case Findings():
            return findings(block)
        case Explained():
            return _explained(block)
        case Summary():
            return summary(block)
        case Call():
            return _call(block)
        case Signatures():
            return _signatures(block, boxes, kind)


def headed(heading: str, right: Sequence[Slice], *, ruled: bool = True, style: Style = looks.HEADING) -> list[Slice]:
    """Set a heading beside the first strip of a text, so that it is never left alone, under a rule if asked."""
    text = paragraph(heading, style, width=now().heading_width, tag="H2")
    made = once(root, "H2")
    first = right[0]

    def draw(pages: Pages, y: float) -> None:
        pages.write(text, made(pages), x=now().left, y=y + _ASCENT)
        first.draw(pages, y)

    strips = [replace(first, draw=draw), *right[1:]]
    short = text.height - sum(each.height for each in right)
    if short > 0:
        strips[-1] = Slice(height=strips[-1].height + short, draw=strips[-1].draw)
    if not ruled:
        return [room(looks.BEFORE_LETTER), *strips]
    return [room(looks.BEFORE_RULE), _rule(), *strips]


def prose(block: Prose, *, ruled: bool = True, style: Style | None = None) -> list[Slice]:
    """Return paragraphs beside their heading."""
    chosen = style or {"body": now().body, "small": now().small, "tiny": looks.TINY}[block.tone]
    right: list[Slice] = text(block.before, now().small_strong) if block.before else []
    for words in block.paragraphs:
        right += text(words, chosen)
    if block.after:
        right += text(block.after, looks.QUIET)
    if block.whole:
        right = [replace(each, soft=True) for each in right[:-1]] + right[-1:]
    return headed(block.heading, right, ruled=ruled)


def plain_prose(block: Prose) -> list[Slice]:
    """Return paragraphs below their heading, as the patient's letter has them."""
    heading = paragraph(block.heading, now().patient_heading, width=min(looks.PATIENT_WIDTH, now().width))
    found = [room(9), *lines_of(heading, once(root, "H2"), x=now().left, keep_last=True)]
    for words in block.paragraphs:
        made = paragraph(words, now().patient, width=min(looks.PATIENT_WIDTH, now().width))
        found += lines_of(made, once(root, "P"), x=now().left)
    return found


def text(words: str | Sequence[Run], style: Style, parent: Maker = root) -> list[Slice]:
    """Return a paragraph beside the headings as strips."""
    made = paragraph(words, style, width=now().text_width)
    return lines_of(made, once(parent, "P"), x=now().text, ascent=_ASCENT)


def _rule() -> Slice:
    return Slice(
        height=looks.AFTER_RULE,
        draw=lambda pages, y: pages.rule(x1=now().left, x2=now().right, y=y),
        keep=True,
    )


def _run_in(block: RunIn) -> list[Slice]:
    if block.flowing:
        runs = [run for lead, words in block.lines for run in _led(lead, f"{words}  ")]
        return headed(block.heading, text(runs, now().small))
    listed = once(root, "L")
    right: list[Slice] = []
    for lead, words in block.lines:
        runs = _led(lead, words)
        body = once(once(listed, "LI"), "LBody")
        made = paragraph(runs, now().small, width=now().text_width)
        right += lines_of(made, body, x=now().text, ascent=_ASCENT)
    return headed(block.heading, right)


def _led(lead: str, words: str) -> list[Run]:
    said = Run(words, now().small)
    return [Run(f"{lead}: ", now().small_strong), said] if lead else [said]


def _marked(block: Marked) -> list[Slice]:
    listed = once(root, "L")
    right: list[Slice] = []
    for kind, label, why in block.entries:
        body = once(once(listed, "LI"), "LBody")
        runs = [Run(label, looks.ITEM), Run(f"\u2002{why}", looks.SYSTEM)]
        made = paragraph(runs, looks.SYSTEM, width=now().text_width - 11)
        lines = lines_of(made, body, x=now().text + 11, ascent=_ASCENT)
        lines[0] = _with_mark(lines[0], kind)
        lines[-1] = Slice(height=lines[-1].height + 2.4, draw=lines[-1].draw, keep=lines[-1].keep)
        right += lines
    return headed(block.heading, right)


def _with_mark(strip: Slice, kind: Mark) -> Slice:
    figure = mark(kind)

    def draw(pages: Pages, y: float) -> None:
        with pages.decoration():
            pages.mark(figure, x=now().text + 3, y=y + _ASCENT - 8.4, scale=looks.MARK)
        strip.draw(pages, y)

    return Slice(height=strip.height, draw=draw, keep=strip.keep)


def _explained(block: Explained) -> list[Slice]:
    right: list[Slice] = []
    for what, reason in block.entries:
        lines = text(what, now().body)
        lines[-1] = Slice(height=12.5, draw=lines[-1].draw, keep=True)
        told = text(reason, looks.QUIET)
        told[-1] = replace(told[-1], height=told[-1].height + 2.5)
        right += [*lines, *told]
    return headed(block.heading, right)


def _call(block: Call) -> list[Slice]:
    width = now().right - now().left
    inner = width - 40 - 12 - _BULLET
    heading = paragraph(block.heading, now().patient_heading, width=inner)
    lines = [paragraph(words, now().patient, width=inner) for words in block.lines]
    bullet = paragraph("•", now().patient, width=_BULLET)
    height = heading.height + sum(line.height for line in lines) + 22

    def draw(pages: Pages, y: float) -> None:
        pages.frame(left=now().left, top=y, width=width, height=height, line=1.2)
        with pages.decoration():
            pages.mark(urgent_frame("immediate"), x=now().left + 15, y=y + 13, scale=1)
        at = y + 25
        box = pages.root.add("Sect")
        pages.write(heading, box.add("H2"), x=now().left + 40, y=at)
        at += heading.height
        listed = box.add("L")
        for line in lines:
            with pages.decoration():
                pages.lines(bullet, x=now().left + 40, y=at)
            pages.write(line, listed.add("LI").add("LBody"), x=now().left + 40 + _BULLET, y=at)
            at += line.height

    return [room(14), Slice(height=height, draw=draw), room(6)]


def _signatures(block: Signatures, boxes: dict[str, SignatureBox], kind: Kind) -> list[Slice]:
    width, height = SIGNATURE
    starts = {"author": now().text, "supervisor": now().right - width}

    def draw(pages: Pages, y: float) -> None:
        top = y + 4
        for role, left in starts.items():
            # A little smaller than the signature's own frame, which covers it.
            pages.frame(left=left + 1.2, top=top + 1.2, width=width - 2.4, height=height - 2.4, line=0.7, dash=(3, 2))
            box = (left, HEIGHT - top - height, left + width, HEIGHT - top)
            boxes[role] = SignatureBox(page=pages.page, box=box)
            pages.root.add("Form").form = role

    strips = [Slice(height=height + 8, draw=draw, keep=bool(block.advice))]
    if block.advice:
        strips.append(together(text(block.advice, looks.QUIET)))
    ruled = kind not in {"referral", "patient_letter"}
    style = now().patient_heading if kind == "patient_letter" else looks.HEADING
    placed = headed(block.heading, strips, ruled=ruled, style=style)
    return placed if ruled else [room(8), *placed]
