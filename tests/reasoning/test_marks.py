"""Marks beside a finding: by its list, by published limits at this age, and nothing under eighteen."""

from typing import Any

import pytest

from neuroform.exam.walk import entries
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.marks import limit, mark
from neuroform.reasoning.results import Mark
from tests.exam.strategies import generated

FORK, TOE = "sensation.vibration_score.great_toe.right", "sensation.joint_position.great_toe.left"
GAIN, STEPS = "head_and_eyes.head_impulse_gain.left", "walking.tandem.correct_steps"
LYING, AT_1, AT_ONCE = "circulation.lying", "circulation.standing_1_min", "circulation.standing_immediately"

# A finding, the age, its mark. Common practice where no source stands beside it.
ROWS: list[tuple[str, Any, int, Mark]] = [
    ("reflexes.plantar.left", "flexor", 50, "normal"),
    ("reflexes.plantar.left", "extensor", 50, "abnormal"),
    ("reflexes.plantar.left", "mute", 50, "neutral"),
    ("reflexes.plantar.left", "not examined: declined", 50, "not_examined"),
    ("context.onset", "acute", 50, "neutral"),
    ("walking.pattern", ["normal"], 50, "normal"),
    ("walking.pattern", ["cautious", "veers_left"], 50, "abnormal"),
    ("head_and_eyes.brainstem_signs", ["none"], 50, "normal"),
    ("context.symptoms", ["vertigo"], 50, "neutral"),
    ("context.symptoms", [], 50, "neutral"),
    # Graduated fork at the great toe: 4.0 at 41 to 60, 3.5 at 61 to 85 (Martina 1998, from memory);
    # half a step below is borderline.
    (FORK, 4.0, 60, "normal"),
    (FORK, 3.5, 60, "borderline"),
    (FORK, 3.0, 60, "abnormal"),
    (FORK, 3.5, 61, "normal"),
    (FORK, 0.0, 17, "neutral"),
    # 128 Hz fork, seconds: under 5 reduced, 10 and more normal, described between and over 70.
    ("sensation.vibration_seconds.great_toe.left", 4.9, 50, "abnormal"),
    ("sensation.vibration_seconds.great_toe.left", 7.0, 50, "neutral"),
    ("sensation.vibration_seconds.great_toe.left", 10.0, 50, "normal"),
    ("sensation.vibration_seconds.great_toe.left", 4.0, 71, "neutral"),
    ("sensation.vibration.great_toe.left", "reduced", 59, "abnormal"),
    ("sensation.vibration.great_toe.left", "reduced", 60, "borderline"),
    (TOE, "impaired", 50, "abnormal"),
    (TOE, {"correct": 9, "trials": 10}, 50, "normal"),
    (TOE, {"correct": 8, "trials": 10}, 50, "abnormal"),
    (TOE, {"correct": 4, "trials": 4}, 50, "neutral"),
    # Gain: below 0.8 is reduced in common use (BMJ Neurol Open 2022;4:e000284).
    (GAIN, 0.8, 50, "normal"),
    (GAIN, 0.79, 50, "abnormal"),
    (GAIN, 0.1, 17, "neutral"),
    (STEPS, 8, 74, "normal"),
    (STEPS, 7, 74, "abnormal"),
    (STEPS, 0, 75, "neutral"),
    (STEPS, 0, 17, "neutral"),
    ("motor.clonus_beats.left", 0, 50, "normal"),
    ("motor.clonus_beats.left", 3, 50, "neutral"),
    ("motor.clonus_beats.left", 5, 50, "abnormal"),
    ("head_and_eyes.acuity_lines_lost_on_head_shaking", 2, 50, "normal"),
    ("head_and_eyes.acuity_lines_lost_on_head_shaking", 3, 50, "abnormal"),
    ("head_and_eyes.acuity_lines_lost_on_head_shaking", 3, 17, "neutral"),
    ("motor.breath_count", 19, 50, "abnormal"),
    ("motor.breath_count", 20, 50, "neutral"),
    ("context.residual_urine_ml", 201, 50, "abnormal"),
    ("context.residual_urine_ml", 200, 50, "neutral"),
    ("standing.firm.eyes_open.sway", "moderate", 50, "abnormal"),
    ("standing.firm.eyes_closed.sway", "moderate", 50, "neutral"),
    ("standing.foam.eyes_closed.sway", "marked", 50, "abnormal"),
    ("standing.foam.eyes_closed.sway", "slight", 50, "normal"),
    # One leg, eyes open, under 5 s: more injurious falls (Vellas 1997, from memory). A longer time is no low risk.
    ("standing.single_leg.eyes_open.seconds.left", 4.9, 60, "abnormal"),
    ("standing.single_leg.eyes_open.seconds.left", 5.0, 60, "neutral"),
    ("standing.single_leg.eyes_open.seconds.left", 4.9, 59, "neutral"),
    # Timed up and go over 13.5 s at 60 and over (Shumway-Cook 2000, from memory).
    ("walking.timed_up_and_go_seconds", 13.6, 60, "abnormal"),
    ("walking.timed_up_and_go_seconds", 8.0, 60, "neutral"),
    ("walking.ten_metre_seconds", 40.0, 60, "neutral"),
    (AT_1, {"systolic": 89, "diastolic": 60}, 50, "abnormal"),
    (AT_1, {"systolic": 90, "diastolic": 60}, 50, "neutral"),
    (AT_1, {"systolic": 60, "diastolic": 40}, 17, "neutral"),
    (AT_ONCE, {"systolic": 89, "diastolic": 60}, 50, "abnormal"),
    (LYING, {"systolic": 200, "diastolic": 60}, 50, "neutral"),
]  # fmt: skip


