"""Sentences on sensation, coordination, strength and pressure: words, the findings they rest on, how easily spared.

The words were written beside the findings by hand, as the template would have them said.
"""

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from neuroform.reasoning import findings_text
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.said import Said

Found = dict[str, Any]
Write = Callable[[Facts], Iterator[Said]]
Line = tuple[int, str]

JP = "sensation.joint_position"
VIB = "sensation.vibration"
SCORE = "sensation.vibration_score"
SECONDS = "sensation.vibration_seconds.great_toe"
PIN = "sensation.pinprick"
LEVEL = "sensation.trunk_level"
SADDLE = "sensation.saddle"
GAIT = "walking.pattern"
BASE = "walking.base"
STEPS = "walking.tandem.correct_steps"
HEEL = "coordination.heel_shin"
FINGER = "coordination.finger_nose"
SPEECH = "coordination.speech"
POWER = "motor.power"
TONE = "motor.tone"
KNEE = "reflexes.knee"
ANKLE = "reflexes.ankle"
PLANTAR = "reflexes.plantar"
LYING = "circulation.lying"
AT_1 = "circulation.standing_1_min"
AT_3 = "circulation.standing_3_min"
FELT = "circulation.symptoms_on_standing"
TOE = "sensation.joint_position.great_toe"
CORE = {
    f"{POWER}.{group}": "5" for group in ("hip_flexion", "knee_extension", "ankle_dorsiflexion", "ankle_plantarflexion")
}


def moved(correct: int, trials: int) -> Found:
    return {"correct": correct, "trials": trials}


def pressure(systolic: int, diastolic: int) -> Found:
    return {"systolic": systolic, "diastolic": diastolic}


JOINTS: list[tuple[Found, list[Line]]] = [
    ({TOE: "intact"}, [(1, "Position sense was intact at both great toes.")]),
    (
        {TOE: "absent", f"{JP}.ankle": "absent", f"{JP}.knee": "intact"},
        [(1, "Position sense was absent at both great toes and both ankles and intact at both knees.")],
    ),
    (
        {f"{TOE}.right": "intact", f"{TOE}.left": "impaired"},
        [(1, "Position sense was impaired at the left great toe and intact at the right great toe.")],
    ),
    (
        {TOE: "intact", f"{JP}.finger.left": "impaired"},
        [(1, "Position sense was impaired at the left finger and intact at both great toes.")],
    ),
    ({TOE: moved(9, 10)}, [(1, "Position sense was intact (9 of 10) at both great toes.")]),
    ({TOE: moved(7, 10)}, [(1, "Position sense was impaired (7 of 10) at both great toes.")]),
    ({TOE: moved(6, 10)}, [(1, "Position sense was no better than guessing (6 of 10) at both great toes.")]),
    (
        {TOE: moved(2, 4)},
        [(1, "Position sense was 2 of 4, too few movements to judge, at both great toes.")],
    ),
    (
        {f"{TOE}.right": "intact"},
        [
            (1, "Position sense was intact at the right great toe."),
            (1, "Position sense was not recorded at the left great toe."),
        ],
    ),
    (
        {f"{TOE}.right": "intact", f"{TOE}.left": "not examined: absent"},
        [
            (1, "Position sense was intact at the right great toe."),
            (1, "Position sense was not examined at the left great toe (limb, eye or joint missing)."),
        ],
    ),
    (
        {TOE: "not examined: declined"},
        [(1, "Position sense was not examined at either great toe (declined).")],
    ),
    ({}, [(1, "Position sense was not recorded at either great toe.")]),
]

