"""Wrong use is one message on standard error, exit 2, nothing on standard output and nothing written."""

from pathlib import Path

import pytest

from neuroform import __main__ as entrance
from neuroform.completeness.register import RULES
from tests.cli.conftest import Command


@pytest.mark.parametrize(
    "words",
    [
        ("chekc", "x"),
        ("check",),
        ("check", "--strange", "x"),
        ("interpret",),
        ("write", "x"),
        ("write", "x", "--kind", "poem", "-o", "y"),
        ("sign", "x", "-o", "y"),
        ("sign", "x", "--with", "z", "--as", "witness", "-o", "y"),
        ("verify",),
        ("verify", "a", "b"),
        ("extract", "x"),
        ("explain",),
        ("explain", "no-such-rule"),
        ("export", "x", "--as", "fhir", "-o", "y"),
        ("measure-sway", "a.csv", "b.csv"),
        ("verify-records",),
        ("demo", "extra"),
    ],
    ids=" ".join,
)
def test_wrong_use_is_one_message(command: Command, words: tuple[str, ...], tmp_path: Path) -> None:
    said = command(*words)
    assert (said.status, said.out) == (2, "")
    assert len(said.err.strip().splitlines()) == 1
    assert "Traceback" not in said.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "words",
    [
        ("check", "EXAM", "--protocol", ""),
        ("check", "EXAM", "--after", ""),
        ("write", "EXAM", "--kind", "note", "-o", ""),
        ("write", "EXAM", "--kind", "note", "-o", "out.pdf", "--sign-with", ""),
        ("write", "EXAM", "--kind", "addendum", "-o", "out.pdf", "--to", ""),
        ("sign", "EXAM", "--with", "", "-o", "out.pdf"),
        ("verify", "EXAM", "--trust", ""),
        ("extract", "EXAM", "--output", ""),
    ],
    ids=" ".join,
)
def test_an_option_with_nothing_behind_it_is_no_choice_to_go_without(
    command: Command, exam_file: Path, words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    said = command(*[str(exam_file) if word == "EXAM" else word for word in words])
    assert (said.status, said.out) == (2, "")
    option = {"-o": "--output"}.get(words[words.index("") - 1], words[words.index("") - 1])
    assert said.err == f"{option} has no name behind it. Give a name or a file.\n"
    assert list(tmp_path.iterdir()) == [exam_file]


def test_a_home_of_somebody_unknown_is_told(command: Command, exam_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NEUROFORM_HOME", "~nobody-of-that-name/x")
    said = command("check", exam_file)
    assert (said.status, said.out) == (2, "")
    assert said.err.startswith("NEUROFORM_HOME can't be used: “~nobody-of-that-name/x”")


@pytest.mark.parametrize(
    "words", [("export", "x", "--as", "csv", "-o", "y"), ("measure-sway", "a", "b"), ("verify-records",)]
)
def test_what_is_not_offered_yet_says_so(command: Command, words: tuple[str, ...]) -> None:
    assert "isn't offered yet" in command(*words).err


def test_help_lists_every_command(program: Command) -> None:
    said = program("--help")
    assert said.status == 0
    for verb in ("check", "interpret", "write", "sign", "verify", "extract", "explain", "demo"):
        assert f"\n  {verb} " in said.out
    assert program("check", "--help").status == 0


def test_a_rule_is_explained_with_its_source(command: Command) -> None:
    said = command("explain", "stance-without-joint-position")
    assert (said.status, said.err) == (0, "")
    for word in ("Why: ", "Source: ", "Example: ", "Nothing to say: "):
        assert word in said.out
    assert "{" not in said.out


def test_every_rule_is_explained(command: Command) -> None:
    for rule in RULES:
        said = command("explain", rule.id)
        assert (said.status, said.err) == (0, ""), rule.id


def test_settings_that_cannot_be_used_are_told(command: Command, own_home: Path, exam_file: Path) -> None:
    settings = own_home / "settings.toml"
    settings.write_text("sound = 3\n", encoding="utf-8")
    try:
        said = command("check", exam_file)
    finally:
        settings.unlink()
    assert (said.status, said.out) == (2, "")
    assert "sound" in said.err


def test_without_a_command_the_window_opens(monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[str] = []

    def window() -> int:
        opened.append("window")
        return 0

    def demo() -> int:
        opened.append("demo")
        return 0

    monkeypatch.setattr(entrance, "open_window", window)
    monkeypatch.setattr(entrance, "open_demo", demo)
    for words in (["neuroform"], ["neuroform", "demo"]):
        monkeypatch.setattr("sys.argv", words)
        assert entrance.main() == 0
    assert opened == ["window", "demo"]


def test_whoever_stops_reading_is_no_failure(checkout: Path, exam_file: Path) -> None:
    import subprocess
    import sys

    running = subprocess.Popen(
        [sys.executable, "-m", "neuroform", "interpret", *[str(exam_file)] * 300],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=checkout,
    )
    assert running.stdout is not None
    assert running.stderr is not None
    running.stdout.readline()
    running.stdout.close()
    assert running.stderr.read() == b""
    running.stderr.close()
    assert running.wait() == 0
