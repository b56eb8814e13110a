"""Recording answers where the hand is: what is chosen, typed, copied, left out or cleared."""

from abc import ABC, abstractmethod
from dataclasses import replace
from typing import Any, Literal, cast

from pydantic import ValidationError

from neuroform.desktop import answering
from neuroform.desktop.answering import NotReadableError
from neuroform.desktop.document import Document
from neuroform.desktop.form import Cell, Row
from neuroform.desktop.printable import NOT_KEPT
from neuroform.exam.findings import Examined, NotExamined, Reason
from neuroform.language import N_, _

Mode = Literal["", "reason", "together"]
Topic = Literal["focus", "state", "section", "rows", "exam", "say", "timer", "comment", "finish", "dismiss"]


class Recording(ABC):
    """The half of entering that changes the examination; where the hand is, and goes, its subclass says."""

    document: Document
    column: int
    typed: str | None = None
    pending: str = ""
    pointed: int | None = None
    mode: Mode = ""
    _before_typing: Any = None
    _after_four: str | None = None

    @property
    @abstractmethod
    def at(self) -> Cell | None:
        """The place in focus."""

    @property
    @abstractmethod
    def at_row(self) -> Row | None:
        """The row in focus."""

    @abstractmethod
    def is_barred(self, cell: Cell) -> str:
        """Say why a place asks for nothing; empty where it does ask."""

    @abstractmethod
    def say(self, words: str) -> None:
        """Tell the person something."""

    @abstractmethod
    def tell(self, topic: Topic) -> None:
        """Tell the listeners that something of this topic changed."""

    @abstractmethod
    def move_on(self, cell: Cell) -> None:
        """Go from an answered place to the next that is to be answered."""

    def write(self, path: str, text: str) -> None:
        """Take the text of a plain item as it stands, empty for blank."""
        if self.is_sealed():
            return
        self._write(path, text or None)

    def comment(self, path: str, text: str) -> None:
        """Take the comment of a finding as it stands, empty for none."""
        found = self.document.get(path)
        if isinstance(found, Examined | NotExamined):
            self._write(path, replace(found, comment=text or None))

    def _write(self, path: str, found: Any) -> None:
        try:
            self.document.put(path, found, typing=True)
        except ValidationError:
            self.say(_(NOT_KEPT))

    def answer(self, code: str) -> None:
        """Give the place in focus the answer with a code, as a click on it does."""
        cell = self.at
        if cell is None or self.refuses(cell):
            return
        # A click answers while one key for the rest waits to be confirmed: what was offered no longer holds.
        self.mode = ""
        for choice in answering.choices(cell, self.document.exam):
            if choice.code == code:
                self._choose(cell, code)
                return
        if cell.direction and any(choice.code == code for choice in answering.directions(cell)):
            self._direct(cell, code)

    def explain(self, code: str) -> None:
        """Record why the place in focus was not examined, and move on."""
        cell = self.at
        if cell is None or cell.entry.plain:
            return
        self._forget_typing()
        old = self.document.get(cell.path)
        comment = old.comment if isinstance(old, NotExamined) else None
        self.mode = ""
        self.document.put(cell.path, NotExamined(not_examined=cast(Reason, code), comment=comment))
        self.move_on(cell)

    def clear(self) -> None:
        """Make the place in focus blank."""
        cell = self.at
        if cell is None:
            return
        self._forget_typing()
        self.document.put_all(dict.fromkeys(cell.paths), at=cell.path)
        self.tell("state")

    def copy_right_to_left(self) -> None:
        """Record the right side's answer for the left as copied, and move on; say why where it is not done."""
        row = self.at_row
        if row is None:
            return
        if len(row.cells) != 2 or row.cells[0].column != "right":
            self.say(_(N_("There is no left side here.")))
            return
        right, left = row.cells
        self.leave()
        found = self.document.get(right.path)
        if not right.entry.item.copies:
            words = _(N_("{item} is looked at on each side: it can’t be copied."))
            self.say(words.format(item=_(right.entry.item.label)))
        elif found is None:
            self.say(_(N_("The right side is blank: there is nothing to copy.")))
        elif self.refuses(left):
            return
        else:
            self.document.put(left.path, replace(found, entered="copied", comment=None))
            self.column = 1
            self.move_on(left)

    def type(self, cell: Cell, key: str) -> None:
        """Take one more character of a typed answer; what can be read is recorded at once."""
        if self.typed is None:
            self._before_typing = self.document.get(cell.path)
            self.document.stop_typing()
            self.typed = ""
        self.typed += "." if key == "," else key
        self._take_typed(cell)

    def untype(self, cell: Cell) -> None:
        """Take back one character of what is typed."""
        if not self.typed:
            self._forget_typing()
            self.clear()
            return
        self.typed = self.typed[:-1]
        self._take_typed(cell)

    def _take_typed(self, cell: Cell) -> None:
        typed = self.typed or ""
        found = self._before_typing
        try:
            found = self._finding(cell, answering.read(cell, typed)) if typed else None
        except NotReadableError as refused:
            if cell.kind == "number" and typed.replace(".", "").isdigit() and float(typed) > (cell.entry.high or 1e9):
                self.say(str(refused))
        self.document.put(cell.path, found, typing=True)
        self.tell("state")

    def unread(self) -> str:
        """Say why what is typed is no answer; empty where it is one, or nothing is typed."""
        cell = self.at
        if cell is None or not self.typed:
            return ""
        try:
            answering.read(cell, self.typed)
        except NotReadableError as refused:
            return str(refused)
        return ""

    def toggle(self, cell: Cell, code: str) -> None:
        """Add a word to a list or take it out; a word that stands alone replaces the rest."""
        answers = cell.entry.answers
        assert answers is not None
        alone = answering.none_word(cell.entry)
        old = self.document.get(cell.path)
        value = old.value if isinstance(old, Examined) else old if isinstance(old, tuple) else ()
        words = set(value) - {alone}
        if code == alone:
            words = {code} if code not in value else set()
        else:
            words ^= {code}
        ordered = tuple(each for each in answers.words if each in words)
        self.document.put(cell.path, self._finding(cell, ordered) if ordered else None)
        self.tell("state")

    def none_of_them(self, cell: Cell) -> None:
        """Record that a list was asked for and nothing of it is so, and move on."""
        if self.refuses(cell):
            return
        self.mode = ""
        alone = answering.none_word(cell.entry)
        self.document.put(cell.path, self._finding(cell, (alone,) if alone else ()))
        self.move_on(cell)

    def _choose(self, cell: Cell, code: str) -> None:
        self._forget_typing()
        if cell.kind == "words":
            self.toggle(cell, code) if code != answering.none_word(cell.entry) else self.none_of_them(cell)
        elif cell.kind == "sway":
            found: dict[str, Any] = {cell.path: self._finding(cell, code)}
            if code == "none" and cell.direction:
                found[cell.direction] = None
            self.document.put_all(found, at=cell.path)
            if code == "none" or (cell.direction and self.document.get(cell.direction) is not None):
                self.move_on(cell)
            else:
                self.tell("state")
        else:
            self.document.put(cell.path, self._finding(cell, code))
            self.move_on(cell)
            self._after_four = cell.path if code == "4" and cell.kind == "power" else None

    def _direct(self, cell: Cell, code: str) -> None:
        assert cell.direction is not None
        old = self.document.get(cell.direction)
        comment = old.comment if isinstance(old, Examined) else None
        self.document.put(cell.direction, Examined(value=code, comment=comment), at=cell.path)
        if self.document.get(cell.path) is not None:
            self.move_on(cell)

    def refine(self, sign: str) -> bool:
        """Make the grade 4 just given, or the one in focus, 4+ or 4−."""
        cell = self.at
        path = self._after_four if self.typed is None else None
        if path is None and cell is not None and cell.kind == "power":
            found = self.document.get(cell.path)
            path = cell.path if isinstance(found, Examined) and str(found.value).startswith("4") else None
        if path is None:
            return False
        old = self.document.get(path)
        comment = old.comment if isinstance(old, Examined) else None
        self.document.put(path, Examined(value=f"4{sign}", comment=comment), at=path)
        self._after_four = None
        self.tell("state")
        return True

    def _finding(self, cell: Cell, value: Any) -> Any:
        if cell.entry.plain:
            return value
        old = self.document.get(cell.path)
        return Examined(value=value, comment=old.comment if isinstance(old, Examined) else None)

    def is_sealed(self) -> bool:
        """Tell whether the examination is only read, and say so where it is."""
        if self.document.sealed:
            self.say(self.document.sealed)
        return bool(self.document.sealed)

    def refuses(self, cell: Cell) -> bool:
        """Refuse an answer where nothing may be changed or a caution or a missing limb bars the test, and say so."""
        if self.is_sealed():
            return True
        why = self.is_barred(cell)
        if why and self.document.get(cell.path) is None:
            self.say(_(N_("{item}: {why}.")).format(item=cell.name, why=why))
            return True
        return False

    def leave(self) -> None:
        """Finish what is being typed; what can't be read leaves the answer as it was, and is said."""
        unread = self.unread()
        held = self.typed is not None or bool(self.pending) or self.pointed is not None
        self._forget_typing()
        self.pointed = None
        if held:
            self.tell("state")
        if unread:
            self.say(_(N_("{why} Nothing was recorded.")).format(why=unread))

    def _forget_typing(self) -> None:
        self.typed = None
        self.pending = ""
        self._after_four = None
