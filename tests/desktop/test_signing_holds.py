"""What a signature, a draft and a window hold on to: nothing goes astray, and nothing is lost unsaid."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from neuroform.desktop.examination_place import ExaminationPlace
from neuroform.desktop.main_window import MainWindow
from neuroform.desktop.opening import Asked, Beginning, Opened
from neuroform.desktop.read_and_sign import lacking
from neuroform.desktop.read_and_sign.addendum import AddendumPage
from neuroform.desktop.read_and_sign.desk import Signed, ToSign, desk
from neuroform.desktop.read_and_sign.page import ReadAndSign
from neuroform.desktop.rooms_below import judge, now
from neuroform.desktop.theme import Theme
from neuroform.desktop.verify_page import VerifyPage
from neuroform.desktop.work import Cancel, Cancelled
from neuroform.desktop.workplace import CLINIC, JOURNAL, open_workplace, opened
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.records.drafts import Drafts, Step
from neuroform.settings import Places, Settings
from neuroform.workflow import demo, signing

QUESTION = "conclusion.letter.question"


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
        exam = lacking.explained(exam, gap, "Left for the balance clinic tomorrow.")
    return exam


@dataclass
class Room:
    """Windows over one workplace."""

    clinic: demo.Demo
    places: Places
    qtbot: QtBot
    windows: list[MainWindow] = field(default_factory=list)

    def opening(self, settings: Settings | None = None) -> Opened:
        """Open the last draft, or the demonstration's examination."""
        chosen = settings or self.clinic.settings
        begun = complete(self.clinic.exam, chosen)
        return opened(self.places, chosen, clinic=CLINIC, begin=lambda: begun, shown_passphrase=demo.PASSPHRASE)

    def window(self, given: "Opened | Beginning | None" = None) -> MainWindow:
        """Show a window on it."""
        window = MainWindow(Theme())
        self.qtbot.addWidget(window)
        self.windows.append(window)
        window.resize(1280, 800)
        with self.qtbot.waitExposed(window):
            window.show()
        window.take(given or self.opening())
        if window.examination is not None:
            window.examination.load_rules()
        return window

    def sign(self, window: MainWindow, *, wait: bool = True) -> ReadAndSign:
        """Sign what is shown on Read and sign."""
        place = shown(window)
        window.finish()
        page = place.page
        assert isinstance(page, ReadAndSign)
        page.secret.field.editor.setText(demo.PASSPHRASE)
        page.sign()
        assert page.act.running
        if wait:
            self.qtbot.waitUntil(lambda: not page.act.running, timeout=30_000)
        return page

    def open_drafts(self) -> int:
        """Return how many drafts are open."""
        drafts = Drafts(self.places.data / JOURNAL)
        found = len(drafts.latest())
        drafts.close()
        return found


def shown(window: MainWindow) -> ExaminationPlace:
    """Return the place that is shown."""
    assert window.examination is not None
    return window.examination


def addendum(window: MainWindow, text: str) -> AddendumPage:
    """Write an addendum to one's own note, not signed."""
    window.show_page("addendum")
    page = window.page
    assert isinstance(page, AddendumPage)
    page.field.editor.setPlainText(text)
    return page


@pytest.fixture
def room(clinic: demo.Demo, qtbot: QtBot, tmp_path: Path) -> Iterator[Room]:
    """Give a workplace of its own."""
    made = Room(clinic=clinic, places=Places(config=tmp_path, data=tmp_path), qtbot=qtbot)
    yield made
    for window in made.windows:
        window.close()
        window.close()


@pytest.fixture
def a_note(clinic: demo.Demo, tmp_path: Path) -> Path:
    """Give a signed note about somebody else."""
    patient = clinic.exam.patient.model_copy(update={"family_name": "Someone", "given_names": "Else"})
    exam = complete(clinic.exam.model_copy(update={"patient": patient}), clinic.settings)
    where = Places(config=tmp_path / "elsewhere", data=tmp_path / "elsewhere")
    assert clinic.settings.certificate is not None
    asked = ToSign(kind="note", exam=exam, certificate=clinic.settings.certificate, passphrase=demo.PASSPHRASE)
    return desk(where, clinic.settings, clock=now).sign(asked, lambda _words: None).path


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[Event]:
    """Let signatures wait until the event is set, as a slow time-stamp service makes them."""
    go_on, sign = Event(), signing.sign_paper

    def slowly(*of: Any, **how: Any) -> bytes:
        go_on.wait(30)
        return sign(*of, **how)

    monkeypatch.setattr(signing, "sign_paper", slowly)
    yield go_on
    go_on.set()


