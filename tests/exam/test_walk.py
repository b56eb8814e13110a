"""The walk visits every item once in bedside order; one finding is put without touching the rest."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from neuroform.exam import files
from neuroform.exam.examination import SECTIONS, Examination, Patient, age, age_on, new_examination
from neuroform.exam.findings import Examined, NotExamined, level_rank, mrc_rank
from neuroform.exam.walk import entries, entry, get, position, put, recorded, section_group
from tests.exam.strategies import exams

Reader = Callable[[str, Any], Examination]
PATHS = [path for found in entries() for path in found.paths]


def test_every_item_is_visited_once_section_by_section() -> None:
    paths = [found.path for found in entries()]
    assert len(paths) == len(set(paths)) == 157
    assert list(dict.fromkeys(found.section for found in entries())) == list(SECTIONS)
    assert SECTIONS == (
        "context",
        "standing",
        "walking",
        "motor",
        "reflexes",
        "sensation",
        "coordination",
        "head_and_eyes",
        "circulation",
        "conclusion",
    )


def test_the_bedside_comes_in_order() -> None:
    first = [
        "context.symptoms",
        "standing.firm.eyes_open.sway",
        "standing.firm.eyes_closed.sway",
        "walking.pattern",
        "motor.tone.right",
        "motor.tone.left",
        "reflexes.plantar.right",
        "sensation.joint_position.great_toe.right",
        "coordination.heel_shin.right",
        "head_and_eyes.nystagmus",
        "head_and_eyes.head_impulse.right",
        "circulation.lying",
        "circulation.standing_1_min",
        "conclusion.impression",
    ]
    assert sorted(set(first), key=position) == first


def test_sections_have_their_names() -> None:
    assert [section_group(name).label for name in SECTIONS] == [
        "History and cautions",
        "Standing",
        "Walking",
        "Strength",
        "Reflexes",
        "Sensation",
        "Coordination",
        "Head and eyes",
        "Blood pressure",
        "Conclusion",
    ]


def test_an_unknown_path_names_nothing() -> None:
    for path in ("walking", "walking.hopping", "walking.base.right", "motor.tone.middle", ""):
        with pytest.raises(KeyError):
            entry(path)


@given(exams(), st.sampled_from(PATHS))
def test_putting_one_finding_keeps_everything_else(exam: Examination, path: str) -> None:
    found = None if entry(path).plain else NotExamined(not_examined="deferred", comment="later", entered="together")
    changed = put(exam, path, found)
    assert get(changed, path) == found
    before, after = dict(recorded(exam)), dict(recorded(changed))
    before.pop(path, None)
    after.pop(path, None)
    assert after == before
    assert put(changed, path, get(exam, path)) == exam
    assert (changed.patient, changed.encounter) == (exam.patient, exam.encounter)


@given(exams())
def test_what_is_recorded_comes_in_bedside_order_and_is_what_stands_there(exam: Examination) -> None:
    found = list(recorded(exam))
    assert [path for path, _ in found] == sorted((path for path, _ in found), key=position)
    assert all(get(exam, path) is at for path, at in found)
    assert {path for path, _ in found} == {path for path in PATHS if get(exam, path) is not None}


def test_a_value_that_is_not_the_items_is_not_put(read_with: Reader) -> None:
    exam = read_with("context.reason", "x")
    guessed: Any = {"value": "wide", "entered": "guessed"}
    for wrong in (Examined(value="sideways"), Examined(value=3), "normal", Examined(**guessed)):
        with pytest.raises(ValidationError):
            put(exam, "walking.base", wrong)


@pytest.mark.parametrize(
    ("born", "on", "years"),
    [
        # Counted by hand.
        (date(1954, 2, 11), date(2026, 2, 10), 71),
        (date(1954, 2, 11), date(2026, 2, 11), 72),
        (date(2004, 2, 29), date(2005, 2, 28), 0),
        (date(2004, 2, 29), date(2005, 3, 1), 1),
        (date(2004, 2, 29), date(2008, 2, 28), 3),
        (date(2004, 2, 29), date(2008, 2, 29), 4),
        (date(2026, 1, 1), date(2026, 1, 1), 0),
        (date(1926, 12, 31), date(2026, 12, 30), 99),
    ],
)
def test_age_is_counted_in_whole_years(born: date, on: date, years: int) -> None:
    assert age_on(born, on) == years


def test_age_goes_by_the_clock_of_the_examination(read_with: Reader) -> None:
    assert age(read_with("encounter.examined_at", "2026-02-10T23:30:00-05:00")) == 71
    assert age(read_with("encounter.examined_at", "2026-02-11T00:30:00+09:00")) == 72


def test_grades_and_levels_have_an_order() -> None:
    assert sorted(["5", "4", "4+", "4-", "0", "3", "2", "1"], key=mrc_rank) == [
        "0",
        "1",
        "2",
        "3",
        "4-",
        "4",
        "4+",
        "5",
    ]
    levels = ["none", "toes", "foot", "ankle", "mid_calf", "knee", "thigh", "groin"]
    assert sorted(set(levels), key=level_rank) == levels


def test_a_new_examination_is_blank_and_keeps_seconds() -> None:
    patient = Patient(family_name="Example", birth_date=date(1954, 2, 11))
    at = datetime(2026, 11, 20, 10, 15, 7, 999, tzinfo=UTC)
    exam = new_examination(patient=patient, examiner="Examiner A", at=at)
    assert list(recorded(exam)) == []
    assert exam.encounter.examined_at.isoformat() == "2026-11-20T10:15:07+00:00"
    assert files.read(files.write(exam)) == exam
