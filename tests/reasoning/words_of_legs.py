"""Words for strength, reflexes, sensation and pressure: by name, the sign, what makes it hold, what does not.

Common practice where no source stands beside a row. Every finding that makes it hold is one it rests on.
"""

from neuroform.reasoning import functional_signs as functional
from neuroform.reasoning import limb_signs as limbs
from neuroform.reasoning import pressure_signs as pressures
from neuroform.reasoning import sensory_signs as sensory
from neuroform.reasoning import signs
from tests.reasoning.words import Found, Row, Word, here

TOLD = "context.symptoms"
HIP = "motor.power.hip_flexion"
KNEE = "motor.power.knee_extension"
UP = "motor.power.ankle_dorsiflexion"
DOWN = "motor.power.ankle_plantarflexion"
JP = "sensation.joint_position"
VIB = "sensation.vibration"
SCORE = "sensation.vibration_score"
SECONDS = "sensation.vibration_seconds.great_toe.right"
KNEE_JERK = "reflexes.knee"
ANKLE_JERK = "reflexes.ankle"
PLANTAR = "reflexes.plantar"
CLEAR: Found = {f"{HIP}.right": "4-", f"{UP}.right": "4-", f"{JP}.great_toe.right": "intact"}
LYING = "circulation.lying"
AT_1 = "circulation.standing_1_min"
AT_3 = "circulation.standing_3_min"


def pressure(systolic: int, diastolic: int = 60) -> Found:
    return {"systolic": systolic, "diastolic": diastolic}


def moved(correct: int, trials: int, joint: str = "great_toe.right") -> Found:
    return {f"{JP}.{joint}": {"correct": correct, "trials": trials}}