# Limits at the great toe, 0 to 8 fork: 4.5 to 40, 4 at 41 to 60, 3.5 at 61 to 85 years (Martina 1998, from memory).
VIBRATION: list[tuple[Found, list[Line]]] = [
    (
        {f"{SCORE}.great_toe": 0},
        [(1, "Vibration was 0 at both great toes (0 to 8 fork; lower limit at 50 years: 4, from memory).")],
    ),
    (
        {f"{SCORE}.great_toe.right": 4.5, f"{SCORE}.great_toe.left": 3},
        [
            (
                1,
                (
                    "Vibration was 4.5 at the right great toe and 3 at the left great toe"
                    " (0 to 8 fork; lower limit at 50 years: 4, from memory)."
                ),
            )
        ],
    ),
    (
        {f"{VIB}.great_toe": "absent", f"{VIB}.medial_malleolus": "normal"},
        [(1, "Vibration was absent at both great toes and normal at both inner ankles.")],
    ),
    (
        {f"{VIB}.great_toe.right": "normal", f"{VIB}.great_toe.left": "reduced"},
        [(1, "Vibration was reduced at the left great toe and normal at the right great toe.")],
    ),
    ({SECONDS: 4.5}, [(1, "Vibration was felt for 4.5\u202fs at both great toes.")]),
    (
        {f"{VIB}.great_toe.right": "normal"},
        [
            (1, "Vibration was normal at the right great toe."),
            (1, "Vibration was not recorded at the left great toe."),
        ],
    ),
    ({}, [(1, "Vibration was not recorded at either great toe.")]),
]

PINPRICK: list[tuple[Found, list[Line]]] = [
    ({PIN: "none"}, [(2, "Pinprick was normal on both sides.")]),
    ({PIN: "mid_calf"}, [(1, "Pinprick was reduced up to the mid-calf on both sides.")]),
    (
        {f"{PIN}.right": "none", f"{PIN}.left": "knee"},
        [(1, "Pinprick was reduced up to the knee on the left and normal on the right.")],
    ),
    ({LEVEL: "none"}, [(2, "No level was found on the trunk.")]),
    (
        {LEVEL: "T8"},
        [(1, "A level of loss was found on the trunk at T8; the lesion may lie several segments higher.")],
    ),
    ({SADDLE: "normal"}, [(1, "Feeling between the legs was normal.")]),
    ({SADDLE: "reduced"}, [(1, "Feeling between the legs was reduced.")]),
    ({SADDLE: "absent"}, [(1, "Feeling between the legs was absent.")]),
]

HEEL_BLANK: Line = (1, "Heel-shin was not recorded on either side.")
COORDINATION: list[tuple[Found, list[Line]]] = [
    (
        {HEEL: "normal", FINGER: "normal", SPEECH: "normal"},
        [(2, "Heel-shin, finger-nose and speech were normal.")],
    ),
    ({HEEL: "normal"}, [(2, "Heel-shin was normal.")]),
    ({HEEL: "normal", SPEECH: "scanning"}, [(1, "Speech was scanning."), (2, "Heel-shin was normal.")]),
    (
        {f"{HEEL}.right": "normal", f"{HEEL}.left": "moderate"},
        [(1, "Heel-shin was moderately ataxic on the left and normal on the right.")],
    ),
    ({HEEL: "mild"}, [(1, "Heel-shin was mildly irregular on both sides.")]),
    (
        {HEEL: "normal", f"{FINGER}.left": "severe"},
        [(1, "Finger-nose was severely ataxic on the left."), (2, "Heel-shin was normal.")],
    ),
    (
        {HEEL: "cannot_perform", TOE: "absent"},
        [
            (1, "Heel-shin was not possible for ataxia on both sides."),
            (1, "Because position sense is lost in a foot, heel-shin cannot be called cerebellar."),
        ],
    ),
    (
        {HEEL: "mild", f"{POWER}.hip_flexion.right": "3"},
        [
            (1, "Heel-shin was mildly irregular on both sides."),
            (1, "Because a leg is weak, heel-shin cannot be called cerebellar."),
        ],
    ),
    # A weak left leg clouds nothing of the right one.
    (
        {f"{HEEL}.right": "severe", f"{HEEL}.left": "normal", f"{POWER}.hip_flexion.left": "3"},
        [(1, "Heel-shin was severely ataxic on the right and normal on the left.")],
    ),
    ({GAIT: ["normal"]}, [(2, "Gait was normal."), HEEL_BLANK]),
    ({GAIT: ["normal"], BASE: "normal"}, [(2, "Gait was normal."), HEEL_BLANK]),
    ({GAIT: ["ataxic"], BASE: "wide"}, [(1, "Gait was ataxic, on a wide base."), HEEL_BLANK]),
    (
        {GAIT: ["veers_right", "ataxic"], BASE: "narrow"},
        [(1, "Gait was ataxic, on a narrow base, and veered to the right."), HEEL_BLANK],
    ),
    ({GAIT: ["dragging"]}, [(1, "Gait dragged a leg."), HEEL_BLANK]),
    (
        {GAIT: ["shuffling", "cautious", "stamping"]},
        [(1, "Gait was cautious, stamping and shuffling."), HEEL_BLANK],
    ),
    ({STEPS: 10}, [(2, "Ten heel-to-toe steps were correct."), HEEL_BLANK]),
    ({STEPS: 9}, [(1, "Nine of ten heel-to-toe steps were possible."), HEEL_BLANK]),
    ({STEPS: 1}, [(1, "One heel-to-toe step of ten was possible."), HEEL_BLANK]),
    ({STEPS: 0}, [(1, "No heel-to-toe step was possible."), HEEL_BLANK]),
    ({HEEL: "not examined: unable"}, [(1, "Heel-shin was not examined on either side (could not).")]),
]

