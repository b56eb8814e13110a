"""What each finding weighs in the table of patterns: decisive 4, strong 2, weak 1, for and against, and at which age.

Common practice where no source stands beside a row.
"""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.mechanism import weigh
from neuroform.reasoning.patterns import PATTERNS

Found = dict[str, Any]
BY_NAME = {pattern.name: pattern for pattern in PATTERNS}

TOLD, ONSET, DAYS = "context.symptoms", "context.onset", "context.duration_days"
EYES, GAIT, TONE = "head_and_eyes", "walking.pattern", "motor.tone"
IMPULSE, NYSTAGMUS, GAZE, SKEW = (
    f"{EYES}.{item}" for item in ("head_impulse", "nystagmus", "gaze_evoked_nystagmus", "skew")
)
JP, VIB, PIN = "sensation.joint_position", "sensation.vibration", "sensation.pinprick"
TOE, VIB_TOE = f"{JP}.great_toe", f"{VIB}.great_toe"
ANKLE, KNEE, PLANTAR = "reflexes.ankle", "reflexes.knee", "reflexes.plantar"
HIP, UP = "motor.power.hip_flexion", "motor.power.ankle_dorsiflexion"
HEEL, FINGER, SPEECH = "coordination.heel_shin", "coordination.finger_nose", "coordination.speech"
OPEN, CLOSED, FOAM = "standing.firm.eyes_open", "standing.firm.eyes_closed", "standing.foam.eyes_closed"
STEPS, SITTING = "walking.tandem.correct_steps", "standing.sitting_balance"
LYING, AT_1, AT_3 = "circulation.lying", "circulation.standing_1_min", "circulation.standing_3_min"

CHANGE: Found = {
    f"{OPEN}.sway": "none",
    f"{OPEN}.ended": "held",
    f"{CLOSED}.sway": "marked",
    f"{CLOSED}.ended": "fell",
}
QUIET: Found = {
    f"{OPEN}.sway": "none",
    f"{OPEN}.ended": "held",
    f"{CLOSED}.sway": "slight",
    f"{CLOSED}.ended": "held",
    "standing.feet_position": "together",
}
CLEAR: Found = {HIP: "5", UP: "5", TOE: "intact"}
ACUTE: Found = {TOLD: ["vertigo"], ONSET: "acute", "context.course": "continuous"}
BENIGN: Found = {
    **ACUTE,
    NYSTAGMUS: "beats_left",
    f"{IMPULSE}.right": "corrective_saccade",
    f"{IMPULSE}.left": "normal",
    GAZE: "absent",
    SKEW: "absent",
    SITTING: "steady",
    f"{EYES}.new_hearing_loss": "no",
}
FOAM_LOST: Found = {f"{CLOSED}.ended": "held", f"{FOAM}.ended": "stepped"}
GAINS_LOW: Found = {f"{EYES}.head_impulse_gain": 0.59}
AURICLE = f"{EYES}.positional_test.right"


def pressure(systolic: int, diastolic: int = 60) -> Found:
    return {"systolic": systolic, "diastolic": diastolic}


