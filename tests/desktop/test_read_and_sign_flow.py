"""What follows a signature, in the real window: the note is closed, an addendum adds to it, and any paper is read."""

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from neuroform.desktop.examination_place import ExaminationPlace
from neuroform.desktop.main_window import MainWindow
from neuroform.desktop.read_and_sign import lacking
from neuroform.desktop.read_and_sign.addendum import AddendumPage
from neuroform.desktop.read_and_sign.page import ReadAndSign
from neuroform.desktop.rooms_below import judge, now
from neuroform.desktop.settings_page import SettingsPage
from neuroform.desktop.theme import Theme
from neuroform.desktop.verify_page import VerifyPage, check
from neuroform.desktop.workplace import CLINIC, JOURNAL, open_workplace, opened
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.exam.walk import put
from neuroform.records.drafts import Drafts
from neuroform.settings import Places, Settings
from neuroform.workflow import demo
from neuroform.workflow.signing import extract_exam

REASON = "Left for the balance clinic tomorrow."
FORM_KEYS = (
    *"0123456789xswnmgrlocf+-/t ",
    *(Qt.Key.Key_Return, Qt.Key.Key_Backspace, Qt.Key.Key_Delete, Qt.Key.Key_Space),
    *(Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_PageDown, Qt.Key.Key_PageUp),
)


@pytest.fixture(scope="module")
def clinic(tmp_path_factory: pytest.TempPathFactory) -> demo.Demo:
    """Give a demonstration clinic with its certificates."""
    folder = tmp_path_factory.mktemp("clinic")
    made = demo.open_demo(folder, clock=now)
    demo.make_certificates(folder, clock=now)
    return made


def complete(exam: Examination, settings: Settings) -> Examination:
    """Give every gap of an examination a reason."""
    for gap in judge(settings).conclude(exam).gaps:
        exam = lacking.explained(exam, gap, REASON)
    return exam


@dataclass
class There:
    """A window over the real rooms."""

    window: MainWindow
    places: Places
    settings: Settings
    qtbot: QtBot

    @property
    def place(self) -> ExaminationPlace:
        """The place that is shown."""
        assert self.window.examination is not None
        return self.window.examination

    @property
    def page(self) -> ReadAndSign:
        """Read and sign."""
        assert isinstance(self.place.page, ReadAndSign)
        return self.place.page

    @property
    def exam(self) -> Examination:
        """The examination that is shown."""
        return self.place.document.exam

    def papers(self) -> list[Path]:
        """Return the papers that were saved, oldest first."""
        return sorted((self.places.data / "papers").glob("*.pdf"), key=lambda each: each.stat().st_mtime_ns)

    def press(self, *keys: Any) -> None:
        """Press keys where the focus is."""
        for key in keys:
            target = next(w for w in (QApplication.focusWidget(), self.window.focusWidget(), self.window) if w)
            if isinstance(key, str):
                QTest.keyClicks(target, key)
            else:
                QTest.keyClick(target, key)
        QApplication.processEvents()

    def sign_note(self) -> Path:
        """Sign the note by keys; return the paper."""
        self.window.finish()
        with self.qtbot.waitSignal(self.page.signed, timeout=30_000) as heard:
            self.press(Qt.Key.Key_F9, demo.PASSPHRASE, Qt.Key.Key_Return)
        assert heard.args is not None
        path: Path = heard.args[0].path
        return path

    def verify(self, path: Path) -> VerifyPage:
        """Verify a paper on the page for it."""
        self.window.show_page("verify")
        page = self.window.page
        assert isinstance(page, VerifyPage)
        page.open_file(path)
        self.qtbot.waitUntil(page.read.isVisible, timeout=30_000)
        return page

    def read(self, path: Path) -> None:
        """Open the examination that a paper carries, by keys."""
        page = self.verify(path)
        page.read.setFocus()
        self.press(Qt.Key.Key_Return)


Opener = Callable[..., There]


