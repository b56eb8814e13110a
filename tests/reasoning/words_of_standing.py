"""Words for standing, walking and coordination: by name, the sign, what makes it hold, what does not.

Common practice where no source stands beside a row. Every finding that makes it hold is one it rests on.
"""

from neuroform.reasoning import balance_signs as balance
from neuroform.reasoning import functional_signs as functional
from neuroform.reasoning import signs
from tests.reasoning.words import Found, Row, Word, here

STAND = "standing.firm"
WALK = "walking"
GAIT = "walking.pattern"
IMPULSE = "head_and_eyes.head_impulse"
HIP = "motor.power.hip_flexion"
UP = "motor.power.ankle_dorsiflexion"
JP = "sensation.joint_position"
HEEL = "coordination.heel_shin"
FINGER = "coordination.finger_nose"
OPEN = "standing.firm.eyes_open"
CLOSED = "standing.firm.eyes_closed"
FOAM = "standing.foam.eyes_closed"
ANKLE_JERK = "reflexes.ankle"
PLANTAR = "reflexes.plantar"
CLEAR: Found = {f"{HIP}.right": "4-", f"{UP}.right": "4-", f"{JP}.great_toe.right": "intact"}
STEPS = "walking.tandem.correct_steps"
TANDEM = signs.tandem_lost

