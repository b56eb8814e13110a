"""What a verdict has to know: a pattern that is supported, or unlikely, and what becomes of it without each finding."""

from typing import Any, cast

import pytest

from neuroform.exam.walk import Side
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.mechanism import judge
from neuroform.reasoning.patterns import PATTERNS
from neuroform.reasoning.results import Verdict

Found = dict[str, Any]
BY_NAME = {pattern.name: pattern for pattern in PATTERNS}
EYES, GAIT, STEPS = "head_and_eyes", "walking.pattern", "walking.tandem.correct_steps"
IMPULSE, NYSTAGMUS, GAZE, SKEW = (
    f"{EYES}.{item}" for item in ("head_impulse", "nystagmus", "gaze_evoked_nystagmus", "skew")
)
TOE, VIB, PIN = "sensation.joint_position.great_toe", "sensation.vibration.great_toe", "sensation.pinprick"
ANKLE, KNEE, PLANTAR = "reflexes.ankle", "reflexes.knee", "reflexes.plantar"
HIP, UP = "motor.power.hip_flexion", "motor.power.ankle_dorsiflexion"
HEEL, FINGER, SPEECH = "coordination.heel_shin", "coordination.finger_nose", "coordination.speech"
OPEN, CLOSED = "standing.firm.eyes_open", "standing.firm.eyes_closed"
ONSET, TOLD = "context.onset", "context.symptoms"


def sides(*items: str) -> list[str]:
    return [f"{item}.{side}" for item in items for side in ("right", "left")]


def split(found: Found, *items: str) -> Found:
    """Write findings of both sides out side by side, so that one can be left out."""
    whole = {path: value for path, value in found.items() if path not in items}
    return whole | {f"{item}.{side}": found[item] for item in items if item in found for side in ("right", "left")}


CHANGE: Found = {
    f"{OPEN}.sway": "none",
    f"{OPEN}.ended": "held",
    f"{CLOSED}.sway": "marked",
    f"{CLOSED}.ended": "fell",
}
BENIGN: Found = {
    TOLD: ["vertigo"],
    ONSET: "acute",
    "context.course": "continuous",
    NYSTAGMUS: "beats_left",
    f"{IMPULSE}.right": "corrective_saccade",
    f"{IMPULSE}.left": "normal",
    GAZE: "absent",
    SKEW: "absent",
}
NEUROPATHY = split({VIB: "absent", PIN: "ankle", ANKLE: "absent"}, VIB, PIN, ANKLE)
POSTERIOR = split({TOE: "absent", PLANTAR: "extensor", ANKLE: "normal"}, TOE, PLANTAR, ANKLE)
OLD_LOSS: Found = {
    f"{IMPULSE}.right": "corrective_saccade",
    f"{IMPULSE}.left": "normal",
    NYSTAGMUS: "none",
    ONSET: "chronic",
}
TRUNK = split(
    {
        HIP: "5",
        UP: "5",
        TOE: "intact",
        GAIT: ["ataxic"],
        "standing.sitting_balance": "unsteady",
        f"{OPEN}.sway": "moderate",
        STEPS: 7,
        GAZE: "absent",
        HEEL: "normal",
    },
    HEEL,
)
FUNCTIONAL = split(
    {
        "standing.firm.distraction": "steadier",
        GAIT: ["as_on_ice"],
        TOE: "intact",
        IMPULSE: "normal",
        GAZE: "absent",
        PLANTAR: "flexor",
    },
    TOE,
    IMPULSE,
    PLANTAR,
)
STIFF: Found = {f"{PLANTAR}.right": "extensor", f"{KNEE}.right": "brisk", f"{ANKLE}.right": "brisk"}
VISION = split({**CHANGE, TOE: "intact", IMPULSE: "normal"}, TOE, IMPULSE)
QUIET: Found = {
    f"{OPEN}.sway": "slight",
    f"{OPEN}.ended": "held",
    f"{CLOSED}.sway": "slight",
    f"{CLOSED}.ended": "held",
}
NO_CEREBELLUM = split(
    {TOE: "absent", SPEECH: "normal", GAZE: "absent", FINGER: "normal", "sensation.joint_position.finger": "intact"},
    FINGER,
)

