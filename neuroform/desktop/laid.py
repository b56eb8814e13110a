"""What a row laid out is made of: words, fills, drawings and places to click, in pixels."""

from dataclasses import dataclass, field

from PySide6.QtCore import QRectF

from neuroform.desktop.theme import Role
from neuroform.figures.shapes import Shape


@dataclass(frozen=True, kw_only=True)
class Words:
    """Text on its baseline."""

    x: float
    y: float
    text: str
    role: Role
    token: str


@dataclass(frozen=True, kw_only=True)
class Fill:
    """A filled or framed rectangle."""

    rect: QRectF
    token: str
    frame: float = 0.0
    """Width of its frame; 0 fills it."""
    dash: bool = False


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """Shapes of a figure at a place."""

    shapes: tuple[Shape, ...]
    x: float
    y: float
    scale: float


@dataclass(frozen=True, kw_only=True)
class Hit:
    """A place that answers when it is clicked."""

    rect: QRectF
    cell: int
    choice: int
    """-1: the place itself."""


@dataclass
class Laid:
    """A row laid out."""

    height: int
    things: list[Words | Fill | Drawn] = field(default_factory=list)
    hits: list[Hit] = field(default_factory=list)


@dataclass(frozen=True, kw_only=True)
class Side:
    """One half of a row: outward from the spine."""

    number: int
    way: int
    """-1 runs to the left."""
    start: float
    """Where answers begin."""
    room: float
    """How far outward they may run."""
    edge: float
    """The far edge of the frame."""
    inner: float
    """The near edge of the frame."""
    mark: float

    def x(self, out: float, width: float) -> float:
        """Return the left edge of something `width` wide that begins `out` from the start."""
        return self.start + out if self.way > 0 else self.start - out - width
