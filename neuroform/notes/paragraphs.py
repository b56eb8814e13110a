"""The one function that makes every line of a paper's text: cleaned, checked against the faces, broken to a width.

Text is never read as markup: it is drawn as the letters it holds, so nothing in it can open a file or end a tag.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from neuroform.notes.pieces import (
    JOINERS,
    Piece,
    Style,
    begins_from_the_right,
    clean,
    merged,
    ordered,
    pieces_of,
    plain,
)
from neuroform.notes.tagging import Tag

Align = Literal["left", "right", "middle"]

_WORDS_LEFT = 4
"""Spaces a line needs to spare a word."""
_TOKENS = re.compile(r"\n|[ \t]+|[^ \t\n]+")


@dataclass(frozen=True)
class Run:
    """Some text in one style."""

    text: str
    style: Style


@dataclass(frozen=True, kw_only=True)
class Line:
    """Pieces from left to right as they are seen."""

    pieces: tuple[Piece, ...]
    width: float


@dataclass(frozen=True, kw_only=True)
class Paragraph:
    """Checked text, broken into lines, with the tag it carries in the structure tree."""

    lines: tuple[Line, ...]
    leading: float
    width: float
    tag: Tag
    align: Align

    @property
    def height(self) -> float:
        """Leading times lines."""
        return self.leading * len(self.lines)

    @property
    def widest(self) -> float:
        """Width of the longest line."""
        return max((line.width for line in self.lines), default=0.0)


def paragraph(
    text: str | Sequence[Run],
    style: Style,
    *,
    width: float,
    tag: Tag = "P",
    align: Align = "left",
) -> Paragraph:
    """Make a paragraph of `width` points.

    One text runs the way its first letter does; runs put together by the program run from the left, whatever a name
    among them does.

    Control characters are dropped, a newline begins a line. Raises GlyphError for a character that no shipped face
    holds: a paper never shows a blank where something was written.
    """
    if isinstance(text, str):
        lines = _set((Run(text, style),), width, begins_from_the_right(text))
    else:
        lines = _set(tuple(text), width, False)
    return Paragraph(lines=lines, leading=style.leading, width=width, tag=tag, align=align)


@lru_cache(maxsize=1024)
def _set(runs: tuple[Run, ...], width: float, turned: bool) -> tuple[Line, ...]:
    """Break runs into lines; a paper says most of what the one before it said."""
    return tuple(_line(pieces, turned) for pieces in _accompanied(list(_broken(_tokens(runs), width))))


def _accompanied(lines: list[list[Piece]]) -> list[list[Piece]]:
    """Give the last line a word of the line before it where it would hold one word alone."""
    if len(lines) < 2 or not lines[-1] or not lines[-2] or any(piece.text.isspace() for piece in lines[-1]):
        return lines
    before = lines[-2]
    # A line that ends with a space was broken for want of room, and not where a paragraph ends.
    spaces = [number for number, piece in enumerate(before) if piece.text == " "]
    if len(spaces) < _WORDS_LEFT or spaces[-1] != len(before) - 1:
        return lines
    place = spaces[-2] + 1
    moved = [*before[place:], *lines[-1]]
    if sum(piece.width for piece in moved) > sum(piece.width for piece in before[:place]):
        return lines
    return [*lines[:-2], before[:place], moved]


def width_of(text: str, style: Style) -> float:
    """Return how wide cleaned text is on one line."""
    return sum(piece.width for piece in pieces_of(clean(text), style))


def _tokens(runs: Iterable[Run]) -> Iterator[tuple[str, list[Piece]]]:
    """Yield ("word" | "space" | "break", pieces); a word may go on in the next run."""
    word: list[Piece] = []
    for run in runs:
        for token in _TOKENS.findall(clean(run.text)):
            if token[0] in "\n \t":
                if word:
                    yield "word", word
                    word = []
                yield ("break", []) if token == "\n" else ("space", [plain(" ", run.style)])
            else:
                word += pieces_of(token, run.style)
    if word:
        yield "word", word


def _broken(tokens: Iterable[tuple[str, list[Piece]]], width: float) -> Iterator[list[Piece]]:
    line: list[Piece] = []
    used = 0.0
    space: Piece | None = None
    for kind, pieces in tokens:
        if kind == "break":
            yield line
            line, used, space = [], 0.0, None
            continue
        if kind == "space":
            space = pieces[0] if line else None
            continue
        needed = pieces[0].width if len(pieces) == 1 else sum(piece.width for piece in pieces)
        gap = space.width if space is not None else 0.0
        if line and used + gap + needed > width + 0.01:
            yield [*line, space] if space is not None else line
            line, used, space, gap = [], 0.0, None, 0.0
        if space is not None:
            line.append(space)
            space = None
        if needed <= width + 0.01:
            line += pieces
            used += gap + needed
            continue
        for fitting, more in _split(pieces, width):
            line += fitting
            if more:
                yield line
                line, used, gap = [], 0.0, 0.0
            else:
                used += gap + sum(piece.width for piece in fitting)
    yield line


def _split(pieces: list[Piece], width: float) -> Iterator[tuple[list[Piece], bool]]:
    """Cut a word that is wider than a line; yield (part, whether more follows)."""
    part: list[Piece] = []
    used = 0.0
    for piece in pieces:
        for letters in _graphemes(piece.text):
            small = pieces_of(letters, piece.style)
            needed = sum(each.width for each in small)
            if part and used + needed > width:
                yield part, True
                part, used = [], 0.0
            part += small
            used += needed
    yield part, False


def _graphemes(text: str) -> Iterator[str]:
    start = 0
    for index in range(1, len(text) + 1):
        if index == len(text) or not (unicodedata.combining(text[index]) or text[index] in JOINERS):
            yield text[start:index]
            start = index


def _line(pieces: Sequence[Piece], turned: bool) -> Line:
    joined = merged(ordered(pieces, turned))
    width = sum(piece.width for piece in joined)
    if joined and joined[-1].text.endswith(" "):
        width -= plain(" ", joined[-1].style).width
    return Line(pieces=tuple(joined), width=width)
