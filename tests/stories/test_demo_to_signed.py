"""From the demonstration to a signed note, by keys alone in the real window; an independent tool confirms it."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from neuroform.workflow import demo, files, signing

SatDown = Callable[[Path, str], dict[str, Any]]


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
def sat_down(screen: str, checkout: Path, needs_window: None) -> SatDown:
    """Give a function that lets someone work at the keyboard of a workplace, and returns what was seen."""
    del needs_window

    def sit(home: Path, story: str) -> dict[str, Any]:
        return at_the_keyboard(home, story, screen, checkout)

    return sit


def at_the_keyboard(home: Path, story: str, screen: str, checkout: Path) -> dict[str, Any]:
    """Run one story in a process of its own."""
    environment = {**os.environ, "DISPLAY": screen, "QT_QPA_PLATFORM": "xcb", "NEUROFORM_HOME": str(home)}
    done = subprocess.run(
        [sys.executable, "-m", "tests.stories.at_the_keyboard", str(home), story],
        capture_output=True,
        text=True,
        cwd=checkout,
        env=environment,
        timeout=300,
        check=False,
    )
    assert done.returncode == (-signal.SIGKILL if story == "killed" else 0), done.stderr
    answer: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    assert answer.get("problem", "") == "", (answer, done.stderr)
    return answer


@pytest.fixture(scope="module")
def seen(sat_down: SatDown, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Any]]:
    """Sign once; give the demonstration's folder and what was seen."""
    home = tmp_path_factory.mktemp("workplace")
    return home / demo.FOLDER, sat_down(home, "sign")


def test_the_gaps_close_and_the_reading_forms(seen: tuple[Path, dict[str, Any]]) -> None:
    _folder, told = seen
    assert told["before"]["needed"] > 0
    assert told["before"]["urgent"] == ["acute-vertigo-central-not-excluded"]
    assert told["before"]["peripheral"] == "not_assessable"
    assert told["after"]["needed"] == 0
    assert told["after"]["urgent"] == []
    assert told["after"]["peripheral"] == "supported"
    assert told["after"]["answered"][0] == told["after"]["answered"][1]


def test_the_note_is_signed_and_carries_what_was_answered(seen: tuple[Path, dict[str, Any]]) -> None:
    folder, told = seen
    opened = demo.open_demo(folder, clock=lambda: datetime.now(UTC))
    paper = Path(told["paper"]).read_bytes()
    assert signing.verify_paper(paper, opened.settings).valid
    carried = folder / "carried.json"
    carried.write_bytes(signing.extract_exam(paper))
    exam, _data = files.read_exam(carried)
    assert exam.head_and_eyes.skew is not None
    # Two gaps asked for a reason before the signature, and one served for both.
    assert told["reasons_first"]
    assert {each.reason for each in exam.conclusion.gap_reasons or ()} == {"asleep when asked"}
    assert len(exam.conclusion.gap_reasons or ()) == 2
    assert exam.patient.family_name == "Ferrandis"


def test_an_independent_tool_confirms_the_signature(
    seen: tuple[Path, dict[str, Any]], need_tool: Callable[[str], str], tmp_path: Path
) -> None:
    # poppler's pdfsig, with the demonstration's authority in its store.
    folder, told = seen
    store = f"sql:{tmp_path}"
    authority = folder / "signing" / "authority" / "authority.pem"
    certutil, pdfsig = need_tool("certutil"), need_tool("pdfsig")
    subprocess.run([certutil, "-N", "-d", store, "--empty-password"], check=True)
    subprocess.run([certutil, "-A", "-d", store, "-n", "demo", "-t", "CT,C,C", "-i", str(authority)], check=True)
    said = subprocess.run([pdfsig, "-nssdir", store, told["paper"]], capture_output=True, text=True, check=False).stdout
    assert "Signature is Valid." in said
    assert "Certificate is Trusted." in said
    assert "Total document signed" in said


def test_a_killed_program_comes_back_with_every_answer_and_says_so(sat_down: SatDown, tmp_path: Path) -> None:
    before = sat_down(tmp_path, "killed")
    again = sat_down(tmp_path, "look")
    assert again["after"] == before["after"]
    assert "was open when the program stopped" in again["recovered"]
    assert "was open when the program stopped" not in sat_down(tmp_path / "elsewhere", "look")["recovered"]


def test_what_was_signed_is_no_draft_any_more(sat_down: SatDown, seen: tuple[Path, dict[str, Any]]) -> None:
    folder, told = seen
    assert sat_down(folder.parent, "look")["after"] == told["before"]
