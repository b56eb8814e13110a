"""The page of one section: its rows under the heads of their blocks, and the line that closes it."""

from collections.abc import Iterable
from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from neuroform.desktop import answering, keys, place_words
from neuroform.desktop.closing import ClosingLine, ClosingView
from neuroform.desktop.comment_line import CommentLine
from neuroform.desktop.entering import Entering
from neuroform.desktop.form import COLUMN_WORDS, Block, Row, blocks, rows, section_label
from neuroform.desktop.keyboard import key_name
from neuroform.desktop.legs_view import SECTIONS as LEGS
from neuroform.desktop.legs_view import LegsView
from neuroform.desktop.moving import SIGN
from neuroform.desktop.row import RowWidget
from neuroform.desktop.row_layout import ANSWER, SPINE
from neuroform.desktop.row_view import state_of, view
from neuroform.desktop.shape import margin, shape_of
from neuroform.desktop.text_row import TextRow
from neuroform.desktop.theme import Role, Theme
from neuroform.language import N_, _

HEAD = 30


class SectionPage(QWidget):
    """The rows of one section under the heads of their blocks.

    Signals: `scrolled(by)` what is below is to be seen; `arranged()` something stands elsewhere.
    """

    scrolled = Signal(int)
    arranged = Signal()

    def __init__(self, theme: Theme, entering: Entering, section: str) -> None:
        super().__init__()
        self.theme = theme
        self.entering = entering
        self.section = section
        self.widgets: dict[str, RowWidget] = {}
        self._heads: list[tuple[int, Block, bool]] = []
        self._states: dict[str, object] = {}
        self._seen: tuple[object, ...] = ()
        self._basis: tuple[object, ...] = ()
        self._touched: set[str] = set()
        self._edges = [0]
        self._spine: float | None = None
        self._focus = (-1, False)
        entering.document.listen(self._touched.update)
        for row in rows(section):
            self.widgets[row.key] = self._made(row)
        self.closing = ClosingLine(theme, self.on_key, self)
        self.closing.reached.connect(lambda _cell: entering.focus(len(entering.shown)))
        self.closing.gone.connect(self._closed)
        self.closing.unfolded.connect(entering.show_everything)
        self.legs = LegsView(theme, self) if section in LEGS else None
        self.comment = CommentLine(theme, self)
        self.comment.hide()
        self.comment.written.connect(self._commented)
        self.comment.over.connect(self.focus_row)

    def _made(self, row: Row) -> RowWidget:
        shown = view(self.entering, row, focused=False, misfits=frozenset())
        widget: RowWidget
        if row.cells[0].kind == "text":
            path = row.cells[0].path
            text = self.entering.document.get(path) or ""
            widget = TextRow(self.theme, shown, text, self.on_key, self)
            widget.written.connect(lambda words: self.entering.write(path, words))
        else:
            widget = RowWidget(self.theme, shown, self, on_key=self.on_key)
        widget.reached.connect(lambda cell: self._reached(row, cell))
        widget.chosen.connect(lambda cell, choice: self._clicked(row, cell, choice))
        return widget

    # What the hand does

    def on_key(self, event: QKeyEvent) -> bool:
        """Do what a key does in the form; False where it does nothing there."""
        name = key_name(event)
        if name == "Down" and self.entering.at is None and self.legs is not None and self.legs.wanted:
            self.scrolled.emit(self.theme.px(90))
            return True
        return bool(name) and keys.press(self.entering, name)

    def _reached(self, row: Row, cell: int) -> None:
        shown = self.entering.shown
        if row in shown:
            column = None if cell < 0 else cell
            if cell < 0 and self.entering.at_row is not row and len(row.cells) > 1:
                column = min(self.entering.column, 1)
            self.entering.focus(shown.index(row), column)
        self.focus_row()

    def _clicked(self, row: Row, cell: int, choice: int) -> None:
        place = row.cells[cell]
        if self.entering.mode == "reason":
            self.entering.explain(answering.reasons(place.entry)[choice].code)
            return
        every = (*answering.choices(place, self.entering.document.exam), *answering.directions(place))
        if choice < len(every):
            self.entering.answer(every[choice].code)
        else:
            self.entering.none_of_them(place)

    def _closed(self) -> None:
        self.entering.focus(len(self.entering.shown))
        self.entering.enter()

    def ask_comment(self) -> None:
        """Open the line for a comment on the place in focus."""
        at, row = self.entering.at, self.entering.at_row
        if at is None or row is None:
            return
        found = self.entering.document.get(at.path)
        widget = self.widgets[row.key]
        self.comment.open(at.name, getattr(found, "comment", None) or "")
        edge = margin(self.width(), self.theme.scale)
        high = self.theme.px(38)
        self.comment.setGeometry(edge, widget.y() + widget.height(), self.width() - 2 * edge, high)
        self.comment.raise_()
        self.comment.show()
        self.comment.setFocus()

    def _commented(self, text: str) -> None:
        if self.entering.at is not None:
            self.entering.comment(self.entering.at.path, text)

    # What the page shows

    def refresh(self) -> None:
        """Show every row as it stands; lay the page out anew where heights changed."""
        if self.section != self.entering.section:
            return
        entering = self.entering
        seen = (entering.document.exam, entering.conclusions, entering.judge, entering.traced, entering.shown)
        focus = (entering.row, entering.row >= len(entering.shown))
        if len(seen) == len(self._seen) and all(a is b for a, b in zip(seen, self._seen, strict=True)):
            numbers = [n for n in dict.fromkeys((self._focus[0], focus[0])) if n < len(entering.shown)]
            moved = self._refresh_rows(numbers)
        else:
            moved = self._refresh_rows(self._stale(focus[0]))
            moved |= len(entering.shown) != sum(not w.isHidden() for w in self.widgets.values())
            self._focus = (-1, False)
            if self.legs is not None:
                moved |= self.legs.show_exam(entering.document.exam)
        if self._focus[1] or focus[1] or not self._seen or self._focus[0] < 0:
            self.closing.show_view(self._closing())
        self._seen, self._focus = seen, focus
        if moved:
            self.arrange()

    def _stale(self, focus: int) -> Iterable[int]:
        """Return the rows that may have to be shown anew: all, or after an answer those of its block.

        Within a block one finding can change how another is marked; beyond it only what is gathered here.
        """
        entering, exam = self.entering, self.entering.document.exam
        gaps = tuple(gap for gap in entering.conclusions.gaps if gap.does_not_fit)
        basis = (
            *(gaps, entering.needed, entering.barred, entering.traced, entering.shown, id(entering.judge)),
            *(id(exam.patient), id(exam.encounter), exam.standing.trial_seconds),
        )
        touched, before, self._basis = set(self._touched), self._basis, basis
        self._touched.clear()
        count = len(entering.shown)
        if basis != before or not touched:
            return range(count)
        near = {_group(path) for path in touched}
        stale = [n for n, row in enumerate(entering.shown) if any(_group(path) in near for path in row.paths)]
        return [n for n in dict.fromkeys((*stale, self._focus[0], focus)) if 0 <= n < count]

    def _refresh_rows(self, numbers: Iterable[int]) -> bool:
        """Show some rows as they stand; tell whether the page has to be laid out anew."""
        entering, moved = self.entering, False
        misfits = frozenset(p for gap in entering.conclusions.gaps if gap.does_not_fit for p in gap.items)
        for number in numbers:
            row = entering.shown[number]
            widget = self.widgets[row.key]
            moved |= widget.isHidden()
            state = state_of(entering, row, focused=number == entering.row, misfits=misfits)
            if state != self._states.get(row.key):
                self._states[row.key] = state
                shown = view(entering, row, focused=number == entering.row, misfits=misfits)
                moved |= widget.show_view(shown)
            if isinstance(widget, TextRow):
                widget.show_text(entering.document.get(row.key) or "")
                moved |= widget.height() != widget.needed_height()
        return moved

    def _closing(self) -> ClosingView:
        entering = self.entering
        blank, needed = entering.blanks(self.section)
        label = _(section_label(self.section))
        gaps = place_words.gaps_in(entering, self.section) if not blank else 0
        if gaps:
            left = _(N_("{section}: a gap asks for something here")).format(section=label)
        elif not needed:
            left = _(N_("{section}: nothing is asked for here")).format(section=label)
        elif blank:
            left = _(N_("{section}: {blank} of {all} blank")).format(section=label, blank=blank, all=needed)
        else:
            left = _(N_("{section}: nothing blank")).format(section=label)
        following = entering.next_section()
        words = _(N_("Read and sign")) if following == SIGN else _(section_label(following))
        more = ""
        if entering.everything:
            more = _(N_("only what is to be examined"))
        elif entering.hidden:
            more = _(N_("{count} more items of this section")).format(count=entering.hidden)
        focused = entering.row >= len(entering.shown)
        return ClosingView(left=left, following=words, more=more, focused=focused)

    def focus_row(self) -> None:
        """Give the keyboard to the row in focus."""
        at = self.entering.at_row
        widget = self.widgets[at.key] if at is not None else self.closing
        widget.setFocus(Qt.FocusReason.OtherFocusReason)

    def focused_widget(self) -> QWidget:
        """Return the widget of the row in focus, or the closing line."""
        at = self.entering.at_row
        return self.widgets[at.key] if at is not None else self.closing

    def edge_from(self, y: int, *, before: bool = False) -> int:
        """Return where the page may begin, at `y` or below it; `before`: or above it.

        No row is cut, and none is shown without the head that says whose side is whose, as long as its block has room.
        """
        if before:
            return max(edge for edge in self._edges if edge <= y)
        return next((edge for edge in self._edges if edge >= y), y)

    def whole_to(self, y: int) -> int:
        """Return how far down the page is shown where it is in sight as far as `y`: to the last row that is not cut.

        The row in focus is shown as far as it goes, and so are the legs and a row higher than half of what is in sight.
        """
        port = self.parentWidget()
        room = port.height() if port is not None else 0
        standing: list[QWidget] = [w for w in self.widgets.values() if not w.isHidden()]
        standing.append(self.closing)
        high = self.theme.px(HEAD)
        y = next((at for at, block, _r in self._heads if block.title or block.columns if at < y < at + high), y)
        cut = next((w for w in standing if w.y() < y < w.y() + w.height()), None)
        if cut is None or cut is self.focused_widget() or cut.height() > room / 2:
            return y
        heads = [at for at, _block, _ruled in self._heads if at <= cut.y()]
        first = not any(heads and heads[-1] <= w.y() < cut.y() for w in standing)
        return heads[-1] if heads and first and cut is not self.closing else cut.y()

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        self._spine = None
        for widget in self.widgets.values():
            widget.set_theme(theme)
        self.closing.set_theme(theme)
        if self.legs is not None:
            self.legs.set_theme(theme)
        self.comment.set_theme(theme)
        self.arrange()
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay out anew for another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._spine = None
            self.arrange()

    def spine(self) -> float:
        """Return how far the marks stand from the axis: as the look says, closer to the labels where room is scarce."""
        if self._spine is None:
            self._spine = self._measured_spine()
        return self._spine

    def _measured_spine(self) -> float:
        theme = self.theme
        if shape_of(self.width(), theme.scale) != "folded":
            return theme.px(SPINE)
        labels = [w.view.label for w in self.widgets.values() if w.view.pair]
        widest = max((_on_two_lines(theme, label) for label in labels), default=0.0)
        return min(widest / 2 + theme.px(12), 0.30 * self.width() / 2)

    def arrange(self) -> None:
        """Put every shown row in its place."""
        shown = {row.key for row in self.entering.shown} if self.section == self.entering.section else set(self.widgets)
        spine, width = self.spine(), self.width()
        y = self.theme.px(4)
        before, self._heads = self._heads, []
        self._edges = [0]
        port = self.parentWidget()
        room = port.height() if port is not None else 0
        first = True
        for block in blocks(self.section):
            standing = [row for row in block.rows if row.key in shown]
            for row in block.rows:
                widget = self.widgets[row.key]
                if widget.isHidden() == (row.key in shown):
                    widget.setVisible(row.key in shown)
            if not standing:
                continue
            headed = bool(block.title or (block.columns and any(row.pair for row in standing)))
            if not first:
                y += self.theme.px(8)
            self._heads.append((y, block, not first))
            self._edges.append(y)
            tall = sum(self.widgets[row.key].height() for row in standing) > 0.7 * room
            y += self._head_height(block) if headed else self.theme.px(0 if first else 6)
            first = False
            for row in standing:
                high = self._put(self.widgets[row.key], y, width, spine)
                if tall or not block.columns:
                    self._edges.append(y)
                y += high
        y += self.theme.px(12)
        high = self.closing.needed_height()
        self.closing.setGeometry(0, y, width, high)
        y += high + self.theme.px(12)
        if self.legs is not None:
            self.legs.setVisible(self.legs.wanted)
            self.legs.resize(width, self.legs.height())
            high = self.legs.needed_height()
            self.legs.setGeometry(0, y, width, high)
            y += high
        self.resize(width, max(y, port.height() if port is not None else y))
        if self._heads != before:
            self.update()
        self.arranged.emit()

    def _put(self, widget: RowWidget, y: int, width: int, spine: float) -> int:
        """Put a row in its place; return its height."""
        widget.set_spine(spine)
        before = widget.geometry()
        if before.width() != width:
            widget.resize(width, before.height())
        high = widget.needed_height()
        if before.y() != y or before.height() != high or before.width() != width:
            widget.setGeometry(0, y, width, high)
        return high

    def _head_height(self, block: Block) -> int:
        two = self._two_lines(block)
        return self.theme.px(HEAD) + (self.theme.line("secondary") if two else 0)

    def _two_lines(self, block: Block) -> bool:
        if not block.columns or not block.title:
            return False
        spread = self.spine() + self.theme.px(ANSWER - SPINE)
        return self.theme.width("strong", _(block.title)) / 2 > spread - self.theme.px(4)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the heads of the blocks and the rules between them, those that have to be."""
        theme = self.theme
        dirty = event.rect()
        painter = QPainter(self)
        axis, edge = self.width() / 2, margin(self.width(), theme.scale)
        for y, block, ruled in self._heads:
            if y > dirty.bottom() or y + theme.px(2 * HEAD) < dirty.top():
                continue
            if ruled:
                line = QRectF(edge, y, self.width() - 2 * edge, max(1.0, theme.scale))
                painter.fillRect(line, theme.colour("hair"))
            base = y + theme.px(21)
            title = _(block.title)
            if title:
                self._text(painter, axis - theme.width("strong", title) / 2, base, title, "strong", "ink")
                if block.caution and not block.columns:
                    words = _(block.caution)
                    x = axis + theme.width("strong", title) / 2 + theme.px(16)
                    self._text(painter, x, base, words, "secondary", "ink2")
            if block.columns:
                if self._two_lines(block):
                    base += theme.line("secondary")
                spread = self.spine() + theme.px(ANSWER - SPINE)
                left, right = (_(COLUMN_WORDS[column]) for column in block.columns)
                wide = theme.width("secondary", left)
                self._text(painter, axis - spread - wide, base, left, "secondary", "quiet")
                self._text(painter, axis + spread, base, right, "secondary", "quiet")
                if block.caution:
                    x = axis + spread + theme.width("secondary", right) + theme.px(16)
                    words = theme.fitted("secondary", _(block.caution), self.width() - edge - x)
                    self._text(painter, x, base, words, "secondary", "ink2")
        painter.end()

    def _text(self, painter: QPainter, x: float, y: float, text: str, role: Role, token: str) -> None:
        painter.setFont(self.theme.font(role))
        painter.setPen(self.theme.colour(token))
        painter.drawText(QPointF(x, y), text)


@cache
def _group(path: str) -> str:
    """Return the name of the findings that are judged beside each other: pressures all, else those of one group."""
    section, _dot, rest = path.partition(".")
    return section if section == "circulation" else f"{section}.{rest.partition('.')[0]}"


def _on_two_lines(theme: Theme, label: str) -> float:
    """Return the least width that holds a label on two lines."""
    words = label.split()
    breaks = [(" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words))]
    halves = [max(theme.width("strong", first), theme.width("strong", rest)) for first, rest in breaks]
    return min(halves, default=theme.width("strong", label))
