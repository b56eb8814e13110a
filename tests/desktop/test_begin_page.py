"""Who is examined is asked before an examination begins."""

from datetime import date
from itertools import pairwise
from types import ModuleType
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from neuroform.desktop.begin_page import BeginPage, read_day
from neuroform.desktop.opening import Asked, Beginning, Opened
from neuroform.desktop.theme import Theme


@pytest.mark.parametrize("written", ["1955-03-03", "3 Mar 1955", "3 March 1955", "3.3.1955"])
def test_day_is_read_as_people_write_it(written: str) -> None:
    assert read_day(written) == date(1955, 3, 3)


@pytest.mark.parametrize("written", ["", "3/4/1955", "1955-02-30", "March 1955", "31 Foo 1955"])
def test_day_that_is_none_or_two_is_refused(written: str) -> None:
    assert read_day(written) is None


@pytest.fixture
def page(qtbot: QtBot, kit: ModuleType) -> tuple[BeginPage, list[Asked]]:
    asked: list[Asked] = []

    def start(who: Asked) -> Opened:
        asked.append(who)
        return Opened(exam=kit.blank_exam(), judge=kit.JUDGE, save=kit._save, amount="full examination")

    amounts = (("full", "full examination"), ("ward", "ward examination"))
    made = BeginPage(Theme(), Beginning(amounts=amounts, amount="ward", examiner="Examiner A", start=start))
    qtbot.addWidget(made)
    return made, asked


def fill(page: BeginPage, **texts: str) -> None:
    for name, text in texts.items():
        page.fields[name].setText(text)


def test_begins_with_what_was_written(page: tuple[BeginPage, list[Asked]], qtbot: QtBot) -> None:
    made, asked = page
    fill(made, family_name="Rahman", given_names="Ilse", born="1955-03-03", identifier="4471")
    with qtbot.waitSignal(made.begun):
        made.begin()
    assert asked == [
        Asked(
            family_name="Rahman",
            given_names="Ilse",
            born=date(1955, 3, 3),
            identifier="4471",
            examiner="Examiner A",
            amount="ward",
        )
    ]


@pytest.mark.parametrize(
    ("texts", "told"),
    [
        ({"born": "1955-03-03"}, "family name"),
        ({"family_name": "Rahman", "born": "3/4/1955"}, "not a day"),
        ({"family_name": "Rahman", "born": "2999-01-01"}, "future"),
    ],
)
def test_says_what_is_lacking(page: tuple[BeginPage, list[Asked]], texts: dict[str, str], told: str) -> None:
    made, asked = page
    fill(made, **texts)
    made.begin()
    assert asked == []
    assert told in made.accessibleDescription()


@pytest.mark.parametrize("born", ["1899-01-01", "2020-01-01"])
def test_h20_unlikely_age_is_asked_once(page: tuple[BeginPage, list[Any]], born: str) -> None:
    made, asked = page
    fill(made, family_name="Rahman", born=born)
    made.begin()
    assert asked == []
    made.begin()
    assert len(asked) == 1


@pytest.mark.parametrize(("size", "scale"), [((1280, 760), 1.0), ((1024, 660), 1.0), ((1024, 632), 2.0)])
def test_everything_that_is_asked_has_room(
    page: tuple[BeginPage, list[Asked]], size: tuple[int, int], scale: float
) -> None:
    made, _asked = page
    made.set_theme(Theme(scale=scale))
    made.resize(*size)
    made.show()
    stops = [*made.fields.values(), made.amounts, made.button]
    for above, below in pairwise(stops):
        assert above.geometry().bottom() < below.geometry().top()
    assert made.button.geometry().bottom() < made.height()
