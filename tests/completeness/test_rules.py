"""Every rule flags what its examples say and stays silent where they say so."""

from collections.abc import Callable
from pathlib import Path

import pytest
from _pytest.mark.structures import ParameterSet

from neuroform.completeness.examples import Example, examples, examples_in, explain
from neuroform.completeness.gaps import Gap, Severity
from neuroform.completeness.register import RULES, rule_named
from neuroform.completeness.rule import Rule

Check = Callable[[Example], tuple[Gap, ...]]


FURTHER = examples_in((Path(__file__).parent / "cases" / "further.toml").read_text(encoding="utf-8"))
"""Borders and lists that would only tire whoever asks why a rule exists."""


def cases(*, flags: bool) -> list[ParameterSet]:
    return [
        pytest.param(rule_id, example, id=f"{rule_id}: {example.name}")
        for rule_id, found in (*examples().items(), *FURTHER.items())
        for example in found
        if flags is example.flags
    ]


def crashed(gaps: tuple[Gap, ...]) -> list[Gap]:
    return [gap for gap in gaps if gap.rule.startswith("could-not-be-checked")]


@pytest.mark.parametrize(("rule_id", "example"), cases(flags=True))
def test_it_flags(check_example: Check, rule_id: str, example: Example) -> None:
    gaps = check_example(example)
    named = [gap for gap in gaps if gap.rule == rule_id]
    assert crashed(gaps) == []
    assert sorted(path for gap in named for path in gap.items) == sorted(example.names)
    assert {gap.severity for gap in named} == {example.severity or rule_named(rule_id).severity}


@pytest.mark.parametrize(("rule_id", "example"), cases(flags=False))
def test_it_stays_silent(check_example: Check, rule_id: str, example: Example) -> None:
    gaps = check_example(example)
    assert [gap for gap in gaps if gap.rule == rule_id] == crashed(gaps) == []


def test_every_rule_has_examples_that_flag_and_that_stay_silent() -> None:
    assert examples().keys() == {rule.id for rule in RULES}
    for found in examples().values():
        assert {example.flags for example in found} == {True, False}


def test_no_two_rules_share_an_id_and_no_two_examples_of_a_rule_a_name() -> None:
    assert len({rule.id for rule in RULES}) == len(RULES)
    for found in examples().values():
        assert len({example.name for example in found}) == len(found)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_rule_explains_itself(rule: Rule) -> None:
    told = explain(rule.id)
    assert told.message
    assert told.why
    assert told.source
    assert told.flags.flags
    assert not told.silent.flags
    assert told.message.endswith((".", "?"))
    assert "{" not in told.message


def test_a_contradiction_says_so_by_its_id_and_only_those_that_must_block() -> None:
    blocking = {rule.id for rule in RULES if rule.id.startswith("contradiction-") and rule.severity is Severity.MUST}
    assert blocking == {
        "contradiction-absent-reflex-yet-clonus",
        "contradiction-bladder-normal-yet-retention",
        "contradiction-examined-in-the-future",
        "contradiction-eyes-opened-when-open",
        "contradiction-head-impulse-in-unsafe-neck",
        "contradiction-limb-absent-yet-examined",
        "contradiction-longer-than-the-trial",
        "contradiction-no-falls-yet-told",
        "contradiction-value-yet-not-done",
    }


def test_an_unknown_rule_is_not_explained() -> None:
    with pytest.raises(KeyError):
        explain("no-such-rule")
