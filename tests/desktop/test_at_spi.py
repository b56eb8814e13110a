"""What a screen reader is told, end to end: the real program on a screen of its own, read over the bus."""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest


@pytest.fixture(scope="module")
def screen(need_tool: Callable[[str], str]) -> Iterator[str]:
    """Give a screen of its own."""
    reading, writing = os.pipe()
    words = [need_tool("Xvfb"), "-displayfd", str(writing), "-screen", "0", "1280x800x24", "-nolisten", "tcp"]
    with subprocess.Popen(words, pass_fds=[writing], stderr=subprocess.DEVNULL) as server:
        os.close(writing)
        with os.fdopen(reading) as told:
            number = told.readline().strip()
        yield f":{number}"
        server.terminate()


@pytest.fixture(scope="module")
def told(
    screen: str, need_tool: Callable[[str], str], needs_window: None, tmp_path_factory: pytest.TempPathFactory
) -> list[dict[str, Any]]:
    """Give everything the demonstration tells, in the order of its tree."""
    del needs_window
    need_tool("/usr/libexec/at-spi-bus-launcher")
    home = tmp_path_factory.mktemp("workplace")
    environment = {
        **os.environ,
        "DISPLAY": screen,
        "QT_QPA_PLATFORM": "xcb",
        "NEUROFORM_HOME": str(home),
        "XDG_CACHE_HOME": str(home),
        "XDG_RUNTIME_DIR": str(home),
        "QT_LINUX_ACCESSIBILITY_ALWAYS_ON": "1",
    }
    done = subprocess.run(
        [need_tool("dbus-run-session"), "--", sys.executable, str(Path(__file__).with_name("at_spi_walk.py"))],
        capture_output=True,
        text=True,
        env=environment,
        timeout=180,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines() if line.startswith("{")]


def named(told: list[dict[str, Any]], name: str) -> dict[str, Any]:
    return next(each for each in told if each["name"] == name)


def test_program_and_window_have_the_name_a_person_knows(told: list[dict[str, Any]]) -> None:
    assert [(each["name"], each["role"]) for each in told[:2]] == [
        ("Legs and balance examination", "application"),
        ("Legs and balance examination", "frame"),
    ]


def test_sections_are_tabs_and_one_is_chosen(told: list[dict[str, Any]]) -> None:
    assert named(told, "Sections")["role"] == "page tab list"
    tabs = [each["name"] for each in told if each["role"] == "page tab"]
    assert {"History and cautions", "Standing", "Head and eyes", "Read and sign"} <= set(tabs)


def test_rows_are_groups_of_answers_with_their_states(told: list[dict[str, Any]]) -> None:
    at = told.index(named(told, "Vertigo now"))
    row, answers = told[at], []
    for each in told[at + 1 :]:
        if each["depth"] <= row["depth"]:
            break
        answers.append((each["name"], each["role"], each["checked"]))
    assert row["role"] in {"grouping", "panel"}
    assert answers == [("no", "radio button", False), ("yes", "radio button", True)]


def test_band_tells_the_urgent_finding(told: list[dict[str, Any]]) -> None:
    assert named(told, "Urgent findings")["role"] == "list"
    assert any(each["name"].startswith("Now: ") for each in told)


def test_nothing_that_is_told_of_is_without_a_name(told: list[dict[str, Any]]) -> None:
    spoken = {"radio button", "check box", "page tab", "page tab list", "push button", "button", "link", "list", "text"}
    assert not [each for each in told if each["role"] in spoken and not each["name"]]
