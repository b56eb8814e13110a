"""Keeps the picture of the paper in step with the examination: made in a worker, once the hands rest."""

import logging

from PySide6.QtCore import QObject, QTimer, Signal

from neuroform.desktop.read_and_sign.desk import Desk, Made
from neuroform.desktop.read_and_sign.pages import Picture, picture
from neuroform.desktop.read_and_sign.standing import watch
from neuroform.desktop.work import Cancelled, Work
from neuroform.errors import NeuroformError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _

log = logging.getLogger(__name__)

REST_MS = 350
"""Without a key for so long the hands rest."""


class Preview(QObject):
    """Makes the paper and draws one page of it; what was overtaken by a change is thrown away.

    Signals: `drawn(picture)`, `outdated()` when the paper is being made anew, `failed(words)`.
    """

    drawn = Signal(object)
    outdated = Signal()
    failed = Signal(str)

    def __init__(self, desk: Desk, work: Work, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk, self._work = desk, work
        self._stands = watch(self)
        self._wanted: tuple[Examination, str, str] | None = None
        self._made: Made | None = None
        self._round = 0
        self._width = 0
        self.page = 0
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.timeout.connect(self._make)

    @property
    def text(self) -> str | None:
        """The paper as plain text, None while it is being made."""
        return self._made.text if self._made is not None else None

    def want(self, exam: Examination, kind: str, added: str = "") -> None:
        """Have the paper made of an examination and what is added; nothing is done where it is the same."""
        before = self._wanted
        if before is not None and before[0] is exam and before[1:] == (kind, added):
            return
        if before is None or before[1] != kind:
            self.page = 0
        self._wanted, self._made = (exam, kind, added), None
        self._round += 1
        self.outdated.emit()
        self._rest.start(REST_MS if before is not None else 0)

    def set_width(self, pixels: int) -> None:
        """Draw pages so wide from now on."""
        if pixels != self._width:
            self._width = pixels
            self._draw()

    def turn(self, step: int) -> None:
        """Draw another page; past the last one comes the first."""
        self.page += step
        self._draw()

    def _make(self) -> None:
        if self._wanted is None:
            return
        exam, kind, added = self._wanted
        now = self._round
        desk = self._desk

        def done(made: Made) -> None:
            if self._stands() and now == self._round:
                self._made = made
                self._draw()

        self._work.run(lambda: desk.make_paper(exam, kind, added), done, on_failed=lambda error: self._fail(error, now))

    def _draw(self) -> None:
        made, page, width = self._made, self.page, self._width
        if made is None or width <= 0:
            return
        now = self._round

        def done(found: Picture) -> None:
            if not self._stands() or now != self._round or (page, width) != (self.page, self._width):
                return
            if page >= found.pages or page < 0:
                self.page = 0 if page >= found.pages else found.pages - 1
                self._draw()
            else:
                self.drawn.emit(found)

        self._work.run(
            lambda: picture(made.pdf, page=page, width=width), done, on_failed=lambda error: self._fail(error, now)
        )

    def _fail(self, error: Exception, now: int) -> None:
        if not self._stands() or now != self._round or isinstance(error, Cancelled):
            return
        if not isinstance(error, NeuroformError):
            log.error("the paper could not be shown: %s", type(error).__name__)
        told = str(error) if isinstance(error, NeuroformError) else _(N_("The paper can’t be written as it stands."))
        self.failed.emit(told)
