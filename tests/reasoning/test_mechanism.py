"""The mechanism follows its ten rules: checked against a second, plain telling of them, on every combination."""

from collections.abc import Sequence
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.exam.examination import Examination
from neuroform.exam.walk import SIDES, position
from neuroform.reasoning.facts import Facts, SideSign, Sign
from neuroform.reasoning.mechanism import Criterion, Pattern, Weight, judge
from neuroform.reasoning.patterns import PATTERNS
from neuroform.reasoning.results import Verdict
from tests.reasoning.changing import read_raw, varied

MET = (True, False, None)
SIGNS = st.sampled_from(MET)
WEIGHTS: tuple[Weight, ...] = ("decisive", "strong", "weak")
CRITERIA = st.lists(st.tuples(st.sampled_from(WEIGHTS), SIGNS), max_size=5)
PATHS = (
    "sensation.pinprick.right",
    "reflexes.ankle.left",
    "context.onset",
    "standing.pull_test",
    "walking.base",
)


def always(met: bool | None, path: str = PATHS[0]) -> SideSign:
    return lambda _facts, _side: Sign(met, (path,)) if met is not None else Sign(None, (), (path,))


def criteria(found: Sequence[tuple[Weight, bool | None]]) -> tuple[Criterion, ...]:
    return tuple(
        Criterion(label=f"criterion {n}", weight=weight, sign=always(met, PATHS[n % len(PATHS)]))
        for n, (weight, met) in enumerate(found)
    )


def told_again(
    speaks_for: Sequence[tuple[Weight, bool | None]],
    speaks_against: Sequence[tuple[Weight, bool | None]],
    must: bool | None,
    needs: bool | None,
    gate: bool | None,
) -> Verdict:
    """Say the rules once more, one after the other, counting by hand."""
    if gate is False:
        return "unlikely"
    if gate is None:
        return "not_assessable"
    if ("decisive", True) in speaks_against:
        return "unlikely"
    for_it = {weight: sum(found == (weight, True) for found in speaks_for) for weight in WEIGHTS}
    against_it = {weight: sum(found == (weight, True) for found in speaks_against) for weight in WEIGHTS}
    f = 4 * for_it["decisive"] + 2 * for_it["strong"] + for_it["weak"]
    a = 2 * against_it["strong"] + against_it["weak"]
    several = sum(for_it.values()) >= 2
    if must is True and needs is True and a <= 1 and (for_it["decisive"] or (f >= 4 and several)):
        return "supported"
    if (for_it["decisive"] or for_it["strong"]) and f > a:
        return "possible"
    return "unlikely" if must is True else "not_assessable"


def pattern(**told: Any) -> Pattern:
    blank: dict[str, Any] = {"name": "invented", "label": "invented", "speaks_for": (), "speaks_against": ()}
    return Pattern(**{**blank, "must": always(True), **told})


def verdict_of(made: Any, **told: Any) -> Verdict:
    return judge(pattern(**told), Facts(made()), None).verdict


@given(CRITERIA, CRITERIA, SIGNS, SIGNS, SIGNS)
def test_the_verdict_is_the_one_the_rules_give(
    made: Any,
    speaks_for: list[tuple[Weight, bool | None]],
    speaks_against: list[tuple[Weight, bool | None]],
    must: bool | None,
    needs: bool | None,
    gate: bool | None,
) -> None:
    found = verdict_of(
        made,
        speaks_for=criteria(speaks_for),
        speaks_against=criteria(speaks_against),
        must=always(must),
        supported_needs=always(needs),
        gate=always(gate),
        gate_label="vertigo",
    )
    assert found == told_again(speaks_for, speaks_against, must, needs, gate)


@given(st.integers(0, 2**32))
def test_every_shipped_pattern_gets_the_verdict_its_criteria_give(seed: int) -> None:
    facts = Facts(read_raw(varied(seed)))
    for shipped in (one for one in PATTERNS if not _has_a_rule_of_its_own(one)):
        for side in shipped.sides:
            on = side or "right"
            again = told_again(
                [(one.weight, one.sign(facts, on).met) for one in shipped.speaks_for],
                [(one.weight, one.sign(facts, on).met) for one in shipped.speaks_against],
                shipped.must(facts, on).met,
                shipped.supported_needs(facts, on).met if shipped.supported_needs else True,
                shipped.gate(facts, on).met if shipped.gate else True,
            )
            assert judge(shipped, facts, side).verdict == again, shipped.name


def _has_a_rule_of_its_own(one: Pattern) -> bool:
    own = (one.must_to_deny, one.possible_needs, one.possible_at_most, one.never_unlikely)
    return one.decisive_suffices or any(own)


