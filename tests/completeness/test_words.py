"""Gaps and examples in words: items with their side, why and source beside the message, and the neck first."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from neuroform.completeness.examples import Example, examples, examples_in, explain
from neuroform.completeness.gaps import Gap, Severity
from neuroform.completeness.register import rule_named
from neuroform.completeness.rule import Call, Rules, ask, look, tell
from neuroform.completeness.seen import Seen
from neuroform.completeness.wording import items_in_words, side_in_words
from neuroform.reasoning.results import Reading

Check = Callable[..., tuple[Gap, ...]]
IMPULSE = ("head_and_eyes.head_impulse.right", "head_and_eyes.head_impulse.left")


@pytest.mark.parametrize(
    ("paths", "words"),
    [
        (("context.bladder",), "Bladder"),
        (("sensation.pinprick.right",), "Pinprick (right)"),
        (("sensation.pinprick.left",), "Pinprick (left)"),
        (("sensation.pinprick.right", "sensation.pinprick.left"), "Pinprick (both sides)"),
        (("reflexes.knee.left", "context.bladder"), "Knee reflex (left); Bladder"),
        (("motor.power.hip_flexion.left",), "Power, hip flexion (left)"),
        (("sensation.joint_position.great_toe.right",), "Joint position, great toe (right)"),
        (("standing.firm.sway_from",), "Movement comes from"),
        # Many items are called "Sway": their group is named too.
        (("standing.firm.eyes_closed.sway",), "Firm ground, eyes closed: Sway"),
        (("patient.birth_date",), "Date of birth"),
        (("encounter.examined_at",), "Time of the examination"),
        (("nowhere.known",), "nowhere.known"),
    ],
)
def test_items_are_named_with_their_side(paths: tuple[str, ...], words: str) -> None:
    assert items_in_words(paths) == words


def test_a_side_has_its_word() -> None:
    assert [side_in_words(side) for side in ("right", "left")] == ["right", "left"]


def named(gaps: tuple[Gap, ...], rule: str) -> Gap:
    return next(gap for gap in gaps if gap.rule == rule)


def test_a_gap_carries_its_words_why_and_source(check_found: Check) -> None:
    gap = named(check_found({"reflexes.ankle.left": "absent"}), "absent-reflex-method")
    assert gap.message == "An ankle reflex is absent; how it was sought is blank. Try a strike on the sole too."
    assert gap.why == "The usual method alone makes many false absences in older people."
    assert gap.source == "Ziff and Stark"


def test_less_haste_than_an_urgent_finding_is_said_with_both_words(check_found: Check) -> None:
    found = {"conclusion.urgency": "routine"}
    urgent = {"rapid-ataxia": "within_days", "cord-compression": "immediate"}
    gap = named(check_found(found, urgent=urgent), "impression-contradicts-urgent")
    assert gap.message == "You have written “routine” beside an urgent finding for “Now”: say why."


@pytest.mark.parametrize(("cautions", "first"), [(None, True), ([], False)])
def test_the_neck_comes_first_only_while_nobody_asked_about_it(
    check_found: Check, cautions: list[str] | None, first: bool
) -> None:
    found = {"context.symptoms": ["vertigo"], **({} if cautions is None else {"context.cautions": cautions})}
    asking = [gap for gap in check_found(found) if set(IMPULSE) & set(gap.items)]
    assert asking
    assert {gap.message.startswith("Ask about the neck first. ") for gap in asking} == {first}


def test_the_neck_is_not_put_first_where_the_head_is_not_moved(check_found: Check) -> None:
    still = [gap for gap in check_found({}) if not {"head_and_eyes.head_impulse.right"} & set(gap.items)]
    assert not any(gap.message.startswith("Ask about the neck first") for gap in still)


@pytest.mark.parametrize(
    "found",
    [
        {"context.symptoms": ["neck_injury"], "context.onset": "acute"},
        {"context.cautions": ["neck_instability"], "context.onset": "sudden"},
    ],
)
def test_h23_an_injured_neck_stops_what_moves_it_before_any_reading(check_found: Check, found: dict[str, Any]) -> None:
    items = {path for gap in check_found(found) if gap.rule.startswith("item-of") for path in gap.items}
    assert items
    assert not items & {*IMPULSE, "standing.firm.eyes_open.sway", "walking.pattern"}


def test_h23_a_raised_neck_is_heeded_though_the_form_says_nothing(check_found: Check) -> None:
    gaps = check_found({}, urgent={"possible-unstable-neck": "immediate"})
    assert not {path for gap in gaps for path in gap.items} & set(IMPULSE)


def spoken(kind: Callable[..., Call]) -> Rules:
    rules = Rules()

    @rules.rule("spoken", severity=Severity.NOTICE, message="{items}: {so}", why="so")
    def _speak(seen: Seen, reading: Reading) -> Iterator[Call]:
        yield kind("reflexes.plantar.right", severity=Severity.SHOULD, so="thus")

    return rules


@pytest.mark.parametrize("kind", [ask, look, tell])
def test_a_call_may_lower_the_severity_and_fill_in_words(check_found: Check, kind: Callable[..., Call]) -> None:
    (gap,) = check_found({}, rules=tuple(spoken(kind)))
    assert gap.message == "Plantar response (right): thus"
    assert gap.severity is Severity.SHOULD


def test_asking_looking_and_telling_differ_in_what_falls_away(check_found: Check) -> None:
    answered = {"reflexes.plantar.right": "flexor"}
    missing = {"context.limb_absent": ["right_foot"]}
    left = {
        kind.__name__: [bool(check_found(found, rules=tuple(spoken(kind)))) for found in (answered, missing)]
        for kind in (ask, look, tell)
    }
    assert left == {"ask": [False, False], "look": [True, False], "tell": [True, True]}


def test_an_unknown_rule_is_named_in_the_error() -> None:
    with pytest.raises(KeyError, match="no-such-rule"):
        rule_named("no-such-rule")


TEXT = """
another-rule.silent = []

