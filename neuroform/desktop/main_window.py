"""The window: head, strip, sheet, band and last line. It is painted before anything heavy is loaded."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QEvent, QRect, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QShortcut
from PySide6.QtWidgets import QApplication, QWidget

from neuroform.desktop.shape import BAND, HEAD, HEAD_FOLDED, LAST, STRIP, STRIP_FOLDED, shape_of
from neuroform.desktop.theme import Theme
from neuroform.language import N_, _

if TYPE_CHECKING:
    from neuroform.desktop.band import Band, LastLine
    from neuroform.desktop.begin_page import BeginPage
    from neuroform.desktop.examination_place import ExaminationPlace
    from neuroform.desktop.head import Head
    from neuroform.desktop.opening import Beginning, Opened
    from neuroform.desktop.places import EmptyPlace
    from neuroform.desktop.strip import Plumb, Strip

TITLE = N_("Legs and balance examination")
LEAST = (760, 520)
SCALES = (1.0, 1.1, 1.25, 1.5, 1.75, 2.0)


class Themed(Protocol):
    """A part that can take another palette or text size."""

    def set_theme(self, theme: Theme) -> None:
        """Take it."""


class MainWindow(QWidget):
    """One window with three places; the person stays in sight in all of them."""

    head: "Head"
    strip: "Strip"
    band: "Band"
    last: "LastLine"
    plumb: "Plumb"

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.place = 0
        self.scheme = "light" if not theme.dark else "dark"
        """The colours asked for; "system" follows the system."""
        self.examination: ExaminationPlace | None = None
        """The one that is shown."""
        self.own: ExaminationPlace | None = None
        """One's own, while another is read in its place."""
        self._by_key: dict[Qt.Key, Callable[[], None]] = {}
        self.asking: BeginPage | None = None
        self.page: QWidget | None = None
        self._pages: Mapping[str, Callable[[MainWindow], QWidget]] = {}
        self.others: list[EmptyPlace] = []
        self._built = False
        self._plumb_x = -1
        self._shown: list[Callable[[], None]] = []
        self.setWindowTitle(_(TITLE))
        self.setMinimumSize(*LEAST)
        self._dress()

    def build(self) -> None:
        """Build the parts that stand in every place; not before the first paint, which needs none of them."""
        from neuroform.desktop import accessible
        from neuroform.desktop.band import Band, LastLine
        from neuroform.desktop.head import Head
        from neuroform.desktop.strip import Plumb, Strip

        if self._built:
            return
        accessible.install()
        theme = self.theme
        self.head = Head(theme, self)
        self.strip = Strip(theme, self)
        self.band = Band(theme, self)
        self.last = LastLine(theme, self)
        self.plumb = Plumb(theme, self)
        self.head.chosen.connect(self.go)
        self.head.left.connect(self.to_form)
        self.strip.left.connect(self.to_form)
        self.strip.plumbed.connect(self._plumbed)
        self.band.left.connect(self.to_form)
        self.band.reached.connect(self._unfold)
        self.band.lost.connect(lambda: QTimer.singleShot(0, self._fold))
        self._built = True
        for part in (self.head, self.strip, self.band, self.last):
            part.show()
        self._shortcuts()
        self.arrange()

    # Opening

    def when_shown(self, then: Callable[[], None]) -> None:
        """Call something once, after the window was painted for the first time."""
        self._shown.append(then)

    def take(self, given: "Opened | Beginning") -> None:
        """Build what the window opens on, or ask who is examined."""
        from neuroform.desktop.opening import Opened

        self.build()
        if isinstance(given, Opened):
            self.fill(given)
            return
        from neuroform.desktop.begin_page import BeginPage

        self._pages = given.pages
        self.asking = BeginPage(self.theme, given, self)
        self.asking.begun.connect(self._begun)
        self.asking.show()
        self.arrange()
        self.asking.first.setFocus(Qt.FocusReason.TabFocusReason)

    def _begun(self, opened: "Opened") -> None:
        asking, self.asking = self.asking, None
        if asking is not None:
            asking.hide()
            asking.deleteLater()
        self.fill(opened)

    def fill(self, opened: "Opened") -> None:
        """Build what the window opens on."""
        from neuroform.desktop.examination_place import ExaminationPlace

        self.build()
        self.examination = ExaminationPlace(self, opened)
        self.arrange()
        self.examination.begin()

    def _shortcuts(self) -> None:
        standard = QKeySequence.StandardKey
        self._by_key = {
            Qt.Key.Key_F1: self.toggle_keys,
            Qt.Key.Key_F2: lambda: self.head.setFocus(Qt.FocusReason.TabFocusReason),
            Qt.Key.Key_F3: self._to_strip,
            Qt.Key.Key_F4: lambda: self.show_page("settings"),
            Qt.Key.Key_F5: lambda: self.to_band(0),
            Qt.Key.Key_F6: lambda: self.to_band(1),
            Qt.Key.Key_F7: lambda: self.to_band(2),
            Qt.Key.Key_F8: lambda: self.show_page("verify"),
            Qt.Key.Key_F9: self.finish,
            Qt.Key.Key_F10: self._next,
        }
        acts: list[tuple[QKeySequence | QKeySequence.StandardKey | Qt.Key, Callable[[], None]]] = [
            *self._by_key.items(),
            (standard.Undo, self._undo),
            (standard.Redo, self._redo),
            (standard.ZoomIn, lambda: self.zoom(1)),
            (standard.ZoomOut, lambda: self.zoom(-1)),
        ]
        for keys, act in acts:
            # A standard key by its name, so that every chord the platform has for it is heard.
            keyed = keys if isinstance(keys, standard) else QKeySequence(keys)
            QShortcut(keyed, self).activated.connect(act)

    # Places

    def go(self, place: int) -> None:
        """Go to a place: 0 Examination, 1 Patients, 2 Supervision."""
        if not self.others:
            from neuroform.desktop.places import patients, supervision

            self.others = [patients(self.theme, self), supervision(self.theme, self)]
            for other in self.others:
                other.hide()
                other.left.connect(lambda: self.go(0))
        self.place = place
        self.head.show_place(place)
        for number, other in enumerate(self.others, 1):
            other.setVisible(number == place)
        self.arrange()
        if place:
            self.others[place - 1].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self.to_form()

    def to_form(self) -> None:
        """Give the keyboard back to the form."""
        self.band.open = None
        if self.place:
            self.others[self.place - 1].setFocus(Qt.FocusReason.TabFocusReason)
        elif self.examination is not None:
            self.arrange()
            self.examination.to_form()

    def _to_strip(self) -> None:
        if self.examination is not None:
            self.strip.setFocus(Qt.FocusReason.TabFocusReason)

    def to_band(self, column: int) -> None:
        """Give the keyboard to a column of the band, unfolded over the sheet where the band is folded."""
        if self.examination is None:
            return
        self.examination.entering.leave()
        self._unfold(column)
        self.band.columns[column].setFocus(Qt.FocusReason.TabFocusReason)

    def _unfold(self, column: int) -> None:
        """Let the band rise over the sheet where a column says more than it has room for."""
        chosen = self.band.columns[column]
        if self.band.open is not chosen and (self.band.folded or chosen.overflows):
            self.band.open = chosen
            # Once so that it has its width, and once more now that its height is known.
            self.arrange()
            self.arrange()
        if self.examination is not None:
            self.examination.show_last()

    def _fold(self) -> None:
        """Let the band down again once the keyboard is elsewhere."""
        if QApplication.focusWidget() in self.band.columns:
            return
        if self.band.open is not None:
            self.band.open = None
            self.arrange()
        if self.examination is not None:
            self.examination.show_last()

    def show_page(self, name: str) -> None:
        """Show a page over everything but the head, where the window was given one of that name."""
        pages = self.examination.opened.pages if self.examination is not None else self._pages
        if self.page is not None or name not in pages:
            return
        if self.examination is not None:
            self.examination.entering.leave()
        self.page = page = pages[name](self)
        page.setAutoFillBackground(True)
        palette = self.theme.palette()
        palette.setColor(palette.ColorRole.Window, self.theme.colour("sheet"))
        page.setPalette(palette)
        for done in (getattr(page, "left", None), getattr(page, "kept", None)):
            if done is not None:
                done.connect(self.close_page)
        page.show()
        self.arrange()
        page.setFocus(Qt.FocusReason.TabFocusReason)

    def close_page(self) -> None:
        """Put the page away that was shown over the rest."""
        page, self.page = self.page, None
        if page is not None:
            page.hide()
            page.deleteLater()
            self.arrange()
            if self.examination is None and self.asking is not None:
                self.asking.first.setFocus(Qt.FocusReason.TabFocusReason)
            else:
                self.to_form()

    def finish(self) -> None:
        """Open Read and sign; of an examination that is signed, what adds to its note."""
        if self.examination is None:
            return
        self.go(0)
        if self.examination.opened.sealed is not None and "addendum" in self.examination.opened.pages:
            self.show_page("addendum")
        else:
            self.examination.finish()

    def toggle_keys(self) -> None:
        """Show the sheet of keys, or put it away."""
        if self.examination is not None:
            self.examination.toggle_keys()

    def _next(self) -> None:
        from neuroform.desktop.handing_over import begin_again

        begin_again(self)

    def _undo(self) -> None:
        if self.examination is not None and not self.place and not self.examination.entering.is_sealed():
            self.examination.entering.undo()

    def _redo(self) -> None:
        if self.examination is not None and not self.place and not self.examination.entering.is_sealed():
            self.examination.entering.redo()

    def zoom(self, step: int) -> None:
        """Take the next larger or smaller text."""
        nearest = min(range(len(SCALES)), key=lambda n: abs(SCALES[n] - self.theme.scale))
        scale = SCALES[max(0, min(len(SCALES) - 1, nearest + step))]
        self.set_theme(Theme(dark=self.theme.dark, scale=scale))

    # Looks

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        self._dress()
        if not self._built:
            self.update()
            return
        self.plumb.theme = theme
        setter = getattr(self.page, "set_theme", None)
        if setter is not None:
            setter(theme)
        asking = [self.asking] if self.asking is not None else []
        parts: list[Themed] = [self.head, self.strip, self.band, self.last, *self.others, *asking]
        for part in parts:
            part.set_theme(theme)
        self.arrange()
        for place in (self.examination, self.own):
            if place is not None:
                place.set_theme(theme)
        if self.examination is not None and self.own is not None:
            self.examination.set_theme(theme)
        self.arrange()

    def _dress(self) -> None:
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.setPalette(self.theme.palette())
            app.setFont(self.theme.font("body"))

    def arrange(self) -> None:
        """Put every part in its place."""
        if not self._built:
            return
        theme, width, height = self.theme, self.width(), self.height()
        folded = shape_of(width, theme.scale) == "folded"
        self.band.folded = self.last.folded = folded
        for part in (self.head, self.strip):
            part.resize(width, part.height())
        head, strip = self.head.needed_height(), self.strip.needed_height()
        last = theme.px(LAST)
        band = theme.px(LAST if folded else BAND - LAST)
        if self.band.open is not None:
            around = theme.px(20 if folded else 8)
            band = min(height - head - strip - last, max(band, self.band.open.content_height() + around))
        self.head.setGeometry(0, 0, width, head)
        self.strip.setGeometry(0, head, width, strip)
        self.band.setGeometry(0, height - last - band, width, band)
        self.band.arrange()
        self.last.setGeometry(0, height - last, width, last)
        self.strip.setVisible(not self.place)
        for other in self.others:
            other.setGeometry(QRect(0, head, width, height - head))
            if other.isVisible():
                other.raise_()
        if self.asking is not None:
            self.asking.setGeometry(0, head, width, height - head)
            self.asking.raise_()
        if self.examination is not None:
            foot = last + theme.px(LAST if folded else BAND - LAST)
            self.examination.arrange(QRect(0, head + strip, width, height - foot - head - strip))
            if self.band.open is not None:
                self.band.raise_()
        if self.page is not None:
            self.page.setGeometry(0, head, width, height - head)
            self.page.raise_()
        self._hang()
        self.update()

    def _plumbed(self, x: int) -> None:
        self._plumb_x = x
        self._hang()

    def _hang(self) -> None:
        top = self.head.height() + self.strip.line_top() + self.theme.px(7)
        from neuroform.desktop.strip import BOB

        told = self.examination is not None and self.examination.recovered.isVisible()
        bob = 5 if self.band.folded or told else BOB
        foot = self.head.height() + self.strip.height() + self.theme.px(bob)
        rows = not self.place and self.examination is not None and self.examination.in_rows
        rows = rows and self.examination is not None and self.examination.keys.isHidden()
        rows = rows and self.band.open is None and self.page is None
        self.plumb.fall(self._plumb_x if rows else -1, top, foot)

    def resizeEvent(self, _event: object) -> None:
        """Place everything anew."""
        self.arrange()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the sheet; after the first time, let the rest be built."""
        theme, width, height = self.theme, self.width(), self.height()
        folded = shape_of(width, theme.scale) == "folded"
        above = theme.px(HEAD_FOLDED) + theme.px(STRIP_FOLDED) if folded else theme.px(HEAD) + theme.px(STRIP)
        foot = theme.px(2 * LAST if folded else BAND)
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.colour("sheet"))
        painter.fillRect(QRect(0, 0, width, above), theme.colour("ground"))
        painter.fillRect(QRect(0, height - foot, width, foot), theme.colour("ground"))
        painter.fillRect(QRect(0, height - foot, width, round(2.5 * theme.scale)), theme.colour("ink"))
        painter.end()
        if self._shown:
            waiting, self._shown = self._shown, []
            for then in waiting:
                QTimer.singleShot(0, then)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Find with f or /, and take the window's own keys where it is not active and no shortcut hears them."""
        act = self._by_key.get(Qt.Key(event.key())) if not event.modifiers() else None
        if act is not None:
            act()
        elif self.examination is not None and not self.place and event.text() in {"f", "F", "/"}:
            self.examination.open_find()
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Give the keyboard to the form when the window becomes active without a focus."""
        super().changeEvent(event)
        activated = event.type() == QEvent.Type.ActivationChange and self.isActiveWindow()
        if activated and self._built and QApplication.focusWidget() is None:
            if self.band.open is not None:
                self.band.open.setFocus(Qt.FocusReason.ActiveWindowFocusReason)
            else:
                self.to_form()

    def _told_before_closing(self) -> bool:
        """Say what closing would lose, once; tell whether there is anything."""
        shown = self.examination
        told = next((words for place in (shown, self.own) if place is not None and (words := place.loses())), "")
        if told and shown is not None:
            if not hasattr(self.page, "tell"):
                self.close_page()
            if self.place:
                self.go(0)
            shown.tell(told)
        return bool(told)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Let go of what was opened; what would be lost is told of once before."""
        if self._told_before_closing():
            event.ignore()
            return
        for place in (self.examination, self.own):
            if place is not None:
                place.close()
        super().closeEvent(event)
