"""What to examine next: computed from what the answers would move; safe, possible and open items only."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.exam.examination import Examination
from neuroform.exam.walk import entry, recorded
from neuroform.protocols.safety import HEAD_MOVED, impossible, not_advised
from neuroform.reasoning.interpretation import read
from neuroform.reasoning.next_tests import AT_MOST, propose
from neuroform.reasoning.results import NextTest
from tests.reasoning.changing import mirrored, read_raw, swapped, varied

JP, VIB, EYES = "sensation.joint_position.great_toe", "sensation.vibration.great_toe", "head_and_eyes"
STRONG_LEGS = {
    "motor.power.hip_flexion": "5",
    "motor.power.knee_extension": "5",
    "motor.power.ankle_dorsiflexion": "5",
    "motor.power.ankle_plantarflexion": "5",
}
NO_NECK: dict[str, list[str]] = {"context.cautions": []}
ACUTE = {"context.symptoms": ["vertigo"], "context.onset": "acute", "context.course": "continuous"}
TRIAD = {f"{EYES}.nystagmus": "beats_left", f"{EYES}.skew": "absent", f"{EYES}.gaze_evoked_nystagmus": "absent"}
FELL = {
    "standing.firm.eyes_open.sway": "none",
    "standing.firm.eyes_open.ended": "held",
    "standing.firm.eyes_closed.sway": "marked",
    "standing.firm.eyes_closed.ended": "fell",
    "standing.feet_position": "together",
}


def proposed(exam: Examination) -> tuple[NextTest, ...]:
    return propose(exam, read(exam))


def items(exam: Examination) -> list[str]:
    return [one.item for one in proposed(exam)]


def test_of_a_blank_form_nothing_is_proposed_before_the_history(made: Any) -> None:
    assert proposed(made()) == ()


def test_a_complaint_asks_for_what_would_answer_it(made: Any) -> None:
    found = {**STRONG_LEGS, **NO_NECK, "context.symptoms": ["unsteadiness"], "walking.tandem.correct_steps": 10}
    assert JP in items(made(found))


def test_the_one_item_in_which_two_patterns_differ_is_proposed_first(made: Any) -> None:
    found = {**ACUTE, **TRIAD, **NO_NECK, "standing.sitting_balance": "steady", f"{EYES}.brainstem_signs": ["none"]}
    first = proposed(made({**found, f"{EYES}.new_hearing_loss": "no"}))[0]
    assert first.item == f"{EYES}.head_impulse"
    assert first.because == (
        "would tell acute vertigo from brainstem or cerebellum from acute loss of the vestibular nerve or labyrinth"
        " on the right"
    )


def test_with_cautions_blank_the_neck_is_asked_about_before_the_head_is_moved(made: Any) -> None:
    found = proposed(made({**ACUTE, **TRIAD}))
    assert "context.cautions" in [one.item for one in found]
    assert not any(entry(one.item).path in HEAD_MOVED for one in found)
    asked = next(one for one in found if one.item == "context.cautions")
    assert asked.because.startswith("ask about the neck first: the head impulse would tell")


@pytest.mark.parametrize("caution", ["neck_surgery", "severe_neck_pain", "neck_artery_dissection", "atlantoaxial_risk"])
def test_a_caution_about_the_neck_keeps_the_head_still(made: Any, caution: str) -> None:
    found = proposed(made({**ACUTE, **TRIAD, "context.cautions": [caution]}))
    assert not any(entry(one.item).path in HEAD_MOVED for one in found)


def test_foam_is_never_proposed_when_the_firm_stance_was_lost(made: Any) -> None:
    bobbing = {**NO_NECK, "context.symptoms": ["oscillopsia"], f"{EYES}.head_impulse": "corrective_saccade"}
    steady = {**FELL, "standing.firm.eyes_closed.sway": "slight", "standing.firm.eyes_closed.ended": "held"}
    both_sides = {**bobbing, f"{EYES}.acuity_lines_lost_on_head_shaking": 0, f"{EYES}.nystagmus": "beats_left"}
    assert not any("foam" in item for item in items(made({**both_sides, **FELL})))
    assert not any("foam" in item for item in items(made({**bobbing, **FELL})))
    assert items(made({**bobbing, **steady})) is not None


def test_one_open_side_is_named_with_its_side(made: Any) -> None:
    found = {**FELL, **NO_NECK, VIB: "absent", f"{JP}.right": "intact"}
    assert f"{JP}.left" in items(made(found))


def test_what_a_reason_answers_is_not_proposed(made: Any) -> None:
    found = {**FELL, **NO_NECK, VIB: "absent", JP: "not examined: declined"}
    assert not any(item.startswith(JP) for item in items(made(found)))


def test_excluded_items_are_not_proposed(made: Any) -> None:
    exam = made({**FELL, **NO_NECK, VIB: "absent"})
    reading = read(exam)
    assert JP in [one.item for one in propose(exam, reading, excluded=frozenset())]
    assert JP not in [one.item for one in propose(exam, reading, excluded=frozenset({JP}))]


def test_both_pressures_are_asked_for_in_one_go(made: Any) -> None:
    assert items(made({**NO_NECK, "context.symptoms": ["fainting"]})) == ["circulation.lying"]
    lying = {"circulation.lying": {"systolic": 130, "diastolic": 80}}
    assert items(made({**NO_NECK, **lying, "context.symptoms": ["fainting"]})) == ["circulation.standing_1_min"]


@given(st.integers(0, 2**32))
def test_at_most_three_open_safe_and_possible_items_each_once_with_a_reason(seed: int) -> None:
    exam = read_raw(varied(seed))
    reading = read(exam)
    found = propose(exam, reading)
    banned = {*not_advised(exam, neck_raised=reading.raised("possible-unstable-neck") is not None), *impossible(exam)}
    assert len({one.item for one in found}) == len(found) <= AT_MOST
    answered = {path for path, _found in recorded(exam)}
    for one in found:
        paths = entry(one.item).paths if one.item == entry(one.item).path else (one.item,)
        assert not answered.intersection(paths)
        assert not banned.intersection((*paths, entry(one.item).path))
        assert one.because


@given(st.integers(0, 2**32))
def test_the_mirrored_examination_is_asked_the_mirrored_items(seed: int) -> None:
    raw = varied(seed)
    here, there = items(read_raw(raw)), items(read_raw(mirrored(raw)))
    assert sorted(map(swapped, here)) == sorted(there)
