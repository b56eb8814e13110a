"""Colours, type and measures of the window, light and dark, at every text size."""

from bisect import bisect_right
from dataclasses import dataclass
from typing import Literal

from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetricsF, QPalette

Role = Literal["title", "person", "body", "label", "strong", "secondary", "section", "key", "tile", "timer"]

FAMILY = "IBM Plex Sans"
FACES = ("IBMPlexSans-Regular.ttf", "IBMPlexSans-Medium.ttf", "IBMPlexSans-SemiBold.ttf")
OTHER_SCRIPTS = ("IBMPlexSansArabic-Regular.ttf", "IBMPlexSansHebrew-Regular.ttf", "IBMPlexSansDevanagari-Regular.ttf")

LIGHT = {
    "ground": "#E9E9E6",
    "sheet": "#FBFBFA",
    "ink": "#1B1A1F",
    "ink2": "#413F47",
    "quiet": "#5F5C67",
    "rule": "#85818C",
    "hair": "#D3D1CD",
    "accent": "#6B2358",
    "tint": "#F3E6EF",
    "urgent": "#8F1D1D",
    "inv": "#FFFFFF",
    "shade": "#DEDDDA",
    "tile": "#85818C",
}
DARK = {
    "ground": "#151417",
    "sheet": "#1E1D21",
    "ink": "#F1EFEB",
    "ink2": "#CFCCD3",
    "quiet": "#A8A4AF",
    "rule": "#817D89",
    "hair": "#38363D",
    "accent": "#E6A9D6",
    "tint": "#372432",
    "urgent": "#FF9A94",
    "inv": "#151417",
    "shade": "#2A292E",
    "tile": "#817D89",
}


@dataclass(frozen=True, kw_only=True)
class Type:
    """One size of type at 100 and at 200 % text, in pixels, with the height of its line."""

    size: tuple[float, float]
    line: tuple[float, float]
    weight: int


TYPES: dict[Role, Type] = {
    "title": Type(size=(20, 36), line=(26, 44), weight=600),
    "person": Type(size=(16, 30), line=(22, 38), weight=600),
    "body": Type(size=(14, 28), line=(20, 40), weight=400),
    "label": Type(size=(14, 28), line=(20, 40), weight=500),
    "strong": Type(size=(14, 28), line=(20, 40), weight=600),
    "secondary": Type(size=(13, 25), line=(18, 34), weight=400),
    "section": Type(size=(13, 25), line=(18, 34), weight=600),
    "key": Type(size=(12, 25), line=(16, 32), weight=600),
    "tile": Type(size=(11, 22), line=(14, 28), weight=400),
    "timer": Type(size=(40, 64), line=(48, 76), weight=600),
}


