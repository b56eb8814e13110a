"""What each key does in the form: one table, from which the sheet of keys is written."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from neuroform.desktop import answering
from neuroform.desktop.answering import TYPED
from neuroform.desktop.entering import Entering
from neuroform.desktop.form import Cell
from neuroform.language import N_, _


@dataclass(frozen=True, kw_only=True)
class Shown:
    """One line of the sheet of keys."""

    keys: str
    does: str


SHEET: tuple[tuple[str, tuple[Shown, ...]], ...] = (
    (
        N_("Answers"),
        (
            Shown(keys=N_("1 to 9"), does=N_("the answer above that number; the next place follows")),
            Shown(keys=N_("two digits"), does=N_("a word of a long list, as often as words fit; Enter goes on")),
            Shown(keys="0", does=N_("of a list: none of them")),
            Shown(keys=N_("0 to 5, then + or -"), does=N_("power by MRC grade: 4 then + is 4+")),
            Shown(keys="9/10", does=N_("joint position: correct / tried; 1, 2 or 3 for a word")),
            Shown(keys="142/88 76", does=N_("pressure and pulse")),
            Shown(keys="t10", does=N_("a level on the trunk; 0 for none")),
            Shown(keys=N_("Space"), does=N_("starts and stops the timer")),
            Shown(keys="x", does=N_("not examined: then the reason")),
            Shown(keys="s", does=N_("same on the left")),
            Shown(keys=N_("Backspace"), does=N_("clears the answer")),
            Shown(keys="w", does=N_("writes a comment")),
            Shown(keys="n", does=N_("the rest of this section as normal, after a second key")),
        ),
    ),
    (
        N_("Moving"),
        (
            Shown(keys=N_("Enter"), does=N_("the next row; at the end the next section")),
            Shown(keys=N_("arrows"), does=N_("rows, and the answers of a row")),
            Shown(keys="r  l", does=N_("the right side, the left side")),
            Shown(keys="o  c", does=N_("eyes open, eyes closed")),
            Shown(keys="g", does=N_("the next gap")),
            Shown(keys="f  /", does=N_("finds an item by part of its name")),
            Shown(keys="m", does=N_("more: every item of every section, or only what is to be examined")),
            Shown(keys=N_("Page Up  Page Down"), does=N_("the section before, the section after")),
            Shown(keys=N_("Home  End"), does=N_("the first row, the end of the section")),
        ),
    ),
    (
        N_("The window"),
        (
            Shown(keys="F1", does=N_("this sheet")),
            Shown(keys="F2", does=N_("places: Examination, Patients, Supervision")),
            Shown(keys="F3", does=N_("sections")),
            Shown(keys="F4", does=N_("settings")),
            Shown(keys="F5", does=N_("urgent findings")),
            Shown(keys="F6", does=N_("interpretation")),
            Shown(keys="F7", does=N_("examine next")),
            Shown(keys="F8", does=N_("verify a paper")),
            Shown(keys="F9", does=N_("read and sign")),
            Shown(keys="F10", does=N_("the next examination, once the note is signed")),
            Shown(keys=N_("Ctrl Z"), does=N_("takes back the last change; with Shift, makes it again")),
            Shown(keys=N_("Escape"), does=N_("back to the form")),
        ),
    ),
)

COLUMN_KEYS: Mapping[str, str] = {"r": "right", "l": "left", "o": "open", "c": "closed"}
READING = COLUMN_KEYS.keys() | {
    *("Enter", "Escape", "Up", "Down", "Left", "Right", "Home", "End", "PageUp", "PageDown", "m", "g"),
}
"""Keys that change nothing: all that work where an examination is only read."""


def press(entering: Entering, key: str) -> bool:
    """Do what a key does where the hand is; False where it does nothing there.

    Keys are single characters, or Enter, Backspace, Delete, Escape, Space, Left, Right, Up, Down, Home, End, PageUp,
    PageDown.
    """
    with entering.held():
        return _press(entering, key)


def _press(entering: Entering, key: str) -> bool:
    entering.message = ""
    if entering.document.sealed and key not in READING:
        return _not_changed(entering, key)
    if entering.running is not None:
        return _while_timed(entering, key)
    if entering.mode == "together":
        return _confirming(entering, key)
    if entering.mode == "reason" and _reason(entering, key):
        return True
    if key in {"+", "=", "-"} and entering.refine("-" if key == "-" else "+"):
        return True
    cell = entering.at
    if cell is not None and _answer(entering, cell, key):
        return True
    command = COMMANDS.get(key)
    if command is not None:
        command(entering)
        return True
    return _column(entering, key)


def _not_changed(entering: Entering, key: str) -> bool:
    """Say why a key changes nothing; those that find an item belong to the window."""
    if key in {"f", "F", "/"}:
        return False
    entering.say(entering.document.sealed)
    return True


def _while_timed(entering: Entering, key: str) -> bool:
    if key in {"Space", "Enter"}:
        entering.stop()
    elif key == "Escape":
        entering.cancel_timer()
    else:
        entering.say(_(N_("The timer runs: Space stops it, Escape gives it up.")))
    return True


def _confirming(entering: Entering, key: str) -> bool:
    if key == "Enter":
        entering.answer_together()
    elif key in {"Escape", "n", "Backspace"}:
        entering.mode, entering.offer = "", None
        entering.say(_(N_("Nothing was recorded.")))
    else:
        entering.say(_(N_("Enter answers them, Escape goes back.")))
    return True


def _reason(entering: Entering, key: str) -> bool:
    cell = entering.at
    assert cell is not None
    chosen = next((each for each in answering.reasons(cell.entry) if each.key == key), None)
    if chosen is not None:
        entering.explain(chosen.code)
        return True
    if key == "Enter" and entering.pointed is not None:
        entering.explain(answering.reasons(cell.entry)[entering.pointed].code)
        return True
    if key in {"Left", "Right"}:
        _point(entering, cell, len(answering.reasons(cell.entry)), key)
        return True
    entering.mode = ""
    entering.pointed = None
    entering.tell("state")
    return key in {"Escape", "x", "Backspace"}


def _answer(entering: Entering, cell: Cell, key: str) -> bool:
    """Give an answer, or a part of one, where the key is one of the cell's."""
    character = " " if key == "Space" else key
    if cell.kind in TYPED and len(character) == 1 and answering.starts(cell, character, entering.typed or ""):
        if not entering.refuses(cell):
            entering.type(cell, character)
        return True
    if key == "Backspace" and entering.typed is not None:
        entering.untype(cell)
        return True
    if cell.kind == "words" and (len(key) == 1 and key.isdigit()):
        return _word(entering, cell, key)
    if entering.pending:
        entering.pending = ""
        entering.tell("state")
        if key in {"Backspace", "Escape"}:
            return True
    if len(key) == 1 and cell.kind in {"choice", "power", "sway"}:
        every = (*answering.choices(cell, entering.document.exam), *answering.directions(cell))
        chosen = next((each for each in every if each.key == key and each.key not in "+-"), None)
        if chosen is not None:
            entering.answer(chosen.code)
            return True
    return _rove(entering, cell, key)


