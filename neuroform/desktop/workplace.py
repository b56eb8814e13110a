"""Opens this workplace or the demonstration: settings, drafts and rules behind one window."""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from neuroform.desktop.answering import TRIAL_SECONDS
from neuroform.desktop.document import Document
from neuroform.desktop.early import early_judge
from neuroform.desktop.opening import Asked, Beginning, Opened, Save
from neuroform.desktop.rooms_below import Workplace, judge, now
from neuroform.exam.examination import Examination, Identifier, Patient, new_examination
from neuroform.exam.walk import is_path, put
from neuroform.language import N_, _
from neuroform.protocols.loading import load, names
from neuroform.records.drafts import Drafts
from neuroform.records.ids import new_id
from neuroform.settings import Places, Settings

if TYPE_CHECKING:
    from collections.abc import Callable

    from neuroform.workflow.withdrawn import Withdrawn

__all__ = ["begun", "judge", "now", "open_demonstration", "open_workplace", "opened", "saver"]
JOURNAL = "drafts.sqlite"
CLINIC = "workplace"
DEMO = "demonstration"
NOT_ENCRYPTED = N_("Drafts on this computer are not encrypted.")


def open_demonstration() -> Opened:
    """Open the demonstration clinic on its half-done examination, or on what was drafted of it."""
    from neuroform.settings import places
    from neuroform.workflow import demo

    folder = places().data / demo.FOLDER
    made = demo.open_demo(folder, clock=now)

    def prepare() -> None:
        if not demo.certificates_made(folder):
            demo.make_certificates(folder, clock=now)

    return opened(
        made.places,
        made.settings,
        clinic=DEMO,
        begin=lambda: made.exam,
        prepare=prepare,
        shown_passphrase=demo.PASSPHRASE,
        again=open_demonstration,
    )


def opened(
    places: Places,
    settings: Settings,
    *,
    clinic: str,
    begin: Any,
    prepare: Any = None,
    shown_passphrase: str = "",
    again: "Callable[[], Opened | Beginning] | None" = None,
) -> Opened:
    """Open the last draft of a clinic, or what `begin` returns where there is none.

    `again` opens the next one; this workplace's where none is given.

    Raises DraftError where drafts can't be kept, SettingsError and ProtocolError.
    """
    drafts = Drafts(places.data / JOURNAL)
    kept = next((draft for draft in drafts.latest() if draft.clinic == clinic), None)
    recovered: datetime | None = None
    at: str | None = None
    if kept is not None:
        back = drafts.replay(kept.exam_id)
        exam, exam_id = back.exam, kept.exam_id
        recovered = back.at if kept.changes > 1 else None
        at = back.path
    else:
        exam, exam_id = begin(), new_id(now())
        drafts.begin(clinic, exam_id, exam, now())
    protocol = load(exam.encounter.protocol or settings.protocol, (places.protocols,))
    here = Workplace(places, settings, prepare=prepare, shown_passphrase=shown_passphrase)
    closed = here.closed(exam, _(protocol.label)) if kept is not None else None
    sealed, pages = closed or (None, here.pages())
    if sealed is not None:
        drafts.finish(clinic, exam_id, now())
        recovered = None
    return Opened(
        exam=exam,
        judge=early_judge(protocol),
        rules=here.judge,
        save=saver(drafts, clinic, exam_id) if sealed is None else lambda _document, _paths: now(),
        amount=_(protocol.label),
        recovered=recovered,
        at=at,
        notices=() if shown_passphrase else (_(NOT_ENCRYPTED),),
        vibration=settings.vibration,
        sound=settings.sound,
        finish=here.finisher(
            lambda: drafts.finish(clinic, exam_id, now()), lambda: _withdrawn(places.data / JOURNAL, exam_id)
        ),
        pages=pages,
        sealed=sealed,
        close=drafts.close,
        again=again or (lambda: open_workplace(places, here.settings)),
    )


def _withdrawn(journal: Path, exam_id: str) -> "tuple[Withdrawn, ...]":
    """Return the urgent findings that a draft's journal tells were withdrawn."""
    from neuroform.workflow.withdrawn import withdrawn

    drafts = Drafts(journal)
    try:
        return withdrawn(drafts.steps(exam_id))
    finally:
        drafts.close()


def saver(drafts: Drafts, clinic: str, exam_id: str) -> Save:
    """Return what keeps every change in the journal at once."""

    def save(document: Document, paths: tuple[str, ...]) -> datetime:
        at = now()
        if all(is_path(path) for path in paths):
            for path in paths:
                drafts.append(clinic, exam_id, path, document.get(path), at)
        else:
            drafts.begin(clinic, exam_id, document.exam, at)
        return at

    return save


def open_workplace(where: Places, settings: Settings) -> "Opened | Beginning":
    """Open the last draft of this workplace; where there is none, ask who is examined."""
    drafts = Drafts(where.data / JOURNAL)
    kept = any(draft.clinic == CLINIC for draft in drafts.latest())
    drafts.close()
    if kept:
        return opened(where, settings, clinic=CLINIC, begin=None)

    here = Workplace(where, settings)

    def start(asked: Asked) -> Opened:
        now_chosen = here.settings
        return opened(where, now_chosen, clinic=CLINIC, begin=lambda: begun(asked, now_chosen))

    folders = (where.protocols,)
    labels = tuple((name, _(load(name, folders).label)) for name in names(folders) if not load(name, folders).follows)
    return Beginning(
        amounts=labels,
        amount=settings.protocol,
        examiner=settings.examiner_name,
        start=start,
        pages=here.pages(),
    )


def begun(asked: Asked, settings: Settings) -> Examination:
    """Return a blank examination of the person asked for."""
    identifiers = (Identifier(scheme="local", value=asked.identifier),) if asked.identifier else ()
    patient = Patient(
        family_name=asked.family_name, given_names=asked.given_names, birth_date=asked.born, identifiers=identifiers
    )
    exam = new_examination(patient=patient, examiner=asked.examiner, at=now(), protocol=asked.amount)
    if settings.trial_seconds != TRIAL_SECONDS:
        exam = put(exam, "standing.trial_seconds", float(settings.trial_seconds))
    return exam
