"""The JSON Schema says what the models say; an independent validator of the published dialect is the judge."""

import copy
import json
from random import Random
from typing import Any

import pytest
from hypothesis import given
from jsonschema import Draft202012Validator
from pydantic import ValidationError

from neuroform import shipped
from neuroform.errors import ExamFileError
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.exam.schema import ONLY_THE_PROGRAM, schema
from tests.exam.strategies import raw_dense, raw_exams

VALIDATOR = Draft202012Validator(schema())
STRANGE: tuple[Any, ...] = (
    None,
    True,
    0,
    -1,
    3.0,
    61,
    10**9,
    "",
    "none",
    "normal",
    "2026-02-30",
    [],
    {},
    ["none"],
    {"value": None},
)


def test_it_is_a_schema_and_the_shipped_one() -> None:
    Draft202012Validator.check_schema(schema())
    assert json.loads(shipped.read_text("resources", "schema", "neuroform-exam-1.json")) == schema()


def test_a_thousand_generated_files_pass() -> None:
    for seed in range(1000):
        raw = raw_dense(seed)
        files.read(json.dumps(raw).encode())
        assert VALIDATOR.is_valid(raw), next(VALIDATOR.iter_errors(raw)).message


@given(raw_exams())
def test_whatever_the_program_writes_passes(raw: dict[str, Any]) -> None:
    assert VALIDATOR.is_valid(files.plain(files.read(json.dumps(raw).encode())))


def test_a_spoilt_file_is_refused_by_both_or_breaks_a_listed_rule() -> None:
    listed = {name for name, _rule in ONLY_THE_PROGRAM}
    seen: set[str] = set()
    refused = 0
    for seed in range(1000):
        raw = spoilt(seed)
        accepted = VALIDATOR.is_valid(raw)
        try:
            files.read(json.dumps(raw).encode())
        except ExamFileError:
            refused += 1
            if accepted:
                broken = kinds(raw)
                assert broken <= listed, (broken, seed)
                seen |= broken
        else:
            assert accepted, (seed, next(VALIDATOR.iter_errors(raw)).message)
    assert refused > 500
    assert "int_type" in seen


def kinds(raw: dict[str, Any]) -> set[str]:
    """Return pydantic's names of what is wrong with a file."""
    try:
        Examination.model_validate_json(json.dumps(without_null(raw)))
    except ValidationError as refused:
        return {error["type"] for error in refused.errors()}
    return {"null"}


def without_null(at: Any) -> Any:
    """Leave out every null."""
    return {name: without_null(v) for name, v in at.items() if v is not None} if isinstance(at, dict) else at


def spoilt(seed: int) -> dict[str, Any]:
    """Make a generated file with one thing in it changed, taken away or added."""
    rng = Random(seed)
    raw = copy.deepcopy(raw_dense(seed))
    at: Any = raw
    while True:
        name = rng.choice(list(at)) if isinstance(at, dict) else rng.randrange(len(at))
        deeper = at[name]
        if not isinstance(deeper, dict | list) or not deeper or rng.random() < 0.15:
            break
        at = deeper
    match rng.randrange(3):
        case 0 if isinstance(at, dict):
            del at[name]
        case 1 if isinstance(at, dict):
            at[rng.choice(("strange", "value", "comment"))] = rng.choice(STRANGE)
        case _:
            at[name] = rng.choice(STRANGE)
    return raw


@pytest.mark.parametrize(
    ("path", "found", "valid"),
    [
        ("walking", None, True),
        ("walking.arm_swing", None, True),
        ("walking.arm_swing", {"right": None}, True),
        ("walking.base", {"value": "wide", "comment": None}, False),
        ("walking.pattern", {"value": []}, False),
        ("walking.pattern", {"value": ["ataxic", "ataxic"]}, False),
        ("context.symptoms", ["falls", "falls"], False),
        ("context.symptoms", [], True),
        ("circulation.lying", {"value": {"systolic": 120, "diastolic": 80, "pulse": None}}, False),
        ("standing.footwear", {"value": "shoes", "not_examined": "unable"}, False),
        ("standing.footwear", {}, False),
        ("format", "neuroform-exam/2", False),
        ("format", None, False),
        ("strange", None, False),
    ],
)
def test_nulls_lists_and_findings_pass_where_the_program_reads_them(
    path: str, found: Any, valid: bool, smallest: dict[str, Any]
) -> None:
    *groups, last = path.split(".")
    at = smallest
    for group in groups:
        at = at.setdefault(group, {})
    at[last] = found
    assert VALIDATOR.is_valid(smallest) is valid
    if valid:
        files.read(json.dumps(smallest).encode())
    else:
        with pytest.raises(ExamFileError):
            files.read(json.dumps(smallest).encode())


def test_the_format_must_be_there(smallest: dict[str, Any]) -> None:
    del smallest["format"]
    assert not VALIDATOR.is_valid(smallest)