# By pattern: what was found, what it weighs for the pattern, what against.
WEIGHTS: dict[str, list[tuple[Found, int, int]]] = {
    "sensory_ataxia": [
        ({f"{TOE}.left": "absent"}, 2, 0),
        ({f"{JP}.ankle.left": "impaired"}, 2, 0),
        ({f"{VIB_TOE}.left": "absent"}, 2, 0),
        ({f"{VIB}.medial_malleolus.left": "absent"}, 2, 0),
        (CHANGE, 2, 0),
        ({GAIT: ["stamping"]}, 2, 0),
        ({f"{HEEL}_eyes_closed.left": "moderate", f"{HEEL}.left": "mild"}, 2, 0),
        ({TOE: "intact"}, 0, 4),
        ({"standing.firm.distraction": "steadier"}, 0, 2),
        ({"context.useful_vision": "none"}, 0, 2),
        ({"standing.feet_position": "apart", "context.limb_immobilised": ["left_foot"]}, 0, 2),
        ({VIB_TOE: "normal"}, 0, 1),
        (QUIET, 0, 1),
    ],
    "length_dependent_neuropathy": [
        ({f"{VIB_TOE}.left": "absent"}, 2, 0),
        ({PIN: "toes"}, 2, 0),
        ({ANKLE: "absent"}, 2, 0),
        ({ANKLE: "reduced"}, 1, 0),
        ({f"{ANKLE}.right": "absent", f"{ANKLE}.left": "with_reinforcement"}, 1, 0),
        ({TOE: "impaired"}, 1, 0),
        ({HIP: "5", UP: "4+"}, 1, 0),
        ({"sensation.hands_affected": "after_feet"}, 1, 0),
        ({f"{ANKLE}.left": "brisk"}, 0, 4),
        ({f"{ANKLE}.left": "clonus"}, 0, 4),
        ({"sensation.saddle": "reduced"}, 0, 4),
        ({"sensation.trunk_level": "T10"}, 0, 4),
        ({f"{PLANTAR}.left": "extensor"}, 0, 2),
        ({f"{PIN}.right": "none", f"{PIN}.left": "foot"}, 0, 2),
        ({VIB_TOE: "normal"}, 0, 2),
        ({f"{VIB_TOE}.right": "absent", f"{VIB_TOE}.left": "normal"}, 2, 2),
        ({f"{VIB_TOE}.left": "normal", f"{VIB}.tibial_tuberosity.left": "absent"}, 0, 2),
        ({DAYS: 28}, 0, 2),
        ({DAYS: 29}, 0, 0),
        ({"sensation.hands_affected": "before_feet"}, 0, 2),
        ({"sensation.hands_affected": "together"}, 0, 0),
        ({"sensation.distribution.left": "root"}, 0, 2),
        ({"sensation.distribution.left": "single_nerve"}, 0, 2),
        ({f"{KNEE}.left": "brisk"}, 0, 1),
        ({f"{KNEE}.left": "clonus"}, 0, 1),
        ({PIN: "none"}, 0, 1),
        ({ANKLE: "normal"}, 0, 1),
    ],
    "dorsal_column": [
        ({f"{TOE}.left": "absent"}, 2, 0),
        ({f"{PLANTAR}.left": "extensor"}, 2, 0),
        ({"sensation.trunk_level": "T10"}, 2, 0),
        ({f"{VIB}.medial_malleolus.left": "absent"}, 1, 0),
        ({f"{KNEE}.left": "brisk"}, 1, 0),
        ({f"{ANKLE}.left": "clonus"}, 3, 0),
        ({PIN: "none", "sensation.temperature": "none"}, 1, 0),
        ({PIN: "none", "sensation.temperature": "toes"}, 0, 0),
        ({PIN: "toes", "sensation.temperature": "none"}, 0, 0),
        ({TOE: "intact"}, 0, 4),
        ({ANKLE: "absent", PLANTAR: "flexor"}, 0, 2),
        ({ANKLE: "absent", f"{PLANTAR}.right": "mute", f"{PLANTAR}.left": "flexor"}, 0, 2),
    ],
    "acute_vestibular_peripheral:right": [
        ({**ACUTE, f"{IMPULSE}.right": "corrective_saccade"}, 2, 0),
        ({**ACUTE, NYSTAGMUS: "beats_left"}, 2, 0),
        ({**ACUTE, GAIT: ["veers_right"]}, 1, 0),
        ({**ACUTE, f"{EYES}.nystagmus_on_fixation": "suppressed"}, 1, 0),
        ({**ACUTE, f"{IMPULSE}.right": "normal"}, 0, 4),
        *(
            ({**ACUTE, NYSTAGMUS: word}, 0, 4)
            for word in ("beats_right", "vertical", "upbeat", "downbeat", "torsional", "mixed_direction")
        ),
        ({**ACUTE, GAZE: "present"}, 0, 2),
        ({**ACUTE, SKEW: "present"}, 0, 2),
        ({**ACUTE, f"{EYES}.new_hearing_loss.left": "yes"}, 0, 2),
        ({**ACUTE, f"{IMPULSE}.left": "corrective_saccade"}, 0, 2),
        ({**ACUTE, SPEECH: "slurred"}, 0, 2),
        ({**ACUTE, f"{FINGER}.left": "moderate", f"{JP}.finger.left": "intact"}, 0, 2),
        ({**ACUTE, SITTING: "cannot_sit"}, 0, 2),
        ({**ACUTE, f"{EYES}.brainstem_signs": ["tongue_deviation"]}, 0, 2),
    ],
    "acute_vestibular_central": [
        ({**ACUTE, NYSTAGMUS: "beats_left", f"{IMPULSE}.right": "normal"}, 4, 0),
        *(({**ACUTE, NYSTAGMUS: w}, 4, 0) for w in ("vertical", "upbeat", "downbeat", "torsional", "mixed_direction")),
        ({**ACUTE, GAZE: "present"}, 4, 0),
        ({**ACUTE, SKEW: "present"}, 4, 0),
        ({**ACUTE, SITTING: "cannot_sit"}, 4, 0),
        ({**ACUTE, f"{EYES}.new_hearing_loss.left": "yes"}, 2, 0),
        ({**ACUTE, f"{OPEN}.sway": "marked"}, 2, 0),
        ({**ACUTE, NYSTAGMUS: "beats_left", f"{IMPULSE}.left": "corrective_saccade"}, 2, 0),
        ({**ACUTE, IMPULSE: "corrective_saccade"}, 2, 0),
        ({**ACUTE, SPEECH: "scanning"}, 2, 0),
        ({**ACUTE, f"{EYES}.brainstem_signs": ["tongue_deviation"]}, 2, 0),
        (BENIGN, 0, 4),
        ({**BENIGN, f"{EYES}.new_hearing_loss.left": "yes"}, 2, 0),
        ({**ACUTE, GAZE: "absent", SKEW: "absent", NYSTAGMUS: "none", f"{EYES}.new_hearing_loss": "no"}, 0, 0),
    ],
    "compensated_vestibular:right": [
        ({f"{IMPULSE}.right": "corrective_saccade", f"{IMPULSE}.left": "normal"}, 2, 0),
        ({f"{IMPULSE}.right": "corrective_saccade", NYSTAGMUS: "none", ONSET: "chronic"}, 2, 0),
        ({f"{FOAM}.sway": "moderate"}, 1, 0),
        ({TOLD: ["vertigo"], ONSET: "chronic"}, 1, 0),
        ({TOLD: ["oscillopsia"]}, 1, 0),
        ({f"{EYES}.head_shaking_nystagmus": "beats_left"}, 1, 0),
        ({TOLD: ["vertigo"]}, 1, 2),
        ({NYSTAGMUS: "beats_right"}, 0, 2),
        ({f"{IMPULSE}.right": "normal"}, 0, 2),
        ({f"{IMPULSE}.left": "corrective_saccade"}, 0, 2),
    ],
    "bilateral_vestibular": [
        (GAINS_LOW, 4, 0),
        ({IMPULSE: "corrective_saccade"}, 2, 0),
        ({TOLD: ["oscillopsia"]}, 2, 0),
        ({f"{EYES}.acuity_lines_lost_on_head_shaking": 3}, 2, 0),
        (FOAM_LOST, 2, 0),
        ({TOLD: ["unsteadiness"]}, 1, 0),
        ({IMPULSE: "corrective_saccade", NYSTAGMUS: "none", ONSET: "chronic"}, 3, 0),
        ({IMPULSE: "normal"}, 0, 4),
        ({**GAINS_LOW, IMPULSE: "normal"}, 4, 2),
        ({f"{IMPULSE}.right": "corrective_saccade", f"{IMPULSE}.left": "normal"}, 0, 2),
        ({NYSTAGMUS: "beats_left"}, 0, 2),
    ],
    "positional_vertigo:right": [
        ({AURICLE: "upbeat_torsional"}, 4, 0),
        ({AURICLE: "upbeat_torsional", f"{EYES}.positional_duration_seconds.right": 60}, 4, 0),
        ({AURICLE: "upbeat_torsional", f"{EYES}.positional_duration_seconds.right": 61}, 0, 2),
        ({AURICLE: "horizontal"}, 2, 0),
        ({"context.course": "positional"}, 1, 0),
        ({AURICLE: "downbeat"}, 0, 4),
        ({AURICLE: "other"}, 0, 4),
        ({AURICLE: "negative"}, 0, 2),
        ({NYSTAGMUS: "downbeat"}, 0, 2),
    ],
    "cerebellar_midline": [
        ({**CLEAR, f"{OPEN}.sway": "marked"}, 2, 0),
        ({**CLEAR, GAIT: ["ataxic"]}, 2, 0),
        ({**CLEAR, STEPS: 5}, 2, 0),
        ({**CLEAR, "walking.base": "wide"}, 1, 0),
        ({f"{OPEN}.sway": "marked", GAIT: ["ataxic"], STEPS: 5, "walking.base": "wide"}, 0, 0),
        ({SITTING: "unsteady"}, 2, 0),
        ({SITTING: "cannot_sit"}, 2, 0),
        ({GAZE: "present"}, 2, 0),
        ({SPEECH: "slurred"}, 2, 0),
        ({STEPS: 10}, 0, 4),
        ({STEPS: 10, "walking.tandem.side_steps": 1}, 0, 0),
        # The complete benign triad, with its vertigo and its saccade.
        (BENIGN, 0, 4),
        ({**CLEAR, f"{HEEL}.right": "moderate", f"{HEEL}.left": "normal"}, 0, 2),
        ({GAIT: ["shuffling"]}, 0, 2),
        ({GAIT: ["magnetic"]}, 0, 2),
        ({f"{OPEN}.sway": "slight", f"{OPEN}.ended": "held"}, 0, 1),
        (ACUTE, 0, 1),
        ({f"{IMPULSE}.left": "corrective_saccade"}, 0, 1),
    ],
    "cerebellar_hemisphere:right": [
        ({**CLEAR, f"{HEEL}.right": "moderate"}, 2, 0),
        ({**CLEAR, f"{HEEL}.right": "mild", f"{HEEL}.left": "normal"}, 2, 0),
        ({**CLEAR, HEEL: "mild"}, 0, 0),
        ({f"{FINGER}.right": "moderate"}, 2, 0),
        ({"coordination.rapid_alternating_hands.right": "irregular"}, 1, 0),
        ({"coordination.foot_tapping.right": "irregular"}, 1, 0),
        ({f"{OPEN}.direction": "right"}, 1, 0),
        ({SPEECH: "scanning"}, 1, 0),
        ({f"{HEEL}.right": "normal"}, 0, 2),
        ({f"{PLANTAR}.right": "extensor"}, 0, 2),
        ({**CLEAR, f"{HEEL}.left": "moderate"}, 0, 1),
    ],
    "combined_sensory_cerebellar": [
        ({f"{JP}.ankle.left": "absent"}, 2, 0),
        ({GAZE: "present"}, 2, 0),
        ({f"{FINGER}.left": "severe", f"{JP}.finger.left": "intact"}, 2, 0),
        ({GAIT: ["ataxic"]}, 1, 0),
        ({GAIT: ["lurching"]}, 0, 0),
        ({TOE: "intact"}, 0, 4),
    ],
    # Lempert 1991, J Neurol 238:140-146.
    "functional": [
        ({"standing.firm.distraction": "steadier"}, 2, 0),
        ({f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "held", "standing.firm.sway_from": "hips"}, 2, 0),
        ({GAIT: ["as_on_ice"]}, 2, 0),
        ({f"{OPEN}.sway": "marked", STEPS: 9}, 2, 0),
        ({"motor.hoover.left": "positive"}, 2, 0),
        ({f"{TOE}.left": "absent"}, 0, 2),
        ({f"{TOE}.left": "absent", SPEECH: "scanning", PLANTAR: "extensor"}, 0, 2),
        ({"standing.firm.sway_from": "ankles"}, 0, 1),
        ({"standing.firm.distraction": "unchanged"}, 0, 1),
        ({"standing.firm.distraction": "worse"}, 0, 1),
    ],
    "upper_motor_neurone:right": [
        ({f"{PLANTAR}.right": "extensor"}, 2, 0),
        ({f"{KNEE}.right": "clonus"}, 2, 0),
        ({"motor.clonus_beats.right": 5}, 2, 0),
        ({f"{TONE}.right": "increased"}, 2, 0),
        ({f"{KNEE}.right": "brisk"}, 2, 0),
        ({f"{ANKLE}.right": "brisk"}, 2, 0),
        *(({GAIT: [word]}, 1, 0) for word in ("spastic", "spastic_right", "scissoring")),
        ({GAIT: ["spastic_left"]}, 0, 0),
        ({f"{PLANTAR}.right": "flexor"}, 0, 1),
        ({f"{KNEE}.right": "absent", f"{ANKLE}.right": "absent"}, 0, 1),
    ],
    "upper_motor_neurone:left": [({GAIT: ["spastic_left"]}, 1, 0), ({GAIT: ["spastic_right"]}, 0, 0)],
    "lower_motor_neurone_weakness:right": [
        ({f"{HIP}.right": "4+", f"{UP}.right": "4+"}, 2, 0),
        ({f"{HIP}.right": "3"}, 2, 0),
        ({f"{HIP}.right": "4-"}, 1, 0),
        ({f"{HIP}.right": "4+"}, 1, 0),
        ({f"{HIP}.right": "4+", f"{KNEE}.right": "reduced"}, 3, 0),
        ({"motor.bulk.right": "wasted"}, 2, 0),
        ({"motor.fasciculation.right": "present"}, 2, 0),
        ({GAIT: ["waddling"]}, 2, 0),
        ({GAIT: ["high_stepping"]}, 2, 0),
        ({f"{TONE}.right": "reduced"}, 1, 0),
        ({f"{HIP}.right": "5", f"{UP}.right": "5"}, 0, 4),
        ({f"{PLANTAR}.right": "extensor"}, 0, 2),
        ({f"{ANKLE}.right": "clonus"}, 0, 2),
        ({f"{KNEE}.right": "brisk"}, 0, 2),
        ({f"{TONE}.right": "increased"}, 0, 2),
    ],
    "frontal_or_parkinsonian_gait": [
        ({GAIT: ["magnetic"]}, 2, 0),
        *(({GAIT: [word]}, 2, 0) for word in ("shuffling", "freezing", "festinating")),
        ({f"{TONE}.left": "rigid"}, 2, 0),
        ({"standing.pull_test": "would_fall"}, 2, 0),
        ({"walking.arm_swing.left": "reduced"}, 1, 0),
        ({"walking.turning": "many_steps"}, 1, 0),
        ({"motor.bradykinesia.left": "clear"}, 1, 0),
        ({"motor.bradykinesia": "slight"}, 0, 0),
        ({TOLD: ["urinary_urgency"]}, 1, 0),
        ({TOLD: ["slowed_thinking"]}, 1, 0),
        ({"context.bladder": "urgency"}, 1, 0),
        ({"context.bladder": "incontinence"}, 1, 0),
        ({"context.bladder": "retention"}, 0, 0),
        ({**QUIET, GAIT: ["magnetic"]}, 3, 0),
        (QUIET, 0, 0),
        ({GAIT: ["normal"]}, 0, 4),
        *(
            ({GAIT: [word]}, 0, 2)
            for word in (
                "ataxic",
                "stamping",
                "spastic",
                "spastic_right",
                "spastic_left",
                "scissoring",
                "waddling",
                "high_stepping",
            )
        ),
    ],
    # Freeman 2011, Clin Auton Res 21:69-72.
    "orthostatic": [
        ({LYING: pressure(120), AT_1: pressure(100)}, 4, 0),
        ({LYING: pressure(120), AT_3: pressure(100)}, 4, 0),
        ({"circulation.symptoms_on_standing": "yes"}, 1, 0),
        ({LYING: pressure(120), AT_1: pressure(119), AT_3: pressure(119)}, 0, 2),
        ({LYING: pressure(120), AT_1: pressure(119)}, 0, 0),
    ],
    "visual_dependence": [
        (CHANGE, 2, 0),
        ({f"{JP}.ankle.left": "absent"}, 0, 2),
        ({f"{IMPULSE}.left": "corrective_saccade"}, 0, 2),
        ({"standing.firm.distraction": "steadier"}, 0, 2),
        ({f"{ANKLE}.left": "absent"}, 0, 2),
        (QUIET, 0, 1),
    ],
}

