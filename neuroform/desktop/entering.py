"""Entering an examination, without a window: what is asked, what was answered, and what follows from it."""

import logging
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from neuroform.desktop import together
from neuroform.desktop.document import Document
from neuroform.desktop.form import ALWAYS, Cell, Row, place, rows, section_label, sections
from neuroform.desktop.judge import Conclusions, Judge
from neuroform.desktop.moving import SIGN, Moving
from neuroform.desktop.recording import Topic
from neuroform.exam.examination import Examination
from neuroform.exam.walk import entry, position
from neuroform.language import N_, _

log = logging.getLogger(__name__)
Told = Callable[[frozenset[Topic]], None]


class Entering(Moving):
    """Holds the place of the hand and acts on keys; tells its listeners what changed by a topic."""

    def __init__(
        self, document: Document, judge: Judge, *, clock: Callable[[], float] = time.monotonic, vibration: str = "grade"
    ) -> None:
        self.document = document
        self.judge = judge
        self.section = ""
        self.row = 0
        self.column = 0
        self.everything = False
        self.message = ""
        self.traced: frozenset[str] = frozenset()
        self.offer: together.Offer | None = None
        self._clock = clock
        self._vibration = vibration
        self._listeners: list[Told] = []
        self._topics: set[Topic] = set()
        self._held = 0
        self._kept: set[str] = set()
        self._shown: tuple[Row, ...] = ()
        self._stale = False
        self._counted: dict[str, tuple[int, int]] = {}
        self._counted_of: Examination | None = None
        self.unchecked = False
        """Whether the last change could not be judged; the conclusions are then those before it."""
        self.order = sections(document.exam.encounter.protocol)
        self._conclude()
        document.listen(self._changed)
        self.open(next((name for name in self.order if self.blanks(name)[0]), self.order[0]))

    # What the window reads

    @property
    def hidden(self) -> int:
        """How many rows of the section are folded away."""
        return len(rows(self.section)) - len(self._shown) if self.section != SIGN else 0

    def is_wanted(self, row: Row) -> bool:
        """Tell whether a row is to be examined, or always asked."""
        return any(path in self.needed or path in ALWAYS for path in row.paths)

    def is_barred(self, cell: Cell) -> str:
        """Say why a place asks for nothing; empty where it does ask."""
        return self.barred.get(cell.path) or self.barred.get(cell.entry.path) or ""

    def items(self, section: str) -> tuple[str, ...]:
        """Return the paths, without a side, of what is to be examined in a section."""
        return self._items.get(section, ())

    def blanks(self, section: str) -> tuple[int, int]:
        """Return how many of a section's items that are to be examined are blank on a side, and how many there are."""
        if self._counted_of is not self.document.exam:
            self._counted, self._counted_of = {}, self.document.exam
        if section not in self._counted:
            self._counted[section] = self._count(section)
        return self._counted[section]

    def _count(self, section: str) -> tuple[int, int]:
        items, get = self.items(section), self.document.get
        blank = sum(any(path in self.needed and get(path) is None for path in entry(item).paths) for item in items)
        return blank, len(items)

    def next_section(self) -> str:
        """Return the section that Enter goes to from the closing line: the next with something blank, else the next."""
        at = self.order.index(self.section) if self.section in self.order else len(self.order)
        after = self.order[at + 1 :]
        blank = next((name for name in after if self.blanks(name)[0]), None)
        return blank or next((name for name in after if name == "conclusion"), SIGN)

    # What the window does

    def listen(self, told: Told) -> None:
        """Call `told` with topics whenever something changed."""
        self._listeners.append(told)

    def open(self, section: str, *, path: str | None = None) -> None:
        """Go to a section: to a path in it, else to what is blank first."""
        self.leave()
        fresh = section != self.section
        if fresh:
            self._shown = ()
        self.section = section
        self.mode = ""
        if fresh:
            self._kept = set()
        self._show()
        self.row, self.column = (self._start() or (self._first(), 0)) if path is None else self._find(path)
        if fresh:
            self.tell("section")
        self.tell("focus")

    def go(self, path: str) -> bool:
        """Put the focus on the place that answers a path; False where there is none in the form."""
        found = place(path)
        if found is None:
            return False
        section, row, _column = found
        if section == self.section:
            self.leave()
        self._kept.add(row.key)
        if section != self.section:
            self.open(section, path=path)
            self._kept.add(row.key)
        self._show()
        self.row, self.column = self._find(path)
        self.mode = ""
        self.tell("rows")
        self.tell("focus")
        return True

    def focus(self, row: int, column: int | None = None) -> None:
        """Put the focus on a row of the section, and on one side of it."""
        if row == self.row and column in {None, self.column}:
            return
        self.leave()
        self.row = max(0, min(row, len(self._shown)))
        self.mode = ""
        if column is not None:
            self.column = column
        self.tell("focus")

    def trace(self, paths: tuple[str, ...]) -> None:
        """Mark the findings something rests on and go to the first of them."""
        known = [path for path in paths if place(path)]
        self.traced = frozenset(known)
        if known:
            self.go(min(known, key=position))
        self.tell("state")

    def take_judge(self, judge: Judge) -> None:
        """Judge by other functions from now on, what stands there included."""
        self.judge = judge
        self._judge()

    def ask_vibration_as(self, method: str) -> None:
        """Ask for vibration at the toe by another method from now on."""
        self._vibration = method
        self._judge()

    def say(self, words: str) -> None:
        """Tell the person something, in place and aloud."""
        self.message = words
        self.tell("say")

    def undo(self) -> None:
        """Take back the last change and go where it was made."""
        self.leave()
        step = self.document.undo()
        self._return(step.at if step else None, N_("Taken back: {what}."), N_("There is nothing to take back."))

    def redo(self) -> None:
        """Make again what was taken back."""
        self.leave()
        step = self.document.redo()
        self._return(step.at if step else None, N_("Made again: {what}."), N_("There is nothing to make again."))

    def _return(self, at: str | None, words: str, nothing: str) -> None:
        found = place(at) if at else None
        if at and found:
            self.go(at)
            self.say(_(words).format(what=found[1].cells[found[2]].name))
        else:
            self.say("" if at else _(nothing))

    def offer_together(self) -> None:
        """Name what one key would answer as normal, and wait for the key that confirms it."""
        if self.section == SIGN:
            return
        self.leave()
        exam = self.document.exam
        refused = together.refusal(exam, self.section)
        wanted = frozenset(path for row in self._shown if self.is_wanted(row) for path in row.paths)
        offer = None if refused else together.offer(exam, self.section, wanted, frozenset(self.barred))
        if offer is not None and not offer.found:
            words = _(N_("Nothing is left in {section} that one key may answer."))
            refused = words.format(section=_(section_label(self.section)))
        if refused or offer is None:
            self.say(refused)
            return
        self.offer, self.mode = offer, "together"
        self.tell("state")

    def answer_together(self) -> None:
        """Record what was offered."""
        offer, self.offer, self.mode = self.offer, None, ""
        if offer is None:
            return
        self.document.put_all(offer.found, at=next(iter(offer.found)))
        self.row, self.column = self._start() or (len(self._shown), 0)
        self.tell("focus")
        self.say(_(N_("{count} answers recorded with one key.")).format(count=len(offer.found)))

    def next_gap(self) -> None:
        """Go to the next item needed before signing and say what is lacking."""
        gaps = [(gap, [p for p in gap.items if place(p)]) for gap in self.conclusions.gaps if gap.counts]
        places = sorted(
            ((position(paths[0]), paths[0], gap.message) for gap, paths in gaps if paths), key=lambda each: each[:2]
        )
        if not places:
            self.say(_(N_("No gaps that are needed to sign.")))
            return
        here = position(self.path) if self.path else -1
        _position, path, message = next((each for each in places if each[0] > here), places[0])
        self.go(path)
        self.say(message)

    def show_everything(self) -> None:
        """Show the folded rows of every section, or fold them again."""
        path = self.path
        self.everything = not self.everything
        self._kept = {row.key for row in self._shown if path in row.paths}
        self._show()
        self.tell("rows")
        if path:
            self.row, self.column = self._find(path)
        self.row = min(self.row, len(self._shown))
        self.tell("focus")

    # Bookkeeping

    def _forget_typing(self) -> None:
        super()._forget_typing()
        if self._stale:
            self._judge()

    def _changed(self, _paths: tuple[str, ...]) -> None:
        if self.typed is None:
            self._judge()
        else:
            # A number half typed is kept, but not judged: 1 on the way to 12 would raise what is not so.
            self._stale = True
            self.tell("exam")

    def _judge(self) -> None:
        self._stale = False
        try:
            self._conclude()
            self.unchecked = False
        except Exception as error:  # whatever fails there, the answer stays and nothing passes for checked
            log.error("concluding failed: %s", type(error).__name__)
            self.unchecked = True
            self.say(_(N_("The answer is kept, but the examination could not be checked.")))
        self._show()
        self.tell("exam")

    def _conclude(self) -> None:
        exam = self.document.exam
        self.conclusions: Conclusions = self.judge.conclude(exam)
        self.needed_in_order = tuple(self._by_method(path) for path in self.judge.needed(exam, self.conclusions))
        self.needed = frozenset(self.needed_in_order)
        items: dict[str, list[str]] = {}
        for path in dict.fromkeys(entry(path).path for path in self.needed_in_order):
            items.setdefault(path.partition(".")[0], []).append(path)
        self._items = {section: tuple(each) for section, each in items.items()}
        self._counted_of = None
        self.barred = self.judge.barred(exam)

    def _by_method(self, path: str) -> str:
        """Ask for vibration at the toe by the clinic's own method."""
        if self._vibration == "grade" or not path.startswith("sensation.vibration.great_toe"):
            return path
        return path.replace("sensation.vibration.", f"sensation.vibration_{self._vibration}.", 1)

    def _show(self) -> None:
        """Set which rows of the section stand in the form; none that stood there goes while one is in the section."""
        if self.section == SIGN:
            self._shown = ()
            return
        before = self._shown
        at = before[self.row].key if before and self.row < len(before) else None
        closing = bool(before) and self.row >= len(before)
        shown = tuple(row for row in rows(self.section) if self._stands(row))
        self._kept.update(row.key for row in shown)
        self._shown = shown
        if shown == before:
            return
        if at is not None:
            self.row = next((n for n, row in enumerate(shown) if row.key == at), min(self.row, len(shown)))
        elif closing:
            self.row = len(shown)
        if before:
            self.tell("rows")

    def _stands(self, row: Row) -> bool:
        if self.everything or row.key in self._kept or self.is_wanted(row):
            return True
        return any(self.document.get(path) is not None for path in row.paths)

    def tell(self, topic: Topic) -> None:
        """Tell the listeners that something of this topic changed."""
        self._topics.add(topic)
        if not self._held:
            self._send()

    @contextmanager
    def held(self) -> Iterator[None]:
        """Tell the listeners once, when the block is over, of everything that happened in it."""
        self._held += 1
        try:
            yield
        finally:
            self._held -= 1
            if not self._held:
                self._send()

    def _send(self) -> None:
        topics, self._topics = frozenset(self._topics), set()
        if topics:
            for told in tuple(self._listeners):
                told(topics)