@pytest.mark.parametrize(("path", "found", "age", "expected"), ROWS)
def test_a_finding_is_marked(made: Any, path: str, found: Any, age: int, expected: Mark) -> None:
    exam = made({path: found}, age=age)
    assert mark(exam, path) == expected
    assert mark(Facts(exam), path) == expected


# A fall of 20 systolic or 10 diastolic; of 30 systolic from 140 lying (Freeman 2011, Clin Auton Res 21:69-72).
@pytest.mark.parametrize(
    ("lying", "standing", "expected"),
    [
        ((120, 80), (100, 75), "abnormal"),
        ((120, 80), (101, 71), "normal"),
        ((120, 80), (119, 70), "abnormal"),
        ((140, 80), (111, 75), "normal"),
        ((140, 80), (110, 75), "abnormal"),
    ],
)
def test_a_standing_pressure_is_judged_beside_the_one_lying(
    made: Any, lying: tuple[int, int], standing: tuple[int, int], expected: Mark
) -> None:
    readings = {
        path: {"systolic": systolic, "diastolic": diastolic}
        for path, (systolic, diastolic) in ((LYING, lying), (AT_1, standing), (AT_ONCE, standing))
    }
    exam = made(readings)
    assert mark(exam, AT_1) == expected
    assert mark(exam, AT_ONCE) == "neutral"


# A trial of standing lasts 30 s where nothing else is said (common practice); how it ended says what its seconds mean.
@pytest.mark.parametrize("trial", ["firm.eyes_open", "firm.eyes_closed", "foam.eyes_open", "foam.eyes_closed"])
@pytest.mark.parametrize(
    ("seconds", "ended", "length", "age", "expected"),
    [
        (12, "stepped", None, 50, "abnormal"),
        (12, "opened_eyes", 30.0, 50, "abnormal"),
        (0, "fell", None, 71, "abnormal"),
        (29, "needed_support", None, 50, "abnormal"),
        (12, "stopped_early", None, 50, "neutral"),
        (12, "held", None, 50, "neutral"),
        (12, None, None, 50, "neutral"),
        (12, "not examined: unsafe", None, 50, "neutral"),
        (12, "stepped", None, 17, "neutral"),
        (30, "held", None, 50, "normal"),
        (30, "stepped", None, 50, "neutral"),
        (30, "stepped", 60.0, 50, "abnormal"),
        (20, "held", 20.0, 50, "normal"),
    ],
)
def test_the_seconds_of_a_trial_are_judged_by_its_length_and_its_end(
    made: Any, trial: str, seconds: float, ended: str | None, length: float | None, age: int, expected: Mark
) -> None:
    found = {f"standing.{trial}.seconds": seconds, f"standing.{trial}.ended": ended, "standing.trial_seconds": length}
    exam = made({path: each for path, each in found.items() if each is not None}, age=age)
    assert mark(exam, f"standing.{trial}.seconds") == expected
    assert mark(Facts(exam), f"standing.{trial}.seconds") == expected


def test_a_pressure_that_could_not_be_taken_lying_judges_nothing(made: Any) -> None:
    exam = made({LYING: "not examined: unable", AT_1: {"systolic": 100, "diastolic": 60}})
    assert mark(exam, AT_1) == "neutral"


def test_every_item_of_every_examination_has_a_mark_and_blank_is_never_normal(made: Any) -> None:
    blank = made()
    for path in (path for at in entries() for path in at.paths):
        assert mark(blank, path) == "blank"
    for exam in generated(30, seed=500):
        facts = Facts(exam)
        for path, found in facts.found.items():
            assert mark(facts, path) == mark(exam, path)
            assert (mark(exam, path) == "not_examined") == hasattr(found, "not_examined")


@pytest.mark.parametrize(
    ("path", "age", "value"),
    [(FORK, 60, 4.0), (FORK, 61, 3.5), (GAIN, 50, 0.8), (STEPS, 50, 8), ("walking.timed_up_and_go_seconds", 60, 13.5)],
)
def test_a_number_tells_its_limit(made: Any, path: str, age: int, value: float) -> None:
    found = limit(made(age=age), path)
    assert found is not None
    assert found.value == value
    assert limit(Facts(made(age=age)), path) == found


@pytest.mark.parametrize(
    ("path", "age"),
    [(FORK, 17), (GAIN, 17), (STEPS, 75), ("walking.timed_up_and_go_seconds", 59), ("reflexes.plantar.left", 50)],
)
def test_where_there_is_no_limit_at_this_age_none_is_told(made: Any, path: str, age: int) -> None:
    assert limit(made(age=age), path) is None


def test_an_unknown_path_is_refused(made: Any) -> None:
    with pytest.raises(KeyError):
        mark(made(), "walking.moonwalk")
