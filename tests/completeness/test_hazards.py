"""How the gaps keep this program from hurting someone; each test names its hazard."""

from collections.abc import Callable
from typing import Any

import pytest

from neuroform.completeness.gaps import Gap, Severity
from neuroform.completeness.register import complete

Check = Callable[..., tuple[Gap, ...]]
HEAD_IMPULSE = ("head_and_eyes.head_impulse.right", "head_and_eyes.head_impulse.left")


def of(gaps: tuple[Gap, ...], rule: str) -> list[Gap]:
    return [gap for gap in gaps if gap.rule == rule]


def naming(gaps: tuple[Gap, ...], path: str) -> list[Gap]:
    return [gap for gap in gaps if path in gap.items]


def test_h2_while_cautions_are_blank_the_head_impulse_is_asked_for_only_behind_the_neck(check_found: Check) -> None:
    gaps = check_found({})
    assert of(gaps, "cautions-not-recorded")
    assert all(gap.message.startswith("Ask about the neck first.") for gap in naming(gaps, HEAD_IMPULSE[0]))


def test_h2_once_the_neck_was_asked_about_the_head_impulse_is_asked_for_plainly(check_found: Check) -> None:
    gaps = naming(check_found({"context.cautions": []}), HEAD_IMPULSE[0])
    assert gaps
    assert not any("neck" in gap.message for gap in gaps)


@pytest.mark.parametrize(
    ("told", "item"),
    [
        ("numb between the legs, saddle area", "sensation.saddle"),
        ("has not passed urine since last night", "context.bladder"),
        ("hearing went on the right", "head_and_eyes.new_hearing_loss.right"),
    ],
)
def test_h3_a_red_flag_in_free_text_asks_for_its_finding_and_concludes_nothing(
    check_found: Check, told: str, item: str
) -> None:
    gaps = of(check_found({"context.reason": told}), "words-in-free-text")
    assert [gap.severity for gap in gaps] == [Severity.NOTICE]
    assert item in gaps[0].items


def test_h6_breathing_is_asked_for_in_rapid_weakness(check_found: Check) -> None:
    gaps = of(check_found({}, urgent={"rapid-areflexic-weakness": "immediate"}), "breathing-with-rapid-weakness")
    assert [(gap.severity, gap.items) for gap in gaps] == [
        (Severity.MUST, ("motor.neck_flexion", "motor.breath_count"))
    ]


@pytest.mark.parametrize(
    "path",
    [
        "sensation.joint_position.great_toe.left",
        "reflexes.plantar.left",
        "head_and_eyes.head_impulse.left",
        "head_and_eyes.new_hearing_loss.left",
    ],
)
def test_h11_a_side_copied_that_differs_too_often_is_questioned(
    check_found: Check, all_answered: dict[str, Any], path: str
) -> None:
    normal = {**all_answered, "head_and_eyes.new_hearing_loss.left": {"value": "no"}}
    copied = {**normal, path: {**normal[path], "entered": "copied"}}
    assert [gap.items for gap in of(check_found(copied), "copied-side-not-reexamined")] == [(path,)]


def test_h12_the_complaint_answered_with_one_key_is_questioned(
    check_found: Check, all_answered: dict[str, Any]
) -> None:
    path = "sensation.pinprick.right"
    together = {
        **all_answered,
        "context.symptoms": ["numbness"],
        path: {**all_answered[path], "entered": "together"},
    }
    assert [gap.items for gap in of(check_found(together), "together-on-the-complaint")] == [(path,)]


@pytest.mark.parametrize("written", ["routine", "within_days", "same_day"])
def test_h16_less_haste_than_an_urgent_finding_blocks_without_a_reason(check_found: Check, written: str) -> None:
    said = {"conclusion.plan": "MRI", "conclusion.told": "registrar, 10:40", "conclusion.urgency": written}
    gaps = of(check_found(said, urgent={"cord-compression": "immediate"}), "impression-contradicts-urgent")
    assert [(gap.severity, gap.items) for gap in gaps] == [(Severity.MUST, ("conclusion.urgency",))]
    assert "Now" in gaps[0].message


def test_h18_a_finding_for_now_asks_who_was_told(check_found: Check) -> None:
    gaps = of(check_found({}, urgent={"cauda-equina": "immediate"}), "immediate-without-call")
    assert [(gap.severity, gap.items) for gap in gaps] == [(Severity.MUST, ("conclusion.told",))]


@pytest.mark.parametrize(("age", "flagged"), [(3, True), (17, True), (18, False), (90, False)])
def test_h20_h21_someone_under_18_is_said_to_have_no_limits(check_found: Check, age: int, flagged: bool) -> None:
    gaps = of(check_found({}, age=age), "child")
    assert bool(gaps) is flagged
    assert all(str(age) in gap.message for gap in gaps)


def test_h23_an_injured_neck_switches_every_prompt_off_that_moves_it(check_found: Check) -> None:
    gaps = check_found({"context.cautions": ["neck_trauma"], "context.symptoms": ["neck_injury"]})
    named = {path for gap in gaps for path in gap.items}
    assert not [path for path in named if path.startswith(("standing.", "walking.", "head_and_eyes.head_impulse"))]
    assert "reflexes.plantar.right" in named


def test_blank_never_passes_for_normal(check_found: Check) -> None:
    gaps = check_found({})
    assert not complete(gaps)
    assert len({path for gap in gaps if gap.counts for path in gap.items}) == 49
