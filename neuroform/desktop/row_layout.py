"""Lays out a row: a view and a width in, things to paint and places to click out."""

from PySide6.QtCore import QRectF

from neuroform.desktop.laid import Fill, Hit, Laid, Side, Words
from neuroform.desktop.row_view import CellView, RowView
from neuroform.desktop.sway_layout import SwayLayout
from neuroform.desktop.theme import Role
from neuroform.desktop.word_grid import WordGrid
from neuroform.language import N_, _

SPINE = 101
ANSWER = 122
SINGLE = 15
BASE = 19


class RowLayout(WordGrid, SwayLayout):
    """Lays out one row."""

    def lay(self, view: RowView, *, least: int = 0) -> Laid:
        """Return where everything in the row stands; it is at least `least` high."""
        laid = Laid(height=max(self._least(view), least))
        sides = [self._side(view, n) for n in range(len(view.cells))]
        if view.cells[0].kind == "words" and view.focused is not None and not view.reason and not view.sealed:
            self.grid(laid, view, sides[0])
        else:
            heights = [self._cell(laid, view, side) for side in sides]
            laid.height = max(laid.height, *heights)
        self._label(laid, view)
        if view.focused is not None:
            self._frame(laid, view, sides[view.focused])
        for side in sides:
            reach = abs(side.edge - side.inner)
            left = min(side.edge, side.inner)
            laid.hits.append(Hit(rect=QRectF(left, 0, reach, laid.height), cell=side.number, choice=-1))
        return laid

    def _least(self, view: RowView) -> int:
        if view.cells[0].kind == "sway":
            return self.sway_height(view)
        if self.shape == "folded":
            return self.theme.px(29 if view.focused is None else 34)
        if view.focused is not None:
            return self.theme.px(42)
        return self.theme.px(34 if view.pair else 30)

    def _side(self, view: RowView, number: int) -> Side:
        px, axis = self.theme.px, self.axis
        if not view.pair:
            return Side(
                number=number,
                way=1,
                start=axis + px(SINGLE),
                room=self.width - self.margin - self.pad - axis - px(SINGLE),
                edge=self.width - self.margin,
                inner=axis + px(SINGLE - 10),
                mark=axis,
            )
        way = -1 if view.cells[number].column in {"right", "open"} else 1
        gap = px(ANSWER - SPINE)
        return Side(
            number=number,
            way=way,
            start=axis + way * (self.spine + gap),
            room=axis - self.margin - self.pad - self.spine - gap,
            edge=axis + way * (axis - self.margin),
            inner=axis + way * (self.spine + gap - px(10)),
            mark=axis + way * self.spine,
        )

    def _label(self, laid: Laid, view: RowView) -> None:
        theme = self.theme
        role: Role = "strong" if view.focused is not None else "label" if view.wanted else "body"
        token = "ink" if view.wanted or view.focused is not None else "ink2"
        y = self.base(view)
        if view.pair:
            room = 2 * self.spine - theme.px(14)
            lines = theme.wrapped(role, view.label, room)
            for number, line in enumerate(lines):
                x = self.axis - theme.width(role, line) / 2
                laid.things.append(Words(x=x, y=y + number * theme.line(role) * 0.9, text=line, role=role, token=token))
            if len(lines) > 1:
                laid.height = max(laid.height, round(y + (len(lines) - 1) * theme.line(role) * 0.9) + theme.px(12))
        else:
            room = self.axis - theme.px(SINGLE) - self.margin
            text = theme.fitted(role, view.label, room)
            x = self.axis - theme.px(SINGLE) - theme.width(role, text)
            laid.things.append(Words(x=x, y=y, text=text, role=role, token=token))

    def base(self, view: RowView) -> float:
        """Return the baseline of a row."""
        if view.cells[0].kind == "sway" and self.shape != "folded":
            return self.sway_height(view) / 2 + self.theme.px(5)
        return self.theme.px(BASE)

    def _frame(self, laid: Laid, view: RowView, side: Side) -> None:
        theme = self.theme
        margin = self.margin
        row = QRectF(margin, 0, self.width - 2 * margin, laid.height)
        if view.cells[0].kind == "words" and not view.reason and not view.sealed:
            box = QRectF(margin, theme.px(30), self.width - 2 * margin, laid.height - theme.px(30))
        else:
            left, right = sorted((side.edge, side.inner))
            box = QRectF(left, 0, right - left, laid.height)
        inset = 1.0
        laid.things[:0] = [
            Fill(rect=row, token="tint"),
            Fill(rect=box, token="sheet"),
            Fill(rect=box.adjusted(inset, inset, -inset, -inset), token="accent", frame=2.0),
        ]

    def _cell(self, laid: Laid, view: RowView, side: Side) -> int:
        cell = view.cells[side.number]
        # What is only read shows its answer alone, in focus or not.
        focused = view.focused == side.number and not view.sealed
        y = self.base(view)
        self.mark(laid, cell, side, y)
        if cell.kind == "sway" and not (focused and view.reason):
            return self.sway(laid, view, side, focused=focused)
        if cell.barred and not focused:
            self.note(laid, side, 0, y, cell.barred)
            return 0
        if cell.kind == "text":
            return 0
        if focused and view.typed is not None:
            return self._typed(laid, view, cell, side, y)
        if focused and cell.choices and cell.kind not in {"number", "pressure", "level", "words"}:
            return self.choosing(laid, view, cell, side, y)
        if focused and view.reason:
            return self.choosing(laid, view, cell, side, y)
        if cell.said:
            return self._answered(laid, view, cell, side, y)
        return self._blank(laid, view, cell, side, y, focused=focused)

    def _answered(self, laid: Laid, view: RowView, cell: CellView, side: Side, y: float) -> int:
        """Draw the answer alone, where its choice stood, tied to the spine by a rule."""
        theme = self.theme
        role: Role = "strong" if cell.line == "abnormal" else "secondary" if cell.line == "not_examined" else "label"
        out = 0.0
        if view.pair and cell.kind in {"choice", "power"} and len(cell.chosen) == 1 and self.shape != "folded":
            placed = self.placed(cell.choices, side.room)
            out, _row = placed[cell.chosen[0]]
        room = side.room - out
        lines = theme.wrapped(role, cell.said, max(room, theme.px(60))) if cell.said else [""]
        if cell.kind in {"text", "words"}:
            lines = lines[:4]
        for number, text in enumerate(lines):
            wide = theme.width(role, text)
            x = side.x(out, wide)
            base = y + number * theme.line("body")
            laid.things.append(Words(x=x, y=base, text=text, role=role, token="ink" if role != "secondary" else "ink2"))
            if number == len(lines) - 1 or cell.kind == "words":
                self.underline(laid, cell, x, base, wide)
        if out > 0:
            level = y + theme.px(5.5)
            near, far = side.inner - side.way * theme.px(6), side.x(out, 0)
            left, right = sorted((near, far))
            laid.things.append(Fill(rect=QRectF(left, level, right - left, 1), token="rule"))
        last = theme.width(role, lines[-1])
        if cell.traced:
            box = QRectF(side.x(out, last) - theme.px(5), y - theme.px(16), last + theme.px(10), theme.px(27))
            laid.things.append(Fill(rect=box, token="accent", frame=1.2, dash=True))
        height = round(y + (len(lines) - 1) * theme.line("body")) + theme.px(11)
        return max(height, self.beside(laid, cell, side, out + last, y + (len(lines) - 1) * theme.line("body")))

    def _blank(self, laid: Laid, view: RowView, cell: CellView, side: Side, y: float, *, focused: bool) -> int:
        theme = self.theme
        if view.sealed:
            if view.wanted or view.focused is not None:
                self.note(laid, side, 0, y, _(N_("blank")))
            return 0
        if (
            cell.choices
            and cell.kind in {"choice", "power", "joint_position"}
            and (view.wanted or view.focused is not None)
        ):
            self.listed(laid, cell, side, y)
            return 0
        if cell.kind in {"number", "pressure", "level", "joint_position"}:
            wide = theme.px(44)
            token = "ink" if focused else "hair"
            line = QRectF(side.x(0, wide), y + theme.px(5.5), wide, max(1.0, 1.2 * theme.scale))
            laid.things.append(Fill(rect=line, token=token))
            if focused:
                height = self.beside(laid, cell, side, wide, y)
                if cell.limit is None:
                    self.note(laid, side, wide + theme.px(15), y, cell.ask)
                return height
        return 0

    def _typed(self, laid: Laid, view: RowView, cell: CellView, side: Side, y: float) -> int:
        theme = self.theme
        text = view.typed or ""
        wide = theme.width("strong", text)
        room = max(wide + theme.px(4), theme.px(44))
        x = side.x(0, room) if side.way < 0 else side.x(0, wide)
        if side.way < 0:
            x = side.start - wide - theme.px(3)
        laid.things.append(Words(x=x, y=y, text=text, role="strong", token="ink"))
        line = QRectF(side.x(0, room), y + theme.px(5.5), room, max(1.0, 1.2 * theme.scale))
        laid.things.append(Fill(rect=line, token="ink"))
        caret = QRectF(x + wide + 1, y - theme.px(12), max(1.5, 1.5 * theme.scale), theme.px(16))
        laid.things.append(Fill(rect=caret, token="accent"))
        height = self.beside(laid, cell, side, room, y) if cell.limit is not None else 0
        if cell.limit is None:
            told = cell.said if cell.kind in {"joint_position", "level"} and cell.said else cell.ask
            self.note(laid, side, room + theme.px(15), y, told)
        return height
