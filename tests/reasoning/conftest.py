"""Examinations for the reading, built from a few findings by path."""

import json
from collections.abc import Callable, Mapping
from typing import Any

import pytest

from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.exam.walk import entry

Make = Callable[..., Examination]


@pytest.fixture(scope="session")
def made() -> Make:
    """Give a function from findings by path to an examination; a path without a side sets both sides.

    A value stands for itself, ``"not examined: REASON"`` for a reason.
    """

    def make(found: Mapping[str, Any] | None = None, *, age: int = 50, sex: str = "female") -> Examination:
        raw: dict[str, Any] = {
            "format": "neuroform-exam/1",
            "patient": {
                "family_name": "Halloran",
                "given_names": "Wren",
                "birth_date": f"{2026 - age}-01-15",
                "sex": sex,
            },
            "encounter": {"examined_at": "2026-11-20T10:15:00+00:00", "examiner": "Dr A. Osei"},
        }
        for path, value in (found or {}).items():
            item = entry(path)
            for whole in item.paths if path == item.path else (path,):
                _set(raw, whole.split("."), value if item.plain else _finding(value))
        return files.read(json.dumps(raw).encode())

    return make


def _finding(value: Any) -> Any:
    if isinstance(value, str) and value.startswith("not examined: "):
        return {"not_examined": value.removeprefix("not examined: ")}
    return {"value": value}


def _set(at: dict[str, Any], steps: list[str], value: Any) -> None:
    for step in steps[:-1]:
        at = at.setdefault(step, {})
    at[steps[-1]] = value
