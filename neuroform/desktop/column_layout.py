"""Lays out a column of the band: whole lines only, and where room is scarce a share of it for everything said."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from neuroform.desktop.theme import Role, Theme
from neuroform.figures.marks import Mark, Urgency, mark_shapes, urgent_frame
from neuroform.figures.shapes import Shape
from neuroform.language import N_, _

PAD = 8
"""From the edge of a column to its words, so that the frame of what is reached stands off them."""

APART = 4
"""Beyond a space between sentences that run on, so that the frame of one stands off the next."""

GAP = 5
"""Between things said below each other."""


@dataclass(frozen=True, kw_only=True)
class SystemView:
    """One system: its mark, name and state."""

    mark: Mark
    name: str
    state: str


@dataclass(frozen=True, kw_only=True)
class Said:
    """Something the band says, and the findings it rests on."""

    text: str
    items: tuple[str, ...] = ()
    head: str = ""
    """A line above the text, stronger than it."""
    urgency: Urgency | None = None
    short: str = ""
    """What stands in its place where one line is all the room there is."""


@dataclass(frozen=True, kw_only=True)
class Run:
    """A piece of a line of text that belongs to one thing said, -1 for none; y is its baseline."""

    said: int
    x: float
    y: float
    text: str
    role: Role
    token: str


@dataclass(frozen=True, kw_only=True)
class Sign:
    """Shapes with their origin at x, y."""

    shapes: tuple[Shape, ...]
    x: float
    y: float


@dataclass(kw_only=True)
class LaidColumn:
    """Where everything of a column stands, and how high that is."""

    runs: list[Run] = field(default_factory=list)
    signs: list[Sign] = field(default_factory=list)
    height: int = 0
    """What all it says would take."""
    whole: bool = True
    """Whether everything is in sight."""
    hidden: int = 0
    """How many things said have no line in sight."""


@dataclass(frozen=True, kw_only=True)
class Told:
    """What a column has to say."""

    title: str
    key: str
    """The key that goes to it, and shows all of it."""
    said: tuple[Said, ...]
    systems: tuple[SystemView, ...]
    empty: str
    flowing: bool


@dataclass(frozen=True, kw_only=True)
class _Block:
    """One thing said, broken into lines."""

    number: int
    said: Said
    head: tuple[str, ...]
    lines: tuple[str, ...]


class ColumnLayout:
    """Lays out for a theme and a width."""

    def __init__(self, theme: Theme, width: int) -> None:
        self.theme = theme
        self.left = theme.px(PAD)
        self.width = width - theme.px(PAD)

    def lay(self, told: Told, room: int | None) -> LaidColumn:
        """Return where everything stands, cut at whole lines where that is higher than `room` pixels."""
        theme, laid = self.theme, LaidColumn()
        y = float(theme.px(14) + theme.metrics("label").ascent() / 2)
        title = y
        laid.runs.append(Run(said=-1, x=self.left, y=y, text=_(told.title), role="strong", token="ink"))
        y += theme.px(26)
        if told.systems:
            y = self._systems(laid, told.systems, y)
        foot = None if room is None else float(room) - theme.metrics("body").descent() - theme.px(2)
        if not told.said:
            for line in theme.wrapped("secondary", _(told.empty), self.width - theme.px(6)):
                laid.runs.append(Run(said=-1, x=self.left, y=y, text=line, role="secondary", token="quiet"))
                y += theme.line("secondary")
        elif told.flowing:
            y = self._flow(laid, told.said, y, foot)
        else:
            y = self._blocks(laid, told.said, y, foot)
        laid.height = round(y - theme.px(8))
        if not laid.whole:
            self._rest(laid, told, title)
        return laid

    def _rest(self, laid: LaidColumn, told: Told, y: float) -> None:
        """Say beside the title which key shows all of it, and how many are out of sight."""
        theme, hidden = self.theme, laid.hidden
        words = f"+{hidden}" if hidden else _(N_("all of it"))
        urgent = bool(hidden) and any(each.urgency is not None for each in told.said)
        role: Role = "strong" if urgent else "secondary"
        key = self.width - theme.px(4) - theme.width("key", told.key)
        x = key - theme.px(7) - theme.width(role, words)
        if hidden or x >= theme.width("strong", _(told.title)) + theme.px(8):
            token = "urgent" if urgent else "ink2"
            laid.runs.append(Run(said=-1, x=self.left + x, y=y, text=words, role=role, token=token))
        laid.runs.append(Run(said=-1, x=self.left + key, y=y, text=told.key, role="key", token="accent"))

    # The systems

    def _systems(self, laid: LaidColumn, systems: Sequence[SystemView], y: float) -> float:
        theme = self.theme
        gap = self._systems_gap(systems)
        x, deepest, start = 0.0, 1, y
        for system in systems:
            name = theme.width("label", system.name)
            lines = [system.state]
            if theme.width("secondary", system.state) > name + theme.px(40):
                lines = theme.wrapped("secondary", system.state, max(name, theme.px(92)))
            wide = max(name, *(theme.width("secondary", line) for line in lines)) + theme.px(14)
            if x > 0 and x + wide > self.width:
                x, start = 0.0, start + theme.px(20) + theme.line("secondary") * deepest
                deepest = 1
            laid.signs.append(
                Sign(shapes=mark_shapes(system.mark), x=self.left + x + theme.px(4), y=start - 13 * theme.scale),
            )
            at = self.left + x + theme.px(14)
            laid.runs.append(Run(said=-1, x=at, y=start, text=system.name, role="label", token="ink"))
            for number, line in enumerate(lines, 1):
                down = start + number * theme.px(16.5)
                laid.runs.append(Run(said=-1, x=at, y=down, text=line, role="secondary", token="quiet"))
            deepest = max(deepest, len(lines))
            x += wide + gap
        return start + theme.px(16.5) * deepest + theme.px(25)

    def _systems_gap(self, systems: Sequence[SystemView]) -> float:
        """Return the widest gap at which the systems stand on one line."""
        theme = self.theme
        wide = sum(max(theme.width("label", s.name), theme.px(70)) + theme.px(14) for s in systems)
        free = (self.width - wide) / max(1, len(systems) - 1)
        return min(theme.px(20), max(theme.px(5), free))

    # Sentences that run on

    def _flow(self, laid: LaidColumn, said: Sequence[Said], y: float, foot: float | None) -> float:
        """Run the sentences on as one paragraph, each still reachable, as far as `foot`; return where all would end."""
        theme = self.theme
        x, space, room = 0.0, theme.width("body", " "), self.width - theme.px(4)
        apart = theme.px(APART)
        runs: list[Run] = []
        for number, each in enumerate(said):
            x += apart if x > 0 else 0.0
            line_x, words = x, list[str]()
            for word in each.text.split():
                wide = theme.width("body", word)
                if x + wide > room and (words or line_x > 0):
                    if words:
                        text = " ".join(words)
                        runs.append(Run(said=number, x=self.left + line_x, y=y, text=text, role="body", token="ink"))
                    y += theme.line("body") + theme.px(1)
                    x = line_x = 0.0
                    words = []
                words.append(word)
                x += wide + space
            if words:
                runs.append(Run(said=number, x=self.left + line_x, y=y, text=" ".join(words), role="body", token="ink"))
        shown = [run for run in runs if foot is None or run.y <= foot]
        laid.whole = len(shown) == len(runs)
        laid.runs += shown
        return y + theme.px(20)

    # Things said below each other

    def _blocks(self, laid: LaidColumn, said: Sequence[Said], y: float, foot: float | None) -> float:
        """Set each below the last, as far as `foot`; return where all would end."""
        blocks = [self._block(number, each) for number, each in enumerate(said)]
        given = [len(block.lines) for block in blocks]
        last = self._end(blocks, given, y)
        if foot is not None and last > foot:
            laid.whole = False
            given = self._shared(blocks, y, foot)
            laid.hidden = given.count(0)
        before: Said | None = None
        for block, count in zip(blocks, given, strict=True):
            if not count:
                break
            y = self._set(laid, block, count, y, before)
            before = block.said
        return last + self.theme.line("secondary") + self.theme.px(GAP)

    def _block(self, number: int, said: Said) -> _Block:
        theme, room = self.theme, self.width - self.theme.px(6)
        head = [said.head] if said.urgency is not None else theme.wrapped("label", said.head, room) if said.head else []
        lines = theme.wrapped("body" if said.urgency is not None else "secondary", said.text, room)
        return _Block(number=number, said=said, head=tuple(head), lines=tuple(lines))

    def _shared(self, blocks: Sequence[_Block], y: float, foot: float) -> list[int]:
        """Return how many lines each block has: one for as many as fit, then in turn what room is left."""
        given = [0] * len(blocks)
        for number in range(len(blocks)):
            given[number] = 1
            if self._end(blocks, given, y) > foot and number:
                given[number] = 0
                break
        grown = True
        while grown:
            grown = False
            for number, block in enumerate(blocks):
                if 0 < given[number] < len(block.lines):
                    given[number] += 1
                    if self._end(blocks, given, y) > foot:
                        given[number] -= 1
                    else:
                        grown = True
        return given

    def _end(self, blocks: Sequence[_Block], given: Sequence[int], y: float) -> float:
        """Return the baseline of the last line when each block has so many lines."""
        before: Said | None = None
        last = y
        for block, count in zip(blocks, given, strict=True):
            if not count:
                break
            y += self._head_height(block, before)
            last = y + (count - 1) * self.theme.line("secondary")
            y += count * self.theme.line("secondary") + self.theme.px(GAP)
            before = block.said
        return last

    def _head_height(self, block: _Block, before: Said | None) -> int:
        if block.said.urgency is None:
            return len(block.head) * self.theme.px(17)
        return 0 if before is not None and before.urgency == block.said.urgency else self.theme.px(19)

    def _set(self, laid: LaidColumn, block: _Block, count: int, y: float, before: Said | None) -> float:
        theme, said = self.theme, block.said
        high = self._head_height(block, before)
        if said.urgency is not None and high:
            frame = urgent_frame(said.urgency).shapes
            laid.signs.append(Sign(shapes=frame, x=self.left, y=y - 12 * theme.scale))
            head = Run(
                said=block.number, x=self.left + theme.px(22), y=y, text=said.head, role="strong", token="urgent"
            )
            laid.runs.append(head)
        elif said.urgency is None:
            for number, line in enumerate(block.head):
                at = y + number * theme.px(17)
                laid.runs.append(Run(said=block.number, x=self.left, y=at, text=line, role="label", token="ink"))
        y += high
        role: Role = "body" if said.urgency is not None else "secondary"
        token = "ink" if said.urgency is not None else "quiet"
        lines = list(block.lines[:count])
        if count == 1 and len(block.lines) > 1 and said.short:
            lines = [theme.fitted(role, said.short, self.width - theme.px(6))]
        elif count < len(block.lines):
            lines[-1] = theme.fitted(role, f"{lines[-1]} {block.lines[count]}", self.width - theme.px(6))
        for line in lines:
            laid.runs.append(Run(said=block.number, x=self.left, y=y, text=line, role=role, token=token))
            y += theme.line("secondary")
        return y + theme.px(GAP)
