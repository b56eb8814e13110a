"""The house stands: rooms, parts, locks and shipped files are as everything else takes for granted."""

import ast
import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fontTools.ttLib import TTFont

import neuroform

CORE_WITHOUT_QT = """
import importlib, pkgutil, sys

class Refuse:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in {"PySide6", "shiboken6"}:
            raise ModuleNotFoundError(name)

sys.meta_path.insert(0, Refuse())

def visit(package):
    for found in pkgutil.iter_modules(package.__path__, package.__name__ + "."):
        if found.name == "neuroform.desktop":
            continue
        module = importlib.import_module(found.name)
        print(found.name)
        if found.ispkg:
            visit(module)

visit(importlib.import_module("neuroform"))
assert not any(name.partition(".")[0] == "PySide6" for name in sys.modules)
"""

SIGNALS_AND_SETTERS = """
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication, QWidget

class Source(QObject):
    changed = Signal(bool, str)

heard = []
application = QApplication([])
source, widget = Source(), QWidget()
source.changed.connect(lambda on, _: heard.append(on))
for turn in range(20_000):
    source.changed.emit(True, "x")
    source.changed.emit(False, "y")
    widget.setEnabled(bool(turn % 2))
    widget.setProperty("on", True)
print(len(heard), heard.count(True))
"""

LATIN_FACES = ("IBMPlexSans-Regular.ttf", "IBMPlexSans-Medium.ttf", "IBMPlexSans-SemiBold.ttf")
# Unicode blocks, without their unassigned code points.
LATIN_1 = [*range(0x20, 0x7F), *range(0xA0, 0x100)]
EXTENDED_A = range(0x100, 0x180)
VIETNAMESE = [0x1A0, 0x1A1, 0x1AF, 0x1B0, *range(0x1EA0, 0x1EFA)]
GREEK = [*range(0x384, 0x387), *range(0x388, 0x38B), 0x38C, *range(0x38E, 0x3A2), *range(0x3A3, 0x3CF)]
CYRILLIC = range(0x400, 0x460)
SIGNS = [ord(sign) for sign in "≤≥−×±→½′µ\N{NO-BREAK SPACE}"]
COMPANIONS = {
    "IBMPlexSansArabic-Regular.ttf": [*range(0x621, 0x63B), *range(0x641, 0x653), *range(0x660, 0x66A)],
    "IBMPlexSansHebrew-Regular.ttf": [*range(0x5D0, 0x5EB)],
    "IBMPlexSansDevanagari-Regular.ttf": [*range(0x905, 0x93A), *range(0x93C, 0x94E), *range(0x966, 0x970)],
}


def run(*words: str, cwd: Path | None = None) -> "subprocess.CompletedProcess[str]":
    """Run a command and return what it said."""
    return subprocess.run(words, capture_output=True, text=True, cwd=cwd, timeout=300, check=False)


@pytest.fixture(scope="module")
def project(checkout: Path) -> dict[str, Any]:
    """Give what pyproject.toml says."""
    return tomllib.loads((checkout / "pyproject.toml").read_text(encoding="utf-8"))


def committed(checkout: Path) -> list[Path]:
    """List the files that are, or are about to be, part of the project."""
    if shutil.which("git") and (checkout / ".git").exists():
        listed = run("git", "ls-files", "-co", "--exclude-standard", "-z", cwd=checkout).stdout.split("\0")
        return [checkout / name for name in listed if name and (checkout / name).is_file()]
    own = (path for path in checkout.iterdir() if path.name == ".ci" or not path.name.startswith("."))
    return [file for path in own for file in ([path] if path.is_file() else path.rglob("*")) if file.is_file()]


def pins(lock: Path) -> dict[str, str]:
    """Read a lock as name to version."""
    return dict(re.findall(r"^([a-z0-9-]+)==(\S+)", lock.read_text(encoding="utf-8"), re.MULTILINE))


def face_of(checkout: Path, name: str) -> Any:
    """Open a shipped font."""
    return TTFont(checkout / "resources" / "fonts" / name)


def names(needs: list[str]) -> set[str]:
    """Read the names out of declared parts."""
    return {re.split(r"[\[<>=]", need)[0].lower() for need in needs}


def test_every_room_but_the_window_imports_without_qt(checkout: Path) -> None:
    done = run(sys.executable, "-c", CORE_WITHOUT_QT, cwd=checkout)
    assert done.returncode == 0, done.stderr
    rooms = {path.parent.name for path in (checkout / "neuroform").glob("*/__init__.py")} - {"desktop"}
    assert rooms <= {name.split(".")[1] for name in done.stdout.split()}


@pytest.mark.usefixtures("needs_window")
def test_twenty_thousand_signals_and_setter_calls_leave_the_interpreter_alive() -> None:
    done = run(sys.executable, "-c", SIGNALS_AND_SETTERS)
    assert (done.returncode, done.stdout.split()) == (0, ["40000", "20000"]), done.stderr


def test_imports_go_down_and_every_room_has_its_floor(checkout: Path) -> None:
    done = run(str(Path(sys.executable).with_name("lint-imports")), "--no-cache", cwd=checkout)
    assert done.returncode == 0, done.stdout


