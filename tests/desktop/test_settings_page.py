"""The settings page: what a clinic chooses is checked in place and kept where the program reads it."""

from collections.abc import Callable
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from neuroform.desktop import accessible
from neuroform.desktop.examination_place import ExaminationPlace
from neuroform.desktop.main_window import MainWindow
from neuroform.desktop.settings_entries import as_text, groups, taken
from neuroform.desktop.settings_page import SettingsPage, amounts_of
from neuroform.desktop.theme import Theme
from neuroform.desktop.verify_page import VerifyPage
from neuroform.desktop.workplace import CLINIC, open_workplace, opened
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.exam.walk import put
from neuroform.settings import Places, Settings, Telephone, load

AMOUNTS = {"full": "full examination", "ward": "ward examination"}
LANGUAGES = {"en": "English", "de": "Deutsch"}
Build = Callable[..., SettingsPage]


def focused() -> QWidget:
    """Return what has the focus."""
    found = QApplication.focusWidget()
    assert found is not None
    return found


@pytest.fixture
def page(qtbot: QtBot, tmp_path: Path) -> Build:
    """Give a function that opens the page on settings."""
    accessible.install()

    def build(settings: Settings | None = None, *, scale: float = 1.0, **how: Any) -> SettingsPage:
        where = Places(config=tmp_path, data=tmp_path)
        made = SettingsPage(
            Theme(scale=scale), where, settings or Settings(), amounts=AMOUNTS, languages=LANGUAGES, **how
        )
        qtbot.addWidget(made)
        made.resize(1024, 600)
        with qtbot.waitExposed(made):
            made.show()
        made.activateWindow()
        made.setFocus()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is not None)
        return made

    return build


def test_every_setting_can_be_chosen_on_the_page() -> None:
    shown = {entry.name for group in groups(AMOUNTS, LANGUAGES) for entry in group.entries}
    assert shown == {each.name for each in fields(Settings)} - {"text_scale"}


def test_what_is_written_is_kept_where_the_program_reads_it(page: Build, qtbot: QtBot, tmp_path: Path) -> None:
    made = page()
    QTest.keyClicks(focused(), "Harbour clinic")
    made.write("letterhead", "12 Quay Street\nSecond floor")
    made.write("telephones", "Stroke team: 0000 111\nOn call: neurology: 0000 222")
    made.write("protocol", "ward")
    made.write("trial_seconds", "20")
    made.write("sound", "yes")
    with qtbot.waitSignal(made.saved) as heard:
        QTest.keyClick(made, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    expected = Settings(
        clinic_name="Harbour clinic",
        letterhead=("12 Quay Street", "Second floor"),
        telephones=(
            Telephone(who="Stroke team", number="0000 111"),
            Telephone(who="On call: neurology", number="0000 222"),
        ),
        protocol="ward",
        trial_seconds=20,
        sound=True,
    )
    assert heard.args == [expected]
    assert load(tmp_path / "settings.toml") == expected


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("trial_seconds", "90", "5 to 60"),
        ("trial_seconds", "ten", "no whole number"),
        ("telephones", "Stroke team 0000", "name: number"),
        ("telephones", "A: 1\nA: 2", "twice"),
        ("letterhead", "1\n2\n3\n4\n5\n6\n7", "at most 6"),
        ("clinic_name", "x" * 201, "at most 200"),
        ("certificate", "nowhere.p12", "no file"),
        ("authorities", "nowhere.pem", "no file"),
        ("token", "card", "begins with pkcs11:"),
        ("token", "pkcs11:token=Card", "addresses no token"),
        ("token", "pkcs11:token=Card?module-path=/nowhere.so", "no file"),
        ("token", "pkcs11:token=Card?pin-value=1234&module-path=any.so", "doesn't hold its PIN"),
        ("time_stamp_service", "time.invalid", "https://"),
    ],
)
def test_what_is_not_allowed_is_said_below_its_field_and_never_saved(
    page: Build, tmp_path: Path, name: str, text: str, told: str
) -> None:
    made = page()
    made.write("clinic_name", "Harbour clinic")
    made.write(name, text)
    assert told in made.problems[name].text()
    assert not made.save_button.isEnabled()
    made.save()
    assert not (tmp_path / "settings.toml").exists()


