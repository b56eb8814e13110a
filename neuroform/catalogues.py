"""Gathers the marked words into a template and keeps the catalogues in step: part of `python -m neuroform.generate`."""

import ast
from collections.abc import Iterator
from gettext import GNUTranslations
from io import BytesIO
from pathlib import Path
from string import Formatter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel.messages.catalog import Catalog

PACKAGE = Path(__file__).resolve().parent
FOLDER = "resources/i18n"
TEMPLATE = f"{FOLDER}/neuroform.pot"
MARKS = frozenset({"_", "N_"})

_HEADER = """\
# Words of the window. Papers keep the language of their templates. Made by `python -m neuroform.generate`.
msgid ""
msgstr ""
"Project-Id-Version: neuroform\\n"
"Language: {language}\\n"
"MIME-Version: 1.0\\n"
"Content-Type: text/plain; charset=UTF-8\\n"
"Content-Transfer-Encoding: 8bit\\n"

"""


class MarkError(Exception):
    """A mark stands around something that is not written out, so that no catalogue can hold it."""


def marked(package: Path) -> dict[str, list[str]]:
    """Return every marked text and the files it stands in, in reading order.

    Raises MarkError where `N_` marks anything but a text; `_` may be given what is marked elsewhere.
    """
    found: dict[str, list[str]] = {}
    for file in sorted(package.rglob("*.py")):
        name = file.relative_to(package.parent).as_posix()
        for text in _texts(ast.parse(file.read_text(encoding="utf-8")), name):
            places = found.setdefault(text, [])
            if name not in places:
                places.append(name)
    return found


def _texts(tree: ast.Module, name: str) -> Iterator[str]:
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and _is_mark(node)]
    for call in sorted(calls, key=lambda node: (node.lineno, node.col_offset)):
        match call.args:
            case [ast.Constant(value=str() as text)] if text:
                yield text
            case _ if isinstance(call.func, ast.Name) and call.func.id == "N_":
                raise MarkError(f"{name}:{call.lineno} marks words that are not written out")


def _is_mark(call: ast.Call) -> bool:
    return isinstance(call.func, ast.Name) and call.func.id in MARKS


def template_text() -> str:
    """Return the template that every catalogue is made from, without dates and line numbers."""
    return _written(_template(), "")


def _template() -> "Catalog":
    from babel.messages.catalog import Catalog

    catalog = Catalog()
    for text, files in marked(PACKAGE).items():
        # Fields are for str.format; Babel would take a percent sign for one of its own.
        catalog.add(text, locations=[(file, 0) for file in files])
        catalog[text].flags.discard("python-format")
    return catalog


def _written(catalog: "Catalog", language: str) -> str:
    from babel.messages.pofile import write_po

    held = BytesIO()
    write_po(held, catalog, width=120, omit_header=True, ignore_obsolete=True, include_lineno=False)
    return _HEADER.format(language=language) + held.getvalue().decode("utf-8").strip() + "\n"


def languages(folder: Path) -> tuple[str, ...]:
    """Return the languages that a checkout has catalogues of."""
    return tuple(sorted(found.parents[1].name for found in (folder / FOLDER).glob("*/LC_MESSAGES/neuroform.po")))


def update(folder: Path) -> None:
    """Bring every catalogue of a checkout up to the template, and compile it; new words are left to be translated."""
    from babel.messages.mofile import write_mo

    for language in languages(folder):
        file = _file(folder, language)
        catalog = _in_step(file)
        file.write_text(_written(catalog, language), encoding="utf-8")
        if _compiled(file) != _translated(catalog):
            held = BytesIO()
            write_mo(held, catalog)
            file.with_suffix(".mo").write_bytes(held.getvalue())


def faults(folder: Path) -> Iterator[str]:
    """Yield, in a sentence each, what keeps the catalogues of a checkout from being whole and up to date."""
    for language in languages(folder):
        file = _file(folder, language)
        name = file.relative_to(folder).as_posix()
        catalog = _in_step(file)
        if file.read_text(encoding="utf-8") != _written(catalog, language):
            yield f"{name} differs from the words that are marked; run python -m neuroform.generate"
        for message in catalog:
            if message.id:
                yield from (f"{name}: “{message.id}” {fault}" for fault in _faults(message.id, message))
        if _compiled(file) != _translated(catalog):
            yield f"{file.with_suffix('.mo').relative_to(folder).as_posix()} differs; run python -m neuroform.generate"


def _faults(text: object, message: object) -> Iterator[str]:
    said = getattr(message, "string", "")
    if not said:
        yield "is not translated"
        return
    if getattr(message, "fuzzy", False):
        yield "is only guessed (fuzzy): translate it and take the mark away"
    if fields(str(text)) != fields(str(said)):
        yield "has other fields in its translation"
    if _around(str(text)) != _around(str(said)):
        yield "begins or ends with a space, its translation otherwise"


def fields(text: str) -> frozenset[str]:
    """Return the names of the fields a text has."""
    return frozenset(name for _text, name, _spec, _conversion in Formatter().parse(text) if name is not None)


def _around(text: str) -> tuple[bool, bool]:
    return text[:1].isspace(), text[-1:].isspace()


def _file(folder: Path, language: str) -> Path:
    return folder / FOLDER / language / "LC_MESSAGES" / "neuroform.po"


def _in_step(file: Path) -> "Catalog":
    """Read a catalogue and bring it up to the template; what is no longer marked falls away."""
    from babel.messages.pofile import read_po

    with file.open("rb") as held:
        catalog = read_po(held)
    catalog.update(_template(), update_header_comment=False)
    catalog.obsolete.clear()
    return catalog


def _translated(catalog: "Catalog") -> dict[str, str]:
    return {str(each.id): str(each.string) for each in catalog if each.id and each.string and not each.fuzzy}


def _compiled(file: Path) -> dict[str, str]:
    """Return what the compiled catalogue beside a file holds; nothing where there is none."""
    compiled = file.with_suffix(".mo")
    if not compiled.is_file():
        return {}
    with compiled.open("rb") as held:
        kept = dict(getattr(GNUTranslations(held), "_catalog"))  # noqa: B009  the library has no other list of it
    return {text: said for text, said in kept.items() if text}
