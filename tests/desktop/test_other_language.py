"""The window in German: everything a person meets is German and whole, and the paper stays English."""

import re
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any

import pytest
from PySide6.QtGui import QAccessible, QAccessibleInterface, QPainter
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from neuroform import catalogues, language
from neuroform.desktop import app
from neuroform.desktop.begin_page import read_day
from neuroform.desktop.document import Document
from neuroform.desktop.main_window import MainWindow
from neuroform.desktop.opening import Beginning, Opened
from neuroform.desktop.read_and_sign.desk import desk
from neuroform.desktop.read_and_sign.page import ReadAndSign
from neuroform.desktop.read_and_sign.words_column import PARAGRAPH
from neuroform.desktop.settings_page import SettingsPage, amounts_of
from neuroform.desktop.theme import Theme
from neuroform.desktop.verify_page import VerifyPage, check
from neuroform.desktop.work import Work
from neuroform.desktop.workplace import judge
from neuroform.exam import files
from neuroform.exam.examination import SECTIONS, Examination
from neuroform.language import _
from neuroform.settings import Places, Settings
from neuroform.signing.sign import words
from neuroform.workflow import demo
from neuroform.workflow.papers import Order, write_text

SMALLEST = (1024, 700)
OF_PAPERS = "in the language of papers"
AT = datetime(2026, 11, 20, 10, 15, tzinfo=UTC)
PIECES = re.compile(r"(?:: |, |; |\. |\.$| \()")
ENGLISH = re.compile(r"\b(?:the|and|of|with|which|not|is|are|blank|right|left|both|eyes)\b", re.IGNORECASE)
PROPER_NAME = "Timed Up and Go"
# Where a limit comes from stands in the tables, in the words of its source.
SOURCE = re.compile(r"(Grenze[^.]*(?:\d\.\d[^.]*)*)\. .*", re.DOTALL)


def forget() -> None:
    """Have the window say anew what it said in another language."""
    for name, module in list(sys.modules.items()):
        if name.startswith("neuroform.desktop"):
            for kept in list(vars(module).values()):
                if hasattr(kept, "cache_clear"):
                    kept.cache_clear()


@pytest.fixture(autouse=True)
def german() -> Iterator[None]:
    """Show the window in German, as the settings ask for it; in English again for the other tests."""
    language.use(Settings(language="de").language)
    forget()
    yield
    language.use("en")
    forget()


@pytest.fixture
def demonstration(checkout: Path) -> Examination:
    """Give the half-done examination of an invented person."""
    return files.read((checkout / "resources" / "demonstration" / "exam.json").read_bytes())


Open = Callable[[Examination], MainWindow]


@pytest.fixture
def opened(qtbot: QtBot, kit: ModuleType) -> Iterator[Open]:
    """Give a function that opens the smallest window on an examination."""
    windows: list[MainWindow] = []

    def on(exam: Examination) -> MainWindow:
        window = MainWindow(Theme())
        qtbot.addWidget(window)
        window.resize(*SMALLEST)
        window.show()
        amount = _("full examination")
        window.fill(Opened(exam=exam, judge=judge(Settings()), save=lambda *_all: AT, amount=amount))
        window.activateWindow()
        QApplication.processEvents()
        windows.append(window)
        return window

    yield on
    for window in windows:
        window.close()


