"""Makes this checkout ready and opens it: `python3 start.py [test | bench | pictures | packages]`.

Without a word: the window on the demonstration clinic. `packages` names the system packages that this machine lacks.
Needs nothing but Python's own library.
"""

from __future__ import annotations  # so that an older Python gets as far as being told

import ctypes
import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
VENV = HERE / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
MADE_FROM = VENV / "made-from"
LOCK = HERE / "requirements.lock"
TEST_LOCK = HERE / "requirements-test.lock"
OLDEST = (3, 11)

# What the window loads, on any platform and on X11: library, and the Debian package that holds it.
LIBRARIES = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libglib-2.0.so.0": "libglib2.0-0",
}
X11_LIBRARIES = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libX11-xcb.so.1": "libx11-xcb1",
}
# What some tests call: program or file, and the Debian package that holds it.
TOOLS = {
    "Xvfb": "xvfb",
    "pdftotext": "poppler-utils",
    "pdftoppm": "poppler-utils",
    "pdfsig": "poppler-utils",
    "qpdf": "qpdf",
    "certutil": "libnss3-tools",
    "softhsm2-util": "softhsm2",
    "java": "default-jre-headless",
    "/usr/share/java/pdfbox2.jar": "libpdfbox2-java",
    "/usr/share/java/preflight.jar": "libpdfbox2-java",
    "/usr/share/java/xmpbox.jar": "libpdfbox2-java",
    "/usr/share/java/fontbox2.jar": "libfontbox2-java",
    "/usr/share/java/commons-logging.jar": "libcommons-logging-java",
    "/usr/share/java/commons-io.jar": "libcommons-io-java",
    "/usr/share/java/javax.activation.jar": "libactivation-java",
    "/usr/share/java/jaxb-api.jar": "libjaxb-api-java",
    "dbus-run-session": "dbus",
    "/usr/libexec/at-spi-bus-launcher": "at-spi2-core",
}


class NotOursError(Exception):
    """The environment in the way belongs to someone else."""


def find_tool(name: str) -> str | None:
    """Return where a program or file of TOOLS stands, None where it is missing."""
    if name.startswith("/"):
        return name if Path(name).exists() else None
    return shutil.which(name) or shutil.which(name, path="/usr/sbin:/sbin")


def library_loads(name: str) -> bool:
    """Tell whether a shared library can be loaded."""
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True


def missing_libraries() -> dict[str, str]:
    """Return what the window needs and cannot load, with the packages that hold it; only Linux is asked."""
    wanted = {**LIBRARIES, **X11_LIBRARIES} if sys.platform.startswith("linux") else {}
    return {name: package for name, package in wanted.items() if not library_loads(name)}


def missing_tools() -> dict[str, str]:
    """Return what tests call and this machine lacks, with the packages that hold it."""
    return {name: package for name, package in TOOLS.items() if find_tool(name) is None}


def missing_python() -> dict[str, str]:
    """Return the part of Python that some distributions pack by itself, where it is missing."""
    return {} if VENV.exists() or importlib.util.find_spec("ensurepip") else {"ensurepip": "python3-venv"}


def install_line(packages: set[str]) -> str:
    """Return the one command that installs `packages`."""
    if not shutil.which("apt-get"):
        return "Install what holds these (Debian names): " + " ".join(sorted(packages))
    sudo = "sudo " if hasattr(os, "geteuid") and os.geteuid() != 0 else ""
    return f"{sudo}apt-get update && {sudo}apt-get install -y " + " ".join(sorted(packages))


def missing_packages() -> list[str]:
    """Return every system package that window or tests use and this machine lacks."""
    return sorted({*missing_python().values(), *missing_libraries().values(), *missing_tools().values()})


def digest(file: Path) -> str:
    """Return a file's SHA-256 in hex."""
    return hashlib.sha256(file.read_bytes()).hexdigest()


def stamp(lock: Path) -> str:
    """Return what an environment made from `lock` for this checkout by this Python is known by."""
    return f"{digest(lock)} {sys.version_info[0]}.{sys.version_info[1]} {HERE}\n"


