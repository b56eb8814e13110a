"""Urgent findings: each row raised once, and kept out once by what it must not be raised for.

Sources: NICE NG127, NG232 and QS74; Kattah 2009, Stroke 40:3504-3510; else common practice.
"""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.urgent import CODES, ROWS, urgent_findings

NO_NYSTAGMUS = {"head_and_eyes.nystagmus": "none"}
VERTIGO = {
    "context.symptoms": ["vertigo"],
    "context.onset": "acute",
    "context.duration_days": 1,
    "context.course": "continuous",
}
BENIGN = {
    "head_and_eyes.nystagmus": "beats_left",
    "head_and_eyes.head_impulse.right": "corrective_saccade",
    "head_and_eyes.head_impulse.left": "normal",
    "head_and_eyes.gaze_evoked_nystagmus": "absent",
    "head_and_eyes.skew": "absent",
    "head_and_eyes.new_hearing_loss": "no",
    "head_and_eyes.examiner_trained": "yes",
    "context.walks_unaided": "yes",
    "walking.pattern": ["veers_right"],
}
EXTENSOR = {"reflexes.plantar": "extensor", "reflexes.knee": "brisk", "reflexes.ankle": "brisk"}
FLACCID = {
    "motor.power.hip_flexion": "4",
    "motor.power.ankle_dorsiflexion": "4-",
    "reflexes.ankle": "absent",
    "reflexes.knee": "absent",
    "reflexes.plantar": "flexor",
}
LYING = {"systolic": 130, "diastolic": 80}
LOST_JP = {"sensation.joint_position.great_toe": "absent"}
STANCE_LOST = {
    "standing.firm.eyes_open.sway": "slight",
    "standing.firm.eyes_open.ended": "held",
    "standing.firm.eyes_closed.sway": "marked",
    "standing.firm.eyes_closed.ended": "fell",
    "standing.feet_position": "together",
}

Found = dict[str, Any]

