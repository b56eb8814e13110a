"""Puts what pydantic refused into a clinician's words: where, what was found, what is allowed."""

import json
from typing import Any

from pydantic import ValidationError

from neuroform.errors import Problem
from neuroform.exam.walk import entry, is_path
from neuroform.language import N_, _

_TAGS = {"value", "not_examined", "count", "word"}

# What is allowed instead, by pydantic's name of the problem; {…} come from its context.
_ALLOWED = {
    "missing": N_("it must stand there"),
    "extra_forbidden": N_("no such key"),
    "literal_error": N_("one of {expected}"),
    "greater_than_equal": N_("{ge} or more"),
    "greater_than": N_("more than {gt}"),
    "less_than_equal": N_("{le} or less"),
    "multiple_of": N_("in steps of {multiple_of}"),
    "finite_number": N_("a finite number"),
    "int_type": N_("a whole number, without a point"),
    "int_from_float": N_("a whole number, without a point"),
    "float_type": N_("a number"),
    "string_type": N_("text"),
    "string_too_long": N_("at most {max_length} characters"),
    "string_too_short": N_("at least {min_length} character"),
    "string_pattern_mismatch": N_("no control characters, and nothing but what may stand there"),
    "tuple_type": N_("a list"),
    "too_short": N_("at least one word"),
    "finding": N_("a finding with a value or a reason"),
    "union_tag_not_found": N_("a finding with a value or a reason"),
    "date_from_datetime_parsing": N_("a day as YYYY-MM-DD"),
    "date_parsing": N_("a day as YYYY-MM-DD"),
    "datetime_parsing": N_("a time with its offset"),
    "datetime_from_date_parsing": N_("a time with its offset"),
    "timezone_aware": N_("a time with its offset"),
    "model_type": N_("an object"),
    "dataclass_type": N_("an object"),
    "json_invalid": N_("JSON"),
    "unexpected_keyword_argument": N_("a value or a reason, not both, and no other key"),
    "twice": N_("each word once"),
}


def problems_of(refused: ValidationError) -> tuple[Problem, ...]:
    """Return every problem in the order of the file."""
    return tuple(_problem(error) for error in refused.errors(include_url=False))


def _problem(error: Any) -> Problem:
    if error["type"] == "born_after":
        born = error["input"]["patient"]["birth_date"]
        return Problem(path="patient.birth_date", found=f"“{born}”", allowed=_(error["msg"]))
    path = _path(error["loc"])
    allowed = _ALLOWED.get(error["type"])
    if error["type"] == "unexpected_keyword_argument" and _is_side(error["loc"]):
        allowed = N_("a finding under right and one under left")
    context = {name: _number(value) for name, value in error.get("ctx", {}).items()}
    words = _(allowed).format(**context) if allowed else error["msg"]
    return Problem(path=path, found=_found(error), allowed=words)


def _is_side(location: tuple[int | str, ...]) -> bool:
    """Tell whether the last step stands where right and left do."""
    item = ".".join(map(str, location[:-1]))
    return is_path(item) and entry(item).sided and entry(item).path == item


def _number(value: Any) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _found(error: Any) -> str:
    if error["type"] == "missing":
        return _("is missing")
    if error["type"] == "extra_forbidden":
        return _("is not known")
    found = error["input"]
    if isinstance(found, str | int | float) or found is None:
        shown = found if isinstance(found, str) else json.dumps(found)
        text = "".join(c if c.isprintable() else "\ufffd" for c in shown)
        return f"“{text if len(text) <= 60 else text[:57] + '…'}”"
    return _("an object") if isinstance(found, dict) else _("a list") if isinstance(found, list | tuple) else _("this")


def _path(location: tuple[int | str, ...]) -> str:
    """Return the dotted path without pydantic's tags, which stand right behind an item's path."""
    steps = [str(step) for step in location]
    at = next((n for n in range(len(steps), 0, -1) if is_path(".".join(steps[:n]))), len(steps))
    inner = steps[at:]
    if inner[:1] in (["value"], ["not_examined"]):
        inner = inner[1:]
    inner = [step for step in inner if step not in _TAGS] if len(inner) > 1 or inner == ["value"] else inner
    return ".".join([*steps[:at], *inner])
