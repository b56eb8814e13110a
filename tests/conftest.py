"""What every test may ask for: tools of the machine, shared cases, a folder of its own, how many to generate."""

import importlib.util
import os
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

import hypothesis
import pytest

from neuroform import language

CHECKOUT = Path(__file__).resolve().parents[1]
SHARED = CHECKOUT.parent / "shared"
IN_CI = os.environ.get("CI", "").lower() in {"1", "true", "yes"}

# Windows stay off the screen unless a test asks for a platform itself.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

hypothesis.settings.register_profile("quick", max_examples=100, deadline=None, derandomize=True)
hypothesis.settings.register_profile("ci", max_examples=200, deadline=None, print_blob=True)
hypothesis.settings.load_profile("ci" if IN_CI else "quick")


def _start() -> ModuleType:
    spec = importlib.util.spec_from_file_location("start", CHECKOUT / "start.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


START = _start()
NO_WINDOW = [name for name in START.missing_libraries() if name in START.LIBRARIES]
collect_ignore_glob = ["desktop/*", "stories/*"] if NO_WINDOW and not IN_CI else []


def pytest_addoption(parser: pytest.Parser, pluginmanager: pytest.PytestPluginManager) -> None:
    """Keep the window's own options known where its plugin is left out."""
    if not pluginmanager.hasplugin("pytest-qt"):
        parser.addini("qt_api", "for the window's tests")
        parser.addini("qt_log_level_fail", "for the window's tests")


def pytest_report_header() -> list[str]:
    """Say what is left out for want of a library."""
    return [f"tests of the window left out: no {', '.join(NO_WINDOW)}"] if collect_ignore_glob else []


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say it again at the end, where quiet runs show it."""
    for line in pytest_report_header():
        terminalreporter.write_line(line)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run a test that asks for `shared_case` once for each shared case."""
    if "shared_case" not in metafunc.fixturenames:
        return
    cases = sorted((SHARED / "cases").glob("V*.json"))
    absent = [pytest.param(None, marks=pytest.mark.skip(reason="the shared cases are not beside this checkout"))]
    metafunc.parametrize("shared_case", cases or absent, ids=[case.stem for case in cases] or ["none"])


@pytest.fixture(scope="session", autouse=True)
def own_home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Keep the tests out of the settings and drafts of whoever runs them."""
    home = tmp_path_factory.mktemp("home")
    os.environ["NEUROFORM_HOME"] = str(home)
    return home


@pytest.fixture(autouse=True)
def in_english() -> Iterator[None]:
    """Leave no test's language to the next one."""
    yield
    language.use(language.SOURCE)


@pytest.fixture(scope="session")
def checkout() -> Path:
    """Give the folder of this checkout."""
    return CHECKOUT


@pytest.fixture(scope="session")
def shared() -> Path:
    """Give the folder shared with the checkout, or skip where it is not beside it."""
    if not SHARED.is_dir():
        pytest.skip("the shared folder is not beside this checkout")
    return SHARED


@pytest.fixture(scope="session")
def start() -> ModuleType:
    """Give the module that makes the checkout ready."""
    return START


@pytest.fixture(scope="session")
def needs_window() -> None:
    """Skip where the window's libraries are missing, in CI fail."""
    if NO_WINDOW:
        (pytest.fail if IN_CI else pytest.skip)(f"the window cannot load {', '.join(NO_WINDOW)}")


@pytest.fixture(scope="session")
def need_tool() -> Callable[[str], str]:
    """Give a function from a tool's name to where it stands; a missing one skips the test, in CI fails it."""

    def find(name: str) -> str:
        found: str | None = START.find_tool(name)
        if found is None:
            said = f"{name} is missing; it comes with the package {START.TOOLS.get(name, name)}"
            (pytest.fail if IN_CI else pytest.skip)(said)
        return found

    return find


@pytest.fixture(scope="session")
def exam_count() -> int:
    """Give how many generated examinations the long checks go through."""
    return 10_000 if IN_CI else 500
