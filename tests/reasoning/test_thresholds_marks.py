"""Marks, and what keeps an examination from being called without abnormality, at and beside their borders.

Common practice where no source stands beside a row.
"""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.marks import limit, mark
from neuroform.reasoning.patterns import read_patterns
from neuroform.reasoning.results import Mark, PatternReading, Verdict
from tests.reasoning.test_normal import FULL

Found = dict[str, Any]
EYES, STAND = "head_and_eyes", "standing.firm"
ANKLE, KNEE = "reflexes.ankle", "reflexes.knee"
LYING, AT_ONCE, AT_1, AT_3 = (
    f"circulation.{item}" for item in ("lying", "standing_immediately", "standing_1_min", "standing_3_min")
)


def pressure(systolic: int, diastolic: int = 60) -> Found:
    return {"systolic": systolic, "diastolic": diastolic}


BY_WORD: list[tuple[str, int, Mark]] = [
    ("absent", 59, "abnormal"),
    ("absent", 60, "abnormal"),
    ("reduced", 59, "abnormal"),
    ("reduced", 60, "borderline"),
    ("normal", 60, "normal"),
]
# A finding, the age, its mark. No limit is used under 18 years.
MARKS: list[tuple[str, Any, int, Mark]] = [
    *(
        (f"sensation.joint_position.{joint}.{side}", "absent", 50, "abnormal")
        for joint in ("great_toe", "ankle", "knee", "finger")
        for side in ("right", "left")
    ),
    ("sensation.joint_position.ankle.right", {"correct": 5, "trials": 5}, 50, "normal"),
    *(
        (f"sensation.vibration.{site}.{side}", word, age, expected)
        for site in ("great_toe", "medial_malleolus", "tibial_tuberosity", "iliac_spine", "finger")
        for side in ("right", "left")
        for word, age, expected in BY_WORD
    ),
    ("sensation.vibration_seconds.great_toe.left", 4.9, 70, "abnormal"),
    ("sensation.vibration_seconds.great_toe.left", 5.0, 50, "neutral"),
    ("sensation.vibration_seconds.great_toe.left", 9.9, 50, "neutral"),
    (f"{EYES}.acuity_lines_lost_on_head_shaking", 3, 18, "abnormal"),
    (f"{EYES}.acuity_lines_lost_on_head_shaking", 2, 18, "normal"),
    (f"{EYES}.acuity_lines_lost_on_head_shaking", 2, 17, "neutral"),
    ("motor.breath_count", 19, 18, "abnormal"),
    ("motor.breath_count", 19, 17, "neutral"),
    ("context.residual_urine_ml", 201, 18, "abnormal"),
    ("context.residual_urine_ml", 201, 17, "neutral"),
    ("motor.clonus_beats.left", 1, 50, "neutral"),
    ("motor.clonus_beats.left", 4, 50, "neutral"),
    (AT_ONCE, pressure(89), 18, "abnormal"),
    (AT_ONCE, pressure(89), 17, "neutral"),
    (AT_3, pressure(89), 50, "abnormal"),
    (f"{EYES}.head_impulse_gain.right", 0.79, 18, "abnormal"),
    (f"{EYES}.head_impulse_gain.right", 0.79, 17, "neutral"),
    ("walking.tandem.correct_steps", 8, 18, "normal"),
    ("walking.tandem.correct_steps", 7, 18, "abnormal"),
    ("walking.tandem.correct_steps", 8, 17, "neutral"),
    ("walking.timed_up_and_go_seconds", 13.5, 60, "neutral"),
    ("walking.timed_up_and_go_seconds", 13.6, 59, "neutral"),
    ("standing.single_leg.eyes_open.seconds.right", 4.9, 60, "abnormal"),
    ("standing.foam.eyes_open.sway", "marked", 50, "abnormal"),
    ("standing.foam.eyes_open.sway", "moderate", 50, "neutral"),
    ("standing.foam.eyes_closed.sway", "moderate", 50, "neutral"),
    (f"{STAND}.eyes_closed.sway", "none", 50, "normal"),
]


@pytest.mark.parametrize(("path", "found", "age", "expected"), MARKS)
def test_a_finding_is_marked(made: Any, path: str, found: Any, age: int, expected: Mark) -> None:
    assert mark(made({path: found}, age=age), path) == expected


# Freeman 2011, Clin Auton Res 21:69-72: within three minutes 20/10 mm Hg, 30 systolic from 140 lying.
FALLS: list[tuple[str, Found, Found, Mark]] = [
    (AT_1, pressure(139), pressure(119), "abnormal"),
    (AT_1, pressure(139), pressure(120), "normal"),
    (AT_3, pressure(140), pressure(110), "abnormal"),
    (AT_3, pressure(140), pressure(111), "normal"),
    (AT_3, pressure(120, 80), pressure(120, 70), "abnormal"),
    (AT_3, pressure(120, 80), pressure(120, 71), "normal"),
    (AT_ONCE, pressure(140), pressure(100), "neutral"),
]


