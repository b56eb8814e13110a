"""The page for someone who only has the file: the answer first, then who signed and what the paper carries."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from neuroform.desktop import accessible
from neuroform.desktop.theme import Theme
from neuroform.desktop.verify_page import VerifyPage, check
from neuroform.desktop.work import Work
from neuroform.errors import FileError, SigningError
from neuroform.exam.examination import Examination, Patient, new_examination
from neuroform.settings import Settings
from neuroform.signing.verification import Signature, Verification
from neuroform.workflow.same_paper import Comparison
from neuroform.workflow.verifying import Looked

SIGNED_AT = datetime(2026, 11, 20, 10, 41, tzinfo=UTC)
GOOD = "Signed by A. Examiner on 20 Nov 2026 at 10:41. Nothing was changed since."
BAD = "This paper was changed after it was signed: page 1 was covered over. Don't rely on it."


def an_exam() -> Examination:
    patient = Patient(family_name="Rahman", given_names="Ilse", birth_date=date(1955, 3, 3))
    return new_examination(patient=patient, examiner="A. Examiner", at=datetime(2026, 11, 20, 10, 15, tzinfo=UTC))


def found(*, valid: bool, changed: tuple[str, ...] = (), exam: Examination | None = None, sentence: str) -> Looked:
    signature = Signature(
        role="author",
        name="A. Examiner",
        signed_at=SIGNED_AT,
        intact=valid,
        trusted=valid,
        changed_after=changed,
        problem=None,
    )
    verification = Verification(
        valid=valid,
        signatures=(signature,),
        expected_signatures=None,
        exam_sha256="0",
        sentence=sentence,
        listed="By the list of today no certificate was withdrawn." if valid else "",
    )
    comparison = Comparison(agrees=True, by="pages", sentence="The examination makes the same pages.")
    return Looked(verification=verification, comparison=comparison, exam=exam if verification.unchanged else None)


Build = Callable[..., VerifyPage]


def focused() -> QWidget:
    """Return what has the focus."""
    found = QApplication.focusWidget()
    assert found is not None
    return found


@pytest.fixture
def page(qtbot: QtBot) -> Build:
    """Give a function that opens the page with an answer to whatever it is asked."""
    accessible.install()

    def build(answer: Any, *, scale: float = 1.0, **how: Any) -> VerifyPage:
        def checked(_path: Path) -> Looked:
            if isinstance(answer, Exception):
                raise answer
            told: Looked = answer
            return told

        made = VerifyPage(Theme(scale=scale), checked, Work(), **how)
        qtbot.addWidget(made)
        made.resize(1024, 600)
        with qtbot.waitExposed(made):
            made.show()
        made.activateWindow()
        made.setFocus()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        return made

    return build


def ask(made: VerifyPage, qtbot: QtBot) -> None:
    """Type a path and wait for the answer."""
    QTest.keyClicks(focused(), "note.pdf")
    QTest.keyClick(focused(), Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: made.sentence.text() not in {"", "Reading the paper."})


def test_the_answer_stands_first_then_who_signed_and_whose_examination_it_carries(page: Build, qtbot: QtBot) -> None:
    made = page(found(valid=True, exam=an_exam(), sentence=GOOD))
    ask(made, qtbot)
    assert made.answer().splitlines() == [
        GOOD,
        "Signed by A. Examiner, 20 Nov 2026 at 10:41",
        "as it was signed; certificate trusted.",
        "By the list of today no certificate was withdrawn.",
        "Rahman, Ilse, born 3 Mar 1955; examined 20 Nov 2026 at 10:15 by A. Examiner",
        "The examination makes the same pages.",
    ]


def test_what_was_changed_is_told_and_its_examination_is_not_offered(page: Build, qtbot: QtBot) -> None:
    made = page(found(valid=False, changed=("page 1 was covered over",), exam=an_exam(), sentence=BAD))
    ask(made, qtbot)
    assert made.answer().startswith(BAD)
    assert "not valid, altered since it was signed; page 1 was covered over." in made.answer()
    assert not made.read.isVisible()


def test_the_examination_of_a_valid_paper_opens(page: Build, qtbot: QtBot) -> None:
    exam = an_exam()
    made = page(found(valid=True, exam=exam, sentence=GOOD))
    ask(made, qtbot)
    with qtbot.waitSignal(made.opened) as heard:
        QTest.keyClick(made.read, Qt.Key.Key_Space)
    looked, path = heard.args
    assert (looked.exam, path) == (exam, Path("note.pdf"))


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (FileError("note.pdf can't be read: no such file.", "Name a file that can."), "can't be read"),
        (SigningError("This file isn't a PDF."), "isn't a PDF"),
        (RuntimeError("deep inside"), "Don’t rely on it"),
    ],
)
def test_whatever_fails_is_said_in_place_and_is_never_valid(
    page: Build, qtbot: QtBot, error: Exception, told: str
) -> None:
    made = page(error)
    ask(made, qtbot)
    assert told in made.answer()
    assert "deep inside" not in made.answer()


def test_a_second_paper_leaves_nothing_of_the_first(page: Build, qtbot: QtBot) -> None:
    made = page(found(valid=True, exam=an_exam(), sentence=GOOD), choose_file=lambda _parent: Path("other.pdf"))
    ask(made, qtbot)
    QTest.keyClick(made.choose, Qt.Key.Key_Space)
    assert made.path.text() == "other.pdf"
    qtbot.waitUntil(lambda: made.sentence.text() == GOOD)
    assert made.answer().count("Signed by A. Examiner, 20") == 1


def test_the_papers_kept_here_are_verified_by_name(page: Build, qtbot: QtBot) -> None:
    kept = [Path("kept") / f"2026-11-20 note {number}.pdf" for number in range(20)]
    made = page(found(valid=True, exam=an_exam(), sentence=GOOD), kept=lambda: kept)
    assert [word.text() for word in made.papers] == [path.stem for path in kept[:12]]
    QTest.keyClick(made.papers[1], Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: made.sentence.text() == GOOD)
    assert made.path.text() == str(kept[1])
    kept.clear()
    made.list_papers()
    assert made.papers == []


def test_escape_goes_back(page: Build, qtbot: QtBot) -> None:
    made = page(found(valid=True, sentence=GOOD))
    with qtbot.waitSignal(made.left):
        QTest.keyClick(focused(), Qt.Key.Key_Escape)


def test_the_answer_wraps_within_the_page_at_twice_the_size(page: Build, qtbot: QtBot) -> None:
    made = page(found(valid=False, changed=("x" * 90,), sentence=BAD), scale=2.0)
    ask(made, qtbot)
    assert made.sentence.width() <= made.width()
    assert made.sentence.height() >= made.sentence.heightForWidth(made.sentence.width())


def test_everything_that_takes_the_focus_has_a_name(page: Build, qtbot: QtBot) -> None:
    made = page(found(valid=True, exam=an_exam(), sentence=GOOD))
    ask(made, qtbot)
    for widget in made.findChildren(QWidget):
        if widget.focusPolicy() is not Qt.FocusPolicy.NoFocus and widget.focusProxy() is None:
            assert QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name), widget


def test_a_file_that_is_no_paper_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "note.pdf"
    file.write_bytes(b"no paper")
    with pytest.raises(SigningError):
        check(file, Settings())


def test_the_last_line_names_the_key_back(page: Build) -> None:
    made = page(FileError("no paper"))
    assert made.last.keys == (("back", "Esc"),)
    assert made.last.visibleRegion().boundingRect().size() == made.last.size()
