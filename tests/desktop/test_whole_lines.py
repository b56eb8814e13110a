"""What scrolls shows whole lines, and says that there is more."""

from collections.abc import Callable
from types import ModuleType
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtWidgets import QApplication

from neuroform.desktop.whole_lines import lines, whole_from, whole_to

SMALL: dict[str, Any] = {"size": (1024, 700), "scale": 2.0}
SPANS = st.lists(st.tuples(st.integers(0, 300), st.integers(1, 40)).map(lambda s: (s[0], s[0] + s[1])), max_size=20)


@given(spans=SPANS, y=st.integers(0, 340))
def test_an_end_cuts_no_line(spans: list[tuple[float, float]], y: int) -> None:
    above, below = whole_to(spans, y), whole_from(spans, y)
    assert above <= y <= below
    for end in (above, below):
        assert not [span for span in spans if span[0] < end < span[1]]


def cut_lines(window: Any) -> list[tuple[float, float]]:
    """Return the lines of the row in focus that stand in sight in part."""
    sheet = window.examination.sheet
    row = sheet.page().focused_widget()
    top = sheet.verticalScrollBar().value() - row.y()
    foot = top + (sheet._curtain.y() if sheet._curtain.isVisible() else sheet.viewport().height())
    return [
        (above, below)
        for above, below in lines(window.theme, row.laid())
        if above < top - 0.5 < below - 1 or above + 1 < foot + 0.5 < below
    ]


@pytest.mark.parametrize(
    ("path", "first"), [("context.symptoms", ""), ("context.cautions", ""), ("sensation.pinprick.right", "x")]
)
@pytest.mark.parametrize("steps", [0, 1, 4, 9, 30])
def test_no_line_of_a_long_list_is_cut(
    opened: Callable[..., Any], kit: ModuleType, path: str, first: str, steps: int
) -> None:
    window = opened(**SMALL)
    window.examination.entering.go(path)
    kit.keys(window, [*first, *["Left" if path.endswith("right") else "Right"] * steps])
    QApplication.processEvents()
    assert cut_lines(window) == []


def test_find_box_shows_whole_rows_and_how_many_are_left(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened(**SMALL)
    window.examination.open_find()
    kit.keys(window, "vibr")
    find = window.examination.find
    assert len(find.hits) == 9
    assert 0 < len(find._in_sight()) < 9
    assert find.y() + find.height() <= window.height()
    assert find._rect(find._in_sight()[-1]).bottom() < find.height() - find._pitch() / 2
    for number in range(9):
        assert find._at == number
        assert number in find._in_sight()
        kit.keys(window, ["Down"])
    kit.keys(window, ["Enter"])
    assert window.examination.entering.path == find.hits[8].path


@pytest.mark.parametrize("how", [SMALL, {"size": (1024, 700)}, {"size": (760, 520)}], ids=["200 %", "small", "least"])
def test_key_sheet_cuts_no_line_and_ends_with_its_last(opened: Callable[..., Any], kit: ModuleType, how: Any) -> None:
    window = opened(**how)
    window.toggle_keys()
    QApplication.processEvents()
    area = window.examination.keys
    spans, seen = area.sheet.spans(), set()
    for _page in range(12):
        top = area.verticalScrollBar().value()
        foot = top + (area._more.y() if area._more.isVisible() else area.viewport().height())
        assert not [span for span in spans if span[0] < top - 1 < span[1] - 2 or span[0] + 1 < foot < span[1]]
        seen |= {span for span in spans if span[0] >= top - 1 and span[1] <= foot + 1}
        kit.keys(window, ["PageDown"])
    assert seen == set(spans)
    assert not area._more.isVisible()


def test_pages_of_sections_end_with_their_window(opened: Callable[..., Any]) -> None:
    window = opened()
    for section in ("reflexes", "sensation", "motor"):
        window.examination.entering.open(section)
    pages = list(window.examination.sheet.pages.values())
    assert len(pages) >= 3
    assert all(page.window() is window for page in pages)


@pytest.mark.parametrize("item", ["reflexes.knee.left", "sensation.saddle", "motor.give_way.left"])
def test_line_for_a_comment_is_in_sight(opened: Callable[..., Any], kit: ModuleType, item: str) -> None:
    window = opened(**SMALL)
    window.examination.entering.go(item)
    kit.keys(window, "1")
    window.examination.entering.go(item)
    kit.keys(window, "w")
    sheet, line = window.examination.sheet, window.examination.sheet.page().comment
    top = line.mapTo(sheet.viewport(), line.rect().topLeft()).y()
    foot = sheet._curtain.y() if sheet._curtain.isVisible() else sheet.viewport().height()
    assert 0 <= top < top + line.height() <= foot
