"""The band and the sheet: nothing cut, everything within reach, and nothing shown that is no longer so."""

import random
from collections.abc import Callable
from types import ModuleType
from typing import Any

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication

from neuroform.desktop import strip_view
from neuroform.desktop.column_layout import ColumnLayout, Said, Told
from neuroform.desktop.row_view import view
from neuroform.desktop.theme import Theme
from neuroform.exam.findings import Examined
from neuroform.exam.walk import put

LONG = (
    "A stroke is not excluded: nothing was recorded of the eyes, and what was not looked at counts as dangerous. Call."
)
SIZES = [((1280, 800), 1.0), ((1024, 700), 1.0), ((1024, 700), 2.0)]


def told(said: list[Said], *, flowing: bool = False) -> Told:
    return Told(title="Urgent findings", key="F5", said=tuple(said), systems=(), empty="", flowing=flowing)


def urgent(*texts: str) -> list[Said]:
    return [Said(head="Now", text=text, urgency="immediate") for text in texts]


@pytest.mark.parametrize("count", [2, 3, 4])
def test_every_urgent_finding_is_seen_however_little_room_there_is(qapp: Any, count: int) -> None:
    said = urgent(*(f"{number} {LONG}" for number in range(count)))
    laid = ColumnLayout(Theme(), 240).lay(told(said), 150)
    assert {run.said for run in laid.runs if run.said >= 0} == set(range(count))
    assert not laid.whole
    assert any(run.text == "F5" for run in laid.runs)


@pytest.mark.parametrize("flowing", [False, True])
@pytest.mark.parametrize("room", [90, 120, 151, 200])
def test_no_line_stands_below_the_room(qapp: Any, room: int, flowing: bool) -> None:
    theme = Theme()
    laid = ColumnLayout(theme, 300).lay(told(urgent(*[LONG] * 6), flowing=flowing), room)
    assert all(run.y + theme.metrics(run.role).descent() <= room for run in laid.runs)


def test_what_fits_is_shown_whole(qapp: Any) -> None:
    laid = ColumnLayout(Theme(), 400).lay(told(urgent("Retention of urine.")), 150)
    assert laid.whole
    assert not any(run.text == "F5" for run in laid.runs)


@pytest.mark.parametrize(("size", "scale"), SIZES)
def test_key_raises_the_band_until_all_is_seen_and_escape_lowers_it(
    opened: Callable[..., Any], kit: ModuleType, size: tuple[int, int], scale: float
) -> None:
    window = opened(kit.half_done(), size=size, scale=scale)
    low = window.band.height()
    window.to_band(1)
    column: Any = window.band.interpretation
    assert column.hasFocus()
    assert window.band.height() > low
    assert column.content_height() == column.minimumHeight()
    kit.keys(window, ["Escape"])
    assert window.band.height() == low
    assert QApplication.focusWidget() is window.examination.sheet.page().focused_widget()


@pytest.mark.parametrize("key", ["keys", "find"])
def test_what_stood_over_the_form_gives_the_same_place_back(
    opened: Callable[..., Any], kit: ModuleType, key: str
) -> None:
    window = opened()
    entering = window.examination.entering
    entering.go("walking.base")
    window.toggle_keys() if key == "keys" else window.examination.open_find()
    kit.keys(window, ["Escape"])
    assert entering.path == "walking.base"
    assert QApplication.focusWidget() is window.examination.sheet.page().focused_widget()


def test_the_windows_own_keys_work_where_no_shortcut_hears_them(opened: Callable[..., Any]) -> None:
    """A window that no window manager made active has no shortcuts: the key itself reaches it."""
    window = opened()
    event = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_F6, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(window, event)
    assert window.band.interpretation.hasFocus()


@pytest.mark.parametrize(("size", "scale"), SIZES[:2])
def test_no_row_is_cut_at_the_foot_of_the_sheet(
    opened: Callable[..., Any], size: tuple[int, int], scale: float
) -> None:
    window = opened(size=size, scale=scale)
    sheet, entering = window.examination.sheet, window.examination.entering
    entering.show_everything()
    for section in ("context", "standing", "motor", "sensation", "head_and_eyes"):
        entering.open(section)
        for number in range(len(entering.shown)):
            entering.focus(number)
            page, top = sheet.page(), sheet.verticalScrollBar().value()
            foot = top + (sheet._curtain.y() if sheet._curtain.isVisible() else sheet.viewport().height())
            cut = [w for w in page.widgets.values() if w.isVisible() and w.y() < foot < w.y() + w.height()]
            room = sheet.viewport().height() / 2
            assert all(w is page.focused_widget() or w.height() > room for w in cut), (section, number)


@pytest.mark.parametrize("seed", range(12))
def test_every_row_and_segment_shows_what_is_so_after_any_key(
    opened: Callable[..., Any], kit: ModuleType, seed: int
) -> None:
    chance = random.Random(seed)
    window = opened(kit.half_done() if seed % 2 else None)
    entering, sheet = window.examination.entering, window.examination.sheet
    entering.open(chance.choice(["standing", "sensation", "head_and_eyes", "circulation", "motor", "context"]))
    for _press in range(60):
        kit.keys(window, [chance.choice([*"1122334567890x/sm", "Enter", "Backspace", "Down", "Up", "Left", "Right"])])
        if window.page is not None or not window.examination.in_rows or entering.section == "read_and_sign":
            break
        misfits = frozenset(p for gap in entering.conclusions.gaps if gap.does_not_fit for p in gap.items)
        for number, row in enumerate(entering.shown):
            assert sheet.page().widgets[row.key].view == view(
                entering, row, focused=number == entering.row, misfits=misfits
            )
        shown = strip_view.segments_of(entering)
        strip_view.forget(entering)
        assert shown == strip_view.segments_of(entering)


def test_hand_is_past_an_answer_that_was_given_before_the_program_stopped(kit: ModuleType) -> None:
    from neuroform.desktop.document import Document
    from neuroform.desktop.entering import Entering

    exam = put(kit.blank_exam(), "reflexes.knee.right", Examined(value="brisk"))
    exam = put(exam, "context.falls_past_year", Examined(value=1))
    entering = Entering(Document(exam), kit.JUDGE)
    entering.resume("reflexes.knee.right")
    assert entering.path == "reflexes.knee.left"
    entering.resume("context.falls_past_year")
    assert entering.path == "context.falls_past_year"
    entering.resume("reflexes.ankle.left")
    assert entering.path == "reflexes.ankle.left"


def test_h28_what_was_recovered_is_said_where_it_is_seen_at_once(kit: ModuleType, qtbot: Any) -> None:
    from neuroform.desktop.main_window import MainWindow
    from neuroform.desktop.opening import Opened

    window = MainWindow(Theme())
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    window.fill(
        Opened(exam=kit.blank_exam(), judge=kit.JUDGE, save=kit._save, amount="full examination", recovered=kit.AT)
    )
    bar = window.examination.recovered if window.examination is not None else None
    assert bar is not None
    assert bar.isVisible()
    assert bar.height() >= bar.needed_height() > 0
    window.close()
