"""Every way to raise an urgent finding, alone: the row, what raises it, how fast.

Common practice where no source stands beside a row; NICE NG127, NG232 and QS74; Kattah 2009, Stroke 40:3504-3510.
"""

from typing import Any

Found = dict[str, Any]

ONSET, DAYS, TOLD, CAUTIONS = "context.onset", "context.duration_days", "context.symptoms", "context.cautions"
BACKGROUND, GAIT, EYES = "context.background", "walking.pattern", "head_and_eyes"
HIP, UP = "motor.power.hip_flexion", "motor.power.ankle_dorsiflexion"
HEEL, FINGER = "coordination.heel_shin", "coordination.finger_nose"
ANKLE, KNEE, PLANTAR = "reflexes.ankle", "reflexes.knee", "reflexes.plantar"
JP, VIB, PIN = "sensation.joint_position.great_toe", "sensation.vibration.great_toe", "sensation.pinprick"
OPEN, CLOSED = "standing.firm.eyes_open", "standing.firm.eyes_closed"
LYING, AT_ONCE, AT_1, AT_3 = (
    f"circulation.{item}" for item in ("lying", "standing_immediately", "standing_1_min", "standing_3_min")
)

VERTIGO: Found = {TOLD: ["vertigo"], ONSET: "acute"}
BENIGN: Found = {
    **VERTIGO,
    f"{EYES}.nystagmus": "beats_left",
    f"{EYES}.head_impulse.right": "corrective_saccade",
    f"{EYES}.head_impulse.left": "normal",
    f"{EYES}.gaze_evoked_nystagmus": "absent",
    f"{EYES}.skew": "absent",
    f"{EYES}.new_hearing_loss": "no",
    f"{EYES}.examiner_trained": "yes",
}
CORD: Found = {PLANTAR: "extensor"}
ONE_SIDED_CORD: Found = {f"{PLANTAR}.right": "extensor"}
WEAK: Found = {HIP: "4+"}
LOW: Found = {ANKLE: "absent"}
STANCE_LOST: Found = {
    f"{OPEN}.sway": "slight",
    f"{OPEN}.ended": "held",
    f"{CLOSED}.sway": "marked",
    f"{CLOSED}.ended": "fell",
    "standing.feet_position": "together",
}
NEURONOPATHY: Found = {ONSET: "subacute", JP: "absent", ANKLE: "absent"}
PROXIMAL: Found = {ONSET: "subacute", HIP: "4", UP: "4+"}


def pressure(systolic: int) -> Found:
    return {"systolic": systolic, "diastolic": 60}


def told(*words: str) -> Found:
    return {TOLD: list(words)}


def background(*words: str) -> Found:
    return {BACKGROUND: list(words)}


CENTRAL, NOT_EXCLUDED, DEAF = (
    "acute-vertigo-central-signs",
    "acute-vertigo-central-not-excluded",
    "acute-vertigo-new-hearing-loss",
)
SUDDEN, COMPRESSION, CAUDA = "sudden-cerebellar-or-hemispheric-signs", "cord-compression", "cauda-equina"
RAPID, THIAMINE, HEAD = "rapid-areflexic-weakness", "ataxia-confusion-eye-signs", "head-injury-anticoagulated"
BREATH, SPINE, PRESSURE = (
    "weakness-with-breathing-or-swallowing",
    "spinal-infection-or-cancer-pain",
    "severe-orthostatic-fall",
)
ATAXIA, PROGRESSIVE, TREATABLE = "rapid-ataxia", "progressive-myelopathy", "treatable-myelopathy"
GANGLIA, MUSCLE, GAIT_BLADDER, FALLS = (
    "subacute-sensory-neuronopathy",
    "subacute-proximal-weakness",
    "gait-bladder-cognition",
    "injurious-falls",
)

