"""The JSON Schema of exam files, made from the models: whatever the program reads, the schema accepts."""

from typing import Any

from neuroform.exam.examination import FORMAT, Examination

DIALECT = "https://json-schema.org/draft/2020-12/schema"

ONLY_THE_PROGRAM: tuple[tuple[str, str], ...] = (
    ("more_than_tried", "joint position: no more correct than trials"),
    ("systolic_not_higher", "a pressure: systolic higher than diastolic"),
    ("born_after", "a birth date on or before the day of examination"),
    ("alone", "“normal” beside other gait words, “none” beside other brainstem signs"),
    ("date_from_datetime_parsing", "a day that the calendar has"),
    ("date_parsing", "a day that the calendar has"),
    ("datetime_from_date_parsing", "a time that the calendar and the clock have"),
    ("datetime_parsing", "a time that the calendar and the clock have"),
    ("int_type", "a whole number is written without a point"),
    ("int_from_float", "a whole number is written without a point"),
)
"""What the schema can't say and the program refuses all the same: pydantic's name of the problem, and the rule.

Beside these, duplicate keys, lone surrogates and numbers beyond every range never reach a schema.
"""


def schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of an exam file; a group, side, finding or plain item may be null."""
    made = Examination.model_json_schema(mode="validation")
    parts: dict[str, Any] = made.pop("$defs")
    rules = "; ".join(dict.fromkeys(rule for _name, rule in ONLY_THE_PROGRAM))
    return {
        "$schema": DIALECT,
        "title": f"Examination of balance and legs, {FORMAT}",
        "$comment": f"The program refuses beyond this schema: {rules}; duplicate keys; lone surrogates.",
        **{name: value for name, value in _mended(made, parts).items() if name != "title"},
        "$defs": {name: _mended(part, parts) for name, part in sorted(parts.items()) if not _stand_in(name)},
    }


def _mended(part: dict[str, Any], parts: dict[str, Any]) -> dict[str, Any]:
    """Return one definition as files are read: nulls where they mean blank, lists with their lengths, no defaults."""
    if _stand_in(part.get("$ref", "").rpartition("/")[2]):
        words = parts[part["$ref"].rpartition("/")[2]]
        return {**words, "minItems": part["minLength"]}
    if part.get("type") != "object":
        return part
    finding = part["title"] in ("Examined", "NotExamined")
    required = part.get("required", [])
    inside = finding or part["title"] in ("Pressure", "MovementCount")
    return {
        **part,
        "properties": {
            name: _property(value, nullable=name not in required and not inside)
            for name, value in part["properties"].items()
        },
    }


def _stand_in(name: str) -> bool:
    """Tell a list with a shortest length from others: pydantic writes that length where only texts have one."""
    return name.startswith("Words_") and "MinLen" in name


def _property(value: dict[str, Any], *, nullable: bool) -> dict[str, Any]:
    """Return a property with or without null, and without what repeats its key."""
    kept = {name: inner for name, inner in value.items() if name not in ("default", "title")}
    choices = kept.get("anyOf", [kept])
    without = [choice for choice in choices if choice != {"type": "null"}]
    if nullable:
        return {"anyOf": [*without, {"type": "null"}]}
    return without[0] if len(without) == 1 else {"anyOf": without}
