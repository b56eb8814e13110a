"""The pages of a paper while they are drawn: every mark on them is tagged content or declared decoration."""

from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import Any, Literal

from neuroform.figures.shapes import Colour, Figure
from neuroform.notes import drawing, faces
from neuroform.notes.paragraphs import Line, Paragraph
from neuroform.notes.tagging import Content, Element, write_structure

WIDTH, HEIGHT = 595.276, 841.890
"""A4 in points."""
Decoration = Literal["Layout", "Pagination"]


class Pages:
    """A canvas whose y runs down from the top of the page, with the structure tree that grows beside it."""

    def __init__(self, *, title: str, author: str, subject: str) -> None:
        from reportlab.pdfgen.canvas import Canvas

        self._out = BytesIO()
        settings: dict[str, Any] = {
            "pagesize": (WIDTH, HEIGHT),
            # A canvas would otherwise name Helvetica, which is not embedded, on every page.
            "initialFontName": faces.registered(400),
            "invariant": True,
            # The pages are compressed when the paper is filed.
            "pageCompression": 0,
        }
        self.canvas = Canvas(self._out, **settings)
        self.canvas.setTitle(title)
        self.canvas.setAuthor(author)
        self.canvas.setSubject(subject)
        self.root = Element(tag="Document")
        self.page = 0
        self._next = 0

    def turn(self) -> None:
        """Begin the next page."""
        self.canvas.showPage()
        self.page += 1
        self._next = 0

    def finished(self, *, language: str) -> bytes:
        """Return the document with its structure; nothing can be drawn after."""
        self.canvas.showPage()
        write_structure(self.canvas, self.root, language=language)
        self.canvas.save()
        return self._out.getvalue()

    @contextmanager
    def content(self, element: Element) -> Iterator[None]:
        """Draw what belongs to an element."""
        code = drawing.stream(self.canvas)
        code.append(f"/{element.tag} <</MCID {self._next}>> BDC")
        element.kids.append(Content(page=self.page, number=self._next))
        self._next += 1
        yield
        code.append("EMC")

    @contextmanager
    def decoration(self, kind: Decoration = "Layout") -> Iterator[None]:
        """Draw what says nothing: rules, frames, and what repeats on every page."""
        code = drawing.stream(self.canvas)
        code.append(f"/Artifact <</Type /{kind}>> BDC")
        yield
        code.append("EMC")

    def line(self, line: Line, *, x: float, y: float) -> None:
        """Write one line, its baseline at `y`."""
        drawing.draw_pieces(self.canvas, line.pieces, x=x, y=HEIGHT - y)

    def write(self, text: Paragraph, element: Element, *, x: float, y: float) -> None:
        """Write a whole paragraph as content of an element, its first baseline at `y`."""
        with self.content(element):
            self.lines(text, x=x, y=y)

    def lines(self, text: Paragraph, *, x: float, y: float) -> None:
        """Write a paragraph's lines, the first baseline at `y`, inside content or decoration already begun."""
        for line in text.lines:
            shift = {"left": 0.0, "middle": (text.width - line.width) / 2, "right": text.width - line.width}
            self.line(line, x=x + shift[text.align], y=y)
            y += text.leading

    def figure(self, figure: Figure, element: Element, *, x: float, y: float, scale: float) -> None:
        """Draw a figure that says something, its origin at (x, y); its words are its alternative text."""
        element.alt = element.alt or figure.words
        left, top = x + figure.left * scale, y + figure.top * scale
        right, foot = left + figure.width * scale, top + figure.height * scale
        element.box = (left, HEIGHT - foot, right, HEIGHT - top)
        with self.content(element):
            drawing.draw_figure(self.canvas, figure, x=x, y=HEIGHT - y, scale=scale)

    def mark(self, figure: Figure, *, x: float, y: float, scale: float) -> None:
        """Draw a figure inside content or decoration already begun."""
        drawing.draw_figure(self.canvas, figure, x=x, y=HEIGHT - y, scale=scale)

    def logo(self, png: bytes, *, right: float, top: float, high: float) -> None:
        """Draw a picture as decoration, its right edge at `right`; who it stands for is said in words elsewhere."""
        from reportlab.lib.utils import ImageReader

        picture = ImageReader(BytesIO(png))
        across, down = picture.getSize()
        wide = min(across * high / down, 4 * high)
        high = min(high, wide * down / across)
        with self.decoration():
            self.canvas.drawImage(picture, right - wide, HEIGHT - top - high, width=wide, height=high)

    def rule(self, *, x1: float, x2: float, y: float, width: float = 0.5, colour: Colour = "rule") -> None:
        """Draw a level line as decoration."""
        with self.decoration():
            self.canvas.setDash([])
            self.canvas.setLineWidth(width)
            self.canvas.setStrokeGray(drawing.GREY[colour])
            self.canvas.line(x1, HEIGHT - y, x2, HEIGHT - y)

    def frame(
        self,
        *,
        left: float,
        top: float,
        width: float,
        height: float,
        line: float,
        dash: tuple[float, ...] = (),
    ) -> None:
        """Draw an empty frame as decoration."""
        with self.decoration():
            self.canvas.setDash(list(dash))
            self.canvas.setLineWidth(line)
            self.canvas.setStrokeGray(drawing.GREY["ink"])
            self.canvas.rect(left, HEIGHT - top - height, width, height, stroke=1, fill=0)