# The pattern, what was found, its verdict, each finding without which it is another, and that one.
WITHOUT: list[tuple[str, Found, Verdict, list[str], Verdict]] = [
    ("sensory_ataxia", {**CHANGE, TOE: "absent", VIB: "absent"}, "supported", [VIB, TOE], "possible"),
    ("length_dependent_neuropathy", NEUROPATHY, "supported", sides(VIB, PIN, ANKLE), "possible"),
    ("dorsal_column", POSTERIOR, "supported", sides(TOE, PLANTAR, ANKLE), "possible"),
    (
        "acute_vestibular_peripheral:right",
        BENIGN,
        "supported",
        [*sides(IMPULSE), NYSTAGMUS, GAZE, SKEW, "context.course", ONSET],
        "not_assessable",
    ),
    ("acute_vestibular_central", BENIGN, "unlikely", [*sides(IMPULSE), NYSTAGMUS, SKEW], "not_assessable"),
    ("compensated_vestibular:right", OLD_LOSS, "supported", [NYSTAGMUS], "possible"),
    (
        "bilateral_vestibular",
        {**split({IMPULSE: "corrective_saccade"}, IMPULSE), TOLD: ["oscillopsia"]},
        "supported",
        sides(IMPULSE),
        "possible",
    ),
    ("cerebellar_midline", TRUNK, "supported", [f"{OPEN}.sway", STEPS, GAZE, *sides(HEEL)], "possible"),
    (
        "cerebellar_midline",
        {f"{OPEN}.sway": "moderate", STEPS: 8},
        "unlikely",
        [f"{OPEN}.sway", STEPS],
        "not_assessable",
    ),
    (
        "combined_sensory_cerebellar",
        NO_CEREBELLUM,
        "unlikely",
        [SPEECH, GAZE, *sides(FINGER)],
        "not_assessable",
    ),
    (
        "functional",
        FUNCTIONAL,
        "supported",
        [*sides(TOE, IMPULSE, PLANTAR), GAZE],
        "possible",
    ),
    ("functional", QUIET, "unlikely", list(QUIET), "not_assessable"),
    ("upper_motor_neurone:right", STIFF, "supported", [f"{KNEE}.right", f"{ANKLE}.right"], "possible"),
    (
        "lower_motor_neurone_weakness:right",
        {f"{HIP}.right": "4", f"{UP}.right": "4", f"{KNEE}.right": "reduced", f"{ANKLE}.right": "absent"},
        "supported",
        [f"{KNEE}.right", f"{ANKLE}.right"],
        "possible",
    ),
    (
        "lower_motor_neurone_weakness:right",
        {f"{HIP}.right": "4", f"{UP}.right": "5", f"{KNEE}.right": "normal", f"{ANKLE}.right": "normal"},
        "unlikely",
        [f"{UP}.right", f"{KNEE}.right", f"{ANKLE}.right"],
        "not_assessable",
    ),
    ("visual_dependence", VISION, "possible", sides(TOE, IMPULSE), "not_assessable"),
]

# A cord damaged within days loses the reflexes that would show it.
SHOCKED: Found = {KNEE: "absent", ANKLE: "absent", PLANTAR: "mute"}
SHOCK: list[tuple[str, Found, Verdict]] = [
    ("upper_motor_neurone:right", {**SHOCKED, ONSET: "sudden", "sensation.trunk_level": "T6"}, "not_assessable"),
    ("upper_motor_neurone:right", {**SHOCKED, ONSET: "acute", "context.bladder": "retention"}, "not_assessable"),
    ("upper_motor_neurone:right", {**SHOCKED, ONSET: "subacute", "sensation.trunk_level": "T6"}, "unlikely"),
    ("upper_motor_neurone:right", {**SHOCKED, ONSET: "sudden", "sensation.trunk_level": "none"}, "unlikely"),
]

