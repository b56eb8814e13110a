"""What published cases and textbooks say of the place of a lesion, in the program's terms.

A finding the source does not state is blank here. Expected places are the sources', not the program's. Words of degree
that a source leaves open (how marked an ataxia is) are taken as the plain grade, and said so beside the case.
"""

import tomllib
from collections.abc import Iterable, Mapping
from typing import Any

import pytest

from tests.cases.build import HERE, exam_of, put
from tests.cases.comparing import Json, asked, verdicts

Findings = Mapping[str, Any]
STANDS = {"standing.firm.eyes_open.sway": "none", "standing.firm.eyes_open.ended": "held"}
FALLS_WITH_EYES_CLOSED = STANDS | {
    "standing.feet_position": "together",
    "standing.firm.eyes_closed.sway": "marked",
    "standing.firm.eyes_closed.ended": "fell",
}
NORMAL = tomllib.loads((HERE / "written" / "normal.toml").read_text(encoding="utf-8"))
AT_LEAST_POSSIBLE = {"possible", "supported"}


def reading_of(findings: Findings, *, age: int, sex: str = "unknown", normal: bool = False) -> tuple[Json, Json]:
    """Return what is missing and what is read: of the findings alone, or of a normal examination with them."""
    exam = exam_of("published", {"born": f"{2026 - age}-01-15", "sex": sex, "exam": {}}, NORMAL if normal else {})
    for path, found in findings.items():
        put(exam, tuple(path.split(".")), found)
    return asked(exam)


def urgent(says: Json) -> dict[str, str]:
    return {each["code"]: each["urgency"] for each in says["urgent"]}


def asks_for(lacking: Json, says: Json) -> set[str]:
    paths: Iterable[str] = [item for gap in lacking["gaps"] for item in gap["items"]]
    proposed = [each["item"] for each in says["next_tests"]]
    return {path.removesuffix(".right").removesuffix(".left") for path in [*paths, *proposed]}


def test_b12_deficiency_with_position_and_vibration_sense_gone_points_to_the_dorsal_columns() -> None:
    """BMC Res Notes 2015, doi 10.1186/s13104-015-1437-9: woman of 66, one month; dorsal columns and nerves."""
    lacking, says = reading_of(
        {
            "context.symptoms": ["numbness", "unsteadiness"],
            "context.onset": "subacute",
            "context.duration_days": 30,
            "context.bladder": "normal",
            "sensation.distribution": "stocking",
            "sensation.light_touch": "mid_calf",
            "sensation.joint_position.great_toe": "absent",
            "sensation.vibration.great_toe": "absent",
        },
        age=66,
        sex="female",
    )
    found = verdicts(says)
    assert found["dorsal_column"] in AT_LEAST_POSSIBLE
    assert found["sensory_ataxia"] in AT_LEAST_POSSIBLE
    assert found["length_dependent_neuropathy"] != "unlikely"
    assert "immediate" not in urgent(says).values()
    assert {"reflexes.plantar", "reflexes.ankle"} <= asks_for(lacking, says)


def test_tabes_with_pain_and_temperature_kept_points_to_the_dorsal_columns() -> None:
    """A teaching case: man of 36; touch, pin and temperature kept, vibration and position sense absent."""
    _, says = reading_of(
        {
            "context.symptoms": ["weakness"],
            "sensation.light_touch": "none",
            "sensation.pinprick": "none",
            "sensation.temperature": "none",
            "sensation.joint_position.great_toe": "absent",
            "sensation.vibration.great_toe": "absent",
            "standing.firm.eyes_closed.sway": "marked",
            "standing.firm.eyes_closed.ended": "fell",
            "walking.base": "wide",
            "walking.pattern": ["ataxic"],
        },
        age=36,
        sex="male",
    )
    found = verdicts(says)
    assert found["dorsal_column"] in AT_LEAST_POSSIBLE
    assert found["sensory_ataxia"] in AT_LEAST_POSSIBLE
    assert found["length_dependent_neuropathy"] != "supported"
    assert found["cerebellar_midline"] != "supported"


