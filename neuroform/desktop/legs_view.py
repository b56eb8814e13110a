"""The legs as they were found: shaded to the recorded level, reflexes at the joints, and the same in words."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop.drawing import draw
from neuroform.desktop.painted import Painted, Spoken
from neuroform.desktop.shape import margin, shape_of
from neuroform.desktop.theme import Theme
from neuroform.exam.examination import Examination
from neuroform.exam.walk import get
from neuroform.figures.legs import legs
from neuroform.figures.shapes import Figure

SECTIONS = frozenset({"sensation", "reflexes"})
"""Where it stands."""
SHOWN = ("sensation.pinprick", "sensation.light_touch", "sensation.temperature", "reflexes.knee", "reflexes.ankle")
SCALE = 1.3
TEXT = 12 / 8.3 / SCALE


class LegsView(Painted):
    """Drawn from the findings, read only; hidden while nothing of it is recorded."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._found: tuple[object, ...] = ()
        self._figure: Figure | None = None
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hide()

    def show_exam(self, exam: Examination) -> bool:
        """Show the legs of an examination; tell whether they came or went."""
        paths = (f"{path}.{side}" for path in (*SHOWN, "reflexes.plantar") for side in ("right", "left"))
        found = (exam.context.limb_absent, *(get(exam, path) for path in paths))
        if found == self._found:
            return False
        from neuroform.notes.overview import legs as findings

        before, self._found = self._figure, found
        recorded = any(each is not None for each in found[1:])
        self._figure = legs(findings(exam), text_scale=TEXT) if recorded else None
        self.update()
        return (before is None) != (self._figure is None)

    @property
    def wanted(self) -> bool:
        """Whether there is anything to show."""
        return self._figure is not None

    def needed_height(self) -> int:
        """Return the height it takes at its width."""
        if self._figure is None:
            return 0
        high = round(self._figure.height * self._scale()) + self.theme.px(36)
        if shape_of(self.width(), self.theme.scale) == "full":
            return high
        return high + len(self._lines()) * self.theme.line("secondary") + self.theme.px(10)

    def _scale(self) -> float:
        assert self._figure is not None
        room = self.width() - 2 * margin(self.width(), self.theme.scale)
        return min(SCALE * self.theme.scale, room / self._figure.width)

    def _lines(self) -> list[str]:
        assert self._figure is not None
        room = self.width() - 2 * margin(self.width(), self.theme.scale)
        if shape_of(self.width(), self.theme.scale) == "full":
            room -= round(self._figure.width * self._scale()) + self.theme.px(48)
        return self.theme.wrapped("secondary", self._figure.words, room)

    def spoken(self) -> Spoken:
        """Return the drawing in words."""
        return Spoken(name=self._figure.words if self._figure else "", role="text")

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the drawing and its sentences."""
        if self._figure is None:
            return
        theme = self.theme
        painter = QPainter(self)
        edge, scale = margin(self.width(), theme.scale), self._scale()
        painter.fillRect(QRectF(edge, 0, self.width() - 2 * edge, 1), theme.colour("hair"))
        top = theme.px(18)
        figure = self._figure
        draw(painter, theme, figure.shapes, edge - figure.left * scale, top - figure.top * scale, scale=scale)
        full = shape_of(self.width(), theme.scale) == "full"
        x = edge + figure.width * scale + theme.px(48) if full else edge
        y = top + theme.px(26) if full else top + figure.height * scale + theme.px(24)
        painter.setFont(theme.font("secondary"))
        painter.setPen(theme.colour("ink2"))
        for line in self._lines():
            painter.drawText(QPointF(x, y), line)
            y += theme.line("secondary")
        painter.end()
