"""What the page asks of the rooms below: plain functions, so that tests can answer instead."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.desktop.read_and_sign.lacking import could_not_be_checked
from neuroform.errors import NeuroformError, SigningError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.reasoning.results import Reading
from neuroform.settings import Places, Settings, Telephone
from neuroform.workflow.paper_names import FOLDER, file_away, file_name

if TYPE_CHECKING:
    from neuroform.notes.content import Earlier
    from neuroform.workflow.papers import Order

Step = Callable[[str], None]
"""Told what is being done, in a few words, before each slow step; raises Cancelled where the person called it off."""

KIND_WORDS = {
    "note": N_("note"),
    "referral": N_("referral"),
    "patient_letter": N_("letter to the patient"),
    "completeness": N_("completeness sheet"),
    "addendum": N_("addendum"),
}
"""Kinds of paper in the order they are offered; an addendum begins at the note it adds to."""


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
    added: str = ""
    """Of an addendum: what the examiner adds."""


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
    make_paper: Callable[[Examination, str, str], Made]
    """Takes the kind, and what an addendum adds."""
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
    note: Path | None = None,
) -> Desk:
    """Return the functions of this workplace; `prepare`, where there is one, makes the certificates that sign.

    With a signed `note`, they write and sign addenda to it and nothing else.
    """
    from neuroform.workflow.papers import OFFERED

    demonstration = bool(shown_passphrase)
    earlier = _earlier(note, settings) if note is not None else None

    def order(exam: Examination, kind: str, added: str) -> "Order":
        return _order(exam, kind, demonstration, earlier(exam, added) if earlier is not None else None)

    def make_paper(exam: Examination, kind: str, added: str) -> Made:
        from neuroform.workflow import papers

        ordered = order(exam, kind, added)
        pages, _concluded = papers.lay_out(ordered, settings)
        text, _concluded = papers.write_text(ordered, settings)
        return Made(pdf=pages.pdf, text=text)

    def sign(to_sign: ToSign, step: Step) -> Signed:
        if prepare is not None:
            step(_(N_("Making the demonstration’s certificates.")))
            prepare()
        ordered = order(to_sign.exam, to_sign.kind, to_sign.added)
        return _signed(to_sign, ordered, step, settings, places.data / FOLDER, clock)

    offered = tuple(kind for kind in KIND_WORDS if kind in OFFERED and kind != "addendum")
    return Desk(
        kinds=offered if note is None else ("addendum",),
        make_paper=make_paper,
        sign=sign,
        shown_passphrase=shown_passphrase,
        propose_reader=_proposed_reader,
        telephones=settings.telephones,
    )


def _earlier(note: Path, settings: Settings) -> "Callable[[Examination, str], Earlier]":
    """Return what names the note and holds what is added; the note is read and verified once."""
    from neuroform.workflow.adding import earlier_note
    from neuroform.workflow.files import read_file

    known: list[Earlier] = []

    def earlier(exam: Examination, added: str) -> "Earlier":
        if not known:
            known.append(earlier_note(read_file(note), exam, settings))
        return replace(known[0], text=added)

    return earlier


def _proposed_reader(exam: Examination, reading: Reading) -> str:
    from neuroform.workflow.letters import proposed_reader

    return proposed_reader(exam, reading)


def _order(exam: Examination, kind: str, demonstration: bool, earlier: "Earlier | None") -> "Order":
    from neuroform.exam import files
    from neuroform.workflow import papers

    return papers.Order(
        kind=papers.kind_of(kind),
        exam=exam,
        exam_file=files.write(exam),
        demonstration=demonstration,
        earlier=earlier,
    )


def _signed(
    to_sign: ToSign, order: "Order", step: Step, settings: Settings, folder: Path, clock: Callable[[], datetime]
) -> Signed:
    """Make, sign, compare and save; nothing is saved before the signed paper is seen to carry this examination."""
    from neuroform.workflow import papers, signing

    warnings: list[str] = []
    step(_(N_("Opening the certificate.")))
    with signing.opened(to_sign.certificate, to_sign.passphrase) as certificate:
        step(_(N_("Writing the paper.")))
        order = replace(order, demonstration=order.demonstration or certificate.demonstration)
        paper, concluded = papers.write_paper(order, settings, clock=clock)
        lacking = not concluded.complete or any(could_not_be_checked(gap) for gap in concluded.gaps)
        # An addendum changes no finding: what its note lacks stands on its first page.
        if lacking and to_sign.kind != "addendum":
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
    path = file_away(folder, file_name(to_sign.exam, to_sign.kind), signed)
    return Signed(path=path, name=certificate.name, at=signed_at, kind=to_sign.kind, warning=" ".join(warnings))