@pytest.mark.parametrize(("path", "lying", "standing", "expected"), FALLS)
def test_a_fall_of_pressure_is_marked_at_one_and_three_minutes(
    made: Any, path: str, lying: Found, standing: Found, expected: Mark
) -> None:
    assert mark(made({LYING: lying, path: standing}), path) == expected


@pytest.mark.parametrize(
    ("path", "age", "value"),
    [
        # Graduated fork, Martina 1998, from memory: toe, inner ankle and hand have limits of their own.
        ("sensation.vibration_score.great_toe.right", 50, 4.0),
        ("sensation.vibration_score.great_toe.left", 61, 3.5),
        ("standing.single_leg.eyes_open.seconds.right", 60, 5.0),
        ("walking.timed_up_and_go_seconds", 60, 13.5),
        ("walking.tandem.correct_steps", 74, 8),
    ],
)
def test_a_number_tells_its_limit_from_facts_and_from_an_examination(
    made: Any, path: str, age: int, value: float
) -> None:
    exam = made(age=age)
    for source in (exam, Facts(exam)):
        found = limit(source, path)
        assert found is not None
        assert found.value == value


# What it shows, what was found instead in a normal examination, the age, the verdict.
NORMAL: list[tuple[str, Found, int, Verdict]] = [
    (
        "ankles reduced, one with reinforcement",
        {f"{ANKLE}.right": "reduced", f"{ANKLE}.left": "with_reinforcement"},
        50,
        "supported",
    ),
    ("knees reduced alike", {KNEE: "reduced"}, 50, "supported"),
    ("knees with reinforcement", {KNEE: "with_reinforcement"}, 50, "supported"),
    ("ankle absent beside reduced at 59", {f"{ANKLE}.right": "absent", f"{ANKLE}.left": "reduced"}, 59, "unlikely"),
    ("ankle reduced beside absent at 60", {f"{ANKLE}.right": "reduced", f"{ANKLE}.left": "absent"}, 60, "possible"),
    ("knee absent beside reduced at 60", {f"{KNEE}.right": "absent", f"{KNEE}.left": "reduced"}, 60, "unlikely"),
    ("knee reduced on one side", {f"{KNEE}.right": "reduced", f"{KNEE}.left": "normal"}, 60, "unlikely"),
    ("ankle reduced beside normal at 60", {f"{ANKLE}.right": "reduced", f"{ANKLE}.left": "normal"}, 60, "unlikely"),
    ("ankle brisk on one side", {f"{ANKLE}.right": "brisk", f"{ANKLE}.left": "normal"}, 50, "unlikely"),
    ("clonus alike", {ANKLE: "clonus"}, 50, "unlikely"),
    (
        "one ankle reduced, the other declined",
        {f"{ANKLE}.right": "reduced", f"{ANKLE}.left": "not examined: declined"},
        50,
        "possible",
    ),
    ("mute plantars", {"reflexes.plantar": "mute"}, 50, "supported"),
    ("equivocal plantar", {"reflexes.plantar": "equivocal"}, 50, "possible"),
    ("vibration absent at 59", {"sensation.vibration.great_toe": "absent"}, 59, "unlikely"),
    ("vibration absent at 60", {"sensation.vibration.great_toe": "absent"}, 60, "possible"),
    ("vibration scored 0 at 60", {"sensation.vibration_score.great_toe": 0}, 60, "unlikely"),
    ("vibration reduced at 60", {"sensation.vibration.great_toe": "reduced"}, 60, "possible"),
    ("foam marked at 59", {"standing.foam.eyes_closed.sway": "marked"}, 59, "unlikely"),
    ("inner ankles absent at 59", {"sensation.vibration.medial_malleolus": "absent"}, 59, "unlikely"),
    ("inner ankles absent at 60", {"sensation.vibration.medial_malleolus": "absent"}, 60, "possible"),
    ("shin absent at 60", {"sensation.vibration.tibial_tuberosity": "absent"}, 60, "unlikely"),
    ("finger reduced at 60", {"sensation.vibration.finger": "reduced"}, 60, "possible"),
    ("wasted", {"motor.bulk.left": "wasted"}, 50, "unlikely"),
    ("not wasted", {"motor.bulk": "normal"}, 50, "supported"),
    ("eight steps at 74", {"walking.tandem.correct_steps": 8}, 74, "supported"),
    ("feet apart", {"standing.feet_position": "apart"}, 50, "possible"),
    ("a limb immobilised", {"context.limb_immobilised": ["left_foot"]}, 50, "possible"),
    ("no limb immobilised", {"context.limb_immobilised": []}, 50, "supported"),
    ("falls told, lying pressure alone", {"context.symptoms": ["falls"], LYING: pressure(120)}, 50, "possible"),
    ("falls told, standing pressure alone", {"context.symptoms": ["falls"], AT_1: pressure(120)}, 50, "possible"),
    (
        "falls told, pressures at 1 minute",
        {"context.symptoms": ["falls"], LYING: pressure(120), AT_1: pressure(120)},
        50,
        "supported",
    ),
    (
        "falls told, pressures at 3 minutes",
        {"context.symptoms": ["falls"], LYING: pressure(120), AT_3: pressure(120)},
        50,
        "supported",
    ),
]
STORY: Found = {"context.onset": "chronic", "context.duration_days": 400, "context.course": "progressive"}


