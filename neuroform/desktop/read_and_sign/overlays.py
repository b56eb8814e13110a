"""The paper at full size, and as plain text: each in place of the columns, until Escape."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPlainTextEdit, QScrollArea, QVBoxLayout, QWidget

from neuroform.desktop.keyboard import key_name
from neuroform.desktop.painted import announce
from neuroform.desktop.read_and_sign.pages import Picture
from neuroform.desktop.read_and_sign.paper_view import PaperView
from neuroform.desktop.read_and_sign.parts import PAD, Said, Word
from neuroform.desktop.theme import Theme, thin_bar
from neuroform.language import N_, _


class Scrolling(QScrollArea):
    """Scrolls what it holds, upright only, on the sheet."""

    def __init__(self, theme: Theme, held: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidgetResizable(True)
        self.setWidget(held)
        held.setAutoFillBackground(False)
        self.dress(theme)

    def dress(self, theme: Theme) -> None:
        """Take another palette."""
        self.viewport().setAutoFillBackground(False)
        self.verticalScrollBar().setStyleSheet(thin_bar(theme))


class _Over(QWidget):
    """What both share: a title, and the way back. Signals: `left()`."""

    left = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.title = Said(theme, "", "strong")
        self.back = Word(theme, _(N_("back to the page")))
        self.back.clicked.connect(self.left)
        self.words: list[Word] = [self.back]
        self.row = QHBoxLayout()
        self.row.addWidget(self.title)
        self.row.addStretch()
        self.row.addWidget(self.back)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(theme.px(24) - PAD, theme.px(10), theme.px(24) - PAD, theme.px(4))
        self.column.addLayout(self.row)
        self.hide()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Cover what is below with the sheet."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self.theme.colour("sheet"))
        painter.end()

    def add_word(self, word: Word) -> None:
        """Put a word before the way back."""
        self.words.insert(0, word)
        self.row.insertWidget(self.row.count() - 1, word)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        self.title.set_theme(theme)
        for each in self.words:
            each.set_theme(theme)


class FullSize(_Over):
    """One page as wide as reads well. Signals beside the way back: `turned(step)`, `sized()`."""

    turned = Signal(int)
    sized = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.view = PaperView(theme)
        self.view.turned.connect(self.turned)
        self.view.sized.connect(self.sized)
        self.next = Word(theme, _(N_("next page")))
        self.next.clicked.connect(lambda: self.turned.emit(1))
        self.add_word(self.next)
        held = QWidget()
        inner = QVBoxLayout(held)
        inner.setContentsMargins(0, 0, 0, theme.px(16))
        inner.addWidget(self.view, 0, Qt.AlignmentFlag.AlignHCenter)
        self.area = Scrolling(theme, held)
        self.column.addWidget(self.area)

    def show_picture(self, picture: Picture, kind: str) -> None:
        """Show a page."""
        self.view.kind = kind
        self.view.show_picture(picture)
        told = _(N_("{kind}, page {page} of {pages}"))
        self.title.say(told.format(kind=kind, page=picture.page + 1, pages=picture.pages))
        self.next.setVisible(picture.pages > 1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Scroll the page with the arrows."""
        step = {"Down": 1, "Up": -1}.get(key_name(event))
        if step is None:
            super().keyPressEvent(event)
        else:
            bar = self.area.verticalScrollBar()
            bar.setValue(bar.value() + step * self.theme.px(60))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Make the page as wide as the room, at most as wide as paper on a desk."""
        super().resizeEvent(event)
        wide = min(self.width() - self.theme.px(48), self.theme.px(900))
        self.view.setFixedSize(wide, self.view.heightForWidth(wide))

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        super().set_theme(theme)
        self.view.set_theme(theme)
        self.area.dress(theme)


class AsText(_Over):
    """The paper as plain text, to copy elsewhere."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.editor = QPlainTextEdit()
        self.editor.setReadOnly(True)
        self.editor.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByKeyboard | Qt.TextInteractionFlag.TextSelectableByMouse
        )
        self.editor.setFrameShape(QFrame.Shape.NoFrame)
        self.editor.setTabChangesFocus(True)
        self.editor.setAccessibleName(_(N_("The paper as text")))
        self.copy = Word(theme, _(N_("copy all of it")))
        self.copy.clicked.connect(self._copy)
        self.add_word(self.copy)
        self.column.addWidget(self.editor)
        self.title.say(_(N_("The paper as text")))
        self._dress(theme)

    def show_text(self, text: str) -> None:
        """Show the paper's words."""
        self.editor.setPlainText(text)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.editor.toPlainText())
        self.title.say(_(N_("Copied: the whole paper as text.")))
        announce(self, self.title.text())

    def _dress(self, theme: Theme) -> None:
        self.editor.setFont(theme.font("body"))
        self.editor.verticalScrollBar().setStyleSheet(thin_bar(theme))
        palette = theme.palette()
        palette.setColor(QPalette.ColorRole.Base, theme.colour("sheet"))
        self.editor.setPalette(palette)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        super().set_theme(theme)
        self._dress(theme)
