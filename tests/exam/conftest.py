"""A smallest exam file, and a way to read one with something in it."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from neuroform.errors import ExamFileError, Problem
from neuroform.exam import files
from neuroform.exam.examination import Examination

SMALLEST: dict[str, Any] = {
    "format": "neuroform-exam/1",
    "patient": {"family_name": "Example", "given_names": "Invented", "birth_date": "1954-02-11", "sex": "female"},
    "encounter": {"examined_at": "2026-11-20T10:15:00+00:00", "examiner": "Examiner A", "protocol": "full"},
}

Reader = Callable[..., Examination]


def nested(path: str, found: Any) -> dict[str, Any]:
    """Return an exam as JSON holds it, with `found` under `path`."""
    raw: dict[str, Any] = json.loads(json.dumps(SMALLEST))
    *groups, last = path.split(".")
    at = raw
    for group in groups:
        at = at.setdefault(group, {})
    at[last] = found
    return raw


@pytest.fixture
def smallest() -> dict[str, Any]:
    """Give the smallest exam as JSON holds it."""
    raw: dict[str, Any] = json.loads(json.dumps(SMALLEST))
    return raw


@pytest.fixture
def read_with() -> Reader:
    """Give a function that reads the smallest exam with something under a path."""

    def read(path: str, found: Any) -> Examination:
        return files.read(json.dumps(nested(path, found)).encode())

    return read


@pytest.fixture
def refused_with() -> Callable[[str, Any], tuple[Problem, ...]]:
    """Give a function that returns why the smallest exam is refused with something under a path."""

    def refused(path: str, found: Any) -> tuple[Problem, ...]:
        with pytest.raises(ExamFileError) as told:
            files.read(json.dumps(nested(path, found)).encode())
        return told.value.problems

    return refused
