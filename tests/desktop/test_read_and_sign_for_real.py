"""The page over the real rooms: a half-done examination explained, worded and signed by keys, then verified."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from neuroform.desktop.document import Document
from neuroform.desktop.read_and_sign import lacking
from neuroform.desktop.read_and_sign.desk import ToSign, desk
from neuroform.desktop.read_and_sign.page import ReadAndSign
from neuroform.desktop.theme import Theme
from neuroform.desktop.verify_page import check
from neuroform.desktop.work import Work
from neuroform.desktop.workplace import judge
from neuroform.exam import files
from neuroform.settings import Places
from neuroform.workflow import demo

REASON = "Left for the balance clinic tomorrow."


def now() -> datetime:
    return datetime.now().astimezone()


@pytest.fixture(scope="module")
def clinic(tmp_path_factory: pytest.TempPathFactory) -> demo.Demo:
    """Give a demonstration clinic with its certificates."""
    folder = tmp_path_factory.mktemp("clinic")
    made = demo.open_demo(folder, clock=now)
    demo.make_certificates(folder, clock=now)
    return made


@pytest.fixture
def page(qtbot: QtBot, clinic: demo.Demo) -> ReadAndSign:
    """Give the page on the half-done examination."""
    given = desk(clinic.places, clinic.settings, clock=now, shown_passphrase=demo.PASSPHRASE)
    made = ReadAndSign(
        Theme(),
        Document(clinic.exam),
        judge(clinic.settings),
        given,
        Work(),
        certificate=clinic.settings.certificate,
    )
    qtbot.addWidget(made)
    made.resize(1280, 700)
    with qtbot.waitExposed(made):
        made.show()
    made.activateWindow()
    made.open()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is made.gaps)
    return made


def press(*keys: Any) -> None:
    """Press keys where the focus is."""
    for key in keys:
        target = QApplication.focusWidget()
        assert target is not None
        if isinstance(key, str):
            QTest.keyClicks(target, key)
        else:
            QTest.keyClick(target, key)


def explain_everything(page: ReadAndSign) -> None:
    """Give a reason for every gap that asks for one, from the first to the last."""
    for _gap in range(60):
        current = page.gaps.current
        assert current is not None
        reason = next((each.key for each in current.actions if each.deed == "reason"), None)
        if reason is None or current.gap.reason is not None:
            return
        press(reason, REASON, Qt.Key.Key_Return)


def test_reasons_an_edited_paragraph_and_a_signature_end_in_a_paper_that_verifies(
    page: ReadAndSign, clinic: demo.Demo, qtbot: QtBot
) -> None:
    explain_everything(page)
    assert page.doing.told.text() == "Type the passphrase of the certificate."
    page.words.open_wording()
    press(Qt.Key.Key_End, " Seen with a colleague.")
    qtbot.waitUntil(lambda: page.paper.view.is_current, timeout=20_000)
    assert "Seen with a colleague." in (page.preview.text or "")
    assert REASON in (page.preview.text or "")
    press(Qt.Key.Key_F9, demo.PASSPHRASE)
    with qtbot.waitSignal(page.signed, timeout=30_000) as heard:
        press(Qt.Key.Key_Return)
    signed = heard.args[0]
    assert signed.path.parent == clinic.places.data / "papers"
    found = check(signed.path, clinic.settings)
    assert found.verification.valid
    assert found.exam == page.document.exam
    assert found.exam.conclusion.paragraph is not None
    assert REASON in {each.reason for each in found.exam.conclusion.gap_reasons or ()}


def test_h17_a_letter_is_proposed_to_whom_the_findings_need_and_written_there(page: ReadAndSign, qtbot: QtBot) -> None:
    page.paper.kinds.button("referral").click()
    assert page.words.letter.proposal.text().startswith("Proposed from the findings: stroke team.")
    page.words.letter.to.button("falls_clinic").click()
    page.words.fields["conclusion.letter.recipient"].editor.insertPlainText("Dr Ona Reyes")
    qtbot.waitUntil(lambda: "Dr Ona Reyes" in (page.preview.text or ""), timeout=20_000)
    assert "falls clinic" in (page.preview.text or "")


def test_a_time_stamp_service_that_is_silent_is_told_of_and_the_paper_signed(clinic: demo.Demo, tmp_path: Path) -> None:
    settings = replace(clinic.settings, time_stamp_service="http://127.0.0.1:9")
    exam = clinic.exam
    given = desk(Places(config=tmp_path, data=tmp_path), settings, clock=now)
    for gap in judge(settings).conclude(exam).gaps:
        exam = lacking.explained(exam, gap, REASON)
    assert settings.certificate is not None
    asked = ToSign(kind="note", exam=exam, certificate=settings.certificate, passphrase=demo.PASSPHRASE)
    signed = given.sign(asked, lambda _words: None)
    assert signed.warning == "The time-stamp service didn't answer: the paper is signed without a time stamp."
    assert check(signed.path, settings).verification.valid


def test_a_wrong_passphrase_signs_nothing(page: ReadAndSign, clinic: demo.Demo, qtbot: QtBot) -> None:
    before = papers(clinic)
    explain_everything(page)
    press(Qt.Key.Key_F9, "not this one", Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: not page.act.running, timeout=20_000)
    told = "That passphrase doesn't open this certificate. Nothing was signed."
    assert page.doing.told.text() == told
    assert papers(clinic) == before


def test_h13_what_was_signed_is_compared_with_the_examination_before_it_is_kept(
    page: ReadAndSign, clinic: demo.Demo, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = papers(clinic)
    another = files.write(
        clinic.exam.model_copy(update={"patient": clinic.exam.patient.model_copy(update={"family_name": "Someone"})})
    )
    monkeypatch.setattr("neuroform.workflow.signing.extract_exam", lambda _paper: another)
    explain_everything(page)
    press(Qt.Key.Key_F9, demo.PASSPHRASE, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: not page.act.running, timeout=20_000)
    assert page.doing.told.text().startswith("The signed paper doesn’t carry this examination.")
    assert papers(clinic) == before


def papers(clinic: demo.Demo) -> list[Path]:
    return sorted((clinic.places.data / "papers").glob("*"))
