"""Words people see: `N_` marks them where they are written, `_` translates them when they are shown."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gettext import NullTranslations

DOMAIN = "neuroform"
SOURCE = "en"

_language = SOURCE
_catalogue: "NullTranslations | None" = None


def N_(text: str) -> str:
    """Mark `text` for the catalogues and return it unchanged."""
    return text


def _(text: str) -> str:
    """Return `text` in the language in use; where the catalogue lacks it, in English."""
    if _language == SOURCE or not text:
        return text
    return _loaded().gettext(text)


def use(language: str) -> None:
    """Show words in `language` ("en", "de", "pt_BR") from now on; an unknown one leaves them English."""
    global _language, _catalogue
    _language = language
    _catalogue = None


def current() -> str:
    """Return the language in use."""
    return _language


def _loaded() -> "NullTranslations":
    global _catalogue
    if _catalogue is None:
        _catalogue = _read(_language)
    return _catalogue


def _read(language: str) -> "NullTranslations":
    from gettext import translation
    from pathlib import Path

    package = Path(__file__).resolve().parent
    folders = (package / "resources" / "i18n", package.parent / "resources" / "i18n")
    places = [folder for folder in folders if folder.is_dir()]
    place = str(places[0]) if places else None
    return translation(DOMAIN, place, languages=[language], fallback=True)
