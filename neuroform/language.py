"""Words people see: `N_` marks them where they are written, `_` translates them when they are shown."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gettext import NullTranslations
    from pathlib import Path

DOMAIN = "neuroform"
SOURCE = "en"
ASIDE = "¦"
"""Parts a word from which of its meanings it has here, where English has one word for two."""
CAPITAL_NOUNS = frozenset({"de", "lb"})
"""Languages that write a noun with a capital wherever it stands."""

_language = SOURCE
_catalogue: "NullTranslations | None" = None
_as_written = ContextVar("_as_written", default=False)


def N_(text: str) -> str:
    """Mark `text` for the catalogues and return it unchanged."""
    return text


def _(text: str) -> str:
    """Return `text` in the language in use; where the catalogue lacks it, in English.

    What follows a broken bar is for translators alone: "clear¦take away".
    """
    if _language != SOURCE and text and not _as_written.get():
        text = _loaded().gettext(text)
    return text.partition(ASIDE)[0] if ASIDE in text else text


def use(language: str) -> None:
    """Show words in `language` ("en", "de", "pt_BR") from now on; an unknown one leaves them English."""
    global _language, _catalogue
    _language = language
    _catalogue = None


@contextmanager
def in_english() -> Iterator[None]:
    """Show words as they are written while this lasts, whatever the language in use; other threads keep theirs.

    Serves as a decorator too.
    """
    before = _as_written.set(True)
    try:
        yield
    finally:
        _as_written.reset(before)


def current() -> str:
    """Return the language in use here."""
    return SOURCE if _as_written.get() else _language


def within(words: str) -> str:
    """Return a label as it stands within a sentence: begun small, where the language does so and it is no acronym."""
    if current().partition("_")[0] in CAPITAL_NOUNS or words[:2].isupper():
        return words
    return words[:1].lower() + words[1:]


def offered() -> Mapping[str, str]:
    """Return the languages the window can be shown in: code to the name each gives itself, English first."""
    own_name = N_("(the language's own name)")
    place = _folder()
    found = sorted(each.parents[1].name for each in place.glob(f"*/LC_MESSAGES/{DOMAIN}.mo")) if place else []
    return {SOURCE: "English", **{code: _read(code).gettext(own_name) for code in found}}


def _loaded() -> "NullTranslations":
    global _catalogue
    if _catalogue is None:
        _catalogue = _read(_language)
    return _catalogue


def _read(language: str) -> "NullTranslations":
    from gettext import translation

    place = _folder()
    return translation(DOMAIN, str(place) if place else None, languages=[language], fallback=True)


def _folder() -> "Path | None":
    """Return where the catalogues stand: in an installed copy, else in the checkout."""
    from pathlib import Path

    package = Path(__file__).resolve().parent
    folders = (package / "resources" / "i18n", package.parent / "resources" / "i18n")
    return next((folder for folder in folders if folder.is_dir()), None)
