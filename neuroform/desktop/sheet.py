"""The sheet: the rows of one section at a time, built when the section is first opened."""

import math

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from neuroform.desktop.entering import Entering
from neuroform.desktop.moving import SIGN
from neuroform.desktop.row import RowWidget
from neuroform.desktop.section_page import SectionPage
from neuroform.desktop.shape import shape_of
from neuroform.desktop.theme import Theme, thin_bar
from neuroform.desktop.whole_lines import lines, whole_from, whole_to

LEAST = 24
"""Of a row, less than its first line is not worth showing."""


class Sheet(QScrollArea):
    """Shows the page of the section in hand and keeps the row in focus in sight."""

    def __init__(self, theme: Theme, entering: Entering, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.entering = entering
        self.pages: dict[str, SectionPage] = {}
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidgetResizable(False)
        self.setAutoFillBackground(True)
        self._curtain = QWidget(self.viewport())
        self._curtain.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._curtain.setAutoFillBackground(True)
        self.verticalScrollBar().valueChanged.connect(lambda _value: self._draw_curtain())
        self._dress()

    def page(self) -> SectionPage:
        """Return the page of the section in hand, built where it was not yet."""
        section = self.entering.section
        if section not in self.pages:
            page = self.pages[section] = SectionPage(self.theme, self.entering, section)
            page.scrolled.connect(self._scroll)
            page.arranged.connect(self._draw_curtain)
        return self.pages[section]

    def _scroll(self, by: int) -> None:
        bar = self.verticalScrollBar()
        bar.setValue(bar.value() + by)

    def _draw_curtain(self) -> None:
        """Cover what would stand at the foot of the sheet in part."""
        page, port = self.widget(), self.viewport()
        if not isinstance(page, SectionPage) or page.section != self.entering.section:
            return
        top = self.verticalScrollBar().value()
        foot = self._whole_lines(page, page.whole_to(top + port.height())) - top
        if page.comment.isVisible():
            foot = max(foot, page.comment.geometry().bottom() + 1 - top)
        self._curtain.setGeometry(0, foot, port.width(), port.height() - foot)
        self._curtain.setVisible(foot < port.height())
        self._curtain.raise_()

    def _whole_lines(self, page: SectionPage, foot: int) -> int:
        """Return where the page ends in sight, so that no line of a row higher than the sheet is cut either."""
        row = next((w for w in page.widgets.values() if not w.isHidden() and w.y() < foot < w.y() + w.height()), None)
        if row is None:
            return foot
        end = whole_to(lines(self.theme, row.laid()), foot - row.y())
        return row.y() + math.floor(end) if end > self.theme.px(LEAST) else foot

    def show_section(self) -> None:
        """Show the page of the section in hand."""
        if self.entering.section == SIGN:
            return
        page = self.page()
        if self.widget() is not page:
            if self.widget() is not None:
                before = self.takeWidget()
                before.hide()
                # Without a parent it would outlive the window.
                before.setParent(self)
            page.resize(self.width(), page.height())
            self.setWidget(page)
            page.show()
        page.refresh()
        page.arrange()
        self.verticalScrollBar().setValue(0)

    def refresh(self) -> None:
        """Show every row as it stands."""
        if self.entering.section != SIGN:
            self.page().refresh()

    def follow_focus(self) -> None:
        """Keep the row in focus in sight, with what comes after it."""
        page = self.page()
        widget = page.focused_widget()
        bar = self.verticalScrollBar()
        room = self.viewport().height()
        ahead = 0 if shape_of(self.width(), self.theme.scale) == "folded" else self.theme.px(70)
        top, foot = widget.y(), widget.y() + widget.height()
        if page.comment.isVisible():
            foot, ahead = page.comment.geometry().bottom() + 1, 0
        elif widget is page.closing and page.legs is not None and not page.legs.isHidden():
            foot, ahead = page.legs.y() + page.legs.height(), 0
        value = bar.value()
        if foot + ahead > value + room:
            value = page.edge_from(foot + ahead - room)
        above = page.edge_from(max(0, top - self.theme.px(40)), before=True)
        if value > above:
            value = above if foot - above <= room else top
        over = page.comment.isVisible() and foot - top > room
        bar.setValue(foot - room if over else min(value, top))
        self._draw_curtain()

    def ask_comment(self) -> None:
        """Open the line for a comment, in sight."""
        page = self.page()
        page.ask_comment()
        self.follow_focus()

    def reveal_pointed(self) -> None:
        """Bring the answer the arrows reached into sight, where a row is higher than the sheet."""
        page, entering = self.page(), self.entering
        widget = page.focused_widget()
        if entering.pointed is None or not isinstance(widget, RowWidget):
            return
        place = (widget.view.focused, entering.pointed)
        rect = next((hit.rect for hit in widget.laid().hits if (hit.cell, hit.choice) == place), None)
        if rect is not None:
            y = widget.y() + round(rect.center().y())
            self.ensureVisible(self.width() // 2, y, 0, self.theme.px(24))
            bar, top = self.verticalScrollBar(), widget.y()
            if bar.value() > top:
                bar.setValue(top + math.ceil(whole_from(lines(self.theme, widget.laid()), bar.value() - top)))

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        self._dress()
        for page in self.pages.values():
            page.set_theme(theme)

    def _dress(self) -> None:
        palette = self.theme.palette()
        palette.setColor(palette.ColorRole.Window, self.theme.colour("sheet"))
        self.setPalette(palette)
        self.viewport().setAutoFillBackground(False)
        self._curtain.setPalette(palette)
        self.verticalScrollBar().setStyleSheet(thin_bar(self.theme))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the page the whole width, so that the axis stays in the middle of the window."""
        super().resizeEvent(event)
        page = self.widget()
        if page is not None:
            page.resize(self.width(), page.height())
        if isinstance(page, SectionPage) and page.section == self.entering.section:
            self.follow_focus()