def test_ataxic_sensory_neuropathy_is_sensory_and_not_cerebellar() -> None:
    """A textbook case: woman of 67; heel to shin good with eyes open, very abnormal with eyes closed, no reflexes."""
    _, says = reading_of(
        FALLS_WITH_EYES_CLOSED
        | {
            "reflexes.knee": "absent",
            "reflexes.ankle": "absent",
            "reflexes.plantar": "flexor",
            "sensation.vibration.great_toe": "absent",
            "sensation.vibration.medial_malleolus": "absent",
            "sensation.vibration.tibial_tuberosity": "absent",
            "sensation.vibration.finger": "absent",
            "sensation.joint_position.great_toe": "impaired",
            "sensation.joint_position.ankle": "impaired",
            "sensation.joint_position.finger": "impaired",
            "sensation.pinprick": "ankle",
            "sensation.light_touch": "ankle",
            "coordination.heel_shin": "normal",
            "coordination.heel_shin_eyes_closed": "severe",
            "walking.pattern": ["ataxic"],
            "motor.power.ankle_dorsiflexion": "4+",
        },
        age=67,
        sex="female",
    )
    found = verdicts(says)
    assert says["stance_test"]["result"] == "positive"
    assert found["sensory_ataxia"] == "supported"
    assert found["upper_motor_neurone"] == "unlikely"
    assert {found[name] for name in ("dorsal_column", "cerebellar_midline", "combined_sensory_cerebellar")}.isdisjoint(
        {"supported"}
    )
    assert "immediate" not in urgent(says).values()


@pytest.mark.parametrize(("side", "other"), [("right", "left"), ("left", "right")])
def test_vestibular_neuritis_is_peripheral_on_the_side_of_the_impulse(side: str, other: str) -> None:
    """Kim J-S, Front Neurol 2020;11:157: the side is not told there, so either is tried; "no other signs"."""
    signs = {
        "context.symptoms": ["vertigo"],
        "context.onset": "sudden",
        f"head_and_eyes.head_impulse.{side}": "corrective_saccade",
        f"head_and_eyes.head_impulse.{other}": "normal",
        "head_and_eyes.nystagmus": f"beats_{other}",
        "head_and_eyes.gaze_evoked_nystagmus": "absent",
        "head_and_eyes.skew": "absent",
        "head_and_eyes.new_hearing_loss": "no",
    }
    _, says = reading_of(signs | {"context.course": "continuous"}, age=50)
    found = verdicts(says)
    assert found[f"acute_vestibular_peripheral:{side}"] == "supported"
    assert found[f"acute_vestibular_peripheral:{other}"] == "unlikely"
    assert found["acute_vestibular_central"] == "unlikely"
    assert not {"acute-vertigo-central-signs", "acute-vertigo-new-hearing-loss"} & urgent(says).keys()

    _, without_course = reading_of(signs, age=50)
    assert "acute-vertigo-central-signs" not in urgent(without_course)
    assert verdicts(without_course)["acute_vestibular_central"] != "supported"


def test_gentamicin_with_both_impulses_abnormal_is_a_loss_on_both_sides() -> None:
    """Gold DR, open teaching library: oscillopsia on walking and driving, imbalance, hearing normal."""
    _, says = reading_of(
        {
            "context.symptoms": ["oscillopsia", "unsteadiness"],
            "context.background": ["aminoglycoside"],
            "head_and_eyes.head_impulse": "corrective_saccade",
            "head_and_eyes.new_hearing_loss": "no",
        },
        age=60,
    )
    assert verdicts(says)["bilateral_vestibular"] == "supported"
    assert "immediate" not in urgent(says).values()


def test_an_infarct_of_the_nodulus_is_midline_without_limb_ataxia() -> None:
    """Arch Neurol 2007;64:897-898: woman of 88, transient vertigo; no dysmetria and no ataxia of the trunk."""
    _, says = reading_of(
        {
            "context.symptoms": ["vertigo", "vomiting", "unsteadiness"],
            "context.course": "resolved",
            "head_and_eyes.vertigo_now": "no",
            "head_and_eyes.smooth_pursuit": "broken",
            "head_and_eyes.gaze_evoked_nystagmus": "present",
            "standing.sitting_balance": "steady",
            "coordination.heel_shin": "normal",
            "coordination.finger_nose": "normal",
        },
        age=88,
        sex="female",
    )
    found = verdicts(says)
    assert found["cerebellar_midline"] in AT_LEAST_POSSIBLE
    assert found["cerebellar_hemisphere"] == "unlikely"
    assert found["acute_vestibular_peripheral"] != "supported"
    assert says["systems"]["cerebellar"] == "impaired"


