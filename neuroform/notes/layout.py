"""Lays a paper out on A4 pages, and says where the signatures will stand."""

from dataclasses import dataclass, replace

from neuroform.language import in_english
from neuroform.notes import blocks, looks, opening
from neuroform.notes.content import Foot, Paper, Signatures
from neuroform.notes.flow import Slice, in_company, shared_out
from neuroform.notes.pages import HEIGHT, Pages
from neuroform.notes.paragraphs import Paragraph, Run, paragraph

_WIDTH = looks.RIGHT - looks.LEFT


@dataclass(frozen=True, kw_only=True)
class UnsignedPaper:
    """A paper before its examination is attached and anybody signs it."""

    pdf: bytes
    signature_boxes: "dict[str, blocks.SignatureBox]"
    """Of the "author" and the "supervisor"."""
    title: str
    """The document's, with the person it is about."""
    language: str
    page_count: int


@in_english()
def lay_out(paper: Paper) -> UnsignedPaper:
    """Return a paper as tagged PDF pages; raises GlyphError for a character no shipped face holds."""
    boxes: dict[str, blocks.SignatureBox] = {}
    slices: list[Slice] = opening.slices(paper)
    for block in paper.blocks:
        made = blocks.slices(block, paper.kind, boxes)
        if isinstance(block, Signatures):
            slices = in_company(slices)
            # The room before the signatures holds to them too, or it would part them from their company.
            made = [replace(each, keep=True) if each.gap else each for each in made]
        slices += made
    foot = _foot_lines(paper.foot)
    placed = shared_out(slices, foot=looks.FOOT - _raised(foot))
    kind = f"{paper.title}, {paper.kind_word}" if paper.kind_word else paper.title
    title = f"{kind}: {paper.foot.person}"
    pages = Pages(title=title, author=paper.author, subject=paper.foot.paper)
    for number, held in enumerate(placed):
        if number:
            pages.turn()
        _head(pages, paper, first=number == 0)
        for y, each in held:
            each.draw(pages, y)
        _foot(pages, paper.foot, foot, number + 1, len(placed))
    pdf = pages.finished(language=paper.language)
    return UnsignedPaper(pdf=pdf, signature_boxes=boxes, title=title, language=paper.language, page_count=len(placed))


def _head(pages: Pages, paper: Paper, *, first: bool) -> None:
    """Write the demonstration's banner, and on later pages the title and the day, which the structure names once."""
    if paper.banner:
        banner = paragraph(paper.banner, looks.BANNER, width=_WIDTH)
        if first:
            pages.write(banner, pages.root.add("P"), x=looks.LEFT, y=looks.BANNER_AT)
        else:
            with pages.decoration("Pagination"):
                pages.lines(banner, x=looks.LEFT, y=looks.BANNER_AT)
    if not first:
        with pages.decoration("Pagination"):
            pages.lines(paragraph(paper.title, looks.RUNNING, width=_WIDTH), x=looks.LEFT, y=looks.HEAD)
            when = paragraph(paper.when, looks.RUNNING_DAY, width=_WIDTH, align="right")
            pages.lines(when, x=looks.LEFT, y=looks.HEAD)


def _foot_lines(foot: Foot) -> Paragraph:
    runs = [Run(foot.person, looks.FOOT_STRONG), Run(f"  \u2003{foot.paper}", looks.FOOT_PLAIN)]
    return paragraph(runs, looks.FOOT_STRONG, width=_WIDTH - 70)


def _raised(foot: Paragraph) -> float:
    """Return how far the foot's rule rises for a long name, which takes lines upwards, never off the page."""
    return (len(foot.lines) - 1) * foot.leading


def _foot(pages: Pages, foot: Foot, person: Paragraph, number: int, count: int) -> None:
    """Write the foot as decoration: it stands on every page and would break the reading order."""
    counted = foot.page.replace("{number}", str(number)).replace("{count}", str(count))
    rule = HEIGHT - 42 - _raised(person)
    pages.rule(x1=looks.LEFT, x2=looks.RIGHT, y=rule)
    with pages.decoration("Pagination"):
        pages.lines(person, x=looks.LEFT, y=rule + 11)
        pages.lines(paragraph(counted, looks.FOOT_STRONG, width=_WIDTH, align="right"), x=looks.LEFT, y=rule + 11)
        pages.lines(paragraph(foot.caution, looks.FOOT_QUIET, width=_WIDTH - 110), x=looks.LEFT, y=HEIGHT - 20)
        version = paragraph(foot.version, looks.FOOT_QUIET, width=_WIDTH, align="right")
        pages.lines(version, x=looks.LEFT, y=HEIGHT - 20)
