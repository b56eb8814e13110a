"""Urgent findings at their borders: every way to raise a row, alone, and the nearest finding that does not raise it.

Common practice where no source stands beside a row; NICE NG127, NG232 and QS74; Kattah 2009, Stroke 40:3504-3510.
"""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.urgent import urgent_findings
from tests.reasoning.urgent_rows import (
    ANKLE,
    AT_1,
    AT_3,
    ATAXIA,
    BACKGROUND,
    BENIGN,
    BREATH,
    CAUDA,
    CAUTIONS,
    CENTRAL,
    CLOSED,
    COMPRESSION,
    CORD,
    DAYS,
    DEAF,
    EYES,
    FALLS,
    FINGER,
    GAIT,
    GAIT_BLADDER,
    GANGLIA,
    HEAD,
    HEEL,
    HIP,
    JP,
    KNEE,
    LOW,
    LYING,
    MUSCLE,
    NEURONOPATHY,
    NOT_EXCLUDED,
    ONE_SIDED_CORD,
    ONSET,
    OPEN,
    PIN,
    PLANTAR,
    PRESSURE,
    PROGRESSIVE,
    PROXIMAL,
    RAISED,
    RAPID,
    SPINE,
    STANCE_LOST,
    SUDDEN,
    THIAMINE,
    TOLD,
    TREATABLE,
    UP,
    VERTIGO,
    VIB,
    WEAK,
    Found,
    background,
    pressure,
    told,
)

# The row, how fast, by something it does not rest on: the onset, or a second reason.
FASTER: list[tuple[str, Found, str]] = [
    (CAUDA, {"sensation.saddle": "reduced", ONSET: "chronic"}, "same_day"),
    (CAUDA, {"sensation.saddle": "reduced", ONSET: "chronic", "context.bladder": "retention"}, "immediate"),
    (CAUDA, {"sensation.saddle": "reduced", ONSET: "subacute"}, "immediate"),
    *(
        (HEAD, {CAUTIONS: ["anticoagulated"], "context.fall_injury": "head", ONSET: onset}, how)
        for onset, how in (("sudden", "immediate"), ("acute", "immediate"), ("subacute", "same_day"))
    ),
    *(
        (HEAD, {CAUTIONS: ["anticoagulated"], TOLD: ["head_injury", word], ONSET: "chronic"}, "immediate")
        for word in ("confusion", "drowsiness", "vomiting", "headache")
    ),
    *(
        (BREATH, {HIP: "4+", ONSET: "chronic", **sign}, how)
        for sign, how in (
            ({TOLD: ["swallowing_difficulty"]}, "within_days"),
            ({TOLD: ["swallowing_difficulty", "breathlessness"]}, "same_day"),
            ({"motor.neck_flexion": "4"}, "same_day"),
            ({"motor.breath_count": 19}, "same_day"),
        )
    ),
    *(
        (TREATABLE, {JP: "absent", **CORD, **background(word), ONSET: onset}, how)
        for word, onset, how in (
            ("nitrous_oxide", "acute", "same_day"),
            ("nitrous_oxide", "subacute", "same_day"),
            ("nitrous_oxide", "chronic", "within_days"),
            ("restricted_diet", "subacute", "within_days"),
        )
    ),
    *(
        (MUSCLE, {**PROXIMAL, **tempo, TOLD: [word]}, how)
        for word in ("swallowing_difficulty", "breathlessness")
        for tempo, how in (({}, "immediate"), ({ONSET: "chronic", DAYS: 365}, "same_day"))
    ),
    (RAPID, {DAYS: 3, HIP: "4-", **LOW}, "immediate"),
    *(
        (NOT_EXCLUDED, {**BENIGN, path: value}, "immediate")
        for path, value in (
            (f"{EYES}.head_impulse.left", "uncertain"),
            (f"{EYES}.head_impulse.right", "not examined: unsafe"),
            (f"{EYES}.nystagmus", None),
            (f"{EYES}.gaze_evoked_nystagmus", "uncertain"),
            (f"{EYES}.gaze_evoked_nystagmus", None),
            (f"{EYES}.skew", None),
            (f"{EYES}.skew", "uncertain"),
            (f"{EYES}.examiner_trained", "no"),
            (f"{EYES}.nystagmus", "none"),
        )
    ),
    (NOT_EXCLUDED, {**BENIGN, f"{EYES}.nystagmus": "none", GAIT: ["cautious"]}, "same_day"),
    (NOT_EXCLUDED, {**BENIGN, f"{EYES}.nystagmus": "none", GAIT: ["lurching"]}, "immediate"),
    (
        NOT_EXCLUDED,
        {**BENIGN, f"{EYES}.nystagmus": "none", GAIT: ["cautious"], f"{EYES}.examiner_trained": "no"},
        "immediate",
    ),
    (NOT_EXCLUDED, {**BENIGN, f"{EYES}.nystagmus": "none", GAIT: ["cautious"], f"{EYES}.skew": None}, "immediate"),
    (SUDDEN, {ONSET: "sudden", f"{HEEL}.right": "mild", f"{HEEL}.left": "normal", TOLD: []}, "immediate"),
    (SUDDEN, {ONSET: "sudden", f"{FINGER}.left": "mild", f"{FINGER}.right": "normal", TOLD: []}, "immediate"),
    (SUDDEN, {ONSET: "sudden", f"{HEEL}.right": "moderate", f"{HEEL}.left": "mild"}, "immediate"),
    (SUDDEN, {ONSET: "sudden", f"{FINGER}.left": "severe", TOLD: ["vertigo"]}, "immediate"),
    (SUDDEN, {ONSET: "sudden", "context.walks_unaided": "no", TOLD: []}, "immediate"),
    (SUDDEN, {TOLD: ["vertigo"], ONSET: "sudden", "standing.sitting_balance": "cannot_sit"}, "immediate"),
    (COMPRESSION, {ONSET: "subacute", **WEAK, "sensation.trunk_level": "T8"}, "immediate"),
    (PROGRESSIVE, {**CORD, ONSET: "sudden"}, "within_days"),
    (PROGRESSIVE, {**ONE_SIDED_CORD, "sensation.trunk_level": "T4", ONSET: "acute"}, "within_days"),
]

