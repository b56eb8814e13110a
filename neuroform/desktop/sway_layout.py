"""Lays out how much and where to someone swayed: the cross, and outward of it the answer or the choices."""

from dataclasses import replace

from PySide6.QtCore import QRectF

from neuroform.desktop.laid import Drawn, Fill, Hit, Laid, Side, Words
from neuroform.desktop.laying import SECOND, Laying
from neuroform.desktop.row_view import CellView, RowView
from neuroform.desktop.theme import Role
from neuroform.figures.shapes import Shape, Text
from neuroform.figures.sway_cross import Trial, sway_cross
from neuroform.language import N_, _

SWAY = 118
CROSS = 177 - 122
"""From where answers begin to the middle of the cross."""
BESIDE = 262 - 122
SCALE = 1.35
BASE = 19
LETTER_FROM = 30
"""How far from the middle of the cross the letters of the sides stand, at least."""


class SwayLayout(Laying):
    """Adds the sway cross to a layout."""

    def sway_height(self, view: RowView) -> int:
        """Return how high a row of sways is."""
        return self.theme.px(SWAY if view.focused is None or self.shape == "folded" else SWAY + 14)

    def sway(self, laid: Laid, view: RowView, side: Side, *, focused: bool) -> int:
        """Draw the cross of one trial, and its answer or choices."""
        theme = self.theme
        cell = view.cells[side.number]
        folded = self.shape == "folded"
        scale = SCALE * theme.scale * (0.8 if folded else 1.0)
        away = theme.px(CROSS)
        centre_x = side.start + side.way * away if not folded else side.start + side.way * theme.px(44)
        centre_y = self.sway_height(view) / 2
        if folded and focused:
            return self._sway_listed(laid, view, side)
        self._cross(laid, cell, centre_x, centre_y, scale, side)
        out = theme.px(BESIDE)
        y = centre_y + theme.px(5)
        if folded:
            return self._sway_below(laid, view, side)
        if cell.barred:
            self.note(laid, side, out, y, cell.barred)
        elif focused:
            return self._sway_choices(laid, view, side, out)
        elif cell.said:
            beyond = Side(
                number=side.number,
                way=side.way,
                start=side.start + side.way * out,
                room=side.room - out,
                edge=side.edge,
                inner=side.inner,
                mark=side.mark,
            )
            self._sway_answer(laid, cell, beyond, y)
        elif view.sealed:
            self.note(laid, side, out, y, _(N_("blank")))
        return 0

    def _cross(self, laid: Laid, cell: CellView, x: float, y: float, scale: float, side: Side) -> None:
        trial = cell.trial or Trial()
        drawn = sway_cross(trial, names=True, text_scale=11 / 8 / SCALE)
        shapes = tuple(_apart(s) for s in drawn.shapes if not (isinstance(s, Text) and s.y > 50))
        laid.things.append(Drawn(shapes=shapes, x=x, y=y, scale=scale))
        codes = [choice.code for choice in cell.directions]
        away = {"forward": (0, 20), "backward": (0, -20), "right": (-20, 0), "left": (20, 0)}
        for code, (dx, dy) in away.items():
            if code in codes:
                tile = QRectF(x + (dx - 9) * scale, y + (dy - 9) * scale, 18 * scale, 18 * scale)
                number = len(cell.choices) + codes.index(code)
                laid.hits.append(Hit(rect=tile, cell=side.number, choice=number))
        middle = QRectF(x - 9 * scale, y - 9 * scale, 18 * scale, 18 * scale)
        if cell.choices and cell.choices[0].code == "none":
            laid.hits.append(Hit(rect=middle, cell=side.number, choice=0))

    def _sway_answer(self, laid: Laid, cell: CellView, side: Side, y: float) -> None:
        theme = self.theme
        role: Role = "strong" if cell.line == "abnormal" else "secondary" if cell.line == "not_examined" else "label"
        lines = theme.wrapped(role, cell.said, side.room)
        y -= (len(lines) - 1) * theme.line(role) / 2
        for number, text in enumerate(lines):
            wide = theme.width(role, text)
            x = side.x(0, wide)
            laid.things.append(Words(x=x, y=y + number * theme.line(role), text=text, role=role, token="ink"))
        wide = theme.width(role, lines[-1])
        last = y + (len(lines) - 1) * theme.line(role)
        self.underline(laid, cell, side.x(0, wide), last, wide)
        if cell.traced:
            box = QRectF(side.x(0, wide) - theme.px(5), last - theme.px(16), wide + theme.px(10), theme.px(27))
            laid.things.append(Fill(rect=box, token="accent", frame=1.2, dash=True))
        self.beside(laid, cell, side, wide, last)

    def _sway_choices(self, laid: Laid, view: RowView, side: Side, out: float) -> int:
        """List the grades, and below them the directions, outward of the cross."""
        theme = self.theme
        cell = view.cells[side.number]
        room = side.room - out
        y = float(theme.px(24))
        for choices, offset, chosen in (
            (cell.choices, 0, cell.chosen),
            (cell.directions, len(cell.choices), () if cell.direction is None else (cell.direction,)),
        ):
            placed = self.placed(choices, room)
            for number, (choice, (along, row)) in enumerate(zip(choices, placed, strict=True)):
                self.choice(
                    laid,
                    view,
                    cell,
                    side,
                    number,
                    choice,
                    out + along,
                    y + row * theme.px(SECOND),
                    offset=offset,
                    chosen=number in chosen,
                )
            y += theme.px(SECOND + 4) + max(row for _along, row in placed) * theme.px(SECOND)
        return max(theme.px(SWAY), round(y - theme.px(10)))

    def _sway_below(self, laid: Laid, view: RowView, side: Side) -> int:
        """Say the answer below the cross, where there is no room beside it."""
        theme = self.theme
        cell = view.cells[side.number]
        told = cell.said or cell.barred or (_(N_("blank")) if view.sealed else "")
        if not told:
            return theme.px(SWAY)
        y = float(theme.px(SWAY + 18))
        lines = theme.wrapped("label", told, side.room)
        for number, text in enumerate(lines):
            wide = theme.width("label", text)
            base = y + number * theme.line("label")
            laid.things.append(Words(x=side.x(0, wide), y=base, text=text, role="label", token="ink"))
            self.underline(laid, cell, side.x(0, wide), base, wide)
        return round(y + (len(lines) - 1) * theme.line("label")) + theme.px(15)

    def _sway_listed(self, laid: Laid, view: RowView, side: Side) -> int:
        """List the grades alone, and once one is given the directions, where there is room for no more."""
        cell = view.cells[side.number]
        y = float(self.theme.px(BASE))
        grades = len(cell.choices)
        if not cell.chosen or (view.pointed is not None and view.pointed < grades):
            return self.stacked(laid, view, cell, cell.choices, side, y)
        said = cell.choices[cell.chosen[0]].words
        wide = self.theme.width("strong", said)
        laid.things.append(Words(x=side.x(0, wide), y=y, text=said, role="strong", token="ink"))
        self.underline(laid, cell, side.x(0, wide), y, wide)
        y += self.theme.px(27)
        chosen = () if cell.direction is None else (cell.direction,)
        return self.stacked(laid, view, cell, cell.directions, side, y, offset=grades, chosen=chosen)


def _apart(shape: Shape) -> Shape:
    """Set the letters of the sides off the bar that says where balance was lost."""
    if isinstance(shape, Text) and abs(shape.x) > LETTER_FROM:
        return replace(shape, x=shape.x * 1.09)
    return shape