def test_a_mended_field_can_be_saved_again(page: Build) -> None:
    made = page()
    made.write("trial_seconds", "90")
    made.write("trial_seconds", "45")
    assert made.problems["trial_seconds"].text() == ""
    assert made.save_button.isEnabled()
    assert made.settings.trial_seconds == 45


def test_leaving_shows_again_what_is_kept(page: Build, qtbot: QtBot) -> None:
    made = page(Settings(clinic_name="Harbour clinic"))
    made.write("clinic_name", "Another")
    made.write("trial_seconds", "ten")
    with qtbot.waitSignal(made.left):
        QTest.keyClick(made, Qt.Key.Key_Escape)
    assert made.text("clinic_name") == "Harbour clinic"
    assert made.problems["trial_seconds"].text() == ""
    assert made.settings == Settings(clinic_name="Harbour clinic")


def test_a_certificate_is_chosen_as_a_file(page: Build, tmp_path: Path) -> None:
    (tmp_path / "mine.p12").write_bytes(b"x")
    made = page(choose_file=lambda _parent: tmp_path / "mine.p12")
    word = next(each for each in made.findChildren(QWidget) if each.accessibleDescription() == "Certificate that signs")
    QTest.keyClick(word, Qt.Key.Key_Space)
    assert made.settings.certificate == tmp_path / "mine.p12"


def test_a_second_authority_is_added_to_the_first(page: Build, tmp_path: Path) -> None:
    one, two = tmp_path / "one.pem", tmp_path / "two.pem"
    one.touch()
    two.touch()
    made = page(Settings(authorities=(one,)), choose_file=lambda _parent: two)
    word = next(
        each for each in made.findChildren(QWidget) if each.accessibleDescription() == "Authorities that are trusted"
    )
    QTest.keyClick(word, Qt.Key.Key_Space)
    assert made.settings.authorities == (one, two)


