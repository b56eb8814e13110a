"""The Examination place: ties the document, the hand and the parts of the window together."""

import logging
from datetime import datetime
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Qt, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from neuroform.desktop import answering, band_view, place_words
from neuroform.desktop.column_layout import Said
from neuroform.desktop.document import Document
from neuroform.desktop.entering import Entering
from neuroform.desktop.find_box import FindBox
from neuroform.desktop.key_sheet import KeySheetArea
from neuroform.desktop.keyboard import key_word
from neuroform.desktop.moving import SIGN
from neuroform.desktop.notice import Notice
from neuroform.desktop.opening import Opened
from neuroform.desktop.painted import announce
from neuroform.desktop.recording import Topic
from neuroform.desktop.row_view import misfit
from neuroform.desktop.settling import collect_seldom, give_large_blocks_back, make_validators
from neuroform.desktop.sheet import Sheet
from neuroform.desktop.sheet_head import SheetHead
from neuroform.desktop.stepping_aside import SteppingAside
from neuroform.desktop.strip_view import sections_view
from neuroform.desktop.theme import Theme
from neuroform.desktop.work import Cancel, Work
from neuroform.errors import NeuroformError
from neuroform.exam.walk import section_group
from neuroform.language import N_, _

if TYPE_CHECKING:
    from neuroform.desktop.main_window import MainWindow
    from neuroform.reasoning.results import NextTest

log = logging.getLogger(__name__)
REST_MS = 150
"""How long the hands rest before what to examine next is thought about."""
TICK_MS = 50


