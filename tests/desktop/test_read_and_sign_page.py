"""Read and sign as a person uses it, by keys alone: gaps, the letter and the paper that is shown."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from neuroform.desktop.read_and_sign.pages import Picture
from neuroform.desktop.read_and_sign.paper_view import PaperView
from neuroform.desktop.read_and_sign.words_column import IMPRESSION
from neuroform.desktop.theme import Theme
from neuroform.errors import PaperError
from neuroform.exam.examination import Examination
from neuroform.exam.findings import NotExamined
from tests.desktop.sign_kit import (
    SKEW,
    TOE,
    Concluded,
    Fakes,
    Opener,
    answer_everything,
    answer_the_needed,
    concluded,
    for_now,
    opening,
)

opened = pytest.fixture(opening)


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
