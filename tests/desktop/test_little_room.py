"""Where there is little room the most important survives: urgent findings by name, what is needed, keys, the state."""

from collections.abc import Callable
from dataclasses import replace
from types import ModuleType
from typing import Any

import pytest
from PySide6.QtGui import QPainter

from neuroform.desktop import place_words, strip_view
from neuroform.desktop.band import LastLine
from neuroform.desktop.column_layout import ColumnLayout, Said, Told
from neuroform.desktop.head import Head, Person
from neuroform.desktop.opening import Sealed
from neuroform.desktop.row_view import view
from neuroform.desktop.theme import Theme
from neuroform.desktop.urgent_names import SHORT_NAMES, short
from neuroform.exam.findings import Examined
from neuroform.exam.walk import put
from neuroform.reasoning.urgent import CODES

CORD = "Possible compression of the cord: image the whole spine now."
CAUDA = "Possible compression of the cauda equina: emergency MRI, bladder scan after voiding."


@pytest.fixture
def written(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Collect the words that are painted."""
    found: list[str] = []
    plain = QPainter.drawText

    def draw(painter: QPainter, *rest: Any) -> Any:
        found.append(rest[-1])
        return plain(painter, *rest)

    monkeypatch.setattr(QPainter, "drawText", draw)
    return found


def told(*said: Said) -> Told:
    return Told(title="Urgent findings", key="F5", said=said, systems=(), empty="", flowing=False)


def now(code: str, message: str) -> Said:
    return Said(head="Now", text=message, urgency="immediate", short=short(code, message))


# Urgent findings


def test_every_urgent_finding_has_a_short_name_of_its_own() -> None:
    assert set(SHORT_NAMES) == set(CODES)
    assert len(set(SHORT_NAMES.values())) == len(CODES)


def test_two_urgent_findings_that_begin_alike_are_told_apart_on_one_line_each(qapp: Any) -> None:
    laid = ColumnLayout(Theme(), 178).lay(told(now("cord-compression", CORD), now("cauda-equina", CAUDA)), 105)
    lines = [run.text for run in laid.runs if run.said >= 0 and run.role == "body"]
    assert lines == ["Cord compression…", "Cauda equina…"]


def test_what_is_to_be_done_follows_the_short_name_where_there_is_room(qapp: Any) -> None:
    laid = ColumnLayout(Theme(), 300).lay(told(now("cord-compression", CORD), now("cauda-equina", CAUDA)), 105)
    assert "Cord compression: image the whole spine…" in [run.text for run in laid.runs]


def test_urgent_findings_out_of_sight_are_counted(qapp: Any) -> None:
    said = [now("cord-compression", CORD) for _number in range(6)]
    laid = ColumnLayout(Theme(), 178).lay(told(*said), 105)
    seen = {run.said for run in laid.runs if run.said >= 0}
    assert 0 < len(seen) < 6
    assert f"+{6 - len(seen)}" in [run.text for run in laid.runs]


@pytest.mark.parametrize("width", range(40, 400, 17))
def test_a_text_is_cut_after_a_word(qapp: Any, width: int) -> None:
    theme = Theme()
    shown = theme.fitted("body", CAUDA, width)
    assert theme.width("body", shown) <= width
    if shown != CAUDA and " " in shown:
        assert shown.endswith("…")
        assert CAUDA.startswith(shown[:-1])
        assert CAUDA[len(shown) - 1] in " :,.;"


def test_the_frame_of_a_sentence_keeps_off_the_next_one(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened(kit.half_done(), size=(1024, 700), scale=2.0)
    window.to_band(1)
    column = window.band.interpretation
    others = [run for run in column._laid.runs if run.said >= 1]
    theme = window.theme
    for box in column._boxes(0):
        on_its_line = [run for run in others if box.top() < run.y < box.bottom()]
        assert all(box.right() <= run.x for run in on_its_line if run.x > box.left())
    assert theme.scale == 2.0
    assert any(box.bottom() > run.y > box.top() for box in column._boxes(0) for run in others)


# The last line


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_what_is_needed_to_sign_and_the_key_to_the_keys_stand_in_the_form_at_any_size(
    opened: Callable[..., Any], kit: ModuleType, written: list[str], scale: float
) -> None:
    window = opened(kit.half_done(), size=(1024, 700), scale=scale)
    written.clear()
    window.last.grab()
    assert any(words.endswith("needed to sign") for words in written)
    assert "F1" in written


def test_the_page_that_signs_keeps_its_keys_beside_many_gaps(qtbot: Any, written: list[str]) -> None:
    last = LastLine(Theme(scale=2.0))
    qtbot.addWidget(last)
    last.resize(1024, 62)
    keys = (("next gap", "Enter"), ("sign", "F9"), ("back", "Esc"), ("keys", "F1"))
    last.show_line("9 needed to sign, 3 to sign with a reason", "23 of 35 answered or explained", keys)
    last.grab()
    assert "9 needed to sign, 3 to sign with a reason" in written
    assert {"F9", "Esc", "F1"} <= set(written)


# The head


def test_the_head_says_draft_signed_or_not_saved_where_no_more_has_room(qtbot: Any, written: list[str]) -> None:
    head = Head(Theme(scale=2.0))
    qtbot.addWidget(head)
    head.resize(1024, 62)
    facts = ("age 62", "born 15 Jan 1964", "ID DEMO-033")
    for state in ("draft", "signed", "not saved"):
        brief = (f"full examination, {state}", state)
        head.show_person(Person(name="Person, Invented", facts=facts, state="x" * 90, brief=brief))
        written.clear()
        head.grab()
        assert state in written
        assert set(facts) <= set(written)


def test_a_long_name_gives_way_to_how_the_examination_stands(qtbot: Any, written: list[str]) -> None:
    head = Head(Theme(scale=2.0))
    qtbot.addWidget(head)
    head.resize(1024, 62)
    head.show_person(Person(name="Featherstonehaugh " * 3, facts=("age 62", "ID 4"), state="x" * 90, brief=("draft",)))
    head.grab()
    assert {"age 62", "ID 4", "draft"} <= set(written)


def test_the_brief_state_follows_what_is_so(kit: ModuleType) -> None:
    exam = kit.blank_exam()
    assert place_words.person(exam, "full examination", kit.AT, "").brief[-1] == "draft"
    assert place_words.person(exam, "full examination", kit.AT, "not saved").brief[-1] == "not saved"
    sealed = place_words.person(exam, "full examination", kit.AT, "full examination, signed 10:41", signed=True)
    assert sealed.brief[-1] == "signed"


# What is only read


def read_only(window: Any) -> Any:
    """Seal the examination of a window, as a signature does."""
    place = window.examination
    place.seal(Sealed(words="Signed.", why="It is signed.", state="signed"), pages={})
    return place


def test_what_is_only_read_shows_its_answer_alone(opened: Callable[..., Any], kit: ModuleType) -> None:
    exam = put(kit.blank_exam(), "reflexes.plantar.right", Examined(value="extensor"))
    window = opened(exam)
    place = read_only(window)
    place.entering.go("reflexes.plantar.right")
    row = place.sheet.page().widgets["reflexes.plantar.right"]
    words = [thing.text for thing in row.laid().things if hasattr(thing, "text")]
    assert "extensor" in words
    assert "flexor" not in words
    assert "blank" in words
    assert [(part.role, part.value) for part in row.parts()] == [("text", "extensor"), ("text", "blank")]


def test_blank_rows_that_are_only_read_list_no_answers(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened(kit.blank_exam())
    place = read_only(window)
    for section in ("context", "standing", "motor", "reflexes", "sensation"):
        place.entering.open(section)
        for number, row in enumerate(place.entering.shown):
            place.entering.focus(number)
            shown = place.sheet.page().widgets[row.key]
            listed = {choice.words for cell in shown.view.cells for choice in cell.choices} - {"blank"}
            words = {thing.text for thing in shown.laid().things if hasattr(thing, "text")}
            assert not listed & words, row.key
            if not any(cell.kind == "text" for cell in shown.view.cells) and not shown.view.cells[0].barred:
                assert "blank" in words, row.key


# The item line


def test_an_abnormal_answer_outside_the_amount_has_a_segment(opened: Callable[..., Any], kit: ModuleType) -> None:
    exam = put(kit.blank_exam("acute_vertigo"), "reflexes.knee.right", Examined(value="absent"))
    exam = put(exam, "reflexes.knee.left", Examined(value="absent"))
    window = opened(exam)
    (segment,) = strip_view.segments_of(window.examination.entering)["reflexes"]
    assert (segment.state, segment.abnormal) == ("answered", True)


def test_no_section_that_holds_answers_shows_a_bare_line(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened(kit.blank_exam("acute_vertigo"))
    entering = window.examination.entering
    assert strip_view.segments_of(entering)["motor"] == ()
    entering.document.put("motor.power.knee_extension.right", Examined(value="5"))
    shown = strip_view.segments_of(entering)["motor"]
    assert [segment.state for segment in shown] == ["blank"]
    entering.document.put("motor.power.knee_extension.left", Examined(value="5"))
    assert [segment.state for segment in strip_view.segments_of(entering)["motor"]] == ["answered"]


# Marks and what does not fit


def test_symptoms_do_not_carry_the_mark_of_normal(opened: Callable[..., Any], kit: ModuleType) -> None:
    exam = put(kit.blank_exam(), "context.symptoms", ("urinary_retention",))
    entering = opened(exam).examination.entering
    entering.go("context.symptoms")
    shown = view(entering, entering.shown[entering.row], focused=False, misfits=frozenset())
    assert shown.cells[0].mark is None


def test_what_does_not_fit_is_said_once_and_short(opened: Callable[..., Any], kit: ModuleType) -> None:
    exam = kit.blank_exam()
    for joint in ("great_toe", "ankle"):
        for side in ("right", "left"):
            exam = put(exam, f"sensation.joint_position.{joint}.{side}", Examined(value="absent"))
    for part, value in (("sway", "none"), ("seconds", 30.0), ("ended", "held")):
        exam = put(exam, f"standing.firm.eyes_closed.{part}", Examined(value=value))
    window = opened(exam)
    entering = window.examination.entering
    entering.go("sensation.joint_position.great_toe.right")
    widgets = window.examination.sheet.page().widgets.values()
    notes = [note for widget in widgets for cell in widget.view.cells for note in cell.notes]
    said = [note for note in notes if note.startswith("does not fit")]
    assert len(said) == 1
    assert "Firm ground, eyes closed" in said[0]
    assert len(said[0]) < 70
    assert "do not fit. Look again at one of them." in window.examination.head.message
    marked = [cell.mark for widget in widgets for cell in widget.view.cells]
    assert marked.count("does_not_fit") == 4


def test_what_does_not_fit_is_not_cut_at_the_least_width(
    opened: Callable[..., Any], kit: ModuleType, written: list[str]
) -> None:
    exam = kit.blank_exam()
    for joint in ("great_toe", "ankle"):
        for side in ("right", "left"):
            exam = put(exam, f"sensation.joint_position.{joint}.{side}", Examined(value="absent"))
    for part, value in (("sway", "slight"), ("seconds", 30.0), ("ended", "held")):
        exam = put(exam, f"standing.firm.eyes_closed.{part}", Examined(value=value))
    window = opened(exam, size=(1024, 700))
    for section in ("sensation", "standing"):
        window.examination.entering.open(section)
        written.clear()
        for widget in window.examination.sheet.page().widgets.values():
            widget.grab()
        at = next(n for n, words in enumerate(written) if words.startswith("does not fit: "))
        assert "…" not in " ".join(written[at : at + 3])


def test_a_long_message_is_whole_at_twice_the_size(
    opened: Callable[..., Any], kit: ModuleType, written: list[str]
) -> None:
    window = opened(kit.blank_exam(), size=(1024, 700), scale=2.0)
    head = window.examination.head
    message = (
        "Joint position lost at both toes and ankles and a steady stance with eyes closed do not fit. "
        "Look again at one of them."
    )
    head.show_words(message=message)
    written.clear()
    head.grab()
    assert message in " ".join(written)


def test_a_shown_row_is_laid_anew_when_it_is_sealed(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened(kit.blank_exam())
    place = window.examination
    row = place.sheet.page().widgets[place.entering.shown[0].key]
    assert not row.view.sealed
    read_only(window)
    assert row.view.sealed
    assert row.view == replace(row.view, sealed=True)
