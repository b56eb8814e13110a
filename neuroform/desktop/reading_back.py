"""Reads a signed examination in the Examination place, and adds to its note: nothing of it can be changed."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.desktop.document import Document
from neuroform.desktop.judge import Judge
from neuroform.desktop.keyboard import key_word
from neuroform.desktop.opening import CLOSED, LETTER, Opened, Sealed
from neuroform.errors import NeuroformError, PaperError
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.protocols.loading import load
from neuroform.settings import Settings
from neuroform.signing import moments
from neuroform.workflow import adding, signing, verifying
from neuroform.workflow.files import read_file

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from neuroform.desktop.main_window import MainWindow
    from neuroform.desktop.read_and_sign.desk import Signed
    from neuroform.workflow.verifying import Looked

Adder = Callable[[Path, str], "Callable[[MainWindow, Document], QWidget]"]
"""Takes a signed note and who signed it when; returns what makes the page of an addendum to it."""


def read_back(
    looked: "Looked", path: Path, *, judge: Judge, protocols: Path, usual: str, leave: Callable[[], None], adder: Adder
) -> Opened:
    """Return what the window opens to read the examination of a verified paper; `usual` is the protocol of one without.

    Raises PaperError for a paper that carries none, ProtocolError for an amount that isn't known here.
    """
    exam, found = looked.exam, looked.verification
    if exam is None:
        raise PaperError(_(N_("That paper carries no examination that can be relied on.")))
    protocol = load(exam.encounter.protocol or usual, (protocols,))
    signature = found.signatures[0]
    told = _(N_("Only to read. {signed}; nothing in it can be changed."))
    words = told.format(signed=verifying.headline(signature))
    if not found.valid:
        words = f"{words} {found.sentence}"
    signed = verifying.headline(signature)
    adds = adding.can_be_added_to(path)
    back = (_(N_("back to your own")), key_word("Escape"))
    return Opened(
        exam=exam,
        judge=replace(judge, propose=lambda _exam, _reading: ()),
        save=lambda _document, _paths: signature.signed_at or exam.encounter.examined_at,
        amount=_(protocol.label),
        sealed=Sealed(
            words=words,
            why=_(N_("This examination is signed: it is read here, and never changed.")),
            state=_state(_(protocol.label), signature.signed_at),
            keys=((_(N_("write an addendum")), "F9"), back) if adds else (back,),
            leave=leave,
        ),
        finish=adder(path, signed) if adds else None,
    )


def once_signed(signed: "Signed", amount: str) -> Sealed:
    """Return how one's own examination stands once its note is signed."""
    told = _(
        N_(
            "Signed by {name} at {time} and saved as {file}. It is read here; an addendum adds to it, and a letter is "
            "written in Read and sign."
        )
    )
    return Sealed(
        words=told.format(name=signed.name, time=f"{signed.at:%H:%M}", file=signed.path.name),
        why=_(CLOSED),
        state=_state(amount, signed.at),
        keys=((_(N_("write an addendum")), "F9"), (_(N_("next examination")), "F10")),
        but=LETTER,
    )


def signed_note(path: Path, exam: Examination, settings: Settings) -> "Signed | None":
    """Return by whom and when a note of just this examination was signed; None for any other file."""
    from neuroform.desktop.read_and_sign.desk import Signed

    try:
        paper = read_file(path)
        if signing.extract_exam(paper) != files.write(exam):
            return None
        # Whether the paper was signed and stands unchanged needs no authority, and must not wait for one.
        found = signing.verify_paper(paper, replace(settings, authorities=()))
    except NeuroformError:
        return None
    if not found.unchanged or not found.signatures:
        return None
    author = found.signatures[0]
    at = author.signed_at or exam.encounter.examined_at
    return Signed(path=path, name=author.name or _(N_("someone whose name can’t be read")), at=at, kind="note")


def _state(amount: str, at: datetime | None) -> str:
    return _(N_("{amount}, signed {time}")).format(amount=amount, time=moments.minute(at))