def verified(window: MainWindow, path: Path, qtbot: QtBot) -> VerifyPage:
    """Verify a paper on the page for it."""
    window.show_page("verify")
    page = window.page
    assert isinstance(page, VerifyPage)
    page.open_file(path)
    qtbot.waitUntil(page.read.isVisible, timeout=30_000)
    return page


# A signature


def test_h13_no_paper_is_read_while_one_is_being_signed(room: Room, a_note: Path, slow: Event) -> None:
    window = room.window()
    own = shown(window)
    page = room.sign(window, wait=False)
    verify = verified(window, a_note, room.qtbot)
    verify.read.click()
    assert window.examination is own
    assert "being signed" in verify.answer()
    slow.set()
    room.qtbot.waitUntil(lambda: not page.act.running, timeout=30_000)
    assert own.opened.sealed is not None
    assert own.document.sealed


def test_h13_a_signature_closes_its_own_examination_whichever_is_shown(room: Room, a_note: Path) -> None:
    window = room.window()
    own = shown(window)
    window.finish()
    page = own.page
    assert isinstance(page, ReadAndSign)
    verified(window, a_note, room.qtbot).read.click()
    read = shown(window)
    assert read is not own
    before = read.opened
    page.signed.emit(Signed(path=a_note, name="Examiner A", at=now(), kind="note"))
    assert read.opened == before
    assert own.opened.sealed is not None
    assert own.opened.sealed.words.startswith("Signed by Examiner A")
    assert room.open_drafts() == 0


def test_the_next_examination_waits_until_a_paper_is_signed(room: Room, slow: Event) -> None:
    window = room.window()
    room.sign(window, wait=False)
    assert "being signed" in shown(window).holds_back()
    slow.set()


def test_a_note_signed_before_the_program_stopped_is_known_without_its_authority(room: Room, tmp_path: Path) -> None:
    window = room.window()
    drafts = Drafts(room.places.data / JOURNAL)
    (draft,) = drafts.latest()
    room.sign(window)
    drafts.begin(CLINIC, draft.exam_id, shown(window).document.exam, now())
    drafts.close()
    window.close()
    again = room.opening(replace(room.clinic.settings, authorities=(tmp_path / "gone.pem",)))
    assert again.sealed is not None
    again.close()


# What is written and not signed


def test_an_addendum_that_is_not_signed_holds_the_next_examination_back(room: Room) -> None:
    window = room.window()
    room.sign(window)
    page = addendum(window, "Seen again.")
    for _again in range(2):
        window._next()
        assert window.examination is not None
    assert "written and not signed" in page.doing.told.text()
    page.field.editor.setPlainText("")
    window._next()
    assert window.examination is None


def test_back_to_the_examination_closes_the_page_of_an_addendum(room: Room) -> None:
    window = room.window()
    room.sign(window)
    page = addendum(window, "")
    assert page.doing.keep.text() == "Back to the examination"
    page.doing.keep.click()
    assert window.page is None


@pytest.mark.parametrize("what", ["letter", "addendum"])
def test_closing_says_once_what_is_written_and_not_signed(room: Room, what: str) -> None:
    window = room.window()
    room.sign(window)
    place = shown(window)
    if what == "addendum":
        addendum(window, "Seen again.")
    else:
        place.document.put(QUESTION, "Which side?")
    assert not window.close()
    assert window.isVisible()
    told = window.page or place.page
    assert "closing again loses it" in told.doing.told.text()  # type: ignore[union-attr]  # a page that signs
    assert window.close()


def test_closing_asks_nothing_where_nothing_is_lost(room: Room) -> None:
    window = room.window()
    room.sign(window)
    place = shown(window)
    place.document.put(QUESTION, "Which side?")
    page = place.page
    assert isinstance(page, ReadAndSign)
    page.signed.emit(Signed(path=Path("letter.pdf"), name="A", at=now(), kind="referral"))
    assert window.close()
    draft = room.window()
    shown(draft).document.put("conclusion.plan", "More.")
    assert draft.close()


