"""Lays out what every row has: its mark, the line an answer stands on, what stands beside it, its choices."""

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QRectF

from neuroform.desktop.answering import Choice
from neuroform.desktop.laid import Drawn, Fill, Hit, Laid, Side, Words
from neuroform.desktop.row_view import CellView, LimitView, RowView
from neuroform.desktop.shape import margin, shape_of
from neuroform.desktop.theme import Role, Theme
from neuroform.figures.limits import limit_track
from neuroform.figures.marks import mark_shapes
from neuroform.figures.shapes import Line

SECOND = 38
"""From one line of choices to the next."""
STACK = 24
"""The same where choices stand below each other."""


class Laying:
    """Lays out for a theme, a width and a spine."""

    def __init__(self, theme: Theme, width: int, spine: float) -> None:
        self.theme = theme
        self.width = width
        self.shape = shape_of(width, theme.scale)
        self.axis = width / 2
        self.margin = margin(width, theme.scale)
        self.pad = theme.px(10) if self.shape != "folded" else 10
        self.spine = spine

    def mark(self, laid: Laid, cell: CellView, side: Side, y: float) -> None:
        """Draw the mark of a place, where it has one."""
        if cell.mark is None:
            return
        scale = self.theme.scale
        laid.things.append(Drawn(shapes=mark_shapes(cell.mark), x=side.mark, y=y - 13 * scale, scale=scale))

    def underline(self, laid: Laid, cell: CellView, x: float, y: float, wide: float) -> None:
        """Draw the line an answer stands on."""
        scale = self.theme.scale
        top = y + self.theme.px(5.5)
        if cell.line == "copied":
            for down in (0.0, 3.1 * scale):
                laid.things.append(Fill(rect=QRectF(x, top + down, wide, 1.6 * scale), token="ink"))
        elif cell.line == "not_examined":
            dashes = (Line(0, 1, wide / scale, 1, 2, "ink2", (4, 3)),)
            laid.things.append(Drawn(shapes=dashes, x=x, y=top, scale=scale))
        elif cell.line != "none":
            thick = 4.0 if cell.line == "abnormal" else 1.6
            laid.things.append(Fill(rect=QRectF(x, top, wide, thick * scale), token="ink"))

    def beside(self, laid: Laid, cell: CellView, side: Side, out: float, y: float) -> int:
        """Draw the limit and the words that stand outward of an answer; return the height they take."""
        theme = self.theme
        gap = theme.px(15)
        at = out
        if cell.limit is not None and self.shape != "folded":
            at = self._limit(laid, cell.limit, side, out, y)
        words = [cell.limit.words] if cell.limit is not None else []
        if cell.limit is not None and self.shape == "folded":
            words = [cell.limit.words]
        words += cell.notes
        if not words:
            return 0
        text = "; ".join(words)
        room = side.room - at - gap
        # Why findings do not fit is never cut for want of room beside: it has some below.
        whole = cell.mark != "does_not_fit" or theme.width("secondary", text) <= room
        if room >= theme.px(90) and whole:
            self.note(laid, side, at + gap, y, text)
            return 0
        lines = theme.wrapped("secondary", text, side.room)[:3]
        for number, line in enumerate(lines, 1):
            wide = theme.width("secondary", line)
            laid.things.append(
                Words(
                    x=side.x(0, wide),
                    y=y + theme.px(6) + number * theme.line("secondary"),
                    text=line,
                    role="secondary",
                    token="quiet",
                )
            )
        return round(y + theme.px(6) + len(lines) * theme.line("secondary")) + theme.px(8)

    def _limit(self, laid: Laid, limit: LimitView, side: Side, out: float, y: float) -> float:
        theme = self.theme
        start = max(theme.px(86 if self.shape == "full" else 40), out + theme.px(18))
        long = theme.px(120)
        if start + long > side.room:
            return out
        drawn = limit_track(
            limit=limit.limit,
            lowest=limit.lowest,
            highest=limit.highest,
            value=limit.value,
            verdict=limit.verdict,
            better=limit.better,
            side="right" if side.way < 0 else "left",
        )
        laid.things.append(Drawn(shapes=drawn.shapes, x=side.x(start, 0), y=y + theme.px(4), scale=theme.scale))
        return start + long

    def note(self, laid: Laid, side: Side, out: float, y: float, text: str) -> None:
        """Draw words that stand outward of an answer, in quiet."""
        shown = self.theme.fitted("secondary", text, side.room - out)
        wide = self.theme.width("secondary", shown)
        laid.things.append(Words(x=side.x(out, wide), y=y, text=shown, role="secondary", token="quiet"))

    def placed(self, choices: Sequence[Choice], room: float) -> list[tuple[float, int]]:
        """Return how far outward and in which line each choice stands."""
        theme = self.theme
        widths = [max(theme.width("body", c.words), theme.width("key", c.key)) for c in choices]
        gaps = (26, 22, 18, 15, 12) if self.shape == "full" else (26, 20, 16, 12)
        for gap in gaps:
            if sum(widths) + theme.px(gap) * (len(widths) - 1) <= room:
                outs, at = [], 0.0
                for wide in widths:
                    outs.append((at, 0))
                    at += wide + theme.px(gap)
                return outs
        for lines in range(2, len(widths) + 1):
            # As many in each line as there are lines for, so that none stands alone below the rest.
            columns = -(-len(widths) // lines)
            tops = [max(widths[n::columns]) for n in range(columns)]
            if columns == 1 or sum(tops) + theme.px(26) * (columns - 1) <= room:
                starts = [sum(tops[:n]) + theme.px(26) * n for n in range(columns)]
                return [(starts[n % columns], n // columns) for n in range(len(widths))]
        return [(0.0, 0)]

    def choosing(self, laid: Laid, view: RowView, cell: CellView, side: Side, y: float) -> int:
        """Draw the choices with their keys; return the height they take."""
        if self.shape == "folded":
            return self.stacked(laid, view, cell, cell.choices, side, y)
        theme = self.theme
        placed = self.placed(cell.choices, side.room)
        for number, (choice, (out, row)) in enumerate(zip(cell.choices, placed, strict=True)):
            self.choice(laid, view, cell, side, number, choice, out, y + row * theme.px(SECOND))
        rows = max(row for _out, row in placed) + 1
        if cell.ask:
            last = max(
                out + theme.width("body", c.words)
                for c, (out, row) in zip(cell.choices, placed, strict=True)
                if row == rows - 1
            )
            self.note(laid, side, last + theme.px(26), y + (rows - 1) * theme.px(SECOND), cell.ask)
        return theme.px(42 + SECOND * (rows - 1))

    def choice(
        self,
        laid: Laid,
        view: RowView,
        cell: CellView,
        side: Side,
        number: int,
        choice: Choice,
        out: float,
        y: float,
        *,
        offset: int = 0,
        chosen: bool | None = None,
    ) -> None:
        """Draw one choice on its line, its key below."""
        theme = self.theme
        picked = number in cell.chosen if chosen is None else chosen
        pointed = view.pointed == number + offset
        role: Role = "strong" if picked and cell.line == "abnormal" else "label" if picked else "body"
        wide = theme.width(role, choice.words)
        x = side.x(out, wide)
        laid.things.append(Words(x=x, y=y, text=choice.words, role=role, token="ink"))
        top = y + theme.px(5.5)
        if picked:
            self.underline(laid, cell, x, y, wide)
            if cell.line in {"none", "not_examined"}:
                laid.things.append(Fill(rect=QRectF(x, top, wide, 1.6 * theme.scale), token="ink"))
        else:
            laid.things.append(Fill(rect=QRectF(x, top, wide, max(1.0, 1.2 * theme.scale)), token="ink2"))
        key_wide = theme.width("key", choice.key)
        key_x = x if side.way > 0 else x + wide - key_wide
        laid.things.append(Words(x=key_x, y=y + theme.px(19), text=choice.key, role="key", token="accent"))
        if pointed:
            box = QRectF(x - theme.px(4), y - theme.px(14), wide + theme.px(8), theme.px(35))
            laid.things.append(Fill(rect=box, token="accent", frame=1.2))
        hit = QRectF(x - theme.px(6), y - theme.px(15), wide + theme.px(12), theme.px(36))
        laid.hits.append(Hit(rect=hit, cell=side.number, choice=number + offset))

    def stacked(
        self,
        laid: Laid,
        view: RowView,
        cell: CellView,
        choices: Sequence[Choice],
        side: Side,
        y: float,
        *,
        offset: int = 0,
        chosen: Iterable[int] | None = None,
    ) -> int:
        """Draw the choices below each other, each key on the outer side of its word."""
        theme = self.theme
        picked = tuple(cell.chosen if chosen is None else chosen)
        half = -(-len(choices) // 2)
        starts = self._two_columns(choices, half, side.room) if len(choices) > 5 else (0.0,)
        rows, foot = half if len(starts) == 2 else len(choices), y
        for column, out in enumerate(starts):
            base = y
            for number in range(column * rows, min((column + 1) * rows, len(choices))):
                pointed = view.pointed == number + offset
                base = self._stack(
                    laid, side, choices[number], out, base, number + offset, picked=number in picked, pointed=pointed
                )
            foot = max(foot, base)
        return round(foot - theme.px(STACK)) + theme.px(15)

    def _two_columns(self, choices: Sequence[Choice], half: int, room: float) -> tuple[float, ...]:
        """Return how far outward the columns begin, where two have room, else the one."""
        theme = self.theme
        wides = [
            max(theme.width("strong", c.words) + theme.width("key", c.key) + theme.px(10) for c in part)
            for part in (choices[:half], choices[half:])
        ]
        second = wides[0] + theme.px(16)
        return (0.0, second) if second + wides[1] <= room else (0.0,)

    def _stack(
        self,
        laid: Laid,
        side: Side,
        choice: Choice,
        out: float,
        y: float,
        number: int,
        *,
        picked: bool,
        pointed: bool,
    ) -> float:
        """Draw one choice of a stack, on two lines where it is long; return where the next one stands."""
        theme = self.theme
        role: Role = "strong" if picked else "body"
        key_room = theme.width("key", choice.key) + theme.px(10)
        lines = theme.wrapped(role, choice.words, side.room - out - key_room)
        base, widest = y, max(theme.width(role, line) for line in lines)
        for line in lines:
            wide = theme.width(role, line)
            x = side.x(out, wide)
            laid.things.append(Words(x=x, y=base, text=line, role=role, token="ink"))
            rule = QRectF(x, base + theme.px(4), wide, (1.6 if picked else 1.2) * theme.scale)
            laid.things.append(Fill(rect=rule, token="ink2"))
            base += theme.px(STACK)
        key_x = side.x(out + theme.width(role, lines[0]) + theme.px(10), theme.width("key", choice.key))
        laid.things.append(Words(x=key_x, y=y, text=choice.key, role="key", token="accent"))
        box = QRectF(side.x(out, widest), y - theme.px(15), widest, base - y)
        if pointed:
            framed = box.adjusted(-theme.px(3), 0, theme.px(3), -theme.px(4))
            laid.things.append(Fill(rect=framed, token="accent", frame=1.2))
        outward = key_room if side.way > 0 else 0.0
        hit = box.adjusted(outward - key_room, 0, outward, 0)
        laid.hits.append(Hit(rect=hit, cell=side.number, choice=number))
        return base

    def listed(self, laid: Laid, cell: CellView, side: Side, y: float) -> None:
        """List the choices of a blank row in quiet, as many as one line holds."""
        theme = self.theme
        if self.shape == "folded":
            words = theme.fitted("secondary", "   ".join(choice.words for choice in cell.choices), side.room)
            wide = theme.width("secondary", words)
            laid.things.append(Words(x=side.x(0, wide), y=y, text=words, role="secondary", token="quiet"))
            return
        for number, (choice, (out, row)) in enumerate(
            zip(cell.choices, self.placed(cell.choices, side.room), strict=True)
        ):
            if row == 0:
                wide = theme.width("body", choice.words)
                laid.things.append(Words(x=side.x(out, wide), y=y, text=choice.words, role="body", token="quiet"))
                hit = QRectF(side.x(out, wide) - theme.px(4), y - theme.px(15), wide + theme.px(8), theme.px(24))
                laid.hits.append(Hit(rect=hit, cell=side.number, choice=number))