# Pattern, what was found, the age, for, against. Ankles: Vrancken 2006, J Neurol 253:578-589. Foam: Agrawal 2009,
# Arch Intern Med 169:938-944, figures by age from memory.
AGES: list[tuple[str, Found, int, int, int]] = [
    ("length_dependent_neuropathy", {ANKLE: "absent"}, 59, 2, 0),
    ("length_dependent_neuropathy", {ANKLE: "absent"}, 60, 1, 0),
    ("length_dependent_neuropathy", {ANKLE: "normal"}, 59, 0, 1),
    ("length_dependent_neuropathy", {ANKLE: "normal"}, 60, 0, 0),
    ("length_dependent_neuropathy", {f"{VIB_TOE}.left": "reduced"}, 59, 2, 0),
    ("length_dependent_neuropathy", {f"{VIB_TOE}.left": "reduced"}, 60, 0, 0),
    ("compensated_vestibular:right", {f"{FOAM}.sway": "moderate"}, 59, 1, 0),
    ("compensated_vestibular:right", {f"{FOAM}.sway": "moderate"}, 60, 0, 0),
    ("bilateral_vestibular", FOAM_LOST, 59, 2, 0),
    ("bilateral_vestibular", FOAM_LOST, 60, 1, 0),
    ("bilateral_vestibular", FOAM_LOST, 69, 1, 0),
    ("bilateral_vestibular", FOAM_LOST, 70, 0, 0),
    ("functional", {f"{ANKLE}.left": "absent"}, 59, 0, 2),
    ("functional", {f"{ANKLE}.left": "absent"}, 60, 0, 0),
    ("visual_dependence", {f"{ANKLE}.left": "absent"}, 59, 0, 2),
    ("visual_dependence", {f"{ANKLE}.left": "absent"}, 60, 0, 0),
    ("cerebellar_midline", {**CLEAR, STEPS: 5}, 74, 2, 0),
    ("cerebellar_midline", {**CLEAR, STEPS: 5}, 75, 0, 0),
    ("cerebellar_midline", {**CLEAR, STEPS: 3}, 75, 2, 0),
]