@pytest.fixture
def cut(monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """Give the texts that were shortened, and the words that were broken within, since."""
    found: set[str] = set()
    fitted, wrapped = Theme.fitted, Theme.wrapped

    def seen_fitted(theme: Theme, role: Any, text: str, width: float) -> str:
        shown = fitted(theme, role, text, width)
        # A row not in sight yet is laid out in no width at all.
        if shown != text and width > 40:
            found.add(text)
        return shown

    def seen_wrapped(theme: Theme, role: Any, text: str, width: float) -> list[str]:
        lines = wrapped(theme, role, text, width)
        at = 0
        for line in lines if width > 40 else ():
            at = text.index(line, at) + len(line)
            if text[at : at + 1].strip():
                found.add(text)
        return lines

    monkeypatch.setattr(Theme, "fitted", seen_fitted)
    monkeypatch.setattr(Theme, "wrapped", seen_wrapped)
    return found


def told(at: QAccessibleInterface, depth: int = 0) -> Iterator[str]:
    """Yield every name, value and description below an interface, but what stands in the language of papers."""
    thing = at.object()
    if isinstance(thing, QWidget) and thing.objectName() == OF_PAPERS:
        return
    for kind in (QAccessible.Text.Name, QAccessible.Text.Value, QAccessible.Text.Description):
        if text := at.text(kind):
            yield text
    if depth < 14:
        for number in range(at.childCount()):
            child = at.child(number)
            if child is not None:
                yield from told(child, depth + 1)


@pytest.fixture(scope="module")
def english() -> frozenset[str]:
    """Give every marked text that German says otherwise."""
    language.use("de")
    marked = catalogues.marked(catalogues.PACKAGE)
    return frozenset(marked) - {_(text) for text in marked}


Untranslated = Callable[[QWidget], set[str]]


@pytest.fixture
def untranslated(english: frozenset[str], demonstration: Examination, tmp_path: Path) -> Untranslated:
    """Give a function from a widget to what it and everything in it says in English, whole or in part."""
    exam = demonstration
    written = (exam.context.reason or "", exam.encounter.designation or "", str(tmp_path), PROPER_NAME)

    def is_english(text: str) -> bool:
        for own in written:
            text = text.replace(own, "")
        pieces = {text, *(piece.strip() for piece in PIECES.split(text))}
        return bool(pieces & english or ENGLISH.search(text))

    def found(widget: QWidget) -> set[str]:
        said = set(told(QAccessible.queryAccessibleInterface(widget)))
        return {text for text in said if is_english(SOURCE.sub(r"\1", text))}

    return found


def leave_out_the_paragraph(window: MainWindow) -> None:
    """Mark the column that holds the paragraph, which the paper holds as well."""
    window.band.interpretation.setObjectName(OF_PAPERS)


def through_every_place(window: MainWindow) -> Iterator[str]:
    """Go to every place for an answer of every section, and say where."""
    assert window.examination is not None
    entering = window.examination.entering
    entering.show_everything()
    for section in SECTIONS:
        entering.open(section)
        for number, row in enumerate(entering.shown):
            for column in range(len(row.cells)):
                entering.focus(number, column)
                QApplication.processEvents()
                yield row.cells[column].path


@pytest.mark.parametrize("filled", [False, True], ids=["blank", "half done"])
def test_nothing_in_any_section_is_left_in_english(
    opened: Open, kit: ModuleType, demonstration: Examination, untranslated: Untranslated, filled: bool
) -> None:
    window = opened(demonstration if filled else kit.blank_exam())
    assert window.examination is not None
    leave_out_the_paragraph(window)
    entering = window.examination.entering
    entering.show_everything()
    found: set[str] = set()
    for section in SECTIONS:
        entering.open(section)
        QApplication.processEvents()
        found |= untranslated(window.examination.sheet)
    assert found | untranslated(window) == set()


@pytest.fixture
def painted(monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """Give the texts that were painted since."""
    seen: set[str] = set()
    draw = QPainter.drawText

    def drawn(painter: QPainter, *given: Any) -> Any:
        seen.update(each for each in given if isinstance(each, str))
        return draw(painter, *given)

    monkeypatch.setattr(QPainter, "drawText", drawn)
    return seen


def test_no_word_that_is_painted_is_english(
    opened: Open, kit: ModuleType, demonstration: Examination, english: frozenset[str], painted: set[str]
) -> None:
    window = opened(demonstration)
    assert window.examination is not None
    for _path in through_every_place(window):
        window.grab()
    window.examination.open_find()
    kit.keys(window, "vib")
    window.grab()
    kit.keys(window, ["Escape"])
    window.toggle_keys()
    window.grab()
    window.toggle_keys()
    for place in (1, 2, 0):
        window.go(place)
        window.grab()
    said = {line for each in window.band.interpretation.said for line in each.text.split()}
    whole = {text for text in painted if text in english}
    parts = {
        text for text in painted if ENGLISH.search(text.replace(PROPER_NAME, "")) and not said.issuperset(text.split())
    }
    assert whole | parts == set()
    assert {"Eingabe", "Rücktaste", "löschen", "geboren 14 Juni 1967"} <= painted


def test_the_back_of_a_leg_and_the_way_back_are_two_words() -> None:
    assert (_("back"), _("back¦of a leg"), _("clear"), _("clear¦take away")) == (
        "zurück",
        "hinten",
        "deutlich",
        "löschen",
    )


def test_a_date_of_birth_may_be_written_with_a_german_month() -> None:
    assert read_day("3. Mär 1955") == read_day("3 Mar 1955") == date(1955, 3, 3)
    assert read_day("31 Dez 1949") == date(1949, 12, 31)


@pytest.mark.parametrize("filled", [False, True], ids=["blank", "half done"])
def test_no_german_word_is_cut_in_the_smallest_window(
    opened: Open, kit: ModuleType, demonstration: Examination, filled: bool, cut: set[str]
) -> None:
    window = opened(demonstration if filled else kit.blank_exam())
    for _path in through_every_place(window):
        window.grab()
    # Why a test is not advised is said whole above the rows, as soon as the row has the focus; what the band has no
    # room for, in any language, when its column is opened.
    barred = _("not advised: {why}").format(why="")
    in_band = " ".join(said.text for column in window.band.columns for said in column.said)
    assert {text for text in cut if not text.startswith(barred) and text not in in_band} == set()


def test_every_row_keeps_its_german_words_inside(opened: Open, kit: ModuleType) -> None:
    window = opened(kit.blank_exam())
    assert window.examination is not None
    for path in through_every_place(window):
        row = window.examination.sheet.page().focused_widget()
        laid = row.laid()  # type: ignore[attr-defined]  # every row has one
        for thing in laid.things:
            if hasattr(thing, "text"):
                assert thing.x >= -0.5, (thing.text, path)
                assert thing.x + window.theme.width(thing.role, thing.text) <= row.width() + 0.5, (thing.text, path)


def test_every_section_stands_in_the_strip_of_the_smallest_window(opened: Open, kit: ModuleType) -> None:
    window = opened(kit.blank_exam())
    assert len(window.strip._placed) == len(window.strip.sections)


def test_what_opens_over_the_form_is_german(
    opened: Open, kit: ModuleType, untranslated: Untranslated, cut: set[str]
) -> None:
    window = opened(kit.blank_exam())
    leave_out_the_paragraph(window)
    window.toggle_keys()
    QApplication.processEvents()
    assert untranslated(window) == set()
    window.toggle_keys()
    for place in (1, 2, 0):
        window.go(place)
        QApplication.processEvents()
        assert untranslated(window) == set()
    window.grab()
    assert cut == set()


def test_items_are_found_by_their_german_names_and_by_eponyms(opened: Open, kit: ModuleType) -> None:
    window = opened(kit.blank_exam())
    assert window.examination is not None
    for typed, path in (("kopfimp", "head_and_eyes.head_impulse"), ("babinski", "reflexes.plantar")):
        window.examination.open_find()
        kit.keys(window, typed)
        kit.keys(window, ["Enter"])
        assert window.examination.entering.path is not None
        assert window.examination.entering.path.startswith(path)


def test_the_page_that_asks_who_is_examined_is_german(
    qtbot: QtBot, tmp_path: Path, untranslated: Untranslated, cut: set[str]
) -> None:
    window = MainWindow(Theme())
    qtbot.addWidget(window)
    window.resize(*SMALLEST)
    window.show()
    amounts = tuple((name, _(label)) for name, label in amounts_of(tmp_path).items())
    window.take(Beginning(amounts=amounts, amount="full", examiner="", start=lambda _asked: pytest.fail("begun")))
    QApplication.processEvents()
    assert untranslated(window) == set()
    window.grab()
    assert cut == set()
    window.close()


def test_the_settings_are_german_and_offer_both_languages(
    qtbot: QtBot, tmp_path: Path, untranslated: Untranslated, cut: set[str]
) -> None:
    page = SettingsPage(
        Theme(),
        Places(config=tmp_path, data=tmp_path),
        Settings(language="de"),
        amounts={name: _(label) for name, label in amounts_of(tmp_path).items()},
        languages=language.offered(),
    )
    qtbot.addWidget(page)
    page.resize(*SMALLEST)
    page.show()
    page.write("trial_seconds", "90")
    page.write("telephones", "nobody")
    QApplication.processEvents()
    # What was laid out before the page had its width is not what is seen.
    cut.clear()
    page.resize(SMALLEST[0] - 1, SMALLEST[1])
    QApplication.processEvents()
    assert {"English", "Deutsch"} <= set(told(QAccessible.queryAccessibleInterface(page)))
    assert untranslated(page) == set()
    page.grab()
    assert cut == set()


@pytest.fixture(scope="module")
def clinic(tmp_path_factory: pytest.TempPathFactory) -> demo.Demo:
    """Give a demonstration clinic."""
    with language.in_english():
        return demo.open_demo(tmp_path_factory.mktemp("clinic"), clock=lambda: AT)


def test_read_and_sign_is_german_around_the_english_paragraph(
    qtbot: QtBot, clinic: demo.Demo, demonstration: Examination, untranslated: Untranslated, cut: set[str]
) -> None:
    page = ReadAndSign(
        Theme(),
        Document(demonstration),
        judge(clinic.settings),
        desk(clinic.places, clinic.settings, clock=lambda: AT, shown_passphrase=demo.PASSPHRASE),
        Work(),
    )
    qtbot.addWidget(page)
    page.resize(*SMALLEST)
    page.show()
    page.open()
    qtbot.waitUntil(lambda: page.paper.view.is_current, timeout=20_000)
    for paragraph in (page.words.generated, page.words.fields[PARAGRAPH]):
        paragraph.setObjectName(OF_PAPERS)
    assert untranslated(page) == set()
    page.grab()
    assert cut == set()


def test_verifying_a_paper_is_german(qtbot: QtBot, untranslated: Untranslated, cut: set[str]) -> None:
    page = VerifyPage(Theme(), lambda path: check(path, Settings()), Work())
    qtbot.addWidget(page)
    page.resize(*SMALLEST)
    page.show()
    QApplication.processEvents()
    assert untranslated(page) == set()
    page.grab()
    assert cut == set()


def test_the_paper_written_in_a_german_window_is_the_english_one(clinic: demo.Demo, demonstration: Examination) -> None:
    order = Order(kind="note", exam=demonstration, exam_file=files.write(demonstration))
    judge(clinic.settings).conclude(demonstration)
    in_german, _concluded = write_text(order, clinic.settings)
    language.use("en")
    in_english, _concluded = write_text(order, clinic.settings)
    assert in_german == in_english


def test_the_frame_of_a_signature_says_what_the_english_one_does() -> None:
    signer: Any = SimpleNamespace(name="A. Examiner")
    in_german = words(signer, role="author", at=AT)
    language.use("en")
    assert in_german == words(signer, role="author", at=AT)


def test_the_language_of_the_settings_is_the_one_the_window_opens_in(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    asked: list[str] = []

    def run(_prepare: object, **how: Any) -> int:
        asked.append(how["language"])
        return 0

    (tmp_path / "settings.toml").write_text('language = "de"\n', encoding="utf-8")
    monkeypatch.setenv("NEUROFORM_HOME", str(tmp_path))
    monkeypatch.setattr(app, "run", run)
    assert app.open_window() == 0
    assert asked == ["de"]
