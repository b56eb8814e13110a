"""Settings are read whole or refused with every reason, and written without losing a comment."""

import os
from pathlib import Path

import pytest

from neuroform import settings
from neuroform.errors import FileError, SettingsError
from neuroform.settings import Settings, Telephone

CHOSEN = Settings(
    language="pt_BR",
    colour_scheme="dark",
    text_scale=1.5,
    sound=True,
    clinic_name="Clinic by the Canal",
    letterhead=("1 Invented Street", "Nowhere"),
    telephones=(Telephone(who="Stroke team", number="5550 100"), Telephone(who="Ward 3", number="5550 103")),
    examiner_name="Ada Example",
    examiner_designation="Physiotherapist",
    protocol="ward",
    trial_seconds=20,
    vibration="seconds",
    certificate=Path.cwd() / "ada.p12",
    token="pkcs11:token=Ada?module-path=/usr/lib/module.so",
    authorities=(Path.cwd() / "one.pem", Path.cwd() / "two.pem"),
    time_stamp_service="https://time.invalid/stamp",
    time_stamp_level="B-LTA",
)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "own" / "settings.toml"


def wrote(file: Path, words: str) -> Path:
    """Put `words` into the settings file."""
    file.parent.mkdir(exist_ok=True)
    file.write_text(words, encoding="utf-8")
    return file


def test_a_path_of_somebody_unknown_is_refused_in_words(file: Path) -> None:
    with pytest.raises(FileError, match=r"isn't known here\. Write the whole path"):
        settings.expanded("~nobody-of-that-name/a")
    with pytest.raises(SettingsError, match=r"signing.certificate: '~nobody-of-that-name/a' \(allowed: a whole path"):
        settings.load(wrote(file, '[signing]\ncertificate = "~nobody-of-that-name/a"\n'))
    with pytest.raises(SettingsError, match=f"{settings.HOME} can't be used"):
        settings.places({settings.HOME: "~nobody-of-that-name"})
    assert settings.expanded("~/a") == Path.home() / "a"


def test_what_is_no_file_is_not_passed_over_for_the_usual_settings(tmp_path: Path) -> None:
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    (tmp_path / "nowhere").symlink_to(tmp_path / "missing")
    (tmp_path / "folder").mkdir()
    (tmp_path / "deep").write_text("x = " + "[" * 20_000, encoding="utf-8")
    os.mkfifo(tmp_path / "pipe")
    for name in ("loop", "nowhere", "folder", "deep", "pipe"):
        with pytest.raises(SettingsError, match="cannot be used"):
            settings.load(tmp_path / name)


def test_without_a_file_the_usual_settings_hold(file: Path) -> None:
    assert settings.load(file) == Settings()
    assert not file.parent.exists()


def test_every_choice_comes_back_from_the_file(file: Path) -> None:
    settings.save(file, CHOSEN)
    assert settings.load(file) == CHOSEN


def test_a_choice_taken_back_is_the_usual_one_again(file: Path) -> None:
    settings.save(file, CHOSEN)
    settings.save(file, Settings())
    assert settings.load(file) == Settings()


def test_comments_and_order_outlast_a_change(file: Path) -> None:
    wrote(file, '# ours\n[clinic]  # the house\nname = "Old"  # since spring\n\n[examination]\nprotocol = "ward"\n')
    settings.save(file, Settings(clinic_name="New", protocol="ward"))
    assert file.read_text(encoding="utf-8") == (
        '# ours\n[clinic]  # the house\nname = "New"  # since spring\n\n[examination]\nprotocol = "ward"\n'
    )


def test_files_are_named_from_the_folder_of_the_settings(file: Path) -> None:
    wrote(file, '[signing]\ncertificate = "ada.p12"\nauthorities = ["ca/house.pem"]\n')
    read = settings.load(file)
    assert read.certificate == file.parent / "ada.p12"
    assert read.authorities == (file.parent / "ca" / "house.pem",)


