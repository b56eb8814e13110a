"""The paper beside the words: which kind, its pages as they will be signed, turned, enlarged or as plain text."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from neuroform.desktop.read_and_sign.choosing import Choosing
from neuroform.desktop.read_and_sign.pages import Picture
from neuroform.desktop.read_and_sign.paper_view import A4, PaperView
from neuroform.desktop.read_and_sign.parts import BAR, PAD, Heading, Said, Word
from neuroform.desktop.theme import Theme
from neuroform.language import N_, _


class PaperColumn(QWidget):
    """Shows a small page. Signals: `chosen(kind)`, `turned(step)`, `enlarged()`, `read_as_text()`, `sized()`."""

    chosen = Signal(str)
    turned = Signal(int)
    enlarged = Signal()
    read_as_text = Signal()
    sized = Signal()

    def __init__(self, theme: Theme, kinds: Mapping[str, str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._room = 0
        self._head = Heading(theme, _(N_("The paper")), role="strong")
        self.kinds = Choosing(theme, _(N_("Kind of paper")), kinds)
        self.kinds.chosen.connect(self.chosen)
        self.view = PaperView(theme)
        self.view.turned.connect(self.turned)
        self.view.sized.connect(self.sized)
        self.page = Said(theme, "", "body", "ink2")
        self.next = Word(theme, _(N_("next page")))
        self.full = Word(theme, _(N_("full size")))
        self.text = Word(theme, _(N_("as text")))
        self.next.clicked.connect(lambda: self.turned.emit(1))
        self.full.clicked.connect(self.enlarged)
        self.text.clicked.connect(self.read_as_text)
        self.note = Said(theme, "", "secondary", "quiet")
        self.next.hide()
        beside = QVBoxLayout()
        beside.setSpacing(theme.px(4))
        for each in (self.page, self.next, self.full, self.text):
            beside.addWidget(each, 0, Qt.AlignmentFlag.AlignLeft)
        beside.addStretch()
        row = QHBoxLayout()
        row.setContentsMargins(PAD, 0, 0, 0)
        row.setSpacing(theme.px(6))
        row.addWidget(self.view, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(beside)
        row.addStretch()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, BAR, 0)
        layout.setSpacing(theme.px(4))
        layout.addWidget(self._head)
        layout.addWidget(self.kinds)
        layout.addSpacing(theme.px(6))
        layout.addLayout(row)
        layout.addWidget(self.note)
        layout.addStretch()

    def fit(self, width: int, height: int) -> None:
        """Make the page as large as the room allows; with no height given, as wide as the column."""
        counted = round(self.theme.width("body", _(N_("page {page} of {pages}")).format(page=10, pages=10))) + 2 * PAD
        words = max(self.next.sizeHint().width(), counted, self.full.sizeHint().width())
        wide = width - words - PAD - BAR - self.theme.px(6)
        if height:
            above = self._head.sizeHint().height() + self.kinds.heightForWidth(width) + self.theme.px(34)
            wide = min(wide, round((height - above - 2) / A4))
        wide = max(wide, self.theme.px(120))
        self.view.setFixedSize(wide, self.view.heightForWidth(wide))

    def show_picture(self, picture: Picture, kind: str) -> None:
        """Show a page and say which it is."""
        self.view.kind = kind
        self.view.show_picture(picture)
        told = _(N_("page {page} of {pages}"))
        self.page.say(told.format(page=picture.page + 1, pages=picture.pages))
        self.next.setText(_(N_("next page") if picture.page + 1 < picture.pages else N_("first page")))
        self.next.setVisible(picture.pages > 1)
        self.note.say("")

    def show_stale(self) -> None:
        """Say that the page is being written anew."""
        if self.view.is_current:
            self.note.say(_(N_("The page is being written anew.")))
        self.view.set_stale()

    def show_words(self, words: str) -> None:
        """Say why there is no paper."""
        self.view.show_words(words)
        self.page.say("")
        self.next.hide()
        self.note.say("")

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        for each in (self._head, self.kinds, self.view, self.page, self.next, self.full, self.text, self.note):
            each.set_theme(theme)