# The row, and what comes closest to it without raising it.
SILENT: list[tuple[str, Found]] = [
    (CENTRAL, BENIGN),
    *(
        (CENTRAL, {**BENIGN, **sign})
        for sign in (
            {HEEL: "mild"},
            {FINGER: "mild"},
            {f"{EYES}.eye_movements": "full"},
            {f"{EYES}.brainstem_signs": ["none"]},
            {"standing.sitting_balance": "unsteady"},
            {"coordination.speech": "normal"},
            {TOLD: ["vertigo", "vomiting", "headache", "hearing_loss"]},
            {f"{EYES}.skew": "uncertain"},
        )
    ),
    (CENTRAL, {**VERTIGO, ONSET: "chronic", f"{EYES}.skew": "present"}),
    (NOT_EXCLUDED, BENIGN),
    (NOT_EXCLUDED, {**BENIGN, f"{EYES}.new_hearing_loss": None}),
    (NOT_EXCLUDED, {**BENIGN, f"{EYES}.examiner_trained": None}),
    (NOT_EXCLUDED, {**VERTIGO, DAYS: 61}),
    (NOT_EXCLUDED, {**VERTIGO, "context.course": "positional"}),
    (DEAF, {TOLD: ["vertigo", "tinnitus"], ONSET: "acute"}),
    (DEAF, {TOLD: ["vertigo", "hearing_loss"], ONSET: "acute", f"{EYES}.new_hearing_loss": "no"}),
    (SUDDEN, {ONSET: "acute", DAYS: 3, f"{HIP}.right": "3"}),
    (SUDDEN, {ONSET: "sudden", HEEL: "severe", TOLD: []}),
    (SUDDEN, {ONSET: "sudden", FINGER: "moderate", TOLD: []}),
    (SUDDEN, {ONSET: "subacute", DAYS: 1, f"{HIP}.right": "3"}),
    (SUDDEN, {ONSET: "acute", DAYS: 2, HIP: "3"}),
    (SUDDEN, {ONSET: "sudden", HIP: "5", HEEL: "mild", FINGER: "mild", "coordination.speech": "normal", TOLD: []}),
    (SUDDEN, {**BENIGN, ONSET: "sudden", f"{HEEL}.right": "mild", f"{HEEL}.left": "normal"}),
    (SUDDEN, {**BENIGN, ONSET: "sudden", "context.walks_unaided": "no"}),
    (COMPRESSION, {ONSET: "chronic", "sensation.trunk_level": "T8", **CORD}),
    (COMPRESSION, {DAYS: 91, "sensation.trunk_level": "T8"}),
    (COMPRESSION, {ONSET: "subacute", "sensation.trunk_level": "none"}),
    (COMPRESSION, {ONSET: "subacute", **ONE_SIDED_CORD, f"{PIN}.left": "knee"}),
    (COMPRESSION, {ONSET: "subacute", **ONE_SIDED_CORD, f"{PIN}.right": "thigh"}),
    *(
        (COMPRESSION, {ONSET: "subacute", **CORD, **sign})
        for sign in (
            {},
            {DAYS: 15},
            {"context.walking_aid": "crutches"},
            {"context.walks_unaided": "with_support"},
            background("vascular_risk"),
            told("leg_stiffness", "urinary_urgency"),
        )
    ),
    (COMPRESSION, {ONSET: "subacute", **ONE_SIDED_CORD, TOLD: ["bladder_or_bowel_disturbance", "back_pain"]}),
    (COMPRESSION, {ONSET: "subacute", f"{HIP}.right": "4", TOLD: ["bowel_incontinence"]}),
    (COMPRESSION, {ONSET: "chronic", **CORD, TOLD: ["urinary_urgency", "saddle_numbness"]}),
    (CAUDA, {"sensation.saddle": "normal", "context.bladder": "retention"}),
    (CAUDA, {"context.bladder": "hesitancy", TOLD: ["back_pain", "weakness"]}),
    (CAUDA, {"context.residual_urine_ml": 200, TOLD: ["back_pain", "weakness"]}),
    (CAUDA, {ONSET: "subacute", **told("back_pain"), **LOW, "sensation.saddle": "normal"}),
    (CAUDA, {ONSET: "chronic", **told("back_pain"), **LOW}),
    (CAUDA, {ONSET: "subacute", **told("neck_pain"), **LOW}),
    (CAUDA, {ONSET: "subacute", **told("back_pain"), f"{ANKLE}.right": "absent", f"{ANKLE}.left": "reduced"}),
    (RAPID, {ONSET: "subacute", DAYS: 29, HIP: "4-", **LOW}),
    (RAPID, {DAYS: 29, HIP: "4-", **LOW}),
    (RAPID, {ONSET: "chronic", DAYS: 5, HIP: "4-", **LOW}),
    (RAPID, {ONSET: "acute", HIP: "4", **LOW}),
    (RAPID, {ONSET: "acute", f"{HIP}.right": "3", f"{HIP}.left": "5", **LOW}),
    (RAPID, {ONSET: "acute", HIP: "3", f"{ANKLE}.right": "absent", f"{ANKLE}.left": "normal"}),
    (RAPID, {ONSET: "acute", **LOW, f"{EYES}.eye_movements": "restricted", HEEL: "mild", GAIT: ["cautious"]}),
    (RAPID, {ONSET: "acute", **LOW, f"{EYES}.eye_movements": "full", GAIT: ["ataxic"]}),
    (THIAMINE, {TOLD: ["confusion"], f"{EYES}.nystagmus": "none", HEEL: "mild", GAIT: ["cautious"]}),
    (THIAMINE, {TOLD: ["slowed_thinking"], GAIT: ["ataxic"], f"{EYES}.nystagmus": "downbeat"}),
    (THIAMINE, {BACKGROUND: ["alcohol"], GAIT: ["ataxic"]}),
    (THIAMINE, {BACKGROUND: ["alcohol"], f"{EYES}.nystagmus": "downbeat"}),
    (THIAMINE, {BACKGROUND: ["alcohol"], TOLD: ["confusion"]}),
    (THIAMINE, {BACKGROUND: ["restricted_diet"], GAIT: ["ataxic"], f"{EYES}.nystagmus": "downbeat"}),
    (HEAD, {CAUTIONS: ["pregnant"], TOLD: ["head_injury", "confusion"]}),
    (HEAD, {CAUTIONS: ["anticoagulated"], TOLD: ["falls", "headache"], ONSET: "chronic"}),
    (HEAD, {CAUTIONS: ["anticoagulated"], TOLD: ["falls", "neck_pain"], ONSET: "acute"}),
    (HEAD, {CAUTIONS: ["anticoagulated"], TOLD: ["headache"], ONSET: "acute", "context.falls_past_year": 0}),
    (HEAD, {CAUTIONS: ["anticoagulated"], TOLD: ["falls"], ONSET: "acute", "context.fall_injury": "fracture"}),
    (BREATH, {HIP: "4+", "motor.neck_flexion": "4+", "motor.breath_count": 20, TOLD: ["slurred_speech"]}),
    (BREATH, {HIP: "5", "motor.neck_flexion": "4", "motor.breath_count": 10, TOLD: ["breathlessness"]}),
    (SPINE, {TOLD: ["back_pain", "numbness"], BACKGROUND: ["diabetes"]}),
    (SPINE, {TOLD: ["leg_pain_both", "fever", "numbness"]}),
    (SPINE, {TOLD: ["back_pain", "fever"], HIP: "5", ANKLE: "normal", PLANTAR: "flexor", KNEE: "brisk"}),
    (PRESSURE, {LYING: pressure(110), AT_1: pressure(90), "circulation.symptoms_on_standing": "yes"}),
    (PRESSURE, {LYING: pressure(150), AT_1: pressure(121), "circulation.symptoms_on_standing": "yes"}),
    (PRESSURE, {LYING: pressure(150), AT_1: pressure(120), TOLD: ["light_headedness"]}),
    (PRESSURE, {LYING: pressure(89)}),
    (ATAXIA, {ONSET: "subacute", DAYS: 61, GAIT: ["ataxic"]}),
    (ATAXIA, {ONSET: "sudden", DAYS: 3, GAIT: ["ataxic"]}),
    (ATAXIA, {ONSET: "chronic", DAYS: 30, GAIT: ["ataxic"]}),
    (ATAXIA, {ONSET: "subacute", HEEL: "mild", f"{OPEN}.sway": "moderate", GAIT: ["stamping"]}),
    (ATAXIA, {ONSET: "subacute", GAIT: ["ataxic"], f"{UP}.left": "3"}),
    (ATAXIA, {ONSET: "subacute", GAIT: ["ataxic"], f"{JP}.left": "impaired"}),
    (ATAXIA, {**VERTIGO, ONSET: "subacute", DAYS: 10, GAIT: ["ataxic"]}),
    (ATAXIA, {ONSET: "subacute", GAIT: ["ataxic"], TOLD: ["confusion"]}),
    (ATAXIA, {ONSET: "acute", DAYS: 2, GAIT: ["ataxic"], "coordination.speech": "slurred"}),
    (ATAXIA, {ONSET: "acute", GAIT: ["ataxic"], **LOW, f"{EYES}.eye_movements": "restricted"}),
    (PROGRESSIVE, {**CORD, DAYS: 1096}),
    (PROGRESSIVE, {**CORD, "context.compared_with_usual": "as_usual"}),
    (PROGRESSIVE, {**ONE_SIDED_CORD, GAIT: ["ataxic"], "sensation.trunk_level": "none"}),
    (PROGRESSIVE, {**ONE_SIDED_CORD, GAIT: ["spastic_right"], ONSET: "sudden"}),
    (TREATABLE, {JP: "absent", PLANTAR: "extensor", DAYS: 1096}),
    (TREATABLE, {JP: "intact", f"{VIB}.right": "absent", f"{VIB}.left": "normal", PLANTAR: "extensor"}),
    (TREATABLE, {JP: "absent", PLANTAR: "mute", f"{KNEE}.right": "brisk", f"{ANKLE}.left": "absent"}),
    (TREATABLE, {JP: "absent", PLANTAR: "mute", KNEE: "brisk", ANKLE: "reduced"}),
    (GANGLIA, {**NEURONOPATHY}),
    (GANGLIA, {**NEURONOPATHY, "sensation.hands_affected": "after_feet", PIN: "ankle"}),
    (GANGLIA, {**NEURONOPATHY, f"{PIN}.right": "toes", f"{PIN}.left": "foot"}),
    (GANGLIA, {**NEURONOPATHY, ONSET: "sudden", "sensation.hands_affected": "together"}),
    (GANGLIA, {**NEURONOPATHY, ONSET: "chronic", "sensation.hands_affected": "together"}),
    (GANGLIA, {**NEURONOPATHY, f"{ANKLE}.left": "reduced", "sensation.hands_affected": "together"}),
    (GANGLIA, {**NEURONOPATHY, JP: "intact", "sensation.hands_affected": "together"}),
    (GANGLIA, {**NEURONOPATHY, f"{HIP}.left": "4", "sensation.hands_affected": "together"}),
    (GANGLIA, {**NEURONOPATHY, f"{PLANTAR}.left": "extensor", "sensation.hands_affected": "together"}),
    (GANGLIA, {**NEURONOPATHY, f"{JP}.left": {"correct": 3, "trials": 4}}),
    (MUSCLE, {**PROXIMAL, HIP: "4+", UP: "5"}),
    (MUSCLE, {**PROXIMAL, UP: "4"}),
    (MUSCLE, {**PROXIMAL, f"{UP}.left": "4"}),
    (MUSCLE, {**PROXIMAL, f"{HIP}.left": "5", f"{UP}.left": "5"}),
    (MUSCLE, {**PROXIMAL, ONSET: "acute"}),
    (MUSCLE, {**PROXIMAL, ONSET: "chronic", DAYS: 366}),
    (MUSCLE, {**PROXIMAL, ONSET: "chronic"}),
    (MUSCLE, {**PROXIMAL, f"{PLANTAR}.left": "extensor"}),
    (GAIT_BLADDER, {GAIT: ["magnetic"], "context.bladder": "hesitancy", TOLD: ["drowsiness"]}),
    (GAIT_BLADDER, {GAIT: ["festinating"], "walking.base": "wide", "context.bladder": "urgency"}),
    (GAIT_BLADDER, {GAIT: ["shuffling"], "walking.base": "normal", "context.bladder": "urgency", TOLD: []}),
    (
        GAIT_BLADDER,
        {GAIT: ["shuffling"], "walking.base": "normal", TOLD: ["slowed_thinking"], "context.bladder": "normal"},
    ),
    (GAIT_BLADDER, {GAIT: ["freezing"], "walking.base": "narrow", TOLD: ["slowed_thinking", "urinary_urgency"]}),
    (FALLS, {"context.falls_past_year": 1, JP: "absent"}),
    (FALLS, {"context.fall_injury": "none", TOLD: ["falls"], JP: "absent"}),
    *(
        (FALLS, {"context.fall_injury": "minor", **sign})
        for sign in (
            {**STANCE_LOST, f"{CLOSED}.sway": "slight", f"{CLOSED}.ended": "held"},
            {"walking.tandem.correct_steps": 6},
            {"standing.pull_test": "steps_then_recovers"},
            {"standing.single_leg.eyes_open.seconds": 5},
            {LYING: pressure(120), AT_1: pressure(101), AT_3: pressure(101)},
            {"walking.timed_up_and_go_seconds": 40},
            {JP: "intact"},
        )
    ),
]

