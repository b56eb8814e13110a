"""`check` and `interpret` answer machines and people about one file and about many."""

import json
import sys
from pathlib import Path

import pytest

from neuroform.cli import many
from tests.cli.conftest import Command
from tests.exam.strategies import generated

GAP_KEYS = {"rule", "severity", "items", "message", "why", "source", "reason"}
# Every pattern in the order in which answers list them; those with sides stand twice.
PATTERNS = [
    ("no_abnormality", None),
    ("sensory_ataxia", None),
    ("length_dependent_neuropathy", None),
    ("dorsal_column", None),
    ("acute_vestibular_peripheral", "right"),
    ("acute_vestibular_peripheral", "left"),
    ("acute_vestibular_central", None),
    ("compensated_vestibular", "right"),
    ("compensated_vestibular", "left"),
    ("bilateral_vestibular", None),
    ("positional_vertigo", "right"),
    ("positional_vertigo", "left"),
    ("cerebellar_midline", None),
    ("cerebellar_hemisphere", "right"),
    ("cerebellar_hemisphere", "left"),
    ("combined_sensory_cerebellar", None),
    ("functional", None),
    ("upper_motor_neurone", "right"),
    ("upper_motor_neurone", "left"),
    ("lower_motor_neurone_weakness", "right"),
    ("lower_motor_neurone_weakness", "left"),
    ("frontal_or_parkinsonian_gait", None),
    ("orthostatic", None),
    ("visual_dependence", None),
]
HEAVY = {"PySide6", "reportlab", "pikepdf", "pyhanko", "pypdfium2", "jinja2", "cryptography", "asn1crypto", "PIL"}


def test_check_answers_in_one_ascii_line(command: Command, exam_file: Path) -> None:
    said = command("check", exam_file, "--json")
    assert said.out.isascii()
    assert said.out.count("\n") == 1
    answer = json.loads(said.out)
    assert list(answer) == ["file", "complete", "gaps"]
    assert (answer["file"], answer["complete"]) == (str(exam_file), False)
    assert (said.status, said.err) == (1, "")
    assert all(set(gap) == GAP_KEYS for gap in answer["gaps"])
    assert {gap["severity"] for gap in answer["gaps"]} <= {"must", "should", "notice"}
    named = {item for gap in answer["gaps"] if gap["severity"] == "must" for item in gap["items"]}
    assert {"head_and_eyes.skew", "head_and_eyes.head_impulse.left"} <= named


def test_interpret_answers_with_every_pattern_in_order(command: Command, exam_file: Path) -> None:
    said = command("interpret", exam_file, "--json")
    assert (said.status, said.err) == (0, "")
    assert said.out.isascii()
    answer = json.loads(said.out)
    assert list(answer) == [
        "file",
        "stance_test",
        "systems",
        "patterns",
        "urgent",
        "next_tests",
        "paragraph",
        "sentences",
        "not_built",
    ]
    listed = [(each["pattern"], each["side"]) for each in answer["patterns"]]
    assert listed == [pair for pair in PATTERNS if pair[0] not in answer["not_built"]]
    assert answer["paragraph"] == " ".join(each["text"] for each in answer["sentences"])
    assert all(each["items"] for each in answer["sentences"])
    assert set(answer["systems"]) == {"vision", "joint_position", "vestibular", "cerebellar", "motor"}
    assert answer["stance_test"]["result"] == "positive"


@pytest.mark.parametrize("verb", ["check", "interpret"])
def test_people_are_answered_in_words(command: Command, exam_file: Path, verb: str) -> None:
    said = command(verb, exam_file)
    assert said.out.startswith(str(exam_file))
    assert "_" not in said.out.replace(str(exam_file), "").split("Examine next")[0].split("Needed to sign")[0]


@pytest.mark.parametrize("verb", ["check", "interpret"])
def test_one_unreadable_file_is_one_message_and_nothing_else(
    command: Command, tmp_path: Path, broken_file: Path, verb: str
) -> None:
    for file in (tmp_path / "missing.json", broken_file, tmp_path):
        said = command(verb, file, "--json")
        assert (said.status, said.out) == (2, "")
        assert said.err.count("\n") >= 1
        assert "Traceback" not in said.err


def test_every_problem_of_a_file_is_told(command: Command, broken_file: Path) -> None:
    said = command("check", broken_file)
    assert "  patient: is missing" in said.err
    assert "  walking.base: “sideways” (allowed: one of 'normal', 'narrow' or 'wide')" in said.err


@pytest.mark.parametrize("verb", ["check", "interpret"])
def test_an_unreadable_file_among_others_does_not_stop_them(
    command: Command, exam_file: Path, broken_file: Path, verb: str
) -> None:
    said = command(verb, exam_file, broken_file, "no such file", exam_file, "--json")
    answers = [json.loads(line) for line in said.out.splitlines()]
    assert [answer["file"] for answer in answers] == [str(exam_file), str(broken_file), "no such file", str(exam_file)]
    assert ["unreadable" in answer for answer in answers] == [False, True, True, False]
    assert set(answers[1]) == {"file", "unreadable"}
    assert said.status == 2
    assert str(broken_file) in said.err
    assert "no such file" in said.err


