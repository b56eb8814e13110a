"""Lays out a long list of words: columns, the key before each word."""

from PySide6.QtCore import QRectF

from neuroform.desktop.answering import Choice
from neuroform.desktop.laid import Fill, Hit, Laid, Side, Words
from neuroform.desktop.laying import Laying
from neuroform.desktop.row_view import RowView
from neuroform.desktop.theme import Role
from neuroform.language import N_, _

GRID = 27
BASE = 19
HEAD = 30
"""Where the grid begins, below the label."""


class WordGrid(Laying):
    """Adds the long list to a layout."""

    def grid(self, laid: Laid, view: RowView, side: Side) -> None:
        """Draw a long list: none of them, then columns of words, the key before each."""
        theme = self.theme
        cell = view.cells[0]
        y = self.theme.px(BASE)
        self.mark(laid, cell, side, y)
        told = cell.said or ""
        shown = theme.fitted("label", told, side.room)
        laid.things.append(Words(x=side.start, y=y, text=shown, role="label", token="ink"))
        if shown:
            self.underline(laid, cell, side.start, y, theme.width("label", shown))
        words = list(enumerate(cell.choices))
        none = [(n, c) for n, c in words if c.key == "0"]
        rest = [(n, c) for n, c in words if c.key != "0"]
        if self.shape == "folded" and view.pending:
            rest = [(n, c) for n, c in rest if c.key.startswith(view.pending)]
        keys = max(theme.width("key", c.key) for _n, c in words) + theme.px(9)
        left, room = self.margin + theme.px(12), self.width - 2 * (self.margin + theme.px(12))
        by_key = [rest[n : n + 8] for n in range(0, len(rest), 8)]
        columns = by_key if len(rest) > 9 and self._fits(by_key, keys, room) else self._columns(rest, keys, room)
        first = theme.px(HEAD + 20)
        top = first + theme.px(GRID)
        x = float(left)
        for column in columns:
            wide = max(theme.width("strong", c.words) for _n, c in column) + keys
            for row, (number, choice) in enumerate(column):
                self._word(laid, view, number, choice, x, top + row * theme.px(GRID), keys, wide)
            x += wide + theme.px(24)
        rows = max(len(column) for column in columns)
        if none:
            self._word(laid, view, none[0][0], none[0][1], left, first, keys, keys + theme.px(160))
        else:
            laid.things.append(Words(x=left, y=first, text="0", role="key", token="accent"))
            none_words = _(N_("none of them"))
            laid.things.append(Words(x=left + keys, y=first, text=none_words, role="body", token="ink"))
            rect = QRectF(left, first - theme.px(16), keys + theme.width("body", none_words), theme.px(GRID))
            laid.hits.append(Hit(rect=rect, cell=0, choice=len(cell.choices)))
        laid.height = round(top + (rows - 1) * theme.px(GRID) + theme.px(14))

    def _fits(self, columns: list[list[tuple[int, Choice]]], keys: float, room: float) -> bool:
        theme = self.theme
        wides = [max(theme.width("strong", c.words) for _n, c in column) + keys for column in columns]
        return sum(wides) + theme.px(24) * (len(columns) - 1) <= room

    def _columns(self, words: list[tuple[int, Choice]], keys: float, room: float) -> list[list[tuple[int, Choice]]]:
        for count in range(min(5, len(words)), 1, -1):
            deep = -(-len(words) // count)
            columns = [words[n : n + deep] for n in range(0, len(words), deep)]
            if self._fits(columns, keys, room):
                return columns
        return [words]

    def _word(
        self, laid: Laid, view: RowView, number: int, choice: Choice, x: float, y: float, keys: float, wide: float
    ) -> None:
        theme = self.theme
        cell = view.cells[0]
        picked = number in cell.chosen
        role: Role = "strong" if picked else "body"
        live = not view.pending or choice.key.startswith(view.pending)
        laid.things.append(Words(x=x, y=y, text=choice.key, role="key", token="accent" if live else "quiet"))
        text = theme.fitted(role, choice.words, self.width - x - keys - self.margin - theme.px(12))
        token = "ink" if live else "quiet"
        laid.things.append(Words(x=x + keys, y=y, text=text, role=role, token=token))
        if picked:
            line = QRectF(x + keys, y + theme.px(4), theme.width(role, text), 1.6 * theme.scale)
            laid.things.append(Fill(rect=line, token="ink"))
        if view.pointed == number:
            box = QRectF(x - theme.px(4), y - theme.px(15), keys + theme.width(role, text) + theme.px(8), theme.px(23))
            laid.things.append(Fill(rect=box, token="accent", frame=1.2))
        laid.hits.append(Hit(rect=QRectF(x, y - theme.px(17), wide, theme.px(GRID)), cell=0, choice=number))
