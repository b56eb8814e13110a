"""Traps and limits of single rows of the table of patterns."""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.patterns import read_patterns
from neuroform.reasoning.results import Verdict
from tests.reasoning.pattern_rows import EYES, ROWS, STAND


def verdict(made: Any, name: str, found: dict[str, Any], *, age: int = 50) -> Verdict:
    name, _, side = name.partition(":")
    for one in read_patterns(Facts(made(found, age=age))):
        if one.pattern == name and (one.side or "") == side:
            return one.verdict
    raise KeyError(name)


@pytest.mark.parametrize(("name", "found", "expected"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_a_row_of_the_table(made: Any, name: str, found: dict[str, Any], expected: Verdict) -> None:
    assert verdict(made, name, found) == expected


# From 60 absent ankle reflexes are found in healthy people (Vrancken 2006, J Neurol 253:578-589).
@pytest.mark.parametrize(("age", "expected"), [(59, "possible"), (60, "not_assessable")])
def test_absent_ankle_reflexes_weigh_less_from_60(made: Any, age: int, expected: Verdict) -> None:
    found = {"reflexes.ankle": "absent", "sensation.pinprick": "none"}
    assert verdict(made, "length_dependent_neuropathy", found, age=age) == expected


@pytest.mark.parametrize(
    ("age", "told", "expected"),
    [
        (59, [], "supported"),
        (60, [], "possible"),
        (69, ["unsteadiness"], "supported"),
        (70, ["unsteadiness"], "possible"),
    ],
)
def test_foam_tells_less_with_age(made: Any, age: int, told: list[str], expected: Verdict) -> None:
    found = {
        "context.symptoms": told,
        f"{EYES}.head_impulse": "corrective_saccade",
        f"{STAND}.eyes_closed.ended": "held",
        "standing.foam.eyes_closed.ended": "fell",
    }
    assert verdict(made, "bilateral_vestibular", found, age=age) == expected
