"""Makes the environment that the accessibility checker lives in, apart from the program's: `python3 THIS_FILE`.

The checker (outloud, Apache-2.0) reads a PDF by the Matterhorn Protocol, the PDF Association's list of ways to fail
PDF/UA-1. Its own libraries aren't the program's. Needs nothing but Python's own library.
"""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

LOCK = Path(__file__).with_name("accessibility.lock")
PLACE = Path(__file__).resolve().parents[2] / ".venv" / "accessibility"
PROGRAM = PLACE / ("Scripts" if os.name == "nt" else "bin") / "outloud"
MADE_FROM = PLACE / "made-from"


def made() -> bool:
    """Tell whether the environment stands as the lock says."""
    return PROGRAM.exists() and MADE_FROM.exists() and MADE_FROM.read_text(encoding="utf-8") == _wanted()


def make() -> Path:
    """Make the environment where it isn't there yet; return the checker."""
    if not made():
        shutil.rmtree(PLACE, ignore_errors=True)
        subprocess.run([sys.executable, "-m", "venv", PLACE], check=True)
        pip: list[str | Path] = [
            PROGRAM.with_name("python"),
            "-m",
            "pip",
            "install",
            "--quiet",
            "--require-hashes",
            "-r",
            LOCK,
        ]
        subprocess.run(pip, check=True)
        MADE_FROM.write_text(_wanted(), encoding="utf-8")
    return PROGRAM


def _wanted() -> str:
    return hashlib.sha256(LOCK.read_bytes()).hexdigest()


if __name__ == "__main__":
    make()
