"""Single rows of the table of patterns: what was found, and the verdict it has to give, with the reason as its name."""

from typing import Any

from neuroform.reasoning.results import Verdict

STAND, WALK, EYES = "standing.firm", "walking", "head_and_eyes"
HELD = {f"{STAND}.eyes_open.ended": "held", f"{STAND}.eyes_closed.ended": "held"}
QUIET = {**HELD, f"{STAND}.eyes_open.sway": "slight", f"{STAND}.eyes_closed.sway": "slight"}
FELL = {
    f"{STAND}.eyes_open.sway": "none",
    f"{STAND}.eyes_open.ended": "held",
    f"{STAND}.eyes_closed.sway": "marked",
    f"{STAND}.eyes_closed.ended": "fell",
    "standing.feet_position": "together",
}
STRONG_LEGS = {
    f"motor.power.{group}": "5"
    for group in ("hip_flexion", "knee_extension", "ankle_dorsiflexion", "ankle_plantarflexion")
}
JP, VIB = "sensation.joint_position.great_toe", "sensation.vibration.great_toe"
CLEAR_LEGS = {**STRONG_LEGS, JP: "intact"}
ACUTE = {"context.symptoms": ["vertigo"], "context.onset": "acute", "context.course": "continuous"}
# The right labyrinth or nerve lost: Kattah 2009, Stroke 40:3504-3510.
BENIGN = {
    **ACUTE,
    f"{EYES}.nystagmus": "beats_left",
    f"{EYES}.gaze_evoked_nystagmus": "absent",
    f"{EYES}.skew": "absent",
    f"{EYES}.head_impulse.right": "corrective_saccade",
    f"{EYES}.head_impulse.left": "normal",
    f"{EYES}.new_hearing_loss": "no",
}


