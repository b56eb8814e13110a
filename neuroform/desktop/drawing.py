"""Draws figures with QPainter: shapes in units and colours by name become strokes and fills."""

from collections.abc import Iterable
from functools import cache, lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from neuroform.desktop.theme import FAMILY, Theme
from neuroform.figures.shapes import Line, Path, Rect, Shape, Text


def draw(
    painter: QPainter, theme: Theme, shapes: Iterable[Shape], x: float, y: float, *, scale: float | None = None
) -> None:
    """Draw shapes with their origin at x, y; `scale` is pixels for a unit, the text scale where none is given."""
    unit = theme.scale if scale is None else scale
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    alike: list[Line] = []
    for shape in shapes:
        if alike and not (isinstance(shape, Line) and _alike(shape, alike[0])):
            _lines(painter, theme, alike, x, y, unit)
            alike = []
        if isinstance(shape, Line):
            alike.append(shape)
        elif isinstance(shape, Rect):
            _rect(painter, theme, shape, x, y, unit)
        elif isinstance(shape, Path):
            _path(painter, theme, shape, x, y, unit)
        else:
            _text(painter, theme, shape, x, y, unit)
    if alike:
        _lines(painter, theme, alike, x, y, unit)
    painter.restore()


def _alike(one: Line, other: Line) -> bool:
    return (one.width, one.colour, one.dash) == (other.width, other.colour, other.dash)


def pen(colour: QColor, width: float, dash: tuple[float, ...] = ()) -> QPen:
    """Return a pen with flat caps; `dash` holds lengths on and off in the units of `width`."""
    return _pen(colour.rgba(), width, dash)


@lru_cache(maxsize=256)
def _pen(colour: int, width: float, dash: tuple[float, ...]) -> QPen:
    made = QPen(QColor.fromRgba(colour), width)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if dash:
        made.setDashPattern([length / width for length in dash])
    return made


def _lines(painter: QPainter, theme: Theme, lines: list[Line], x: float, y: float, unit: float) -> None:
    """Draw lines that look alike with one call."""
    first = lines[0]
    painter.setPen(pen(theme.colour(first.colour), first.width * unit, tuple(length * unit for length in first.dash)))
    painter.drawLines([QLineF(x + s.x1 * unit, y + s.y1 * unit, x + s.x2 * unit, y + s.y2 * unit) for s in lines])


def _rect(painter: QPainter, theme: Theme, rect: Rect, x: float, y: float, unit: float) -> None:
    box = QRectF(x + rect.x * unit, y + rect.y * unit, rect.width * unit, rect.height * unit)
    if rect.fill is not None and rect.stroke is None:
        painter.fillRect(box, theme.colour(rect.fill))
        return
    painter.setBrush(theme.colour(rect.fill) if rect.fill is not None else Qt.BrushStyle.NoBrush)
    if rect.stroke is None:
        painter.setPen(Qt.PenStyle.NoPen)
    else:
        dash = tuple(length * unit for length in rect.dash)
        painter.setPen(pen(theme.colour(rect.stroke), rect.stroke_width * unit, dash))
    painter.drawRect(box)


def _path(painter: QPainter, theme: Theme, shape: Path, x: float, y: float, unit: float) -> None:
    path = QPainterPath(QPointF(x + shape.start[0] * unit, y + shape.start[1] * unit))
    for step in shape.steps:
        points = [QPointF(x + a * unit, y + b * unit) for a, b in zip(step[::2], step[1::2], strict=True)]
        if len(points) == 1:
            path.lineTo(points[0])
        else:
            path.cubicTo(points[0], points[1], points[2])
    if shape.closed:
        path.closeSubpath()
    painter.setBrush(theme.colour(shape.fill) if shape.fill is not None else Qt.BrushStyle.NoBrush)
    if shape.stroke is None:
        painter.setPen(Qt.PenStyle.NoPen)
    else:
        dash = tuple(length * unit for length in shape.dash)
        painter.setPen(pen(theme.colour(shape.stroke), shape.stroke_width * unit, dash))
    painter.drawPath(path)


def _text(painter: QPainter, theme: Theme, text: Text, x: float, y: float, unit: float) -> None:
    font = _face(round(text.size * unit), text.weight)
    wide = QFontMetricsF(font).horizontalAdvance(text.words)
    left = x + text.x * unit - {"start": 0.0, "middle": wide / 2, "end": wide}[text.anchor]
    painter.setFont(font)
    painter.setPen(theme.colour(text.colour))
    painter.drawText(QPointF(left, y + text.y * unit), text.words)


@cache
def _face(size: int, weight: int) -> QFont:
    font = QFont(FAMILY)
    font.setPixelSize(max(size, 1))
    font.setWeight(QFont.Weight(weight))
    return font