class Theme:
    """What a widget needs to paint: colours by token, fonts and widths by role, measures by the text scale."""

    def __init__(self, *, dark: bool = False, scale: float = 1.0) -> None:
        self.dark = dark
        self.scale = scale
        self._colours = {name: QColor(value) for name, value in (DARK if dark else LIGHT).items()}
        self._fonts: dict[Role, QFont] = {}
        self._metrics: dict[Role, QFontMetricsF] = {}
        self._widths: dict[tuple[Role, str], float] = {}

    def colour(self, token: str) -> QColor:
        """Return the colour of a token."""
        return self._colours[token]

    def px(self, units: float) -> int:
        """Return a measure of the look in whole pixels at this text scale."""
        return round(units * self.scale)

    def font(self, role: Role) -> QFont:
        """Return the font of a role."""
        if role not in self._fonts:
            self._fonts[role] = _font(_between(TYPES[role].size, self.scale), TYPES[role].weight)
        return self._fonts[role]

    def line(self, role: Role) -> int:
        """Return the height of a line in a role."""
        return _between(TYPES[role].line, self.scale)

    def metrics(self, role: Role) -> QFontMetricsF:
        """Return the measures of a role's font."""
        if role not in self._metrics:
            self._metrics[role] = QFontMetricsF(self.font(role))
        return self._metrics[role]

    def width(self, role: Role, text: str) -> float:
        """Return how wide a text stands in a role."""
        key = (role, text)
        if key not in self._widths:
            if len(self._widths) > 4000:
                self._widths.clear()
            self._widths[key] = self.metrics(role).horizontalAdvance(text)
        return self._widths[key]

    def wrapped(self, role: Role, text: str, width: float) -> list[str]:
        """Break a text into lines no wider than `width`; a word that alone is wider is broken within."""
        lines: list[str] = []
        space = self.width(role, " ")
        for paragraph in text.split("\n"):
            words: list[str] = []
            taken = 0.0
            for word in paragraph.split(" "):
                wide = self.width(role, word)
                if words and taken + space + wide > width:
                    lines.append(" ".join(words))
                    words, taken = [], 0.0
                while wide > width and len(word) > 1:
                    fits = max(1, self._fits(role, word, width))
                    lines.append(word[:fits])
                    word = word[fits:]
                    wide = self.width(role, word)
                taken += wide + (space if words else 0.0)
                words.append(word)
            lines.append(" ".join(words))
        return lines

    def fitted(self, role: Role, text: str, width: float) -> str:
        """Return the text, cut with an ellipsis where it is wider than `width`: after a word, if one fits."""
        if self.width(role, text) <= width:
            return text
        fits = self._fits(role, text, width, end="…")
        if fits <= 0:
            return ""
        kept = text[:fits]
        if text[fits : fits + 1] != " " and " " in kept.strip():
            kept = kept.rpartition(" ")[0]
        return kept.rstrip(" ,;:.…") + "…"

    def _fits(self, role: Role, text: str, width: float, end: str = "") -> int:
        """Return how many letters of a text, less than all, fit with an `end`: found by halving."""
        wide = self.metrics(role).horizontalAdvance
        return bisect_right(range(len(text)), width, key=lambda letters: wide(text[:letters] + end)) - 1

    def palette(self) -> QPalette:
        """Return the palette for what Qt draws itself."""
        palette = QPalette()
        roles = QPalette.ColorRole
        for role, token in (
            (roles.Window, "ground"),
            (roles.Base, "sheet"),
            (roles.AlternateBase, "shade"),
            (roles.WindowText, "ink"),
            (roles.Text, "ink"),
            (roles.ButtonText, "ink"),
            (roles.Button, "ground"),
            (roles.PlaceholderText, "quiet"),
            (roles.Highlight, "accent"),
            (roles.Accent, "accent"),
            (roles.Link, "accent"),
            (roles.LinkVisited, "accent"),
            (roles.HighlightedText, "inv"),
            (roles.BrightText, "inv"),
            (roles.ToolTipBase, "sheet"),
            (roles.ToolTipText, "ink"),
            (roles.Light, "sheet"),
            (roles.Midlight, "hair"),
            (roles.Mid, "rule"),
            (roles.Dark, "rule"),
            (roles.Shadow, "ink"),
        ):
            palette.setColor(role, self.colour(token))
        for role in (roles.WindowText, roles.Text, roles.ButtonText):
            palette.setColor(QPalette.ColorGroup.Disabled, role, self.colour("quiet"))
        return palette


def thin_bar(theme: Theme) -> str:
    """Return the style of a scroll bar: a thin upright without arrows."""
    return (
        f"QScrollBar{{background:transparent;width:{theme.px(5)}px;margin:0;border:0}}"
        f"QScrollBar::handle{{background:{theme.colour('rule').name()};min-height:24px}}"
        "QScrollBar::add-line,QScrollBar::sub-line,QScrollBar::add-page,QScrollBar::sub-page"
        "{background:transparent;height:0;border:0}"
    )


def _between(sizes: tuple[float, float], scale: float) -> int:
    at_one, at_two = sizes
    return round(at_one + (at_two - at_one) * (scale - 1))


def _font(size: int, weight: int) -> QFont:
    font = QFont(FAMILY)
    font.setPixelSize(max(size, 1))
    font.setWeight(QFont.Weight(weight))
    return font


def load_faces(names: tuple[str, ...] = FACES) -> None:
    """Make the shipped faces known to Qt; raises ShippedFileError where one is missing."""
    from neuroform import shipped

    for name in names:
        QFontDatabase.addApplicationFont(str(shipped.path("resources", "fonts", name)))
