"""Systems: intact needs the whole list known and normal; a weak sign or a gap says less."""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.results import SystemState
from neuroform.reasoning.systems import systems

JP, EYES = "sensation.joint_position", "head_and_eyes"
VESTIBULAR = {f"{EYES}.head_impulse": "normal", f"{EYES}.nystagmus": "none"}
CEREBELLAR = {
    "coordination.heel_shin": "normal",
    "coordination.finger_nose": "normal",
    "coordination.speech": "normal",
    f"{EYES}.gaze_evoked_nystagmus": "absent",
    "walking.tandem.correct_steps": 10,
}
MOTOR = {
    "motor.power.hip_flexion": "5",
    "motor.power.knee_extension": "5",
    "motor.power.ankle_dorsiflexion": "5",
    "motor.power.ankle_plantarflexion": "5",
    "reflexes.plantar": "flexor",
}
CLEAR = {**MOTOR, f"{JP}.great_toe": "intact"}

# What it shows, the system, what was found, its state.
ROWS: list[tuple[str, str, dict[str, Any], SystemState]] = [
    ("nothing recorded", "vestibular", {}, "not_tested"),
    ("one eye sees", "vision", {"context.useful_vision": "one_eye"}, "intact"),
    ("no useful vision", "vision", {"context.useful_vision": "none"}, "impaired"),
    ("both great toes", "joint_position", {f"{JP}.great_toe": "intact"}, "intact"),
    ("one great toe", "joint_position", {f"{JP}.great_toe.left": "intact"}, "partly_tested"),
    ("one lost", "joint_position", {f"{JP}.great_toe.left": "impaired"}, "impaired"),
    ("too few movements", "joint_position", {f"{JP}.great_toe": {"correct": 3, "trials": 4}}, "partly_tested"),
    ("a reason is no test", "joint_position", {f"{JP}.great_toe": "not examined: declined"}, "not_tested"),
    ("a finger lost", "joint_position", {f"{JP}.great_toe": "intact", f"{JP}.finger.right": "absent"}, "impaired"),
    ("no loss found", "vestibular", VESTIBULAR, "intact"),
    ("uncertain is not known", "vestibular", {f"{EYES}.head_impulse": "uncertain"}, "not_tested"),
    ("nystagmus", "vestibular", {**VESTIBULAR, f"{EYES}.nystagmus": "beats_left"}, "partly_tested"),
    ("a saccade", "vestibular", {f"{EYES}.head_impulse.right": "corrective_saccade"}, "impaired"),
    ("a low gain", "vestibular", {**VESTIBULAR, f"{EYES}.head_impulse_gain.left": 0.5}, "impaired"),
    ("position", "vestibular", {**VESTIBULAR, f"{EYES}.positional_test.left": "upbeat_torsional"}, "impaired"),
    ("whole list", "cerebellar", CEREBELLAR, "intact"),
    ("speech blank", "cerebellar", {**CEREBELLAR, "coordination.speech": "not examined: deferred"}, "partly_tested"),
    ("slurred", "cerebellar", {"coordination.speech": "slurred"}, "impaired"),
    ("both legs mildly irregular", "cerebellar", {**CEREBELLAR, "coordination.heel_shin": "mild"}, "partly_tested"),
    ("slow taps", "cerebellar", {**CEREBELLAR, "coordination.foot_tapping": "slow"}, "intact"),
    ("irregular taps", "cerebellar", {**CEREBELLAR, "coordination.foot_tapping.left": "irregular"}, "impaired"),
    ("steps lost in clear legs", "cerebellar", {**CEREBELLAR, **CLEAR, "walking.tandem.correct_steps": 2}, "impaired"),
    ("steps lost, legs unknown", "cerebellar", {**CEREBELLAR, "walking.tandem.correct_steps": 2}, "partly_tested"),
    ("full", "motor", MOTOR, "intact"),
    ("mute plantars", "motor", {**MOTOR, "reflexes.plantar": "mute"}, "intact"),
    ("equivocal plantar", "motor", {**MOTOR, "reflexes.plantar.left": "equivocal"}, "partly_tested"),
    ("one group slightly weak", "motor", {**MOTOR, "motor.power.hip_flexion.left": "4"}, "partly_tested"),
    ("one group 4-", "motor", {**MOTOR, "motor.power.hip_flexion.left": "4-"}, "impaired"),
    ("extensor", "motor", {"reflexes.plantar.right": "extensor"}, "impaired"),
    ("wasted", "motor", {**MOTOR, "motor.bulk.right": "wasted"}, "impaired"),
    ("rigid is not weak", "motor", {**MOTOR, "motor.tone": "rigid"}, "intact"),
]


@pytest.mark.parametrize(("system", "found", "state"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_a_state(made: Any, system: str, found: dict[str, Any], state: SystemState) -> None:
    states = list(systems(Facts(made(found))).items())
    assert (system, state) in states


@pytest.mark.parametrize(
    "found", [{"context.symptoms": ["vertigo"]}, {f"{EYES}.head_impulse.left": "corrective_saccade"}]
)
def test_a_trunk_that_vertigo_or_a_labyrinth_explains_is_not_called_cerebellar(
    made: Any, found: dict[str, Any]
) -> None:
    steps = {**CEREBELLAR, **CLEAR, "walking.tandem.correct_steps": 2}
    assert systems(Facts(made({**steps, **found})))["cerebellar"] == "partly_tested"


@pytest.mark.parametrize(("age", "state"), [(74, "partly_tested"), (75, "intact")])
def test_from_75_no_number_of_heel_to_toe_steps_is_abnormal(made: Any, age: int, state: SystemState) -> None:
    found = {**CEREBELLAR, "walking.tandem.correct_steps": 6}
    assert systems(Facts(made(found, age=age)))["cerebellar"] == state


def test_every_system_has_a_state(made: Any) -> None:
    assert list(systems(Facts(made()))) == ["vision", "joint_position", "vestibular", "cerebellar", "motor"]
