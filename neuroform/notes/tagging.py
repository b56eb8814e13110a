"""The structure of a paper for those who do not see it: headings, lists, tables and figures in reading order."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

Tag = Literal[
    "Document",
    "Sect",
    "H1",
    "H2",
    "H3",
    "P",
    "Span",
    "L",
    "LI",
    "Lbl",
    "LBody",
    "Table",
    "TR",
    "TH",
    "TD",
    "Figure",
    "Form",
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
    form: str = ""
    """Of a place for a signature: whose it will be; what is signed there is put into it later."""
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


def write_structure(canvas: "Canvas", root: Element, *, language: str) -> None:
    """Give a canvas whose last page is shown `root` as its structure tree, its language and its title in the window.

    `root` is the Document element whose contents were drawn with their MCIDs. reportlab knows no tags: its catalogue
    and its pages are given what they lack, which rests on its internals; the tests of tagging pin them.
    """
    document = vars(canvas)["_doc"]
    pages = [document.idToObject[f"Page{number}"] for number in range(1, document.pageCounter)]
    tree = _Tree(document, len(pages))
    top = tree.reserve()
    whole = tree.write(root, top)
    parents = [f"{index} {_to(tree.add(_list(map(_to, owners))))}" for index, owners in enumerate(tree.owners())]
    held = f"/K[{_to(whole)}]/ParentTree<</Nums{_list(parents)}>>/ParentTreeNextKey {len(pages)}"
    tree.fill(top, f"<</Type/StructTreeRoot{held}>>")
    for index, page in enumerate(pages):
        page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents, page.Tabs = index, "/S"
        # reportlab leaves an empty transition on every page, which PDF/A forbids.
        page.Trans = None
    catalog = document.Catalog
    catalog.StructTreeRoot, catalog.Lang = _to(top), _text(language)
    catalog.MarkInfo, catalog.ViewerPreferences = "<</Marked true>>", "<</DisplayDocTitle true>>"


class _Tree:
    """Writes elements as objects of a document, numbered before they are filled: each names its parent."""

    def __init__(self, document: Any, pages: int) -> None:
        self._document = document
        self._pages = [self._number(f"Page{page + 1}") for page in range(pages)]
        self._owned: list[dict[int, int]] = [{} for _page in range(pages)]

    def reserve(self) -> int:
        """Return the number of a new object."""
        name = f"Structure{self._document.objectcounter + 1}"
        self._document.Reference(b"", name)
        return self._number(name)

    def fill(self, number: int, held: str) -> None:
        """Say what an object holds."""
        self._document.idToObject[f"Structure{number}"] = held

    def add(self, held: str) -> int:
        """Return the number of a new object that holds this."""
        number = self.reserve()
        self.fill(number, held)
        return number

    def write(self, element: Element, parent: int) -> int:
        """Write an element and all below it; return its number."""
        own = self.reserve()
        page = next((kid.page for kid in element.kids if isinstance(kid, Content)), None)
        kids = []
        for kid in element.kids:
            if isinstance(kid, Element):
                kids.append(_to(self.write(kid, own)))
                continue
            self._owned[kid.page][kid.number] = own
            here = kid.page == page
            kids.append(str(kid.number) if here else f"<</Type/MCR/Pg {_to(self._pages[kid.page])}/MCID {kid.number}>>")
        parts = [f"/Type/StructElem/S/{element.tag}/P {_to(parent)}/K{_list(kids)}", *_attributes(element)]
        if page is not None:
            parts.append(f"/Pg {_to(self._pages[page])}")
        self.fill(own, f"<<{''.join(parts)}>>")
        return own

    def owners(self) -> list[list[int]]:
        """Return the elements that a page's contents belong to, page by page, in the order of their MCIDs."""
        return [[held[number] for number in range(len(held))] for held in self._owned]

    def _number(self, name: str) -> int:
        number: int = self._document.idToObjectNumberAndVersion[name][0]
        return number


def _attributes(element: Element) -> Iterator[str]:
    if element.form:
        yield f"/T{_text(element.form)}"
    if element.alt:
        yield f"/Alt{_text(element.alt)}"
    if element.box is not None:
        yield f"/A<</O/Layout/Placement/Block/BBox{_list(f'{side:.2f}' for side in element.box)}>>"
    elif element.scope is not None or element.span > 1:
        scope = f"/Scope/{element.scope}" if element.scope is not None else ""
        span = f"/ColSpan {element.span}" if element.span > 1 else ""
        yield f"/A<</O/Table{scope}{span}>>"


def _to(number: int) -> str:
    return f"{number} 0 R"


def _list(held: Iterable[str]) -> str:
    return f"[{' '.join(held)}]"


def _text(said: str) -> str:
    encoded = f"\ufeff{said}".encode("utf-16-be").hex()
    return f"<{encoded}>"
