"""Moving the hand through a section: where it is, and where it goes after an answer."""

from abc import abstractmethod

from neuroform.desktop.form import Cell, Row, blocks, place
from neuroform.desktop.timed import Timed
from neuroform.exam.findings import NotExamined

SIGN = "read_and_sign"
"""The last page stands in the strip beside the sections."""


class Moving(Timed):
    """Holds the place of the hand; which rows stand in the form, and what is to be examined, its subclass says."""

    section: str
    row: int
    everything: bool
    needed: frozenset[str]
    _shown: tuple[Row, ...]

    @property
    def shown(self) -> tuple[Row, ...]:
        """The rows of the section that stand in the form."""
        return self._shown

    @property
    def at_row(self) -> Row | None:
        """The row in focus; None on the closing line."""
        return self._shown[self.row] if self.row < len(self._shown) else None

    @property
    def at(self) -> Cell | None:
        """The place in focus; None on the closing line."""
        row = self.at_row
        return row.cells[min(self.column, len(row.cells) - 1)] if row else None

    @property
    def path(self) -> str | None:
        """The whole path in focus."""
        return self.at.path if self.at else None

    @abstractmethod
    def is_wanted(self, row: Row) -> bool:
        """Tell whether a row is to be examined, or always asked."""

    @abstractmethod
    def focus(self, row: int, column: int | None = None) -> None:
        """Put the focus on a row of the section, and on one side of it."""

    @abstractmethod
    def open(self, section: str, *, path: str | None = None) -> None:
        """Go to a section."""

    @abstractmethod
    def next_section(self) -> str:
        """Return the section that Enter goes to from the closing line."""

    @abstractmethod
    def go(self, path: str) -> bool:
        """Put the focus on the place that answers a path."""

    def resume(self, path: str) -> None:
        """Go where the hand was after an answer to a path: past it, but not past something that was being typed."""
        if not self.go(path) or self.at is None:
            return
        found = self.document.get(path)
        if isinstance(found, NotExamined) or (found is not None and self.at.kind in {"choice", "power"}):
            self.move_on(self.at)

    def move(self, rows_on: int) -> None:
        """Go some rows down, or up."""
        self.focus(self.row + rows_on)

    def enter(self) -> None:
        """Go to the next row; from the closing line to the next section."""
        unread = self.unread()
        if unread:
            self.say(unread)
            return
        cell = self.at
        if cell is None:
            following = self.next_section()
            self.tell("finish") if following == SIGN else self.open(following)
        elif self.typed or self._has_other_side_blank(cell):
            self.move_on(cell)
        else:
            self.focus(self.row + 1, 0)

    def _has_other_side_blank(self, cell: Cell) -> bool:
        row = self.at_row
        return (
            row is not None
            and len(row.cells) == 2
            and cell is row.cells[0]
            and self.document.get(cell.path) is not None
        )

    def move_on(self, cell: Cell) -> None:
        """Go from an answered place to the next that is to be answered."""
        self.leave()
        self.document.stop_typing()
        order = self._answer_order()
        here = next((n for n, (_row, _column, each) in enumerate(order) if each is cell), None)
        if here is None:
            return
        target = self._in_trial(order, here) or next(
            (
                (row, column)
                for row, column, each in order[here + 1 :]
                if self._follows(row, order[here][0]) and not self.is_barred(each)
            ),
            (len(self._shown), 0),
        )
        self.row, self.column = target
        self.tell("focus")

    def _follows(self, row: int, answered: int) -> bool:
        """Tell whether a row is the next after an answered one: of rows that are to be examined only such, else any."""
        wanted = self.is_wanted(self._shown[answered])
        return self.everything or row == answered or not wanted or self.is_wanted(self._shown[row])

    def _in_trial(self, order: list[tuple[int, int, Cell]], here: int) -> tuple[int, int] | None:
        """Return what is still blank of the trial a place belongs to."""
        trial = order[here][2].trial
        if trial is None or isinstance(self.document.get(f"{trial}.sway"), NotExamined):
            return self._past_trial(order, here) if trial else None
        own = [n for n, each in enumerate(order) if each[2].trial == trial]
        turned = [n for n in own if n > here] + [n for n in own if n < here]
        blank = next((n for n in turned if self.document.get(order[n][2].path) is None), None)
        return order[blank][:2] if blank is not None else self._past_trial(order, here)

    def _past_trial(self, order: list[tuple[int, int, Cell]], here: int) -> tuple[int, int] | None:
        trial = order[here][2].trial
        last = max(n for n, each in enumerate(order) if each[2].trial == trial)
        for row, column, each in order[last + 1 :]:
            if self._follows(row, order[here][0]) and not self.is_barred(each):
                return row, column
        return len(self._shown), 0

    def _answer_order(self) -> list[tuple[int, int, Cell]]:
        """Return the places of the section as they are answered: rows, but one trial of standing before the other."""
        number = {row.key: n for n, row in enumerate(self._shown)}
        order: list[tuple[int, int, Cell]] = []
        for block in blocks(self.section) if self.section != SIGN else ():
            shown = [row for row in block.rows if row.key in number]
            if block.columns == ("open", "closed"):
                pairs = [row for row in shown if row.pair]
                for column in ("open", "closed"):
                    order += [
                        (number[row.key], n, cell)
                        for row in pairs
                        for n, cell in enumerate(row.cells)
                        if cell.column == column
                    ]
                shown = [row for row in shown if not row.pair]
            order += [(number[row.key], n, cell) for row in shown for n, cell in enumerate(row.cells)]
        return order

    def _first(self) -> int:
        """Return the first row that takes keys; a text would take every key as a letter of its own."""
        return next((n for n, row in enumerate(self._shown) if row.cells[0].kind != "text"), 0)

    def _start(self) -> tuple[int, int] | None:
        """Return the first place that is to be answered and is blank."""
        for row, column, cell in self._answer_order():
            if (
                cell.path in self.needed
                and self.document.get(cell.path) is None
                and not self.is_barred(cell)
                and not self._covered(cell)
            ):
                return row, column
        return None

    def _covered(self, cell: Cell) -> bool:
        """Tell whether a reason on the sway answers for a part of a trial."""
        return cell.trial is not None and isinstance(self.document.get(f"{cell.trial}.sway"), NotExamined)

    def _find(self, path: str) -> tuple[int, int]:
        found = place(path)
        if found is not None:
            for n, row in enumerate(self._shown):
                if row.key == found[1].key:
                    return n, found[2]
        return 0, 0
