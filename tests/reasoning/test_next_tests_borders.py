"""What to examine next, at its borders: the neck, one side alone, and what an item would tell of one pattern."""

from typing import Any

import pytest

from neuroform.exam.walk import entry
from neuroform.protocols.safety import HEAD_MOVED
from neuroform.reasoning.interpretation import read
from neuroform.reasoning.next_tests import propose

EYES = "head_and_eyes"
BOBBING = {"context.symptoms": ["oscillopsia", "neck_injury"], "context.cautions": []}


@pytest.mark.parametrize(("onset", "moved"), [("acute", False), ("chronic", True)])
def test_h23_a_neck_injured_of_late_keeps_the_head_still(made: Any, onset: str, moved: bool) -> None:
    exam = made({**BOBBING, "context.onset": onset})
    assert any(entry(one.item).path in HEAD_MOVED for one in propose(exam, read(exam))) is moved


@pytest.mark.parametrize("side", ["right", "left"])
def test_of_one_side_its_pattern_is_named_with_it(made: Any, side: str) -> None:
    other = {"right": "left", "left": "right"}[side]
    found = {
        "context.symptoms": ["weakness"],
        f"motor.power.hip_flexion.{side}": "4",
        f"motor.power.ankle_dorsiflexion.{side}": "4",
        f"reflexes.knee.{side}": "normal",
        f"motor.power.hip_flexion.{other}": "5",
        f"motor.power.ankle_dorsiflexion.{other}": "5",
        f"reflexes.knee.{other}": "normal",
        f"reflexes.ankle.{other}": "normal",
        "reflexes.plantar": "flexor",
        "motor.tone": "normal",
    }
    exam = made(found)
    ankle = {one.item: one.because for one in propose(exam, read(exam))}[f"reflexes.ankle.{side}"]
    assert ankle == (
        f"would tell upper motor neurone on the {side} from nerve, junction or muscle weakness on the {side}"
    )