def test_sudden_deafness_with_vertigo_is_not_left_as_peripheral() -> None:
    """Son EJ, Laryngoscope 2007;117:556-558: woman of 68, anterior inferior cerebellar artery, looked peripheral."""
    _, says = reading_of(
        {
            "context.symptoms": ["vertigo", "hearing_loss"],
            "context.onset": "sudden",
            "context.course": "continuous",
            "head_and_eyes.nystagmus": "beats_left",
            "head_and_eyes.new_hearing_loss.right": "yes",
            "head_and_eyes.brainstem_signs": ["none"],
            "coordination.speech": "normal",
        },
        age=68,
        sex="female",
    )
    assert urgent(says)["acute-vertigo-new-hearing-loss"] == "immediate"
    assert verdicts(says)["acute_vestibular_peripheral:right"] not in AT_LEAST_POSSIBLE
    assert verdicts(says)["acute_vestibular_central"] in AT_LEAST_POSSIBLE


def test_ataxia_of_trunk_and_gait_with_clean_limbs_is_of_the_vermis() -> None:
    """Wray SH, open teaching library: alcohol, woman of 72, four years; dorsal vermis. Thiamine is not waited for."""
    _, says = reading_of(
        {
            "context.symptoms": ["falls"],
            "context.background": ["alcohol"],
            "context.onset": "chronic",
            "context.duration_days": 1460,
            "motor.power.hip_flexion": "5",
            "motor.power.knee_extension": "5",
            "motor.power.ankle_dorsiflexion": "5",
            "motor.power.ankle_plantarflexion": "5",
            "reflexes.knee": "reduced",
            "reflexes.ankle": "absent",
            "reflexes.plantar": "flexor",
            "standing.sitting_balance": "unsteady",
            "walking.pattern": ["ataxic"],
            "walking.tandem.correct_steps": 0,
            "coordination.heel_shin": "normal",
            "coordination.finger_nose": "normal",
            "head_and_eyes.gaze_evoked_nystagmus": "present",
        },
        age=72,
        sex="female",
    )
    found = verdicts(says)
    assert found["cerebellar_midline"] in AT_LEAST_POSSIBLE
    assert found["cerebellar_hemisphere"] == "unlikely"
    assert found["lower_motor_neurone_weakness"] == "unlikely"
    assert urgent(says)["ataxia-confusion-eye-signs"] == "immediate"


def test_sudden_ataxia_of_the_left_limbs_is_of_the_left_hemisphere() -> None:
    """A teaching case, left superior cerebellar artery. The degree of the ataxia is not told: taken as moderate."""
    _, says = reading_of(
        {
            "context.symptoms": ["vomiting", "slurred_speech"],
            "context.onset": "sudden",
            "coordination.heel_shin.left": "moderate",
            "coordination.finger_nose.left": "moderate",
            "coordination.speech": "slurred",
            "standing.firm.eyes_open.sway": "marked",
            "standing.firm.eyes_open.ended": "fell",
            "standing.firm.eyes_open.direction": "left",
        },
        age=60,
    )
    found = verdicts(says)
    assert says["stance_test"]["result"] == "unsteady_eyes_open"
    assert found["cerebellar_hemisphere:left"] in AT_LEAST_POSSIBLE
    assert found["cerebellar_hemisphere:right"] not in AT_LEAST_POSSIBLE
    assert urgent(says)["sudden-cerebellar-or-hemispheric-signs"] == "immediate"


def test_three_systems_are_not_dismissed_while_two_of_them_are_unexamined() -> None:
    """Crespo-Burillo JA, Neurologia 2013;28:591-592: man of 74; cerebellar, sensory and vestibular."""
    lacking, says = reading_of(
        FALLS_WITH_EYES_CLOSED
        | {
            "context.symptoms": ["unsteadiness"],
            "context.onset": "chronic",
            "context.duration_days": 7670,
            "context.walking_aid": "two_sticks",
            "reflexes.ankle": "absent",
            "walking.base": "wide",
            "walking.pattern": ["ataxic"],
            "sensation.vibration.great_toe": "absent",
            "sensation.vibration.medial_malleolus": "absent",
            "sensation.vibration.tibial_tuberosity": "absent",
        },
        age=74,
        sex="male",
    )
    found = verdicts(says)
    assert says["stance_test"]["result"] == "positive"
    assert found["sensory_ataxia"] in AT_LEAST_POSSIBLE
    assert found["combined_sensory_cerebellar"] != "unlikely"
    assert found["bilateral_vestibular"] != "unlikely"
    assert {
        "sensation.joint_position.great_toe",
        "head_and_eyes.head_impulse",
        "head_and_eyes.gaze_evoked_nystagmus",
    } <= asks_for(lacking, says)


