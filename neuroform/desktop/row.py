"""A question of the form: one painted widget with one tab stop."""

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRect, Qt, Signal
from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop.drawing import draw, pen
from neuroform.desktop.form import COLUMN_WORDS
from neuroform.desktop.laid import Drawn, Fill, Laid, Words
from neuroform.desktop.painted import Painted, Part, Spoken
from neuroform.desktop.row_layout import RowLayout
from neuroform.desktop.row_view import CellView, RowView
from neuroform.desktop.theme import Theme
from neuroform.figures.marks import MARK_WORDS
from neuroform.language import N_, _


class RowWidget(Painted):
    """Shows one row and says where it was clicked; it holds no answer.

    Signals: `reached(cell)` the row wants the focus, with 0 or more on that side; `chosen(cell, choice)` a click.
    """

    reached = Signal(int)
    chosen = Signal(int, int)

    def __init__(
        self,
        theme: Theme,
        view: RowView,
        parent: QWidget | None = None,
        *,
        on_key: Callable[[QKeyEvent], bool] | None = None,
    ) -> None:
        super().__init__(theme, parent)
        self.view = view
        self._pressed = on_key
        self.spine = 0.0
        self._laid: Laid | None = None
        self._picture: QPixmap | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        # The picture covers all of it: nothing has to be painted below, and what only moves is moved as it is.
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def show_view(self, view: RowView) -> bool:
        """Show what the row holds now; tell whether its height changed."""
        if view == self.view:
            return False
        before = self.needed_height()
        self.view = view
        self._lay_anew()
        self.update()
        return self.needed_height() != before

    def set_spine(self, spine: float) -> None:
        """Set how far the marks stand from the axis."""
        if spine != self.spine:
            self.spine = spine
            self._lay_anew()

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self._lay_anew()
        super().set_theme(theme)

    def _lay_anew(self) -> None:
        self._laid = self._picture = None

    def laid(self) -> Laid:
        """Return where everything stands."""
        if self._laid is None:
            self._laid = RowLayout(self.theme, self.width(), self.spine).lay(self.view, least=self.least_height())
        return self._laid

    def least_height(self) -> int:
        """Return a height the row takes whatever its view needs."""
        return 0

    def needed_height(self) -> int:
        """Return the height the row takes."""
        return self.laid().height

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what was laid out: once, and from then on the picture of it, as long as it stays the same."""
        sharp = self.devicePixelRatioF()
        size = self.size() * sharp
        if self._picture is None or self._picture.size() != size:
            self._picture = QPixmap(size)
            self._picture.setDevicePixelRatio(sharp)
            self._paint_on(self._picture)
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._picture)
        painter.end()

    def _paint_on(self, picture: QPixmap) -> None:
        picture.fill(self.theme.colour("sheet"))
        painter = QPainter(picture)
        for thing in self.laid().things:
            if isinstance(thing, Words):
                painter.setFont(self.theme.font(thing.role))
                painter.setPen(self.theme.colour(thing.token))
                painter.drawText(QPointF(thing.x, thing.y), thing.text)
            elif isinstance(thing, Fill):
                self._fill(painter, thing)
            elif isinstance(thing, Drawn):
                draw(painter, self.theme, thing.shapes, thing.x, thing.y, scale=thing.scale)
        painter.end()

    def _fill(self, painter: QPainter, fill: Fill) -> None:
        if not fill.frame:
            painter.fillRect(fill.rect, self.theme.colour(fill.token))
            return
        painter.setPen(pen(self.theme.colour(fill.token), fill.frame, (3.0, 2.4) if fill.dash else ()))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(fill.rect)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay out anew for another width."""
        if event.size().width() != event.oldSize().width():
            self._lay_anew()
        super().resizeEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        """Let go of the picture while nobody sees it."""
        self._picture = None
        super().hideEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Say that the row was reached."""
        super().focusInEvent(event)
        if event.reason() not in {Qt.FocusReason.OtherFocusReason, Qt.FocusReason.MouseFocusReason}:
            self.reached.emit(-1)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hand keys to the form."""
        if self._pressed is None or not self._pressed(event):
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose what is under the pointer, or put the focus there."""
        for hit in self.laid().hits:
            if hit.rect.contains(event.position()):
                answers = self.view.focused == hit.cell or not self.view.cells[hit.cell].said
                if self.view.focused != hit.cell:
                    self.reached.emit(hit.cell)
                if hit.choice >= 0 and answers:
                    self.chosen.emit(hit.cell, hit.choice)
                return
        self.reached.emit(0)

    # For assistive technology

    def spoken(self) -> Spoken:
        """Return the row's name, its answers, and what stands beside them."""
        values = [self._value(cell) for cell in self.view.cells]
        beside = [words for cell in self.view.cells for words in self._beside(cell)]
        name = self.view.cells[0].name if len(self.view.cells) == 1 else self._common_name()
        return Spoken(name=name, role="group", value="; ".join(values), description=". ".join(beside))

    def _common_name(self) -> str:
        first = self.view.cells[0].name
        word = _(N_("right"))
        return first.removesuffix(f", {word}")

    def _value(self, cell: CellView) -> str:
        said = cell.said or cell.barred or _(N_("blank"))
        return f"{_column_words(cell)}: {said}" if cell.column else said

    def _beside(self, cell: CellView) -> list[str]:
        words = [*cell.notes]
        if cell.limit is not None:
            words += [cell.limit.words, cell.limit.source]
        if cell.mark in {"abnormal", "borderline", "does_not_fit"}:
            words.insert(0, _(MARK_WORDS[cell.mark]))
        if cell.ask and not cell.said:
            words.append(cell.ask)
        return words

    def parts(self) -> tuple[Part, ...]:
        """Return every answer as a radio button or check box, both sides."""
        rects: dict[tuple[int, int], QRect] = {
            (hit.cell, hit.choice): hit.rect.toAlignedRect() for hit in reversed(self.laid().hits)
        }
        made: list[Part] = []
        for number, cell in enumerate(self.view.cells):
            own = rects.get((number, -1), self.rect())
            count = len(made)
            if self.view.sealed:
                said = cell.said or cell.barred or _(N_("blank"))
                here = self.view.focused == number
                made.append(Part(name=cell.name, role="text", rect=own, value=said, focused=here))
                continue
            for place, choice in enumerate(cell.choices):
                made.append(
                    Part(
                        name=self._part_name(cell, choice.words),
                        role="check" if cell.kind == "words" else "radio",
                        rect=rects.get((number, place), own),
                        chosen=place in cell.chosen,
                        focused=self.view.focused == number
                        and (self.view.pointed == place or (self.view.pointed is None and place in cell.chosen)),
                        description=_(N_("key {key}")).format(key=choice.key),
                    )
                )
            for place, choice in enumerate(cell.directions):
                made.append(
                    Part(
                        name=self._part_name(cell, choice.words),
                        role="radio",
                        rect=rects.get((number, len(cell.choices) + place), own),
                        chosen=place == cell.direction,
                        focused=self.view.focused == number and self.view.pointed == len(cell.choices) + place,
                        description=_(N_("key {key}")).format(key=choice.key),
                    )
                )
            if len(made) == count:
                typed = self.view.typed if self.view.focused == number and self.view.typed is not None else cell.said
                made.append(
                    Part(
                        name=cell.name,
                        role="field",
                        rect=own,
                        value=typed,
                        focused=self.view.focused == number,
                        description=cell.ask,
                    )
                )
        return tuple(made)

    def _part_name(self, cell: CellView, words: str) -> str:
        return f"{_column_words(cell)}: {words}" if cell.column else words


def _column_words(cell: CellView) -> str:
    return next(_(words) for column, words in COLUMN_WORDS.items() if column == cell.column)