def test_a_whole_number_is_a_text_size_too(file: Path) -> None:
    assert settings.load(wrote(file, "text_scale = 2\n")).text_scale == 2.0


def test_a_token_signs_in_place_of_a_file() -> None:
    by_file = Settings(certificate=Path("ada.p12"))
    assert (Settings().signs_with, by_file.signs_with) == (None, Path("ada.p12"))
    assert Settings(certificate=Path("ada.p12"), token=CHOSEN.token).signs_with == CHOSEN.token


def test_all_problems_are_told_at_once(file: Path) -> None:
    wrote(file, 'langauge = "de"\n[clinic]\nname = 3\n[examination]\ntrial_seconds = 90\nvibration = "guess"\n')
    with pytest.raises(SettingsError, match="Mend the file") as told:
        settings.load(file)
    assert [problem.path for problem in told.value.problems] == [
        "langauge",
        "clinic.name",
        "examination.trial_seconds",
        "examination.vibration",
    ]


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("language", '"German"'),
        ("colour_scheme", '"pink"'),
        ("sound", "1"),
        ("clinic.name", '"two\\nlines"'),
        ("clinic.name", f'"{"x" * 201}"'),
        ("clinic.letterhead", '"one line"'),
        ("clinic.letterhead", '["a", "b", "c", "d", "e", "f", "g"]'),
        ("clinic.telephones", '["5550 100"]'),
        ("clinic.telephones", "{ward = 5550}"),
        ("examination.protocol", '"../secret"'),
        ("examination.trial_seconds", "4"),
        ("examination.trial_seconds", "61"),
        ("examination.trial_seconds", "30.0"),
        ("examination.trial_seconds", "true"),
        ("text_scale", "0.9"),
        ("text_scale", "2.1"),
        ("text_scale", "true"),
        ("text_scale", '"1.5"'),
        ("signing.certificate", "3"),
        ("signing.token", '"token.p12"'),
        ("signing.token", "3"),
        ("signing.time_stamp_service", '"time.invalid"'),
        ("signing.time_stamp_service", '"ftp://time.invalid/"'),
        ("signing.time_stamp_service", '"https://"'),
        ("signing.time_stamp_level", '"B-B"'),
        ("signing.authorities", '"one.pem"'),
    ],
)
def test_what_is_not_allowed_is_refused_by_its_place(file: Path, place: str, value: str) -> None:
    with pytest.raises(SettingsError) as told:
        settings.load(wrote(file, f"{place} = {value}\n"))
    assert [problem.path for problem in told.value.problems] == [place]


@pytest.mark.parametrize("content", [b"name = ", b"\xff\xfe", b"[clinic]\n[clinic]\n"])
def test_a_file_that_is_not_toml_is_refused(file: Path, content: bytes) -> None:
    wrote(file, "").write_bytes(content)
    with pytest.raises(SettingsError, match="a TOML file"):
        settings.load(file)


def test_a_broken_file_is_not_written_over(file: Path) -> None:
    wrote(file, "name = ")
    with pytest.raises(SettingsError):
        settings.save(file, CHOSEN)
    assert file.read_text(encoding="utf-8") == "name = "


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "own").write_text("a file where the folder should be", encoding="utf-8")
    with pytest.raises(SettingsError, match="cannot be written"):
        settings.save(tmp_path / "own" / "settings.toml", CHOSEN)


def test_one_variable_moves_the_whole_workplace(tmp_path: Path) -> None:
    moved = settings.places({settings.HOME: str(tmp_path)})
    assert (moved.config, moved.data) == (tmp_path, tmp_path)
    assert moved.settings == tmp_path / "settings.toml"
    assert moved.protocols.parent == moved.templates.parent == tmp_path


def test_the_platform_says_where_the_workplace_is_otherwise() -> None:
    own = settings.places({})
    assert own.config.is_absolute()
    assert own.data.is_absolute()
    assert "neuroform" in {own.config.name, own.config.parent.name}