def test_every_imported_part_is_declared(checkout: Path, project: dict[str, Any]) -> None:
    declared = names(project["project"]["dependencies"])
    otherwise = {"pillow": "pil", "pyside6-essentials": "pyside6", "python-pkcs11": "pkcs11"}
    modules = {otherwise.get(name, name.replace("-", "_")) for name in declared}
    known = modules | {"neuroform"} | sys.stdlib_module_names
    strange = {
        f"{file.relative_to(checkout)}: {name}"
        for file in (checkout / "neuroform").rglob("*.py")
        for name in imported(file)
        if name.lower() not in known and name not in known
    }
    assert not strange


def imported(file: Path) -> set[str]:
    """Return the top names that a module imports, wherever in it."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {each.name.partition(".")[0] for each in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.partition(".")[0])
    return names


def test_only_words_as_they_stand_are_marked_for_translation(checkout: Path) -> None:
    """A catalogue can only hold a literal, never one with values already in it."""
    built = [
        f"{file.relative_to(checkout)}:{node.lineno}"
        for file in (checkout / "neuroform").rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in {"N_", "_"} and node.args
        if (node.func.id == "N_" and not isinstance(node.args[0], ast.Constant))
        or isinstance(node.args[0], ast.JoinedStr | ast.BinOp)
    ]
    assert not built


def test_a_missing_tool_skips_a_test_and_fails_it_in_ci(need_tool: Callable[[str], str]) -> None:
    in_ci = os.environ.get("CI", "").lower() in {"1", "true", "yes"}
    with pytest.raises(pytest.fail.Exception if in_ci else pytest.skip.Exception, match="no-such-tool is missing"):
        need_tool("no-such-tool")


def test_the_version_is_one_and_the_changelog_tells_of_it(checkout: Path, project: dict[str, Any]) -> None:
    assert project["project"]["version"] == neuroform.__version__
    assert f"## {neuroform.__version__}" in (checkout / "CHANGELOG.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["requirements.lock", "requirements-test.lock"])
def test_a_lock_holds_a_hash_for_each_pin_and_no_address(checkout: Path, name: str) -> None:
    text = (checkout / name).read_text(encoding="utf-8")
    blocks = re.split(r"\n(?=[a-z0-9])", text.strip())
    assert len(blocks) == len(pins(checkout / name)) > 40
    assert all(re.search(r"--hash=sha256:[0-9a-f]{64}", block) for block in blocks)
    assert not re.search(r"://|--(extra-)?index|--find-links|^-i ", text, re.MULTILINE)


def test_the_test_lock_holds_the_plain_one(checkout: Path) -> None:
    plain, test = pins(checkout / "requirements.lock"), pins(checkout / "requirements-test.lock")
    assert plain.items() <= test.items()


def test_the_locks_hold_every_declared_part(checkout: Path, project: dict[str, Any]) -> None:
    extras = project["project"]["optional-dependencies"]
    needs = [*project["project"]["dependencies"], *extras["build"]]
    everything = [*needs, *extras["test"], *extras["dev"]]
    assert names(needs) <= pins(checkout / "requirements.lock").keys()
    assert names(everything) <= pins(checkout / "requirements-test.lock").keys()


def test_no_file_holds_an_address_of_a_registry_or_a_path_of_one_machine(checkout: Path) -> None:
    registries = ["pypi" + r"\.org", "pythonhosted" + r"\.org", "npmjs" + r"\.(org|com)", "proxy.golang" + r"\.org"]
    folders = ["work", "tmp", "root", "home", "Users"]
    sought = re.compile("|".join([*registries, *(rf"(?<![\w.\-/])/{folder}/" for folder in folders)]))
    found = []
    for file in committed(checkout):
        content = file.read_bytes()
        if b"\0" in content:
            continue
        for number, line in enumerate(content.decode("utf-8").splitlines(), 1):
            if hit := sought.search(line):
                found.append(f"{file.relative_to(checkout)}:{number}: {hit[0]}")
    assert not found


@pytest.mark.parametrize("face", LATIN_FACES)
def test_a_latin_face_covers_its_scripts_and_the_signs_papers_use(checkout: Path, face: str) -> None:
    held = face_of(checkout, face).getBestCmap()
    wanted = {*LATIN_1, *EXTENDED_A, *VIETNAMESE, *GREEK, *CYRILLIC, *SIGNS}
    assert [chr(point) for point in sorted(wanted - held.keys())] == []


@pytest.mark.parametrize("face", COMPANIONS)
def test_a_companion_face_covers_its_script(checkout: Path, face: str) -> None:
    held = face_of(checkout, face).getBestCmap()
    assert [chr(point) for point in COMPANIONS[face] if point not in held] == []


@pytest.mark.parametrize("face", [*LATIN_FACES, *COMPANIONS])
def test_a_face_is_static_truetype_with_digits_of_one_width(checkout: Path, face: str) -> None:
    font = face_of(checkout, face)
    cmap = font.getBestCmap()
    assert "glyf" in font
    assert "fvar" not in font
    assert {font["hmtx"][cmap[ord(digit)]][0] for digit in "0123456789"} == {600}
    assert font["head"].unitsPerEm == 1000


def test_the_fonts_carry_their_licence(checkout: Path) -> None:
    licence = (checkout / "resources" / "fonts" / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