# The pattern, what was found, its verdict.
BORDERS: list[tuple[str, Found, Verdict]] = [
    # It is not denied while joint position, or all vibration, is blank.
    ("sensory_ataxia", {VIB: "normal"}, "not_assessable"),
    ("sensory_ataxia", {f"{TOE}.right": "intact", VIB: "normal"}, "not_assessable"),
    # Supported needs lost position, and something that misses it.
    ("sensory_ataxia", {TOE: "absent", VIB: "absent"}, "possible"),
    ("sensory_ataxia", {TOE: "absent", VIB: "absent", GAIT: ["stamping"]}, "supported"),
    ("sensory_ataxia", {TOE: "absent", VIB: "absent", f"{HEEL}_eyes_closed": "severe", HEEL: "normal"}, "supported"),
    ("sensory_ataxia", {TOE: {"correct": 3, "trials": 4}, VIB: "absent", GAIT: ["stamping"]}, "possible"),
    # Supported needs two of vibration, pinprick and ankle reflexes.
    (
        "length_dependent_neuropathy",
        {VIB: "absent", ANKLE: "reduced", TOE: "impaired", PIN: "none", "sensation.hands_affected": "after_feet"},
        "possible",
    ),
    ("length_dependent_neuropathy", {VIB: "absent", PIN: "none", ANKLE: "absent"}, "supported"),
    # Supported needs a sign of the cord beside lost position.
    (
        "dorsal_column",
        {
            TOE: "absent",
            VIB: "absent",
            PIN: "none",
            "sensation.temperature": "none",
            PLANTAR: "flexor",
            ANKLE: "normal",
        },
        "possible",
    ),
    (
        "dorsal_column",
        {TOE: "absent", VIB: "absent", f"{KNEE}.left": "brisk", PLANTAR: "flexor", ANKLE: "normal"},
        "supported",
    ),
    (
        "dorsal_column",
        {TOE: "absent", "sensation.trunk_level": "T4", PLANTAR: "mute", ANKLE: "normal"},
        "supported",
    ),
    ("dorsal_column", {PLANTAR: "extensor", "sensation.trunk_level": "T4", ANKLE: "normal"}, "possible"),
    # Supported needs the saccade to one side alone.
    (
        "compensated_vestibular:right",
        {f"{IMPULSE}.right": "corrective_saccade", NYSTAGMUS: "none", ONSET: "chronic", TOLD: ["oscillopsia"]},
        "possible",
    ),
    ("bilateral_vestibular", {f"{EYES}.head_impulse_gain": 0.59}, "supported"),
    ("bilateral_vestibular", {f"{EYES}.head_impulse_gain": 0.59, f"{IMPULSE}.left": "normal"}, "supported"),
    # Vertigo that goes on caps the midline; a sitting balance that is kept belongs to the benign triad.
    ("cerebellar_midline", {**TRUNK, TOLD: ["vertigo"], ONSET: "acute"}, "possible"),
    # Even possible needs both parts.
    ("combined_sensory_cerebellar", {TOE: "absent", SPEECH: "slurred"}, "supported"),
    ("combined_sensory_cerebellar", {TOE: "absent", GAIT: ["ataxic"]}, "not_assessable"),
    # Marked sway, or a loss, has to be looked at more closely before it is denied.
    ("functional", {**QUIET, f"{CLOSED}.sway": "marked"}, "not_assessable"),
    ("functional", {**QUIET, f"{OPEN}.ended": "stepped"}, "not_assessable"),
    ("functional", {**QUIET, f"{CLOSED}.sway": "marked", "standing.firm.sway_from": "both"}, "unlikely"),
    ("functional", {"standing.firm.distraction": "unchanged"}, "unlikely"),
    # Brisk reflexes and a stiff gait do not make it without one of plantar, clonus and tone.
    (
        "upper_motor_neurone:right",
        {f"{KNEE}.right": "brisk", f"{ANKLE}.right": "normal", f"{PLANTAR}.right": "mute", GAIT: ["spastic"]},
        "possible",
    ),
    (
        "upper_motor_neurone:right",
        {f"{KNEE}.right": "brisk", f"{ANKLE}.right": "normal", f"{PLANTAR}.right": "mute", "motor.tone": "increased"},
        "supported",
    ),
    *SHOCK,
    # A gait of its kind, or a fall on the pull test, is needed even for possible.
    ("frontal_or_parkinsonian_gait", {"motor.tone": "rigid", "standing.pull_test": "would_fall"}, "possible"),
    (
        "frontal_or_parkinsonian_gait",
        {"motor.tone": "rigid", "standing.pull_test": "would_fall", GAIT: ["cautious"]},
        "supported",
    ),
    ("frontal_or_parkinsonian_gait", {"motor.tone": "rigid"}, "not_assessable"),
    ("visual_dependence", VISION, "possible"),
]


def verdict_of(made: Any, pattern: str, found: Found) -> Verdict:
    name, _, side = pattern.partition(":")
    return judge(BY_NAME[name], Facts(made(found)), cast(Side | None, side or None)).verdict


@pytest.mark.parametrize(
    ("pattern", "found", "whole", "needed", "less"), WITHOUT, ids=[f"{row[0]} {row[2]}" for row in WITHOUT]
)
def test_without_each_it_says_less(
    made: Any, pattern: str, found: Found, whole: Verdict, needed: list[str], less: Verdict
) -> None:
    assert verdict_of(made, pattern, found) == whole
    left = {path: verdict_of(made, pattern, {key: at for key, at in found.items() if key != path}) for path in needed}
    assert left == dict.fromkeys(needed, less)


@pytest.mark.parametrize(("pattern", "found", "expected"), BORDERS, ids=[f"{row[0]}: {row[1]}" for row in BORDERS])
def test_at_the_border(made: Any, pattern: str, found: Found, expected: Verdict) -> None:
    assert verdict_of(made, pattern, found) == expected


@pytest.mark.parametrize(
    "changed",
    [
        {f"{EYES}.new_hearing_loss": None},
        {GAZE: None},
        {SKEW: None},
        {"standing.sitting_balance": None},
        {f"{IMPULSE}.left": "corrective_saccade"},
        {f"{IMPULSE}.right": "uncertain"},
        {NYSTAGMUS: "none"},
        {NYSTAGMUS: "beats_right"},
        {f"{EYES}.new_hearing_loss.left": "yes"},
        {TOLD: []},
    ],
)
def test_a_benign_triad_that_is_not_whole_does_not_speak_against_the_midline(made: Any, changed: Found) -> None:
    whole = {
        **BENIGN,
        "standing.sitting_balance": "unsteady",
        f"{EYES}.new_hearing_loss.right": "no",
        f"{EYES}.new_hearing_loss.left": "no",
    }
    label = "eye signs of a loss on one side, complete"

    def against(found: Found) -> bool:
        said = judge(BY_NAME["cerebellar_midline"], Facts(made(found)), None).because
        return label in said

    assert against(whole)
    drop = (
        {f"{EYES}.new_hearing_loss.right", f"{EYES}.new_hearing_loss.left"}
        if f"{EYES}.new_hearing_loss" in changed
        else set()
    )
    less = {path: at for path, at in {**whole, **changed}.items() if at is not None and path not in drop}
    assert not against(less)
