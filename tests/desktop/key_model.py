"""A model of the key table: what keys and clicks do in five sections, written down by hand from the sheet of keys.

It knows nothing of the window. Every row of a section stands in it, as after the key that shows everything.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.sensation import MovementCount

Kind = Literal["choice", "power", "level", "number", "joint_position", "words"]


@dataclass(frozen=True, kw_only=True)
class Row:
    """One question of the table."""

    path: str
    kind: Kind
    codes: tuple[str, ...] = ()
    """Answers in the order they stand."""
    sides: int = 2
    copies: bool = True
    span: tuple[float, float] = (0, 0)
    """Least and most of a number."""
    step: float = 0
    """1: whole numbers."""
    above: bool = False
    """The least number itself is none."""
    timed: bool = False
    together: str = ""
    """What "the rest of this section as normal" says here; empty where it says nothing."""

    @property
    def paths(self) -> tuple[str, ...]:
        """Return its whole paths, the right side first."""
        return (
            tuple(f"{self.path}.{side}" for side in ("right", "left")[: self.sides])
            if self.sides == 2
            else (self.path,)
        )


def _choice(path: str, codes: str, *, sides: int = 2, copies: bool = True, normal: bool = True) -> Row:
    every = tuple(codes.split())
    together = every[0] if normal and copies else ""
    return Row(path=path, kind="choice", codes=every, sides=sides, copies=copies, together=together)


def _power(path: str, sides: int = 2) -> Row:
    return Row(path=path, kind="power", codes=("5", "4+", "4", "4-", "3", "2", "1", "0"), sides=sides, together="5")


def _number(path: str, low: float, high: float, **how: Any) -> Row:
    return Row(path=path, kind="number", span=(low, high), **how)


def _moved(path: str) -> Row:
    return Row(path=path, kind="joint_position", codes=("intact", "impaired", "absent"), copies=False)


GAIT = (
    "normal cautious ataxic stamping high_stepping spastic spastic_right spastic_left waddling shuffling magnetic "
    "antalgic veers_right veers_left lurching freezing festinating scissoring dragging knee_buckling as_on_ice "
    "prosthetic effortful_inconsistent"
)
LOSS = "none toes foot ankle mid_calf knee thigh groin"
REFLEX = "normal brisk clonus reduced with_reinforcement absent"
HEEL_SHIN = "normal mild moderate severe cannot_perform"
LEVELS = frozenset(
    f"{letter}{n}" for letter, first, last in ("C38", "T19", "L15", "S15") for n in range(int(first), int(last) + 1)
) | {"T10", "T11", "T12"}

TABLE: Mapping[str, tuple[Row, ...]] = {
    "walking": (
        _choice("walking.base", "normal narrow wide", sides=1),
        Row(path="walking.pattern", kind="words", codes=tuple(GAIT.split()), sides=1, together="normal"),
        _choice("walking.turning", "normal unsteady many_steps", sides=1),
        _number("walking.turn_steps", 1, 100, sides=1, step=1),
        _choice("walking.arm_swing", "normal reduced"),
        _number("walking.tandem.correct_steps", 0, 10, sides=1, step=1),
        _number("walking.tandem.side_steps", 0, 100, sides=1, step=1),
        _choice("walking.on_heels", "able unable"),
        _choice("walking.on_toes", "able unable"),
        _number("walking.ten_metre_seconds", 0, 600, sides=1, above=True, timed=True),
        _number("walking.timed_up_and_go_seconds", 0, 600, sides=1, above=True, timed=True),
    ),
    "motor": (
        _choice("motor.tone", "normal increased rigid paratonic reduced"),
        _choice("motor.bradykinesia", "none slight clear"),
        _choice("motor.bulk", "normal wasted"),
        _choice("motor.fasciculation", "none present"),
        _number("motor.clonus_beats", 0, 60, step=1),
        *(_power(f"motor.power.hip_{way}") for way in ("flexion", "extension", "abduction", "adduction")),
        *(_power(f"motor.power.knee_{way}") for way in ("extension", "flexion")),
        *(_power(f"motor.power.ankle_{way}") for way in ("dorsiflexion", "plantarflexion", "inversion", "eversion")),
        _power("motor.power.great_toe_extension"),
        _number("motor.single_heel_raises", 0, 25, step=1),
        _power("motor.neck_flexion", sides=1),
        _number("motor.breath_count", 0, 60, sides=1, step=1),
        _choice("motor.hoover", "negative positive"),
        _choice("motor.hip_abductor_sign", "negative positive"),
        _choice("motor.give_way", "no yes"),
    ),
    "reflexes": (
        _choice("reflexes.knee", REFLEX),
        _choice("reflexes.ankle", REFLEX),
        _choice("reflexes.ankle_method", "tendon plantar_strike both", sides=1, normal=False),
        _choice("reflexes.plantar", "flexor extensor equivocal mute", copies=False),
        _choice("reflexes.finger_flexor", "normal brisk absent"),
    ),
    "sensation": (
        *(_moved(f"sensation.joint_position.{where}") for where in ("great_toe", "ankle", "knee", "finger")),
        *(
            _choice(f"sensation.vibration.{where}", "normal reduced absent")
            for where in ("great_toe", "medial_malleolus", "tibial_tuberosity", "iliac_spine", "finger")
        ),
        *(
            _number(f"sensation.vibration_score.{where}", 0, 8, step=0.5)
            for where in ("great_toe", "medial_malleolus", "finger")
        ),
        _number("sensation.vibration_seconds.great_toe", 0, 60, timed=True),
        *(_choice(f"sensation.{kind}", LOSS) for kind in ("pinprick", "light_touch", "temperature")),
        Row(path="sensation.trunk_level", kind="level", sides=1, together="none"),
        _choice("sensation.trunk_level_side", "both right left", sides=1, normal=False),
        _choice("sensation.distribution", "stocking root single_nerve whole_limb patchy", normal=False),
        _choice("sensation.hands_affected", "no after_feet before_feet together", sides=1),
        _choice("sensation.saddle", "normal reduced absent", sides=1),
    ),
    "coordination": (
        *(_choice(f"coordination.{test}", HEEL_SHIN) for test in ("heel_shin", "heel_shin_eyes_closed", "finger_nose")),
        *(
            _choice(f"coordination.{test}", "normal irregular slow")
            for test in ("rapid_alternating_hands", "foot_tapping")
        ),
        _choice("coordination.speech", "normal slurred scanning", sides=1),
    ),
}
REASONS: tuple[Any, ...] = ("declined", "unable", "unsafe", "absent", "no_equipment", "deferred")
JUMPS = {
    "trendelen": "walking.pattern",
    "bradykin": "motor.bradykinesia.right",
    "heel raises": "motor.single_heel_raises.right",
    "hoover": "motor.hoover.right",
    "achilles": "reflexes.ankle.right",
    "Babinski": "reflexes.plantar.right",
    "hoffmann": "reflexes.finger_flexor.right",
    "dermatome": "sensation.trunk_level",
    "dysdiado": "coordination.rapid_alternating_hands.right",
    "dysarthria": "coordination.speech",
}
_ASKED = (
    "motor.tone",
    *(f"motor.power.{muscle}" for muscle in ("hip_flexion", "knee_extension", "ankle_dorsiflexion")),
    "motor.power.ankle_plantarflexion",
    "reflexes.knee",
    "reflexes.ankle",
    "sensation.pinprick",
    "coordination.heel_shin",
    "coordination.finger_nose",
)
ASKED_IN_FULL = frozenset(
    {"walking.base", "walking.pattern", "coordination.speech"}
    | {f"{item}.{side}" for item in _ASKED for side in ("right", "left")}
)
"""Of what a full examination asks for, that which one key may answer."""
COMPLAINED = {"walking": "weakness", "motor": "weakness", "reflexes": "weakness", "sensation": "", "coordination": ""}
"""The complaint of some sessions, and the sections that are its own."""


def place(path: str) -> tuple[str, int, int]:
    """Return the section, row and side of a whole path."""
    for section, rows in TABLE.items():
        for number, row in enumerate(rows):
            if path in row.paths:
                return section, number, row.paths.index(path)
    raise KeyError(path)


@dataclass(kw_only=True)
class Step:
    """One change that can be taken back."""

    before: dict[str, Any]
    after: dict[str, Any]
    paths: tuple[str, ...]
    at: str
    typing: bool


class Hand:
    """What is recorded, where the hand is, and what is half typed."""

    def __init__(self) -> None:
        self.found: dict[str, Any] = {}
        self.done: list[Step] = []
        self.undone: list[Step] = []
        self.section, self.row, self.side = "reflexes", 0, 0
        self.typed: str | None = None
        self.pending = ""
        self.pointed: int | None = None
        self.mode = ""
        self._before: Any = None
        self._four: str | None = None

    # Where the hand is

    @property
    def rows(self) -> tuple[Row, ...]:
        """Return the rows of the section."""
        return TABLE[self.section]

    @property
    def at(self) -> Row | None:
        """Return the row in focus; None at the end of the section."""
        return self.rows[self.row] if self.row < len(self.rows) else None

    @property
    def path(self) -> str | None:
        """Return the whole path in focus."""
        return self.at.paths[min(self.side, self.at.sides - 1)] if self.at else None

    def barred(self, path: str) -> bool:
        """Tell whether a place asks for nothing: nobody who is very weak is asked to walk."""
        return path.startswith("walking.") and any(
            isinstance(found, Examined) and found.value in {"0", "1", "2"}
            for at, found in self.found.items()
            if at.startswith("motor.power.")
        )

    def refused(self, path: str) -> bool:
        """Tell whether an answer is not taken here."""
        return self.barred(path) and path not in self.found

    def go(self, path: str) -> None:
        """Jump to an item."""
        self.leave()
        self.mode = ""
        self.section, self.row, self.side = place(path)

    def open(self, section: str) -> None:
        """Choose a section, and its first row."""
        self.leave()
        self.mode = ""
        self.section, self.row, self.side = section, 0, 0

    def focus(self, row: int, side: int | None = None) -> None:
        """Put the hand on a row, and on a side of it."""
        if row == self.row and side in {None, self.side}:
            return
        self.leave()
        self.mode = ""
        self.row = max(0, min(row, len(self.rows)))
        if side is not None:
            self.side = side

    def leave(self) -> None:
        """Finish what is half done; what can't be read was never recorded."""
        self.forget()
        self.pointed = None

    def forget(self) -> None:
        """Forget what is half typed."""
        self.typed, self.pending, self._four = None, "", None

    def on(self, path: str) -> None:
        """Go from an answered place to the next that asks."""
        self.leave()
        if self.done:
            self.done[-1].typing = False
        order = [each for row in self.rows for each in row.paths]
        after = order[order.index(path) + 1 :]
        following = next((each for each in after if not self.barred(each)), None)
        if following is None:
            self.row, self.side = len(self.rows), 0
        else:
            _section, self.row, self.side = place(following)

    # What is recorded

    def put(self, changed: Mapping[str, Any], at: str, *, typing: bool = False) -> None:
        """Record one step; None is blank."""
        after = {path: found for path, found in {**self.found, **changed}.items() if found is not None}
        if after == self.found:
            return
        before, paths = self.found, tuple(changed)
        if typing and self.done and self.done[-1].typing and self.done[-1].paths == paths:
            before = self.done.pop().before
        self.done.append(Step(before=before, after=after, paths=paths, at=at, typing=typing))
        self.undone.clear()
        self.found = after

    def undo(self) -> None:
        """Take back the last change."""
        self.leave()
        if self.done:
            self.undone.append(self.done.pop())
            self.found = self.undone[-1].before
            self.go(self.undone[-1].at)

    def redo(self) -> None:
        """Make it again."""
        self.leave()
        if self.undone:
            self.done.append(self.undone.pop())
            self.found = self.done[-1].after
            self.go(self.done[-1].at)

    def finding(self, path: str, value: Any) -> Examined[Any]:
        """Return an answer that keeps the comment of the answer before."""
        old = self.found.get(path)
        return Examined(value=value, comment=old.comment if isinstance(old, Examined) else None)

    def answer(self, code: str) -> None:
        """Give the place in focus an answer, as a click does."""
        row, path = self.at, self.path
        assert row is not None
        assert path is not None
        if self.mode == "together":
            self.mode = ""
        if self.refused(path):
            return
        self.forget()
        if row.kind == "words":
            self.word(code)
            return
        self.put({path: self.finding(path, code)}, path)
        self.on(path)
        self._four = path if code == "4" and row.kind == "power" else None

    def word(self, code: str) -> None:
        """Add a word of a list or take it out; the first of them stands alone."""
        row, path = self.at, self.path
        assert row is not None
        assert path is not None
        if code == row.codes[0]:
            self.put({path: self.finding(path, (code,))}, path)
            self.on(path)
            return
        old = self.found.get(path)
        words = set(old.value) - {row.codes[0]} if isinstance(old, Examined) else set()
        words ^= {code}
        ordered = tuple(each for each in row.codes if each in words)
        self.put({path: self.finding(path, ordered) if ordered else None}, path)

    def explain(self, reason: Any) -> None:
        """Say why it was not examined."""
        path = self.path
        assert path is not None
        self.forget()
        self.mode = ""
        old = self.found.get(path)
        comment = old.comment if isinstance(old, NotExamined) else None
        self.put({path: NotExamined(not_examined=reason, comment=comment)}, path)
        self.on(path)

    def comment(self, words: str) -> None:
        """Write on in the comment beside what is recorded."""
        path = self.path
        assert path is not None
        for letter in words:
            old = self.found[path]
            self.put({path: replace(old, comment=(old.comment or "") + letter)}, path, typing=True)

    def timed(self, seconds: float) -> None:
        """Let the timer run that long."""
        path = self.path
        assert path is not None
        if self.refused(path):
            return
        self.leave()
        self.put({path: self.finding(path, seconds)}, path)
        self.on(path)

    # Keys

    def press(self, key: str) -> None:
        """Do what a key does."""
        row, path = self.at, self.path
        if self.mode == "reason" and self._reason(key):
            return
        if key in {"+", "-"} and self._refine(key):
            return
        if row is None or path is None:
            if key == "Up":
                self.focus(self.row - 1)
            elif key == "Home":
                self.focus(0, 0)
            return
        if self._typed(row, path, key) or self._chosen(row, path, key):
            return
        self._command(row, path, key)

    def _reason(self, key: str) -> bool:
        if key in {"1", "2", "3", "4", "5", "6"}:
            self.explain(REASONS[int(key) - 1])
        elif key == "Enter" and self.pointed is not None:
            self.explain(REASONS[self.pointed])
        elif key in {"Left", "Right"}:
            self._rove(key, len(REASONS))
        else:
            self.mode, self.pointed = "", None
            return key in {"Escape", "x", "Backspace"}
        return True

    def _refine(self, key: str) -> bool:
        row, path = self.at, self._four
        if path is None and row is not None and row.kind == "power":
            old = self.found.get(self.path or "")
            path = self.path if isinstance(old, Examined) and old.value[0] == "4" else None
        if path is None or self.typed is not None:
            return False
        self.put({path: self.finding(path, f"4{key}")}, path)
        self._four = None
        return True

    def _typed(self, row: Row, path: str, key: str) -> bool:
        typed = self.typed or ""
        if row.kind in {"number", "joint_position", "level"} and _begins(row, typed, key):
            if not self.refused(path):
                if self.typed is None:
                    self._before = self.found.get(path)
                    if self.done:
                        self.done[-1].typing = False
                self._four = None
                self._take(row, path, typed + key)
            return True
        if key == "Backspace" and self.typed is not None:
            if typed:
                self._take(row, path, typed[:-1])
            else:
                self._clear(path)
            return True
        return False

    def _take(self, row: Row, path: str, typed: str) -> None:
        self.typed = typed
        value = _read(row, typed) if typed else None
        old = self.found.get(path)
        comment = old.comment if isinstance(old, Examined) else None
        found = (
            self._before if typed and value is None else None if not typed else Examined(value=value, comment=comment)
        )
        self.put({path: found}, path, typing=True)

    def _clear(self, path: str) -> None:
        self.forget()
        self.put({path: None}, path)

    def _chosen(self, row: Row, path: str, key: str) -> bool:
        if row.kind == "words" and key.isdigit():
            self._numbered(row, path, key)
            return True
        if self.pending:
            self.pending = ""
            if key in {"Backspace", "Escape"}:
                return True
        code = key if row.kind == "power" and key in row.codes else None
        if row.kind == "choice" and key.isdigit() and 1 <= int(key) <= len(row.codes):
            code = row.codes[int(key) - 1]
        if key == "Enter" and self.pointed is not None:
            code = row.codes[self.pointed]
        if code is not None:
            self.answer(code)
        elif key in {"Left", "Right"}:
            self._rove(key, len(row.codes) if row.kind in {"choice", "power", "words"} else 0)
            return True
        return code is not None

    def _numbered(self, row: Row, path: str, key: str) -> None:
        """Take a digit of a long list: eight words to the first digit, and 0 for the word that stands alone."""
        typed = self.pending + key
        if typed == "0":
            if not self.refused(path):
                self.answer(row.codes[0])
            return
        number = (int(typed[0]) - 1) * 8 + int(typed[-1]) if len(typed) == 2 and 1 <= int(typed[-1]) <= 8 else 0
        self.pending = ""
        if 0 < number < len(row.codes):
            if not self.refused(path):
                self.word(row.codes[number])
        elif len(typed) == 1 and int(typed) * 8 - 7 < len(row.codes):
            self.pending = typed

    def _rove(self, key: str, count: int) -> None:
        row = self.at
        assert row is not None
        side = min(self.side, row.sides - 1)
        if (key == "Left") == (row.sides == 2 and side == 0):
            if not count:
                self.pointed = None
            else:
                self.pointed = 0 if self.pointed is None else min(self.pointed + 1, count - 1)
        elif self.pointed:
            self.pointed -= 1
        elif row.sides == 2:
            self.focus(self.row, 1 - side)

    def _command(self, row: Row, path: str, key: str) -> None:
        if key == "Enter":
            self._enter(row, path)
        elif key in {"Backspace", "Delete"}:
            self._clear(path)
        elif key == "Escape":
            self.leave()
        elif key in {"Up", "Down"}:
            self.focus(self.row + (1 if key == "Down" else -1))
        elif key == "Home":
            self.focus(0, 0)
        elif key == "End":
            self.focus(len(self.rows))
        elif key == "x":
            self.leave()
            self.mode = "reason"
        elif key == "s":
            self._copy(row)
        elif key in {"r", "l"} and row.sides == 2:
            self.focus(self.row, "rl".index(key))

    def _enter(self, row: Row, path: str) -> None:
        if self.typed and _read(row, self.typed) is None:
            return
        if self.typed or (row.sides == 2 and path == row.paths[0] and path in self.found):
            self.on(path)
        else:
            self.focus(self.row + 1, 0)

    def _copy(self, row: Row) -> None:
        if row.sides != 2:
            return
        self.leave()
        right, left = row.paths
        if row.copies and right in self.found and not self.refused(left):
            self.put({left: replace(self.found[right], entered="copied", comment=None)}, left)
            self.side = 1
            self.on(left)


def _begins(row: Row, typed: str, key: str) -> bool:
    if len(key) != 1:
        return False
    if row.kind == "number":
        return key.isdigit() or (key == "." and row.step != 1 and "." not in typed)
    if row.kind == "joint_position":
        return key.isdigit() or (key == "/" and typed.isdigit())
    return key.isdigit() or (not typed and key in "ctls")


def _read(row: Row, typed: str) -> Any:
    """Return what was typed, or None where it is no answer."""
    if row.kind == "joint_position":
        if typed in {"1", "2", "3"}:
            return row.codes[int(typed) - 1]
        correct, _slash, tried = typed.partition("/")
        if not (correct.isdigit() and tried.isdigit() and 1 <= int(tried) <= 20 and int(correct) <= int(tried)):
            return None
        return MovementCount(correct=int(correct), trials=int(tried))
    if row.kind == "level":
        wanted = "none" if typed in {"0", "1"} else typed.upper()
        return wanted if wanted == "none" or wanted in LEVELS else None
    if not typed.replace(".", ""):
        return None
    value = int(typed) if row.step == 1 else float(typed)
    low, high = row.span
    if not low <= value <= high or (row.above and value == low) or (row.step and value % row.step):
        return None
    return value
