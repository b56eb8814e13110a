"""What the program writes itself is canonical, and reading it gives the same exam."""

import json
from collections.abc import Callable
from random import Random
from typing import Any

from hypothesis import given

from neuroform.exam import files
from neuroform.exam.examination import Examination
from tests.exam.strategies import dense_exams, exams, raw_dense

Reader = Callable[[str, Any], Examination]


@given(exams())
def test_an_exam_reads_back_as_it_was_written(exam: Examination) -> None:
    assert files.read(files.write(exam)) == exam


@given(dense_exams())
def test_a_full_exam_reads_back_as_it_was_written(exam: Examination) -> None:
    written = files.write(exam)
    assert files.read(written) == exam
    assert files.write(files.read(written)) == written


def test_the_order_of_keys_in_a_file_changes_nothing_of_what_is_written() -> None:
    for seed in range(50):
        raw = raw_dense(seed)
        mixed = _mixed(raw, Random(seed))
        assert files.write(files.read(json.dumps(mixed).encode())) == files.write(files.read(json.dumps(raw).encode()))


def _mixed(at: Any, rng: Random) -> Any:
    if not isinstance(at, dict):
        return at
    names = list(at)
    rng.shuffle(names)
    return {name: _mixed(at[name], rng) for name in names}


def test_written_keys_stand_in_bedside_order_with_blanks_left_out(smallest: dict[str, Any]) -> None:
    smallest["walking"] = {"base": None, "tandem": {}}
    smallest["standing"] = {"pull_test": {"value": "recovers"}, "footwear": {"value": "shoes"}, "firm": None}
    written = json.loads(files.write(files.read(json.dumps(smallest).encode())))
    assert list(written) == ["format", "patient", "encounter", "standing"]
    assert list(written["standing"]) == ["footwear", "pull_test"]


def test_numbers_are_written_shortest_and_times_with_their_offset(read_with: Reader) -> None:
    written = files.write(read_with("context.duration_days", {"value": 3.0})).decode()
    assert '"value": 3\n' in written
    assert '"examined_at": "2026-11-20T10:15:00+00:00"' in written
    assert '"value": 0.1\n' in files.write(read_with("context.duration_days", {"value": 0.1})).decode()


def test_an_empty_list_is_written_because_it_means_none(read_with: Reader) -> None:
    assert json.loads(files.write(read_with("context.cautions", [])))["context"] == {"cautions": []}
