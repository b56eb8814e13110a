"""Catalogues hold every marked word, whole: the same fields, the same side, nothing guessed."""

import re
from collections.abc import Callable
from gettext import GNUTranslations, NullTranslations
from pathlib import Path

import pytest

from neuroform import catalogues, generate

WORDS = Path("resources") / "i18n" / "de" / "LC_MESSAGES"
FIELD = re.compile(r"{(\w*)[^}]*}")
SIDES = {"right": re.compile(r"\bright\b", re.IGNORECASE), "left": re.compile(r"\bleft\b", re.IGNORECASE)}
GERMAN_SIDES = {"right": re.compile(r"\brecht", re.IGNORECASE), "left": re.compile(r"\blink", re.IGNORECASE)}
# There the words stand for a key, not for a side of the person.
KEYS = {"a finding under right and one under left"}


class Nothing(NullTranslations):
    """Says nothing for what a catalogue lacks."""

    def gettext(self, message: str) -> str:
        return ""


@pytest.fixture(scope="module")
def german(checkout: Path) -> dict[str, str]:
    """Give what the compiled German catalogue says, read by the standard library alone."""
    with (checkout / WORDS / "neuroform.mo").open("rb") as held:
        found = GNUTranslations(held)
    return {text: found.gettext(text) for text in catalogues.marked(catalogues.PACKAGE)}


def test_every_catalogue_is_whole_and_up_to_date(checkout: Path) -> None:
    assert list(catalogues.faults(checkout)) == []


def test_every_marked_word_is_in_the_compiled_catalogue(checkout: Path, german: dict[str, str]) -> None:
    with (checkout / WORDS / "neuroform.mo").open("rb") as held:
        found = GNUTranslations(held)
    found.add_fallback(Nothing())
    assert [text for text in german if found.gettext(text) == ""] == []


def test_fields_are_the_same_in_both_languages(german: dict[str, str]) -> None:
    for text, said in german.items():
        assert sorted(set(FIELD.findall(text))) == sorted(set(FIELD.findall(said))), text


def test_h10_no_translation_changes_the_side(german: dict[str, str]) -> None:
    files = catalogues.marked(catalogues.PACKAGE)
    for text, said in german.items():
        if text in KEYS or not any("/exam/" in file or "/figures/" in file for file in files[text]):
            continue
        assert {s for s in SIDES if SIDES[s].search(text)} == {s for s in SIDES if GERMAN_SIDES[s].search(said)}, text


@pytest.mark.parametrize(
    ("english", "expected"),
    [
        ("patient’s right", "rechte Patientenseite"),
        ("patient’s left", "linke Patientenseite"),
        ("Joint position", "Lagesinn"),
        ("Vibration", "Vibrationsempfinden"),
        ("Head impulse", "Kopfimpulstest"),
        ("Nystagmus changing with gaze", "Blickrichtungsnystagmus"),
        ("Heel-shin", "Knie-Hacke-Versuch"),
        ("Finger-nose", "Finger-Nase-Versuch"),
        ("Ankle reflex", "Achillessehnenreflex"),
        ("Stance test (Romberg)", "Stehversuch (Romberg)"),
    ],
)
def test_german_terms_are_those_of_the_trade(german: dict[str, str], english: str, expected: str) -> None:
    """From memory: as German textbooks of neurological examination name them."""
    assert german[english] == expected


@pytest.fixture
def package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], Path]:
    """Give a function that makes a checkout of one module with that text, in place of the program's own."""

    def make(text: str) -> Path:
        (tmp_path / "neuroform").mkdir(exist_ok=True)
        (tmp_path / "neuroform" / "words.py").write_text(text, encoding="utf-8")
        monkeypatch.setattr(catalogues, "PACKAGE", tmp_path / "neuroform")
        return tmp_path

    return make


def test_words_are_gathered_where_they_are_marked(package: Callable[[str], Path]) -> None:
    folder = package('A = N_("b")\nprint(_(N_("a {x}")), _("b"), _(A), N_("half " "and half"), _(""), other("c"))\n')
    here = ["neuroform/words.py"]
    assert catalogues.marked(folder / "neuroform") == {"b": here, "a {x}": here, "half and half": here}


def test_a_mark_around_what_is_not_written_out_is_refused(package: Callable[[str], Path]) -> None:
    folder = package('\nA = N_(f"{x} steps")\n')
    with pytest.raises(catalogues.MarkError, match=r"words\.py:2 "):
        catalogues.marked(folder / "neuroform")


