"""Marked words are shown in the language in use, in English where it has none."""

import gettext
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import pytest

from neuroform import language
from neuroform.language import N_, _


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


def test_what_is_written_for_others_stays_english_in_its_own_thread(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(language, "_read", lambda _language: Invented())
    language.use("de")
    with language.in_english(), ThreadPoolExecutor(1) as others:
        assert _("right") == "right"
        assert others.submit(_, "right").result() == "rechts"
    assert _("right") == "rechts"