@pytest.fixture
def there(qtbot: QtBot, clinic: demo.Demo, tmp_path: Path) -> Any:
    """Give a function that opens the window on an examination, complete unless told otherwise."""
    made: list[MainWindow] = []

    def build(exam: Examination | None = None, settings: Settings | None = None) -> There:
        chosen = settings or clinic.settings
        where = Places(config=tmp_path, data=tmp_path)
        window = MainWindow(Theme())
        qtbot.addWidget(window)
        made.append(window)
        window.resize(1280, 800)
        with qtbot.waitExposed(window):
            window.show()
        begun = complete(clinic.exam, chosen) if exam is None else exam
        window.fill(opened(where, chosen, clinic=CLINIC, begin=lambda: begun, shown_passphrase=demo.PASSPHRASE))
        window.activateWindow()
        qtbot.waitUntil(window.isActiveWindow)
        assert window.examination is not None
        window.examination.load_rules()
        window.examination.to_form()
        return There(window=window, places=where, settings=chosen, qtbot=qtbot)

    yield build
    for window in made:
        window.close()


def random_keys(there: There, seed: int, count: int) -> None:
    """Press keys of the form as they come, Escape left out: it leaves an examination that is read."""
    chosen = random.Random(seed)
    for _turn in range(count):
        there.press(chosen.choice(FORM_KEYS))
        if there.place.find.isVisible():
            there.place._find_closed()


# After signing


def test_once_the_note_is_signed_no_key_and_no_click_changes_it(there: Opener) -> None:
    opened = there()
    path = opened.sign_note()
    signed = opened.exam
    opened.press(Qt.Key.Key_Escape)
    assert opened.place.recovered.isVisible()
    assert opened.place.recovered.words.startswith(f"Signed by {demo.EXAMINER} (demonstration) at ")
    assert path.name in opened.place.recovered.words
    for section in opened.place.entering.order:
        opened.place.entering.open(section)
        random_keys(opened, seed=len(section), count=40)
        page = opened.place.sheet.page()
        for widget in page.widgets.values():
            if widget.isVisible():
                for hit in widget.laid().hits[:3]:
                    QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=hit.rect.center().toPoint())
    opened.window._undo()
    assert opened.exam is signed
    assert extract_exam(path.read_bytes()) == extract_exam(opened.papers()[0].read_bytes())


def test_what_is_refused_is_said_in_place(there: Opener) -> None:
    opened = there()
    opened.sign_note()
    opened.press(Qt.Key.Key_Escape)
    opened.place.entering.go("reflexes.knee.right")
    opened.press("1")
    assert opened.place.entering.message.startswith("The note is signed: nothing in it can be changed.")
    assert opened.place.entering.path == "reflexes.knee.right"
    assert opened.place.recovered.isVisible()
    assert opened.window.last.needed == "Signed"
    assert {key for _words, key in opened.window.last.keys} <= {"f", "g", "Enter", "F1"}
    row = opened.place.sheet.page().focused_widget()
    assert {choice.key for cell in row.view.cells for choice in cell.choices} == {""}  # type: ignore[attr-defined]  # a row


def test_a_text_typed_into_a_signed_form_does_not_even_show(there: Opener) -> None:
    opened = there()
    opened.sign_note()
    opened.press(Qt.Key.Key_Escape)
    opened.place.entering.go("conclusion.plan")
    opened.press("More")
    row = opened.place.sheet.page().widgets["conclusion.plan"]
    assert row.editor.toPlainText() == (opened.exam.conclusion.plan or "")  # type: ignore[attr-defined]  # a text row


def test_the_page_no_longer_calls_a_signed_note_a_draft(there: Opener) -> None:
    opened = there()
    opened.sign_note()
    assert "draft" not in opened.page.subtitle.text()
    assert opened.page.doing.keep.text() == "Back to the examination"
    assert opened.window.head.person.state.startswith("acute vertigo, signed ")
    assert opened.page.words.fields["conclusion.plan"].editor.isReadOnly()
    assert not opened.page.secret.field.isVisible()
    drafts = Drafts(opened.places.data / JOURNAL)
    assert drafts.latest() == ()
    drafts.close()


