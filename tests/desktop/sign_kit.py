"""Read and sign on an invented examination, with the papers and the signature answered by small fakes."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from neuroform.completeness.gaps import Gap, Progress, Severity
from neuroform.desktop import accessible
from neuroform.desktop.document import Document
from neuroform.desktop.judge import Judge
from neuroform.desktop.read_and_sign.desk import Desk, Made, Signed, Step, ToSign
from neuroform.desktop.read_and_sign.page import ReadAndSign
from neuroform.desktop.theme import Theme
from neuroform.errors import PassphraseError
from neuroform.exam.examination import Examination, Identifier, Patient, new_examination
from neuroform.exam.findings import Examined
from neuroform.exam.walk import get, put
from neuroform.reasoning.results import Reading, Sentence, Stance, UrgentFinding
from neuroform.settings import Telephone

AT = datetime(2026, 11, 20, 10, 41, tzinfo=UTC)
TOE = "sensation.joint_position.great_toe.right"
SKEW = "head_and_eyes.skew"
GENERATED = "Ankle reflexes were absent."
URGENT = UrgentFinding(code="falls", urgency="same_day", items=(), message="Three falls in a year.", source="")
NOW = UrgentFinding(code="cord", urgency="immediate", items=(), message="Cord compression.", source="")
TOKEN = "pkcs11:token=Clinic?module-path=/usr/lib/module.so"


@dataclass(frozen=True, kw_only=True)
class Concluded:
    reading: Reading
    gaps: tuple[Gap, ...]
    sentences: tuple[Sentence, ...]
    progress: Progress


def concluded(exam: Examination) -> Concluded:
    """Ask for one joint position and one skew; a reason given for a rule explains its gap."""
    given = {each.rule: each.reason for each in exam.conclusion.gap_reasons or ()}

    def gap(rule: str, severity: Severity, path: str) -> Gap:
        return Gap(
            rule=rule,
            severity=severity,
            items=(path,),
            message="It is blank.",
            why="",
            source="",
            reason=given.get(rule),
        )

    asked = (("toe", Severity.MUST, TOE), ("skew", Severity.SHOULD, SKEW))
    return Concluded(
        reading=Reading(
            stance=Stance(result="not_assessable", because="", items=()), systems={}, patterns=(), urgent=(URGENT,)
        ),
        gaps=tuple(gap(*each) for each in asked if get(exam, each[2]) is None),
        sentences=(Sentence(text=GENERATED, items=()),),
        progress=Progress(answered=54, total=56),
    )


def for_now(exam: Examination) -> Concluded:
    """Conclude with an urgent finding for now."""
    found = concluded(exam)
    return replace(found, reading=replace(found.reading, urgent=(NOW,)))


def failing(_exam: Examination) -> Concluded:
    raise RuntimeError("a rule without a net")


def a_page() -> bytes:
    """Return a PDF of two pages."""
    import pikepdf

    made = pikepdf.new()
    for _number in range(2):
        made.add_blank_page(page_size=(595, 842))
    held = BytesIO()
    made.save(held)
    return held.getvalue()


class AtOnce:
    """Does the work where it is asked, or later when told to."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], None]] = []
        self.later = False

    def run(self, function: Any, on_done: Any, *, on_failed: Any = None, cancel: Any = None, **_rest: Any) -> None:
        def now() -> None:
            try:
                if cancel is not None:
                    cancel.check()
                found = function()
            except Exception as error:
                on_failed(error)
            else:
                on_done(found)

        if self.later:
            self.waiting.append(now)
        else:
            now()


@dataclass
class Fakes:
    """What the page was given, and what it asked for."""

    work: AtOnce = field(default_factory=AtOnce)
    signed: list[ToSign] = field(default_factory=list)
    made: list[tuple[Examination, str]] = field(default_factory=list)
    steps: list[str] = field(default_factory=list)
    paper_error: Exception | None = None
    warning: str = ""

    def make_paper(self, exam: Examination, kind: str, added: str = "") -> Made:
        self.made.append((exam, kind))
        if self.paper_error is not None:
            raise self.paper_error
        return Made(pdf=a_page(), text="Urgent first.")

    def sign(self, to_sign: ToSign, step: Step) -> Signed:
        step("Opening the certificate.")
        if to_sign.passphrase != "right":
            raise PassphraseError("That passphrase doesn't open this certificate.", "Nothing was signed.")
        self.signed.append(to_sign)
        return Signed(
            path=Path("papers") / "note.pdf", name="A. Examiner", at=AT, kind=to_sign.kind, warning=self.warning
        )


def an_exam() -> Examination:
    patient = Patient(
        family_name="Rahman",
        given_names="Ilse",
        birth_date=date(1955, 3, 3),
        identifiers=(Identifier(scheme="local", value="4471"),),
    )
    made = new_examination(patient=patient, examiner="A. Examiner", at=AT)
    return put(made, "reflexes.ankle.right", Examined(value="absent"))


@dataclass
class Opened:
    page: ReadAndSign
    document: Document
    fakes: Fakes

    def press(self, *keys: Any) -> None:
        """Press keys where the focus is: texts are typed, Qt's keys pressed."""
        for key in keys:
            target = QApplication.focusWidget() or self.page
            if isinstance(key, str):
                QTest.keyClicks(target, key)
            else:
                QTest.keyClick(target, key)
        QApplication.processEvents()

    def tab_to(self, wanted: QWidget) -> bool:
        """Press Tab until a widget has the focus."""
        for _turn in range(60):
            if QApplication.focusWidget() is wanted:
                return True
            self.press(Qt.Key.Key_Tab)
        return False


Opener = Callable[..., Opened]


def opening(qtbot: QtBot) -> Opener:
    """Give a function that opens the page on an examination."""
    accessible.install()

    def build(
        *,
        size: tuple[int, int] = (1280, 700),
        scale: float = 1.0,
        dark: bool = False,
        conclude: Any = concluded,
        certificate: Path | None = Path("examiner.p12"),
        kinds: tuple[str, ...] = ("note", "referral"),
        fakes: Fakes | None = None,
        **how: Any,
    ) -> Opened:
        given = fakes or Fakes()
        document = Document(an_exam())
        judge = Judge(
            conclude=conclude,
            needed=lambda _exam, _found: (),
            propose=lambda _exam, _reading: (),
            mark=lambda _exam, _path: "blank",
            limit=lambda _exam, _path: None,
            barred=lambda _exam: {},
        )
        desk = Desk(
            kinds=kinds,
            make_paper=given.make_paper,
            sign=given.sign,
            shown_passphrase=how.pop("shown", ""),
            propose_reader=lambda _exam, _reading: "stroke_team",
            telephones=(Telephone(who="Stroke team", number="0000 111"),),
        )
        theme = Theme(dark=dark, scale=scale)
        work: Any = given.work
        page = ReadAndSign(theme, document, judge, desk, work, certificate=certificate, **how)
        qtbot.addWidget(page)
        page.resize(*size)
        with qtbot.waitExposed(page):
            page.show()
        page.activateWindow()
        page.open()
        qtbot.waitUntil(lambda: bool(given.made))
        QApplication.processEvents()
        return Opened(page, document, given)

    return build


def answer_the_needed(there: Opened) -> None:
    there.document.put(TOE, Examined(value="intact"))
    QApplication.processEvents()


def answer_everything(there: Opened) -> None:
    there.document.put(SKEW, Examined(value="absent"))
    answer_the_needed(there)
