"""Exam files are read strictly: three states stay three, and what is refused is told with place, found and allowed."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest

from neuroform.errors import ExamFileError, NewerFormatError, Problem
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined, NotExamined, Sided
from neuroform.exam.walk import get

Reader = Callable[[str, Any], Examination]
Refuser = Callable[[str, Any], tuple[Problem, ...]]
SWAY = "standing.firm.eyes_open.sway"


def refused(data: bytes) -> str:
    """Return the words with which bytes are refused."""
    with pytest.raises(ExamFileError) as told:
        files.read(data)
    assert told.value.problems
    return str(told.value)


def test_examined_not_examined_and_blank_are_three_things(read_with: Reader) -> None:
    assert get(read_with(SWAY, {"value": "none"}), SWAY) == Examined(value="none")
    assert get(read_with(SWAY, {"not_examined": "unable"}), SWAY) == NotExamined(not_examined="unable")
    assert get(read_with(SWAY, None), SWAY) is None
    assert get(read_with("context.reason", "x"), SWAY) is None


def test_a_list_nobody_filled_is_blank_and_an_empty_one_means_none(read_with: Reader) -> None:
    assert read_with("context.reason", "x").context.symptoms is None
    assert read_with("context.symptoms", None).context.symptoms is None
    assert read_with("context.symptoms", []).context.symptoms == ()


@pytest.mark.parametrize("path", ["standing", "standing.firm", "standing.firm.eyes_open", "walking.arm_swing"])
@pytest.mark.parametrize("found", [{}, None])
def test_an_empty_or_null_group_is_blank(path: str, found: Any, read_with: Reader, smallest: dict[str, Any]) -> None:
    exam = read_with(path, found)
    assert exam == files.read(json.dumps(smallest).encode())
    assert exam.walking.arm_swing == Sided()


def test_comment_and_how_it_was_entered_go_with_either_kind(read_with: Reader) -> None:
    noted: dict[str, Any] = {"comment": "holds the rail", "entered": "copied"}
    path = "motor.tone.left"
    assert get(read_with(path, {"value": "rigid", **noted}), path) == Examined(value="rigid", **noted)
    assert get(read_with(path, {"not_examined": "declined", **noted}), path) == NotExamined(
        not_examined="declined", **noted
    )


@pytest.mark.parametrize(
    ("path", "found", "where"),
    [
        (SWAY, {"value": "none", "not_examined": "unable"}, f"{SWAY}.not_examined"),
        (SWAY, {}, SWAY),
        (SWAY, {"comment": "x"}, SWAY),
        (SWAY, {"value": None}, SWAY),
        (SWAY, {"not_examined": None}, f"{SWAY}.not_examined"),
        (SWAY, {"value": "none", "comment": None}, f"{SWAY}.comment"),
        (SWAY, {"not_examined": "unable", "entered": None}, f"{SWAY}.entered"),
        (SWAY, {"value": "none", "entered": "guessed"}, f"{SWAY}.entered"),
        (SWAY, {"not_examined": "tired"}, f"{SWAY}.not_examined"),
        (SWAY, {"value": "none", "comment": "x" * 1001}, f"{SWAY}.comment"),
        (SWAY, {"value": "none", "comment": "a\x00"}, f"{SWAY}.comment"),
        (SWAY, {"value": "none", "extra": 1}, f"{SWAY}.extra"),
        (SWAY, {"value": "none", "extra": None}, f"{SWAY}.extra"),
        (SWAY, "none", SWAY),
        ("circulation.lying", {"value": {"systolic": 120, "diastolic": 80, "pulse": None}}, "circulation.lying.pulse"),
        ("circulation.lying", {"value": {"systolic": 80, "diastolic": 80}}, "circulation.lying"),
        (
            "sensation.joint_position.finger.left",
            {"value": {"correct": 3, "trials": 2}},
            "sensation.joint_position.finger.left",
        ),
        ("walking.pattern", {"value": ["normal", "ataxic"]}, "walking.pattern"),
        ("walking.pattern", {"value": ["ataxic", "ataxic"]}, "walking.pattern"),
        ("walking.pattern", {"value": []}, "walking.pattern"),
        ("head_and_eyes.brainstem_signs", {"value": ["none", "double_vision"]}, "head_and_eyes.brainstem_signs"),
        ("context.symptoms", ["falls", "falls"], "context.symptoms"),
        ("motor.tone", {"value": "normal"}, "motor.tone"),
        ("motor.tone", {"middle": {"value": "normal"}}, "motor.tone.middle"),
        ("strange", {}, "strange"),
        ("strange", None, "strange"),
        ("standing.strange", None, "standing.strange"),
        ("standing", [], "standing"),
        ("standing", "blank", "standing"),
        ("patient", None, "patient"),
        ("patient.birth_date", "1954-02-30", "patient.birth_date"),
        ("patient.birth_date", "11.2.1954", "patient.birth_date"),
        ("patient.birth_date", "19540211", "patient.birth_date"),
        ("patient.birth_date", "1954-02-11T00:00:00", "patient.birth_date"),
        ("patient.birth_date", -500000000, "patient.birth_date"),
        ("patient.birth_date", "2026-11-21", "patient.birth_date"),
        ("patient.family_name", "", "patient.family_name"),
        ("patient.family_name", "x" * 201, "patient.family_name"),
        ("patient.sex", "f", "patient.sex"),
        ("patient.age", 72, "patient.age"),
        ("patient.identifiers", [{"scheme": "Local", "value": "1"}], "patient.identifiers.0.scheme"),
        ("patient.identifiers", [{"scheme": "local"}], "patient.identifiers.0.value"),
        ("encounter.examined_at", "2026-11-20T10:15:00", "encounter.examined_at"),
        ("encounter.examined_at", "2026-11-20T25:15:00Z", "encounter.examined_at"),
        ("encounter.examined_at", "2026-11-20", "encounter.examined_at"),
        ("encounter.examined_at", 1795000000, "encounter.examined_at"),
        ("encounter.examiner", None, "encounter.examiner"),
        ("conclusion.gap_reasons", [{"rule": "x", "items": [], "reason": None}], "conclusion.gap_reasons.0.reason"),
        ("conclusion.letter", {"to": "anyone"}, "conclusion.letter.to"),
        ("conclusion.plan", "a\u202e\x07", "conclusion.plan"),
    ],
)
def test_what_is_refused_is_told_with_its_place_what_was_found_and_what_is_allowed(
    path: str, found: Any, where: str, refused_with: Refuser
) -> None:
    problems = refused_with(path, found)
    assert [problem.path for problem in problems] == [where]
    assert problems[0].found
    assert problems[0].allowed


def test_every_problem_of_the_fields_is_told_at_once(smallest: dict[str, Any]) -> None:
    smallest["standing"] = {"footwear": {"value": "socks"}, "pull_test": {"value": "recovers", "comment": None}}
    smallest["walking"] = {"base": {"value": 3}, "skipping": {"value": "yes"}}
    with pytest.raises(ExamFileError) as told:
        files.read(json.dumps(smallest).encode())
    assert {str(problem) for problem in told.value.problems} == {
        "standing.footwear: “socks” (allowed: one of 'barefoot' or 'shoes')",
        "standing.pull_test.comment: null (allowed: a value, or no such key)",
        "walking.base: “3” (allowed: one of 'normal', 'narrow' or 'wide')",
        "walking.skipping: is not known (allowed: no such key)",
    }
    assert "(and 3 more)" in str(told.value)


def test_a_whole_number_has_no_point_and_true_is_no_number(refused_with: Refuser) -> None:
    for found in (3.0, True):
        (problem,) = refused_with("walking.tandem.correct_steps", {"value": found})
        assert problem.allowed == "a whole number, without a point"


def test_bounds_are_told_shortly(refused_with: Refuser) -> None:
    (problem,) = refused_with("standing.single_leg.eyes_open.seconds.right", {"value": 61})
    assert str(problem) == "standing.single_leg.eyes_open.seconds.right: “61” (allowed: 60 or less)"


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "not JSON"),
        (b"{", "line 1, column 2"),
        (b"[]", "does not hold an object"),
        (b"null", "does not hold an object"),
        (b"\xff\xfe", "not UTF-8"),
        (b"\xef\xbb\xbf{}", "byte order mark"),
        (b'{"a": NaN}', "NaN"),
        (b'{"a": -Infinity}', "-Infinity"),
        (b'{"a": ' + b"1" * 5000 + b"}", "thousands of digits"),
        (b"[" * 100_000, "nested too deeply"),
        (b'{"a":' * 41 + b"1" + b"}" * 41, "nested too deeply"),
        (b'{"format": "neuroform-exam/1", "format": "neuroform-exam/1"}', "format: stands twice"),
        (b" " * 4_000_001, "larger"),
        (b"{}", "format: is missing"),
        (b'{"format": null}', "format: is missing"),
        (b'{"format": 1}', "neuroform-exam/1"),
        (b'{"format": "neuroform-exam/01"}', "neuroform-exam/1"),
        (b'{"format": "neuroform-exam/0"}', "neuroform-exam/1"),
        (b'{"format": "other-exam/1"}', "neuroform-exam/1"),
        ('{"format": "neuroform-exam/٢"}'.encode(), "neuroform-exam/1"),
    ],
)
def test_what_is_no_exam_file_is_refused_in_words(data: bytes, words: str) -> None:
    assert words in refused(data)


def test_brackets_inside_text_are_no_nesting(read_with: Reader) -> None:
    text = "[{" * 200 + '\\"['
    assert read_with("context.reason", text).context.reason == text


@pytest.mark.parametrize("number", ["1e400", "-1e400", "9" * 400, "1e308"])
def test_a_number_beyond_every_range_is_refused(number: str, smallest: dict[str, Any]) -> None:
    smallest["context"] = {"duration_days": {"value": 7}}
    text = json.dumps(smallest).replace('"value": 7', f'"value": {number}')
    assert "context.duration_days" in refused(text.encode())


def test_a_duplicate_key_deep_inside_is_refused(smallest: dict[str, Any]) -> None:
    smallest["standing"] = {"footwear": {"value": "shoes"}}
    text = json.dumps(smallest).replace('"value": "shoes"', '"value": "shoes", "value": "barefoot"')
    assert "value: stands twice" in refused(text.encode())


def test_half_a_character_is_refused_with_its_place(smallest: dict[str, Any]) -> None:
    smallest["context"] = {"reason": "a\ud800b"}
    assert "context.reason: half a character" in refused(json.dumps(smallest).encode())
    assert "half a character" in refused(b'{"format": "neuroform-exam/1", "\\udfff": 1}')
    assert files.read(json.dumps(smallest).replace("\\ud800", "\\ud83d\\ude00").encode()).context.reason == "a😀b"


def test_a_newer_format_is_refused_with_what_to_do(smallest: dict[str, Any]) -> None:
    smallest["format"] = "neuroform-exam/2"
    smallest["walking"] = {"gliding": True}
    with pytest.raises(NewerFormatError) as told:
        files.read(json.dumps(smallest).encode())
    assert "newer format neuroform-exam/2" in told.value.what
    assert told.value.do == "Open it with a newer version."


def test_text_is_composed_when_it_is_read(read_with: Reader) -> None:
    assert read_with("patient.family_name", "Ju\u0308rgens").patient.family_name == "J\u00fcrgens"


def test_names_in_any_script_stay(read_with: Reader) -> None:
    for name in ("دوار", "שלום", "眩暈", "O’Neill-Şahin"):
        assert read_with("patient.family_name", name).patient.family_name == name


def test_a_time_keeps_its_offset(read_with: Reader) -> None:
    exam = read_with("encounter.examined_at", "2026-11-20T23:30:00-05:00")
    assert exam.encounter.examined_at.isoformat() == "2026-11-20T23:30:00-05:00"
    assert exam.encounter.examined_at == datetime(2026, 11, 21, 4, 30, tzinfo=UTC)


def test_a_shared_case_is_read(shared_case: Any) -> None:
    case = json.loads(shared_case.read_text(encoding="utf-8"))
    assert files.read(json.dumps(case["exam"]).encode()).patient.family_name == case["exam"]["patient"]["family_name"]
