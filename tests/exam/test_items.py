"""Every item takes the values it should and refuses their neighbours; the table is typed by hand, not made."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
from typing_extensions import TypeAliasType

from neuroform.errors import Problem
from neuroform.exam.examination import Examination
from neuroform.exam.walk import entries, entry, get

TABLE = [
    [part.strip() for part in line.split("|")]
    for line in (Path(__file__).parent / "items.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]
# Kept in a letter or as reasons, not as findings of a section.
LETTER = {f"conclusion.letter.{name}" for name in ("to", "recipient", "question", "done", "contact")}
STRANGERS: tuple[Any, ...] = (
    "",
    "NORMAL",
    "normal ",
    "yes!",
    "unknown",
    0,
    1,
    True,
    False,
    1.5,
    [],
    {},
    ["none"],
    {"value": "none"},
)
PRESSURE = {"systolic": 120, "diastolic": 80}


def bounds(spec: str) -> tuple[float, float, bool, float]:
    """Read "a..b", ">a..b", "a..b step s" as low, high, whether low itself is refused, and the step."""
    span, _, step = spec.partition(" step ")
    low, _, high = span.partition("..")
    return float(low.lstrip(">")), float(high), low.startswith(">"), float(step or 0)


def accepted(kind: str, spec: str) -> Iterator[Any]:
    """Yield values that an item of the table takes."""
    match kind:
        case "text":
            yield from ("a", "two\nlines\tand a tab", "é" * 4000)
        case "choice":
            yield from spec.split()
        case "words":
            words = spec.split()
            yield from ([word] for word in words)
            yield [word for word in words if word not in ("normal", "none")]
        case "whole":
            low, high, _, _ = bounds(spec)
            yield from (int(low), int(low) + 1, int(high))
        case "number":
            low, high, above, step = bounds(spec)
            yield from (int(high), float(high), int(low) + 1, high - (step or 0.25), low + 0.5)
            if not above:
                yield from (int(low), float(low))
        case "joint_position":
            yield from (*spec.split(), {"correct": 0, "trials": 1}, {"correct": 20, "trials": 20})
        case "pressure":
            yield from (PRESSURE, {**PRESSURE, "pulse": 20}, {"systolic": 300, "diastolic": 20, "pulse": 300})
        case _:
            raise AssertionError(kind)


def neighbours(kind: str, spec: str) -> Iterator[Any]:
    """Yield values that it must not take."""
    match kind:
        case "text":
            yield from ("a\x00", "\x1b[31m", "\x7f", "\x85", "é" * 4001, 1, True, ["a"], {"a": "b"})
        case "choice":
            words = spec.split()
            yield from (stranger for stranger in STRANGERS if stranger not in words or isinstance(stranger, bool))
            yield from (words[0] + "x", words[0].upper() + "_", [words[0]])
        case "words":
            words = spec.split()
            yield from ("none", [words[-1], words[-1]], ["strange"], [1], [None], {words[0]: True}, [[words[0]]])
        case "whole":
            low, high, _, _ = bounds(spec)
            yield from (int(low) - 1, int(high) + 1, float(low), int(low) + 0.5, True, str(int(high)), [1], 10**30)
        case "number":
            low, high, above, step = bounds(spec)
            yield from (low - 0.001, high + 0.001, -1, 10**30, True, False, str(high), [high], {"value": high})
            if above:
                yield low
            if step:
                yield low + step / 2
        case "joint_position":
            yield from ("normal", 3, True, [], {}, {"correct": 1}, {"trials": 3}, {"correct": 4, "trials": 3})
            yield from ({"correct": 0, "trials": 0}, {"correct": 1.0, "trials": 3}, {"correct": 1, "trials": 21})
            yield from (
                {"correct": -1, "trials": 3},
                {"correct": 1, "trials": 3, "of": 3},
                {"correct": True, "trials": 3},
            )
        case "pressure":
            yield from (120, "120/80", [], {}, {"systolic": 120}, {"diastolic": 80}, {"systolic": 80, "diastolic": 80})
            yield from (
                {"systolic": 80, "diastolic": 90},
                {"systolic": 301, "diastolic": 80},
                {**PRESSURE, "pulse": 19},
            )
            yield from ({"systolic": 120, "diastolic": 19}, {**PRESSURE, "mean": 90}, {**PRESSURE, "pulse": True})
        case _:
            raise AssertionError(kind)


@pytest.mark.parametrize(("path", "kind", "spec"), TABLE, ids=[row[0] for row in TABLE])
def test_an_item_takes_its_values_and_refuses_their_neighbours(
    path: str,
    kind: str,
    spec: str,
    read_with: Callable[[str, Any], Examination],
    refused_with: Callable[[str, Any], tuple[Problem, ...]],
) -> None:
    sided, plain = kind.startswith("sided "), kind.startswith("plain ")
    bare = kind.removeprefix("sided ").removeprefix("plain ")
    for whole in [f"{path}.right", f"{path}.left"] if sided else [path]:
        for value in accepted(bare, spec):
            found = get(read_with(whole, value if plain else {"value": value}), whole)
            held = found if plain else found.value
            assert _plain(held) == value, whole
        for value in neighbours(bare, spec):
            problems = refused_with(whole, value if plain else {"value": value})
            assert all(problem.path.startswith(whole) for problem in problems), (value, problems)
            assert all(problem.found and problem.allowed for problem in problems), problems


def _plain(held: Any) -> Any:
    if hasattr(held, "model_dump"):
        return held.model_dump(exclude_none=True)
    return list(held) if isinstance(held, tuple) else held


@pytest.mark.parametrize("row", [row for row in TABLE if not row[1].startswith("plain")], ids=lambda row: row[0])
def test_a_finding_may_have_a_reason_instead(row: list[str], read_with: Callable[[str, Any], Examination]) -> None:
    path = f"{row[0]}.left" if row[1].startswith("sided") else row[0]
    for reason in ("declined", "unable", "unsafe", "absent", "no_equipment", "deferred"):
        assert get(read_with(path, {"not_examined": reason}), path).not_examined == reason


def test_the_catalogue_holds_these_items_and_no_others() -> None:
    assert {row[0] for row in TABLE} | LETTER == {found.path for found in entries()}
    assert len(TABLE) == 152


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row[0])
def test_the_catalogue_tells_what_the_table_tells(row: list[str]) -> None:
    path, kind, spec = row
    found = entry(path)
    assert (found.sided, found.plain) == (kind.startswith("sided"), kind.startswith("plain"))
    bare = kind.split()[-1]
    assert found.kind == {"whole": "number"}.get(bare, bare)
    if bare in ("number", "whole"):
        low, high, above, step = bounds(spec)
        assert (found.above if above else found.low, found.high, found.whole) == (low, high, bare == "whole")
        assert (found.step or 0) == step


@pytest.mark.parametrize("found", [e for e in entries() if e.answers], ids=lambda e: e.path)
def test_the_words_of_an_item_are_those_of_its_type(found: Any) -> None:
    assert set(_literals(found.value_type)) == set(found.answers.words)
    assert found.answers.normal | found.answers.abnormal <= set(found.answers.words)
    assert not found.answers.normal & found.answers.abnormal


def _literals(kind: Any) -> Iterator[str]:
    if isinstance(kind, str):
        yield kind
        return
    if isinstance(kind, TypeAliasType):
        yield from _literals(kind.__value__)
    for inner in get_args(kind):
        yield from _literals(inner)


@pytest.mark.parametrize("found", entries(), ids=lambda e: e.path)
def test_every_item_has_a_name_and_its_words_are_for_people(found: Any) -> None:
    assert found.item.label
    assert "_" not in found.item.label + found.item.short + found.item.hint
    for code, word in (found.answers.words if found.answers else {}).items():
        assert word
        assert "_" not in word, code
