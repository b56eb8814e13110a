"""H34: an urgent finding raised and withdrawn is told with both times and what was changed, from the journal."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from neuroform.exam.examination import Patient, new_examination
from neuroform.exam.findings import Examined
from neuroform.exam.walk import put
from neuroform.reasoning.interpretation import read
from neuroform.records.drafts import Drafts, Step
from neuroform.workflow.withdrawn import Withdrawn, withdrawn

BEGAN = datetime(2026, 11, 20, 10, 30, tzinfo=UTC)
BLADDER = "context.bladder"
RETENTION, NORMAL = Examined(value="retention"), Examined(value="normal")
Change = tuple[str, Any, int]
"""Path, what stands there then, seconds after the examination began."""
History = Callable[..., tuple[Withdrawn, ...]]


@pytest.fixture
def history(tmp_path: Path) -> History:
    """Give a function that keeps changes in a journal and tells what was withdrawn in it."""

    def told(*changes: Change, symptoms: tuple[str, ...] = ("back_pain",)) -> tuple[Withdrawn, ...]:
        patient = Patient(family_name="Rahman", given_names="Ilse", birth_date=date(1955, 3, 3))
        exam = put(new_examination(patient=patient, examiner="A", at=BEGAN), "context.symptoms", symptoms)
        drafts = Drafts(tmp_path / "drafts.sqlite")
        drafts.begin("clinic", "one", exam, BEGAN)
        for path, value, after in changes:
            drafts.append("clinic", "one", path, value, BEGAN + timedelta(seconds=after))
        found = withdrawn(drafts.steps("one"))
        drafts.close()
        return found

    return told


def test_h34_both_times_and_what_was_changed_are_told(history: History) -> None:
    found = history(
        (BLADDER, RETENTION, 120), ("reflexes.knee.right", Examined(value="normal"), 200), (BLADDER, NORMAL, 300)
    )
    assert found
    for each in found:
        assert (each.raised, each.at) == (BEGAN + timedelta(seconds=120), BEGAN + timedelta(seconds=300))
        assert each.path == BLADDER
        assert not each.again


def test_a_slip_mended_at_once_is_told_as_well(history: History) -> None:
    assert history((BLADDER, RETENTION, 120), (BLADDER, NORMAL, 121))


def test_what_still_stands_was_not_withdrawn(history: History) -> None:
    assert history((BLADDER, RETENTION, 120), ("reflexes.knee.left", Examined(value="normal"), 130)) == ()


def test_what_was_raised_again_is_told_so(history: History) -> None:
    found = history((BLADDER, RETENTION, 120), (BLADDER, NORMAL, 180), (BLADDER, RETENTION, 240))
    assert found
    assert all(each.again for each in found)


def test_undo_withdraws_as_a_correction_does(history: History) -> None:
    found = history((BLADDER, RETENTION, 120), (BLADDER, None, 125))
    assert {each.path for each in found} == {BLADDER}


def test_a_number_half_typed_raises_nothing(history: History) -> None:
    # A count of 2 on the way to 28: so few words in one breath are weak breathing (common practice).
    path = "motor.breath_count"
    one, done = Examined(value=2), Examined(value=28)
    weak = ("motor.power.hip_flexion.right", Examined(value="3"), 10)
    assert history(weak, (path, one, 100), (path, done, 101), symptoms=("weakness",)) == ()
    slow = history(weak, (path, one, 100), (path, done, 160), symptoms=("weakness",))
    assert {each.path for each in slow} == {path}


def test_what_is_followed_is_what_each_step_reads_alone() -> None:
    patient = Patient(family_name="Rahman", given_names="Ilse", birth_date=date(1955, 3, 3))
    exam = put(new_examination(patient=patient, examiner="A", at=BEGAN), "context.symptoms", ("back_pain",))
    steps = [Step(exam=exam, at=BEGAN, path=None)]
    weak = Examined(value="2")
    answers = [(BLADDER, RETENTION), ("motor.power.hip_flexion.right", weak), (BLADDER, None), (BLADDER, RETENTION)]
    answers += [("motor.power.hip_flexion.left", weak), (BLADDER, NORMAL), ("motor.power.hip_flexion.left", None)]
    for number, (path, value) in enumerate(answers, 1):
        exam = put(exam, path, value)
        steps.append(Step(exam=exam, at=BEGAN + timedelta(minutes=number), path=path))
    raised = [{each.code for each in read(step.exam).urgent} for step in steps]
    gone = [code for before, after in pairwise(raised) for code in sorted(before - after)]
    assert gone
    assert sorted(each.finding.code for each in withdrawn(steps)) == sorted(gone)


def test_words_of_the_conclusion_are_passed_over(history: History) -> None:
    letters = [("conclusion.plan", "Home today."[: n + 1], n) for n in range(11)]
    assert history((BLADDER, RETENTION, 20), *letters, (BLADDER, NORMAL, 60))[0].path == BLADDER