@pytest.mark.parametrize(("must", "suffices"), list(product(MET, (True, False))))
def test_a_decisive_criterion_alone_supports_only_where_that_is_said(
    made: Any, must: bool | None, suffices: bool
) -> None:
    found = verdict_of(
        made,
        speaks_for=criteria([("decisive", True)]),
        speaks_against=criteria([("strong", True), ("strong", True), ("strong", True)]),
        must=always(must),
        decisive_suffices=suffices,
    )
    unsupported: Verdict = "unlikely" if must else "not_assessable"
    assert found == ("supported" if suffices else unsupported)


def test_a_cap_that_is_met_keeps_it_at_possible_and_stands_among_what_opposes(made: Any) -> None:
    capped = pattern(
        speaks_for=criteria([("strong", True), ("strong", True)]), possible_at_most=always(True, "walking.base")
    )
    found = judge(capped, Facts(made()), None)
    assert found.verdict == "possible"
    assert "walking.base" in found.opposing


@pytest.mark.parametrize("met", [False, None])
def test_a_cap_that_is_not_known_to_hold_keeps_nothing_down(made: Any, met: bool | None) -> None:
    strong = criteria([("strong", True), ("strong", True)])
    assert verdict_of(made, speaks_for=strong, possible_at_most=always(met)) == "supported"


@pytest.mark.parametrize("met", [False, None])
def test_what_even_possible_needs_is_needed_for_supported_too(made: Any, met: bool | None) -> None:
    strong = criteria([("strong", True), ("strong", True)])
    assert verdict_of(made, speaks_for=strong, possible_needs=always(met)) == "unlikely"


def test_want_of_evidence_denies_only_what_was_looked_for_closely_enough(made: Any) -> None:
    assert verdict_of(made, must=always(None), must_to_deny=always(True)) == "unlikely"
    assert verdict_of(made, must=always(True), must_to_deny=always(None)) == "not_assessable"
    assert verdict_of(made, never_unlikely=always(True)) == "not_assessable"


def test_only_met_criteria_support_and_oppose_and_unknown_ones_are_missing(made: Any) -> None:
    found = judge(
        pattern(
            speaks_for=criteria([("strong", True), ("weak", None), ("weak", False)]),
            speaks_against=criteria([("strong", False), ("weak", None), ("weak", True)]),
            must=always(None, "walking.base"),
        ),
        Facts(made()),
        None,
    )
    assert found.supporting == ("sensation.pinprick.right",)
    assert found.opposing == ("context.onset",)
    assert found.missing == ("walking.base", "reflexes.ankle.left")
    assert found.strong
    assert not found.argued_against


def test_a_guard_that_is_known_and_not_clear_opposes(made: Any) -> None:
    clouded = Sign(None, (PATHS[0],), (), ("walking.base",))
    one = Criterion(label="clouded", weight="strong", sign=lambda _facts, _side: clouded)
    assert judge(pattern(speaks_for=(one,)), Facts(made()), None).opposing == ("walking.base",)


def test_normal_findings_that_had_to_be_known_oppose(made: Any) -> None:
    facts = Facts(made({"walking.base": "normal", "standing.pull_test": "would_fall"}))
    looked = Sign(True, ("walking.base", "standing.pull_test"))
    assert judge(pattern(must=lambda _facts, _side: looked), facts, None).opposing == ("walking.base",)


def test_behind_a_closed_gate_only_the_gate_is_said(made: Any) -> None:
    closed = pattern(
        speaks_for=criteria([("decisive", True)]), gate=always(False, "context.onset"), gate_label="acute vertigo"
    )
    found = judge(closed, Facts(made()), None)
    assert (found.verdict, found.supporting, found.opposing, found.missing) == ("unlikely", (), ("context.onset",), ())
    assert found.because == "Only asked about in acute vertigo: that is not so here."


def test_the_reason_names_what_speaks_for_and_against(made: Any) -> None:
    told = pattern(speaks_for=criteria([("strong", True), ("weak", True)]), speaks_against=criteria([("weak", True)]))
    said = judge(told, Facts(made()), None).because
    assert said == "For it: criterion 0; criterion 1. Against it: criterion 0."
    assert judge(pattern(), Facts(made()), None).because == "Nothing recorded speaks for it."
    open_ = judge(pattern(must=always(None)), Facts(made()), None).because
    assert open_ == "Not everything it rests on was examined."


@given(st.integers(0, 2**32))
def test_every_list_holds_each_finding_once_in_bedside_order(seed: int) -> None:
    exam: Examination = read_raw(varied(seed))
    facts = Facts(exam)
    for shipped in PATTERNS:
        for side in shipped.sides:
            found = judge(shipped, facts, side)
            for paths in (found.supporting, found.opposing, found.missing):
                assert list(paths) == sorted(set(paths), key=position)


def test_a_criterion_without_a_sign_is_refused() -> None:
    from neuroform.reasoning.mechanism import strong

    with pytest.raises(ValueError, match="needs a sign"):
        strong("nothing to look at")


def test_sided_patterns_are_judged_right_then_left() -> None:
    assert pattern(sided=True).sides == SIDES == ("right", "left")
    assert pattern().sides == (None,)
