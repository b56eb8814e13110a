"""Draws figures on a PDF page, so that tests can look at them as a reader does."""

from collections.abc import Callable
from io import BytesIO

import pypdfium2
import pytest
from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from neuroform import shipped
from neuroform.figures.shapes import Figure, Line, Path, Rect, Shape, Text

PAPER = {
    "sheet": "#FFFFFF",
    "ink": "#111111",
    "ink2": "#333333",
    "quiet": "#555555",
    "rule": "#777777",
    "hair": "#BBBBBB",
    "accent": "#111111",
    "urgent": "#111111",
    "shade": "#E8E8E8",
    "tile": "#222222",
}
FONTS = {400: "IBMPlexSans-Regular", 500: "IBMPlexSans-Medium", 600: "IBMPlexSans-SemiBold"}


def draw(canvas: Canvas, shapes: tuple[Shape, ...]) -> None:
    """Draw shapes on a canvas whose y runs down."""
    canvas.setLineCap(0)
    canvas.setLineJoin(0)
    for shape in shapes:
        if isinstance(shape, Text):
            _write(canvas, shape)
            continue
        canvas.setDash(list(shape.dash))
        if isinstance(shape, Line):
            canvas.setLineWidth(shape.width)
            canvas.setStrokeColor(HexColor(PAPER[shape.colour]))
            canvas.line(shape.x1, shape.y1, shape.x2, shape.y2)
            continue
        if shape.fill is not None:
            canvas.setFillColor(HexColor(PAPER[shape.fill]))
        if shape.stroke is not None:
            canvas.setStrokeColor(HexColor(PAPER[shape.stroke]))
            canvas.setLineWidth(shape.stroke_width)
        filled, stroked = int(shape.fill is not None), int(shape.stroke is not None)
        if isinstance(shape, Rect):
            canvas.rect(shape.x, shape.y, shape.width, shape.height, stroke=stroked, fill=filled)
        else:
            canvas.drawPath(_path(canvas, shape), stroke=stroked, fill=filled)


def _path(canvas: Canvas, shape: Path) -> object:
    path = canvas.beginPath()
    path.moveTo(*shape.start)
    for step in shape.steps:
        if len(step) == 2:
            path.lineTo(*step)
        else:
            path.curveTo(*step)
    if shape.closed:
        path.close()
    return path


def _write(canvas: Canvas, text: Text) -> None:
    canvas.saveState()
    canvas.translate(text.x, text.y)
    canvas.scale(1, -1)
    canvas.setFont(_font(text.weight), text.size)
    canvas.setFillColor(HexColor(PAPER[text.colour]))
    write = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
    write[text.anchor](0, 0, text.words)
    canvas.restoreState()


def _font(weight: int) -> str:
    name = FONTS[weight]
    if name not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont(name, BytesIO(shipped.read_bytes("resources", "fonts", f"{name}.ttf"))))
    return name


@pytest.fixture(scope="session")
def text_width() -> Callable[[Text], float]:
    """Measure a text in the shipped font."""
    return lambda text: pdfmetrics.stringWidth(text.words, _font(text.weight), text.size)


@pytest.fixture(scope="session")
def in_grey() -> Callable[..., bytes]:
    """Return the grey pixels of a figure on white paper, with or without its texts."""

    def render(figure: Figure, *, scale: float = 4, texts: bool = False, margin: float = 0) -> bytes:
        page = BytesIO()
        width, height = figure.width + 2 * margin, figure.height + 2 * margin
        canvas = Canvas(page, pagesize=(width, height))
        canvas.translate(margin - figure.left, height - margin + figure.top)
        canvas.scale(1, -1)
        draw(canvas, figure.shapes if texts else tuple(s for s in figure.shapes if not isinstance(s, Text)))
        canvas.showPage()
        canvas.save()
        document = pypdfium2.PdfDocument(page.getvalue())
        try:
            return bytes(document[0].render(scale=scale, grayscale=True).buffer)
        finally:
            document.close()

    return render
