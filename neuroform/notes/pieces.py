"""Pieces of a line: which face draws which letters, shaped or as they stand, and in which order they are seen."""

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from neuroform.errors import GlyphError
from neuroform.figures.shapes import Colour
from neuroform.language import N_, _
from neuroform.notes import faces

JOINERS = frozenset("\u200c\u200d")
_STRONG_RIGHT = frozenset({"R", "AL"})


@dataclass(frozen=True, kw_only=True)
class Style:
    """How text is set: size and leading in points."""

    size: float
    leading: float
    weight: faces.Weight = 400
    colour: Colour = "ink"


@dataclass(frozen=True, slots=True)
class Piece:
    """Part of a line that is drawn at once."""

    text: str
    style: Style
    width: float
    companion: str | None = None
    """The face that shapes it, where the main one can't."""
    right_to_left: bool = False


def clean(text: str) -> str:
    """Return text composed, without control characters, invisible marks and changes of direction.

    A narrow space becomes a usual one that does not break: the narrow one is hardly seen at the size of a paper.
    """
    if text.isascii() and text.isprintable():
        return text
    composed = unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\t", " ").replace("\u202f", "\xa0"))
    return "".join(letter for letter in composed if letter == "\n" or not _invisible(letter))


def _invisible(letter: str) -> bool:
    if letter in JOINERS or letter.isprintable():
        return False
    return unicodedata.category(letter) in {"Cc", "Cf", "Zl", "Zp"}


def begins_from_the_right(text: str) -> bool:
    """Tell whether the first letter that has a direction is read from the right."""
    if text.isascii():
        return False
    ways = (unicodedata.bidirectional(letter) for letter in text)
    return next((way for way in ways if way == "L" or way in _STRONG_RIGHT), "L") in _STRONG_RIGHT


def ordered(pieces: Sequence[Piece], whole: bool) -> list[Piece]:
    """Turn stretches read from the right round, spaces and numbers between them included."""
    if not any(piece.right_to_left for piece in pieces):
        return list(pieces)
    groups: list[list[Piece]] = []
    turned: list[bool] = []
    for piece in pieces:
        right = piece.right_to_left or (bool(turned) and turned[-1] and not _directed(piece))
        if groups and turned[-1] == right:
            groups[-1].append(piece)
        else:
            groups.append([piece])
            turned.append(right)
    for group, right in zip(groups, turned, strict=True):
        if right:
            tail = _trailing_space(group)
            group.reverse()
            group += tail
    if whole:
        groups.reverse()
    return [piece for group in groups for piece in group]


def _trailing_space(group: list[Piece]) -> list[Piece]:
    return [group.pop()] if group[-1].text.isspace() and len(group) > 1 else []


def _directed(piece: Piece) -> bool:
    return piece.right_to_left or any(unicodedata.bidirectional(letter) == "L" for letter in piece.text)


def merged(pieces: Iterable[Piece]) -> list[Piece]:
    """Return the pieces of a line with neighbours of one style and face as one."""
    joined: list[Piece] = []
    alike: list[Piece] = []
    for piece in pieces:
        if alike and (piece.companion is not None or piece.style != alike[0].style):
            joined.append(_joined(alike))
            alike = []
        if piece.companion is None:
            alike.append(piece)
        else:
            joined.append(piece)
    return [*joined, _joined(alike)] if alike else joined


def _joined(alike: list[Piece]) -> Piece:
    if len(alike) == 1:
        return alike[0]
    return Piece("".join([each.text for each in alike]), alike[0].style, sum([each.width for each in alike]))


@lru_cache(maxsize=4096)
def plain(text: str, style: Style) -> Piece:
    """Return text that the main face draws as it stands, as a piece."""
    advances = faces.advances(style.weight)
    return Piece(text, style, sum(advances[ord(letter)] for letter in text) * style.size / faces.UNITS)


def pieces_of(word: str, style: Style) -> list[Piece]:
    """Return a word as pieces, each in a face that holds it."""
    if _is_plain(word, style.weight):
        return [plain(word, style)]
    whole = _shaping_face(word, style)
    if whole is not None:
        return [_shaped(word, style, whole)]
    pieces: list[Piece] = []
    for face, letters in _by_face(word, style):
        if face == faces.MAIN[style.weight] and not any(map(unicodedata.combining, letters)):
            pieces.append(plain(letters, style))
        else:
            pieces.append(_shaped(letters, style, face))
    return pieces


@lru_cache(maxsize=4096)
def _is_plain(word: str, weight: faces.Weight) -> bool:
    """Tell whether the main face draws a word as it stands, letter after letter."""
    held = faces.holds(faces.MAIN[weight])
    return all(ord(letter) in held for letter in word) and not any(map(unicodedata.combining, word))


def _shaping_face(word: str, style: Style) -> str | None:
    """Return the face that draws the whole word, where it needs shaping and holds no digits to be turned."""
    if any(letter.isdigit() for letter in word):
        return None
    for face in (*faces.COMPANIONS, faces.MAIN[style.weight]):
        if all(ord(letter) in faces.holds(face) or letter in JOINERS for letter in word):
            return face
    return None


def _by_face(word: str, style: Style) -> Iterator[tuple[str, str]]:
    letters, face = "", ""
    for letter in word:
        follows = face and (letter in JOINERS or unicodedata.combining(letter)) and ord(letter) in faces.holds(face)
        own = face if follows else _face_of(letter, style)
        if own != face and letters:
            yield face, letters
            letters = ""
        letters, face = letters + letter, own
    if letters:
        yield face, letters


def _face_of(letter: str, style: Style) -> str:
    for face in (faces.MAIN[style.weight], *faces.COMPANIONS):
        if ord(letter) in faces.holds(face):
            return face
    shown = f"“{letter}” (U+{ord(letter):04X})" if letter.isprintable() else f"U+{ord(letter):04X}"
    raise GlyphError(
        _(N_("The paper can't show {character}: no typeface of the program holds it.")).format(character=shown),
        _(N_("Write it with other letters.")),
        character=letter,
    )


def _shaped(word: str, style: Style, face: str) -> Piece:
    right = any(unicodedata.bidirectional(letter) in _STRONG_RIGHT for letter in word)
    return Piece(word, style, faces.shape(word, face).advance * style.size / faces.UNITS, face, right)
