"""Opens this workplace or the demonstration: settings, drafts and rules behind one window."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from neuroform.desktop.answering import TRIAL_SECONDS
from neuroform.desktop.early import early_judge
from neuroform.desktop.keeping import Kept, Taken, held_anew, saver, take
from neuroform.desktop.opening import Asked, Beginning, Opened
from neuroform.desktop.rooms_below import Workplace, judge, now
from neuroform.exam.examination import Examination, Identifier, Patient, new_examination
from neuroform.exam.walk import put
from neuroform.language import N_, _
from neuroform.protocols.loading import load, names
from neuroform.records.drafts import Drafts, Recovered
from neuroform.records.ids import new_id
from neuroform.records.reopening import reopen
from neuroform.settings import Places, Settings

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["begun", "judge", "now", "open_demonstration", "open_workplace", "opened", "saver"]
JOURNAL = "drafts.sqlite"
CLINIC = "workplace"
DEMO = "demonstration"
ELSEWHERE = N_("An examination is open in another window of this program: go on with it there.")
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
    """Open the last draft of a clinic that no other window holds, or what `begin` returns where there is none.

    `again` opens the next one; this workplace's where none is given.

    Raises DraftError where drafts can't be kept, SettingsError and ProtocolError.
    """
    journal = reopen(places.data / JOURNAL, clinic, now())
    how = _How(
        clinic=clinic,
        begin=begin,
        prepare=prepare,
        shown_passphrase=shown_passphrase,
        again=again,
        told=journal.told,
    )
    return _opened(places, settings, journal.drafts, take(journal.drafts, clinic), how)


@dataclass(frozen=True, kw_only=True)
class _How:
    """What `opened` is told of a clinic."""

    clinic: str
    begin: Any = None
    prepare: Any = None
    shown_passphrase: str = ""
    again: "Callable[[], Opened | Beginning] | None" = None
    told: tuple[str, ...] = ()
    """What became of the journal, where it could not be read as it was."""


def _opened(places: Places, settings: Settings, drafts: Drafts, taken: Taken, how: _How) -> Opened:
    """Open what was taken, else begin; where that fails, let go of it."""
    draft, exam_id = taken.draft, taken.draft.exam_id if taken.draft is not None else new_id(now())
    kept = Kept(drafts, how.clinic, exam_id, taken.hold or held_anew(drafts, exam_id))
    try:
        recovered = drafts.replay(exam_id) if draft is not None else None
        exam = recovered.exam if recovered is not None else how.begin()
        if recovered is None:
            drafts.begin(how.clinic, exam_id, exam, now())
        return _opening(places, settings, exam, kept, taken, recovered, how)
    except BaseException:
        kept.close()
        raise


def _opening(
    places: Places,
    settings: Settings,
    exam: Examination,
    kept: Kept,
    taken: Taken,
    recovered: Recovered | None,
    how: _How,
) -> Opened:
    secret = how.shown_passphrase
    protocol = load(exam.encounter.protocol or settings.protocol, (places.protocols,))
    here = Workplace(places, settings, prepare=how.prepare, shown_passphrase=secret)
    closed = here.closed(exam, _(protocol.label)) if recovered is not None else None
    sealed, pages = closed or (None, here.pages())
    if sealed is not None:
        kept.finish()
    notices = (*how.told, *((_(ELSEWHERE),) if taken.elsewhere else ()), *(() if secret else (_(NOT_ENCRYPTED),)))
    opening = Opened(
        exam=exam,
        judge=early_judge(protocol),
        rules=here.judge,
        save=kept.save if sealed is None else lambda _document, _paths: now(),
        amount=_(protocol.label),
        notices=notices,
        vibration=settings.vibration,
        sound=settings.sound,
        finish=here.finisher(kept.finish, kept.withdrawn),
        pages=pages,
        sealed=sealed,
        close=kept.close,
        again=how.again or (lambda: open_workplace(places, here.settings)),
        drafted=here.drafted,
    )
    return opening if recovered is None else _as_recovered(opening, recovered, taken)


def _as_recovered(opening: Opened, recovered: Recovered, taken: Taken) -> Opened:
    """Return the opening of a draft that says what was recovered, unless it was only begun and nothing is lost."""
    if opening.sealed is not None:
        return replace(opening, at=recovered.path)
    changes = taken.draft.changes if taken.draft is not None else 0
    at = recovered.at if changes > 1 or recovered.lost else None
    return replace(opening, recovered=at, lost=recovered.lost, at=recovered.path)


def open_workplace(where: Places, settings: Settings) -> "Opened | Beginning":
    """Open the last draft of this workplace that no other window has open; where there is none, ask who is examined."""
    journal = reopen(where.data / JOURNAL, CLINIC, now())
    taken = take(journal.drafts, CLINIC)
    if taken.draft is not None:
        return _opened(where, settings, journal.drafts, taken, _How(clinic=CLINIC, told=journal.told))
    journal.drafts.close()
    here = Workplace(where, settings)

    def start(asked: Asked) -> Opened:
        now_chosen = here.settings
        how = _How(clinic=CLINIC, begin=lambda: begun(asked, now_chosen))
        # Whoever was asked for is examined, even where another window has just left a draft behind.
        return _opened(where, now_chosen, Drafts(where.data / JOURNAL), Taken(), how)

    folders = (where.protocols,)
    labels = tuple((name, _(load(name, folders).label)) for name in names(folders) if not load(name, folders).follows)
    return Beginning(
        amounts=labels,
        amount=settings.protocol,
        examiner=settings.examiner_name,
        start=start,
        pages=here.pages(),
        told=" ".join((*journal.told, *((_(ELSEWHERE),) if taken.elsewhere else ()))),
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