def _rove(entering: Entering, cell: Cell, key: str) -> bool:
    """Go along the answers of a row with the arrows; Enter takes the one reached."""
    every = (*answering.choices(cell, entering.document.exam), *answering.directions(cell))
    if key in {"Left", "Right"}:
        _point(entering, cell, 0 if cell.kind in TYPED else len(every), key)
        return True
    if key in {"Enter", "Space"} and entering.pointed is not None and entering.pointed < len(every):
        entering.answer(every[entering.pointed].code)
        return True
    return False


def _point(entering: Entering, cell: Cell, count: int, key: str) -> None:
    """Move the pointer outward or inward along the answers; inward past the first it reaches the other side."""
    row = entering.at_row
    outward = (key == "Right") != (cell.column in {"right", "open"})
    at = entering.pointed
    if outward:
        entering.pointed = min(-1 if at is None else at, count - 2) + 1 if count else None
    elif at:
        entering.pointed = at - 1
    elif row is not None and len(row.cells) == 2:
        entering.focus(entering.row, 1 - row.cells.index(cell))
        return
    entering.tell("state")


def _word(entering: Entering, cell: Cell, key: str) -> bool:
    words = answering.choices(cell, entering.document.exam)
    typed = entering.pending + key
    chosen = next((each for each in words if each.key == typed), None)
    if typed == "0":
        entering.none_of_them(cell)
    elif chosen is not None:
        entering.pending = ""
        if not entering.refuses(cell):
            entering.toggle(cell, chosen.code)
    elif any(each.key.startswith(typed) for each in words):
        entering.pending = typed
        entering.tell("state")
    else:
        entering.pending = ""
        entering.say(_(N_("No word has the number {number}.")).format(number=typed))
    return True


def _column(entering: Entering, key: str) -> bool:
    row = entering.at_row
    wanted = COLUMN_KEYS.get(key)
    if row is None or wanted is None:
        return False
    column = next((n for n, cell in enumerate(row.cells) if cell.column == wanted), None)
    if column is not None:
        entering.focus(entering.row, column)
    return column is not None


def _ask_reason(entering: Entering) -> None:
    cell = entering.at
    if cell is None:
        return
    if not answering.reasons(cell.entry):
        entering.say(_(N_("Leave it blank: this is asked, not examined.")))
        return
    entering.leave()
    entering.mode = "reason"
    entering.tell("state")


def _ask_comment(entering: Entering) -> None:
    cell = entering.at
    if cell is None:
        return
    if cell.entry.plain or entering.document.get(cell.path) is None:
        entering.say(_(N_("A comment stands beside an answer or a reason: give one first.")))
        return
    entering.tell("comment")


def _section(entering: Entering, step: int) -> None:
    order = entering.order
    at = order.index(entering.section) + step
    if 0 <= at < len(order):
        entering.open(order[at])
    elif at == len(order):
        entering.tell("finish")


def _escape(entering: Entering) -> None:
    entering.tell("dismiss")
    entering.leave()
    entering.traced = frozenset()
    entering.pointed = None
    entering.tell("state")


def _space(entering: Entering) -> None:
    if not entering.space() and not entering.message:
        entering.say(_(N_("Nothing is timed here.")))


COMMANDS: Mapping[str, Callable[[Entering], None]] = {
    "Enter": Entering.enter,
    "Backspace": Entering.clear,
    "Delete": Entering.clear,
    "Space": _space,
    "Escape": _escape,
    "Up": lambda entering: entering.move(-1),
    "Down": lambda entering: entering.move(1),
    "Home": lambda entering: entering.focus(0, 0),
    "End": lambda entering: entering.focus(len(entering.shown)),
    "PageUp": lambda entering: _section(entering, -1),
    "PageDown": lambda entering: _section(entering, 1),
    "x": _ask_reason,
    "s": Entering.copy_right_to_left,
    "w": _ask_comment,
    "n": Entering.offer_together,
    "m": Entering.show_everything,
    "g": Entering.next_gap,
}