def test_copper_deficiency_is_of_dorsal_and_lateral_cord() -> None:
    """Kumar N, Arch Neurol 2004;61:762-766: spastic legs, ankle clonus, extensor plantars, position sense lost."""
    _, says = reading_of(
        {
            "walking.pattern": ["spastic"],
            "motor.tone": "increased",
            "reflexes.knee": "brisk",
            "reflexes.ankle": "clonus",
            "reflexes.plantar": "extensor",
            "sensation.light_touch": "toes",
            "sensation.pinprick": "toes",
            "sensation.joint_position.great_toe": "impaired",
            "sensation.joint_position.finger": "impaired",
            "sensation.vibration.tibial_tuberosity": "reduced",
        },
        age=50,
    )
    found = verdicts(says)
    assert found["dorsal_column"] == "supported"
    assert found["upper_motor_neurone:right"] == found["upper_motor_neurone:left"] == "supported"
    assert found["length_dependent_neuropathy"] == "unlikely"
    assert found["lower_motor_neurone_weakness"] != "supported"
    assert urgent(says)["treatable-myelopathy"] == "within_days"


def test_weakness_without_reflexes_under_a_level_raises_cord_and_nerve() -> None:
    """Authorea 577114: woman of 61; an acute polyneuropathy, with a level at T6 that was the trap."""
    _, says = reading_of(
        {
            "context.bladder": "normal",
            "motor.power.hip_flexion": "3",
            "motor.power.ankle_dorsiflexion": "4",
            "motor.power.ankle_plantarflexion": "4",
            "reflexes.knee": "absent",
            "reflexes.ankle": "absent",
            "sensation.trunk_level": "T6",
            "sensation.pinprick": "groin",
            "sensation.light_touch": "groin",
            "sensation.joint_position.great_toe": "absent",
            "sensation.vibration.great_toe": "absent",
            "coordination.heel_shin": "normal",
        },
        age=61,
        sex="female",
    )
    assert {"cord-compression", "rapid-areflexic-weakness"} <= urgent(says).keys()
    assert urgent(says)["cord-compression"] == "immediate"
    assert verdicts(says)["lower_motor_neurone_weakness"] in AT_LEAST_POSSIBLE
    assert verdicts(says)["length_dependent_neuropathy"] == "unlikely"


PLACES = (
    "sensory_ataxia",
    "acute_vestibular_peripheral",
    "acute_vestibular_central",
    "bilateral_vestibular",
    "cerebellar_midline",
    "cerebellar_hemisphere",
    "functional",
    "frontal_or_parkinsonian_gait",
)
UNSTEADY = {
    "standing.firm.eyes_open.sway": "marked",
    "standing.firm.eyes_closed.sway": "marked",
    "walking.base": "wide",
    "walking.tandem.correct_steps": 0,
    "walking.tandem.side_steps": 6,
}
# A textbook's table of what tells these places apart, from memory; the sources named are for its single lines.
TEXTBOOK: dict[str, Findings] = {
    # Ashizawa and Xia, Continuum 2016;22:1208: lost with eyes closed; position sense lost; sight mends heel to shin.
    "sensory_ataxia": FALLS_WITH_EYES_CLOSED
    | {
        "walking.pattern": ["stamping"],
        "coordination.heel_shin_eyes_closed": "moderate",
        "sensation.joint_position.great_toe": "absent",
        "sensation.vibration_score.great_toe": 0,
        "reflexes.ankle": "absent",
    },
    # Kattah 2009, Stroke 40:3504-3510: impulse abnormal on the side the nystagmus beats away from, no skew.
    "acute_vestibular_peripheral": FALLS_WITH_EYES_CLOSED
    | {
        "context.symptoms": ["vertigo"],
        "context.onset": "acute",
        "context.duration_days": 2,
        "context.course": "continuous",
        "standing.firm.eyes_closed.direction": "right",
        "walking.pattern": ["veers_right"],
        "head_and_eyes.nystagmus": "beats_left",
        "head_and_eyes.head_impulse.right": "corrective_saccade",
        "head_and_eyes.head_impulse.left": "normal",
    },
    # Strupp 2017, J Vestib Res 27:177-189: symptoms and both impulses; the stance on firm ground may be normal.
    "bilateral_vestibular": {
        "context.symptoms": ["oscillopsia", "unsteadiness"],
        "context.onset": "chronic",
        "context.duration_days": 400,
        "context.course": "continuous",
        "head_and_eyes.head_impulse": "corrective_saccade",
        "head_and_eyes.acuity_lines_lost_on_head_shaking": 4,
    },
    # Stolze 2002, J Neurol Neurosurg Psychiatry 73:310-312: tandem gait is the most sensitive clinical test.
    "cerebellar_midline": UNSTEADY | {"walking.pattern": ["ataxic"], "head_and_eyes.gaze_evoked_nystagmus": "present"},
    # Common teaching: dysmetria on the side of the lesion.
    "cerebellar_hemisphere": {
        "walking.pattern": ["veers_right"],
        "coordination.heel_shin.right": "moderate",
        "coordination.heel_shin.left": "normal",
        "coordination.finger_nose.right": "moderate",
        "coordination.finger_nose.left": "normal",
    },
    # Lempert 1991, J Neurol 238:140-146: better when distracted, walking as on ice, knees that buckle.
    "functional": {
        "standing.firm.eyes_closed.sway": "marked",
        "standing.firm.sway_from": "hips",
        "standing.firm.distraction": "steadier",
        "walking.pattern": ["as_on_ice", "knee_buckling"],
    },
    # Common teaching: short, magnetic, wide steps; closing the eyes changes nothing.
    "frontal_or_parkinsonian_gait": {
        "walking.base": "wide",
        "walking.pattern": ["magnetic"],
        "walking.turning": "many_steps",
        "context.bladder": "urgency",
        "context.symptoms": ["urinary_urgency"],
        "context.onset": "chronic",
        "context.duration_days": 500,
        "context.course": "progressive",
    },
}