# Two windows


def test_a_draft_is_open_in_one_window_alone(room: Room) -> None:
    first, second = room.window(), room.window()
    shown(first).document.put("conclusion.plan", "Only here.")
    assert shown(second).document.get("conclusion.plan") != "Only here."
    assert "open in another window" in shown(second).recovered.words
    assert room.open_drafts() == 2
    first.close()
    third = room.window()
    assert shown(third).document.get("conclusion.plan") == "Only here."


def test_who_is_asked_for_is_examined_whatever_another_window_left_behind(room: Room) -> None:
    first = room.opening()
    asking = open_workplace(room.places, room.clinic.settings)
    assert isinstance(asking, Beginning)
    window = room.window(asking)
    assert window.asking is not None
    assert "open in another window" in window.asking.accessibleDescription()
    first.close()
    born = first.exam.patient.birth_date
    asked = Asked(family_name="Other", given_names="", born=born, identifier="", examiner="A", amount="full")
    begun = asking.start(asked)
    assert begun.exam.patient.family_name == "Other"
    begun.close()


def test_an_opening_that_fails_leaves_the_draft_to_the_next(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    room.opening().close()
    with monkeypatch.context() as broken:
        broken.setattr(Drafts, "replay", lambda _drafts, _exam_id: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            room.opening()
    again = room.opening()
    assert again.notices == ()
    again.close()


def test_nothing_of_a_hold_stays_behind_once_the_note_is_signed(room: Room) -> None:
    window = room.window()
    assert list(room.places.data.glob("*.held"))
    room.sign(window)
    window.close()
    assert not list(room.places.data.glob("*.held"))


# What was withdrawn


def test_the_history_is_read_again_only_after_a_change(
    room: Room, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    read: list[str] = []
    steps = Drafts.steps

    def counted(drafts: Drafts, exam_id: str) -> Any:
        read.append(exam_id)
        return steps(drafts, exam_id)

    monkeypatch.setattr(Drafts, "steps", counted)
    window = room.window()
    for _again in range(3):
        window.finish()
        qtbot.waitUntil(lambda: not shown(window).work._running, timeout=10_000)
    shown(window).document.put("context.bladder", Examined(value="retention"))
    before = len(read)
    window.finish()
    qtbot.waitUntil(lambda: len(read) > before, timeout=10_000)
    assert before == 1


def test_closing_the_window_calls_the_reading_of_a_long_history_off(
    room: Room, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    begun, ended = Event(), Event()

    def endless(_drafts: Drafts, _exam_id: str) -> Iterator[Step]:
        try:
            while True:
                begun.set()
                yield Step(exam=room.clinic.exam, at=now(), path=None)
        finally:
            ended.set()

    monkeypatch.setattr(Drafts, "steps", endless)
    window = room.window()
    window.finish()
    qtbot.waitUntil(begun.is_set, timeout=10_000)
    window.close()
    assert ended.is_set()


def test_reading_the_history_can_be_called_off(room: Room) -> None:
    from neuroform.desktop.keeping import Kept, held_anew

    drafts = Drafts(room.places.data / JOURNAL)
    drafts.begin(CLINIC, "one", room.clinic.exam, now())
    kept = Kept(drafts, CLINIC, "one", held_anew(drafts, "one"))
    cancel = Cancel()
    assert kept.withdrawn(cancel) == ()
    drafts.append(CLINIC, "one", "conclusion.plan", "More.", now())
    cancel.ask()
    with pytest.raises(Cancelled):
        kept.withdrawn(cancel)
    kept.close()


def test_a_damaged_journal_is_put_aside_and_told_of_at_the_start(tmp_path: Path) -> None:
    where = Places(config=tmp_path, data=tmp_path)
    (tmp_path / JOURNAL).write_bytes(b"no journal at all" * 400)
    beginning = open_workplace(where, Settings())
    assert isinstance(beginning, Beginning)
    assert "put aside" in beginning.told
    aside = [path for path in tmp_path.iterdir() if ".damaged-" in path.name]
    assert len(aside) == 1
    assert aside[0].read_bytes() == b"no journal at all" * 400
    again = open_workplace(where, Settings())
    assert isinstance(again, Beginning)
    assert again.told == ""
