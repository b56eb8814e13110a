"""Read and sign for every eye and hand."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QPalette
from PySide6.QtWidgets import QWidget

from neuroform.desktop.read_and_sign.words_column import IMPRESSION
from neuroform.desktop.theme import Theme
from neuroform.desktop.work import Cancelled
from tests.desktop.sign_kit import Fakes, Opener, opening

opened = pytest.fixture(opening)


def test_tab_goes_round_and_reaches_every_part(opened: Opener) -> None:
    there = opened()
    page = there.page
    for wanted in (
        page.words.fields[IMPRESSION].editor,
        page.words.edit,
        page.paper.view,
        page.paper.full,
        page.secret.field.editor,
        page.doing.keep,
        page.gaps,
    ):
        assert there.tab_to(wanted), wanted


@pytest.mark.parametrize(("size", "scale"), [((1280, 700), 1.0), ((1024, 600), 1.0), ((1024, 600), 2.0)])
def test_everything_that_takes_the_focus_has_a_name_and_a_role(
    opened: Opener, size: tuple[int, int], scale: float
) -> None:
    there = opened(size=size, scale=scale)
    seen = 0
    for widget in there.page.findChildren(QWidget):
        if widget.focusPolicy() is Qt.FocusPolicy.NoFocus or not widget.isVisible() or widget.focusProxy() is not None:
            continue
        interface = QAccessible.queryAccessibleInterface(widget)
        assert interface.text(QAccessible.Text.Name), widget
        assert interface.role() not in {QAccessible.Role.NoRole, QAccessible.Role.Client}, widget
        seen += 1
    assert seen > 8


@pytest.mark.parametrize(
    ("size", "scale"), [((1280, 700), 1.0), ((1024, 600), 1.0), ((1024, 600), 2.0), ((1920, 1000), 1.5)]
)
def test_no_word_is_cut_at_any_size(opened: Opener, size: tuple[int, int], scale: float) -> None:
    there = opened(size=size, scale=scale)
    page = there.page
    for button in (page.doing.sign, page.doing.keep, page.paper.full, page.who.choose, page.words.edit):
        assert button.width() >= button.sizeHint().width(), button.text()
    for text in (page.words.fields[IMPRESSION], page.words.generated):
        assert text.editor.viewport().width() > 150
    told = page.doing.told
    assert told.height() >= told.heightForWidth(told.width())


def test_dark_and_light_can_be_changed_while_it_is_open(opened: Opener) -> None:
    there = opened()
    dark = Theme(dark=True, scale=1.5)
    there.page.set_theme(dark)
    field = there.page.words.fields[IMPRESSION]
    assert field.editor.palette().color(QPalette.ColorRole.Base) == dark.colour("sheet")
    assert there.page.grab().toImage().pixelColor(2, 2) == dark.colour("sheet")


def test_a_cancelled_preview_is_no_failure(opened: Opener) -> None:
    there = opened(fakes=Fakes(paper_error=Cancelled()))
    assert there.page.doing.told.text().startswith("Cannot sign yet")