HEAD = 'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n'


def in_german(folder: Path, *entries: str) -> None:
    """Write a German catalogue, not yet compiled."""
    (folder / WORDS).mkdir(parents=True, exist_ok=True)
    (folder / WORDS / "neuroform.po").write_text("\n".join([HEAD, *entries]), encoding="utf-8")


def entry(text: str, said: str, above: str = "") -> str:
    return f'{above}msgid "{text}"\nmsgstr "{said}"\n'


def test_a_catalogue_from_a_translators_tool_is_read() -> None:
    """Lines broken as GNU gettext breaks them, escapes, remarks and what is obsolete: from memory of its manual."""
    written = (
        '# About\nmsgid ""\nmsgstr ""\n"Language: de\\n"\n\n'
        '# My remark\n#. theirs\n#: a.py:3 b.py\n#, fuzzy, no-c-format\nmsgid ""\n"two "\n"halves"\nmsgstr ""\n'
        '"zwei \\"Hälften\\"\\n"\n\n#~ msgid "gone"\n#~ msgstr "weg"\n'
    )
    assert list(catalogues.read(written)) == [
        catalogues.Entry(text="two halves", said='zwei "Hälften"\n', notes=("# My remark",), fuzzy=True)
    ]


def test_gettext_reads_what_was_compiled_and_the_catalogue_reads_back(package: Callable[[str], Path]) -> None:
    folder = package('N_("both \\"sides\\"\\n")\nN_("no side")\nN_("left out")')
    in_german(
        folder,
        entry('both \\"sides\\"\\n', 'beide \\"Seiten\\"\\n', "# so\n"),
        entry("no side", "keine Seite", "#, fuzzy\n"),
    )
    catalogues.update(folder)
    with (folder / WORDS / "neuroform.mo").open("rb") as held:
        found = GNUTranslations(held)
    assert found.gettext('both "sides"\n') == 'beide "Seiten"\n'
    assert [found.gettext(text) for text in ("no side", "left out")] == ["no side", "left out"]
    read = {each.text: each for each in catalogues.read((folder / WORDS / "neuroform.po").read_text(encoding="utf-8"))}
    assert read['both "sides"\n'].notes == ("# so",)
    assert (read["no side"].fuzzy, read["left out"].said) == (True, "")


def test_a_whole_catalogue_has_no_fault(package: Callable[[str], Path]) -> None:
    folder = package('N_("both sides")')
    in_german(folder, entry("both sides", "beide Seiten"))
    catalogues.update(folder)
    assert catalogues.languages(folder) == ("de",)
    assert list(catalogues.faults(folder)) == []


@pytest.mark.parametrize(
    ("marked", "kept", "fault"),
    [
        ('N_("both sides")\nN_("no side")', entry("both sides", "beide Seiten"), "“no side” is not translated"),
        ('N_("both sides")', entry("both sides", "beide Seiten", "#, fuzzy\n"), "fuzzy"),
        ('N_("both sides")', entry("both sides", "beide {n}"), "other fields"),
        ('N_("both sides")', entry("both sides", " beide Seiten"), "with a space"),
    ],
)
def test_what_a_catalogue_lacks_is_told(package: Callable[[str], Path], marked: str, kept: str, fault: str) -> None:
    folder = package(marked)
    in_german(folder, kept)
    catalogues.update(folder)
    (told,) = catalogues.faults(folder)
    assert told.startswith((WORDS / "neuroform.po").as_posix())
    assert fault in told


def test_words_added_taken_away_and_not_compiled_are_told(package: Callable[[str], Path]) -> None:
    folder = package('N_("both sides")')
    in_german(folder, entry("both sides", "beide Seiten"), entry("gone", "weg"))
    catalogues.update(folder)
    assert "gone" not in (folder / WORDS / "neuroform.po").read_text(encoding="utf-8")
    package('N_("both sides")\nN_("another")')
    assert any(told.endswith("run python -m neuroform.generate") for told in catalogues.faults(folder))
    package('N_("both sides")')
    (folder / WORDS / "neuroform.mo").unlink()
    assert [told.split()[0] for told in catalogues.faults(folder)] == [(WORDS / "neuroform.mo").as_posix()]


def test_the_check_fails_on_a_catalogue_that_is_not_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(generate, "CHECKOUT", tmp_path)
    in_german(tmp_path, entry("both sides", "beide Seiten"))
    assert generate.main([]) == 0
    assert generate.main(["--check"]) == 1
    assert "is not translated" in capsys.readouterr().err
