"""What the paragraph says can't be judged, and why, from verdicts set by hand."""

from typing import Any

import pytest

from neuroform.reasoning.conclusions_text import support_text
from neuroform.reasoning.facts import Facts
from tests.reasoning.verdicts_by_hand import LACKING, SOMETHING, TOE_RIGHT, Set, reading

# What can't be judged: the complaint, the open pattern, what it lacks, what is said.
OPEN: list[tuple[list[str], str, tuple[str, ...], str | None]] = [
    (
        ["unsteadiness"],
        "sensory_ataxia",
        (TOE_RIGHT,),
        "A sensory ataxia cannot be judged, because position sense at the great toes on the right was not recorded.",
    ),
    (["headache"], "sensory_ataxia", (TOE_RIGHT,), None),
    (["unsteadiness"], "sensory_ataxia", (), None),
    (
        ["falls"],
        "orthostatic",
        ("circulation.lying", "circulation.standing_1_min"),
        (
            "A fall of blood pressure on standing cannot be judged, because blood pressure lying"
            " and blood pressure standing for 1 minute were not recorded."
        ),
    ),
    (
        ["vertigo"],
        "positional_vertigo",
        ("head_and_eyes.positional_test.right",),
        "Positional vertigo cannot be judged, because the positional test on the right was not recorded.",
    ),
    (
        ["weakness"],
        "lower_motor_neurone_weakness",
        ("motor.power.hip_flexion.right",),
        (
            "A weakness of nerve, junction or muscle cannot be judged,"
            " because power, hip flexion on the right was not recorded."
        ),
    ),
    (
        ["numbness"],
        "length_dependent_neuropathy",
        (
            "sensation.pinprick.right",
            "reflexes.ankle.right",
            "sensation.vibration.great_toe.right",
            "sensation.vibration.great_toe.left",
            "reflexes.knee.left",
        ),
        (
            "A length-dependent neuropathy cannot be judged, because vibration at the great toes,"
            " the knee reflexes on the left"
            " and the ankle reflexes on the right were not recorded."
        ),
    ),
    (
        ["oscillopsia"],
        "bilateral_vestibular",
        ("head_and_eyes.head_impulse.right",),
        (
            "A probable vestibular loss on both sides cannot be judged,"
            " because the head impulse on the right was not recorded."
        ),
    ),
    (
        ["light_headedness"],
        "orthostatic",
        ("circulation.lying",),
        "A fall of blood pressure on standing cannot be judged, because blood pressure lying was not recorded.",
    ),
]


@pytest.mark.parametrize(("symptoms", "pattern", "missing", "text"), OPEN)
def test_what_the_complaint_asks_for_and_nobody_examined_is_said(
    made: Any, symptoms: list[str], pattern: str, missing: tuple[str, ...], text: str | None
) -> None:
    found = {"context.symptoms": symptoms}
    facts = Facts(made(found))
    read = reading({pattern: "not_assessable"}, more={pattern: {"missing": missing}})
    lines = {each.text: each for each in support_text(facts, read) if "cannot be judged" in each.text}
    assert list(lines) == ([] if text is None else [text])
    if text is not None:
        assert lines[text].items == missing
        assert lines[text].weight == 1


def cannot(made: Any, found: dict[str, Any], verdicts: Set, **more: Any) -> list[str]:
    read = reading(verdicts, more=more)
    return [each.text for each in support_text(Facts(made(found)), read) if "cannot be judged" in each.text]


def test_something_strong_for_an_open_pattern_is_said_whatever_the_complaint(made: Any) -> None:
    lines = cannot(
        made, SOMETHING, {"dorsal_column": "not_assessable"}, dorsal_column={"missing": (LACKING,), "strong": True}
    )
    assert len(lines) == 1
    assert lines[0].endswith("cannot be judged, because speech was not recorded.")


def test_a_complaint_that_has_its_answer_leaves_nothing_open(made: Any) -> None:
    verdicts: Set = {"cerebellar_midline": "supported", "sensory_ataxia": "not_assessable"}
    assert cannot(made, {"context.symptoms": ["unsteadiness"]}, verdicts) == []


def test_at_most_two_are_said_to_be_open(made: Any) -> None:
    verdicts: Set = {"sensory_ataxia": "not_assessable", "cerebellar_midline": "not_assessable"}
    verdicts = {**verdicts, "orthostatic": "not_assessable"}
    lines = cannot(made, {"context.symptoms": ["unsteadiness", "falls"]}, verdicts)
    assert [line.split(" cannot")[0] for line in lines] == ["A sensory ataxia", "A disorder of the midline cerebellum"]


def test_what_is_not_advised_is_not_called_missing(made: Any) -> None:
    """H2: with a neck at risk nobody is asked for a head impulse."""
    found = {"context.symptoms": ["oscillopsia"], "context.cautions": ["neck_surgery"]}
    lacks = {"missing": ("head_and_eyes.head_impulse.right",)}
    assert cannot(made, found, {"bilateral_vestibular": "not_assessable"}, bilateral_vestibular=lacks) == []


def test_blank_a_reason_and_an_uncertain_finding_are_three_phrases(made: Any) -> None:
    found = {
        "context.symptoms": ["vertigo"],
        "head_and_eyes.head_impulse": "uncertain",
        "head_and_eyes.skew": "not examined: unable",
    }
    missing = ("head_and_eyes.skew", "head_and_eyes.head_impulse.right", "head_and_eyes.nystagmus")
    lines = cannot(
        made,
        found,
        {"acute_vestibular_peripheral": "not_assessable"},
        acute_vestibular_peripheral={"missing": missing},
    )
    assert lines == [
        (
            "An acute vestibular loss of one side cannot be judged, because the head impulse on the right"
            " was uncertain, nystagmus was not recorded and skew was not examined."
        )
    ]


def test_h23_with_a_neck_that_may_be_unstable_no_head_impulse_is_called_missing(made: Any) -> None:
    lacks = {"bilateral_vestibular": {"missing": ("head_and_eyes.head_impulse.right",)}}
    read = reading({"bilateral_vestibular": "not_assessable"}, {"possible-unstable-neck": "immediate"}, lacks)
    facts = Facts(made({"context.symptoms": ["oscillopsia"]}))
    assert not [each for each in support_text(facts, read) if "cannot be judged" in each.text]


def test_a_pattern_that_lacks_nothing_that_can_be_examined_does_not_hide_the_next(made: Any) -> None:
    verdicts: Set = {"sensory_ataxia": "not_assessable", "cerebellar_midline": "not_assessable"}
    lines = cannot(made, {"context.symptoms": ["unsteadiness"]}, verdicts, sensory_ataxia={"missing": ()})
    assert lines == ["A disorder of the midline cerebellum cannot be judged, because speech was not recorded."]