CENTRAL_SIGNS: list[Found] = [
    *({f"{EYES}.nystagmus": w} for w in ("vertical", "upbeat", "downbeat", "torsional", "mixed_direction")),
    {f"{EYES}.gaze_evoked_nystagmus": "present"},
    {f"{EYES}.skew": "present"},
    {f"{EYES}.nystagmus": "beats_left", f"{EYES}.head_impulse.right": "normal"},
    {f"{EYES}.nystagmus": "beats_right", f"{EYES}.head_impulse.left": "normal"},
    {f"{EYES}.nystagmus": "beats_right", f"{EYES}.head_impulse.right": "corrective_saccade"},
    {f"{EYES}.head_impulse": "corrective_saccade"},
    {"standing.sitting_balance": "cannot_sit"},
    {"coordination.speech": "slurred"},
    {"coordination.speech": "scanning"},
    *({f"{ref}.left": w} for ref in (HEEL, FINGER) for w in ("moderate", "severe", "cannot_perform")),
    {f"{EYES}.eye_movements": "restricted"},
    {f"{EYES}.brainstem_signs": ["facial_numbness_left"]},
]

# The row, what raises it, how fast: everything found is what it rests on.
RAISED: list[tuple[str, Found, str]] = [
    *((CENTRAL, {**VERTIGO, **sign}, "immediate") for sign in CENTRAL_SIGNS),
    *(
        (CENTRAL, {TOLD: ["vertigo", word], ONSET: "acute"}, "immediate")
        for word in (
            "double_vision",
            "slurred_speech",
            "swallowing_difficulty",
            "confusion",
            "drowsiness",
            "sudden_severe_headache",
        )
    ),
    (DEAF, {**VERTIGO, f"{EYES}.new_hearing_loss.left": "yes"}, "immediate"),
    (DEAF, {TOLD: ["vertigo", "hearing_loss"], ONSET: "acute"}, "immediate"),
    *(
        (SUDDEN, {ONSET: "sudden", **sign}, "immediate")
        for sign in (
            {f"{HIP}.left": "4+"},
            {HIP: "4+"},
            {"coordination.speech": "scanning"},
            {TOLD: ["slurred_speech"]},
            {"standing.sitting_balance": "cannot_sit"},
        )
    ),
    (SUDDEN, {ONSET: "acute", DAYS: 2, f"{HIP}.right": "4+"}, "immediate"),
    (SUDDEN, {ONSET: "acute", f"{HIP}.right": "4+"}, "immediate"),
    *((COMPRESSION, {ONSET: onset, "sensation.trunk_level": "T8"}, "immediate") for onset in ("sudden", "subacute")),
    (COMPRESSION, {DAYS: 90, "sensation.trunk_level": "T8"}, "immediate"),
    *(
        (COMPRESSION, {ONSET: "subacute", **ONE_SIDED_CORD, f"sensation.{item}.left": "thigh"}, "immediate")
        for item in ("pinprick", "temperature")
    ),
    *(
        (COMPRESSION, {ONSET: "subacute", **CORD, **sign}, "immediate")
        for sign in (
            *(told(w) for w in ("back_pain", "neck_pain", "fever", "weight_loss", "bowel_incontinence")),
            background("cancer"),
            *({"context.walking_aid": w} for w in ("frame", "one_person", "two_people", "wheelchair")),
            {"context.walks_unaided": "no"},
            {DAYS: 14},
        )
    ),
    (COMPRESSION, {ONSET: "subacute", **ONE_SIDED_CORD, "context.bladder": "retention"}, "immediate"),
    (COMPRESSION, {ONSET: "subacute", **ONE_SIDED_CORD, "sensation.saddle": "reduced"}, "immediate"),
    (COMPRESSION, {ONSET: "subacute", **WEAK, TOLD: ["bladder_or_bowel_disturbance"]}, "immediate"),
    (COMPRESSION, {ONSET: "chronic", **ONE_SIDED_CORD, TOLD: ["urinary_retention"]}, "immediate"),
    (CAUDA, {"sensation.saddle": "absent"}, "immediate"),
    (CAUDA, told("altered_genital_feeling"), "immediate"),
    *(
        (CAUDA, {"context.bladder": "retention", **told(w)}, "immediate")
        for w in ("back_pain", "leg_pain_both", "numbness", "weakness")
    ),
    (CAUDA, {"context.bladder": "retention", f"{HIP}.left": "4+", f"{ANKLE}.left": "reduced"}, "immediate"),
    (CAUDA, {ONSET: "subacute", **told("leg_pain_both"), **LOW}, "immediate"),
    (CAUDA, {ONSET: "subacute", **told("back_pain"), HIP: "4+", KNEE: "reduced"}, "immediate"),
    *(
        (RAPID, {ONSET: onset, DAYS: 28, HIP: "4-", ANKLE: word}, "immediate")
        for onset, word in (("sudden", "absent"), ("acute", "reduced"), ("subacute", "with_reinforcement"))
    ),
    (RAPID, {ONSET: "acute", HIP: "4+", UP: "4+", **LOW}, "immediate"),
    (RAPID, {DAYS: 28, HIP: "4-", **LOW}, "immediate"),
    (RAPID, {HIP: "4-", **LOW}, "same_day"),
    (RAPID, {ONSET: "acute", **LOW, f"{EYES}.eye_movements": "restricted", GAIT: ["ataxic"]}, "immediate"),
    (RAPID, {ONSET: "acute", **LOW, f"{EYES}.eye_movements": "restricted", f"{HEEL}.left": "moderate"}, "immediate"),
    *(
        (THIAMINE, {TOLD: [word], **sign}, "immediate")
        for word in ("confusion", "drowsiness")
        for sign in (
            {f"{EYES}.eye_movements": "restricted"},
            {f"{EYES}.nystagmus": "upbeat"},
            {f"{EYES}.gaze_evoked_nystagmus": "present"},
            {GAIT: ["lurching"]},
            {"context.walks_unaided": "no"},
            {f"{HEEL}.left": "moderate"},
        )
    ),
    *(
        (THIAMINE, {BACKGROUND: [word], GAIT: ["ataxic"], f"{EYES}.nystagmus": "beats_left"}, "immediate")
        for word in ("alcohol", "poor_nutrition_or_vomiting", "bariatric_or_bowel_surgery")
    ),
    *(
        (HEAD, {CAUTIONS: ["anticoagulated"], **blow}, "same_day")
        for blow in (told("head_injury"), {"context.fall_injury": "head"})
    ),
    *(
        (HEAD, {CAUTIONS: ["anticoagulated"], ONSET: "subacute", TOLD: ["falls", word]}, "immediate")
        for word in ("headache", "confusion", "drowsiness", "vomiting")
    ),
    (
        HEAD,
        {
            CAUTIONS: ["anticoagulated"],
            ONSET: "subacute",
            "context.falls_past_year": 1,
            TOLD: ["headache"],
        },
        "immediate",
    ),
    (BREATH, {f"{HIP}.left": "4+", "motor.neck_flexion": "4"}, "immediate"),
    (BREATH, {f"{HIP}.left": "4+", "motor.breath_count": 19}, "immediate"),
    (BREATH, {f"{HIP}.left": "4+", TOLD: ["breathlessness"]}, "immediate"),
    (BREATH, {f"{HIP}.left": "4+", TOLD: ["swallowing_difficulty"]}, "immediate"),
    *(
        (SPINE, {TOLD: [pain, "fever"], **leg}, "same_day")
        for pain in ("back_pain", "neck_pain")
        for leg in (
            {f"{HIP}.left": "4+"},
            {f"{PLANTAR}.left": "extensor"},
            {"sensation.trunk_level": "L1"},
            {f"{ANKLE}.left": "reduced"},
        )
    ),
    (SPINE, {TOLD: ["back_pain", "weight_loss", "numbness"]}, "same_day"),
    *(
        (SPINE, {TOLD: ["back_pain", "numbness"], BACKGROUND: [word]}, "same_day")
        for word in ("cancer", "immunosuppression", "spinal_procedure")
    ),
    *((PRESSURE, {at: pressure(89)}, "same_day") for at in (AT_ONCE, AT_1, AT_3)),
    *(
        (PRESSURE, {LYING: pressure(150), at: pressure(120), "circulation.symptoms_on_standing": "yes"}, "same_day")
        for at in (AT_ONCE, AT_1, AT_3)
    ),
    (PRESSURE, {LYING: pressure(150), AT_3: pressure(120), TOLD: ["fainting"]}, "same_day"),
    *(
        (ATAXIA, {ONSET: onset, DAYS: days, GAIT: ["lurching"]}, how)
        for onset, days, how in (
            ("subacute", 60, "within_days"),
            ("subacute", 8, "within_days"),
            ("subacute", 7, "same_day"),
            ("acute", 7, "same_day"),
        )
    ),
    (ATAXIA, {ONSET: "subacute", f"{HEEL}.left": "moderate"}, "within_days"),
    (ATAXIA, {ONSET: "subacute", f"{OPEN}.sway": "marked"}, "within_days"),
    (PROGRESSIVE, {**CORD}, "within_days"),
    *(
        (PROGRESSIVE, {**ONE_SIDED_CORD, GAIT: [word]}, "within_days")
        for word in ("spastic", "spastic_right", "spastic_left", "scissoring")
    ),
    (PROGRESSIVE, {**ONE_SIDED_CORD, "sensation.trunk_level": "T4"}, "within_days"),
    (TREATABLE, {f"{JP}.left": "impaired", f"{PLANTAR}.right": "extensor"}, "within_days"),
    (TREATABLE, {"sensation.joint_position.ankle.left": "absent", f"{PLANTAR}.right": "extensor"}, "within_days"),
    (TREATABLE, {VIB: "absent", f"{KNEE}.right": "brisk", f"{ANKLE}.right": "absent"}, "within_days"),
    (TREATABLE, {VIB: "absent", f"{KNEE}.left": "clonus", f"{ANKLE}.left": "absent"}, "within_days"),
    *((GANGLIA, {**NEURONOPATHY, "sensation.hands_affected": w}, "within_days") for w in ("before_feet", "together")),
    (GANGLIA, {**NEURONOPATHY, f"{JP}.left": "impaired"}, "within_days"),
    (GANGLIA, {**NEURONOPATHY, f"{PIN}.right": "toes", f"{PIN}.left": "ankle"}, "within_days"),
    (GANGLIA, {**NEURONOPATHY, "sensation.joint_position.finger.left": "impaired"}, "within_days"),
    (GANGLIA, {**NEURONOPATHY, ONSET: "acute", f"{JP}.left": "intact"}, "within_days"),
    (MUSCLE, PROXIMAL, "within_days"),
    (MUSCLE, {**PROXIMAL, HIP: "4-", UP: "4"}, "within_days"),
    (MUSCLE, {**PROXIMAL, ONSET: "chronic", DAYS: 365}, "within_days"),
    *(
        (GAIT_BLADDER, {GAIT: ["magnetic"], **sign}, "within_days")
        for sign in (
            told("urinary_urgency"),
            {"context.bladder": "urgency"},
            {"context.bladder": "incontinence"},
            told("slowed_thinking"),
            told("confusion"),
        )
    ),
    *(
        (GAIT_BLADDER, {GAIT: [word], "walking.base": "wide", "context.bladder": "urgency"}, "within_days")
        for word in ("freezing", "shuffling")
    ),
    (GAIT_BLADDER, {GAIT: ["shuffling"], TOLD: ["urinary_urgency", "slowed_thinking"]}, "within_days"),
    *(
        (FALLS, {"context.fall_injury": w, f"{JP}.left": "absent"}, "within_days")
        for w in ("minor", "fracture", "head")
    ),
    (FALLS, {"context.falls_past_year": 2, f"{JP}.left": "absent"}, "within_days"),
    (FALLS, {TOLD: ["falls"], f"{JP}.left": "absent"}, "within_days"),
    *(
        (FALLS, {"context.fall_injury": "minor", **sign}, "within_days")
        for sign in (
            STANCE_LOST,
            {f"{OPEN}.sway": "marked", f"{OPEN}.ended": "held"},
            {"walking.tandem.correct_steps": 5},
            {"standing.pull_test": "would_fall"},
            {"standing.single_leg.eyes_open.seconds.left": 4.9},
            {LYING: pressure(120), AT_1: pressure(100)},
        )
    ),
]
