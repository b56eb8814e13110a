"""Opens this workplace or the demonstration: settings, drafts and rules behind one window."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any

from neuroform.desktop.answering import TRIAL_SECONDS
from neuroform.desktop.document import Document
from neuroform.desktop.early import barred, early_judge
from neuroform.desktop.judge import Judge
from neuroform.desktop.opening import Asked, Beginning, Opened, Save
from neuroform.exam.examination import Examination, Identifier, Patient, new_examination
from neuroform.exam.walk import is_path, put
from neuroform.language import N_, _, offered
from neuroform.protocols.loading import load, names
from neuroform.reasoning.results import NextTest, Reading
from neuroform.records.drafts import Drafts
from neuroform.records.ids import new_id
from neuroform.settings import Places, Settings

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from neuroform.desktop.main_window import MainWindow

JOURNAL = "drafts.sqlite"
CLINIC = "workplace"
DEMO = "demonstration"
NOT_ENCRYPTED = N_("Drafts on this computer are not encrypted.")


def now() -> datetime:
    """Return the time here, with its offset."""
    return datetime.now().astimezone()


def judge(settings: Settings) -> Judge:
    """Return the functions of the rooms below under these settings; loading them takes a moment."""
    from neuroform.reasoning.marks import limit, mark
    from neuroform.workflow.conclude import Concluding

    def needed(_exam: Examination, conclusions: Any) -> tuple[str, ...]:
        found: tuple[str, ...] = conclusions.needed
        return found

    def propose(exam: Examination, reading: Reading) -> tuple[NextTest, ...]:
        from neuroform.reasoning import next_tests

        return next_tests.propose(exam, reading)

    return Judge(
        conclude=Concluding(settings), needed=needed, propose=propose, mark=marks(mark), limit=limit, barred=barred
    )


def marks(judge_one: Callable[[Examination, str], str]) -> Callable[[Examination, str], str]:
    """Return the same, judging each finding once as long as the examination is the same one."""
    judged: Examination | None = None
    known: dict[str, str] = {}

    def mark(exam: Examination, path: str) -> str:
        nonlocal judged
        if exam is not judged:
            judged = exam
            known.clear()
        found = known.get(path)
        if found is None:
            found = known[path] = judge_one(exam, path)
        return found

    return mark


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
    )


def opened(
    places: Places,
    settings: Settings,
    *,
    clinic: str,
    begin: Any,
    prepare: Any = None,
    shown_passphrase: str = "",
) -> Opened:
    """Open the last draft of a clinic, or what `begin` returns where there is none.

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
    return Opened(
        exam=exam,
        judge=early_judge(protocol),
        rules=lambda: judge(settings),
        save=saver(drafts, clinic, exam_id),
        amount=_(protocol.label),
        recovered=recovered,
        at=at,
        notices=() if shown_passphrase else (_(NOT_ENCRYPTED),),
        vibration=settings.vibration,
        sound=settings.sound,
        finish=_finisher(places, settings, prepare, shown_passphrase, lambda: drafts.finish(clinic, exam_id, now())),
        pages=pages(places, settings),
        close=drafts.close,
    )


def pages(where: Places, settings: Settings) -> "Mapping[str, Callable[[MainWindow], QWidget]]":
    """Return what makes the pages for settings and for verifying a paper."""

    def settings_page(window: "MainWindow") -> "QWidget":
        from neuroform.desktop.settings_page import SettingsPage
        from neuroform.desktop.theme import Theme
        from neuroform.settings import load as load_settings

        folders = (where.protocols,)
        amounts = {name: _(load(name, folders).label) for name in names(folders)}
        page = SettingsPage(
            window.theme, where, load_settings(where.settings), amounts=amounts, languages=offered(), parent=window
        )
        page.scaled.connect(lambda scale: window.set_theme(Theme(dark=window.theme.dark, scale=scale)))
        page.saved.connect(lambda _saved: window.close_page())
        return page

    def verify_page(window: "MainWindow") -> "QWidget":
        from neuroform.desktop.verify_page import VerifyPage, check
        from neuroform.desktop.work import Work
        from neuroform.workflow.verifying import signed_papers

        kept = where.data / "papers"
        page = VerifyPage(
            window.theme, lambda path: check(path, settings), Work(), kept=lambda: signed_papers(kept), parent=window
        )
        page.list_papers()
        return page

    return {"settings": settings_page, "verify": verify_page}


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


def _finisher(places: Places, settings: Settings, prepare: Any, shown_passphrase: str, signed: Any) -> Any:
    def finish(window: "MainWindow", document: Document) -> "QWidget":
        from neuroform.desktop.read_and_sign.desk import desk
        from neuroform.desktop.read_and_sign.page import ReadAndSign
        from neuroform.desktop.work import Work

        given = desk(places, settings, clock=now, prepare=prepare, shown_passphrase=shown_passphrase)
        page = ReadAndSign(
            window.theme, document, judge(settings), given, Work(), certificate=settings.signs_with, parent=window
        )
        page.signed.connect(lambda _signed: signed())
        return page

    return finish


def open_workplace(where: Places, settings: Settings) -> "Opened | Beginning":
    """Open the last draft of this workplace; where there is none, ask who is examined."""
    drafts = Drafts(where.data / JOURNAL)
    kept = any(draft.clinic == CLINIC for draft in drafts.latest())
    drafts.close()
    if kept:
        return opened(where, settings, clinic=CLINIC, begin=None)

    def start(asked: Asked) -> Opened:
        return opened(where, settings, clinic=CLINIC, begin=lambda: begun(asked, settings))

    folders = (where.protocols,)
    labels = tuple((name, _(load(name, folders).label)) for name in names(folders) if not load(name, folders).follows)
    return Beginning(amounts=labels, amount=settings.protocol, examiner=settings.examiner_name, start=start)


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