def test_the_same_note_is_never_signed_twice(there: Opener) -> None:
    opened = there()
    opened.sign_note()
    opened.press(Qt.Key.Key_F9, demo.PASSPHRASE, Qt.Key.Key_Return)
    QTest.qWait(50)
    assert len(opened.papers()) == 1
    assert isinstance(opened.window.page, AddendumPage)


def test_a_letter_can_still_be_written_and_signed_after_the_note(there: Opener) -> None:
    opened = there()
    opened.sign_note()
    note = opened.exam
    opened.page.paper.kinds.button("referral").click()
    opened.page.words.fields["conclusion.letter.question"].editor.insertPlainText("Which side?")
    assert opened.exam.conclusion.letter.question == "Which side?"
    with opened.qtbot.waitSignal(opened.page.signed, timeout=30_000):
        opened.press(Qt.Key.Key_F9, demo.PASSPHRASE, Qt.Key.Key_Return)
    assert len(opened.papers()) == 2
    opened.page.paper.kinds.button("note").click()
    assert opened.page.doing.state == "signed"
    assert opened.exam.model_copy(update={"conclusion": note.conclusion}) == note
    assert not note.conclusion.letter.question


def test_an_addendum_is_written_seen_and_signed_and_its_note_stays_as_it_was(there: Opener) -> None:
    opened = there()
    path = opened.sign_note()
    before = path.read_bytes()
    opened.press(Qt.Key.Key_F9)
    page = opened.window.page
    assert isinstance(page, AddendumPage)
    assert page.doing.told.text() == "Write what is added to the note."
    opened.press("The left head impulse was seen again: no corrective saccade.")
    opened.qtbot.waitUntil(lambda: "seen again" in (page.preview.text or ""), timeout=20_000)
    with opened.qtbot.waitSignal(page.signed, timeout=30_000) as heard:
        opened.press(Qt.Key.Key_F9, demo.PASSPHRASE, Qt.Key.Key_Return)
    assert heard.args is not None
    added = heard.args[0].path
    assert path.read_bytes() == before
    found = check(added, opened.settings)
    assert found.verification.valid
    assert found.comparison is not None
    assert found.comparison.by == "pages"
    assert found.exam == opened.exam
    opened.press(Qt.Key.Key_F9)
    assert page.field.text() == ""
    opened.press(Qt.Key.Key_Escape)
    assert opened.window.page is None
    assert opened.page.isVisible()


def test_an_addendum_half_written_is_there_again(there: Opener) -> None:
    opened = there()
    opened.sign_note()
    opened.press(Qt.Key.Key_F9, "Seen again on the", Qt.Key.Key_Escape)
    assert opened.window.page is None
    opened.press(Qt.Key.Key_F9)
    page = opened.window.page
    assert isinstance(page, AddendumPage)
    assert page.field.text() == "Seen again on the"


def test_a_letter_alone_leaves_the_examination_a_draft(there: Opener) -> None:
    opened = there()
    opened.window.finish()
    opened.page.paper.kinds.button("patient_letter").click()
    with opened.qtbot.waitSignal(opened.page.signed, timeout=30_000):
        opened.press(Qt.Key.Key_F9, demo.PASSPHRASE, Qt.Key.Key_Return)
    assert opened.place.opened.sealed is None
    opened.place.document.put("conclusion.plan", "More.")
    assert opened.exam.conclusion.plan == "More."
    assert "has changed since" in opened.page.doing.told.text()


