"""What the register does with the rules: order, reasons, crashes, progress."""

import logging
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from neuroform.completeness.gaps import Gap, Progress, Severity
from neuroform.completeness.register import RULES, check, complete, needed, progress, rule_named, see
from neuroform.completeness.rule import Call, Rules, ask
from neuroform.completeness.seen import Seen
from neuroform.exam.examination import Examination
from neuroform.exam.walk import entry
from neuroform.protocols.loading import load
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.results import Reading

Check = Callable[..., tuple[Gap, ...]]
Make = Callable[..., Examination]
Read = Callable[..., Reading]
Found = dict[str, Any]

JP = ("sensation.joint_position.great_toe.right", "sensation.joint_position.great_toe.left")
RULE = "stance-without-joint-position"


def reason(rule: str, *items: str, text: str = "no time before the scan") -> dict[str, Any]:
    return {"rule": rule, "items": list(items), "reason": text}


def of(gaps: tuple[Gap, ...], rule: str) -> list[Gap]:
    return [gap for gap in gaps if gap.rule == rule]


def test_a_full_examination_with_every_answer_is_complete(check_found: Check, all_answered: Found) -> None:
    gaps = check_found(all_answered)
    assert complete(gaps)
    assert [gap.rule for gap in gaps] == ["consent-missing", "footwear-missing"]


@pytest.mark.parametrize("left_out", [*JP, "context.bladder", "walking.pattern", "motor.tone.left"])
def test_one_blank_item_makes_it_incomplete_and_is_named(
    check_found: Check, all_answered: Found, left_out: str
) -> None:
    gaps = check_found({path: value for path, value in all_answered.items() if path != left_out})
    assert not complete(gaps)
    assert left_out in {path for gap in gaps if gap.counts for path in gap.items}


def test_a_reason_on_the_item_answers_it(check_found: Check, all_answered: Found) -> None:
    assert complete(check_found({**all_answered, "motor.tone.left": {"not_examined": "declined"}}))


def test_a_reason_for_the_gap_explains_it_and_it_stays_listed(check_found: Check, all_answered: Found) -> None:
    lacking = {path: value for path, value in all_answered.items() if path not in JP}
    given = {**lacking, "conclusion.gap_reasons": [reason(RULE, *JP)]}
    gaps = check_found(given)
    assert [(gap.reason, gap.items) for gap in of(gaps, RULE)] == [("no time before the scan", JP)]
    assert complete(gaps)


def test_taking_the_reason_away_opens_the_gap_again(check_found: Check, all_answered: Found) -> None:
    lacking = {path: value for path, value in all_answered.items() if path not in JP}
    gaps = check_found({**lacking, "conclusion.gap_reasons": []})
    assert [gap.reason for gap in of(gaps, RULE)] == [None]
    assert not complete(gaps)


def test_a_reason_still_stands_when_some_of_its_items_are_answered(check_found: Check, all_answered: Found) -> None:
    lacking = {path: value for path, value in all_answered.items() if path != JP[0]}
    gaps = check_found({**lacking, "conclusion.gap_reasons": [reason(RULE, *JP)]})
    assert [(gap.items, gap.reason is None) for gap in of(gaps, RULE)] == [(JP[:1], False)]


@pytest.mark.parametrize(
    "given",
    [
        reason(RULE, JP[0]),
        reason("item-of-the-examination-blank", *JP),
        reason(RULE, *JP, text="  "),
    ],
    ids=["for one item of two", "for another rule", "of blanks"],
)
def test_a_reason_explains_only_its_own_rule_and_items(
    check_found: Check, all_answered: Found, given: dict[str, Any]
) -> None:
    lacking = {path: value for path, value in all_answered.items() if path not in JP}
    gaps = check_found({**lacking, "conclusion.gap_reasons": [given]})
    assert [gap.reason for gap in of(gaps, RULE)] == [None]


