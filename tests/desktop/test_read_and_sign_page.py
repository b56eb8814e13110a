"""Read and sign as a person uses it: by keys alone, with the papers and the signature answered by small fakes."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QAccessible, QPalette
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from neuroform.completeness.gaps import Gap, Progress, Severity
from neuroform.desktop import accessible
from neuroform.desktop.document import Document
from neuroform.desktop.judge import Judge
from neuroform.desktop.read_and_sign.desk import Desk, Made, Signed, Step, ToSign
from neuroform.desktop.read_and_sign.page import ReadAndSign
from neuroform.desktop.read_and_sign.pages import Picture
from neuroform.desktop.read_and_sign.paper_view import PaperView
from neuroform.desktop.read_and_sign.preview import Preview
from neuroform.desktop.read_and_sign.words_column import IMPRESSION, PARAGRAPH
from neuroform.desktop.theme import Theme
from neuroform.desktop.work import Cancelled
from neuroform.errors import PaperError, PassphraseError
from neuroform.exam.examination import Examination, Identifier, Patient, new_examination
from neuroform.exam.findings import Examined, NotExamined
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


@pytest.fixture
def opened(qtbot: QtBot) -> Opener:
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


# Gaps, by digit keys


def test_opening_puts_the_hand_on_the_first_gap(opened: Opener) -> None:
    there = opened()
    assert QApplication.focusWidget() is there.page.gaps
    assert there.page.gaps.current is not None
    assert there.page.gaps.current.gap.rule == "toe"


def test_the_first_key_goes_to_the_item_in_the_form(opened: Opener, qtbot: QtBot) -> None:
    there = opened()
    with qtbot.waitSignal(there.page.went) as heard:
        there.press("1")
    assert heard.args == [TOE]


def test_not_examined_asks_why_and_a_refusal_stands_first(opened: Opener) -> None:
    there = opened()
    there.press("2")
    assert there.document.get(TOE) is None
    there.press("1")
    assert there.document.get(TOE) == NotExamined(not_examined="declined")


def test_escape_leaves_the_reasons_without_recording_one(opened: Opener) -> None:
    there = opened()
    left: list[bool] = []
    there.page.left.connect(lambda: left.append(True))
    there.press("2", Qt.Key.Key_Escape, "9")
    assert there.document.get(TOE) is None
    assert left == []
    there.press(Qt.Key.Key_Escape)
    assert left == [True]


def test_a_reason_is_typed_in_place_and_kept_and_the_next_gap_follows(opened: Opener) -> None:
    there = opened()
    there.press("3", "no joint left", Qt.Key.Key_Return)
    (kept,) = there.document.exam.conclusion.gap_reasons or ()
    assert (kept.rule, kept.items, kept.reason) == ("toe", (TOE,), "no joint left")
    assert there.page.gaps.current is not None
    assert there.page.gaps.current.gap.rule == "skew"
    assert QApplication.focusWidget() is there.page.gaps


def test_enter_goes_from_gap_to_gap_and_then_to_the_words(opened: Opener) -> None:
    there = opened()
    there.press(Qt.Key.Key_Return)
    assert there.page.gaps.current is not None
    assert there.page.gaps.current.gap.rule == "skew"
    there.press(Qt.Key.Key_Return)
    assert QApplication.focusWidget() is there.page.words.fields[IMPRESSION].editor


def test_a_gap_that_was_answered_goes_away(opened: Opener) -> None:
    there = opened()
    answer_the_needed(there)
    assert [part.name for part in there.page.gaps.parts() if part.role == "link"] == ["Skew"]


def test_nothing_is_signed_before_a_reason_is_given_where_one_is_asked_for(opened: Opener) -> None:
    there = opened()
    answer_the_needed(there)
    there.page.secret.field.editor.setText("right")
    there.press(Qt.Key.Key_F9)
    assert there.fakes.signed == []
    assert there.page.doing.told.text() == "Sign with a reason: Skew. Answer it or give the reason."
    assert QApplication.focusWidget() is there.page.gaps
    current = there.page.gaps.current
    assert current is not None
    there.press(next(each.key for each in current.actions if each.deed == "reason"), "Lids shut.", Qt.Key.Key_Return)
    (given,) = there.document.exam.conclusion.gap_reasons or ()
    assert (given.items, given.reason) == ((SKEW,), "Lids shut.")
    there.page.secret.field.editor.setText("right")
    there.press(Qt.Key.Key_F9)
    assert len(there.fakes.signed) == 1


def two_reasons(exam: Examination) -> Concluded:
    """Ask for a reason twice."""
    found = concluded(exam)
    given = {each.rule: each.reason for each in exam.conclusion.gap_reasons or ()}
    asked = next(gap for gap in found.gaps if gap.rule == "skew")
    plan = replace(asked, rule="plan", items=("conclusion.plan",), reason=given.get("plan"))
    return replace(found, gaps=(*found.gaps, plan))


def test_one_reason_serves_for_every_gap_that_asks_for_one(opened: Opener) -> None:
    there = opened(conclude=two_reasons)
    answer_the_needed(there)
    there.page.secret.field.editor.setText("right")
    there.press(Qt.Key.Key_F9)
    assert there.fakes.signed == []
    current = there.page.gaps.current
    assert current is not None
    there.press(next(each.key for each in current.actions if each.deed == "reason_for_all"), "Asleep.")
    there.press(Qt.Key.Key_Return)
    given = there.document.exam.conclusion.gap_reasons or ()
    assert {(each.rule, each.reason) for each in given} == {("skew", "Asleep."), ("plan", "Asleep.")}
    assert there.page.last.needed == "Nothing needed to sign"
    there.document.undo()
    assert there.document.exam.conclusion.gap_reasons is None


# Words


def test_the_impression_is_kept_as_it_is_written(opened: Opener) -> None:
    there = opened()
    there.press(Qt.Key.Key_Return, Qt.Key.Key_Return, "Sensory ataxia.")
    assert there.document.exam.conclusion.impression == "Sensory ataxia."


def test_the_generated_text_stays_beside_the_edit_and_the_note_will_say_so(opened: Opener) -> None:
    there = opened()
    there.page.words.open_wording()
    there.press(Qt.Key.Key_End, " Sensory ataxia.")
    assert there.document.exam.conclusion.paragraph == f"{GENERATED} Sensory ataxia."
    assert there.page.words.generated.text() == GENERATED
    assert there.page.words.generated.isVisible()
    assert there.page.words.wording_head.beside == "edited: the note will say so"


def test_words_typed_back_to_the_generated_ones_are_no_edit(opened: Opener) -> None:
    there = opened()
    there.page.words.open_wording()
    there.press(Qt.Key.Key_End, " x", Qt.Key.Key_Backspace, Qt.Key.Key_Backspace)
    assert there.document.exam.conclusion.paragraph is None


def test_the_text_as_written_can_be_taken_again(opened: Opener) -> None:
    there = opened()
    there.page.words.open_wording()
    there.press("Quite. ")
    there.page.words.back.click()
    assert there.document.exam.conclusion.paragraph is None
    assert there.page.words.fields[PARAGRAPH].text() == GENERATED


def test_h14_an_edit_that_says_normal_against_a_finding_is_warned_of_while_it_is_typed(opened: Opener) -> None:
    there = opened()
    there.page.words.open_wording()
    there.press("The ankle reflexes are normal. ")
    told = there.page.words.warnings[PARAGRAPH]
    assert told.isVisible()
    assert "Ankle reflex" in told.text()
    assert there.document.exam.conclusion.paragraph == f"The ankle reflexes are normal. {GENERATED}"


def test_enter_opens_the_wording(opened: Opener) -> None:
    there = opened()
    assert there.tab_to(there.page.words.edit)
    there.press(Qt.Key.Key_Return)
    assert QApplication.focusWidget() is there.page.words.fields[PARAGRAPH].editor
    there.press("Seen twice. ")
    assert there.document.exam.conclusion.paragraph == f"Seen twice. {GENERATED}"
    assert there.page.words.generated.text() == GENERATED


def test_h14_a_wording_against_the_findings_is_not_signed_without_a_reason(opened: Opener) -> None:
    there = opened()
    answer_everything(there)
    there.page.words.open_wording()
    there.press("The ankle reflexes are normal. ", Qt.Key.Key_F9)
    assert there.page.doing.told.text().startswith("Cannot sign yet: Your wording on Ankle reflex")
    assert QApplication.focusWidget() is there.page.gaps
    there.page.secret.field.editor.setText("right")
    there.page.sign()
    assert there.fakes.signed == []
    current = there.page.gaps.current
    assert current is not None
    assert current.said.startswith("“normal” stands against what was found: Ankle reflex")
    reason = next(each.key for each in current.actions if each.deed == "reason")
    there.press(reason, "Absent at this age for years.", Qt.Key.Key_Return)
    there.page.secret.field.editor.setText("right")
    there.press(Qt.Key.Key_F9)
    (signed,) = there.fakes.signed
    (given,) = signed.exam.conclusion.gap_reasons or ()
    assert (given.reason, given.items) == ("“normal”: Absent at this age for years.", ("reflexes.ankle.right",))


def test_h14_a_reason_for_one_wording_covers_no_other(opened: Opener) -> None:
    there = opened()
    answer_everything(there)
    write = there.page.words.fields[PARAGRAPH].editor.setPlainText
    there.page.words.open_wording()
    write("The ankle reflexes are normal.")
    there.page.gaps.setFocus()
    there.press("2", "Absent at this age for years.", Qt.Key.Key_Return)
    assert [gap.reason for gap in there.page._gaps] == ["Absent at this age for years."]
    write("The reflexes are intact.")
    assert [gap.reason for gap in there.page._gaps] == [None]
    there.page.secret.field.editor.setText("right")
    there.page.sign()
    assert there.fakes.signed == []
    there.page._rest()
    assert not there.document.exam.conclusion.gap_reasons


def test_h14_two_wordings_keep_a_reason_each(opened: Opener) -> None:
    there = opened()
    answer_everything(there)
    there.document.put(SKEW, Examined(value="present"))
    there.page.words.open_wording()
    there.page.words.fields[PARAGRAPH].editor.setPlainText("The ankle reflexes are normal. All else is normal.")
    there.page.gaps.setFocus()
    for _each in range(2):
        there.page.gaps.lead()
        there.press("2", "Seen twice.", Qt.Key.Key_Return)
    assert [gap.reason for gap in there.page._gaps] == ["Seen twice.", "Seen twice."]


def test_a_reason_for_a_wording_goes_with_the_wording(opened: Opener) -> None:
    there = opened()
    answer_the_needed(there)
    there.page.words.open_wording()
    there.press("The ankle reflexes are normal. ", Qt.Key.Key_F9)
    current = there.page.gaps.current
    assert current is not None
    there.press(next(each.key for each in current.actions if each.deed == "reason"), "So it is.", Qt.Key.Key_Return)
    assert there.document.exam.conclusion.gap_reasons
    there.page.words.back.click()
    assert there.document.exam.conclusion.paragraph is None
    assert not there.document.exam.conclusion.gap_reasons
    assert there.page.gaps.current is not None
    assert there.page.gaps.current.gap.rule == "skew"


def test_no_gaps_is_never_said_beside_one_that_wants_a_reason(opened: Opener) -> None:
    there = opened()
    assert there.page.last.needed == "1 needed to sign, 1 to sign with a reason"
    answer_the_needed(there)
    assert there.page.last.needed == "1 to sign with a reason"
    there.document.put(SKEW, Examined(value="absent"))
    QApplication.processEvents()
    assert there.page.last.needed == "No gaps"


def test_h16_an_urgency_below_the_urgent_finding_is_warned_of(opened: Opener) -> None:
    there = opened()
    there.page.words.urgency.button("routine").click()
    assert there.document.exam.conclusion.urgency == "routine"
    assert "Today" in there.page.words.too_slow.text()
    there.page.words.urgency.button("immediate").click()
    assert there.page.words.too_slow.text() == ""


def test_undo_in_a_field_takes_back_what_was_written(opened: Opener) -> None:
    there = opened()
    there.press(Qt.Key.Key_Return, Qt.Key.Key_Return, "First.", " Second")
    QTest.keyClick(there.page.words.fields[IMPRESSION].editor, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert there.document.exam.conclusion.impression == "First."
    assert there.page.words.fields[IMPRESSION].text() == "First."


def test_pasted_control_characters_never_reach_the_file(opened: Opener) -> None:
    there = opened()
    field = there.page.words.fields[IMPRESSION]
    field.editor.insertPlainText("a\x07b\x1bc")
    assert there.document.exam.conclusion.impression == "abc"


def test_pasted_control_characters_leave_a_reason_as_it_can_be_kept(opened: Opener) -> None:
    there = opened()
    field = there.page.gaps.field
    there.page.gaps._by_deed("reason")
    QApplication.clipboard().setText("because\x02 of\x7f it")
    field.editor.paste()
    assert field.text() == "because of it"
    there.press(Qt.Key.Key_Return)
    (given,) = there.document.exam.conclusion.gap_reasons or ()
    assert given.reason == "because of it"


def test_a_passphrase_is_taken_as_it_was_pasted(opened: Opener) -> None:
    there = opened()
    QApplication.clipboard().setText("a\x02b")
    there.page.secret.field.editor.paste()
    assert there.page.secret.take() == "a\x02b"


# The letter


def test_a_letters_own_fields_stand_there_for_a_letter_alone(opened: Opener) -> None:
    there = opened(size=(1280, 1400))
    assert not there.page.words.letter.isVisible()
    there.page.paper.kinds.button("referral").click()
    assert there.page.words.letter.isVisible()
    for name, words in (("recipient", "Dr Reyes"), ("question", "Which?"), ("done", "Scan."), ("contact", "Ward 3")):
        there.page.words.fields[f"conclusion.letter.{name}"].setFocus()
        there.press(words)
        assert there.document.get(f"conclusion.letter.{name}") == words
    there.page.paper.kinds.button("note").click()
    assert not there.page.words.letter.isVisible()


def test_h17_the_reader_is_proposed_from_the_findings_and_only_a_person_chooses_another(opened: Opener) -> None:
    there = opened(size=(1280, 1400))
    there.page.paper.kinds.button("referral").click()
    letter = there.page.words.letter
    assert letter.proposal.text().startswith("Proposed from the findings: stroke team.")
    assert letter.to.current is None
    assert there.document.get("conclusion.letter.to") is None
    letter.to.button("falls_clinic").click()
    assert there.document.get("conclusion.letter.to") == "falls_clinic"
    assert letter.proposal.text() == "Proposed from the findings: stroke team."
    letter.follow.click()
    assert there.document.get("conclusion.letter.to") is None
    assert letter.to.current is None
    assert not letter.follow.isVisible()
    there.document.undo()
    assert letter.to.current == "falls_clinic"


def test_h17_with_a_finding_for_now_it_says_telephone_first_whatever_the_paper(opened: Opener) -> None:
    there = opened(conclude=for_now)
    for kind in ("note", "referral"):
        there.page.paper.kinds.button(kind).click()
        assert there.page.words.telephone.isVisible()
        told = there.page.words.telephone.text()
        assert told == "Telephone first: a paper only confirms the call. Stroke team: 0000 111"


def test_without_a_finding_for_now_nobody_is_sent_to_the_telephone(opened: Opener) -> None:
    assert not opened().page.words.telephone.isVisible()


# The paper


def test_the_paper_shown_is_made_of_the_examination_as_it_stands(opened: Opener, qtbot: QtBot) -> None:
    there = opened()
    qtbot.waitUntil(lambda: there.page.paper.view.is_current)
    answer_everything(there)
    assert not there.page.paper.view.is_current
    qtbot.waitUntil(lambda: there.page.paper.view.is_current)
    assert there.fakes.made[-1] == (there.document.exam, "note")


def test_pages_are_turned_and_after_the_last_comes_the_first(opened: Opener, qtbot: QtBot) -> None:
    there = opened()
    qtbot.waitUntil(lambda: there.page.paper.page.text() == "page 1 of 2")
    there.page.paper.next.click()
    qtbot.waitUntil(lambda: there.page.paper.page.text() == "page 2 of 2")
    there.page.paper.next.click()
    qtbot.waitUntil(lambda: there.page.paper.page.text() == "page 1 of 2")


def test_another_kind_is_shown_and_named_on_the_button(opened: Opener, qtbot: QtBot) -> None:
    there = opened()
    there.page.paper.kinds.button("referral").click()
    qtbot.waitUntil(lambda: there.fakes.made[-1][1] == "referral")
    assert there.page.doing.sign.text() == "Sign the referral"


def test_the_paper_opens_at_full_size_and_as_text_and_escape_comes_back(opened: Opener) -> None:
    there = opened()
    there.page.paper.full.click()
    assert there.page.full.isVisible()
    there.press(Qt.Key.Key_Escape)
    assert not there.page.full.isVisible()
    there.page.paper.text.click()
    assert there.page.text.editor.toPlainText() == "Urgent first."
    there.page.text.copy.click()
    assert QApplication.clipboard().text() == "Urgent first."
    there.press(Qt.Key.Key_Escape)
    assert not there.page.text.isVisible()


def test_a_paper_that_cannot_be_made_says_why_in_place_and_is_not_signed(opened: Opener) -> None:
    there = opened(fakes=Fakes(paper_error=PaperError("The comment holds ☃.", "Write it in words.")))
    answer_everything(there)
    QTest.qWait(400)
    assert "☃" in there.page.paper.view.spoken().value
    assert not there.page.doing.sign.isEnabled()
    assert "☃" in there.page.doing.told.text()


# The signature


def test_h13_name_and_birth_date_stand_by_the_button(opened: Opener) -> None:
    there = opened()
    assert there.page.doing.person.text() == "Rahman, Ilse, born 3 Mar 1955, ID 4471"
    assert "born 3 Mar 1955" in there.page.doing.sign.accessibleDescription()


def test_signing_waits_for_the_needed_gaps_and_says_which(opened: Opener) -> None:
    there = opened()
    there.page.secret.field.editor.setText("right")
    assert not there.page.doing.sign.isEnabled()
    assert "Joint position, great toe, right" in there.page.doing.told.text()
    there.press(Qt.Key.Key_F9)
    assert there.fakes.signed == []
    assert QApplication.focusWidget() is there.page.gaps


def test_f9_leads_to_the_passphrase_and_enter_there_signs(opened: Opener, qtbot: QtBot) -> None:
    there = opened()
    answer_everything(there)
    there.press(Qt.Key.Key_F9)
    assert QApplication.focusWidget() is there.page.secret.field.editor
    with qtbot.waitSignal(there.page.signed):
        there.press("right", Qt.Key.Key_Return)
    (asked,) = there.fakes.signed
    assert (asked.exam, asked.kind, asked.certificate) == (there.document.exam, "note", Path("examiner.p12"))
    told = there.page.doing.told.text()
    assert told.startswith("Signed by A. Examiner at 10:41 and saved as the file below. It can’t be changed")
    assert there.page.doing.path.text() == str(Path("papers") / "note.pdf")


def test_the_passphrase_is_hidden_and_gone_after_use(opened: Opener) -> None:
    there = opened()
    answer_everything(there)
    editor = there.page.secret.field.editor
    assert editor.echoMode() is QLineEdit.EchoMode.Password
    there.press(Qt.Key.Key_F9, "right", Qt.Key.Key_F9)
    editor.undo()
    assert editor.text() == ""
    assert "passphrase" not in repr(there.fakes.signed)


def test_a_wrong_passphrase_is_said_in_place_and_nothing_is_signed(opened: Opener) -> None:
    there = opened()
    answer_everything(there)
    there.press(Qt.Key.Key_F9, "wrong", Qt.Key.Key_Return)
    told = "That passphrase doesn't open this certificate. Nothing was signed."
    assert there.page.doing.told.text() == told
    assert QApplication.focusWidget() is there.page.secret.field.editor
    there.press("right", Qt.Key.Key_Return)
    assert len(there.fakes.signed) == 1


def test_signing_can_be_called_off(opened: Opener) -> None:
    there = opened()
    answer_everything(there)
    there.fakes.work.later = True
    there.press(Qt.Key.Key_F9, "right", Qt.Key.Key_Return)
    assert there.page.act.running
    there.press(Qt.Key.Key_Escape)
    for waiting in there.fakes.work.waiting:
        waiting()
    assert there.fakes.signed == []
    assert there.page.doing.told.text() == "Stopped. Nothing was signed."
    assert not there.page.act.running


def test_what_changes_after_the_signature_is_told_apart_from_what_was_signed(opened: Opener) -> None:
    there = opened(kinds=("referral", "note"))
    answer_everything(there)
    there.press(Qt.Key.Key_F9, "right", Qt.Key.Key_Return)
    assert not there.page.doing.sign.isEnabled()
    there.document.put("conclusion.plan", "More.")
    assert "has changed since" in there.page.doing.told.text()


def test_h13_the_kind_of_paper_stays_while_one_is_signed_and_what_is_signed_counts_as_what_it_is(
    opened: Opener,
) -> None:
    there = opened(kinds=("referral", "note"))
    answer_everything(there)
    there.fakes.work.later = True
    there.press(Qt.Key.Key_F9, "right", Qt.Key.Key_Return)
    assert there.page.act.running
    there.page.paper.kinds.button("note").click()
    there.page.paper.kinds.chosen.emit("note")
    assert there.page.paper.kinds.current == "referral"
    there.fakes.work.later = False
    # As if another kind had been shown after all by the time the paper is signed.
    there.page._kind = "note"
    for each in there.fakes.work.waiting:
        each()
    assert there.page._results.keys() == {"referral"}
    assert not there.document.sealed
    assert there.page.doing.state != "signed"
    assert there.page.paper.kinds.isEnabled()


def test_what_is_signed_is_not_signed_again_as_it_stands(opened: Opener) -> None:
    there = opened(kinds=("referral", "note"))
    answer_everything(there)
    there.press(Qt.Key.Key_F9, "right", Qt.Key.Key_Return)
    there.page.secret.field.editor.setText("right")
    there.press(Qt.Key.Key_F9)
    there.page.secret.entered.emit()
    assert len(there.fakes.signed) == 1
    assert there.page.doing.state == "signed"


def test_a_signed_note_closes_what_is_written_on_the_page(opened: Opener) -> None:
    there = opened()
    answer_everything(there)
    there.press(Qt.Key.Key_F9, "right", Qt.Key.Key_Return)
    before = there.document.exam
    for path, writing in there.page.words.fields.items():
        if not path.startswith("conclusion.letter"):
            writing.setFocus()
            there.press("More")
    there.page.words.urgency.button("routine").click()
    there.document.undo()
    assert there.document.exam is before
    assert all(not each.actions for each in there.page.gaps._flat)
    assert there.page.subtitle.text().startswith("The note is signed")


def test_h33_an_examination_that_could_not_be_checked_is_not_signed(opened: Opener) -> None:
    there = opened(conclude=failing)
    there.page.secret.field.editor.setText("right")
    there.press(Qt.Key.Key_F9)
    assert there.fakes.signed == []
    assert "could not be checked" in there.page.doing.told.text()


def test_a_certificate_is_chosen_on_the_page(opened: Opener, qtbot: QtBot) -> None:
    there = opened(certificate=None, choose_file=lambda _parent: Path("mine.p12"))
    answer_everything(there)
    there.press(Qt.Key.Key_F9)
    assert QApplication.focusWidget() is there.page.who.choose
    with qtbot.waitSignal(there.page.certificate_chosen) as heard:
        there.press(Qt.Key.Key_Space)
    assert heard.args == [Path("mine.p12")]
    assert QApplication.focusWidget() is there.page.secret.field.editor


def test_a_token_signs_with_its_pin(opened: Opener) -> None:
    there = opened(certificate=TOKEN)
    answer_everything(there)
    assert there.page.doing.told.text() == "Type the PIN of the token."
    assert "PIN" in there.page.secret.field.editor.accessibleDescription()
    assert there.page.who.choose.accessibleDescription() == "certificate on the token Clinic"
    there.press(Qt.Key.Key_F9, "right", Qt.Key.Key_Return)
    assert [each.certificate for each in there.fakes.signed] == [TOKEN]


def test_what_the_time_stamp_service_could_not_give_is_said_beside_the_signature(opened: Opener) -> None:
    there = opened(fakes=Fakes(warning="The time-stamp service didn't answer."))
    answer_everything(there)
    there.press(Qt.Key.Key_F9, "right", Qt.Key.Key_Return)
    told = there.page.doing.told.text()
    assert told.startswith("The time-stamp service didn't answer. Signed by A. Examiner at 10:41")


def test_the_demonstrations_passphrase_is_shown(opened: Opener) -> None:
    there = opened(shown="ten steps")
    assert "ten steps" in there.page.secret.field.editor.accessibleDescription()


def test_leaving_forgets_what_was_typed_to_sign_with(opened: Opener) -> None:
    there = opened()
    there.page.secret.field.editor.setText("right")
    there.page.hide()
    assert there.page.secret.field.editor.text() == ""


def test_an_answer_that_comes_when_the_page_is_gone_is_thrown_away(qtbot: QtBot) -> None:
    fakes = Fakes()
    fakes.work.later = True
    work: Any = fakes.work
    preview = Preview(Desk(kinds=("note",), make_paper=fakes.make_paper, sign=fakes.sign), work)
    preview.set_width(200)
    preview.want(an_exam(), "note")
    qtbot.waitUntil(lambda: len(fakes.work.waiting) == 1)
    preview.deleteLater()
    QApplication.sendPostedEvents(preview, QEvent.Type.DeferredDelete)
    fakes.work.waiting[0]()
    assert len(fakes.made) == 1
    assert len(fakes.work.waiting) == 1


# For every eye and hand


def test_tab_goes_round_and_reaches_every_part(opened: Opener) -> None:
    there = opened()
    page = there.page
    for wanted in (
        page.words.fields[IMPRESSION].editor,
        page.words.edit,
        page.paper.view,
        page.paper.full,
        page.secret.field.editor,
        page.doing.keep,
        page.gaps,
    ):
        assert there.tab_to(wanted), wanted


@pytest.mark.parametrize(("size", "scale"), [((1280, 700), 1.0), ((1024, 600), 1.0), ((1024, 600), 2.0)])
def test_everything_that_takes_the_focus_has_a_name_and_a_role(
    opened: Opener, size: tuple[int, int], scale: float
) -> None:
    there = opened(size=size, scale=scale)
    seen = 0
    for widget in there.page.findChildren(QWidget):
        if widget.focusPolicy() is Qt.FocusPolicy.NoFocus or not widget.isVisible() or widget.focusProxy() is not None:
            continue
        interface = QAccessible.queryAccessibleInterface(widget)
        assert interface.text(QAccessible.Text.Name), widget
        assert interface.role() not in {QAccessible.Role.NoRole, QAccessible.Role.Client}, widget
        seen += 1
    assert seen > 8


@pytest.mark.parametrize(
    ("size", "scale"), [((1280, 700), 1.0), ((1024, 600), 1.0), ((1024, 600), 2.0), ((1920, 1000), 1.5)]
)
def test_no_word_is_cut_at_any_size(opened: Opener, size: tuple[int, int], scale: float) -> None:
    there = opened(size=size, scale=scale)
    page = there.page
    for button in (page.doing.sign, page.doing.keep, page.paper.full, page.who.choose, page.words.edit):
        assert button.width() >= button.sizeHint().width(), button.text()
    for text in (page.words.fields[IMPRESSION], page.words.generated):
        assert text.editor.viewport().width() > 150
    told = page.doing.told
    assert told.height() >= told.heightForWidth(told.width())


def test_dark_and_light_can_be_changed_while_it_is_open(opened: Opener) -> None:
    there = opened()
    dark = Theme(dark=True, scale=1.5)
    there.page.set_theme(dark)
    field = there.page.words.fields[IMPRESSION]
    assert field.editor.palette().color(QPalette.ColorRole.Base) == dark.colour("sheet")
    assert there.page.grab().toImage().pixelColor(2, 2) == dark.colour("sheet")


def test_a_cancelled_preview_is_no_failure(opened: Opener) -> None:
    there = opened(fakes=Fakes(paper_error=Cancelled()))
    assert there.page.doing.told.text().startswith("Cannot sign yet")


# The picture of the paper


def test_no_line_of_the_page_is_lost_on_the_screen(qtbot: QtBot) -> None:
    view = PaperView(Theme())
    qtbot.addWidget(view)
    view.resize(302, view.heightForWidth(302))
    for more in (0, 1):
        wide, high = 300, view.height() - 2 + more
        rows = b"".join((b"\x00\x00\x00\xff" if y % 2 else b"\xff" * 4) * wide for y in range(high))
        view.show_picture(Picture(pixels=rows, width=wide, height=high, stride=4 * wide, page=0, pages=1))
        shown = view.grab().toImage()
        seen = [shown.pixelColor(150, y + 1).red() for y in range(high - 1)]
        assert seen == [0 if y % 2 else 255 for y in range(high - 1)]


def test_a_page_of_another_width_is_scaled_softly_until_its_own_is_drawn(qtbot: QtBot) -> None:
    view = PaperView(Theme())
    qtbot.addWidget(view)
    view.resize(302, view.heightForWidth(302))
    rows = b"".join((b"\x00\x00\x00\xff" if y % 10 == 8 else b"\xff" * 4) * 360 for y in range(509))
    view.show_picture(Picture(pixels=rows, width=360, height=509, stride=4 * 360, page=0, pages=1))
    shown = view.grab().toImage()
    seen = [shown.pixelColor(150, y + 1).red() for y in range(420)]
    assert all(min(seen[at : at + 10]) < 250 for at in range(410))