def test_a_file_of_an_unknown_protocol_is_refused(command: Command, exam_file: Path) -> None:
    exam_file.write_text(exam_file.read_text().replace('"acute_vertigo"', '"house_visit"'), encoding="utf-8")
    for verb in ("check", "interpret"):
        said = command(verb, exam_file, "--json")
        assert (said.status, said.out) == (2, "")
        assert "house_visit" in said.err


def test_the_protocol_can_be_chosen_by_name_or_file(command: Command, exam_file: Path, tmp_path: Path) -> None:
    own = tmp_path / "short.toml"
    own.write_text('name = "short"\nlabel = "short"\nmust = ["walking.turning"]\n', encoding="utf-8")
    for chosen, item in (("full", "motor.power.knee_extension.right"), (str(own), "walking.turning")):
        answer = json.loads(command("check", exam_file, "--protocol", chosen, "--json").out)
        assert item in {item for gap in answer["gaps"] for item in gap["items"]}
    for wrong in ("house_visit", "", str(tmp_path / "missing.toml")):
        said = command("check", exam_file, "--protocol", wrong, "--json")
        assert (said.status, said.out) == (2, "")
        assert said.err


def test_a_follow_up_needs_what_it_follows(command: Command, exam_file: Path, broken_file: Path) -> None:
    alone = command("check", exam_file, "--protocol", "follow_up")
    assert (alone.status, alone.out) == (2, "")
    assert "--after" in alone.err
    after = command("check", exam_file, "--protocol", "follow_up", "--after", exam_file, "--json")
    assert json.loads(after.out)["file"] == str(exam_file)
    assert command("check", exam_file, "--protocol", "follow_up", "--after", broken_file).status == 2


@pytest.mark.parametrize("words", [("--protocol", "follow_up"), ()], ids=["follow_up", "its own"])
def test_what_follows_another_persons_or_a_later_examination_is_refused(
    command: Command, exam_file: Path, tmp_path: Path, words: tuple[str, ...]
) -> None:
    exam = json.loads(exam_file.read_text(encoding="utf-8"))

    def earlier(name: str, part: str, **changed: object) -> Path:
        file = tmp_path / name
        file.write_text(json.dumps({**exam, part: {**exam[part], **changed}}), encoding="utf-8")
        return file

    other = earlier("other.json", "patient", family_name="Else", identifiers=[{"scheme": "ward", "value": "9"}])
    later = earlier("later.json", "encounter", examined_at="2090-01-01T10:00:00+00:00")
    before = earlier("before.json", "encounter", examined_at="2020-01-01T10:00:00+00:00")
    for file, why in ((other, "about another person"), (later, "made after the one")):
        said = command("check", exam_file, "--after", file, *words, "--json")
        assert (said.status, said.out) == (2, "")
        assert why in said.err
        assert len(said.err.splitlines()) == 1
        assert exam["patient"]["family_name"] not in said.err
    assert command("check", exam_file, "--after", before, *words).status == 1
    said = command("check", exam_file, other, "--after", before, *words, "--json")
    assert ["unreadable" in json.loads(line) for line in said.out.splitlines()] == [False, True]
    assert said.status == 2


def test_many_files_are_answered_as_each_is_alone_and_in_order(
    command: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from neuroform.exam import files

    written = []
    for number, exam in enumerate(generated(60)):
        written.append(tmp_path / f"{number}.json")
        written[-1].write_bytes(files.write(exam))
    together = command("check", *written, "--json")
    assert [json.loads(line)["file"] for line in together.out.splitlines()] == [str(file) for file in written]
    monkeypatch.setattr(many, "_cores", lambda: 1)
    assert command("check", *written, "--json").out == together.out


def test_the_count_goes_to_a_terminal_alone(command: Command, exam_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    quiet = command("check", *[exam_file] * 30, "--json")
    assert quiet.err == ""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    shown = command("check", *[exam_file] * 30, "--json")
    assert "29 of 30" in shown.err
    assert shown.out == quiet.out


def test_a_name_in_any_bytes_is_answered(program: Command, tmp_path: Path, exam_file: Path) -> None:
    odd = tmp_path / "exämin 眩\udcff.json"
    odd.write_bytes(exam_file.read_bytes())
    said = program("check", odd, "--json")
    assert (said.status, json.loads(said.out)["file"]) == (1, str(odd))
    assert program("check", odd).status == 1


def test_a_fault_of_the_program_costs_one_file_and_tells_no_findings(
    command: Command, exam_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError("Ferrandis")

    monkeypatch.setattr("neuroform.cli.telling.check_file", fail)
    said = command("check", exam_file, exam_file, "--json")
    assert said.status == 2
    assert [set(json.loads(line)) for line in said.out.splitlines()] == [{"file", "unreadable"}] * 2
    assert "ZeroDivisionError" in said.err
    assert "Ferrandis" not in said.err + said.out


def test_checking_and_interpreting_load_nothing_heavy(checkout: Path, exam_file: Path) -> None:
    import subprocess

    script = (
        "import sys; from neuroform.cli.funnel import run\n"
        f"for verb in ('check', 'interpret'): run([verb, {str(exam_file)!r}, '--json'], open_demo=lambda: 0)\n"
        "print({name.partition('.')[0] for name in sys.modules})"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, cwd=checkout, check=True)
    loaded = set(done.stdout.splitlines()[-1].strip("{}").replace("'", "").split(", "))
    assert "neuroform" in loaded
    assert not loaded & HEAVY