# The row, what was found, an age, whether it is raised. Timed up and go: Shumway-Cook 2000, Phys Ther 80:896-903,
# cut-off from memory.
HURT: Found = {"context.fall_injury": "minor"}
AGES: list[tuple[Found, int, bool]] = [
    ({**HURT, "walking.timed_up_and_go_seconds": 13.5}, 60, True),
    ({**HURT, "walking.timed_up_and_go_seconds": 13.4}, 60, False),
    ({**HURT, "walking.timed_up_and_go_seconds": 13.5}, 59, False),
    ({**HURT, "walking.tandem.correct_steps": 5}, 74, True),
    ({**HURT, "walking.tandem.correct_steps": 3}, 75, False),
]


def raised(made: Any, found: Found, age: int = 50) -> tuple[Facts, dict[str, Any]]:
    facts = Facts(made({path: value for path, value in found.items() if value is not None}, age=age))
    return facts, {one.code: one for one in urgent_findings(facts)}


def named(rows: list[Any]) -> list[str]:
    return [f"{row[0]}: {row[1]}" for row in rows]


@pytest.mark.parametrize(("code", "found", "urgency"), RAISED, ids=named(RAISED))
def test_each_way_raises_it_and_is_named(made: Any, code: str, found: Found, urgency: str) -> None:
    facts, codes = raised(made, found)
    assert codes[code].urgency == urgency
    assert set(codes[code].items) == set(facts.found)


@pytest.mark.parametrize(("code", "found", "urgency"), FASTER, ids=named(FASTER))
def test_onset_and_second_reasons_decide_how_fast(made: Any, code: str, found: Found, urgency: str) -> None:
    assert raised(made, found)[1][code].urgency == urgency


@pytest.mark.parametrize(("code", "found"), SILENT, ids=named(SILENT))
def test_what_comes_close_raises_nothing(made: Any, code: str, found: Found) -> None:
    assert code not in raised(made, found)[1]


@pytest.mark.parametrize(("found", "age", "is_raised"), AGES)
def test_age_decides_what_counts_as_a_next_fall(made: Any, found: Found, age: int, is_raised: bool) -> None:
    assert (FALLS in raised(made, found, age)[1]) is is_raised