def test_gaps_stand_by_severity_then_in_bedside_order(check_found: Check) -> None:
    gaps = check_found({"standing.firm.eyes_open.sway": "none", "sensation.temperature.left": "none"})
    severities = [list(Severity).index(gap.severity) for gap in gaps]
    assert severities == sorted(severities)
    assert [gap.items[0] for gap in gaps if gap.severity is Severity.MUST][:3] == [
        "context.symptoms",
        "context.falls_past_year",
        "context.walks_unaided",
    ]


def test_in_acute_vertigo_gaps_stand_in_the_order_of_that_examination(check_found: Check) -> None:
    named = [gap.items[0] for gap in check_found({"context.cautions": []}, protocol="acute_vertigo") if gap.counts]
    places = [
        named.index(path)
        for path in (
            "standing.sitting_balance",
            "head_and_eyes.nystagmus",
            "head_and_eyes.gaze_evoked_nystagmus",
            "head_and_eyes.skew",
            "head_and_eyes.new_hearing_loss.right",
            "head_and_eyes.head_impulse.right",
            "standing.firm.eyes_open.sway",
            "walking.pattern",
        )
    ]
    assert places == sorted(places)


def test_the_order_of_entry_changes_nothing(check_found: Check, all_answered: Found) -> None:
    some = {path: value for number, (path, value) in enumerate(all_answered.items()) if number % 3}
    assert check_found(some) == check_found(dict(reversed(some.items())))


def crashing() -> Rules:
    rules = Rules()

    @rules.rule("no-rule-of-ours", severity=Severity.NOTICE, message="never said", why="never")
    def _crash(seen: Seen, reading: Reading) -> Iterator[Call]:
        raise ZeroDivisionError("Invented, Ada")

    @rules.rule("another-rule", severity=Severity.SHOULD, message="{items}", why="")
    def _speak(seen: Seen, reading: Reading) -> Iterator[Call]:
        yield ask("reflexes.plantar.right")

    return rules


def test_h33_a_rule_that_crashes_blocks_signing_and_the_others_still_run(
    check_found: Check, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.ERROR):
        gaps = check_found({}, rules=tuple(crashing()))
    assert [(gap.rule, gap.severity) for gap in gaps] == [
        ("could-not-be-checked-no-rule-of-ours", Severity.MUST),
        ("another-rule", Severity.SHOULD),
    ]
    assert "no-rule-of-ours" in gaps[0].message
    assert not complete(gaps)
    assert "Ada" not in caplog.text


def test_a_crash_that_is_explained_no_longer_blocks(check_found: Check) -> None:
    given = {"conclusion.gap_reasons": [reason("could-not-be-checked-no-rule-of-ours", text="looked at it myself")]}
    assert complete(check_found(given, rules=tuple(crashing())))


def test_a_crashed_rule_can_be_asked_why_it_exists() -> None:
    assert rule_named("could-not-be-checked-child").id == "child"


def test_a_blank_item_is_named_once_where_a_rule_of_the_same_force_names_it(
    check_found: Check, all_answered: Found
) -> None:
    lacking = {path: value for path, value in all_answered.items() if path not in JP}
    naming = [gap.rule for gap in check_found(lacking) if JP[0] in gap.items]
    assert naming == [RULE]


def test_a_weaker_rule_does_not_lower_what_the_examination_needs(check_found: Check, all_answered: Found) -> None:
    lacking = {path: value for path, value in all_answered.items() if path != "coordination.speech"}
    sudden = {
        **lacking,
        "context.onset": "sudden",
        "context.duration_days": 0.1,
        "motor.power.hip_flexion.right": "4",
    }
    naming = {gap.rule: gap.severity for gap in check_found(sudden) if "coordination.speech" in gap.items}
    assert naming == {
        "speech-with-sudden-weakness": Severity.SHOULD,
        "item-of-the-examination-blank": Severity.MUST,
    }


def exam_of(make_exam: Make, found: Found) -> Examination:
    return make_exam(
        {
            path: value if entry(path).plain or isinstance(value, dict) else {"value": value}
            for path, value in found.items()
        }
    )


def progress_of(make_exam: Make, make_reading: Read, found: Found) -> Progress:
    exam = exam_of(make_exam, found)
    reading = make_reading(exam)
    gaps = check(exam, reading, load("full"))
    return progress(see(exam, reading, load("full")), gaps)


