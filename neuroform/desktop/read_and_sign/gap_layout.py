"""Where everything in the list of gaps stands: words, marks, and what a click reaches."""

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import QRectF

from neuroform.completeness.gaps import Severity
from neuroform.desktop.read_and_sign.lacking import Lacking, heads, reasons
from neuroform.desktop.read_and_sign.parts import PAD
from neuroform.desktop.theme import Role, Theme
from neuroform.figures.marks import Mark
from neuroform.language import N_, _


@dataclass(frozen=True, kw_only=True)
class Text:
    """Lines of words in one role and colour."""

    role: Role
    token: str
    lines: tuple[str, ...]
    x: float
    top: float


@dataclass(frozen=True, kw_only=True)
class Choice:
    """A word to choose, on its line, with its key."""

    words: str
    key: str
    rect: QRectF
    gap: int
    number: int
    """Which of the gap's actions, or of the reasons."""


@dataclass(frozen=True, kw_only=True)
class Placed:
    """One gap of the list."""

    rect: QRectF
    mark: Mark
    mark_at: tuple[float, float]
    choices: tuple[Choice, ...]
    reason: QRectF | None
    """Where the reason stands, or is written."""


@dataclass(frozen=True, kw_only=True)
class Laid:
    """The whole list."""

    texts: tuple[Text, ...]
    rules: tuple[QRectF, ...]
    gaps: tuple[Placed, ...]
    height: float


class GapLayout:
    """Sets the list of gaps in a width."""

    def __init__(self, theme: Theme, width: float) -> None:
        self.theme = theme
        self.width = max(width, theme.px(120))
        self._texts: list[Text] = []
        self._rules: list[QRectF] = []
        self._placed: list[Placed] = []
        self._y = 0.0

    def lay(self, groups: Mapping[Severity, tuple[Lacking, ...]], *, at: int, asking: bool, writing: bool) -> Laid:
        """Lay the list out; at the gap in focus the reasons stand where `asking`, a field where `writing`."""
        number = 0
        headed = heads(groups)
        for severity, held in groups.items():
            if severity in headed:
                self._head(*headed[severity])
            for each in held:
                here = number == at
                self._gap(each, number, reasons_shown=here and asking, field=here and writing)
                number += 1
        height = self._y + self.theme.px(8)
        return Laid(texts=tuple(self._texts), rules=tuple(self._rules), gaps=tuple(self._placed), height=height)

    def _head(self, words: str, count: int) -> None:
        theme = self.theme
        if self._placed:
            self._y += theme.px(4)
        self._texts.append(Text(role="section", token="ink2", lines=(words,), x=PAD, top=self._y))
        counted = str(count)
        x = self.width - PAD - theme.width("section", counted)
        self._texts.append(Text(role="section", token="ink2", lines=(counted,), x=x, top=self._y))
        self._y += theme.line("section") + theme.px(3)
        self._rules.append(QRectF(PAD, self._y, self.width - 2 * PAD, 1))
        self._y += theme.px(5)

    def _gap(self, gap: Lacking, number: int, *, reasons_shown: bool, field: bool) -> None:
        theme = self.theme
        top = self._y
        self._y += theme.px(4)
        mark_at = (PAD + theme.px(4), self._y + (theme.line("body") - theme.px(16)) / 2)
        x = PAD + theme.px(18)
        room = self.width - x - PAD
        self._write("strong", "ink", gap.title, x, room)
        if gap.said:
            self._write("secondary", "quiet", gap.said, x, room)
        reason: QRectF | None = None
        if field or gap.gap.reason is not None:
            self._y += theme.px(6)
            high = theme.px(36) if field else self._reason_height(gap.gap.reason or "", room)
            reason = QRectF(x - PAD, self._y, room + 2 * PAD, high)
            self._y += high
        choices: list[Choice] = []
        if reasons_shown:
            named = [(_(words), key) for key, _code, words in reasons()]
            self._write("secondary", "ink2", _(N_("Not examined because")), x, room)
            choices = self._choices(named, number, x, room)
        elif gap.actions and not field:
            choices = self._choices([(each.words, each.key) for each in gap.actions], number, x, room)
        self._y += theme.px(6)
        rect = QRectF(0, top, self.width, self._y - top)
        self._placed.append(Placed(rect=rect, mark=gap.mark, mark_at=mark_at, choices=tuple(choices), reason=reason))
        self._y += theme.px(2)

    def _reason_height(self, reason: str, room: float) -> float:
        lines = self.theme.wrapped("body", reason, room)
        return len(lines) * self.theme.line("body") + self.theme.px(12)

    def _write(self, role: Role, token: str, words: str, x: float, room: float) -> None:
        lines = tuple(self.theme.wrapped(role, words, room))
        self._texts.append(Text(role=role, token=token, lines=lines, x=x, top=self._y))
        self._y += len(lines) * self.theme.line(role)

    def _choices(self, named: list[tuple[str, str]], gap: int, x: float, room: float) -> list[Choice]:
        theme = self.theme
        high = theme.line("body") + theme.px(5) + theme.line("key")
        made: list[Choice] = []
        at = x
        widths = [theme.width("body", words) for words, _key in named]
        apart = theme.px(26 if sum(widths) + (len(widths) - 1) * theme.px(26) <= room else 12)
        self._y += theme.px(6)
        for number, (words, key) in enumerate(named):
            wide = widths[number]
            if at > x and at + wide > x + room:
                at, self._y = x, self._y + high + theme.px(4)
            made.append(Choice(words=words, key=key, rect=QRectF(at, self._y, wide, high), gap=gap, number=number))
            at += wide + apart
        self._y += high
        return made