ROWS: dict[str, Row] = {
    "weak": (
        here(signs.weak),
        [{f"{HIP}.right": "4+"}, {"motor.power.ankle_eversion.right": "0"}],
        [{f"{HIP}.right": "5"}, {HIP: "5", f"{UP}.left": "3", f"{UP}.right": "5"}],
    ),
    "paretic": (
        here(signs.paretic),
        [{f"{HIP}.right": "4+", f"{UP}.right": "4+"}, {f"{HIP}.right": "4-"}, {f"{HIP}.right": "0"}],
        [{f"{HIP}.right": "4", f"{UP}.right": "5"}, {f"{HIP}.right": "4+"}, {f"{HIP}.right": "4", f"{UP}.left": "3"}],
    ),
    "clearly weak": (
        here(limbs.clearly_weak),
        [{f"{HIP}.right": "4+", f"{UP}.right": "4+"}, {f"{HIP}.right": "3"}],
        [{f"{HIP}.right": "4-"}, {f"{HIP}.right": "4-", f"{UP}.right": "5"}],
    ),
    "slightly weak": (
        here(limbs.slightly_weak),
        [{f"{HIP}.right": "4-"}, {f"{HIP}.right": "4+"}],
        [{f"{HIP}.right": "3"}, {f"{HIP}.right": "5"}, {f"{HIP}.right": "4", f"{UP}.right": "4"}],
    ),
    "full power from hip or knee to ankle": (
        here(limbs.power_full),
        [{f"{HIP}.right": "5", f"{UP}.right": "5"}, {f"{KNEE}.right": "5", f"{DOWN}.right": "5"}],
        [{f"{HIP}.right": "5", f"{UP}.right": "4+"}, {f"{HIP}.right": "4+"}],
    ),
    "power known and 4 or more in both legs": (functional.strong_legs, [{HIP: "4"}], [{HIP: "4", f"{UP}.left": "4-"}]),
    "brisk": (
        here(signs.brisk),
        [{f"{jerk}.right": word} for jerk in (KNEE_JERK, ANKLE_JERK) for word in ("brisk", "clonus")],
        [{KNEE_JERK: "normal", ANKLE_JERK: "normal"}],
    ),
    "clonus": (
        here(signs.clonus),
        [
            {f"{KNEE_JERK}.right": "clonus"},
            {f"{ANKLE_JERK}.right": "clonus"},
            {"motor.clonus_beats.right": 5},
            {f"{KNEE_JERK}.right": "clonus", "motor.clonus_beats.right": 5},
        ],
        [{KNEE_JERK: "brisk", ANKLE_JERK: "brisk", "motor.clonus_beats": 4}],
    ),
    "upper motor neurone": (
        here(signs.umn),
        [
            {f"{PLANTAR}.right": "extensor"},
            {f"{KNEE_JERK}.right": "clonus"},
            {f"{ANKLE_JERK}.right": "clonus"},
            {"motor.clonus_beats.right": 5},
            {"motor.tone.right": "increased", f"{KNEE_JERK}.right": "brisk"},
            {"motor.tone.right": "increased", f"{ANKLE_JERK}.right": "brisk"},
        ],
        [
            {PLANTAR: "flexor", KNEE_JERK: "brisk", ANKLE_JERK: "brisk"},
            {PLANTAR: "flexor", KNEE_JERK: "normal", ANKLE_JERK: "normal", "motor.tone": "increased"},
            {PLANTAR: "mute", KNEE_JERK: "brisk", ANKLE_JERK: "brisk", "motor.tone": "rigid"},
            {PLANTAR: "equivocal", KNEE_JERK: "brisk", ANKLE_JERK: "brisk", "motor.clonus_beats": 4},
        ],
    ),
    "areflexic": (
        here(signs.areflexic),
        [{f"{ANKLE_JERK}.right": word} for word in ("absent", "reduced", "with_reinforcement")],
        [{ANKLE_JERK: word} for word in ("normal", "brisk", "clonus")],
    ),
    "lower motor neurone": (
        here(signs.lmn),
        [
            {f"{HIP}.right": "4+", f"{ANKLE_JERK}.right": "with_reinforcement"},
            {f"{HIP}.right": "4+", f"{KNEE_JERK}.right": "absent"},
            {f"{HIP}.right": "4+", f"{KNEE_JERK}.right": "reduced"},
        ],
        [
            {HIP: "5", ANKLE_JERK: "absent"},
            {HIP: "3", ANKLE_JERK: "normal", KNEE_JERK: "with_reinforcement"},
        ],
    ),
    "a level on the trunk": (
        signs.trunk_level,
        [{"sensation.trunk_level": level} for level in ("C3", "T10", "S5")],
        [{"sensation.trunk_level": "none"}],
    ),
    "saddle": (
        signs.saddle,
        [
            {"sensation.saddle": "reduced"},
            {"sensation.saddle": "absent"},
            {TOLD: ["saddle_numbness"]},
            {TOLD: ["altered_genital_feeling"]},
        ],
        [{"sensation.saddle": "normal", TOLD: ["bladder_or_bowel_disturbance"]}],
    ),
    # Residual urine over 200 mL: from memory.
    "retention": (
        signs.retention,
        [{TOLD: ["urinary_retention"]}, {"context.bladder": "retention"}, {"context.residual_urine_ml": 201}],
        [{TOLD: ["urinary_urgency"], "context.bladder": "hesitancy", "context.residual_urine_ml": 200}],
    ),
    "sphincter": (
        signs.sphincter,
        [
            {"context.bladder": "retention"},
            {"sensation.saddle": "absent"},
            {TOLD: ["bladder_or_bowel_disturbance"]},
            {TOLD: ["bowel_incontinence"]},
        ],
        [
            {
                TOLD: ["urinary_urgency"],
                "context.bladder": "incontinence",
                "context.residual_urine_ml": 0,
                "sensation.saddle": "normal",
            }
        ],
    ),
    "a clear leg": (
        here(signs.leg_clear),
        [
            CLEAR,
            {f"{KNEE}.right": "5", f"{DOWN}.right": "4-", f"{JP}.great_toe.right": {"correct": 9, "trials": 10}},
        ],
        [
            {**CLEAR, f"{DOWN}.right": "3"},
            {**CLEAR, f"{JP}.great_toe.right": "impaired"},
            {f"{JP}.great_toe.right": "absent"},
            {f"{HIP}.right": "3"},
        ],
    ),
    "both legs clear": (
        signs.legs_clear,
        [{HIP: "4-", UP: "5", f"{JP}.great_toe": "intact"}],
        [{HIP: "5", UP: "5", f"{JP}.great_toe.right": "intact", f"{JP}.great_toe.left": "impaired"}],
    ),
    "feeling lost to the thigh": (
        here(signs.feeling_lost_to_thigh),
        [{f"sensation.{item}.right": level} for item in ("pinprick", "temperature") for level in ("thigh", "groin")],
        [{"sensation.pinprick": "knee", "sensation.temperature": "knee"}],
    ),
    "pinprick two levels apart": (
        signs.pinprick_differs,
        [
            {"sensation.pinprick.right": "toes", "sensation.pinprick.left": "ankle"},
            {"sensation.pinprick.right": "thigh", "sensation.pinprick.left": "mid_calf"},
        ],
        [
            {"sensation.pinprick.right": "toes", "sensation.pinprick.left": "foot"},
            {"sensation.pinprick": "ankle"},
        ],
    ),
    # n of N movements: 90 % and more intact, 61 to 89 % impaired, 60 % and less lost; fewer than five are not judged.
    "joint position lost at the toe": (
        here(sensory.jp_toe_lost),
        [
            {f"{JP}.great_toe.right": "impaired"},
            {f"{JP}.great_toe.right": "absent"},
            moved(8, 9),
            moved(4, 5),
            moved(6, 10),
        ],
        [{f"{JP}.great_toe": "intact"}, moved(9, 10), moved(5, 5)],
    ),
    "joint position lost at toe or ankle": (
        sensory.jp_lost,
        [{f"{JP}.{joint}.{side}": "absent"} for joint in ("great_toe", "ankle") for side in ("right", "left")],
        [{f"{JP}.great_toe": "intact", f"{JP}.ankle": "intact", f"{JP}.knee": "absent", f"{JP}.finger": "absent"}],
    ),
    "joint position lost at a knee": (
        sensory.jp_proximal_lost,
        [{f"{JP}.knee.right": "impaired"}, {f"{JP}.knee.left": "absent"}],
        [{f"{JP}.knee": "intact"}],
    ),
    "joint position intact at both toes": (
        sensory.jp_intact_both,
        [{f"{JP}.great_toe": "intact"}],
        [{f"{JP}.great_toe.right": "intact", f"{JP}.great_toe.left": "impaired"}],
    ),
    "joint position lost alike": (
        sensory.jp_toes_alike,
        [
            {f"{JP}.great_toe": "absent"},
            {f"{JP}.great_toe.right": "absent", f"{JP}.great_toe.left": {"correct": 5, "trials": 10}},
        ],
        [
            {f"{JP}.great_toe.right": "absent", f"{JP}.great_toe.left": "impaired"},
            {f"{JP}.great_toe.right": "absent", f"{JP}.great_toe.left": "intact"},
        ],
    ),
    "joint position known": (
        sensory.jp_known,
        [{f"{JP}.great_toe.left": "impaired"}, {f"{JP}.great_toe": "intact"}],
        [],
    ),
    # Great toe at 50: limit 4.0 (Martina 1998, from memory). Seconds: under 5 lost, from 10 normal.
    "vibration lost at the toe": (
        here(sensory.vib_toe_lost),
        [{f"{VIB}.great_toe.right": "absent"}, {f"{VIB}.great_toe.right": "reduced"}, {SECONDS: 4.9}],
        [{f"{VIB}.great_toe": "normal"}, {f"{SCORE}.great_toe": 3.5}, {f"{SCORE}.great_toe": 4.0}, {SECONDS: 10}],
    ),
    "vibration scored below the borderline": (
        here(sensory.vib_toe_lost),
        [{f"{SCORE}.great_toe.right": 3.0}],
        [{f"{SCORE}.great_toe.right": 3.5}],
    ),
    "vibration lost at toe or inner ankle": (
        sensory.vib_lost,
        [
            {f"{VIB}.{site}.{side}": "absent"}
            for site in ("great_toe", "medial_malleolus")
            for side in ("right", "left")
        ],
        [{f"{VIB}.great_toe": "normal", f"{VIB}.medial_malleolus": "normal", f"{VIB}.tibial_tuberosity": "absent"}],
    ),
    "vibration normal at both toes": (
        sensory.vib_normal_both,
        [{f"{VIB}.great_toe": "normal"}, {f"{SCORE}.great_toe": 4.0}],
        [
            {f"{SCORE}.great_toe": 3.5},
            {f"{VIB}.great_toe": "normal", f"{SCORE}.great_toe": 3.0},
            {f"{VIB}.great_toe.right": "normal", f"{VIB}.great_toe.left": "reduced"},
        ],
    ),
    "vibration worse higher up": (
        here(sensory.vib_worse_higher_up),
        [
            {f"{VIB}.great_toe.right": "normal", f"{VIB}.{site}.right": "absent"}
            for site in ("medial_malleolus", "tibial_tuberosity", "iliac_spine")
        ],
        [
            {f"{VIB}.great_toe": "absent", f"{VIB}.tibial_tuberosity": "absent"},
            {
                f"{VIB}.great_toe": "normal",
                f"{VIB}.medial_malleolus": "normal",
                f"{VIB}.tibial_tuberosity": "reduced",
                f"{VIB}.iliac_spine": "reduced",
            },
        ],
    ),
    "vibration known": (
        here(sensory.vib_known),
        [{f"{VIB}.great_toe.right": "normal"}, {f"{SCORE}.great_toe.right": 3.5}, {SECONDS: 4}],
        [],
    ),
    "ankle reflexes reduced": (
        limbs.ankles_reduced,
        [
            {ANKLE_JERK: "reduced"},
            {ANKLE_JERK: "with_reinforcement"},
            {f"{ANKLE_JERK}.right": "absent", f"{ANKLE_JERK}.left": "reduced"},
        ],
        [{ANKLE_JERK: "absent"}, {f"{ANKLE_JERK}.right": "normal", f"{ANKLE_JERK}.left": "reduced"}],
    ),
    "nerves alone": (
        limbs.nerves_alone,
        [{ANKLE_JERK: "absent", PLANTAR: "flexor"}, {ANKLE_JERK: "absent", PLANTAR: "mute"}],
        [{ANKLE_JERK: "absent", PLANTAR: "equivocal"}, {ANKLE_JERK: "reduced", PLANTAR: "flexor"}],
    ),
    "weak with a low reflex": (
        here(limbs.weak_with_low_reflex),
        [{f"{HIP}.right": "4+", f"{jerk}.right": w} for jerk in (KNEE_JERK, ANKLE_JERK) for w in ("reduced", "absent")],
        [{HIP: "3", KNEE_JERK: "with_reinforcement", ANKLE_JERK: "normal"}, {HIP: "5", KNEE_JERK: "absent"}],
    ),
    "wasted or twitching": (
        here(limbs.wasted_or_twitching),
        [{"motor.bulk.right": "wasted"}, {"motor.fasciculation.right": "present"}],
        [{"motor.bulk": "normal", "motor.fasciculation": "none"}],
    ),
    "foot weaker than hip": (
        here(limbs.foot_weaker_than_hip),
        [{f"{UP}.right": "4", f"{HIP}.right": "4+"}, {f"{UP}.right": "4-", f"{HIP}.right": "4"}],
        [{UP: "4", HIP: "4"}, {UP: "5", HIP: "4"}],
    ),
    "one root or nerve": (
        here(limbs.one_root_or_nerve),
        [{"sensation.distribution.right": "root"}, {"sensation.distribution.right": "single_nerve"}],
        [{"sensation.distribution": "stocking"}, {"sensation.distribution": "patchy"}],
    ),
    "pinprick alike": (
        limbs.pinprick_alike,
        [{"sensation.pinprick": "toes"}, {"sensation.pinprick.right": "toes", "sensation.pinprick.left": "foot"}],
        [
            {"sensation.pinprick.right": "toes", "sensation.pinprick.left": "ankle"},
            {"sensation.pinprick.right": "none", "sensation.pinprick.left": "toes"},
        ],
    ),
    "vibration unlike nerves": (
        limbs.vibration_unlike_nerves,
        [
            {f"{VIB}.great_toe": "normal"},
            {f"{VIB}.great_toe.right": "normal", f"{VIB}.great_toe.left": "absent"},
            {f"{VIB}.great_toe.right": "absent", f"{VIB}.great_toe.left": "normal"},
        ],
        [{f"{VIB}.great_toe": "absent"}],
    ),
    # Freeman 2011, Clin Auton Res 21:69-72: 20/10 mm Hg; 30 systolic from 140 lying.
    "orthostatic fall": (
        pressures.orthostatic_fall,
        [
            {LYING: pressure(139), AT_1: pressure(119)},
            {LYING: pressure(120), AT_3: pressure(100)},
            {LYING: pressure(140), AT_1: pressure(110)},
            {LYING: pressure(120, 75), AT_1: pressure(120, 65)},
        ],
        [
            {LYING: pressure(139), AT_1: pressure(120), AT_3: pressure(120)},
            {LYING: pressure(140), AT_1: pressure(111), AT_3: pressure(111)},
            {LYING: pressure(120, 75), AT_1: pressure(120, 66), AT_3: pressure(120, 66)},
        ],
    ),
}

