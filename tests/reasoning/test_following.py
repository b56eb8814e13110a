"""Supposing a finding gives the verdicts of the examination with that finding in it, sign by sign or kept."""

from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from neuroform.exam.findings import Examined
from neuroform.exam.walk import entries, put
from neuroform.reasoning.answers_supposed import supposed, together
from neuroform.reasoning.facts import Facts, bit
from neuroform.reasoning.following import Following
from neuroform.reasoning.mechanism import verdict
from neuroform.reasoning.patterns import PATTERNS
from neuroform.reasoning.results import Verdict
from tests.reasoning.changing import read_raw, varied

ASKED = [at for at in entries() if not at.plain and at.kind != "text" and supposed(at.paths)]


def verdicts(facts: Facts) -> list[Verdict]:
    return [verdict(pattern, facts, side) for pattern in PATTERNS for side in pattern.sides]


@given(st.integers(0, 2**32), st.data())
def test_a_supposed_finding_reads_as_a_recorded_one(seed: int, data: st.DataObject) -> None:
    exam = read_raw(varied(seed))
    facts = Following(exam)
    assert verdicts(facts) == verdicts(Facts(exam))
    open_items = [at for at in ASKED if not any(path in facts.found for path in at.paths)]
    assume(open_items)
    at = data.draw(st.sampled_from(open_items))
    answer = data.draw(st.sampled_from(supposed(at.paths)))
    world = next(facts.supposing(at.paths, [answer]))
    found: Any = exam
    for path, value in answer.items():
        found = put(found, path, Examined(value=value))
    assert verdicts(world) == verdicts(Facts(found))


def test_every_item_that_is_asked_for_has_answers_of_its_own_type(made: Any) -> None:
    blank = made()
    for at in ASKED:
        for answer in supposed(at.paths):
            assert set(answer) == set(at.paths)
            for path, value in answer.items():
                assert put(blank, path, Examined(value=value)) != blank


def test_the_parts_of_a_trial_are_answered_in_one_go() -> None:
    sway, ended = "standing.firm.eyes_closed.sway", "standing.firm.eyes_closed.ended"
    assert together(sway) == together(ended) == (sway, ended)
    assert together("walking.base") == ("walking.base",)
    assert {tuple(answer.values()) for answer in supposed((sway, ended))} == {
        ("slight", "held"),
        ("marked", "fell"),
        ("marked", "held"),
    }


def test_what_a_pattern_looked_at_is_noted(made: Any) -> None:
    facts = Following(made())
    orthostatic = next(pattern for pattern in PATTERNS if pattern.name == "orthostatic")
    with facts.watched() as first:
        verdict(orthostatic, facts, None)
    with facts.watched() as again:
        verdict(orthostatic, facts, None)
    assert first[0] & bit("circulation.lying")
    assert first == again
    assert not first[0] & bit("walking.base")
