"""What the page asks of the rooms below: plain functions, so that tests can answer instead."""

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.desktop.read_and_sign.lacking import could_not_be_checked
from neuroform.errors import NeuroformError, SigningError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.reasoning.results import Reading
from neuroform.settings import Places, Settings, Telephone

if TYPE_CHECKING:
    from neuroform.workflow.papers import Order

Step = Callable[[str], None]
"""Told what is being done, in a few words, before each slow step; raises Cancelled where the person called it off."""

KIND_WORDS = {
    "note": N_("note"),
    "referral": N_("referral"),
    "patient_letter": N_("letter to the patient"),
    "completeness": N_("completeness sheet"),
}
"""Kinds of paper that can be chosen on the page, in this order; an addendum begins at the note it adds to."""


@dataclass(frozen=True, kw_only=True)
class Made:
    """A paper as it stands now: its pages and the same as plain text."""

    pdf: bytes
    text: str


@dataclass(frozen=True, kw_only=True)
class ToSign:
    """What is to be signed, and with what."""

    kind: str
    exam: Examination
    certificate: Path | str
    """A file, or the address of a token."""
    passphrase: str = field(repr=False)


@dataclass(frozen=True, kw_only=True)
class Signed:
    """A signed paper, as it was saved."""

    path: Path
    name: str
    """Whose certificate signed."""
    at: datetime
    kind: str
    warning: str = ""
    """What the time-stamp service could not give, in a sentence."""


@dataclass(frozen=True, kw_only=True)
class Desk:
    """The functions the page calls, each from a worker."""

    kinds: tuple[str, ...]
    make_paper: Callable[[Examination, str], Made]
    sign: Callable[[ToSign, Step], Signed]
    shown_passphrase: str = ""
    """The demonstration's, which may be shown; empty anywhere else."""
    propose_reader: Callable[[Examination, Reading], str] | None = None
    """To whom the findings propose that a letter goes: one of the codes of `conclusion.letter.to`."""
    telephones: tuple[Telephone, ...] = ()
    """The clinic's own list."""


def desk(
    places: Places,
    settings: Settings,
    *,
    clock: Callable[[], datetime],
    prepare: Callable[[], None] | None = None,
    shown_passphrase: str = "",
) -> Desk:
    """Return the functions of this workplace; `prepare`, where there is one, makes the certificates that sign."""
    from neuroform.workflow.papers import OFFERED

    demonstration = bool(shown_passphrase)

    def make_paper(exam: Examination, kind: str) -> Made:
        from neuroform.workflow import papers

        order = _order(exam, kind, demonstration)
        pages, _concluded = papers.lay_out(order, settings)
        text, _concluded = papers.write_text(order, settings)
        return Made(pdf=pages.pdf, text=text)

    def sign(to_sign: ToSign, step: Step) -> Signed:
        if prepare is not None:
            step(_(N_("Making the demonstration’s certificates.")))
            prepare()
        return _signed(to_sign, step, settings, places.data / "papers", clock, demonstration=demonstration)

    offered = tuple(kind for kind in KIND_WORDS if kind in OFFERED)
    return Desk(
        kinds=offered,
        make_paper=make_paper,
        sign=sign,
        shown_passphrase=shown_passphrase,
        propose_reader=_proposed_reader,
        telephones=settings.telephones,
    )


def _proposed_reader(exam: Examination, reading: Reading) -> str:
    from neuroform.workflow.letters import proposed_reader

    return proposed_reader(exam, reading)


def _order(exam: Examination, kind: str, demonstration: bool) -> "Order":
    from neuroform.exam import files
    from neuroform.workflow import papers

    return papers.Order(kind=papers.kind_of(kind), exam=exam, exam_file=files.write(exam), demonstration=demonstration)


def _signed(
    to_sign: ToSign,
    step: Step,
    settings: Settings,
    folder: Path,
    clock: Callable[[], datetime],
    *,
    demonstration: bool,
) -> Signed:
    """Make, sign, compare and save; nothing is saved before the signed paper is seen to carry this examination."""
    from neuroform.workflow import files, papers, signing

    warnings: list[str] = []
    step(_(N_("Opening the certificate.")))
    with signing.opened(to_sign.certificate, to_sign.passphrase) as certificate:
        step(_(N_("Writing the paper.")))
        order = _order(to_sign.exam, to_sign.kind, demonstration or certificate.demonstration)
        paper, concluded = papers.write_paper(order, settings, clock=clock)
        if not concluded.complete or any(could_not_be_checked(gap) for gap in concluded.gaps):
            raise SigningError(_(N_("Something is still needed before signing.")), _(N_("Nothing was signed.")))
        step(_(N_("Signing.")))
        signed_at = clock()
        signed = signing.sign_paper(
            paper,
            certificate=certificate,
            role="author",
            clock=lambda: signed_at,
            settings=settings,
            warn=warnings.append,
        )
    step(_(N_("Comparing the paper with the examination.")))
    if signing.extract_exam(signed) != order.exam_file:
        raise SigningError(
            _(N_("The signed paper doesn’t carry this examination.")), _(N_("Nothing was saved. Sign again."))
        )
    step(_(N_("Saving.")))
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise NeuroformError(
            _(N_("{folder} can’t be made: {why}.")).format(folder=folder, why=error.strerror),
            _(N_("Make room or allow writing there. Nothing was saved.")),
        ) from error
    path = free_path(folder, file_name(to_sign.exam, to_sign.kind))
    files.write_file(path, signed)
    return Signed(path=path, name=certificate.name, at=signed_at, kind=to_sign.kind, warning=" ".join(warnings))


def file_name(exam: Examination, kind: str) -> str:
    """Return the name of a paper's file: when, what, and the first identifier; no name of a person."""
    known = exam.patient.identifiers[0].value if exam.patient.identifiers else ""
    parts = [f"{exam.encounter.examined_at:%Y-%m-%d %H%M}", kind.replace("_", " "), known]
    kept = " ".join(part for part in parts if part)
    return re.sub(r"[^\w .-]", "-", kept)[:120].strip() + ".pdf"


def free_path(folder: Path, name: str) -> Path:
    """Return a path in `folder` that no file has: the name itself, else with a number."""
    path = folder / name
    number = 2
    while path.exists():
        path = folder / f"{Path(name).stem} ({number}).pdf"
        number += 1
    return path
