"""Fixtures of the window's tests."""

import importlib.util
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("needs_window")


def _kit() -> ModuleType:
    name = "window_kit"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name("window_kit.py"))
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)
    return sys.modules[name]


@pytest.fixture(scope="session")
def kit() -> ModuleType:
    """Give what the window's tests share."""
    return _kit()


@pytest.fixture(scope="session", autouse=True)
def faces(qapp: Any) -> None:
    """Load the shipped faces once."""
    from PySide6.QtWidgets import QStyleFactory

    from neuroform.desktop.theme import load_faces

    qapp.setStyle(QStyleFactory.create("Fusion"))
    load_faces()


@pytest.fixture
def opened(kit: ModuleType, qtbot: QtBot) -> Iterator[Callable[..., Any]]:
    """Give a function that opens a window on an examination, closed after the test."""
    windows: list[Any] = []

    def open_window(exam: Any = None, **how: Any) -> Any:
        window = kit.open_on(kit.blank_exam() if exam is None else exam, **how)
        qtbot.addWidget(window)
        windows.append(window)
        return window

    yield open_window
    for window in windows:
        window.close()
