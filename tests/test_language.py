"""Marked words are shown in the language in use, in English where it has none."""

import gettext
import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from neuroform import language
from neuroform.completeness.wording import items_in_words
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.settings import Settings
from neuroform.workflow.conclude import conclude


class Invented(gettext.NullTranslations):
    """A catalogue of one word."""

    def gettext(self, message: str) -> str:
        return {"right": "rechts"}.get(message, message)


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    language.use("en")


def test_a_mark_leaves_the_words_alone() -> None:
    assert N_("right") == "right"


def test_english_words_are_shown_as_written() -> None:
    assert _("right") == "right"


def test_an_unknown_language_leaves_the_words_english() -> None:
    language.use("tlh")
    assert (language.current(), _("right"), _("")) == ("tlh", "right", "")


def test_words_are_looked_up_when_shown_not_when_marked(monkeypatch: pytest.MonkeyPatch) -> None:
    marked = N_("right")
    monkeypatch.setattr(language, "_read", lambda _language: Invented())
    language.use("de")
    assert (_(marked), _("left")) == ("rechts", "left")
    language.use("en")
    assert _(marked) == "right"


def test_what_stands_after_a_broken_bar_is_for_translators_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    assert _("clear¦take away") == "clear"
    monkeypatch.setattr(language, "_read", lambda _language: Invented())
    language.use("de")
    assert _("clear¦take away") == "clear"


def test_what_is_written_for_others_stays_english_in_its_own_thread(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(language, "_read", lambda _language: Invented())
    language.use("de")
    with language.in_english(), ThreadPoolExecutor(1) as others:
        assert _("right") == "right"
        assert others.submit(_, "right").result() == "rechts"
    assert _("right") == "rechts"


def test_languages_offered_are_called_what_they_call_themselves() -> None:
    assert dict(language.offered()) == {"en": "English", "de": "Deutsch"}


@pytest.mark.parametrize("code", ["de", "de_AT"])
def test_german_is_shown_for_every_german_country(code: str) -> None:
    language.use(code)
    assert _("Joint position") == "Lagesinn"


@pytest.mark.parametrize(
    ("code", "label", "expected"),
    [
        ("en", "Head impulse", "head impulse"),
        ("en", "MRC grade", "MRC grade"),
        ("de", "Kopfimpulstest", "Kopfimpulstest"),
        ("de_CH", "Kopfimpulstest", "Kopfimpulstest"),
    ],
)
def test_a_label_within_a_sentence_keeps_the_capitals_its_language_asks_for(
    code: str, label: str, expected: str
) -> None:
    language.use(code)
    assert language.within(label) == expected


def test_what_was_said_in_one_language_is_said_anew_in_another() -> None:
    paths = ("reflexes.knee.right", "reflexes.knee.left")
    assert items_in_words(paths) == "Knee reflex (both sides)"
    language.use("de")
    assert items_in_words(paths) == "Patellarsehnenreflex (beide Seiten)"
    with language.in_english():
        assert items_in_words(paths) == "Knee reflex (both sides)"


def said(exam: Examination) -> tuple[str, list[str]]:
    """Return the paragraph, and what else is concluded in words."""
    found = conclude(exam, Settings(), with_next_tests=True)
    gaps, urgent = (each.message for each in found.gaps), (each.message for each in found.reading.urgent)
    return found.paragraph, [*gaps, *urgent]


def same_paragraph(exam: Examination) -> None:
    """Hold that the paragraph is the papers' in a German window, and what stands around it German."""
    paragraph, others = said(exam)
    language.use("de")
    in_german, german_others = said(exam)
    assert in_german == paragraph
    assert len(german_others) == len(others)
    assert not set(german_others) & set(others)


def test_the_paragraph_keeps_the_language_of_papers_and_what_is_around_it_does_not(checkout: Path) -> None:
    same_paragraph(files.read((checkout / "resources" / "demonstration" / "exam.json").read_bytes()))


def test_the_paragraph_of_every_shared_case_keeps_the_language_of_papers(shared_case: Path) -> None:
    case = json.loads(shared_case.read_text(encoding="utf-8"))
    same_paragraph(files.read(json.dumps(case.get("exam", case)).encode()))