# code: (raised by, urgency, kept out by)
TABLE: list[tuple[str, Found, str, Found]] = [
    (
        "acute-vertigo-central-signs",
        VERTIGO | BENIGN | {"head_and_eyes.skew": "present"},
        "immediate",
        VERTIGO | BENIGN,
    ),
    (
        "acute-vertigo-central-not-excluded",
        VERTIGO | BENIGN | {"head_and_eyes.skew": "not examined: declined"},
        "immediate",
        VERTIGO | BENIGN,
    ),
    (
        "acute-vertigo-new-hearing-loss",
        VERTIGO | BENIGN | {"head_and_eyes.new_hearing_loss.right": "yes"},
        "immediate",
        VERTIGO | BENIGN | {"context.course": "episodic", "head_and_eyes.new_hearing_loss.right": "yes"},
    ),
    (
        "sudden-cerebellar-or-hemispheric-signs",
        {"context.onset": "sudden", "coordination.heel_shin.right": "mild", "coordination.heel_shin.left": "normal"},
        "immediate",
        {"context.onset": "acute", "context.duration_days": 5, "motor.power.hip_flexion": "4"},
    ),
    (
        "possible-unstable-neck",
        {"context.cautions": ["neck_trauma"]},
        "immediate",
        {"context.cautions": ["neck_instability"], "context.onset": "chronic"},
    ),
    (
        "cord-compression",
        {"context.onset": "subacute", "context.symptoms": ["back_pain"], **EXTENSOR},
        "immediate",
        {"context.onset": "chronic", "context.symptoms": ["urinary_urgency"], **EXTENSOR},
    ),
    (
        "cauda-equina",
        {"context.symptoms": ["saddle_numbness"]},
        "immediate",
        {"context.onset": "chronic", "context.symptoms": [], "context.bladder": "normal", "reflexes.ankle": "absent"},
    ),
    (
        "rapid-areflexic-weakness",
        {"context.onset": "acute", "context.duration_days": 6, **FLACCID},
        "immediate",
        {"context.onset": "subacute", "context.duration_days": 29, **FLACCID},
    ),
    (
        "ataxia-confusion-eye-signs",
        {"context.background": ["alcohol"], "walking.pattern": ["ataxic"], "head_and_eyes.nystagmus": "beats_left"},
        "immediate",
        {"context.onset": "chronic", "walking.pattern": ["ataxic"], "head_and_eyes.gaze_evoked_nystagmus": "present"},
    ),
    (
        "head-injury-anticoagulated",
        {"context.cautions": ["anticoagulated"], "context.symptoms": ["head_injury", "confusion"]},
        "immediate",
        {"context.cautions": ["anticoagulated"], "context.symptoms": ["falls"], "context.onset": "chronic"},
    ),
    (
        "weakness-with-breathing-or-swallowing",
        {"motor.power.hip_flexion": "4", "motor.breath_count": 12},
        "immediate",
        {"motor.power.hip_flexion": "4", "motor.breath_count": 20, "context.symptoms": []},
    ),
    (
        "spinal-infection-or-cancer-pain",
        {"context.symptoms": ["back_pain", "fever"], "motor.power.ankle_dorsiflexion.left": "4"},
        "same_day",
        {"context.symptoms": ["back_pain"], "motor.power.ankle_dorsiflexion.left": "4"},
    ),
    (
        "severe-orthostatic-fall",
        {
            "circulation.lying": LYING,
            "circulation.standing_3_min": {"systolic": 100, "diastolic": 70},
            "circulation.symptoms_on_standing": "yes",
        },
        "same_day",
        {
            "circulation.lying": LYING,
            "circulation.standing_3_min": {"systolic": 100, "diastolic": 70},
            "circulation.symptoms_on_standing": "no",
        },
    ),
    (
        "rapid-ataxia",
        {"context.onset": "subacute", "context.duration_days": 21, "walking.pattern": ["ataxic"]},
        "within_days",
        {"context.onset": "chronic", "walking.pattern": ["ataxic"]},
    ),
    (
        "progressive-myelopathy",
        {"context.onset": "chronic", "context.duration_days": 300, **EXTENSOR},
        "within_days",
        {"context.onset": "chronic", "context.duration_days": 1200, **EXTENSOR},
    ),
    (
        "treatable-myelopathy",
        {**LOST_JP, "reflexes.plantar.left": "extensor"},
        "within_days",
        {**LOST_JP, "reflexes.plantar": "flexor", "reflexes.knee": "brisk", "reflexes.ankle": "brisk"},
    ),
    (
        "subacute-sensory-neuronopathy",
        {
            "context.onset": "subacute",
            **LOST_JP,
            "reflexes.ankle": "absent",
            "motor.power.hip_flexion": "5",
            "sensation.hands_affected": "before_feet",
        },
        "within_days",
        {
            "context.onset": "subacute",
            **LOST_JP,
            "reflexes.ankle": "absent",
            "sensation.hands_affected": "after_feet",
            "sensation.pinprick": "ankle",
        },
    ),
    (
        "subacute-proximal-weakness",
        {"context.onset": "subacute", "motor.power.hip_flexion": "4-", "motor.power.ankle_dorsiflexion": "5"},
        "within_days",
        {
            "context.onset": "chronic",
            "context.duration_days": 2000,
            "motor.power.hip_flexion": "4-",
            "motor.power.ankle_dorsiflexion": "5",
        },
    ),
    (
        "gait-bladder-cognition",
        {"walking.pattern": ["magnetic"], "context.bladder": "urgency"},
        "within_days",
        {"walking.pattern": ["shuffling"], "walking.base": "narrow", "context.bladder": "urgency"},
    ),
    (
        "injurious-falls",
        {"context.fall_injury": "fracture", **STANCE_LOST},
        "within_days",
        {"context.fall_injury": "none", "context.falls_past_year": 0, **STANCE_LOST},
    ),
]


def raised(made: Any, found: Found, *, age: int = 50) -> dict[str, Any]:
    return {one.code: one for one in urgent_findings(Facts(made(found, age=age)))}


def test_every_code_has_a_row_and_a_test() -> None:
    assert {row.code for row in ROWS} == set(CODES) == {code for code, *_rest in TABLE}


@pytest.mark.parametrize(("code", "found", "urgency"), [row[:3] for row in TABLE], ids=[row[0] for row in TABLE])
def test_it_is_raised(made: Any, code: str, found: Found, urgency: str) -> None:
    one = raised(made, found)[code]
    assert one.urgency == urgency
    assert one.items
    assert one.message.endswith(".")
    assert one.source


@pytest.mark.parametrize(("code", "kept"), [(row[0], row[3]) for row in TABLE], ids=[row[0] for row in TABLE])
def test_it_is_kept_out(made: Any, code: str, kept: Found) -> None:
    assert code not in raised(made, kept)


