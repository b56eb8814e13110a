"""Signs in a worker, says what is being done, and can be called off until the paper is saved."""

import logging
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from neuroform.desktop.read_and_sign.desk import Desk, Signed, ToSign
from neuroform.desktop.read_and_sign.standing import watch
from neuroform.desktop.work import Cancel, Cancelled, Work
from neuroform.errors import NeuroformError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _

log = logging.getLogger(__name__)


class SigningAct(QObject):
    """One signature at a time. Signals: `stepped(words)`, `signed(signed, exam)`, `failed(words)`."""

    stepped = Signal(str)
    signed = Signal(object, object)
    failed = Signal(str)

    def __init__(self, desk: Desk, work: Work, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk, self._work = desk, work
        self._stands = watch(self)
        self._cancel: Cancel | None = None

    @property
    def running(self) -> bool:
        """Whether a paper is being signed."""
        return self._cancel is not None

    def begin(self, exam: Examination, kind: str, certificate: Path | str, passphrase: str, added: str = "") -> None:
        """Sign a paper of the examination as it stands now; the passphrase is kept no longer than that takes."""
        if self.running:
            return
        cancel = self._cancel = Cancel()
        desk = self._desk
        held = [ToSign(kind=kind, exam=exam, certificate=certificate, passphrase=passphrase, added=added)]

        def step(words: str) -> None:
            cancel.check()
            self.stepped.emit(words)

        def done(signed: Signed) -> None:
            if not self._stands():
                return
            self._cancel = None
            self.signed.emit(signed, exam)

        self._work.run(lambda: desk.sign(held.pop(), step), done, on_failed=self._fail, cancel=cancel)

    def stop(self) -> None:
        """Call it off."""
        if self._cancel is not None:
            self._cancel.ask()
            self.stepped.emit(_(N_("Stopping.")))

    def _fail(self, error: Exception) -> None:
        if not self._stands():
            return
        self._cancel = None
        if isinstance(error, Cancelled):
            self.failed.emit(_(N_("Stopped. Nothing was signed.")))
        elif isinstance(error, NeuroformError):
            self.failed.emit(str(error))
        else:
            log.error("signing failed: %s", type(error).__name__)
            self.failed.emit(_(N_("The paper could not be signed. Nothing was signed; try again.")))