# Each row: what it shows, the pattern, what was found, the verdict. Common practice where no source stands beside it.
ROWS: list[tuple[str, str, dict[str, Any], Verdict]] = [
    (
        "lost joint position and a fall on closing the eyes",
        "sensory_ataxia",
        {**FELL, JP: "absent", VIB: "absent"},
        "supported",
    ),
    ("the fall alone, joint position blank", "sensory_ataxia", {**FELL, VIB: "absent"}, "possible"),
    ("joint position intact at both great toes", "sensory_ataxia", {**FELL, JP: "intact", VIB: "absent"}, "unlikely"),
    (
        "four movements are described, not judged",
        "sensory_ataxia",
        {**FELL, JP: {"correct": 1, "trials": 4}},
        "possible",
    ),
    (
        "a functional sign beside it",
        "sensory_ataxia",
        {**FELL, JP: "absent", VIB: "absent", f"{STAND}.distraction": "steadier"},
        "possible",
    ),
    (
        "lost on one side, stance held",
        "sensory_ataxia",
        {**QUIET, "standing.feet_position": "together", f"{JP}.right": "absent", VIB: "absent"},
        "possible",
    ),
    (
        "feet first, alike",
        "length_dependent_neuropathy",
        {VIB: "absent", "sensation.pinprick": "ankle", "reflexes.ankle": "absent"},
        "supported",
    ),
    (
        "two levels apart",
        "length_dependent_neuropathy",
        {
            VIB: "absent",
            "sensation.pinprick.right": "toes",
            "sensation.pinprick.left": "mid_calf",
            "reflexes.ankle": "absent",
        },
        "possible",
    ),
    (
        "one foot alone",
        "length_dependent_neuropathy",
        {f"{VIB}.right": "absent", "sensation.pinprick.right": "ankle", "reflexes.ankle.right": "absent"},
        "possible",
    ),
    (
        "saddle numbness told",
        "length_dependent_neuropathy",
        {
            VIB: "absent",
            "sensation.pinprick": "ankle",
            "reflexes.ankle": "absent",
            "context.symptoms": ["saddle_numbness"],
        },
        "unlikely",
    ),
    (
        "a level on the trunk",
        "length_dependent_neuropathy",
        {VIB: "absent", "sensation.pinprick": "ankle", "reflexes.ankle": "absent", "sensation.trunk_level": "T8"},
        "unlikely",
    ),
    (
        "three weeks old",
        "length_dependent_neuropathy",
        {VIB: "absent", "sensation.pinprick": "ankle", "reflexes.ankle": "absent", "context.duration_days": 21},
        "possible",
    ),
    (
        "areflexia with extensor plantars is real",
        "dorsal_column",
        {JP: "absent", VIB: "absent", "reflexes.ankle": "absent", "reflexes.plantar": "extensor"},
        "supported",
    ),
    (
        "areflexia with flexor plantars is nerve",
        "dorsal_column",
        {JP: "absent", VIB: "absent", "reflexes.ankle": "absent", "reflexes.plantar": "flexor"},
        "possible",
    ),
    ("the eye signs of one labyrinth", "acute_vestibular_peripheral:right", BENIGN, "supported"),
    ("the other side of it", "acute_vestibular_peripheral:left", BENIGN, "unlikely"),
    (
        "skew not looked for must not look benign",
        "acute_vestibular_peripheral:right",
        {**BENIGN, f"{EYES}.skew": "not examined: unable"},
        "not_assessable",
    ),
    (
        "an uncertain head impulse is not known",
        "acute_vestibular_peripheral:right",
        {**BENIGN, f"{EYES}.head_impulse.right": "uncertain"},
        "not_assessable",
    ),
    (
        "attacks are not asked about the triad",
        "acute_vestibular_peripheral:right",
        {**BENIGN, "context.course": "episodic"},
        "unlikely",
    ),
    (
        "onset blank: not known whether acute",
        "acute_vestibular_peripheral:right",
        {**BENIGN, "context.onset": "not examined: unable"},
        "not_assessable",
    ),
    (
        "normal impulses with nystagmus",
        "acute_vestibular_central",
        {**BENIGN, f"{EYES}.head_impulse": "normal"},
        "supported",
    ),
    (
        "skew beside a benign-looking pair",
        "acute_vestibular_central",
        {**BENIGN, f"{EYES}.skew": "present"},
        "supported",
    ),
    (
        "one decisive sign with the rest blank",
        "acute_vestibular_central",
        {**ACUTE, f"{EYES}.gaze_evoked_nystagmus": "present"},
        "supported",
    ),
    (
        "new deafness on a benign triad",
        "acute_vestibular_central",
        {**BENIGN, f"{EYES}.new_hearing_loss.right": "yes"},
        "possible",
    ),
    (
        "no nystagmus: never called unlikely",
        "acute_vestibular_central",
        {**BENIGN, f"{EYES}.nystagmus": "none"},
        "not_assessable",
    ),
    (
        "without vertigo normal impulses mean nothing",
        "acute_vestibular_central",
        {**BENIGN, "context.symptoms": [], f"{EYES}.head_impulse": "normal"},
        "unlikely",
    ),
    (
        "an old loss on one side",
        "compensated_vestibular:right",
        {
            "context.onset": "chronic",
            f"{EYES}.nystagmus": "none",
            f"{EYES}.head_impulse.right": "corrective_saccade",
            f"{EYES}.head_impulse.left": "normal",
        },
        "supported",
    ),
    (
        "recorded gain below 0.6 on both sides (Strupp 2017)",
        "bilateral_vestibular",
        {f"{EYES}.head_impulse_gain": 0.5},
        "supported",
    ),
    (
        "a normal bedside impulse misses a low gain",
        "bilateral_vestibular",
        {f"{EYES}.head_impulse_gain": 0.5, f"{EYES}.head_impulse": "normal"},
        "possible",
    ),
    (
        "normal impulses, no recording",
        "bilateral_vestibular",
        {f"{EYES}.head_impulse": "normal", "context.symptoms": ["oscillopsia"]},
        "unlikely",
    ),
    ("gain of 0.6 is not below it", "bilateral_vestibular", {f"{EYES}.head_impulse_gain": 0.6}, "unlikely"),
    (
        "the canal's nystagmus",
        "positional_vertigo:left",
        {f"{EYES}.positional_test.left": "upbeat_torsional"},
        "supported",
    ),
    (
        "longer than a minute (von Brevern 2015)",
        "positional_vertigo:left",
        {f"{EYES}.positional_test.left": "upbeat_torsional", f"{EYES}.positional_duration_seconds.left": 61},
        "unlikely",
    ),
    (
        "downbeat is another matter",
        "positional_vertigo:left",
        {f"{EYES}.positional_test.left": "downbeat", "context.course": "positional"},
        "unlikely",
    ),
    (
        "ataxic gait in clear legs, gaze-evoked",
        "cerebellar_midline",
        {
            **CLEAR_LEGS,
            f"{STAND}.eyes_open.sway": "marked",
            f"{WALK}.pattern": ["ataxic"],
            f"{WALK}.tandem.correct_steps": 1,
            f"{EYES}.gaze_evoked_nystagmus": "present",
            "coordination.heel_shin": "normal",
        },
        "supported",
    ),
    (
        "the same while vertigo goes on",
        "cerebellar_midline",
        {
            **ACUTE,
            **CLEAR_LEGS,
            f"{STAND}.eyes_open.sway": "marked",
            f"{WALK}.pattern": ["ataxic"],
            f"{WALK}.tandem.correct_steps": 1,
            f"{EYES}.gaze_evoked_nystagmus": "present",
            "coordination.heel_shin": "normal",
        },
        "possible",
    ),
    (
        "weak legs cloud gait and stance",
        "cerebellar_midline",
        {
            **CLEAR_LEGS,
            "motor.power.hip_flexion": "3",
            f"{STAND}.eyes_open.sway": "marked",
            f"{WALK}.pattern": ["ataxic"],
        },
        "not_assessable",
    ),
    (
        "ten perfect heel-to-toe steps",
        "cerebellar_midline",
        {**CLEAR_LEGS, f"{EYES}.gaze_evoked_nystagmus": "present", f"{WALK}.tandem.correct_steps": 10},
        "unlikely",
    ),
    (
        "one leg ataxic",
        "cerebellar_hemisphere:right",
        {
            **CLEAR_LEGS,
            "coordination.heel_shin.right": "moderate",
            "coordination.heel_shin.left": "normal",
            "coordination.finger_nose.right": "moderate",
        },
        "supported",
    ),
    (
        "its other side",
        "cerebellar_hemisphere:left",
        {**CLEAR_LEGS, "coordination.heel_shin.right": "moderate", "coordination.heel_shin.left": "normal"},
        "unlikely",
    ),
    (
        "a weak leg's heel-shin can't be judged",
        "cerebellar_hemisphere:right",
        {**CLEAR_LEGS, "motor.power.hip_flexion.right": "3", "coordination.heel_shin.right": "moderate"},
        "not_assessable",
    ),
    (
        "a finger that feels nothing looks ataxic",
        "cerebellar_hemisphere:right",
        {"sensation.joint_position.finger.right": "absent", "coordination.finger_nose.right": "severe"},
        "not_assessable",
    ),
    ("speech alone is not both", "combined_sensory_cerebellar", {"coordination.speech": "scanning"}, "not_assessable"),
    (
        "speech and lost joint position",
        "combined_sensory_cerebellar",
        {"coordination.speech": "scanning", JP: "absent"},
        "supported",
    ),
    (
        "two positive signs on a whole examination",
        "functional",
        {
            **QUIET,
            f"{STAND}.eyes_closed.sway": "marked",
            f"{STAND}.sway_from": "hips",
            f"{STAND}.distraction": "steadier",
            JP: "intact",
            f"{EYES}.head_impulse": "normal",
            f"{EYES}.gaze_evoked_nystagmus": "absent",
            "reflexes.plantar": "flexor",
        },
        "supported",
    ),
    (
        "the same with joint position blank",
        "functional",
        {
            **QUIET,
            f"{STAND}.eyes_closed.sway": "marked",
            f"{STAND}.sway_from": "hips",
            f"{STAND}.distraction": "steadier",
        },
        "possible",
    ),
    ("an overlay on a real neuropathy", "functional", {f"{STAND}.distraction": "steadier", JP: "absent"}, "unlikely"),
    (
        "brisk alone is the upper half of normal",
        "upper_motor_neurone:right",
        {"reflexes.knee": "brisk", "reflexes.ankle": "brisk", "reflexes.plantar": "flexor"},
        "possible",
    ),
    (
        "extensor and brisk",
        "upper_motor_neurone:right",
        {"reflexes.knee": "brisk", "reflexes.ankle": "brisk", "reflexes.plantar": "extensor"},
        "supported",
    ),
    (
        "one finding of clonus is not two",
        "upper_motor_neurone:right",
        {"reflexes.knee": "normal", "reflexes.ankle": "clonus", "reflexes.plantar": "mute"},
        "possible",
    ),
    (
        "cord shock hides the signs",
        "upper_motor_neurone:right",
        {
            "context.onset": "acute",
            "sensation.trunk_level": "T6",
            "reflexes.knee": "absent",
            "reflexes.ankle": "absent",
            "reflexes.plantar": "flexor",
        },
        "not_assessable",
    ),
    (
        "a full bladder with kept knee reflexes lies below the cord",
        "upper_motor_neurone:right",
        {
            "context.onset": "acute",
            "context.symptoms": ["urinary_retention"],
            "reflexes.knee": "normal",
            "reflexes.ankle": "absent",
            "reflexes.plantar": "flexor",
        },
        "unlikely",
    ),
    (
        "weak and areflexic",
        "lower_motor_neurone_weakness:left",
        {
            "motor.power.hip_flexion": "4",
            "motor.power.ankle_dorsiflexion": "3",
            "reflexes.knee": "reduced",
            "reflexes.ankle": "absent",
        },
        "supported",
    ),
    (
        "full power from hip to ankle",
        "lower_motor_neurone_weakness:left",
        {**STRONG_LEGS, "reflexes.knee": "absent", "reflexes.ankle": "absent"},
        "unlikely",
    ),
    (
        "full power of the hip says nothing of the foot",
        "lower_motor_neurone_weakness:left",
        {"motor.power.hip_flexion": "5", "reflexes.knee": "normal", "reflexes.ankle": "normal"},
        "not_assessable",
    ),
    (
        "shuffling and rigid",
        "frontal_or_parkinsonian_gait",
        {f"{WALK}.pattern": ["shuffling"], "motor.tone": "rigid"},
        "supported",
    ),
    (
        "rigid without the gait",
        "frontal_or_parkinsonian_gait",
        {f"{WALK}.pattern": ["cautious"], "motor.tone": "rigid"},
        "unlikely",
    ),
    (
        "normal gait",
        "frontal_or_parkinsonian_gait",
        {f"{WALK}.pattern": ["normal"], "standing.pull_test": "would_fall"},
        "unlikely",
    ),
    (
        "a fall of 20 systolic (Freeman 2011)",
        "orthostatic",
        {
            "circulation.lying": {"systolic": 120, "diastolic": 80},
            "circulation.standing_1_min": {"systolic": 100, "diastolic": 75},
        },
        "supported",
    ),
    (
        "one reading without a fall is not enough",
        "orthostatic",
        {
            "circulation.lying": {"systolic": 120, "diastolic": 80},
            "circulation.standing_1_min": {"systolic": 101, "diastolic": 75},
        },
        "not_assessable",
    ),
    (
        "high lying: 30 is asked for (Freeman 2011)",
        "orthostatic",
        {
            "circulation.lying": {"systolic": 140, "diastolic": 80},
            "circulation.standing_1_min": {"systolic": 111, "diastolic": 75},
            "circulation.standing_3_min": {"systolic": 115, "diastolic": 75},
        },
        "unlikely",
    ),
    (
        "reliance on vision only once all else was looked at",
        "visual_dependence",
        {**FELL, JP: "intact"},
        "not_assessable",
    ),
    (
        "and then at most possible",
        "visual_dependence",
        {**FELL, JP: "intact", f"{EYES}.head_impulse": "normal"},
        "possible",
    ),
]