# What it shows, the sign, what leaves it unknown.
UNKNOWN: list[tuple[str, Word, Found]] = [
    ("no power", here(signs.weak), {}),
    ("power of the other leg", here(signs.paretic), {f"{HIP}.left": "3"}),
    ("no power at all", here(limbs.clearly_weak), {}),
    ("the hip alone", here(limbs.power_full), {f"{HIP}.right": "5"}),
    ("the ankle alone", here(limbs.power_full), {f"{UP}.right": "5"}),
    ("brisk, plantar blank", here(signs.umn), {KNEE_JERK: "brisk", ANKLE_JERK: "brisk"}),
    ("plantar flexor, knee blank", here(signs.umn), {PLANTAR: "flexor", ANKLE_JERK: "normal"}),
    ("plantar flexor, ankle blank", here(signs.umn), {PLANTAR: "flexor", KNEE_JERK: "normal"}),
    ("no trunk level", signs.trunk_level, {}),
    ("hips alone", here(signs.leg_clear), {f"{HIP}.right": "5", f"{JP}.great_toe.right": "intact"}),
    ("ankles alone", here(signs.leg_clear), {f"{UP}.right": "5", f"{JP}.great_toe.right": "intact"}),
    ("power alone", here(signs.leg_clear), {f"{HIP}.right": "5", f"{UP}.right": "5"}),
    ("four movements", here(signs.leg_clear), {f"{HIP}.right": "5", f"{UP}.right": "5", **moved(4, 4)}),
    ("one pinprick", signs.pinprick_differs, {"sensation.pinprick.right": "groin"}),
    ("four movements, none right", here(sensory.jp_toe_lost), moved(0, 4)),
    ("seconds between", here(sensory.vib_toe_lost), {SECONDS: 5}),
    ("seconds just short of normal", here(sensory.vib_toe_lost), {SECONDS: 9.9}),
    ("seconds between are not known", here(sensory.vib_known), {SECONDS: 7}),
    ("one side intact", sensory.jp_known, {f"{JP}.great_toe.right": "intact"}),
    ("no foot", here(limbs.foot_weaker_than_hip), {f"{HIP}.right": "5"}),
    ("no hip", here(limbs.foot_weaker_than_hip), {f"{UP}.right": "5"}),
    ("no lying pressure", pressures.orthostatic_fall, {AT_1: pressure(80), AT_3: pressure(80)}),
    ("one standing pressure", pressures.orthostatic_fall, {LYING: pressure(120), AT_1: pressure(120)}),
]