STRENGTH: list[tuple[Found, list[Line]]] = [
    (CORE, [(2, "Power was full in every group tested on both sides.")]),
    (
        {f"{POWER}.hip_flexion": "5"},
        [(2, "Power was full in the groups that were tested.")],
    ),
    ({**CORE, f"{POWER}.hip_flexion.left": "4-"}, [(1, "Power was 4- at hip flexion on the left.")]),
    (
        {f"{POWER}.hip_flexion": "4", f"{POWER}.knee_extension": "4", f"{POWER}.ankle_dorsiflexion.right": "3"},
        [(1, "Power was 4 at hip flexion and knee extension on both sides and 3 at ankle dorsiflexion on the right.")],
    ),
    (
        {f"{POWER}.hip_flexion.right": "5"},
        [
            (2, "Power was full in the groups that were tested."),
            (1, "Power was not recorded on the left."),
        ],
    ),
    ({TONE: "normal"}, []),
    ({TONE: "increased"}, [(1, "Tone was increased (catch) on both sides.")]),
    (
        {f"{TONE}.right": "normal", f"{TONE}.left": "rigid"},
        [(1, "Tone was rigid on the left and normal on the right.")],
    ),
    (
        {KNEE: "normal", ANKLE: "normal", PLANTAR: "flexor"},
        [(2, "The knee and ankle reflexes were normal and the plantar responses were flexor.")],
    ),
    (
        {KNEE: "brisk", ANKLE: "absent", PLANTAR: "extensor"},
        [
            (
                1,
                "The knee reflexes were brisk, the ankle reflexes were absent and the plantar responses were extensor.",
            )
        ],
    ),
    (
        {f"{KNEE}.right": "brisk", f"{KNEE}.left": "normal"},
        [(1, "The right knee reflex was brisk and the left knee reflex was normal.")],
    ),
    (
        {f"{PLANTAR}.right": "mute", f"{PLANTAR}.left": "extensor"},
        [(1, "The right plantar response was mute and the left plantar response was extensor.")],
    ),
    ({f"{ANKLE}.left": "normal"}, [(2, "The left ankle reflex was normal.")]),
    ({ANKLE: "clonus"}, [(1, "The ankle reflexes were showing clonus.")]),
    ({ANKLE: "with_reinforcement"}, [(1, "The ankle reflexes were present with reinforcement alone.")]),
]

# Freeman 2011, Clin Auton Res 21:69-72.
CIRCULATION: list[tuple[Found, list[Line]]] = [
    (
        {LYING: pressure(130, 80), AT_1: pressure(105, 70)},
        [(1, "Blood pressure fell from 130/80 lying to 105/70\u202fmmHg standing.")],
    ),
    (
        {LYING: pressure(130, 80), AT_1: pressure(105, 70), AT_3: pressure(100, 70), FELT: "yes"},
        [(1, "Blood pressure fell from 130/80 lying to 100/70\u202fmmHg standing, with symptoms.")],
    ),
    (
        {LYING: pressure(130, 80), AT_1: pressure(128, 80), AT_3: pressure(128, 80)},
        [(2, "Blood pressure did not fall on standing.")],
    ),
]


