"""Words for findings taken together, each at and beside its border: what makes it hold, what does not, what is open."""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from tests.reasoning import words_of_eyes, words_of_legs, words_of_standing
from tests.reasoning.words import Found, Word

ROWS = {**words_of_legs.ROWS, **words_of_eyes.ROWS, **words_of_standing.ROWS}
UNKNOWN = [*words_of_legs.UNKNOWN, *words_of_eyes.UNKNOWN, *words_of_standing.UNKNOWN]
AGES = [*words_of_legs.AGES, *words_of_standing.AGES]
HOLDS = [pytest.param(row[0], found, id=f"{name}: {found}") for name, row in ROWS.items() for found in row[1]]
FAILS = [pytest.param(row[0], found, id=f"{name}: {found}") for name, row in ROWS.items() for found in row[2]]


@pytest.mark.parametrize(("sign", "found"), HOLDS)
def test_it_holds_and_rests_on_every_finding(made: Any, sign: Word, found: Found) -> None:
    facts = Facts(made(found))
    read = sign(facts)
    assert read.met is True
    assert set(read.because) == set(facts.found)
    assert read.missing == ()


@pytest.mark.parametrize(("sign", "found"), FAILS)
def test_it_does_not_hold(made: Any, sign: Word, found: Found) -> None:
    assert sign(Facts(made(found))).met is False


@pytest.mark.parametrize(("sign", "found"), [row[1:] for row in UNKNOWN], ids=[row[0] for row in UNKNOWN])
def test_it_is_unknown(made: Any, sign: Word, found: Found) -> None:
    assert sign(Facts(made(found))).met is None


@pytest.mark.parametrize(("sign", "found", "age", "met"), [row[1:] for row in AGES], ids=[row[0] for row in AGES])
def test_age_decides(made: Any, sign: Word, found: Found, age: int, met: bool | None) -> None:
    assert sign(Facts(made(found, age=age))).met is met
