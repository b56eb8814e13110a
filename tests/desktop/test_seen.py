"""What is seen: contrast of every word as it is rendered, where the focus is, and states that need no colour."""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from types import ModuleType
from typing import Any

import pytest
from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter
from PySide6.QtWidgets import QApplication

from neuroform.exam.examination import SECTIONS
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import put

LOOKS = [(False, (1280, 800), 1.0), (True, (1280, 800), 1.0), (False, (1024, 700), 2.0), (True, (1024, 700), 2.0)]
LEAST = 4.5
"""WCAG 2.2, success criterion 1.4.3."""
LEAST_OF_A_FRAME = 3.0
"""WCAG 2.2, success criterion 1.4.11."""


@dataclass(frozen=True, kw_only=True)
class Painted:
    """A text and where it was painted in the picture."""

    text: str
    rect: QRect


@pytest.fixture
def painted(monkeypatch: pytest.MonkeyPatch) -> list[Painted]:
    """Give the texts painted since, with their places."""
    seen: list[Painted] = []
    draw = QPainter.drawText

    def drawn(painter: QPainter, *given: Any) -> Any:
        if len(given) == 2 and isinstance(given[0], QPointF) and given[1].strip():
            at, text = given
            measures = QFontMetricsF(painter.font())
            box = QRectF(
                at.x(), at.y() - measures.capHeight(), measures.horizontalAdvance(text), measures.capHeight() + 1
            )
            seen.append(Painted(text=text, rect=painter.deviceTransform().mapRect(box).toAlignedRect()))
        return draw(painter, *given)

    monkeypatch.setattr(QPainter, "drawText", drawn)
    return seen


def luminance(colour: QColor) -> float:
    def part(value: float) -> float:
        return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4

    return 0.2126 * part(colour.redF()) + 0.7152 * part(colour.greenF()) + 0.0722 * part(colour.blueF())


def contrast(one: int, other: int) -> float:
    """Return the contrast of two pixels as WCAG 2.2 defines it."""
    first, second = luminance(QColor(one)), luminance(QColor(other))
    return (max(first, second) + 0.05) / (min(first, second) + 0.05)


def pixels(picture: QImage, rect: QRect) -> Counter[int]:
    """Count the colours of a part of a picture."""
    within = rect.intersected(picture.rect())
    return Counter(
        picture.pixel(x, y)
        for x in range(within.left(), within.right() + 1)
        for y in range(within.top(), within.bottom() + 1)
    )


@pytest.mark.parametrize(("dark", "size", "scale"), LOOKS)
def test_every_word_has_its_contrast_as_it_is_rendered(
    opened: Callable[..., Any],
    kit: ModuleType,
    painted: list[Painted],
    dark: bool,
    size: tuple[int, int],
    scale: float,
) -> None:
    window = opened(kit.half_done(), dark=dark, size=size, scale=scale)
    weak: dict[str, float] = {}
    measured = 0
    for section in SECTIONS:
        window.examination.entering.open(section)
        QApplication.processEvents()
        painted.clear()
        picture = window.grab().toImage()
        for each in painted:
            colours = pixels(picture, each.rect)
            if len(colours) < 2:
                # Painted where something else covers it, or past an edge.
                continue
            ground = colours.most_common(1)[0][0]
            found = max(contrast(ground, colour) for colour in colours)
            measured += 1
            # A thin stroke of small type never quite fills a pixel; it is given a tenth.
            if found < LEAST * (0.9 if scale < 2 else 1.0):
                weak[each.text] = round(found, 2)
    assert measured > 200
    assert weak == {}


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_focus_is_seen_wherever_tab_leads(opened: Callable[..., Any], kit: ModuleType, dark: bool) -> None:
    window = opened(kit.half_done(), dark=dark)
    window.examination.entering.open("reflexes")
    accent = window.theme.colour("accent").rgb()
    start = QApplication.focusWidget()
    for _step in range(60):
        widget = QApplication.focusWidget()
        assert widget is not None
        QApplication.processEvents()
        picture = window.grab().toImage()
        where = QRect(widget.mapTo(window, widget.rect().topLeft()), widget.size())
        colours = pixels(picture, where)
        assert colours[accent] >= 40, widget
        assert contrast(accent, colours.most_common(1)[0][0]) >= LEAST_OF_A_FRAME, widget
        kit.keys(window, ["Tab"])
        if QApplication.focusWidget() is start:
            return
    raise AssertionError("Tab does not come back")


@pytest.mark.parametrize(("size", "scale"), [((1280, 800), 1.0), ((1024, 700), 2.0)])
@pytest.mark.parametrize("section", ["context", "standing", "sensation", "conclusion"])
def test_nothing_holds_the_keyboard(
    opened: Callable[..., Any], kit: ModuleType, section: str, size: tuple[int, int], scale: float
) -> None:
    window = opened(kit.half_done(), size=size, scale=scale)
    window.examination.entering.open(section)
    QApplication.processEvents()
    forth = around(window, Qt.Key.Key_Tab)
    back = around(window, Qt.Key.Key_Backtab)
    assert len(forth) >= 4
    assert set(map(id, back)) == set(map(id, forth))


def around(window: Any, key: Qt.Key) -> list[Any]:
    """Return everything Tab, or Tab with Shift, leads to until it is where it began."""
    from PySide6.QtTest import QTest

    start = QApplication.focusWidget()
    reached: list[Any] = []
    for _step in range(80):
        target = QApplication.focusWidget()
        assert target is not None
        QTest.keyClick(target, key)
        reached.append(QApplication.focusWidget())
        if reached[-1] is start:
            return reached
    raise AssertionError(f"the keyboard stays with {reached[-1]}")


ITEM = "reflexes.ankle"
BOTH = {
    "blank": None,
    "answered": Examined(value="normal"),
    "abnormal": Examined(value="absent"),
    "not examined": NotExamined(not_examined="declined"),
    "copied": Examined(value="normal", entered="copied"),
    "with one key": Examined(value="normal", entered="together"),
}


def test_grey_picture_of_the_item_line_tells_every_state(opened: Callable[..., Any], kit: ModuleType) -> None:
    pictures: dict[str, bytes] = {}
    for name, found in BOTH.items():
        exam = kit.blank_exam()
        if found is not None:
            exam = put(put(exam, f"{ITEM}.right", found), f"{ITEM}.left", found)
        window = opened(exam)
        window.examination.entering.go("reflexes.knee.right")
        QApplication.processEvents()
        grey = window.strip.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
        pictures[name] = bytes(grey.constBits())
    assert len(set(pictures.values())) == len(BOTH)


def test_grey_picture_tells_the_urgencies_and_the_marks_apart() -> None:
    from neuroform.desktop.drawing import draw
    from neuroform.desktop.theme import Theme
    from neuroform.figures.marks import MARK_WORDS, URGENCY_WORDS, mark_shapes, urgent_frame

    theme = Theme()
    for drawings in ([mark_shapes(mark) for mark in MARK_WORDS], [urgent_frame(code).shapes for code in URGENCY_WORDS]):
        seen = set()
        for shapes in drawings:
            picture = QImage(40, 40, QImage.Format.Format_RGB32)
            picture.fill(theme.colour("sheet"))
            painter = QPainter(picture)
            draw(painter, theme, shapes, 20, 12, scale=1.0)
            painter.end()
            seen.add(bytes(picture.convertToFormat(QImage.Format.Format_Grayscale8).constBits()))
        assert len(seen) == len(drawings)
