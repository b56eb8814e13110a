"""Runs commands in this process, and as a program of its own."""

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest

from neuroform import shipped
from neuroform.cli.funnel import run
from neuroform.workflow import demo


@dataclass(frozen=True)
class Said:
    """What a command wrote, and its exit status."""

    status: int
    out: str
    err: str


Command = Callable[..., Said]


@pytest.fixture
def command(capsys: pytest.CaptureFixture[str]) -> Command:
    """Give a function that runs a command in this process."""

    def call(*words: str | Path) -> Said:
        status = run([str(word) for word in words], open_demo=lambda: 0)
        told = capsys.readouterr()
        return Said(status, told.out, told.err)

    return call


@pytest.fixture
def program(checkout: Path) -> Command:
    """Give a function that runs the program as a person does."""

    def call(*words: str | Path, **environment: str) -> Said:
        done = subprocess.run(
            [sys.executable, "-m", "neuroform", *map(str, words)],
            capture_output=True,
            text=True,
            stdin=subprocess.DEVNULL,
            cwd=checkout,
            env={**os.environ, **environment},
            timeout=120,
            check=False,
        )
        return Said(done.returncode, done.stdout, done.stderr)

    return call


@pytest.fixture
def exam_file(tmp_path: Path) -> Path:
    """Give the demonstration's half-done examination as a file."""
    file = tmp_path / "exam.json"
    file.write_bytes(shipped.read_bytes("resources", "demonstration", "exam.json"))
    return file


@pytest.fixture
def broken_file(tmp_path: Path) -> Path:
    """Give a file that is no examination."""
    file = tmp_path / "broken.json"
    file.write_text('{"format": "neuroform-exam/1", "walking": {"base": {"value": "sideways"}}}', encoding="utf-8")
    return file


@dataclass(frozen=True)
class Signer:
    """Where a certificate, its countersigner's and their authority lie."""

    certificate: Path
    supervisor: Path
    authority: Path


@pytest.fixture(scope="session")
def signer(tmp_path_factory: pytest.TempPathFactory) -> Signer:
    """Give certificates of an invented clinic; demo.PASSPHRASE opens them."""
    folder = tmp_path_factory.mktemp("clinic")
    demo.make_certificates(folder, clock=lambda: datetime.now(UTC))
    place = folder / "signing"
    return Signer(place / "examiner.p12", place / "supervisor.p12", place / "authority" / "authority.pem")


@pytest.fixture
def passphrase(monkeypatch: pytest.MonkeyPatch) -> str:
    """Answer for the prompt."""
    monkeypatch.setenv("NEUROFORM_PASSPHRASE", demo.PASSPHRASE)
    return demo.PASSPHRASE