def sums(made: Any, pattern: str, found: Found, age: int = 50) -> tuple[int, int]:
    name, _, side = pattern.partition(":")
    weighed = weigh(BY_NAME[name], Facts(made(found, age=age)), "left" if side == "left" else "right")
    return weighed.sum_for, weighed.sum_against


@pytest.mark.parametrize(
    ("pattern", "found", "speaks_for", "speaks_against"),
    [pytest.param(name, *row, id=f"{name}: {row[0]}") for name, rows in WEIGHTS.items() for row in rows],
)
def test_a_finding_weighs(made: Any, pattern: str, found: Found, speaks_for: int, speaks_against: int) -> None:
    assert sums(made, pattern, found) == (speaks_for, speaks_against)


@pytest.mark.parametrize(("pattern", "found", "age", "speaks_for", "speaks_against"), AGES)
def test_age_decides_what_it_weighs(
    made: Any, pattern: str, found: Found, age: int, speaks_for: int, speaks_against: int
) -> None:
    assert sums(made, pattern, found, age) == (speaks_for, speaks_against)


def test_every_criterion_is_met_by_a_row(made: Any) -> None:
    met = {name: set[str]() for name in BY_NAME}
    for pattern, found, age in [
        *((name, row[0], 50) for name, rows in WEIGHTS.items() for row in rows),
        *(row[:3] for row in AGES),
    ]:
        name, _, side = pattern.partition(":")
        weighed = weigh(BY_NAME[name], Facts(made(found, age=age)), "left" if side == "left" else "right")
        met[name] |= {*weighed.labels_for, *weighed.labels_against}
    for name, table in BY_NAME.items():
        assert {criterion.label for criterion in (*table.speaks_for, *table.speaks_against)} == met[name]