def normal(made: Any, changed: Found, age: int = 50) -> PatternReading:
    whole = {**FULL, **(STORY if "context.symptoms" in changed else {}), **changed}
    for path in list(whole):
        sided = {f"{path}.right", f"{path}.left"} & set(changed)
        if path not in changed and sided:
            del whole[path]
    return next(each for each in read_patterns(Facts(made(whole, age=age))) if each.pattern == "no_abnormality")


@pytest.mark.parametrize(("changed", "age", "expected"), [row[1:] for row in NORMAL], ids=[row[0] for row in NORMAL])
def test_no_abnormality(made: Any, changed: Found, age: int, expected: Verdict) -> None:
    assert normal(made, changed, age).verdict == expected


@pytest.mark.parametrize(
    ("changed", "because", "argued_against"),
    [
        ({}, "Every item of a full examination is recorded and normal.", False),
        (
            {"coordination.speech": "not examined: declined"},
            "Nothing abnormal was recorded, but not every item could be examined or judged.",
            False,
        ),
        ({"coordination.speech": "slurred"}, "Something abnormal was recorded.", True),
    ],
)
def test_it_says_why(made: Any, changed: Found, because: str, argued_against: bool) -> None:
    found = normal(made, changed)
    assert (found.because, found.argued_against) == (because, argued_against)


@pytest.mark.parametrize(
    ("path", "found"),
    [
        ("coordination.speech", "not examined: declined"),
        (f"{STAND}.eyes_closed.sway", "not examined: unable"),
    ],
)
def test_what_has_a_reason_is_among_what_is_missing(made: Any, path: str, found: str) -> None:
    assert path in normal(made, {path: found}).missing


@pytest.mark.parametrize(
    ("path", "found"),
    [
        (f"{STAND}.eyes_closed.ended", "stopped_early"),
        ("sensation.vibration.great_toe", "reduced"),
        ("sensation.vibration.finger", "reduced"),
    ],
)
def test_what_clouds_it_is_among_what_opposes(made: Any, path: str, found: str) -> None:
    assert any(each.startswith(path) for each in normal(made, {path: found}, 60).opposing)


def test_moderate_sway_with_eyes_closed_is_among_what_supports(made: Any) -> None:
    path = f"{STAND}.eyes_closed.sway"
    assert path in normal(made, {path: "moderate"}).supporting


@pytest.mark.parametrize(
    ("path", "found", "age"),
    [
        ("reflexes.ankle", "reduced", 50),
        ("reflexes.knee", "reduced", 50),
        ("reflexes.plantar", "mute", 50),
        ("walking.tandem.correct_steps", 0, 75),
    ],
)
def test_what_is_not_abnormal_alike_or_at_this_age_supports(made: Any, path: str, found: Any, age: int) -> None:
    supporting = normal(made, {path: found}, age).supporting
    assert any(each.startswith(path) for each in supporting)


@pytest.mark.parametrize("side", ["right", "left"])
def test_a_reflex_that_is_low_beside_an_absent_one_clouds_from_60(made: Any, side: str) -> None:
    other = {"right": "left", "left": "right"}[side]
    found = normal(made, {f"{ANKLE}.{side}": "reduced", f"{ANKLE}.{other}": "absent"}, 60)
    assert {f"{ANKLE}.right", f"{ANKLE}.left"} <= set(found.opposing)


def test_one_low_reflex_beside_one_not_examined_clouds(made: Any) -> None:
    found = normal(made, {f"{ANKLE}.right": "reduced", f"{ANKLE}.left": "not examined: declined"})
    assert f"{ANKLE}.right" in found.opposing
