"""How the reading keeps this program from hurting someone; each test names its hazard."""

import json
from pathlib import Path
from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.interpretation import paragraph, read, sentences
from neuroform.reasoning.marks import limit, mark
from neuroform.reasoning.urgent import CODES, urgent_findings
from neuroform.reference.results import Limit, Refusal
from neuroform.reference.vibration import fork_verdict, vibration_limit
from tests.reasoning.changing import read_raw
from tests.reasoning.test_urgent import BENIGN, VERTIGO

CASES = sorted((Path(__file__).resolve().parents[1] / "cases").glob("V*.json"))
LEFT_PERIPHERAL = VERTIGO | BENIGN
TRIAD = ("head_and_eyes.head_impulse.right", "head_and_eyes.nystagmus", "head_and_eyes.skew")


def verdict(exam: Any, name: str) -> str:
    """Return the verdict, the stronger of both sides."""
    found = [one.verdict for one in read(exam).patterns if one.pattern == name]
    return max(found, key=("unlikely", "not_assessable", "possible", "supported").index)


@pytest.mark.parametrize("part", TRIAD)
def test_h1_with_a_part_of_the_triad_open_vertigo_is_not_read_as_benign(made: Any, part: str) -> None:
    assert verdict(made(LEFT_PERIPHERAL), "acute_vestibular_peripheral") == "supported"
    open_ = {path: at for path, at in LEFT_PERIPHERAL.items() if path != part}
    exam = made(open_)
    assert verdict(exam, "acute_vestibular_peripheral") in ("not_assessable", "unlikely")
    assert any(one.code.startswith("acute-vertigo-central") for one in read(exam).urgent)


@pytest.mark.parametrize("trained", ["no", None])
def test_h1_a_benign_reading_says_that_it_rests_on_a_trained_hand(made: Any, trained: str | None) -> None:
    path = "head_and_eyes.examiner_trained"
    found = {key: at for key, at in LEFT_PERIPHERAL.items() if key != path} | ({path: trained} if trained else {})
    exam = made(found)
    said = paragraph(sentences(exam, read(exam)))
    assert "trained" in said
    assert verdict(exam, "acute_vestibular_peripheral") == "supported"


FUNCTIONAL = {
    "standing.firm.eyes_closed.sway": "marked",
    "standing.firm.eyes_closed.ended": "held",
    "standing.firm.sway_from": "hips",
    "standing.firm.distraction": "steadier",
    "walking.pattern": ["effortful_inconsistent"],
    "reflexes.plantar": "flexor",
    "reflexes.ankle": "normal",
    "sensation.joint_position.great_toe": "intact",
    "head_and_eyes.gaze_evoked_nystagmus": "absent",
    "head_and_eyes.head_impulse": "normal",
}


def changed(found: dict[str, Any]) -> dict[str, Any]:
    """Put a finding of one side in the place of the same on both."""
    side = next(iter(found)).rpartition(".")
    if side[2] not in ("right", "left"):
        return FUNCTIONAL | found
    other = {"right": "left", "left": "right"}[side[2]]
    both = FUNCTIONAL[side[0]]
    kept = {path: at for path, at in FUNCTIONAL.items() if path != side[0]}
    return kept | {f"{side[0]}.{other}": both} | found


@pytest.mark.parametrize(
    "objective",
    [
        {"reflexes.plantar.right": "extensor"},
        {"reflexes.ankle": "absent"},
        {"sensation.joint_position.great_toe": "absent"},
        {"head_and_eyes.gaze_evoked_nystagmus": "present"},
    ],
    ids=lambda found: next(iter(found)),
)
def test_h9_a_sign_that_cannot_be_made_at_will_keeps_functional_from_being_supported(
    made: Any, objective: dict[str, Any]
) -> None:
    assert verdict(made(FUNCTIONAL), "functional") == "supported"
    assert verdict(made(changed(objective)), "functional") in ("possible", "unlikely")


def test_h9_orthostatic_tremor_is_not_called_functional(made: Any) -> None:
    said = made(FUNCTIONAL | {"standing.tremor_on_standing": "yes"})
    assert verdict(said, "functional") != "supported"


def test_h9_normal_findings_alone_never_speak_for_functional(made: Any) -> None:
    normal = {"reflexes.knee": "normal", "reflexes.ankle": "normal", "sensation.joint_position.great_toe": "intact"}
    assert read(made(normal)).pattern("functional").supporting == ()


def test_h19_a_limit_comes_with_its_source_and_another_method_is_refused() -> None:
    found = vibration_limit("great_toe", 70, method="graduated_fork")
    assert isinstance(found, Limit)
    assert found.about.source
    assert found.about.mark in ("read", "quoted", "from memory")
    assert isinstance(vibration_limit("great_toe", 70, method="seconds"), Refusal)
    assert isinstance(vibration_limit("iliac_spine", 70, method="graduated_fork"), Refusal)


def test_h19_half_a_step_below_the_limit_is_a_grey_zone() -> None:
    found = vibration_limit("great_toe", 70, method="graduated_fork")
    assert isinstance(found, Limit)
    assert fork_verdict("great_toe", found.value, 70) == "normal"
    assert fork_verdict("great_toe", found.value - 0.5, 70) == "borderline"


@pytest.mark.parametrize("age", [5, 17])
def test_h21_no_number_of_a_child_is_judged_by_an_adult_limit(made: Any, age: int) -> None:
    scores = {"sensation.vibration_score.great_toe": 1.0, "walking.timed_up_and_go_seconds": 30.0}
    exam = made(scores, age=age)
    for path in Facts(exam).found:
        if path.startswith(tuple(scores)):
            assert mark(exam, path) == "neutral"
            assert limit(exam, path) is None


def test_h24_nothing_is_for_now_without_cause_and_flags_stay_few() -> None:
    """Measured on the cases of our own, which were written to raise something more often than a clinic would see it.

    Loud is "now" alone: each one raised there is one its author expected. All flags together, per 100 examinations,
    stay below one for each.
    """
    flags, strange = 0, []
    for file in CASES:
        case = json.loads(file.read_text("utf-8"))
        found = urgent_findings(Facts(read_raw(case["exam"])))
        expected = {each["code"] for each in case["expected"]["urgent"]} | set(case["expected"]["urgent_may"])
        strange += [(file.stem, one.code) for one in found if one.urgency == "immediate" and one.code not in expected]
        flags += len(found)
    assert len(CASES) >= 40
    assert not strange
    assert 0 < 100 * flags / len(CASES) < 100


def test_h24_a_normal_examination_raises_nothing() -> None:
    """Of the cases whose author expected "no abnormality", none raises anything but what that author named."""
    normal = 0
    for file in CASES:
        case = json.loads(file.read_text("utf-8"))
        if case["expected"]["patterns"].get("no_abnormality") in ("supported", "possible"):
            normal += 1
            expected = {each["code"] for each in case["expected"]["urgent"]} | set(case["expected"]["urgent_may"])
            assert {one.code for one in urgent_findings(Facts(read_raw(case["exam"])))} <= expected
    assert normal


def test_h24_each_finding_is_raised_once_however_many_signs_raise_it(made: Any) -> None:
    every = made(LEFT_PERIPHERAL | {"head_and_eyes.skew": "present", "head_and_eyes.gaze_evoked_nystagmus": "present"})
    codes = [one.code for one in urgent_findings(Facts(every))]
    assert len(codes) == len(set(codes))
    assert set(codes) <= set(CODES)