@pytest.mark.parametrize("place", TEXTBOOK)
def test_the_textbook_picture_of_a_place_supports_that_place_alone(place: str) -> None:
    _, says = reading_of(TEXTBOOK[place], age=50, normal=True)
    found = verdicts(says)
    assert {each for each in PLACES if found[each] == "supported"} == {place}
    assert found["no_abnormality"] == "unlikely"


def test_normal_tests_never_make_a_functional_disorder() -> None:
    """Lempert 1991 and common practice: positive signs only, never for want of other findings."""
    complaint = {
        "context.symptoms": ["unsteadiness"],
        "context.onset": "chronic",
        "context.duration_days": 300,
        "context.course": "fluctuating",
    }
    _, says = reading_of(complaint, age=50, normal=True)
    assert verdicts(says)["functional"] == "unlikely"


def test_both_lost_labyrinths_may_leave_the_stance_on_firm_ground_normal() -> None:
    """Common teaching; Anagnostou 2025, Diagnostics 15:1621: foam with eyes closed is what may show it."""
    findings = TEXTBOOK["bilateral_vestibular"]
    _, says = reading_of(findings, age=50, normal=True)
    assert says["stance_test"]["result"] == "negative"
    assert says["systems"]["vestibular"] == "impaired"


def test_cerebellar_disease_that_fails_with_eyes_open_is_no_positive_stance_test() -> None:
    """Ashizawa and Xia, Continuum 2016;22:1208: the test is of the change on closing the eyes."""
    _, says = reading_of(TEXTBOOK["cerebellar_midline"], age=50, normal=True)
    assert says["stance_test"]["result"] == "unsteady_eyes_open"


@pytest.mark.parametrize(
    "signs",
    [
        {"reflexes.plantar": "extensor", "reflexes.ankle": "absent", "reflexes.knee": "absent"},
        {"reflexes.plantar": "extensor", "reflexes.ankle": "absent", "reflexes.knee": "brisk"},
    ],
)
def test_extensor_plantars_without_ankle_reflexes_are_not_dismissed(signs: Findings) -> None:
    """Delatycki 2012 for Friedreich's ataxia; common teaching for subacute combined degeneration and the conus."""
    lost = {"sensation.joint_position.great_toe": "absent", "sensation.vibration_score.great_toe": 0}
    _, says = reading_of({**lost, **signs}, age=30, normal=True)
    found = verdicts(says)
    assert found["upper_motor_neurone"] in AT_LEAST_POSSIBLE
    assert found["dorsal_column"] in AT_LEAST_POSSIBLE
    assert "treatable-myelopathy" in urgent(says)
