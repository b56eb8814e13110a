"""start.py says first what the machine lacks, makes the environment once, and leaves others' alone."""

from pathlib import Path
from types import ModuleType

import pytest


class Steps:
    """Records the commands that would have been run."""

    def __init__(self) -> None:
        self.made: list[str] = []

    def __call__(self, *words: str) -> int:
        self.made.append(" ".join(words))
        return 0

    def count(self, part: str) -> int:
        """Count the commands that hold `part`."""
        return sum(part in step for step in self.made)


@pytest.fixture
def elsewhere(start: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Point start.py at an invented checkout on a machine that lacks nothing."""
    for name, content in (("requirements.lock", "a"), ("requirements-test.lock", "a b"), ("pyproject.toml", "c")):
        (tmp_path / name).write_text(content, encoding="utf-8")
    venv = tmp_path / ".venv"
    monkeypatch.setattr(start, "HERE", tmp_path)
    monkeypatch.setattr(start, "VENV", venv)
    monkeypatch.setattr(start, "BIN", venv / "bin")
    monkeypatch.setattr(start, "MADE_FROM", venv / "made-from")
    monkeypatch.setattr(start, "LOCK", tmp_path / "requirements.lock")
    monkeypatch.setattr(start, "TEST_LOCK", tmp_path / "requirements-test.lock")
    for asked in ("missing_libraries", "missing_tools", "missing_python"):
        monkeypatch.setattr(start, asked, dict[str, str])
    monkeypatch.setenv("DISPLAY", ":0")
    return tmp_path


@pytest.fixture
def steps(start: ModuleType, elsewhere: Path, monkeypatch: pytest.MonkeyPatch) -> Steps:
    """Record instead of running."""
    assert elsewhere == start.HERE
    recorded = Steps()
    monkeypatch.setattr(start, "run", recorded)
    monkeypatch.setattr(start, "hand_over", recorded)
    return recorded


def test_the_first_start_makes_the_environment_and_opens_the_demo(start: ModuleType, steps: Steps) -> None:
    assert start.main([]) == 0
    assert steps.count("-m venv") == 1
    assert steps.count("--require-hashes") == 1
    assert steps.count("--no-deps --no-build-isolation --no-index -e") == 1
    assert steps.made[-1].endswith("neuroform demo")


def test_the_second_start_installs_nothing(start: ModuleType, steps: Steps) -> None:
    start.main([])
    start.main([])
    assert steps.count("pip install") == 2
    assert steps.count("neuroform demo") == 2


def test_another_lock_makes_the_environment_anew(start: ModuleType, steps: Steps, elsewhere: Path) -> None:
    start.main([])
    (elsewhere / "requirements.lock").write_text("other", encoding="utf-8")
    (elsewhere / ".venv" / "stale").touch()
    start.main([])
    assert steps.count("-m venv") == 2
    assert not (elsewhere / ".venv" / "stale").exists()


def test_the_environment_of_the_tests_serves_the_window_too(start: ModuleType, steps: Steps) -> None:
    start.main([])
    start.main(["test"])
    start.main([])
    assert steps.count("-m venv") == 1
    assert steps.count("requirements-test.lock") == 1
    assert steps.count("--require-hashes") == 2


def test_a_changed_project_file_installs_the_checkout_again(start: ModuleType, steps: Steps, elsewhere: Path) -> None:
    start.main([])
    (elsewhere / "pyproject.toml").write_text("other", encoding="utf-8")
    start.main([])
    assert steps.count("--no-deps") == 2
    assert steps.count("-m venv") == 1


def test_an_interrupted_start_begins_again(
    start: ModuleType, steps: Steps, elsewhere: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_words: str) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(start, "pip", interrupted)
        with pytest.raises(KeyboardInterrupt):
            start.main([])
    (elsewhere / ".venv" / "half").touch()
    assert start.main([]) == 0
    assert not (elsewhere / ".venv" / "half").exists()
    assert steps.count("neuroform demo") == 1


def test_an_environment_of_someone_else_is_left_alone(
    start: ModuleType, steps: Steps, elsewhere: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (elsewhere / ".venv").mkdir()
    (elsewhere / ".venv" / "theirs").touch()
    assert start.main([]) == 1
    assert (elsewhere / ".venv" / "theirs").exists()
    assert steps.made == []
    assert "Move it away" in capsys.readouterr().out


def test_missing_libraries_are_told_first_and_stop_the_window(
    start: ModuleType, steps: Steps, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(start, "missing_libraries", lambda: {"libGL.so.1": "libgl1", "libEGL.so.1": "libegl1"})
    monkeypatch.setattr("shutil.which", lambda name: f"/usr/bin/{name}")
    assert start.main([]) == 1
    assert capsys.readouterr().out.splitlines()[0].endswith("apt-get install -y libegl1 libgl1")
    assert steps.made == []


def test_missing_tools_are_told_first_and_the_other_tests_run(
    start: ModuleType, steps: Steps, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(start, "missing_tools", lambda: {"qpdf": "qpdf", "pdfsig": "poppler-utils"})
    monkeypatch.setattr("shutil.which", lambda name: f"/usr/bin/{name}")
    assert start.main(["test"]) == 0
    assert capsys.readouterr().out.splitlines()[0].endswith("apt-get install -y poppler-utils qpdf")
    assert steps.count("-m pytest") == 1


def test_without_the_libraries_of_the_window_its_tests_are_left_out(
    start: ModuleType, steps: Steps, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(start, "missing_libraries", lambda: {"libGL.so.1": "libgl1"})
    start.main(["test"])
    assert "-p no:pytest-qt" in steps.made[-1]


def test_without_a_screen_the_window_is_not_tried(
    start: ModuleType, steps: Steps, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    assert start.main([]) == 1
    assert "no screen" in capsys.readouterr().out
    assert steps.count("demo") == 0


@pytest.mark.parametrize(("word", "module"), [("bench", "-m bench --json"), ("pictures", "-m bench.pictures --json")])
def test_measuring_hands_its_words_on(start: ModuleType, steps: Steps, word: str, module: str) -> None:
    assert start.main([word, "--json"]) == 0
    assert steps.made[-1].endswith(module)


def test_an_unknown_word_is_answered_with_the_known_ones(
    start: ModuleType, steps: Steps, capsys: pytest.CaptureFixture[str]
) -> None:
    assert start.main(["fly"]) == 2
    assert "test | bench | pictures" in capsys.readouterr().out
    assert steps.made == []
