"""A page of the paper, as it will be signed."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QImage, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from neuroform.desktop.drawing import pen
from neuroform.desktop.keyboard import key_name
from neuroform.desktop.painted import Painted, Spoken
from neuroform.desktop.read_and_sign.pages import Picture
from neuroform.desktop.read_and_sign.parts import frame, write_lines
from neuroform.desktop.theme import Theme
from neuroform.language import N_, _

A4 = 297 / 210
"""Height to width."""


class PaperView(Painted):
    """Shows one page. Signals: `turned(step)` for another page, `sized()` when the page is to be drawn anew."""

    turned = Signal(int)
    sized = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._image: QImage | None = None
        self._picture: Picture | None = None
        self._words = ""
        self._stale = True
        self.kind = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    @property
    def wanted_width(self) -> int:
        """How many pixels of the screen a page is wide."""
        return max(round((self.width() - 2) * self.devicePixelRatioF()), 1)

    def show_picture(self, picture: Picture) -> None:
        """Show a page."""
        image = QImage(picture.pixels, picture.width, picture.height, picture.stride, QImage.Format.Format_RGB32).copy()
        image.setDevicePixelRatio(self.devicePixelRatioF())
        self._image, self._picture, self._words, self._stale = image, picture, "", False
        self.updateGeometry()
        self.update()

    def show_words(self, words: str) -> None:
        """Show why there is no page."""
        self._image, self._picture, self._words = None, None, words
        self.update()

    def set_stale(self) -> None:
        """Say that the page is older than the words beside it."""
        self._stale = True
        self.update()

    @property
    def is_current(self) -> bool:
        """Whether the page shown holds what stands beside it."""
        return self._image is not None and not self._stale

    def hasHeightForWidth(self) -> bool:
        """Tell Qt that the height follows from the width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of a page of that width."""
        return round((width - 2) * A4) + 2

    def sizeHint(self) -> QSize:
        """Return the size of the page beside the words."""
        return QSize(self.theme.px(290), self.heightForWidth(self.theme.px(290)))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the page in its frame, or why there is none."""
        painter = QPainter(self)
        box = QRectF(self.rect())
        theme = self.theme
        if self._image is not None:
            self._page(painter, self._image)
        else:
            painter.fillRect(box, theme.colour("sheet"))
            said = self._words or _(N_("The paper is being written."))
            lines = theme.wrapped("body", said, box.width() - 2 * theme.px(16))
            write_lines(painter, theme, "body", "ink", lines, theme.px(16), theme.px(16))
        if self.hasFocus():
            frame(painter, theme, box, focused=True)
        else:
            painter.setPen(pen(theme.colour("rule"), 1))
            painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()

    def _page(self, painter: QPainter, image: QImage) -> None:
        """Paint the page pixel for pixel, so that no line is lost; scaled only until one of this width is drawn."""
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        if image.width() == self.wanted_width:
            painter.drawImage(QPointF(1, 1), image)
        else:
            wide = self.width() - 2
            painter.drawImage(QRectF(1, 1, wide, wide * image.height() / max(image.width(), 1)), image)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Turn pages."""
        step = {"PageDown": 1, "Right": 1, "PageUp": -1, "Left": -1}.get(key_name(event))
        if step is None:
            super().keyPressEvent(event)
        else:
            self.turned.emit(step)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for a page of the new width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.sized.emit()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the focus."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that the focus is elsewhere."""
        super().focusOutEvent(event)
        self.update()

    def spoken(self) -> Spoken:
        """Return which page it is; its words are read "as text"."""
        if self._picture is None:
            return Spoken(name=_(N_("The paper")), role="text", value=self._words)
        shown = _(N_("{kind}, page {page} of {pages}"))
        return Spoken(
            name=_(N_("The paper")),
            role="text",
            value=shown.format(kind=self.kind, page=self._picture.page + 1, pages=self._picture.pages),
            description=_(N_("“as text” holds its words.")),
        )
