"""The list of gaps: one painted widget with one tab stop; arrows go from gap to gap, digits act on the one in focus."""

from collections.abc import Mapping

from PySide6.QtCore import QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from neuroform.completeness.gaps import SEVERITY_LABELS, Severity
from neuroform.desktop.drawing import draw
from neuroform.desktop.keyboard import key_name
from neuroform.desktop.painted import Painted, Part, Spoken
from neuroform.desktop.read_and_sign.gap_layout import Choice, GapLayout, Laid
from neuroform.desktop.read_and_sign.lacking import LONGEST_REASON, Deed, Lacking, asks_for_a_reason, heads, reasons
from neuroform.desktop.read_and_sign.parts import PAD, frame, write_lines
from neuroform.desktop.read_and_sign.writing import Line
from neuroform.desktop.theme import Theme
from neuroform.figures.marks import mark_shapes
from neuroform.language import N_, _


class GapList(Painted):
    """Shows the gaps by severity and says what a person does about one; it records nothing.

    Signals: `went(lacking)` to answer it, `left_out(lacking, code)` as not examined, `explained(lacking, reason)`, an
    empty reason taking one back, `all_explained(reason)` for every gap that asks for a reason alone, `moved()` when
    another gap has the focus, `ended()` past the last one.
    """

    went = Signal(object)
    left_out = Signal(object, str)
    explained = Signal(object, str)
    all_explained = Signal(str)
    moved = Signal()
    ended = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._groups: Mapping[Severity, tuple[Lacking, ...]] = {}
        self._flat: tuple[Lacking, ...] = ()
        self._at = 0
        self._asking = False
        self._for_all = False
        self._laid: Laid | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.field = Line(theme, _(N_("Reason")), parent=self)
        self.field.editor.setMaxLength(LONGEST_REASON)
        self.field.entered.connect(self._take_reason)
        self.field.hide()

    @property
    def current(self) -> Lacking | None:
        """The gap in focus."""
        return self._flat[self._at] if self._at < len(self._flat) else None

    def show_gaps(self, groups: Mapping[Severity, tuple[Lacking, ...]]) -> None:
        """Show the gaps as they stand; the focus stays on its gap, or where it was when that one is closed."""
        flat = tuple(each for held in groups.values() for each in held)
        if flat == self._flat:
            return
        kept = self.current.key if self.current is not None else None
        found = next((n for n, each in enumerate(flat) if each.key == kept), None)
        self._groups, self._flat = groups, flat
        if found is None:
            self._close()
        self._at = min(self._at, max(len(flat) - 1, 0)) if found is None else found
        self._anew()

    def next_gap(self) -> None:
        """Go to the next gap that is not explained; past the last one say that the list ended."""
        ahead = [n for n in range(self._at + 1, len(self._flat)) if self._flat[n].gap.reason is None]
        if ahead:
            self._go(ahead[0])
        else:
            self.ended.emit()

    def lead(self) -> None:
        """Go to the first gap that stands in the way of a signature, or asks for a reason before it, where one does."""
        flat = self._flat
        found = next((n for n, each in enumerate(flat) if each.gap.counts), None)
        if found is None:
            found = next((n for n, each in enumerate(flat) if asks_for_a_reason(each.gap)), None)
        if found is not None:
            self._go(found)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.field.set_theme(theme)
        super().set_theme(theme)
        self._anew()

    def at_rect(self) -> QRect:
        """Return where the gap in focus stands."""
        laid = self.laid()
        return laid.gaps[self._at].rect.toAlignedRect() if self._at < len(laid.gaps) else QRect()

    def laid(self) -> Laid:
        """Return where everything stands."""
        if self._laid is None:
            self._laid = self._lay(self.width())
        return self._laid

    def _lay(self, width: int) -> Laid:
        writing = not self.field.isHidden()
        return GapLayout(self.theme, width).lay(self._groups, at=self._at, asking=self._asking, writing=writing)

    def _anew(self) -> None:
        self._laid = None
        if not self.field.isHidden() and self._at < len(self.laid().gaps):
            rect = self.laid().gaps[self._at].reason
            if rect is not None:
                self.field.setGeometry(rect.toAlignedRect())
        self.updateGeometry()
        self.update()
        self.tell_focus()

    def hasHeightForWidth(self) -> bool:
        """Tell Qt that the height follows from the width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the list."""
        return max(round(self._lay(width).height), self.theme.line("body"))

    def sizeHint(self) -> QSize:
        """Return a width the list reads well in, and its height there."""
        wide = self.theme.px(340)
        return QSize(wide, self.heightForWidth(wide))

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Act on the gap in focus, or go on."""
        key = key_name(event)
        if key == "Escape" and self.give_up():
            return
        if not self.field.isHidden():
            super().keyPressEvent(event)
        elif key in {"Up", "Down"} and self._flat:
            self._go(max(0, min(len(self._flat) - 1, self._at + (1 if key == "Down" else -1))))
        elif key == "Enter":
            self.next_gap()
        elif len(key) == 1 and key.isdigit() and self._chosen(key):
            return
        else:
            super().keyPressEvent(event)

    def _chosen(self, key: str) -> bool:
        held = self.laid().gaps[self._at].choices if self._at < len(self._flat) else ()
        found = next((each for each in held if each.key == key), None)
        if found is not None:
            self._choose(found)
        return found is not None

    def _choose(self, choice: Choice) -> None:
        gap = self._flat[choice.gap]
        if self._asking and choice.gap == self._at:
            self._asking = False
            self._anew()
            self.left_out.emit(gap, reasons()[choice.number][1])
        else:
            self._go(choice.gap)
            self._by_deed(gap.actions[choice.number].deed)

    def _by_deed(self, deed: Deed | None) -> bool:
        gap = self.current
        if gap is None or deed is None:
            return False
        if deed == "answer":
            self.went.emit(gap)
        elif deed == "not_examined":
            self._asking = True
            self._anew()
            self.moved.emit()
        else:
            self._for_all = deed == "reason_for_all"
            self.field.set_text(gap.gap.reason or "")
            told = N_("One reason for every gap that asks for one") if self._for_all else N_("Reason for {gap}")
            self.field.editor.setAccessibleName(_(told).format(gap=gap.title))
            self.field.show()
            self._anew()
            self.moved.emit()
            self.field.editor.setFocus(Qt.FocusReason.OtherFocusReason)
        return True

    def give_up(self) -> bool:
        """Close the field of a reason, or the reasons, without recording; False where neither is open."""
        was = self._asking or not self.field.isHidden()
        self._close()
        if was:
            self._anew()
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        return was

    def _take_reason(self) -> None:
        gap, words, for_all = self.current, self.field.text(), self._for_all
        self.give_up()
        if for_all:
            self.all_explained.emit(words)
        elif gap is not None:
            self.explained.emit(gap, words)

    def _close(self) -> None:
        self._asking = self._for_all = False
        self.field.hide()

    def _go(self, number: int) -> None:
        if number != self._at:
            self._close()
            self._at = number
            self._anew()
        self.moved.emit()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose what is under the pointer, or put the focus on its gap."""
        at = event.position()
        for number, placed in enumerate(self.laid().gaps):
            if not placed.rect.contains(at):
                continue
            hit = next((each for each in placed.choices if each.rect.adjusted(-8, -4, 8, 4).contains(at)), None)
            on_reason = placed.reason is not None and placed.reason.contains(at)
            self._go(number)
            if hit is not None:
                self._choose(hit)
            elif on_reason:
                self._by_deed("reason")
            return

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the focus is."""
        super().focusInEvent(event)
        self.update()
        self.moved.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay out anew for another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._anew()

    # Painting

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what was laid out."""
        painter = QPainter(self)
        theme = self.theme
        if not self._flat:
            write_lines(painter, theme, "body", "ink2", [_(N_("No gaps."))], PAD, 0)
            if self.hasFocus():
                high = QRectF(0, 0, theme.width("body", _(N_("No gaps."))) + 2 * PAD, theme.line("body"))
                frame(painter, theme, high, focused=True)
        laid = self.laid()
        if self.hasFocus() and self._flat:
            painter.fillRect(laid.gaps[self._at].rect, theme.colour("tint"))
            frame(painter, theme, laid.gaps[self._at].rect, focused=True)
        for rule in laid.rules:
            painter.fillRect(rule, theme.colour("hair"))
        for text in laid.texts:
            write_lines(painter, theme, text.role, text.token, list(text.lines), text.x, text.top)
        for number, placed in enumerate(laid.gaps):
            draw(painter, theme, mark_shapes(placed.mark), *placed.mark_at)
            for choice in placed.choices:
                self._word(painter, choice, here=number == self._at)
            reason = self._flat[number].gap.reason
            if placed.reason is not None and reason is not None:
                box = placed.reason
                frame(painter, theme, box, focused=False)
                lines = theme.wrapped("body", reason, box.width() - 2 * PAD)
                write_lines(painter, theme, "body", "ink", lines, box.x() + PAD, box.y() + theme.px(6))
        painter.end()

    def _word(self, painter: QPainter, choice: Choice, *, here: bool) -> None:
        theme, rect = self.theme, choice.rect
        below = write_lines(painter, theme, "body", "ink", [choice.words], rect.x(), rect.y()) + theme.px(1)
        painter.fillRect(QRectF(rect.x(), below, rect.width(), 1.2), theme.colour("rule"))
        if here:
            write_lines(painter, theme, "key", "accent", [choice.key], rect.x(), below + theme.px(3))

    # For assistive technology

    def spoken(self) -> Spoken:
        """Return what the list is, and how long."""
        told = [f"{words}: {count}" for words, count in heads(self._groups).values()]
        return Spoken(name=_(N_("Gaps")), role="list", value="; ".join(told) or _(N_("No gaps.")))

    def parts(self) -> tuple[Part, ...]:
        """Return every gap, and what can be done about it."""
        made: list[Part] = []
        for number, (gap, placed) in enumerate(zip(self._flat, self.laid().gaps, strict=True)):
            rect = placed.rect.toAlignedRect()
            severity = _(SEVERITY_LABELS[gap.gap.severity])
            told = ". ".join(part for part in (severity, gap.said, gap.gap.why) if part)
            here = number == self._at
            made.append(
                Part(name=gap.title, role="link", rect=rect, focused=here, description=told, value=gap.gap.reason or "")
            )
            made += [
                Part(name=each.words, role="button", rect=each.rect.toAlignedRect(), description=gap.title)
                for each in placed.choices
            ]
        return tuple(made)
