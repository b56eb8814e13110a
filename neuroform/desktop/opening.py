"""What the window opens on, handed to it from outside."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING

from neuroform.language import N_

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtWidgets import QWidget

    from neuroform.desktop.document import Document
    from neuroform.desktop.judge import Judge
    from neuroform.desktop.main_window import MainWindow
    from neuroform.exam.examination import Examination

Save = Callable[["Document", tuple[str, ...]], datetime]
"""Keeps the changed paths; returns when. Raises NeuroformError."""


CLOSED = N_("The note is signed: nothing in it can be changed. Add to it with an addendum.")
BEING_SIGNED = N_("A paper is being signed. Wait until it is saved, or cancel that first.")
LETTER = "conclusion.letter"
"""What may still be written once the note is signed: a letter comes after it."""


@dataclass(frozen=True, kw_only=True)
class Sealed:
    """An examination that is only read: one's own once its note is signed, or the one a signed paper carries."""

    words: str
    """Stand above the rows as long as it is shown."""
    why: str
    """Said when something would change it."""
    state: str
    """Stands by the person, in place of when the draft was saved."""
    keys: tuple[tuple[str, str], ...] = ()
    """What can be done, and its keys."""
    leave: Callable[[], None] = lambda: None
    """Escape was pressed."""
    but: str = ""
    """The path of what may still be written."""


@dataclass(frozen=True, kw_only=True)
class Opened:
    """One examination and everything the window asks of the rooms below."""

    exam: "Examination"
    judge: "Judge"
    save: Save
    rules: "Callable[[], Judge] | None" = None
    """Loads the rules, where `judge` only stands in for them until the form takes keys."""
    amount: str
    """How much is to be examined, in words: "full examination"."""
    recovered: datetime | None = None
    """When the last change was made before the program stopped; None where nothing was recovered."""
    lost: int = 0
    """Changes of it that could not be read back."""
    at: str | None = None
    """The path where the hand was."""
    notices: tuple[str, ...] = ()
    """What has to be said on every start."""
    vibration: str = "grade"
    sound: bool = False
    finish: "Callable[[MainWindow, Document], QWidget] | None" = None
    """Makes the page Read and sign."""
    pages: "Mapping[str, Callable[[MainWindow], QWidget]]" = field(default_factory=dict)
    """Makes further pages by name: settings, verify. A page emits `left` to be put away."""
    close: Callable[[], None] = lambda: None
    """Called when the window is closed."""
    drafted: "Callable[[], tuple[Path, ...]]" = tuple
    """The notes to which an addendum is written and not signed."""
    again: "Callable[[], Opened | Beginning] | None" = None
    """Opens the next examination once this one is signed."""
    sealed: Sealed | None = None
    """Why it is only read; None where it may be changed."""


@dataclass(frozen=True, kw_only=True)
class Asked:
    """Who is examined, by whom, and how much."""

    family_name: str
    given_names: str
    born: date
    identifier: str
    examiner: str
    amount: str
    """The name of how much is to be examined."""


@dataclass(frozen=True, kw_only=True)
class Beginning:
    """No examination is open: the window asks who is examined."""

    amounts: tuple[tuple[str, str], ...]
    """How much can be examined: name and words."""
    amount: str
    """The usual one."""
    examiner: str
    start: Callable[[Asked], Opened]
    pages: "Mapping[str, Callable[[MainWindow], QWidget]]" = field(default_factory=dict)
    """Makes further pages by name, as in `Opened`."""
    told: str = ""
    """Stands there from the start."""