class ExaminationPlace(SteppingAside):
    """Builds the parts that need the examination and keeps them in step with it."""

    def __init__(self, window: "MainWindow", opened: Opened) -> None:
        self.window = window
        self.opened = opened
        self.document = Document(opened.exam)
        self.entering = Entering(self.document, opened.judge, vibration=opened.vibration)
        self.document.when_refused(lambda: self.entering.say(self.document.sealed))
        self.work = Work()
        self.page: QWidget | None = None
        theme = window.theme
        self.head = SheetHead(theme, window)
        self.sheet = Sheet(theme, self.entering, window)
        self.recovered = Notice(theme, window)
        self.together = Notice(theme, window)
        self.find = FindBox(theme, window)
        self.keys = KeySheetArea(theme, window)
        self._saved: datetime | None = opened.recovered
        self._refused = ""
        self._rules = opened.rules
        self._urgent: frozenset[str] = frozenset()
        self._next: tuple[NextTest, ...] = ()
        self._rest = QTimer(window)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._think)
        self._tick = QTimer(window)
        self._tick.setInterval(TICK_MS)
        self._tick.timeout.connect(self._ticked)
        self.document.listen(self._save)
        self.entering.listen(self._heard)
        self.attend(True)
        self.recovered.clicked.connect(self._dismiss)
        self.find.found.connect(self._found)
        self.find.closed.connect(self._find_closed)
        self.keys.closed.connect(self.toggle_keys)
        if opened.sealed is not None:
            self.document.seal(opened.sealed.why, but=opened.sealed.but)

    # Beginning and ending

    def begin(self) -> None:
        """Show everything for the first time and give the keyboard to the form."""
        for part in (self.head, self.sheet):
            part.show()
        self._order_tabs()
        self._tell_notices()
        self.window.arrange()
        if self.opened.at is not None:
            self.entering.resume(self.opened.at)
        self.sheet.show_section()
        self._show_all()
        self.to_form()
        if self.opened.rules is not None:
            # One turn for the keys that already wait, before the rules are loaded.
            QTimer.singleShot(0, lambda: QTimer.singleShot(0, self.load_rules))
        else:
            self._rest.start()

    def load_rules(self) -> None:
        """Load the rules that judge, and show what follows."""
        rules, self._rules = self._rules, None
        if rules is None:
            return
        try:
            self.entering.take_judge(rules())
        except Exception as error:  # without the rules nothing may pass for checked
            log.error("loading the rules failed: %s", type(error).__name__)
            self.entering.unchecked = True
            self.entering.say(_(N_("The examination could not be checked: the rules cannot be loaded.")))
            self.show_last()
        else:
            self._rest.start()
            cancel = Cancel()
            self.work.run(lambda: make_validators(cancel), lambda _made: None, cancel=cancel)
        collect_seldom()
        give_large_blocks_back()

    def _order_tabs(self) -> None:
        window = self.window
        order = [window.head, window.strip, self.sheet, *window.band.columns]
        for before, after in pairwise(order):
            QWidget.setTabOrder(before, after)

    def close(self) -> None:
        """Stop what runs and let go of what was opened."""
        self._rest.stop()
        self._tick.stop()
        self.work.close()
        self.opened.close()

    # Where things stand

    @property
    def in_rows(self) -> bool:
        """Whether the rows are in sight, and not another page."""
        return self.page is None or not self.page.isVisible()

    def arrange(self, box: QRect) -> None:
        """Put the parts of this place into a box of the window."""
        top = box.top()
        self.recovered.resize(box.width(), self.recovered.height())
        high = self.recovered.needed_height()
        self.recovered.setGeometry(0, top, box.width(), high)
        top += high
        self.head.resize(box.width(), self.head.height())
        head = self.head.needed_height()
        self.head.setGeometry(0, top, box.width(), head)
        top += head
        self.together.resize(box.width(), self.together.height())
        foot = self.together.needed_height()
        bottom = box.bottom() + 1
        self.sheet.setGeometry(0, top, box.width(), max(40, bottom - top - foot))
        self.together.setGeometry(0, bottom - foot, box.width(), foot)
        if self.page is not None:
            self.page.setGeometry(0, box.top(), box.width(), self.window.height() - box.top())
            if self.page.isVisible():
                self.page.raise_()
        wide = min(box.width() - 2 * self.window.theme.px(24), self.window.theme.px(560))
        self.find.setGeometry((box.width() - wide) // 2, box.top() + self.window.theme.px(8), wide, self.find.height())
        if self.keys.isVisible():
            self.keys.open(self.window.theme, QRect(box.x(), box.y(), box.width(), self.window.height() - box.y()))

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        for part in (self.head, self.sheet, self.recovered, self.together, self.find):
            part.set_theme(theme)
        setter = getattr(self.page, "set_theme", None)
        if setter is not None:
            setter(theme)
        self._show_all()
        if self.in_rows:
            self.sheet.follow_focus()

    # What the hand does

    def to_form(self) -> None:
        """Give the keyboard to the row in focus, or to the page."""
        if not self.in_rows and self.page is not None:
            self.page.setFocus(Qt.FocusReason.TabFocusReason)
        elif self.entering.section != SIGN:
            self.sheet.page().focus_row()

    def open_find(self) -> None:
        """Open the box that finds an item."""
        self.entering.leave()
        self.window.arrange()
        self.find.open()

    def _found(self, path: str) -> None:
        self._show_rows()
        self.entering.go(path)
        self.to_form()
        self.find.hide()

    def _find_closed(self) -> None:
        if self.find.isVisible():
            # The hand goes back first: what is hidden with the keyboard in it hands that to its neighbour.
            self.to_form()
            self.find.hide()

    def toggle_keys(self) -> None:
        """Show the sheet of keys, or put it away."""
        if self.keys.isVisible():
            self.to_form()
            self.keys.hide()
            self.window.arrange()
        else:
            top = self.window.head.height()
            window = self.window
            self.keys.open(window.theme, QRect(0, top, window.width(), window.height() - top))
            window.arrange()

    def finish(self) -> None:
        """Open Read and sign."""
        self.entering.leave()
        if self.opened.finish is None:
            self.entering.say(_(N_("This window reads only: nothing is signed here.")))
            return
        if self.page is None:
            self.page = self.opened.finish(self.window, self.document)
            for name, then in (("went", self.go), ("left", self.back), ("kept", self.back)):
                signal = getattr(self.page, name, None)
                if signal is not None:
                    signal.connect(then)
        for part in (self.head, self.sheet, self.recovered, self.together):
            part.hide()
        self.page.show()
        self.window.arrange()
        self._show_strip()
        self.page.raise_()
        opener = getattr(self.page, "open", None)
        if opener is not None:
            opener()
        else:
            self.page.setFocus(Qt.FocusReason.TabFocusReason)

    def back(self) -> None:
        """Leave Read and sign for the row one came from."""
        self._show_rows()
        self._show_all()
        self.to_form()

    def go(self, path: str) -> None:
        """Leave Read and sign for the row that answers a path."""
        self._show_rows()
        self.entering.go(path)
        self.to_form()

    def _show_rows(self) -> None:
        if self.page is not None:
            self.page.hide()
        self.head.show()
        self.sheet.show()
        self.recovered.setVisible(bool(self.recovered.words))
        self.together.setVisible(bool(self.together.words))
        self.window.arrange()

    def _open(self, section: str) -> None:
        if section == SIGN:
            self.finish()
            return
        self._show_rows()
        self.entering.open(section)
        self._show_strip()

    def _trace(self, items: tuple[str, ...]) -> None:
        self.window.band.open = None
        self._show_rows()
        self.entering.trace(items)
        self.to_form()

    # What changes

    def _heard(self, topics: frozenset[Topic]) -> None:
        if "exam" in topics:
            self._show_exam(rows=False)
            self._rest.start()
        if "section" in topics:
            self.sheet.show_section()
            if self.entering.section != SIGN and self.in_rows:
                self.sheet.page().focus_row()
        if topics & {"focus", "state", "rows", "section", "exam", "say"}:
            self._show_focus(moved=bool(topics & {"focus", "rows", "section"}))
        if "say" in topics:
            announce(self.window, self.entering.message)
        if "dismiss" in topics:
            self._dismiss()
        if "timer" in topics:
            self._timer()
        self._show_head()
        self._show_together()
        if "comment" in topics:
            self.sheet.ask_comment()
        if "finish" in topics:
            self.finish()

    def _show_focus(self, *, moved: bool) -> None:
        if self.entering.section == SIGN:
            return
        self.sheet.refresh()
        if not moved:
            self.sheet.reveal_pointed()
        else:
            self.sheet.follow_focus()
            page = self.sheet.page()
            focus = QApplication.focusWidget()
            if focus is None or page.isAncestorOf(focus):
                page.focus_row()
            widget = page.focused_widget()
            teller = getattr(widget, "tell_focus", None)
            if teller is not None:
                teller()
        self._show_strip()
        self.show_last()

    def _show_all(self) -> None:
        self._show_exam()
        self._show_head()
        self._show_together()

    def _show_exam(self, *, rows: bool = True) -> None:
        self._show_band()
        self._show_person()
        if rows:
            self.sheet.refresh()
            self._show_strip()
            self.show_last()

    def _show_person(self) -> None:
        sealed = self.opened.sealed
        state = sealed.state if sealed is not None else self._refused
        signed = sealed is not None
        shown = place_words.person(self.document.exam, self.opened.amount, self._saved, state, signed=signed)
        self.window.head.show_person(shown)

    def _show_strip(self) -> None:
        current = SIGN if not self.in_rows else self.entering.section
        self.window.strip.show_sections(sections_view(self.entering), current)

    def _show_band(self) -> None:
        band = self.window.band
        conclusions = self.entering.conclusions
        reading = conclusions.reading
        shown = band_view.urgent(reading)
        if self._rules is None:
            band.urgent.set_empty(_(N_("None from what is recorded so far.")))
        if band.urgent.show_said(shown):
            self._announce_urgent(shown)
            if band.folded:
                band.update()
        band.interpretation.show_said(band_view.sentences(conclusions), band_view.systems(reading))
        band.following.show_said(band_view.proposals(self._next))

    def _announce_urgent(self, shown: tuple[Said, ...]) -> None:
        raised = frozenset(each.text for each in shown)
        for each in shown:
            if each.text not in self._urgent:
                words = _(N_("Urgent finding, {urgency}: {message}")).format(urgency=each.head, message=each.text)
                announce(self.window.band, words, at_once=each.urgency == "immediate")
        self._urgent = raised

    def _show_head(self) -> None:
        entering = self.entering
        if entering.section == SIGN:
            return
        group = section_group(entering.section)
        cell = entering.at
        hint = place_words.hint(cell, entering.is_barred(cell)) if cell is not None else ""
        blank, needed = entering.blanks(entering.section)
        told = _(N_("{blank} of {all} blank")).format(blank=blank, all=needed) if needed else ""
        running = entering.running
        length = running.ends_after if running is not None and running.trial is not None else None
        self.head.show_words(
            title=_(group.label),
            caution=_(group.caution),
            hint=hint,
            message=entering.message or (misfit(entering, cell) if cell is not None else ""),
            blank=told,
            timer=f"{entering.seconds():.1f} s" if running else "",
            timer_of=_(N_("of {seconds}")).format(seconds=answering.with_unit(length, "s")) if length else "",
        )

    def _show_together(self) -> None:
        words = place_words.offered(self.entering.offer if self.entering.mode == "together" else None)
        if words == self.together.words:
            return
        enter, escape = key_word("Enter"), key_word("Escape")
        keys = ((_(N_("answer them")), enter), (_(N_("go back")), escape)) if words else ()
        self.together.tell(words, keys)
        announce(self.together, words)
        self.window.arrange()

    def show_last(self) -> None:
        """Show what is needed to sign, how far it is, and the keys that work where the hand is."""
        needed = place_words.needed(self.entering) if self._rules is None else ""
        told = place_words.progress(self.entering)
        band = self.window.band.columns
        keys = (
            place_words.keys_in_band() if QApplication.focusWidget() in band else place_words.keys_here(self.entering)
        )
        self.window.last.show_line(needed, told, tuple(keys))

    # The clock and the workers

    def _timer(self) -> None:
        if self.entering.running is not None:
            self._tick.start()
        else:
            self._tick.stop()

    def _ticked(self) -> None:
        was = self.entering.running
        self.entering.tick()
        if was is not None and self.entering.running is None and self.opened.sound:
            QApplication.beep()
        self._show_head()

    def _think(self) -> None:
        exam, reading = self.document.exam, self.entering.conclusions.reading

        def done(found: "tuple[NextTest, ...]") -> None:
            if exam is self.document.exam and self.window.examination is self:
                self._next = found
                self.window.band.following.set_empty(place_words.nothing_next(self.entering))
                self.window.band.following.show_said(band_view.proposals(found))
                if self.window.band.open is not None:
                    self.window.arrange()

        self.work.run(lambda: self.entering.judge.propose(exam, reading), done)

    def _save(self, paths: tuple[str, ...]) -> None:
        try:
            self._saved = self.opened.save(self.document, paths)
            self._refused = ""
        except NeuroformError as refused:
            self._refused = _(N_("not saved"))
            self.entering.say(str(refused))
