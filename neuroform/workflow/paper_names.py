"""What the files of signed papers are called, and where a note that closes an examination would lie."""

import re
from pathlib import Path

from neuroform.exam.examination import Examination

FOLDER = "papers"
"""Below the workplace's data."""


def file_name(exam: Examination, kind: str) -> str:
    """Return the name of a paper's file: when, what, and the first identifier; no name of a person."""
    known = exam.patient.identifiers[0].value if exam.patient.identifiers else ""
    parts = [f"{exam.encounter.examined_at:%Y-%m-%d %H%M}", kind.replace("_", " "), known]
    kept = " ".join(part for part in parts if part)
    return re.sub(r"[^\w .-]", "-", kept)[:120].strip() + ".pdf"


def free_path(folder: Path, name: str) -> Path:
    """Return a path in `folder` that no file has: the name itself, else with a number."""
    path = folder / name
    number = 2
    while path.exists() or path.is_symlink():
        path = folder / f"{Path(name).stem} ({number}).pdf"
        number += 1
    return path


def file_away(folder: Path, name: str, paper: bytes) -> Path:
    """Write a paper into `folder` and return where: under its name, or a numbered one; none is ever written over.

    Raises OutputError where it can't be written.
    """
    from neuroform.workflow.files import write_file

    while True:
        path = free_path(folder, name)
        try:
            write_file(path, paper, new=True)
        except FileExistsError:  # another window took the name meanwhile
            continue
        return path


def like(folder: Path, exam: Examination, kind: str) -> tuple[Path, ...]:
    """Return the papers in `folder` that have an examination's name, with a number or without."""
    named = re.compile(re.escape(Path(file_name(exam, kind)).stem) + r"( \(\d+\))?")
    return tuple(sorted(path for path in folder.glob("*.pdf") if named.fullmatch(path.stem)))
