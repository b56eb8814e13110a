"""What must not be asked for: tests that a caution makes unsafe, and tests that can't be done at all.

Errs towards silence: where one recorded fact speaks against a test, it is not asked for.
"""

from collections.abc import Iterator, Mapping
from functools import cache

from neuroform.exam.context import CAUTIONS
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.exam.walk import SIDES, entries, entry
from neuroform.language import N_, _

NECK = "neck"
WEAKNESS = "weakness"
LOST_STANCE = "lost_stance"

_OTHER_REASONS: Mapping[str, str] = {
    NECK: N_("the neck may be unstable"),
    WEAKNESS: N_("power is 2 or less in a leg"),
    LOST_STANCE: N_("the stance on firm ground was lost"),
}
_WHY_IMPOSSIBLE: Mapping[str, str] = {
    "limb_absent": N_("a limb is missing"),
    "limb_immobilised": N_("a limb is immobilised"),
    "no_useful_vision": N_("there is no useful vision"),
}

HEAD_MOVED = (
    "head_and_eyes.head_impulse",
    "head_and_eyes.head_impulse_gain",
    "head_and_eyes.head_shaking_nystagmus",
    "head_and_eyes.vor_suppression",
    "head_and_eyes.slow_head_turn",
    "head_and_eyes.positional_test",
    "head_and_eyes.positional_latency_seconds",
    "head_and_eyes.positional_duration_seconds",
    "head_and_eyes.roll_test",
    "head_and_eyes.acuity_lines_lost_on_head_shaking",
)
"""Tests that move the head on the neck."""
_AGAINST_MOVING = (
    "neck_instability",
    "neck_trauma",
    "neck_artery_dissection",
    "neck_surgery",
    "severe_neck_pain",
    "atlantoaxial_risk",
)
_AGAINST_RISING = ("neck_instability", "neck_trauma")
_LYING_FLAT = (
    "head_and_eyes.positional_test",
    "head_and_eyes.positional_latency_seconds",
    "head_and_eyes.positional_duration_seconds",
    "head_and_eyes.roll_test",
    "circulation.lying_minutes",
    "circulation.lying",
)
_STANDING_PRESSURES = (
    "circulation.standing_immediately",
    "circulation.standing_1_min",
    "circulation.standing_3_min",
    "circulation.symptoms_on_standing",
)
_AS_LONG_AS_THE_NECK_IS_NOT_CLEARED = ("motor.neck_flexion", "standing.sitting_balance", "circulation.sitting")
_LOST = ("stepped", "needed_support", "fell", "opened_eyes")


def not_advised(exam: Examination, *, neck_raised: bool = False) -> Mapping[str, str]:
    """Return the items (without a side) that are unsafe now, each with the caution's code, or one of this module.

    `neck_raised` says that the findings make an unstable neck possible, whatever the cautions say.
    """
    cautions = exam.context.cautions or ()
    found: dict[str, str] = {}
    if _stance_lost(exam):
        found.update(dict.fromkeys(_foam(), LOST_STANCE))
    if "cannot_lie_flat" in cautions:
        found.update(dict.fromkeys(_LYING_FLAT, "cannot_lie_flat"))
    if _very_weak(exam):
        found.update(dict.fromkeys(_on_the_feet(), WEAKNESS))
    if "cannot_stand" in cautions:
        found.update(dict.fromkeys(_on_the_feet(), "cannot_stand"))
    for code in reversed(_AGAINST_MOVING):
        if code in cautions:
            found.update(dict.fromkeys(HEAD_MOVED, code))
    risen = next((code for code in _AGAINST_RISING if code in cautions), NECK if neck_raised else None)
    if risen:
        found.update(dict.fromkeys((*HEAD_MOVED, *_on_the_feet(), *_AS_LONG_AS_THE_NECK_IS_NOT_CLEARED), risen))
    return found


def impossible(exam: Examination) -> Mapping[str, str]:
    """Return the whole paths of findings that can't be made, each with why: a code for `why_impossible`."""
    context = exam.context
    found: dict[str, str] = {}
    if isinstance(context.useful_vision, Examined) and context.useful_vision.value == "none":
        found.update(dict.fromkeys(_needing_eyes(), "no_useful_vision"))
    for code, sites in (("limb_immobilised", context.limb_immobilised), ("limb_absent", context.limb_absent)):
        for site in sites or ():
            found.update(dict.fromkeys(hindered(site), code))
    return found


def why_not_advised(code: str) -> str:
    """Return the words for a code of `not_advised`: "severe neck pain"."""
    return _(CAUTIONS.words.get(code) or _OTHER_REASONS[code])


