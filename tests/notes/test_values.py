"""The words of a value: from the catalogue, the unit beside its number, the three states told apart."""

from typing import Any

import pytest

from neuroform.exam import walk
from neuroform.exam.circulation import Pressure
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.sensation import MovementCount
from neuroform.notes.values import finding_words, label

S = "\u202f"


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("reflexes.ankle", "absent", "absent"),
        ("sensation.pinprick", "mid_calf", "up to mid-calf"),
        ("sensation.pinprick", "ankle", "up to the ankle"),
        ("sensation.pinprick", "none", "not reduced"),
        ("motor.power.hip_flexion", "4-", "4-"),
        ("walking.pattern", ("stamping", "veers_left"), "stamping, veers to the left"),
        ("context.cautions", (), "none"),
        ("sensation.joint_position.great_toe", MovementCount(correct=8, trials=10), "8 of 10"),
        ("sensation.vibration_score.great_toe", 3.0, "3.0"),
        ("context.duration_days", 1, f"1{S}day"),
        ("context.duration_days", 0.5, f"0.5{S}days"),
        ("context.duration_days", 120, f"120{S}days"),
        # 4015 = 11 x 365; 3285 = 9 x 365; 200 days are 6.6 months.
        ("context.duration_days", 4015, f"11{S}years"),
        ("context.duration_days", 3285, f"9{S}years"),
        ("context.duration_days", 365, f"12{S}months"),
        ("context.duration_days", 200, f"about 7{S}months"),
        ("context.duration_days", 900, f"about 2{S}years"),
        ("walking.ten_metre_seconds", 12.4, f"12.4{S}s"),
        ("context.residual_urine_ml", 220, f"220{S}mL"),
        ("circulation.lying", Pressure(systolic=142, diastolic=88), f"142/88{S}mmHg"),
        ("circulation.lying", Pressure(systolic=142, diastolic=88, pulse=76), f"142/88{S}mmHg, pulse 76{S}/min"),
    ],
)
def test_a_value_s_words_are_the_catalogue_s_with_the_unit_beside_the_number(path: str, value: Any, words: str) -> None:
    assert finding_words(walk.entry(path), Examined(value=value)) == words


def test_blank_not_examined_and_none_are_three_phrases() -> None:
    caution, saddle = walk.entry("context.cautions"), walk.entry("sensation.saddle")
    assert finding_words(caution, None) == "blank"
    assert finding_words(caution, ()) == "none"
    assert finding_words(saddle, NotExamined(not_examined="declined")) == "not examined (declined)"


def test_every_item_has_a_name_that_stands_alone() -> None:
    names = [label(item) for item in walk.entries() if item.section != "conclusion"]
    assert len(names) == len(set(names))
