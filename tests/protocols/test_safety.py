"""What a caution makes unsafe, and what can't be done at all."""

import json
from typing import Any

import pytest

from neuroform.exam import files
from neuroform.exam.context import CAUTIONS
from neuroform.exam.examination import FORMAT, Examination
from neuroform.exam.walk import entry, is_path
from neuroform.protocols.safety import HEAD_MOVED, impossible, not_advised, why_impossible, why_not_advised

NECK_AT_RISK = (
    "neck_instability",
    "neck_trauma",
    "neck_artery_dissection",
    "neck_surgery",
    "severe_neck_pain",
    "atlantoaxial_risk",
)


def exam(**sections: Any) -> Examination:
    raw = {
        "format": FORMAT,
        "patient": {
            "family_name": "Invented",
            "given_names": "",
            "birth_date": "1970-01-01",
            "sex": "male",
            "identifiers": [],
        },
        "encounter": {"examined_at": "2026-03-02T12:00:00+00:00", "examiner": "A. Examiner", "protocol": "full"},
        **sections,
    }
    return files.read(json.dumps(raw).encode())


def value(found: Any) -> dict[str, Any]:
    return {"value": found}


def test_nothing_is_unsafe_or_impossible_in_a_blank_examination() -> None:
    assert not_advised(exam()) == {}
    assert impossible(exam()) == {}


@pytest.mark.parametrize("caution", NECK_AT_RISK)
def test_a_neck_at_risk_makes_every_test_that_moves_the_head_unsafe(caution: str) -> None:
    unsafe = not_advised(exam(context={"cautions": [caution]}))
    assert {item: unsafe.get(item) for item in HEAD_MOVED} == dict.fromkeys(HEAD_MOVED, caution)


@pytest.mark.parametrize(
    ("caution", "unsafe"),
    [
        ("neck_instability", True),
        ("neck_trauma", True),
        ("neck_artery_dissection", False),
        ("neck_surgery", False),
        ("severe_neck_pain", False),
        ("cannot_stand", True),
        ("anticoagulated", False),
        ("fragile_bones", False),
    ],
)
def test_standing_and_walking_are_unsafe_with_an_unstable_neck_or_when_standing_is_not_possible(
    caution: str, unsafe: bool
) -> None:
    found = not_advised(exam(context={"cautions": [caution]}))
    for item in ("standing.firm.eyes_open.sway", "walking.pattern", "standing.pull_test", "circulation.standing_1_min"):
        assert (item in found) is unsafe


def test_someone_who_cannot_stand_may_still_be_sat_up_but_not_with_an_unstable_neck() -> None:
    assert "standing.sitting_balance" not in not_advised(exam(context={"cautions": ["cannot_stand"]}))
    assert "standing.sitting_balance" in not_advised(exam(context={"cautions": ["neck_trauma"]}))


def test_a_raised_neck_needs_no_caution() -> None:
    unsafe = not_advised(exam(), neck_raised=True)
    assert unsafe["head_and_eyes.head_impulse"] == "neck"
    assert unsafe["walking.pattern"] == "neck"
    assert unsafe["motor.neck_flexion"] == "neck"


def test_the_worst_caution_is_the_one_named() -> None:
    unsafe = not_advised(exam(context={"cautions": ["severe_neck_pain", "cannot_stand", "neck_trauma"]}))
    assert unsafe["head_and_eyes.head_impulse"] == "neck_trauma"
    assert unsafe["walking.pattern"] == "neck_trauma"


@pytest.mark.parametrize(("grade", "unsafe"), [("0", True), ("1", True), ("2", True), ("3", False), ("5", False)])
def test_power_of_two_or_less_in_a_leg_makes_standing_unsafe(grade: str, unsafe: bool) -> None:
    weak = exam(motor={"power": {"knee_extension": {"left": value(grade)}}})
    assert ("standing.firm.eyes_open.sway" in not_advised(weak)) is unsafe
    assert ("walking.pattern" in not_advised(weak)) is unsafe


@pytest.mark.parametrize(
    ("ended", "unsafe"),
    [("stepped", True), ("fell", True), ("needed_support", True), ("opened_eyes", True), ("held", False)],
)
def test_foam_is_unsafe_after_a_lost_firm_stance(ended: str, unsafe: bool) -> None:
    lost = exam(standing={"firm": {"eyes_closed": {"ended": value(ended)}}})
    assert ("standing.foam.eyes_closed.sway" in not_advised(lost)) is unsafe
    assert "standing.firm.eyes_closed.sway" not in not_advised(lost)


def test_someone_who_cannot_lie_flat_is_not_laid_flat() -> None:
    unsafe = not_advised(exam(context={"cautions": ["cannot_lie_flat"]}))
    assert {"head_and_eyes.positional_test", "head_and_eyes.roll_test", "circulation.lying"} <= unsafe.keys()
    assert "head_and_eyes.head_impulse" not in unsafe


@pytest.mark.parametrize("kind", ["limb_absent", "limb_immobilised"])
@pytest.mark.parametrize(
    ("site", "gone", "there"),
    [
        ("right_foot", "reflexes.plantar.right", "reflexes.knee.right"),
        ("left_below_knee", "sensation.joint_position.ankle.left", "sensation.joint_position.knee.left"),
        ("left_above_knee", "reflexes.knee.left", "motor.power.hip_flexion.left"),
        ("right_foot", "walking.tandem.correct_steps", "reflexes.plantar.left"),
        ("right_foot", "standing.firm.eyes_closed.sway", "walking.pattern"),
    ],
)
def test_a_limb_missing_or_immobilised_makes_what_is_below_impossible(
    kind: str, site: str, gone: str, there: str
) -> None:
    found = impossible(exam(context={kind: [site]}))
    assert found[gone] == kind
    assert there not in found


@pytest.mark.parametrize("vision", ["none", "one_eye", "both_eyes"])
def test_without_useful_vision_what_needs_eyes_is_impossible(vision: str) -> None:
    found = impossible(exam(context={"useful_vision": value(vision)}))
    wanted = {
        "standing.firm.eyes_closed.sway",
        "head_and_eyes.head_impulse.right",
        "head_and_eyes.head_impulse.left",
        "head_and_eyes.nystagmus",
        "head_and_eyes.skew",
        "head_and_eyes.gaze_evoked_nystagmus",
    }
    assert wanted.isdisjoint(found) if vision != "none" else wanted <= found.keys()
    assert "standing.firm.eyes_open.sway" not in found


def test_every_path_named_is_one_of_the_catalogue_and_every_code_has_its_words() -> None:
    everything = exam(
        context={
            "cautions": list(CAUTIONS.words),
            "useful_vision": value("none"),
            "limb_absent": ["right_above_knee"],
            "limb_immobilised": ["left_above_knee"],
        },
        standing={"firm": {"eyes_closed": {"ended": value("fell")}}},
    )
    for items in (not_advised(everything), not_advised(exam(), neck_raised=True)):
        assert all(entry(item).path == item for item in items)
        assert all(why_not_advised(code) for code in items.values())
    assert all(is_path(path) and path in entry(path).paths for path in impossible(everything))
    assert {why_impossible(code) for code in impossible(everything).values()} == {
        "a limb is missing",
        "a limb is immobilised",
        "there is no useful vision",
    }
