"""The signature on Read and sign, by keys alone."""

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from neuroform.desktop.read_and_sign.desk import Desk
from neuroform.desktop.read_and_sign.preview import Preview
from tests.desktop.sign_kit import TOKEN, Fakes, Opener, an_exam, answer_everything, failing, opening

opened = pytest.fixture(opening)


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
