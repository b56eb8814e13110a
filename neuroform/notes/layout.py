"""Lays a paper out on A4 pages, and says where the signatures will stand."""

from dataclasses import dataclass, replace

from neuroform.language import in_english
from neuroform.notes import blocks, looks, opening
from neuroform.notes.content import Foot, Paper, Signatures
from neuroform.notes.flow import Slice, in_company, shared_out
from neuroform.notes.measures import now, using
from neuroform.notes.pages import HEIGHT, Pages
from neuroform.notes.paragraphs import Paragraph, Run, paragraph


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
    with using(paper.measures):
        return _laid_out(paper)


def _laid_out(paper: Paper) -> UnsignedPaper:
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
    """Draw logo and demonstration's banner; on later pages title and day, which the structure names once."""
    if first and paper.logo:
        pages.logo(paper.logo, right=now().right, top=looks.LOGO_AT, high=looks.LOGO_HIGH)
    if paper.banner:
        banner = paragraph(paper.banner, looks.BANNER, width=now().width)
        if first:
            down = paper.measures.letterhead
            pages.write(banner, pages.root.add("P"), x=now().left, y=looks.BANNER_AT + down)
        else:
            with pages.decoration("Pagination"):
                pages.lines(banner, x=now().left, y=looks.BANNER_AT)
    if not first:
        with pages.decoration("Pagination"):
            pages.lines(paragraph(paper.title, looks.RUNNING, width=now().width), x=now().left, y=looks.HEAD)
            when = paragraph(paper.when, looks.RUNNING_DAY, width=now().width, align="right")
            pages.lines(when, x=now().left, y=looks.HEAD)


def _foot_lines(foot: Foot) -> Paragraph:
    runs = [Run(foot.person, looks.FOOT_STRONG), Run(f"  \u2003{foot.paper}", looks.FOOT_PLAIN)]
    return paragraph(runs, looks.FOOT_STRONG, width=now().width - 70)


def _raised(foot: Paragraph) -> float:
    """Return how far the foot's rule rises for a long name, which takes lines upwards, never off the page."""
    return (len(foot.lines) - 1) * foot.leading


def _foot(pages: Pages, foot: Foot, person: Paragraph, number: int, count: int) -> None:
    """Write the foot: decoration, since it stands on every page and would break the reading order.

    On the last page person, caution and version are content, or someone who doesn't see the page would never meet them.
    """
    counted = foot.page.replace("{number}", str(number)).replace("{count}", str(count))
    rule = HEIGHT - 42 - _raised(person)
    page = paragraph(counted, looks.FOOT_STRONG, width=now().width, align="right")
    caution = paragraph(foot.caution, looks.FOOT_QUIET, width=now().width - 110)
    version = paragraph(foot.version, looks.FOOT_QUIET, width=now().width, align="right")
    pages.rule(x1=now().left, x2=now().right, y=rule)
    if number < count:
        with pages.decoration("Pagination"):
            pages.lines(person, x=now().left, y=rule + 11)
            pages.lines(page, x=now().left, y=rule + 11)
            pages.lines(caution, x=now().left, y=HEIGHT - 20)
            pages.lines(version, x=now().left, y=HEIGHT - 20)
        return
    pages.write(person, pages.root.add("P"), x=now().left, y=rule + 11)
    with pages.decoration("Pagination"):
        pages.lines(page, x=now().left, y=rule + 11)
    pages.write(caution, pages.root.add("P"), x=now().left, y=HEIGHT - 20)
    pages.write(version, pages.root.add("P"), x=now().left, y=HEIGHT - 20)