def test_nothing_changes_while_the_paper_is_on_its_way(there: Opener) -> None:
    opened = there()
    opened.window.finish()
    before = opened.exam
    opened.press(Qt.Key.Key_F9, demo.PASSPHRASE)
    opened.press(Qt.Key.Key_Return)
    assert opened.page.act.running
    opened.place.document.put("conclusion.plan", "Meanwhile.")
    opened.qtbot.waitUntil(lambda: not opened.page.act.running, timeout=30_000)
    assert opened.exam is before
    assert check(opened.papers()[0], opened.settings).exam == before


def test_the_next_examination_begins_once_the_note_is_signed_and_not_before(there: Opener) -> None:
    opened = there()
    first = opened.place
    opened.press(Qt.Key.Key_F10)
    assert opened.place is first
    assert "Sign the note first" in first.entering.message
    opened.sign_note()
    opened.press(Qt.Key.Key_F10)
    window = opened.window
    assert window.examination is None
    assert window.asking is not None
    assert window.asking.isVisible()
    assert window.head.person.name == ""
    for name, text in (("family_name", "Someone"), ("born", "1960-02-01"), ("examiner", "A")):
        window.asking.fields[name].setText(text)
    window.asking.begin()
    QApplication.processEvents()
    assert opened.exam.patient.family_name == "Someone"
    assert opened.place.opened.sealed is None
    opened.place.load_rules()
    opened.place.entering.go("reflexes.knee.right")
    opened.press("1")
    assert opened.place.document.get("reflexes.knee.right") is not None


def test_a_draft_whose_note_was_signed_before_the_program_stopped_opens_closed(there: Opener) -> None:
    opened_before = there()
    journal = Drafts(opened_before.places.data / JOURNAL)
    (draft,) = journal.latest()
    opened_before.sign_note()
    # As if the program had stopped between the paper and the end of its draft.
    journal.begin(CLINIC, draft.exam_id, opened_before.exam, now())
    journal.close()
    opened_before.window.close()
    again = there()
    assert again.place.opened.sealed is not None
    assert again.place.recovered.words.startswith("Signed by ")
    again.press("1")
    again.place.finish()
    assert again.page.doing.state == "signed"
    again.press(Qt.Key.Key_F9)
    assert isinstance(again.window.page, AddendumPage)
    assert len(again.papers()) == 1


def test_f9_does_what_it_is_called_on_the_signed_form_and_on_the_page(there: Opener) -> None:
    opened = there()
    opened.sign_note()
    shown = opened.page.last.keys
    on_the_page = next(words for words, key in shown if key == "F9")
    opened.press(Qt.Key.Key_Escape)
    assert opened.place.in_rows
    on_the_form = next(words for words, key in opened.place.recovered.keys if key == "F9")
    assert on_the_form == on_the_page == "write an addendum"
    opened.press(Qt.Key.Key_F9)
    assert isinstance(opened.window.page, AddendumPage)


def test_a_letter_that_is_not_signed_holds_the_next_examination_back_once(there: Opener) -> None:
    opened = there()
    opened.sign_note()
    opened.page.paper.kinds.button("referral").click()
    opened.page.words.fields["conclusion.letter.question"].editor.insertPlainText("Which side?")
    opened.press(Qt.Key.Key_F10)
    assert opened.window.examination is not None
    assert "only in its signed paper" in opened.page.doing.told.text()
    opened.press(Qt.Key.Key_F10)
    assert opened.window.examination is None


# Reading back


@pytest.fixture
def a_note(clinic: demo.Demo, tmp_path: Path) -> Path:
    """Give a signed note about the person of the demonstration, named differently."""
    from neuroform.desktop.read_and_sign.desk import ToSign, desk

    patient = clinic.exam.patient.model_copy(update={"family_name": "Someone", "given_names": "Else"})
    exam = complete(clinic.exam.model_copy(update={"patient": patient}), clinic.settings)
    where = Places(config=tmp_path / "elsewhere", data=tmp_path / "elsewhere")
    given = desk(where, clinic.settings, clock=now)
    assert clinic.settings.certificate is not None
    asked = ToSign(kind="note", exam=exam, certificate=clinic.settings.certificate, passphrase=demo.PASSPHRASE)
    return given.sign(asked, lambda _words: None).path