def test_progress_counts_the_49_answers_of_a_full_examination(
    make_exam: Make, make_reading: Read, all_answered: Found
) -> None:
    assert progress_of(make_exam, make_reading, all_answered) == Progress(answered=49, total=49)
    assert progress_of(make_exam, make_reading, {}) == Progress(answered=0, total=49)


def test_progress_asks_for_three_more_once_a_symptom_is_told(
    make_exam: Make, make_reading: Read, all_answered: Found
) -> None:
    told = {**all_answered, "context.symptoms": ["numbness"]}
    assert progress_of(make_exam, make_reading, told) == Progress(answered=49, total=52)


def test_progress_counts_a_vibration_by_any_method_once(
    make_exam: Make, make_reading: Read, all_answered: Found
) -> None:
    scored = {path.replace(".vibration.", ".vibration_score."): value for path, value in all_answered.items()}
    scored |= {path: {"value": 6} for path in scored if "vibration_score" in path}
    assert progress_of(make_exam, make_reading, scored) == Progress(answered=49, total=49)


def test_progress_counts_what_a_rule_needs_beside_the_examination(
    make_exam: Make, make_reading: Read, all_answered: Found
) -> None:
    extensor = {**all_answered, "reflexes.plantar.right": {"value": "extensor"}}
    assert progress_of(make_exam, make_reading, extensor) == Progress(answered=49, total=50)


def test_needed_leaves_out_what_cannot_be_asked_for(make_exam: Make, make_reading: Read) -> None:
    exam = make_exam({"context.limb_absent": ["left_foot"], "context.cautions": ["severe_neck_pain"]})
    paths = needed(see(exam, make_reading(exam), load("full")))
    assert "reflexes.ankle.right" in paths
    assert "reflexes.ankle.left" not in paths
    assert "head_and_eyes.head_impulse.right" not in paths


def test_needed_names_the_method_that_was_used(make_exam: Make, make_reading: Read) -> None:
    exam = make_exam({"sensation.vibration_score.great_toe.right": {"value": 6}})
    paths = needed(see(exam, make_reading(exam), load("full")))
    assert "sensation.vibration_score.great_toe.right" in paths
    assert "sensation.vibration.great_toe.right" not in paths
    assert "sensation.vibration.great_toe.left" in paths


def test_a_follow_up_asks_again_for_what_was_deferred_then(make_exam: Make, make_reading: Read) -> None:
    earlier = make_exam(
        {
            "head_and_eyes.skew": {"not_examined": "deferred"},
            "coordination.speech": {"not_examined": "declined"},
            "sensation.joint_position.great_toe.left": {"value": {"correct": 4, "trials": 10}},
            "motor.power.hip_flexion.left": {"value": "4"},
            "motor.power.hip_flexion.right": {"value": "5"},
        }
    )
    exam = make_exam({}, protocol="follow_up")
    paths = needed(see(exam, make_reading(exam), load("follow_up"), earlier=earlier))
    assert "head_and_eyes.skew" in paths
    assert "sensation.joint_position.great_toe.left" in paths
    assert "motor.power.hip_flexion.left" in paths
    assert "motor.power.hip_flexion.right" not in paths
    assert "coordination.speech" not in paths


def test_facts_at_hand_give_the_same_gaps(make_exam: Make, make_reading: Read) -> None:
    exam = make_exam({"reflexes.plantar.right": {"value": "extensor"}})
    reading, facts = make_reading(exam), Facts(exam)
    assert check(exam, reading, load("full"), facts=facts) == check(exam, reading, load("full"))


def test_every_rule_runs_last_only_when_it_yields_to_others() -> None:
    assert [rule.id for rule in RULES if rule.last] == [RULES[-1].id] == ["item-of-the-examination-blank"]


def test_a_text_of_blanks_is_no_answer(check_found: Check) -> None:
    found = {"context.symptoms": ["unsteadiness"], "context.balance_affecting_medicines": " "}
    assert of(check_found(found), "medicines-missing")
