"""Patterns: the shared cases, as they are, mirrored and with each finding taken away."""

import json
from pathlib import Path
from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.patterns import read_patterns
from neuroform.reasoning.results import PatternReading, Verdict
from neuroform.reasoning.systems import systems
from tests.reasoning.changing import mirrored, read_raw, recorded_paths, swapped, without

STRENGTH: tuple[Verdict, ...] = ("unlikely", "not_assessable", "possible", "supported")


def read(raw: dict[str, Any]) -> dict[str, PatternReading]:
    """Return the readings by name, and by name and side; the name alone is the stronger of its sides."""
    found: dict[str, PatternReading] = {}
    for one in read_patterns(Facts(read_raw(raw))):
        _keep(found, one)
    return found


def _keep(found: dict[str, PatternReading], one: PatternReading) -> None:
    other = found.get(one.pattern)
    if other is None or STRENGTH.index(one.verdict) > STRENGTH.index(other.verdict):
        found[one.pattern] = one
    if one.side:
        found[f"{one.pattern}:{one.side}"] = one


def allowed(expected: dict[str, Any], name: str) -> list[str]:
    """Return the verdicts that pass; parts of a supported combined pattern may come out supported or possible."""
    verdicts: Any = expected["patterns"][name]
    passing: list[str] = verdicts if isinstance(verdicts, list) else [verdicts]
    parts = name in ("sensory_ataxia", "cerebellar_midline")
    combined = expected["patterns"].get("combined_sensory_cerebellar") == "supported"
    return [*passing, "supported", "possible"] if parts and combined else passing


@pytest.mark.parametrize("turned", [False, True], ids=["as it is", "mirrored"])
def test_a_shared_case_gets_its_verdicts_and_systems(shared_case: Path, turned: bool) -> None:
    case = json.loads(shared_case.read_text())
    exam = mirrored(case["exam"]) if turned else case["exam"]
    found = read(exam)
    for name in case["expected"]["patterns"]:
        asked = swapped(name) if turned else name
        assert found[asked].verdict in allowed(case["expected"], name), (name, found[asked].because)
    states = systems(Facts(read_raw(exam)))
    for system, state in case["expected"].get("systems", {}).items():
        assert states[system] == state, system


def test_of_a_shared_case_no_finding_taken_away_supports_what_it_did_not_oppose(shared_case: Path) -> None:
    raw = json.loads(shared_case.read_text())["exam"]
    before = {(one.pattern, one.side): one for one in read_patterns(Facts(read_raw(raw)))}
    for path in recorded_paths(raw):
        for one in read_patterns(Facts(read_raw(without(raw, path)))):
            was = before[one.pattern, one.side]
            if one.verdict == "supported" and was.verdict != "supported":
                assert ".".join(path) in was.opposing, (one.pattern, path)