def test_the_examination_in_a_paper_is_read_in_the_place_and_says_so(there: Opener, a_note: Path) -> None:
    opened = there()
    own = opened.exam
    opened.read(a_note)
    assert opened.window.page is None
    assert opened.exam.patient.family_name == "Someone"
    assert opened.window.head.person.name == "Someone, Else"
    assert opened.place.recovered.isVisible()
    assert opened.place.recovered.words.startswith(f"Only to read. Signed by {demo.EXAMINER} (demonstration), ")
    assert opened.place.recovered.y() < opened.place.sheet.y()
    opened.press(Qt.Key.Key_Escape)
    assert opened.exam is own
    assert opened.window.head.person.name.startswith(own.patient.family_name)


@pytest.mark.parametrize("seed", range(3))
def test_h13_nothing_done_while_reading_reaches_either_examination(there: Opener, a_note: Path, seed: int) -> None:
    opened = there()
    own, at = opened.exam, opened.place.entering.path
    opened.read(a_note)
    read = opened.exam
    random_keys(opened, seed, 150)
    assert opened.exam is read
    opened.press(Qt.Key.Key_Escape)
    for _again in range(3):
        if opened.exam is read:
            opened.press(Qt.Key.Key_Escape)
    assert opened.exam is own
    assert opened.place.entering.path == at
    drafts = Drafts(opened.places.data / JOURNAL)
    (kept,) = drafts.latest()
    assert drafts.replay(kept.exam_id).exam == own
    drafts.close()


def test_what_is_read_can_be_found_and_traced(there: Opener, a_note: Path) -> None:
    opened = there()
    opened.read(a_note)
    opened.press("f", "babinski", Qt.Key.Key_Return)
    assert opened.place.entering.path == "reflexes.plantar.right"
    said = opened.window.band.interpretation.said
    assert said
    opened.window.band.interpretation.chosen.emit(said[0].items)
    assert opened.place.entering.traced <= set(said[0].items)
    assert opened.place.entering.traced


def test_the_own_examination_goes_on_as_it_was(there: Opener, a_note: Path) -> None:
    opened = there()
    opened.place.entering.go("reflexes.knee.left")
    opened.read(a_note)
    opened.press(Qt.Key.Key_Escape)
    assert opened.place.entering.path == "reflexes.knee.left"
    assert QApplication.focusWidget() is opened.place.sheet.page().focused_widget()
    opened.press("2")
    assert opened.place.document.get("reflexes.knee.left") == Examined(value="brisk")
    opened.window._undo()
    assert opened.place.document.get("reflexes.knee.left") != Examined(value="brisk")


def test_an_addendum_is_written_to_a_note_that_is_read(there: Opener, a_note: Path) -> None:
    opened = there()
    own = opened.exam
    opened.read(a_note)
    opened.window.finish()
    page = opened.place.page
    assert isinstance(page, AddendumPage)
    assert page.doing.person.text().startswith("Someone, Else, born ")
    opened.press("Rung by the family.")
    with opened.qtbot.waitSignal(page.signed, timeout=30_000) as heard:
        opened.press(Qt.Key.Key_F9, demo.PASSPHRASE, Qt.Key.Key_Return)
    assert heard.args is not None
    assert check(heard.args[0].path, opened.settings).exam == opened.exam
    opened.press(Qt.Key.Key_Escape, Qt.Key.Key_Escape)
    assert opened.exam is own


def test_another_paper_can_be_read_from_one_that_is_read(there: Opener, a_note: Path) -> None:
    opened = there()
    own = opened.exam
    opened.read(a_note)
    opened.read(a_note)
    opened.press(Qt.Key.Key_Escape)
    assert opened.exam is own


