"""The clinic's own authority on the settings page: made, used to issue and to withdraw, in a worker, with real keys."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from neuroform.desktop import accessible
from neuroform.desktop.own_authority import OwnAuthority
from neuroform.desktop.settings_page import SettingsPage
from neuroform.desktop.theme import Theme
from neuroform.settings import Places, Settings, load
from neuroform.signing import authority as authorities
from neuroform.workflow import own_authority, signing

AUTHORITY = "the key lies in a drawer"
DAILY = "five steps heel to toe"
SECRETS = ("authority", "authority_again", "passphrase", "passphrase_again")


@pytest.fixture(scope="module", autouse=True)
def small_keys() -> Iterator[None]:
    """Make the run's keys as short as signing allows."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(authorities, "_KEY_BITS", 2048)
        yield


Build = Callable[..., SettingsPage]


@pytest.fixture
def page(qtbot: QtBot, tmp_path: Path) -> Build:
    """Give a function that opens the settings of a clinic that has no authority yet."""
    accessible.install()

    def build(**how: Any) -> SettingsPage:
        settings = Settings(clinic_name="Harbour clinic", examiner_name="Ona Reyes")
        where = Places(config=tmp_path, data=tmp_path)
        made = SettingsPage(Theme(**how), where, settings, amounts={"full": "full examination"})
        qtbot.addWidget(made)
        made.resize(1024, 700)
        with qtbot.waitExposed(made):
            made.show()
        return made

    return build


def write(own: OwnAuthority, **texts: str) -> None:
    for name, text in texts.items():
        own.fields[name].set_text(text)


def make(own: OwnAuthority, qtbot: QtBot) -> None:
    """Make the authority and its first certificate."""
    own.deeds.button("make").click()
    write(own, authority=AUTHORITY, authority_again=AUTHORITY, passphrase=DAILY, passphrase_again=DAILY)
    with qtbot.waitSignal(own.made, timeout=60_000):
        QTest.keyClick(own.push, Qt.Key.Key_Space)


def test_nothing_is_asked_for_before_a_deed_is_chosen(page: Build) -> None:
    own = page().own
    assert not any(field.isVisible() for field in own.fields.values())
    assert not own.push.isVisible()
    own.deeds.button("make").click()
    assert all(field.isVisible() for field in own.fields.values())
    own.deeds.button("withdraw").click()
    assert {name for name, field in own.fields.items() if field.isVisible()} == {"apart", "authority"}


def test_what_is_made_signs_and_is_trusted_once_the_settings_are_saved(
    page: Build, qtbot: QtBot, tmp_path: Path
) -> None:
    made = page()
    make(made.own, qtbot)
    assert made.own.told.text().startswith("Made: ")
    assert "Save the settings" in made.told.text()
    assert not (tmp_path / "settings.toml").exists()
    made.save()
    kept = load(tmp_path / "settings.toml")
    assert kept.authorities == (tmp_path / "authority.pem",)
    assert kept.certificate is not None
    with signing.opened(kept.certificate, DAILY) as certificate:
        assert (certificate.name, certificate.issuer) == ("Ona Reyes", "Harbour clinic")


def test_the_passphrases_are_hidden_and_gone_after_use(page: Build, qtbot: QtBot) -> None:
    own = page().own
    make(own, qtbot)
    for name in SECRETS:
        editor = own.fields[name].editor
        assert editor.echoMode() is editor.EchoMode.Password
        editor.undo()
        assert editor.text() == ""


def test_a_certificate_is_issued_anew_and_another_withdrawn(page: Build, qtbot: QtBot, tmp_path: Path) -> None:
    made = page()
    own = made.own
    make(own, qtbot)
    first = made.settings.certificate
    own.deeds.button("issue").click()
    write(own, person="Pia Lindqvist", authority=AUTHORITY, passphrase=DAILY, passphrase_again=DAILY)
    with qtbot.waitSignal(own.made, timeout=60_000):
        own.push.click()
    assert made.settings.certificate == tmp_path / "certificates" / "Pia Lindqvist.p12"
    assert made.settings.certificate != first
    assert made.settings.authorities == (tmp_path / "authority.pem",)

    own.deeds.button("withdraw").click()
    where = own_authority.folders(made.places)
    serial = next(each.serial for each in own_authority.issued(where) if each.name == "Ona Reyes")
    assert "Ona Reyes, to " in own.which.button(f"{serial:x}").text()
    own.which.button(f"{serial:x}").click()
    write(own, authority=AUTHORITY)
    with qtbot.waitSignal(own.made, timeout=60_000):
        own.push.click()
    assert "give it to everyone" in own.told.text()
    withdrawn = {each.name: each.withdrawn is not None for each in own_authority.issued(where)}
    assert withdrawn == {"Ona Reyes": True, "Pia Lindqvist": False}
    assert made.settings.certificate == tmp_path / "certificates" / "Pia Lindqvist.p12"


@pytest.mark.parametrize(
    ("texts", "told"),
    [
        (
            {"authority": AUTHORITY, "authority_again": "other"},
            "Passphrase of the authority: the two are not the same.",
        ),
        ({"authority": AUTHORITY, "authority_again": AUTHORITY}, "Blank: Passphrase of the certificate."),
        (dict.fromkeys(SECRETS, AUTHORITY), "a passphrase of their own"),
        ({**dict.fromkeys(SECRETS[:2], AUTHORITY), **dict.fromkeys(SECRETS[2:], "short")}, "at least 12"),
        ({**dict.fromkeys(SECRETS, AUTHORITY), "name": " "}, "Blank: Name of the authority."),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_made(
    page: Build, tmp_path: Path, texts: dict[str, str], told: str
) -> None:
    own = page().own
    own.deeds.button("make").click()
    write(own, **texts)
    own.push.click()
    assert told in own.told.text()
    assert not own.running
    assert list(tmp_path.iterdir()) == []


def test_a_wrong_passphrase_of_the_authority_is_said_in_place(page: Build, qtbot: QtBot) -> None:
    own = page().own
    make(own, qtbot)
    own.deeds.button("issue").click()
    write(own, authority="not this one at all", passphrase=DAILY, passphrase_again=DAILY)
    own.push.click()
    qtbot.waitUntil(lambda: not own.running, timeout=60_000)
    assert "doesn't open the authority's key" in own.told.text()


def test_leaving_the_page_forgets_every_passphrase(page: Build) -> None:
    made = page()
    made.own.deeds.button("make").click()
    write(made.own, authority=AUTHORITY, passphrase=DAILY)
    made.leave()
    assert made.own.deeds.current is None
    assert {made.own.fields[name].text() for name in SECRETS} == {""}


def test_without_anything_to_withdraw_nothing_can_be(page: Build) -> None:
    own = page().own
    own.deeds.button("withdraw").click()
    assert not own.push.isEnabled()


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_every_field_has_a_name_and_no_word_is_cut(page: Build, qtbot: QtBot, scale: float) -> None:
    own = page(scale=scale).own
    own.deeds.button("make").click()
    for widget in own.findChildren(QWidget):
        if widget.focusPolicy() is not Qt.FocusPolicy.NoFocus and widget.focusProxy() is None:
            assert QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name), widget
    qtbot.waitUntil(lambda: own.push.width() >= own.push.sizeHint().width())
