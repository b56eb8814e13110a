"""The measurements run; what they say depends on the machine and isn't judged here."""

import json

import pytest

from bench.__main__ import main
from bench.figures import Figure, ninety_ninth


def told(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, object]:
    """Run measurements and return what they say."""
    assert main(["--json", "--runs", "1", *words]) == 0
    answer: dict[str, object] = json.loads(capsys.readouterr().out)
    return answer


def test_answers_and_papers_are_measured_against_something(capsys: pytest.CaptureFixture[str]) -> None:
    answer = told(capsys, "--only", "answers", "--only", "papers")
    assert set(answer) == {"machine", "runs", "figures"}
    figures = answer["figures"]
    assert isinstance(figures, list)
    assert len(figures) == 6
    assert all(figure["ratio"] > 0 and figure["milliseconds"] > 0 for figure in figures)


@pytest.mark.usefixtures("needs_window")
def test_the_window_is_measured_against_a_bare_one(capsys: pytest.CaptureFixture[str]) -> None:
    figures = told(capsys, "--only", "window", "--keys", "3", "--hour", "30")["figures"]
    assert isinstance(figures, list)
    *times, memory, growth = figures
    assert [figure["bound"] for figure in times] == ["at most 1.5 x", "at most 4 x", None, "under 8 ms"]
    assert memory["megabytes"] > memory["against_megabytes"] > 0
    assert growth["bound"] == "no growth"


def test_a_figure_is_a_line_for_people() -> None:
    line = Figure(name="this", milliseconds=3, against="that", against_milliseconds=2, bound="at most 2 x").line()
    assert "3.00 ms" in line
    assert "1.50 x that (2.00 ms)" in line
    assert ninety_ninth([*range(100)]) == 99
