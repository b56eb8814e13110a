"""Makes examinations, readings and checks for the tests of completeness."""

import json
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any, cast

import pytest

from neuroform.completeness.examples import Example
from neuroform.completeness.gaps import Gap
from neuroform.completeness.register import RULES, check
from neuroform.exam import files
from neuroform.exam.examination import FORMAT, Examination
from neuroform.exam.walk import Entry, entry, is_path
from neuroform.protocols.loading import load
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.results import PatternReading, Reading, UrgentFinding
from neuroform.reasoning.stance_test import stance

NOW = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
AT = "2026-03-02T12:00:00+00:00"

NUMBERS = {
    "context.falls_past_year": 0,
    "context.duration_days": 400,
    "context.residual_urine_ml": 20,
    "standing.firm.eyes_open.seconds": 30,
    "standing.firm.eyes_closed.seconds": 30,
    "walking.tandem.correct_steps": 10,
    "motor.breath_count": 40,
    "motor.neck_flexion": "5",
}
CHOICES = {"context.onset": "chronic", "context.course": "continuous", "context.compared_with_usual": "as_usual"}


def normal(at: Entry) -> Any:
    """Give an unremarkable answer to an item."""
    if at.plain:
        return []
    if at.path in NUMBERS or at.path in CHOICES:
        return {**NUMBERS, **CHOICES}[at.path]
    if at.kind == "pressure":
        return {"systolic": 130, "diastolic": 80, "pulse": 70}
    assert at.answers is not None, at.path
    word = next((word for word in at.answers.words if word in at.answers.normal), next(iter(at.answers.words)))
    return [word] if at.kind == "words" else word


def filled(protocol: str) -> dict[str, Any]:
    """Give an unremarkable answer to every item of a protocol."""
    loaded = load(protocol)
    items = (*loaded.must, *(group[0] for group in loaded.any_of))
    return {
        path: normal(entry(item)) if entry(item).plain else {"value": normal(entry(item))}
        for item in items
        for path in entry(item).paths
    }


def examination(
    found: Mapping[str, Any], *, age: int = 50, protocol: str = "full", at: str = AT, sex: str = "female"
) -> Examination:
    """Make an invented person's examination from what stands at whole paths."""
    when = datetime.fromisoformat(at)
    raw: dict[str, Any] = {
        "format": FORMAT,
        "patient": {
            "family_name": "Invented",
            "given_names": "Ada",
            "birth_date": f"{when.year - age}-01-01",
            "sex": sex,
            "identifiers": [],
        },
        "encounter": {"examined_at": at, "examiner": "A. Examiner", "protocol": protocol},
    }
    for path, value in found.items():
        *groups, last = path.split(".")
        into = raw
        for group in groups:
            into = into.setdefault(group, {})
        into[last] = value
    return files.read(json.dumps(raw).encode())


def reading(
    exam: Examination, urgent: Mapping[str, str] | None = None, patterns: Mapping[str, str] | None = None
) -> Reading:
    """Make a reading: the stance test as it is, the rest as told."""
    return Reading(
        stance=stance(Facts(exam)),
        systems={},
        patterns=tuple(
            PatternReading(
                pattern=name,
                side=None,
                verdict=cast(Any, verdict),
                supporting=(),
                opposing=(),
                missing=(),
                because="",
            )
            for name, verdict in (patterns or {}).items()
        ),
        urgent=tuple(
            UrgentFinding(code=code, urgency=cast(Any, urgency), items=(), message="", source="")
            for code, urgency in (urgent or {}).items()
        ),
    )


def of_example(example: Example) -> Examination:
    """Make the examination of an example."""
    fill = filled(example.fill) if example.fill else {}
    kept = {path: value for path, value in fill.items() if path not in example.without}
    return examination({**kept, **example.found}, age=example.age, protocol=example.protocol, at=example.examined_at)


def gaps_of(example: Example) -> tuple[Gap, ...]:
    """Check an example."""
    exam = of_example(example)
    earlier = None if example.earlier is None else examination(example.earlier)
    read = reading(exam, example.urgent, example.patterns)
    return check(exam, read, load(example.protocol), earlier=earlier, now=NOW)


def gaps(
    found: Mapping[str, Any],
    *,
    protocol: str = "full",
    urgent: Mapping[str, str] | None = None,
    age: int = 50,
    rules: Any = RULES,
) -> tuple[Gap, ...]:
    """Check what stands at whole paths; a bare value stands for a finding."""
    exam = examination({path: wrapped(path, value) for path, value in found.items()}, age=age, protocol=protocol)
    return check(exam, reading(exam, urgent), load(protocol), now=NOW, rules=rules)


def wrapped(path: str, value: Any) -> Any:
    """Give the finding of a bare value."""
    if not is_path(path) or entry(path).plain or (isinstance(value, dict) and {"value", "not_examined"} & set(value)):
        return value
    return {"value": value}


@pytest.fixture
def check_example() -> Callable[[Example], tuple[Gap, ...]]:
    """Give the function that checks an example."""
    return gaps_of


@pytest.fixture
def check_found() -> Callable[..., tuple[Gap, ...]]:
    """Give the function that checks what stands at whole paths."""
    return gaps


@pytest.fixture
def all_answered() -> dict[str, Any]:
    """Give an unremarkable answer to every item of the full examination."""
    return filled("full")


@pytest.fixture
def make_exam() -> Callable[..., Examination]:
    """Give the function that makes an invented examination."""
    return examination


@pytest.fixture
def make_reading() -> Callable[..., Reading]:
    """Give the function that makes a reading by hand."""
    return reading