def test_a_folder_that_cannot_be_written_is_said_in_place(qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    where = Places(config=tmp_path / "file" / "within", data=tmp_path)
    made = SettingsPage(Theme(), where, Settings(), amounts=AMOUNTS)
    qtbot.addWidget(made)
    made.write("clinic_name", "Harbour clinic")
    made.save()
    assert "cannot be" in made.told.text()


def test_another_text_size_is_asked_for_at_once(page: Build, qtbot: QtBot) -> None:
    made = page()
    with qtbot.waitSignal(made.scaled) as heard:
        made.size_choice.button("1.5").click()
    assert heard.args == [1.5]
    made.set_theme(Theme(scale=1.5))
    assert made.fields["clinic_name"].height() == 54


def test_the_text_size_is_kept_and_taken_back_where_it_is_not_saved(page: Build, qtbot: QtBot, tmp_path: Path) -> None:
    made = page()
    made.size_choice.button("1.5").click()
    with qtbot.waitSignal(made.scaled) as heard:
        made.leave()
    assert (heard.args, made.size_choice.current) == ([1.0], "1.0")
    made.size_choice.button("2.0").click()
    made.save()
    assert load(tmp_path / "settings.toml").text_scale == 2.0


def test_a_token_and_a_time_stamp_service_are_kept(page: Build, tmp_path: Path) -> None:
    module = tmp_path / "module.so"
    module.touch()
    made = page()
    made.write("token", f"pkcs11:token=Card;object=Dr%20Reyes?module-path={module}")
    made.write("time_stamp_service", "https://time.invalid/stamp")
    made.fields["time_stamp_level"].button("B-LT").click()  # type: ignore[union-attr]  # a choice, as its entry says
    made.save()
    kept = load(tmp_path / "settings.toml")
    assert kept.signs_with == f"pkcs11:token=Card;object=Dr%20Reyes?module-path={module}"
    assert (kept.time_stamp_service, kept.time_stamp_level) == ("https://time.invalid/stamp", "B-LT")


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_every_field_has_a_name_and_a_role(page: Build, scale: float) -> None:
    made = page(scale=scale)
    for widget in made.findChildren(QWidget):
        if widget.focusPolicy() is Qt.FocusPolicy.NoFocus or widget.focusProxy() is not None:
            continue
        interface = QAccessible.queryAccessibleInterface(widget)
        assert interface.text(QAccessible.Text.Name), widget
        assert interface.role() is not QAccessible.Role.NoRole


def test_what_is_kept_reads_back_as_it_was_written() -> None:
    kept = Settings(telephones=(Telephone(who="A: b", number="1"),), letterhead=("x", "y"), sound=True)
    for group in groups(AMOUNTS, LANGUAGES):
        for entry in group.entries:
            again, problem = taken(entry, as_text(entry, kept), kept, Path())
            assert problem == ""
            assert again == kept


def test_a_logo_is_kept_by_copy_when_the_settings_are_saved(page: Build, tmp_path: Path) -> None:
    from PIL import Image

    chosen = tmp_path / "elsewhere.png"
    Image.new("L", (120, 40), 90).save(chosen)
    made = page(choose_file=lambda _parent: chosen)
    word = next(each for each in made.findChildren(QWidget) if each.accessibleDescription() == "Logo")
    QTest.keyClick(word, Qt.Key.Key_Return)
    assert made.settings.logo == chosen
    made.save()
    assert made.text("logo") == str(tmp_path / "logo.png")
    chosen.unlink()
    assert load(tmp_path / "settings.toml").logo == tmp_path / "logo.png"
    assert (tmp_path / "logo.png").exists()


def test_a_logo_that_cannot_be_printed_is_said_below_its_field(page: Build, tmp_path: Path) -> None:
    (tmp_path / "logo.txt").write_text("no picture")
    made = page()
    made.write("logo", str(tmp_path / "logo.txt"))
    assert made.problems["logo"].text().startswith("logo.txt is no picture that can be printed.")
    assert not made.save_button.isEnabled()


# What was saved counts at once in the window that is open


@dataclass
class There:
    """A window over the real rooms, and how its settings are changed by the page."""

    window: MainWindow
    places: Places

    @property
    def place(self) -> ExaminationPlace:
        """The place that is shown."""
        assert self.window.examination is not None
        return self.window.examination

    def save(self, **written: str) -> None:
        """Open the settings by their key, write into fields and save."""
        QTest.keyClick(self.window, Qt.Key.Key_F4)
        page = self.window.page
        assert isinstance(page, SettingsPage)
        for name, text in written.items():
            page.write(name, text)
        page.save()
        assert self.window.page is None
        QApplication.processEvents()


@pytest.fixture
def there(qtbot: QtBot, tmp_path: Path, kit: Any) -> Any:
    """Give a function that opens the window on an examination of this workplace, or on none."""
    made: list[MainWindow] = []

    def build(exam: Examination | None = None) -> There:
        window = MainWindow(Theme())
        qtbot.addWidget(window)
        made.append(window)
        window.resize(1280, 800)
        window.show()
        where = Places(config=tmp_path, data=tmp_path)
        if exam is None:
            window.take(open_workplace(where, Settings()))
        else:
            window.fill(opened(where, Settings(), clinic=CLINIC, begin=lambda: exam))
            assert window.examination is not None
            window.examination.load_rules()
        return There(window=window, places=where)

    yield build
    for window in made:
        window.close()


def test_the_method_of_vibration_is_asked_for_at_once(there: Any, kit: Any) -> None:
    opened = there(kit.blank_exam())
    assert "sensation.vibration.great_toe.right" in opened.place.entering.needed
    opened.save(vibration="score")
    assert "sensation.vibration_score.great_toe.right" in opened.place.entering.needed
    assert "sensation.vibration.great_toe.right" not in opened.place.entering.needed


def test_a_trial_not_begun_takes_the_new_length_and_one_recorded_keeps_its_own(there: Any, kit: Any) -> None:
    opened = there(kit.blank_exam())
    opened.save(trial_seconds="20")
    assert opened.place.document.exam.standing.trial_seconds == 20
    opened.place.document.put("standing.firm.eyes_open.ended", Examined(value="held"))
    opened.save(trial_seconds="45")
    assert opened.place.document.exam.standing.trial_seconds == 20
    assert "keep their length of 20" in opened.place.entering.message
    opened.window._undo()
    opened.window._undo()
    assert opened.place.document.exam.standing.trial_seconds is None


def test_clinic_letterhead_and_telephones_stand_on_the_page_in_sight(there: Any, kit: Any, qtbot: QtBot) -> None:
    exam = kit.blank_exam()
    for path, value in (("context.symptoms", ("back_pain",)), ("context.bladder", Examined(value="retention"))):
        exam = put(exam, path, value)
    opened = there(exam)
    opened.window.finish()
    page = opened.place.page
    opened.save(clinic_name="Harbour clinic", letterhead="12 Quay Street", telephones="On call: 0000 4711")
    fresh = opened.place.page
    assert fresh is not page
    assert fresh.isVisible()
    assert "On call: 0000 4711" in fresh.words.telephone.text()
    fresh.paper.kinds.button("referral").click()
    qtbot.waitUntil(lambda: "12 Quay Street" in (fresh.preview.text or ""), timeout=20_000)
    assert "Harbour clinic" in fresh.preview.text
    qtbot.waitUntil(lambda: not isValid(page))
    opened.place.document.put("conclusion.plan", "Bladder scan tonight.")
    assert fresh.words.fields["conclusion.plan"].text() == "Bladder scan tonight."


def test_sound_and_colours_are_taken_at_once_and_the_language_is_promised(there: Any, kit: Any) -> None:
    opened = there(kit.blank_exam())
    assert not opened.place.opened.sound
    opened.save(sound="yes", colour_scheme="dark", language="de")
    assert opened.place.opened.sound
    assert opened.window.theme.dark
    assert opened.window.scheme == "dark"
    assert opened.place.entering.message.endswith("The window changes its language with the next start.")


def test_settings_and_papers_can_be_reached_before_anyone_is_examined(there: Any) -> None:
    opened = there()
    opened.save(examiner_name="Dr Ona Reyes", protocol="ward")
    asking = opened.window.asking
    assert asking.isVisible()
    assert QApplication.focusWidget() in {asking.first, None}
    assert asking.fields["examiner"].text() == "Dr Ona Reyes"
    assert asking.amounts.currentData() == "ward"
    QTest.keyClick(opened.window, Qt.Key.Key_F8)
    assert isinstance(opened.window.page, VerifyPage)


def test_the_amounts_offered_are_those_that_stand_alone(tmp_path: Path) -> None:
    assert {"full", "ward", "acute_vertigo", "weak_legs"} == set(amounts_of(tmp_path))


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_button_that_saves_is_in_sight_with_the_reason_why_it_waits(page: Build, scale: float) -> None:
    made = page(scale=scale)
    for each in (made.save_button, made.back, made.told):
        assert each.visibleRegion().boundingRect().size() == each.size()
    assert not made.save_button.isEnabled()
    assert made.told.text() == "Nothing is changed yet."
    QTest.keyClicks(focused(), "Harbour clinic")
    assert made.save_button.isEnabled()
    assert made.told.text() == ""
    made.write("trial_seconds", "90")
    assert not made.save_button.isEnabled()
    assert made.told.text().startswith("Not allowed yet: ")
    assert made.told.visibleRegion().boundingRect().size() == made.told.size()


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_last_line_of_the_settings_names_the_keys(page: Build, scale: float) -> None:
    made = page(scale=scale)
    assert [key for _does, key in made.last.keys] == ["Ctrl S", "Esc"]
    assert made.last.visibleRegion().boundingRect().size() == made.last.size()
    assert made.last.geometry().bottom() == made.rect().bottom()
    assert made.area.geometry().bottom() < made.last.geometry().top()
