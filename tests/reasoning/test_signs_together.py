"""Signs taken together: what holds, what it rests on, what is missing, what clouds it; and what opposes a pattern."""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts, Sign, all_of, any_of, denied, every, guarded, negated, unless
from neuroform.reasoning.mechanism import Criterion, Pattern, judge

BASE, GAIT, TONE, SPEECH = "walking.base", "walking.pattern", "motor.tone.right", "coordination.speech"
HOLDS, FAILS, OPEN = Sign(True, (BASE,)), Sign(False, (GAIT,)), Sign(None, (), (TONE,))
CLOUDED = Sign(None, (BASE,), (TONE,), (SPEECH,))

# What it shows, the sign, what it has to be.
ROWS: list[tuple[str, Sign, Sign]] = [
    ("all, one fails", all_of(HOLDS, FAILS, OPEN), Sign(False, (GAIT,))),
    ("all, one is open", all_of(HOLDS, OPEN), Sign(None, (BASE,), (TONE,))),
    ("all hold", all_of(HOLDS, Sign(True, (SPEECH,))), Sign(True, (BASE, SPEECH))),
    ("any, one holds", any_of(HOLDS, FAILS, OPEN), Sign(True, (BASE,))),
    ("any, one is open", any_of(FAILS, OPEN), Sign(None, (GAIT,), (TONE,))),
    ("any, none holds", any_of(FAILS, Sign(False, (BASE,))), Sign(False, (BASE, GAIT))),
    ("what clouds is kept", any_of(FAILS, CLOUDED), Sign(None, (BASE, GAIT), (TONE,), (SPEECH,))),
    ("not, of what holds", negated(HOLDS), Sign(False, (BASE,))),
    ("not, of what fails", negated(FAILS), Sign(True, (GAIT,))),
    ("not, of what is open", negated(OPEN), OPEN),
    ("unless it holds", unless(HOLDS), Sign(False, (BASE,))),
    ("unless it fails", unless(FAILS), Sign(True)),
    ("unless it is open", unless(OPEN), Sign(True)),
    ("denied, though it holds", denied(HOLDS), Sign(False, (BASE,))),
    ("denied by a finding", denied(FAILS), Sign(True, (GAIT,))),
    ("denied by nothing", denied(OPEN), Sign(True)),
    ("guarded and clear", guarded(HOLDS, Sign(True, (SPEECH,))), Sign(True, (BASE, SPEECH))),
    ("guarded and not clear", guarded(HOLDS, Sign(False, (SPEECH,))), Sign(None, (BASE,), (), (SPEECH,))),
    ("guarded and open", guarded(HOLDS, OPEN), Sign(None, (BASE,), (TONE,))),
    ("a guard makes nothing of what fails", guarded(FAILS, Sign(True, (SPEECH,))), FAILS),
    ("another answer on the same findings", CLOUDED.answering(True), Sign(True, (BASE,), (TONE,), (SPEECH,))),
]


@pytest.mark.parametrize(("sign", "wanted"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_signs_are_joined(sign: Sign, wanted: Sign) -> None:
    assert sign == wanted


def test_every_reads_until_one_is_not_met(made: Any) -> None:
    read: list[str] = []

    def reading(name: str, sign: Sign) -> Any:
        def told(_facts: Facts) -> Sign:
            read.append(name)
            return sign

        return told

    facts = Facts(made())
    more = Sign(True, (SPEECH,))
    assert every(facts, reading("first", HOLDS), reading("second", more)) == Sign(True, (BASE, SPEECH))
    assert every(facts, reading("third", HOLDS), reading("fourth", OPEN), reading("fifth", more)) == OPEN
    assert read == ["first", "second", "third", "fourth"]


def test_a_sign_writes_itself_as_it_is_made() -> None:
    assert repr(CLOUDED) == f"Sign(None, ('{BASE}',), ('{TONE}',), ('{SPEECH}',))"


def always(sign: Sign) -> Any:
    return lambda _facts, _side: sign


def criterion(sign: Sign) -> Criterion:
    return Criterion(label="invented", weight="weak", sign=always(sign))


def opposing(made: Any, **told: Any) -> set[str]:
    whole: dict[str, Any] = {
        "name": "invented",
        "label": "invented",
        "speaks_for": (
            criterion(Sign(None, (), (), ("context.onset",))),
            criterion(Sign(False, (), (), ("context.course",))),
        ),
        "speaks_against": (criterion(Sign(True, ("context.bladder",))), criterion(Sign(True, ("context.consent",)))),
        "must": always(Sign(True)),
    }
    return set(judge(Pattern(**(whole | told)), Facts(made()), None).opposing)


ALWAYS = {"context.onset", "context.course", "context.bladder", "context.consent"}
CONDITION = Sign(None, (BASE,), (TONE,), (SPEECH,))
MET = Sign(True, (BASE,), (), (SPEECH,))


def test_what_clouds_and_what_speaks_against_oppose_one_beside_the_other(made: Any) -> None:
    assert opposing(made) == ALWAYS


@pytest.mark.parametrize("condition", ["must", "supported_needs", "possible_needs"])
def test_what_clouds_an_unmet_condition_opposes(made: Any, condition: str) -> None:
    assert opposing(made, **{condition: always(CONDITION)}) == {*ALWAYS, SPEECH}


@pytest.mark.parametrize("condition", ["must", "supported_needs", "possible_needs"])
def test_a_met_condition_opposes_by_nothing(made: Any, condition: str) -> None:
    assert opposing(made, **{condition: always(MET)}) == ALWAYS


@pytest.mark.parametrize(("cap", "more"), [(MET, {BASE}), (Sign(False, (BASE,)), set()), (OPEN, set())])
def test_a_cap_opposes_only_while_it_is_met(made: Any, cap: Sign, more: set[str]) -> None:
    assert opposing(made, possible_at_most=always(cap)) == {*ALWAYS, *more}


def test_an_open_gate_is_among_what_is_missing(made: Any) -> None:
    whole = Pattern(
        name="invented", label="invented", speaks_for=(), speaks_against=(), must=always(Sign(True)), gate=always(OPEN)
    )
    read = judge(whole, Facts(made()), None)
    assert (read.verdict, read.missing) == ("not_assessable", (TONE,))
    assert read.because == "Not everything it rests on was examined."


def test_every_met_criterion_supports(made: Any) -> None:
    both = (criterion(Sign(True, (BASE,))), criterion(Sign(True, (SPEECH,))))
    whole = Pattern(name="invented", label="invented", speaks_for=both, speaks_against=(), must=always(Sign(True)))
    read = judge(whole, Facts(made()), None)
    assert set(read.supporting) == {BASE, SPEECH}
    assert not read.argued_against


def test_a_decisive_criterion_against_argues_against(made: Any) -> None:
    against = Criterion(label="invented", weight="decisive", sign=always(Sign(True, (BASE,))))
    whole = Pattern(name="invented", label="invented", speaks_for=(), speaks_against=(against,), must=always(OPEN))
    read = judge(whole, Facts(made()), None)
    assert (read.verdict, read.argued_against, read.opposing) == ("unlikely", True, (BASE,))