ROWS: dict[str, Row] = {
    "cannot stand": (
        signs.cannot_stand,
        [
            {"standing.sitting_balance": "cannot_sit"},
            {"context.walks_unaided": "no"},
            {f"{OPEN}.ended": "fell"},
            {f"{OPEN}.ended": "needed_support"},
            {f"{OPEN}.sway": "not examined: unable"},
        ],
        [],
    ),
    "heel-shin moderate or worse": (
        here(signs.heel_shin_bad),
        [{f"{HEEL}.right": word} for word in ("moderate", "severe", "cannot_perform")],
        [{HEEL: "mild"}, {HEEL: "normal"}, {f"{HEEL}.right": "mild", f"{HEEL}.left": "severe"}],
    ),
    "heel-shin worse with eyes closed": (
        here(balance.heel_shin_worse_closed),
        [
            {f"{HEEL}_eyes_closed.right": word, f"{HEEL}.right": open_}
            for word in ("moderate", "severe", "cannot_perform")
            for open_ in ("normal", "mild")
        ],
        [{f"{HEEL}_eyes_closed": "mild", HEEL: "normal"}, {f"{HEEL}_eyes_closed": "severe", HEEL: "moderate"}],
    ),
    "heel-shin mild in one clear leg": (
        here(balance.heel_shin_one_sided),
        [{**CLEAR, f"{HEEL}.right": "mild", f"{HEEL}.left": "normal"}],
        [{**CLEAR, HEEL: "mild"}, {**CLEAR, f"{HEEL}.right": "moderate", f"{HEEL}.left": "normal"}],
    ),
    "heel-shin moderate in one clear leg": (
        here(balance.heel_shin_ataxic_one_side),
        [{**CLEAR, f"{HEEL}.right": "moderate", f"{HEEL}.left": "normal"}],
        [{**CLEAR, f"{HEEL}.right": "moderate", f"{HEEL}.left": "mild"}],
    ),
    "finger-nose with joint position kept": (
        here(signs.finger_ataxic),
        [
            {f"{FINGER}.right": word, f"{JP}.finger.right": "intact"}
            for word in ("moderate", "severe", "cannot_perform")
        ],
        [{FINGER: "mild", f"{JP}.finger": "intact"}],
    ),
    "finger-nose moderate or worse": (
        here(balance.finger_clumsy),
        [{f"{FINGER}.right": word} for word in ("moderate", "severe", "cannot_perform")],
        [{FINGER: "mild"}],
    ),
    "ten perfect heel-to-toe steps": (
        signs.tandem_perfect,
        [{f"{WALK}.tandem.correct_steps": 10}, {f"{WALK}.tandem.correct_steps": 10, f"{WALK}.tandem.side_steps": 0}],
        [
            {f"{WALK}.tandem.correct_steps": 9},
            {f"{WALK}.tandem.correct_steps": 10, f"{WALK}.tandem.side_steps": 1},
            {f"{WALK}.tandem.side_steps": 1},
        ],
    ),
    "gait ataxic": (
        signs.gait_ataxic,
        [{GAIT: ["ataxic"]}, {GAIT: ["lurching"]}],
        [{GAIT: ["veers_left", "cautious"]}],
    ),
    "gait frontal": (
        balance.gait_frontal,
        [{GAIT: [word]} for word in ("magnetic", "shuffling", "freezing", "festinating")],
        [{GAIT: ["cautious"]}],
    ),
    "unsteady with eyes open": (
        signs.unsteady_eyes_open,
        [{f"{OPEN}.sway": "marked"}, *({f"{OPEN}.ended": word} for word in ("stepped", "needed_support", "fell"))],
        [
            {f"{OPEN}.sway": "moderate", f"{OPEN}.ended": "held"},
            {f"{OPEN}.sway": "slight", f"{OPEN}.ended": "opened_eyes"},
        ],
    ),
    "steady with eyes open": (
        balance.steady_eyes_open,
        [{f"{OPEN}.sway": word, f"{OPEN}.ended": "held"} for word in ("none", "slight")],
        [
            {f"{OPEN}.sway": "moderate", f"{OPEN}.ended": "held"},
            {f"{OPEN}.sway": "none", f"{OPEN}.ended": "stopped_early"},
        ],
    ),
    "unsteady on foam": (
        balance.foam_unsteady,
        [
            *({f"{FOAM}.sway": word} for word in ("moderate", "marked")),
            *({f"{FOAM}.ended": word} for word in ("stepped", "opened_eyes", "needed_support", "fell")),
        ],
        [
            {f"{FOAM}.sway": "slight", f"{FOAM}.ended": "held"},
            {f"{FOAM}.sway": "none", f"{FOAM}.ended": "stopped_early"},
        ],
    ),
    "lost on foam alone": (
        balance.lost_on_foam_alone,
        [
            {f"{CLOSED}.ended": "held", f"{FOAM}.sway": "marked"},
            *(
                {f"{CLOSED}.ended": "held", f"{FOAM}.ended": word}
                for word in ("stepped", "opened_eyes", "needed_support", "fell")
            ),
        ],
        [
            {f"{CLOSED}.ended": "held", f"{FOAM}.sway": "moderate", f"{FOAM}.ended": "held"},
            {f"{CLOSED}.ended": "stepped", f"{FOAM}.sway": "marked"},
        ],
    ),
    "drifts right": (
        here(balance.drifts_to),
        [{GAIT: ["veers_right"]}, {f"{OPEN}.direction": "right"}, {f"{CLOSED}.direction": "right"}],
        [{GAIT: ["veers_left"], f"{OPEN}.direction": "left", f"{CLOSED}.direction": "any"}],
    ),
    "drifts left": (
        here(balance.drifts_to, "left"),
        [{GAIT: ["veers_left"]}, {f"{OPEN}.direction": "left"}, {f"{CLOSED}.direction": "left"}],
        [{GAIT: ["veers_right"], f"{OPEN}.direction": "backward", f"{CLOSED}.direction": "right"}],
    ),
    "swayed from the hips throughout": (
        functional.swayed_from_hips_throughout,
        [{f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "held", f"{STAND}.sway_from": "hips"}],
        [
            {f"{CLOSED}.sway": "moderate", f"{CLOSED}.ended": "held", f"{STAND}.sway_from": "hips"},
            {f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "stepped", f"{STAND}.sway_from": "hips"},
            {f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "held", f"{STAND}.sway_from": "both"},
        ],
    ),
    "gait functional": (
        functional.gait_functional,
        [
            {GAIT: ["effortful_inconsistent"]},
            {GAIT: ["as_on_ice"]},
            {GAIT: ["dragging"], HIP: "4"},
            {GAIT: ["knee_buckling"], HIP: "4"},
        ],
        [{GAIT: ["cautious"], HIP: "5"}],
    ),
    "unsteady, yet nine heel-to-toe steps": (
        functional.unsteady_yet_tandem,
        [{f"{OPEN}.sway": "marked", f"{WALK}.tandem.correct_steps": steps} for steps in (9, 10)],
        [{f"{OPEN}.sway": "marked", f"{WALK}.tandem.correct_steps": 8}],
    ),
    "functional weakness": (
        functional.functional_weakness,
        [
            {f"motor.{sign}.{side}": "positive"}
            for sign in ("hoover", "hip_abductor_sign")
            for side in ("right", "left")
        ],
        [{"motor.hoover": "negative", "motor.hip_abductor_sign": "negative"}],
    ),
    "steadier when distracted": (
        functional.steadier_distracted,
        [{f"{STAND}.distraction": "steadier"}],
        [{f"{STAND}.distraction": "unchanged"}, {f"{STAND}.distraction": "worse"}],
    ),
    "any functional sign": (
        functional.functional_sign,
        [
            {f"{STAND}.distraction": "steadier"},
            {f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "held", f"{STAND}.sway_from": "hips"},
            {GAIT: ["as_on_ice"]},
            {f"{OPEN}.sway": "marked", f"{WALK}.tandem.correct_steps": 9},
            {"motor.hoover.left": "positive"},
        ],
        [],
    ),
    "a limb missing or immobilised": (
        signs.limb_missing,
        [{"context.limb_absent": ["left_foot"]}, {"context.limb_immobilised": ["right_below_knee"]}],
        [{"context.limb_absent": [], "context.limb_immobilised": []}],
    ),
    "irregular taps": (
        here(balance.irregular_taps),
        [{"coordination.rapid_alternating_hands.right": "irregular"}, {"coordination.foot_tapping.right": "irregular"}],
        [{"coordination.rapid_alternating_hands": "slow", "coordination.foot_tapping": "slow"}],
    ),
    "cannot be compared": (
        balance.cannot_be_compared,
        [{"standing.feet_position": "apart", "context.limb_absent": ["left_foot"]}],
        [{"standing.feet_position": "together", "context.limb_absent": ["left_foot"]}],
    ),
    "an objective sign": (
        balance.objective_sign,
        [
            {f"{JP}.ankle.left": "absent"},
            {f"{PLANTAR}.left": "extensor"},
            {f"{IMPULSE}.left": "corrective_saccade"},
            {"coordination.speech": "scanning"},
            {f"{ANKLE_JERK}.left": "absent"},
            {"standing.tremor_on_standing": "yes"},
        ],
        [],
    ),
    "distraction tried": (
        balance.distraction_tried,
        [{f"{STAND}.sway_from": "ankles"}, {f"{STAND}.distraction": "worse"}],
        [],
    ),
}