def test_what_is_read_stays_in_sight_at_another_size_and_with_other_settings(there: Opener, a_note: Path) -> None:
    opened = there()
    own = opened.exam
    opened.read(a_note)
    opened.window.zoom(1)
    assert opened.window.head.person.name == "Someone, Else"
    QTest.keyClick(opened.window, Qt.Key.Key_F4)
    page = opened.window.page
    assert isinstance(page, SettingsPage)
    page.write("trial_seconds", "25")
    page.write("vibration", "score")
    page.save()
    QApplication.processEvents()
    assert opened.window.head.person.name == "Someone, Else"
    assert opened.place.recovered.isVisible()
    assert not opened.window.band.urgent.said or opened.exam.patient.family_name == "Someone"
    opened.press(Qt.Key.Key_Escape)
    assert opened.exam.patient == own.patient
    assert opened.window.head.person.name.startswith(own.patient.family_name)


def test_everything_on_the_page_of_an_addendum_has_a_name_and_tab_comes_back(there: Opener) -> None:
    opened = there()
    opened.sign_note()
    opened.press(Qt.Key.Key_F9)
    page = opened.window.page
    assert isinstance(page, AddendumPage)
    reached: list[QWidget] = []
    for _turn in range(60):
        widget = opened.window.focusWidget()
        if widget in reached:
            break
        reached.append(widget)
        assert QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name), widget
        opened.press(Qt.Key.Key_Tab)
    assert page.field.editor in reached
    assert page.secret.field.editor in reached
    assert page.doing.keep in reached
    assert opened.window.focusWidget() in reached


# Urgent findings that were withdrawn


def test_h34_an_urgent_finding_withdrawn_is_told_with_when_and_by_what(there: Opener, kit: Any) -> None:
    exam = put(kit.blank_exam(), "context.symptoms", ("back_pain",))
    opened = there(exam)
    opened.place.entering.go("context.bladder")
    opened.place.document.put("context.bladder", Examined(value="retention"))
    raised = [each.message for each in opened.place.entering.conclusions.reading.urgent]
    assert raised
    opened.place.document.put("reflexes.knee.right", Examined(value="normal"))
    opened.place.document.put("context.bladder", Examined(value="normal"))
    assert not opened.place.entering.conclusions.reading.urgent
    opened.window.finish()
    opened.qtbot.waitUntil(lambda: bool(opened.page.withdrawn.lines), timeout=20_000)
    told = opened.page.withdrawn.text()
    assert opened.page.withdrawn.isVisible()
    assert raised[0] in told
    assert "Bladder" in told
    assert "was changed" in told
    assert "Knee" not in told


def test_a_paper_is_read_before_anyone_is_examined_and_the_question_comes_back(
    qtbot: QtBot, clinic: demo.Demo, a_note: Path, tmp_path: Path
) -> None:
    where = Places(config=tmp_path / "fresh", data=tmp_path / "fresh")
    window = MainWindow(Theme())
    qtbot.addWidget(window)
    window.resize(1280, 800)
    with qtbot.waitExposed(window):
        window.show()
    window.take(open_workplace(where, clinic.settings))
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    opened = There(window=window, places=where, settings=clinic.settings, qtbot=qtbot)
    opened.read(a_note)
    opened.read(a_note)
    assert window.head.person.name == "Someone, Else"
    opened.press("1")
    opened.press(Qt.Key.Key_Escape)
    assert window.examination is None
    assert window.asking is not None
    assert window.asking.isVisible()
    assert window.head.person.name == ""
    window.close()


def test_a_paper_by_a_signer_who_is_not_trusted_says_so_as_long_as_it_is_read(
    there: Opener, clinic: demo.Demo, a_note: Path
) -> None:
    opened = there(settings=replace(clinic.settings, authorities=()))
    opened.read(a_note)
    assert opened.place.recovered.words.endswith("which isn't among the trusted authorities. Don't rely on it.")