[[some-rule.flags]]
name = "One"
exam = { reflexes.plantar = "flexor", sensation.pinprick.left = "toes", context.cautions = [] }
names = ["reflexes.plantar", "motor.tone.left"]
without = ["motor.tone"]
severity = "notice"
earlier = { context.bladder = "normal" }
age = 61

[[some-rule.silent]]
name = "Two"
exam.context.bladder = { not_examined = "declined" }
exam.walking.base = { value = "wide", comment = "in a hurry" }
"""


def test_an_example_is_read_with_both_sides_of_what_names_none() -> None:
    found = examples_in(TEXT)
    one, two = found["some-rule"]
    assert found["another-rule"] == ()
    assert one == Example(
        name="One",
        flags=True,
        found={
            "reflexes.plantar.right": {"value": "flexor"},
            "reflexes.plantar.left": {"value": "flexor"},
            "sensation.pinprick.left": {"value": "toes"},
            "context.cautions": [],
        },
        names=("reflexes.plantar.right", "reflexes.plantar.left", "motor.tone.left"),
        without=("motor.tone.right", "motor.tone.left"),
        severity=Severity.NOTICE,
        earlier={"context.bladder": {"value": "normal"}},
        age=61,
    )
    assert (two.name, two.flags, two.names, two.severity, two.earlier) == ("Two", False, (), None, None)
    assert two.found == {
        "context.bladder": {"not_examined": "declined"},
        "walking.base": {"value": "wide", "comment": "in a hurry"},
    }


def told(found: dict[str, Any], **more: Any) -> tuple[str, ...]:
    return Example(name="", flags=True, found=found, **more).told


def test_an_example_is_told_line_by_line() -> None:
    found = {
        "context.cautions": [],
        "context.symptoms": ["vertigo", "falls"],
        "context.bladder": {"not_examined": "declined"},
        "reflexes.plantar.right": {"value": "extensor"},
        "walking.base": {"value": "wide", "comment": "in a hurry"},
        "context.duration_days": {"value": 0.5},
        "circulation.lying": {"value": {"systolic": 120, "diastolic": 80}},
        "conclusion.told": "Stroke team, 10:40",
    }
    assert told(found) == (
        "Cautions: asked, and none",
        "Symptoms: vertigo, falls",
        "Bladder: not examined: declined",
        "Plantar response (right): extensor",
        "Base: wide (in a hurry)",
        "Duration: 0.5",
        "Lying: 120 / 80",
        "Told: Stroke team, 10:40",
    )


def test_an_example_tells_what_stands_beside_its_findings() -> None:
    lines = told(
        {"context.bladder": {"value": "urgency"}},
        fill="full",
        urgent={"cord-compression": "immediate", "rapid-ataxia": "same_day"},
        patterns={"functional": "possible"},
        earlier={"reflexes.knee.left": {"value": "brisk"}},
    )
    assert lines == (
        "Bladder: urgency",
        "Everything else is answered and normal",
        "Urgent finding: cord-compression",
        "Urgent finding: rapid-ataxia",
        "functional: possible",
        "Earlier, Knee reflex (left): brisk",
    )


def test_an_explanation_leaves_open_what_an_examination_fills_in() -> None:
    found = explain("impression-contradicts-urgent")
    assert found.message == "You have written “…” beside an urgent finding for “…”: say why."
    assert explain("absent-reflex-method").source == "Ziff and Stark"


@pytest.mark.parametrize("rule_id", sorted(examples()))
def test_no_field_of_a_message_stays_empty(check_example: Callable[[Example], tuple[Gap, ...]], rule_id: str) -> None:
    for example in examples()[rule_id]:
        for gap in check_example(example):
            assert "None" not in gap.message
            assert "{" not in gap.message


def test_a_gap_that_is_explained_keeps_its_words(check_found: Check) -> None:
    given = {"rule": "absent-reflex-method", "items": ["reflexes.ankle_method"], "reason": "in a hurry"}
    found = {"reflexes.ankle.left": "absent", "conclusion.gap_reasons": [given]}
    gap = named(check_found(found), "absent-reflex-method")
    assert gap.reason == "in a hurry"
    assert gap.message.startswith("An ankle reflex is absent; how it was sought is blank.")
    assert gap.source == "Ziff and Stark"