# What it shows, the sign, what leaves it unknown.
UNKNOWN: list[tuple[str, Word, Found]] = [
    ("finger position blank", here(signs.finger_ataxic), {f"{FINGER}.right": "severe"}),
    ("finger position lost", here(signs.finger_ataxic), {f"{FINGER}.right": "severe", f"{JP}.finger.right": "absent"}),
    ("finger position lost too", here(balance.finger_clumsy), {FINGER: "severe", f"{JP}.finger": "impaired"}),
    (
        "heel-shin of a weak leg",
        here(signs.heel_shin_ataxic),
        {**CLEAR, f"{HIP}.right": "3", f"{HEEL}.right": "severe"},
    ),
    ("heel-shin, leg unknown", here(balance.heel_shin_one_sided), {f"{HEEL}.right": "mild", f"{HEEL}.left": "normal"}),
    ("dragging, power blank", functional.gait_functional, {GAIT: ["dragging"]}),
    ("dragging in a weak leg", functional.gait_functional, {GAIT: ["dragging"], HIP: "5", f"{UP}.left": "4-"}),
    ("buckling, one leg blank", functional.gait_functional, {GAIT: ["knee_buckling"], f"{HIP}.right": "5"}),
]

# What it shows, the sign, what was found, the age, whether it holds.
AGES: list[tuple[str, Word, Found, int, bool | None]] = [
    ("five steps at 74", TANDEM, {STEPS: 5}, 74, True),
    ("six steps at 74", TANDEM, {STEPS: 6}, 74, False),
    ("five steps at 75", TANDEM, {STEPS: 5}, 75, False),
    ("four steps at 75", TANDEM, {STEPS: 4}, 75, False),
    ("three steps at 75", TANDEM, {STEPS: 3}, 75, True),
]
