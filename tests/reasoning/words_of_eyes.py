"""Words for vertigo, eyes and the story: by name, the sign, what makes it hold, what does not.

Common practice where no source stands beside a row. Every finding that makes it hold is one it rests on.
"""

from neuroform.reasoning import eye_signs as eyes
from neuroform.reasoning import signs
from tests.reasoning.words import Found, Row, Word, here

ONSET = "context.onset"
DAYS = "context.duration_days"
COURSE = "context.course"
TOLD = "context.symptoms"
EYES = "head_and_eyes"
NOW = "head_and_eyes.vertigo_now"
NYSTAGMUS = "head_and_eyes.nystagmus"
IMPULSE = "head_and_eyes.head_impulse"
JP = "sensation.joint_position"
FINGER = "coordination.finger_nose"
VERTIGO: Found = {TOLD: ["vertigo"]}

ROWS: dict[str, Row] = {
    "vertigo that goes on": (
        signs.ongoing,
        [
            {**VERTIGO, ONSET: "sudden", DAYS: 60},
            {**VERTIGO, ONSET: "acute", DAYS: 60, COURSE: "continuous"},
            {**VERTIGO, ONSET: "acute", COURSE: "progressive"},
            {**VERTIGO, ONSET: "acute", COURSE: "fluctuating"},
            {**VERTIGO, ONSET: "subacute", DAYS: 14},
            {**VERTIGO, DAYS: 30},
            {**VERTIGO, DAYS: 31, NYSTAGMUS: "none"},
            VERTIGO,
            {NOW: "yes", ONSET: "sudden"},
        ],
        [
            {**VERTIGO, ONSET: "sudden", DAYS: 61},
            {**VERTIGO, ONSET: "acute", DAYS: 61},
            {**VERTIGO, ONSET: "subacute", DAYS: 15},
            {**VERTIGO, ONSET: "subacute"},
            {**VERTIGO, ONSET: "chronic", DAYS: 1},
            {**VERTIGO, DAYS: 31},
            {**VERTIGO, NOW: "no"},
            {**VERTIGO, COURSE: "episodic"},
            {**VERTIGO, COURSE: "positional"},
            {**VERTIGO, COURSE: "resolved"},
        ],
    ),
    "new": (
        signs.new,
        [{ONSET: "sudden"}, {ONSET: "acute"}, {ONSET: "subacute"}, {DAYS: 90}],
        [{ONSET: "chronic"}, {ONSET: "chronic", DAYS: 3}, {DAYS: 91}],
    ),
    "speech": (
        signs.speech_ataxic,
        [{"coordination.speech": "slurred"}, {"coordination.speech": "scanning"}],
        [{"coordination.speech": "normal"}],
    ),
    "eyes or speech": (
        signs.eye_or_speech,
        [{f"{EYES}.gaze_evoked_nystagmus": "present"}, {"coordination.speech": "scanning"}],
        [{f"{EYES}.gaze_evoked_nystagmus": "absent", "coordination.speech": "normal"}],
    ),
    "nystagmus of a central direction": (
        signs.nystagmus_central,
        [{NYSTAGMUS: word} for word in ("vertical", "upbeat", "downbeat", "torsional", "mixed_direction")],
        [{NYSTAGMUS: word} for word in ("none", "beats_right", "beats_left")],
    ),
    "a brainstem sign": (
        signs.brainstem_sign,
        [{f"{EYES}.brainstem_signs": [word]} for word in ("hoarse_or_swallowing", "small_pupil_and_ptosis_left")],
        [{f"{EYES}.brainstem_signs": ["none"]}],
    ),
    "beats right": (
        here(signs.beats_to),
        [{NYSTAGMUS: "beats_right"}],
        [{NYSTAGMUS: "beats_left"}, {NYSTAGMUS: "none"}],
    ),
    "beats left": (here(signs.beats_to, "left"), [{NYSTAGMUS: "beats_left"}], [{NYSTAGMUS: "beats_right"}]),
    "beats away from the right": (here(signs.beats_away), [{NYSTAGMUS: "beats_left"}], [{NYSTAGMUS: "beats_right"}]),
    "the neck may be unstable": (
        signs.neck_raised,
        [
            {"context.cautions": ["neck_trauma"]},
            {"context.cautions": ["neck_instability"], ONSET: "sudden"},
            {"context.cautions": ["neck_instability"], ONSET: "acute"},
            {"context.cautions": ["neck_instability"]},
            {TOLD: ["neck_injury"]},
            {"context.cautions": ["neck_artery_dissection"], TOLD: ["neck_pain"]},
            {"context.cautions": ["neck_artery_dissection"], **VERTIGO, ONSET: "sudden"},
        ],
        [
            {"context.cautions": ["neck_instability"], TOLD: ["neck_injury"], ONSET: "subacute"},
            {"context.cautions": ["neck_instability"], TOLD: ["neck_injury"], ONSET: "chronic"},
            {"context.cautions": ["neck_artery_dissection"], TOLD: [], NOW: "no"},
            {"context.cautions": ["neck_surgery", "severe_neck_pain", "atlantoaxial_risk"], TOLD: ["neck_pain"]},
        ],
    ),
    # Caine 1997, from memory.
    "nutrition at risk": (
        signs.nutrition_risk,
        [
            {"context.background": [word]}
            for word in ("alcohol", "poor_nutrition_or_vomiting", "bariatric_or_bowel_surgery")
        ],
        [{"context.background": ["restricted_diet", "diabetes"]}],
    ),
    "vertigo among the symptoms or now": (
        eyes.vertigo_told,
        [VERTIGO, {NOW: "yes"}],
        [{TOLD: ["falls"]}, {TOLD: ["falls"], NOW: "no"}],
    ),
    "acute vertigo": (
        eyes.acute_vertigo,
        [{**VERTIGO, ONSET: onset, COURSE: "continuous"} for onset in ("sudden", "acute")],
        [
            {**VERTIGO, ONSET: "subacute", COURSE: "continuous"},
            {**VERTIGO, ONSET: "acute", COURSE: "episodic"},
            {**VERTIGO, ONSET: "acute", COURSE: "continuous", NOW: "no"},
            {TOLD: [], ONSET: "acute", COURSE: "continuous"},
        ],
    ),
    "of attacks": (eyes.of_attacks, [VERTIGO], [{**VERTIGO, COURSE: "continuous"}]),
    "horizontal": (
        eyes.horizontal,
        [{NYSTAGMUS: "beats_right"}, {NYSTAGMUS: "beats_left"}],
        [{NYSTAGMUS: "none"}, {NYSTAGMUS: "torsional"}],
    ),
    "spontaneous": (eyes.spontaneous, [{NYSTAGMUS: "downbeat"}, {NYSTAGMUS: "beats_left"}], [{NYSTAGMUS: "none"}]),
    "new deafness": (
        eyes.new_deafness,
        [{f"{EYES}.new_hearing_loss.right": "yes"}, {f"{EYES}.new_hearing_loss.left": "yes"}],
        [{f"{EYES}.new_hearing_loss": "no"}],
    ),
    "impulse normal where it should be lost": (
        eyes.impulse_normal_where_lost,
        [
            {NYSTAGMUS: "beats_right", f"{IMPULSE}.left": "normal"},
            {NYSTAGMUS: "beats_left", f"{IMPULSE}.right": "normal"},
        ],
        [{NYSTAGMUS: "beats_right", f"{IMPULSE}.left": "corrective_saccade"}],
    ),
    "impulse against nystagmus": (
        eyes.impulse_against_nystagmus,
        [
            {NYSTAGMUS: "beats_right", f"{IMPULSE}.right": "corrective_saccade"},
            {NYSTAGMUS: "beats_left", f"{IMPULSE}.left": "corrective_saccade"},
            {IMPULSE: "corrective_saccade"},
        ],
        [{NYSTAGMUS: "beats_right", f"{IMPULSE}.left": "corrective_saccade", f"{IMPULSE}.right": "normal"}],
    ),
    "hindbrain": (
        eyes.hindbrain,
        [
            {"coordination.speech": "slurred"},
            {f"{FINGER}.left": "moderate", f"{JP}.finger.left": "intact"},
            {f"{EYES}.brainstem_signs": ["tongue_deviation"]},
            {"standing.sitting_balance": "cannot_sit"},
        ],
        [],
    ),
    "corrective to the right alone": (
        here(eyes.corrective_one_side),
        [{f"{IMPULSE}.right": "corrective_saccade", f"{IMPULSE}.left": "normal"}],
        [{IMPULSE: "corrective_saccade"}, {IMPULSE: "normal"}],
    ),
    "corrective for long": (
        here(eyes.corrective_for_long),
        [{f"{IMPULSE}.right": "corrective_saccade", NYSTAGMUS: "none", ONSET: "chronic"}],
        [
            {f"{IMPULSE}.right": "corrective_saccade", NYSTAGMUS: "none", ONSET: "subacute"},
            {f"{IMPULSE}.right": "corrective_saccade", NYSTAGMUS: "beats_left", ONSET: "chronic"},
        ],
    ),
    "both corrective for long": (
        eyes.both_corrective_for_long,
        [{IMPULSE: "corrective_saccade", NYSTAGMUS: "none", ONSET: "chronic"}],
        [{IMPULSE: "corrective_saccade", NYSTAGMUS: "none", ONSET: "subacute"}],
    ),
    "the picture bobs": (
        eyes.picture_bobs,
        [{TOLD: ["oscillopsia"]}, {f"{EYES}.acuity_lines_lost_on_head_shaking": 3}],
        [{TOLD: [], f"{EYES}.acuity_lines_lost_on_head_shaking": 2}],
    ),
    # Strupp 2017, J Vestib Res 27:177.
    "gain lost on both sides": (
        eyes.gains_lost,
        [{f"{EYES}.head_impulse_gain": 0.59}],
        [{f"{EYES}.head_impulse_gain": 0.6}, {f"{EYES}.head_impulse_gain.left": 0.7}],
    ),
    "impulses differ": (
        eyes.impulses_differ,
        [
            {f"{IMPULSE}.right": "corrective_saccade", f"{IMPULSE}.left": "normal"},
            {f"{IMPULSE}.left": "corrective_saccade", f"{IMPULSE}.right": "normal"},
        ],
        [{IMPULSE: "normal"}, {IMPULSE: "corrective_saccade"}],
    ),
    # von Brevern 2015, J Vestib Res 25:105: crystals float for a minute at most.
    "crystals": (
        here(eyes.crystals),
        [{f"{EYES}.positional_test.right": "upbeat_torsional"}],
        [
            {f"{EYES}.positional_test": "horizontal"},
            {f"{EYES}.positional_test": "upbeat_torsional", f"{EYES}.positional_duration_seconds": 61},
        ],
    ),
    "positional for long": (
        here(eyes.positional_for_long),
        [{f"{EYES}.positional_duration_seconds.right": 61}],
        [{f"{EYES}.positional_duration_seconds": 60}],
    ),
    "head shaking beats away from the right": (
        here(eyes.shaking_beats_away),
        [{f"{EYES}.head_shaking_nystagmus": "beats_left"}],
        [{f"{EYES}.head_shaking_nystagmus": "beats_right"}, {f"{EYES}.head_shaking_nystagmus": "none"}],
    ),
    "head shaking beats away from the left": (
        here(eyes.shaking_beats_away, "left"),
        [{f"{EYES}.head_shaking_nystagmus": "beats_right"}],
        [{f"{EYES}.head_shaking_nystagmus": "beats_left"}],
    ),
}

# What it shows, the sign, what leaves it unknown.
UNKNOWN: list[tuple[str, Word, Found]] = [
    ("no symptom list", signs.ongoing, {ONSET: "sudden"}),
    ("uncertain impulse", here(signs.impulse_corrective), {f"{IMPULSE}.right": "uncertain"}),
    ("uncertain gaze", signs.eye_or_speech, {f"{EYES}.gaze_evoked_nystagmus": "uncertain"}),
    ("one gain", eyes.gains_lost, {f"{EYES}.head_impulse_gain.left": 0.5}),
    ("no course", eyes.acute_vertigo, {**VERTIGO, ONSET: "acute"}),
    ("no onset", eyes.acute_vertigo, {**VERTIGO, COURSE: "continuous"}),
]

# What it shows, the sign, what was found, the age, whether it holds.
AGES: list[tuple[str, Word, Found, int, bool | None]] = [
    ("vertigo now, though not told", eyes.vertigo_told, {TOLD: ["falls"], NOW: "yes"}, 50, True),
]
