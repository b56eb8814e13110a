"""How the window keeps itself from hurting someone; each test names its hazard."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from PySide6.QtGui import QAccessible

from neuroform.desktop.opening import Asked
from neuroform.desktop.places import supervision
from neuroform.desktop.workplace import CLINIC, JOURNAL, begun, open_workplace, opened
from neuroform.exam.examination import SECTIONS
from neuroform.exam.findings import REASONS, Examined
from neuroform.exam.walk import entries, get, put
from neuroform.notes import papers
from neuroform.notes.content import KINDS, Earlier
from neuroform.records.drafts import Drafts
from neuroform.settings import Places, Settings
from neuroform.workflow import demo
from neuroform.workflow.conclude import protocol_of
from neuroform.workflow.gathering import gather

ASKED = Asked(
    family_name="Rahman", given_names="Ilse", born=date(1955, 3, 3), identifier="4471", examiner="A", amount="full"
)


def test_h11_a_copied_side_is_told_apart_on_screen_and_aloud(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened()
    window.examination.entering.go("reflexes.knee.right")
    kit.keys(window, "1s")
    row = window.examination.sheet.page().widgets["reflexes.knee.right"]
    face = QAccessible.queryAccessibleInterface(row)
    said = face.text(QAccessible.Text.Value) + face.text(QAccessible.Text.Description)
    assert said.count("copied from the other side") == 1
    assert said.index("copied") > said.index("left")


def test_h12_one_key_names_what_it_answers_and_records_that_it_did(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened(put(kit.blank_exam(), "context.symptoms", ()))
    window.examination.entering.open("motor")
    before = window.examination.document.exam
    kit.keys(window, "n")
    assert window.examination.document.exam is before
    offer = window.examination.entering.offer
    assert all(name in window.examination.together.words for name in offer.names)
    kit.keys(window, ["Enter"])
    found = [get(window.examination.document.exam, path) for path in offer.found]
    assert found
    assert all(each.entered == "together" for each in found)


@pytest.mark.parametrize("where", ["form", "settings", "patients", "supervision", "find", "keys"])
def test_h13_the_person_stands_in_sight_wherever_one_is(
    opened: Callable[..., Any], kit: ModuleType, where: str
) -> None:
    window = opened()
    place = window.examination
    place.opened = replace(place.opened, pages={"settings": lambda shown: supervision(shown.theme, shown)})
    acts: dict[str, Callable[[], None]] = {
        "form": lambda: None,
        "settings": lambda: window.show_page("settings"),
        "patients": lambda: window.go(1),
        "supervision": lambda: window.go(2),
        "find": place.open_find,
        "keys": window.toggle_keys,
    }
    acts[where]()
    head = window.head
    assert not head.visibleRegion().isEmpty()
    assert head.visibleRegion().boundingRect().height() >= head.height() - 1
    told = ", ".join([head.person.name, *head.person.facts])
    assert told == "Rahman, Ilse, age 71, born 3 Mar 1955, ID 4471"


def test_h22_someone_stands_by_before_anyone_stands(opened: Callable[..., Any]) -> None:
    window = opened()
    window.examination.entering.open("standing")
    asked = [cell.path for row in window.examination.entering.shown for cell in row.cells]
    trials = [n for n, path in enumerate(asked) if ".eyes_" in path]
    assert asked.index("standing.stand_by") < min(trials)
    assert "close" in window.examination.head.caution.lower()


def test_h22_the_time_stands_larger_than_anything_else_while_it_runs(
    opened: Callable[..., Any], kit: ModuleType
) -> None:
    window = opened()
    window.examination.entering.go("standing.firm.eyes_open.sway")
    kit.keys(window, ["Space"])
    assert window.examination.head.timer.endswith(" s")
    others = ("title", "person", "strong", "body")
    assert all(window.theme.line("timer") > window.theme.line(role) for role in others)
    kit.keys(window, ["Space"])
    seconds = window.examination.document.get("standing.firm.eyes_open.seconds")
    assert isinstance(seconds, Examined)


def test_h27_a_new_examination_begins_blank_but_for_who_and_when() -> None:
    exam = begun(ASKED, Settings())
    assert [path for each in entries() for path in each.paths if get(exam, path) is not None] == []
    assert datetime.now(UTC) - exam.encounter.examined_at < timedelta(minutes=5)


@pytest.mark.parametrize("kind", KINDS)
def test_h27_the_day_of_the_examination_stands_at_the_head_of_every_paper(kind: Any) -> None:
    exam = demo.half_done(datetime(2026, 11, 2, 9, 40, tzinfo=UTC))
    basis, _concluded = gather(exam, protocol_of(exam, Settings()), Settings())
    earlier = Earlier(title="note", when="1 November 2026, 08:00", sha256="0" * 64) if kind == "addendum" else None
    head = papers.text(kind, basis, earlier=earlier)[:1400]  # what is urgent stands before it
    assert "2 November 2026" in head


def test_h27_an_examination_of_another_day_says_so_by_the_person(opened: Callable[..., Any], kit: ModuleType) -> None:
    old = kit.blank_exam()
    days = [datetime.now().astimezone(), datetime.now().astimezone() - timedelta(days=3)]
    told = []
    for at in days:
        met = old.encounter.model_copy(update={"examined_at": at})
        window = opened(old.model_copy(update={"encounter": met}))
        told.append(window.head.person.state)
    assert told[0] == "full examination"
    assert told[1].startswith(f"full examination of {days[1].day} {days[1]:%b} {days[1].year}")


def test_h27_no_examination_that_follows_another_is_begun_without_it(tmp_path: Path) -> None:
    beginning = open_workplace(Places(config=tmp_path, data=tmp_path), Settings())
    assert "follow_up" not in {name for name, _words in beginning.amounts}  # type: ignore[union-attr]  # no draft yet


def test_h28_a_draft_is_known_by_its_own_id_and_never_mixed_with_another(tmp_path: Path, kit: ModuleType) -> None:
    where = Places(config=tmp_path, data=tmp_path)
    first = opened(where, Settings(), clinic=CLINIC, begin=kit.blank_exam)
    first.close()
    drafts = Drafts(tmp_path / JOURNAL)
    (one,) = drafts.latest()
    other = kit.blank_exam().model_copy(
        update={"patient": kit.blank_exam().patient.model_copy(update={"family_name": "Someone"})}
    )
    drafts.begin("another clinic", "second", other, datetime.now(UTC))
    drafts.append("another clinic", "second", "reflexes.knee.right", Examined(value="brisk"), datetime.now(UTC))
    drafts.append(CLINIC, one.exam_id, "reflexes.knee.left", Examined(value="absent"), datetime.now(UTC))
    drafts.close()
    again = opened(where, Settings(), clinic=CLINIC, begin=None)
    assert again.exam.patient.family_name == "Rahman"
    assert get(again.exam, "reflexes.knee.left") == Examined(value="absent")
    assert get(again.exam, "reflexes.knee.right") is None
    again.close()


@pytest.mark.parametrize("section", SECTIONS)
def test_h32_a_refusal_is_the_first_reason_wherever_one_is_asked(
    opened: Callable[..., Any], kit: ModuleType, section: str
) -> None:
    window = opened()
    entering = window.examination.entering
    entering.open(section)
    if entering.at is None or entering.at.entry.plain:
        assert next(iter(REASONS)) == "declined"
        return
    kit.keys(window, "x")
    widget = window.examination.sheet.page().focused_widget()
    offered = [child.name for child in widget.parts()]
    assert "declined" in offered[0]
