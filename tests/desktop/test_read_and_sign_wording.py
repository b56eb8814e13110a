"""The words on Read and sign, by keys alone: what is written, edited, and refused against the findings."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from neuroform.desktop.read_and_sign.words_column import IMPRESSION, PARAGRAPH
from neuroform.exam.findings import Examined
from tests.desktop.sign_kit import GENERATED, SKEW, Opener, answer_everything, answer_the_needed, opening

opened = pytest.fixture(opening)


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
