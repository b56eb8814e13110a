"""The parts of a page that signs and where they stand: a title, three columns over a foot, and what opens over them."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from neuroform.desktop.band import LAST, LastLine
from neuroform.desktop.long_page import Dressed
from neuroform.desktop.read_and_sign.arrangement import Columns
from neuroform.desktop.read_and_sign.desk import KIND_WORDS
from neuroform.desktop.read_and_sign.foot import Doing, Secret, Who
from neuroform.desktop.read_and_sign.overlays import AsText, FullSize
from neuroform.desktop.read_and_sign.paper_column import PaperColumn
from neuroform.desktop.read_and_sign.parts import BAR, PAD, Said
from neuroform.desktop.shape import MARGIN, margin, shape_of
from neuroform.desktop.theme import Theme


class PageParts(QWidget):
    """Holds the widgets and places them; `sized` is called with the width in pixels that a page is to be drawn in."""

    def __init__(
        self,
        theme: Theme,
        title: str,
        subtitle: str,
        *,
        columns: tuple[QWidget, QWidget],
        kinds: tuple[str, ...],
        shown_passphrase: str,
        parent: QWidget | None = None,
    ) -> None:
        """Place two `columns` beside the paper; `kinds` of paper can be chosen."""
        super().__init__(parent)
        self.theme = theme
        self.sized: Callable[[int], None] = lambda _pixels: None
        self.title = Said(theme, title, "title", parent=self)
        self.subtitle = Said(theme, subtitle, "body", "ink2", parent=self)
        self.paper = PaperColumn(theme, {kind: KIND_WORDS[kind] for kind in kinds})
        self.who = Who(theme)
        self.secret = Secret(theme, shown_passphrase)
        self.doing = Doing(theme)
        self.columns = Columns(theme, (*columns, self.paper), (self.who, self.secret, self.doing), self)
        self.last = LastLine(theme, self)
        self.full = FullSize(theme, self)
        self.text = AsText(theme, self)
        self.dressed: list[Dressed] = [
            *(self.title, self.subtitle, self.paper, self.who, self.secret, self.doing),
            *(self.last, self.full, self.text),
        ]
        """What takes another palette or text size with the page."""
        self.columns.arranged.connect(self._fit_paper)
        self.paper.sized.connect(self.size_picture)
        self.full.sized.connect(self.size_picture)
        for over in (self.full, self.text):
            over.left.connect(self.close_over)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        for each in self.dressed:
            each.set_theme(theme)
        self.columns.dress(theme)
        self._arrange()
        self.update()

    def open_over(self, over: FullSize | AsText, focus: QWidget) -> None:
        """Show something in place of the columns."""
        over.show()
        over.raise_()
        self._arrange()
        self.size_picture()
        focus.setFocus(Qt.FocusReason.OtherFocusReason)

    def close_over(self) -> None:
        """Show the columns again."""
        back = self.paper.text if self.text.isVisible() else self.paper.full
        self.full.hide()
        self.text.hide()
        self.size_picture()
        back.setFocus(Qt.FocusReason.OtherFocusReason)

    def size_picture(self) -> None:
        """Say how wide the page in sight is to be drawn."""
        view = self.full.view if self.full.isVisible() else self.paper.view
        self.sized(view.wanted_width)

    def say_below_title(self, words: str) -> None:
        """Say something else beside the title."""
        if words != self.subtitle.text():
            self.subtitle.say(words)
            self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Place everything anew."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        theme, wide = self.theme, self.width()
        edge = margin(wide, theme.scale) - PAD
        beside = theme.width("title", self.title.text()) + 2 * PAD + theme.px(8)
        folded = shape_of(wide, theme.scale) == "folded"
        top = theme.px(14)
        self.title.setVisible(not folded)
        self.title.setGeometry(edge, top, wide - 2 * edge, theme.line("title"))
        drop = theme.metrics("title").ascent() - theme.metrics("body").ascent()
        below = top + round(drop) + (theme.line("title") - theme.line("body")) // 2 - theme.px(2)
        room = wide - round(edge + beside) - edge
        fits = theme.width("body", self.subtitle.text()) + 2 * PAD <= room
        self.subtitle.setVisible(fits and not folded)
        self.subtitle.setGeometry(round(edge + beside), below, room, theme.line("body"))
        head = theme.px(8) if folded else top + theme.line("title") + theme.px(12)
        foot = theme.px(LAST)
        self.columns.setGeometry(0, head, wide, max(self.height() - head - foot, theme.px(80)))
        self.last.setGeometry(0, self.height() - foot, wide, foot)
        for over in (self.full, self.text):
            over.setGeometry(0, 0, wide, self.height() - foot)

    def _fit_paper(self) -> None:
        if self.columns.narrow:
            self.paper.fit(min(self.columns.width(), self.theme.px(560)) - self.theme.px(2 * MARGIN), 0)
        elif len(self.columns.areas) == 3:
            area = self.columns.areas[2]
            self.paper.fit(area.width(), area.height())
        self.size_picture()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the sheet."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.theme.colour("sheet"))
        painter.end()


def headed(theme: Theme, *widgets: QWidget, apart: int = 4) -> QWidget:
    """Return a column of widgets, the first of them its head."""
    held = QWidget()
    column = QVBoxLayout(held)
    column.setContentsMargins(0, 0, BAR, 0)
    for number, widget in enumerate(widgets):
        if number:
            column.addSpacing(theme.px(apart))
        column.addWidget(widget)
    column.addStretch()
    return held