@pytest.mark.parametrize(("code", "found"), [row[:2] for row in TABLE], ids=[row[0] for row in TABLE])
def test_it_stands_when_a_finding_it_does_not_rest_on_goes(made: Any, code: str, found: Found) -> None:
    """H34: an urgent finding never vanishes after an unrelated correction."""
    facts = Facts(made(found))
    rests = {one.code: one.items for one in urgent_findings(facts)}[code]
    for path in set(facts.found) - set(rests):
        left = {name: value for name, value in found.items() if name != path and not path.startswith(f"{name}.")}
        assert code in raised(made, left), path


def test_now_comes_first_and_rows_keep_their_order(made: Any) -> None:
    both = urgent_findings(Facts(made({"context.symptoms": ["saddle_numbness"], **LOST_JP, **EXTENSOR})))
    assert [one.urgency for one in both] == sorted(
        [one.urgency for one in both], key=["immediate", "same_day", "within_days"].index
    )
    assert len(both) > 1


def test_hearing_told_counts_while_the_bedside_test_is_blank(made: Any) -> None:
    told = VERTIGO | {"context.symptoms": ["vertigo", "hearing_loss"]}
    assert "acute-vertigo-new-hearing-loss" in raised(made, told)
    tested = told | {"head_and_eyes.new_hearing_loss": "no"}
    assert "acute-vertigo-new-hearing-loss" not in raised(made, tested)


def test_without_nystagmus_gait_decides_how_fast(made: Any) -> None:
    quiet = VERTIGO | BENIGN | NO_NYSTAGMUS | {"head_and_eyes.head_impulse": "normal", "walking.pattern": ["normal"]}
    code = "acute-vertigo-central-not-excluded"
    assert raised(made, quiet)[code].urgency == "same_day"
    assert raised(made, quiet | {"walking.pattern": ["ataxic"]})[code].urgency == "immediate"
    assert raised(made, quiet | {"context.walks_unaided": "no"})[code].urgency == "immediate"


def test_h1_an_impulse_normal_on_the_wrong_side_is_central(made: Any) -> None:
    """H1: nystagmus beating left points to the right labyrinth; a normal impulse to the right speaks against it."""
    wrong = VERTIGO | BENIGN | {"head_and_eyes.head_impulse.right": "normal"}
    assert "acute-vertigo-central-signs" in raised(made, wrong)


def test_h4_cauda_equina_is_raised_with_normal_legs(made: Any) -> None:
    """H4."""
    normal_legs = {"sensation.saddle": "reduced", "reflexes.ankle": "normal", "motor.power.ankle_dorsiflexion": "5"}
    assert raised(made, normal_legs)["cauda-equina"].urgency == "immediate"


def test_h5_cord_shock_and_rapid_neuropathy_are_both_raised_and_name_each_other(made: Any) -> None:
    """H5."""
    both = raised(made, {"context.onset": "acute", "sensation.trunk_level": "T6", **FLACCID})
    assert "rapid neuropathy" in both["cord-compression"].message
    assert "cord" in both["rapid-areflexic-weakness"].message


def test_h7_thiamine_does_not_wait_for_confusion(made: Any) -> None:
    """H7: two of four suffice (Caine 1997, from memory)."""
    two = {
        "context.background": ["bariatric_or_bowel_surgery"],
        "head_and_eyes.eye_movements": "restricted",
        "coordination.heel_shin": "moderate",
    }
    assert "thiamine before glucose" in raised(made, two)["ataxia-confusion-eye-signs"].message


def test_h8_a_normal_b12_does_not_exclude(made: Any) -> None:
    """H8: said in the finding; nitrous oxide in weeks makes it today."""
    found = {
        **LOST_JP,
        "reflexes.plantar": "extensor",
        "context.onset": "subacute",
        "context.background": ["nitrous_oxide"],
    }
    one = raised(made, found)["treatable-myelopathy"]
    assert "A normal B12 does not exclude it" in one.message
    assert one.urgency == "same_day"


def test_blank_onset_is_read_as_it_would_raise(made: Any) -> None:
    assert raised(made, FLACCID)["rapid-areflexic-weakness"].urgency == "same_day"
    assert "cord-compression" in raised(made, {"sensation.trunk_level": "T10"})