def why_impossible(code: str) -> str:
    """Return the words for a code of `impossible`."""
    return _(_WHY_IMPOSSIBLE[code])


_FOOT = (
    "sensation.joint_position.great_toe",
    "sensation.joint_position.ankle",
    "sensation.vibration.great_toe",
    "sensation.vibration.medial_malleolus",
    "sensation.vibration_score.great_toe",
    "sensation.vibration_score.medial_malleolus",
    "sensation.vibration_seconds.great_toe",
    "reflexes.ankle",
    "reflexes.plantar",
    "motor.clonus_beats",
    "motor.single_heel_raises",
    "motor.power.ankle_dorsiflexion",
    "motor.power.ankle_plantarflexion",
    "motor.power.ankle_inversion",
    "motor.power.ankle_eversion",
    "motor.power.great_toe_extension",
    "walking.on_heels",
    "walking.on_toes",
)
_KNEE = (
    "sensation.joint_position.knee",
    "sensation.vibration.tibial_tuberosity",
    "reflexes.knee",
    "motor.power.knee_extension",
    "motor.power.knee_flexion",
    "motor.tone",
)
_WITH_THE_WHOLE_LIMB = (
    "sensation.pinprick",
    "sensation.light_touch",
    "sensation.temperature",
    "coordination.heel_shin",
    "coordination.heel_shin_eyes_closed",
    "coordination.foot_tapping",
    "motor.bradykinesia",
    "standing.single_leg.eyes_open.seconds",
    "standing.single_leg.eyes_closed.seconds",
)
_ON_BOTH_LEGS = ("standing.feet_position", "walking.tandem.correct_steps", "walking.tandem.side_steps")
_EYES_NEEDED = (
    "head_and_eyes.nystagmus",
    "head_and_eyes.nystagmus_on_fixation",
    "head_and_eyes.gaze_evoked_nystagmus",
    "head_and_eyes.eye_movements",
    "head_and_eyes.smooth_pursuit",
    "head_and_eyes.saccades",
    "head_and_eyes.vor_suppression",
    "head_and_eyes.slow_head_turn",
    "head_and_eyes.skew",
    "head_and_eyes.skew_lower_eye",
    "head_and_eyes.head_impulse",
    "head_and_eyes.head_impulse_gain",
    "head_and_eyes.acuity_lines_lost_on_head_shaking",
    "coordination.heel_shin_eyes_closed",
    "standing.firm.sway_from",
    "standing.firm.distraction",
)


@cache
def gone(site: str) -> tuple[str, ...]:
    """Return the whole paths of what can't be there once a limb is missing at a site ("right_below_knee")."""
    side, _part, level = site.partition("_")
    return tuple(f"{item}.{side}" for item in (*_FOOT, *(_KNEE if level == "above_knee" else ())))


@cache
def hindered(site: str) -> tuple[str, ...]:
    """Return the whole paths of what a limb missing or immobilised at a site makes impossible."""
    side = site.partition("_")[0]
    trials = (path for path in _within("standing.") if path.startswith(_STANCES))
    return (*gone(site), *(f"{item}.{side}" for item in _WITH_THE_WHOLE_LIMB), *_ON_BOTH_LEGS, *trials)


_STANCES = ("standing.firm.", "standing.foam.", "standing.heel_to_toe.")


@cache
def _needing_eyes() -> tuple[str, ...]:
    closed = (path for path in _within("standing.") if ".eyes_closed." in path)
    return (*(path for item in _EYES_NEEDED for path in entry(item).paths), *closed)


@cache
def _on_the_feet() -> tuple[str, ...]:
    return (
        *(at.path for at in entries() if at.section in ("standing", "walking") and at.path not in _SEATED),
        *_STANDING_PRESSURES,
    )


_SEATED = ("standing.sitting_balance",)


@cache
def _foam() -> tuple[str, ...]:
    return tuple(at.path for at in entries() if at.path.startswith("standing.foam."))


def _within(start: str) -> Iterator[str]:
    return (path for at in entries() if at.path.startswith(start) for path in at.paths)


def _stance_lost(exam: Examination) -> bool:
    firm = exam.standing.firm
    return any(
        isinstance(trial.ended, Examined) and trial.ended.value in _LOST for trial in (firm.eyes_open, firm.eyes_closed)
    )


def _very_weak(exam: Examination) -> bool:
    power = exam.motor.power
    if not power.model_fields_set:
        return False
    return any(
        isinstance(found, Examined) and found.value in ("0", "1", "2")
        for group in power.__dict__.values()
        for found in (getattr(group, side) for side in SIDES)
    )