# What it shows, the sign, what was found, the age, whether it holds.
AGES: list[tuple[str, Word, Found, int, bool | None]] = [
    # Vrancken 2006, J Neurol 253:578-589: from 60 absent ankle reflexes are common, under 60 not found in health.
    ("ankle absent at 59", limbs.ankle_absent_under_60, {f"{ANKLE_JERK}.right": "absent"}, 59, True),
    ("ankle absent at 60", limbs.ankle_absent_under_60, {f"{ANKLE_JERK}.right": "absent"}, 60, None),
    ("reduced at 59 counts", here(sensory.vib_toe_lost), {f"{VIB}.great_toe.right": "reduced"}, 59, True),
    ("reduced at 60 does not", here(sensory.vib_toe_lost), {f"{VIB}.great_toe.right": "reduced"}, 60, False),
    ("reduced at 60 is weak", here(sensory.vib_weak), {f"{VIB}.great_toe.right": "reduced"}, 60, True),
    ("absent at 60 is not weak but lost", here(sensory.vib_weak), {f"{VIB}.great_toe.right": "absent"}, 60, False),
    ("seconds at 70", here(sensory.vib_toe_lost), {SECONDS: 4.9}, 70, True),
    ("seconds at 71", here(sensory.vib_toe_lost), {SECONDS: 4.9}, 71, None),
]
