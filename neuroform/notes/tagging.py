"""The structure of a paper for those who do not see it: headings, lists, tables and figures in reading order."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from pikepdf import Dictionary, Pdf

Tag = Literal[
    "Document", "Sect", "H1", "H2", "H3", "P", "Span", "L", "LI", "Lbl", "LBody", "Table", "TR", "TH", "TD", "Figure"
]
Scope = Literal["Column", "Row"]
Box = tuple[float, float, float, float]


@dataclass(frozen=True, kw_only=True)
class Content:
    """A stretch of a page's content that belongs to an element."""

    page: int
    number: int
    """Its MCID on that page."""


@dataclass(kw_only=True, eq=False)
class Element:
    """One element of the structure tree; it grows while the pages are drawn."""

    tag: Tag
    alt: str = ""
    """What a figure shows."""
    scope: Scope | None = None
    """Of a table's heading."""
    span: int = 1
    """How many columns a table's cell takes."""
    box: Box | None = None
    """Where a figure stands: left, bottom, right, top in points."""
    kids: "list[Element | Content]" = field(default_factory=list)

    def add(self, tag: Tag, *, alt: str = "", scope: Scope | None = None, span: int = 1) -> "Element":
        """Return a new last child."""
        child = Element(tag=tag, alt=alt, scope=scope, span=span)
        self.kids.append(child)
        return child

    def walk(self) -> "Iterator[Element]":
        """Yield the element and all below it in reading order."""
        yield self
        for kid in self.kids:
            if isinstance(kid, Element):
                yield from kid.walk()


def tag(pdf: bytes, root: Element, *, language: str) -> bytes:
    """Return a reportlab document with `root` as its structure tree, its language, and its title shown in the window.

    `root` is the Document element whose contents were drawn with their MCIDs.
    """
    from io import BytesIO

    import pikepdf

    with pikepdf.open(BytesIO(pdf)) as document:
        _write_tree(document, root)
        document.Root.Lang = pikepdf.String(language)
        document.Root.MarkInfo = pikepdf.Dictionary(Marked=True)
        document.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
        for page in document.pages:
            # reportlab leaves an empty transition on every page, which PDF/A forbids.
            if "/Trans" in page.obj:
                del page.obj["/Trans"]
        out = BytesIO()
        document.save(out, deterministic_id=True)
    return out.getvalue()


def _write_tree(document: "Pdf", root: Element) -> None:
    from pikepdf import Array, Dictionary, Name

    owners: list[dict[int, Dictionary]] = [{} for _page in document.pages]
    tree = document.make_indirect(Dictionary(Type=Name.StructTreeRoot))
    tree.K = Array([_write(document, root, tree, owners)])
    numbers = Array()
    for index, (page, owned) in enumerate(zip(document.pages, owners, strict=True)):
        page.obj.StructParents = index
        page.obj.Tabs = Name.S
        held = [owned[number] for number in range(len(owned))]
        numbers.append(index)
        numbers.append(document.make_indirect(Array(held)))
    tree.ParentTree = document.make_indirect(Dictionary(Nums=numbers))
    tree.ParentTreeNextKey = len(owners)
    document.Root.StructTreeRoot = tree


def _write(
    document: "Pdf", element: Element, parent: "Dictionary", owners: "list[dict[int, Dictionary]]"
) -> "Dictionary":
    from pikepdf import Array, Dictionary, Name, String

    made = document.make_indirect(Dictionary(Type=Name.StructElem, S=Name(f"/{element.tag}"), P=parent))
    if element.alt:
        made.Alt = String(element.alt)
    if element.scope is not None or element.span > 1:
        made.A = Dictionary(O=Name.Table)
        if element.scope is not None:
            made.A.Scope = Name(f"/{element.scope}")
        if element.span > 1:
            made.A.ColSpan = element.span
    if element.box is not None:
        made.A = Dictionary(O=Name.Layout, Placement=Name.Block, BBox=Array([round(side, 2) for side in element.box]))
    kids = Array()
    for kid in element.kids:
        if isinstance(kid, Element):
            kids.append(_write(document, kid, made, owners))
            continue
        page = document.pages[kid.page].obj
        if "/Pg" not in made:
            made.Pg = page
        owners[kid.page][kid.number] = made
        if made.Pg.objgen == page.objgen:
            kids.append(kid.number)
        else:
            kids.append(Dictionary(Type=Name.MCR, Pg=page, MCID=kid.number))
    made.K = kids
    return made