ALL: list[tuple[str, Write, list[tuple[Found, list[Line]]]]] = [
    ("joint position", findings_text.joint_position, JOINTS),
    ("vibration", findings_text.vibration, VIBRATION),
    ("pinprick", findings_text.pinprick, PINPRICK),
    ("coordination", findings_text.coordination, COORDINATION),
    ("strength", findings_text.strength, STRENGTH),
    ("circulation", findings_text.circulation, CIRCULATION),
]


@pytest.mark.parametrize(
    ("write", "found", "lines"),
    [pytest.param(write, *row, id=f"{name}: {row[0]}") for name, write, rows in ALL for row in rows],
)
def test_it_says(made: Any, write: Write, found: Found, lines: list[Line]) -> None:
    said = list(write(Facts(made(found))))
    assert [(one.weight, one.text) for one in said] == lines


# Items of the sentences, where they are not simply everything recorded.
RESTS: list[tuple[Write, Found, list[set[str]]]] = [
    (
        findings_text.joint_position,
        {f"{TOE}.right": "intact"},
        [{f"{TOE}.right"}, {f"{TOE}.left"}],
    ),
    (findings_text.vibration, {}, [{f"{VIB}.great_toe.right", f"{VIB}.great_toe.left"}]),
    (
        findings_text.vibration,
        {f"{SCORE}.great_toe.right": 4},
        [{f"{SCORE}.great_toe.right"}, {f"{VIB}.great_toe.left"}],
    ),
    (
        findings_text.coordination,
        {HEEL: "normal", FINGER: "normal", SPEECH: "normal"},
        [{*(f"{ref}.{side}" for ref in (HEEL, FINGER) for side in ("right", "left")), SPEECH}],
    ),
    (
        findings_text.coordination,
        {f"{HEEL}.right": "severe", f"{HEEL}.left": "normal", TOE: "absent"},
        [{f"{HEEL}.right", f"{HEEL}.left"}, {f"{TOE}.right"}],
    ),
    (
        findings_text.coordination,
        {GAIT: ["ataxic"], BASE: "wide", HEEL: "normal"},
        [{GAIT, BASE}, {f"{HEEL}.right", f"{HEEL}.left"}],
    ),
    (findings_text.strength, {**CORE, f"{POWER}.hip_flexion.left": "3"}, [{f"{POWER}.hip_flexion.left"}]),
    (
        findings_text.strength,
        {f"{POWER}.hip_flexion.right": "5"},
        [{f"{POWER}.hip_flexion.right"}, {f"{POWER}.hip_flexion.left"}],
    ),
    (
        findings_text.strength,
        {KNEE: "brisk", f"{PLANTAR}.left": "extensor"},
        [{f"{KNEE}.right", f"{KNEE}.left", f"{PLANTAR}.left"}],
    ),
    (
        findings_text.circulation,
        {LYING: pressure(130, 80), AT_1: pressure(105, 70), FELT: "no"},
        [{LYING, AT_1, FELT}],
    ),
    (
        findings_text.circulation,
        {LYING: pressure(130, 80), AT_1: pressure(128, 80), AT_3: pressure(128, 80)},
        [{LYING, AT_1, AT_3}],
    ),
]


@pytest.mark.parametrize(("write", "found", "rests"), RESTS)
def test_it_rests_on(made: Any, write: Write, found: Found, rests: list[set[str]]) -> None:
    assert [set(one.items) for one in write(Facts(made(found)))] == rests


def test_at_an_age_without_a_limit_none_is_said(made: Any) -> None:
    (said,) = findings_text.vibration(Facts(made({f"{SCORE}.great_toe": 3}, age=17)))
    assert said.text == "Vibration was 3 at both great toes (0 to 8 fork; no limit is used at 17 years)."


def test_a_fall_without_symptoms_is_said_to_be_one(made: Any) -> None:
    found = {LYING: pressure(130, 80), AT_1: pressure(105, 70), FELT: "no"}
    (said,) = findings_text.circulation(Facts(made(found)))
    assert said.text == "Blood pressure fell from 130/80 lying to 105/70\u202fmmHg standing, without symptoms."