def make_environment(lock: Path) -> None:
    """Make `.venv` hold exactly what `lock` names, and the checkout; nothing is done where it does already.

    The test lock names all that the plain one does and more, so an environment made from it serves both.
    """
    made_from = MADE_FROM.read_text(encoding="utf-8") if MADE_FROM.exists() else ""
    if VENV.exists() and not made_from:
        raise NotOursError(f"{VENV} was not made by start.py. Move it away, then start again.")
    if made_from not in {stamp(lock), stamp(TEST_LOCK)}:
        if made_from != stamp(LOCK):
            print("Making .venv; this takes a minute or two, once.", flush=True)
            shutil.rmtree(VENV, ignore_errors=True)
            VENV.mkdir()
        MADE_FROM.write_text("not finished\n", encoding="utf-8")
        if made_from != stamp(LOCK):
            run(sys.executable, "-m", "venv", str(VENV))
        pip("--require-hashes", "-r", str(lock))
        made_from = stamp(lock)
    installed = VENV / "installed-from"
    if not installed.exists() or installed.read_text(encoding="utf-8") != digest(HERE / "pyproject.toml"):
        pip("--no-deps", "--no-build-isolation", "--no-index", "-e", str(HERE))
        installed.write_text(digest(HERE / "pyproject.toml"), encoding="utf-8")
    MADE_FROM.write_text(made_from, encoding="utf-8")
    run(str(BIN / "python"), "-m", "compileall", "-q", str(HERE / "neuroform"))


def pip(*words: str) -> None:
    """Install into `.venv`."""
    run(str(BIN / "python"), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", *words)


def run(*words: str) -> None:
    """Run a command that has to succeed."""
    subprocess.run(words, check=True, cwd=HERE)


def hand_over(*words: str) -> int:
    """Run what this was started for; return its exit status."""
    try:
        return subprocess.run(words, check=False, cwd=HERE).returncode
    except KeyboardInterrupt:
        return 130


def newer_python() -> str | None:
    """Return a Python on the path that is new enough."""
    return next((found for minor in range(11, 20) if (found := shutil.which(f"python3.{minor}"))), None)


def open_demo() -> int:
    """Open the window on the demonstration clinic."""
    lacking = {**missing_libraries(), **missing_python()}
    if lacking:
        print(install_line(set(lacking.values())))
        print(f"This machine lacks {', '.join(lacking)}. Run the line above, then start again.")
        return 1
    make_environment(LOCK)
    screens = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    if sys.platform.startswith("linux") and not any(os.environ.get(name) for name in screens):
        print("There is no screen here to open a window on. Run this from a desktop, or as: xvfb-run python3 start.py")
        return 1
    return hand_over(str(BIN / "neuroform"), "demo")


def test(words: list[str]) -> int:
    """Run the tests; those that need what is missing skip and say so, or fail where CI is set."""
    no_python, no_libraries, no_tools = missing_python(), missing_libraries(), missing_tools()
    lacking = {**no_python, **no_libraries, **no_tools}
    if lacking:
        print(install_line(set(lacking.values())))
        print(f"This machine lacks {', '.join(lacking)}; the line above installs it.", flush=True)
    if no_python:
        return 1
    make_environment(TEST_LOCK)
    without_window = ["-p", "no:pytest-qt"] if set(no_libraries) & set(LIBRARIES) else []
    pytest = [str(BIN / "python"), "-m", "pytest", "-n", "2", "--dist", "worksteal", "-q", "-rs", *without_window]
    return hand_over(*pytest, *words)


def measure(module: str, words: list[str]) -> int:
    """Run one of the measuring modules of the checkout."""
    lacking = {**missing_libraries(), **missing_python()}
    if lacking:
        print(install_line(set(lacking.values())))
        return 1
    make_environment(LOCK)
    return hand_over(str(BIN / "python"), "-m", module, *words)


def main(words: list[str]) -> int:
    """Do what the first word says."""
    command, rest = (words[0], words[1:]) if words else ("", [])
    if command == "packages":
        print(" ".join(missing_packages()))
        return 0
    if sys.version_info < OLDEST:
        newer = newer_python()
        if newer:
            return hand_over(newer, str(HERE / "start.py"), *words)
        print("Python 3.11 or newer is needed; install it, then start again.")
        return 1
    try:
        if not command:
            return open_demo()
        if command == "test":
            return test(rest)
        if command in {"bench", "pictures"}:
            return measure("bench" if command == "bench" else "bench.pictures", rest)
    except subprocess.CalledProcessError as failed:
        print(f"This step failed, what it said is above: {' '.join(map(str, failed.cmd))}")
        return 1
    except NotOursError as told:
        print(told)
        return 1
    print(__doc__)
    return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
