"""What the tests of papers share: the invented examination, its papers, and a second reader of PDF text."""

import subprocess
from collections.abc import Callable

import pytest

from neuroform.exam.examination import Examination
from neuroform.notes.content import Basis
from tests.notes.invented import EXAM, basis_of, exam_of


@pytest.fixture(scope="session")
def exam() -> Examination:
    """Give the invented examination."""
    return exam_of(EXAM)


@pytest.fixture(scope="session")
def basis(exam: Examination) -> Basis:
    """Give the invented examination with its conclusions."""
    return basis_of(exam)


@pytest.fixture(scope="session")
def poppler_text(need_tool: Callable[[str], str]) -> Callable[[bytes], str]:
    """Give a function that reads a PDF's text with Poppler, in reading order."""
    tool = need_tool("pdftotext")

    def read(pdf: bytes, *options: str) -> str:
        done = subprocess.run([tool, *options, "-", "-"], input=pdf, capture_output=True, check=True, timeout=60)
        return done.stdout.decode("utf-8")

    return read
