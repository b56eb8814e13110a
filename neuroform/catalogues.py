"""Gathers the marked words into a template and keeps the catalogues in step: part of `python -m neuroform.generate`."""

import ast
import re
import struct
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from gettext import GNUTranslations
from itertools import accumulate
from pathlib import Path
from string import Formatter

PACKAGE = Path(__file__).resolve().parent
FOLDER = "resources/i18n"
TEMPLATE = f"{FOLDER}/neuroform.pot"
MARKS = frozenset({"_", "N_"})

_ABOUT = "# Words of the window; papers keep the language of their templates. Made by `python -m neuroform.generate`."
_HEADER = (
    "Language: {language}\nMIME-Version: 1.0\n"
    "Content-Type: text/plain; charset=UTF-8\nContent-Transfer-Encoding: 8bit\n"
)
_LINE = re.compile(r'(?:(msgid|msgstr) )?(".*")')
_MAGIC = 0x950412DE


class MarkError(Exception):
    """A mark stands around something that is not written out, so that no catalogue can hold it."""


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One marked text in one language."""

    text: str
    said: str = ""
    """Its translation; empty where there is none."""
    files: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    """A translator's own remarks."""
    fuzzy: bool = False
    """Whether the translation is only guessed, by a translator's tool."""


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
            case [ast.Constant(value=str() as text)]:
                if text:
                    yield text
            case _ if isinstance(call.func, ast.Name) and call.func.id == "N_":
                raise MarkError(f"{name}:{call.lineno} marks words that are not written out")


def _is_mark(call: ast.Call) -> bool:
    return isinstance(call.func, ast.Name) and call.func.id in MARKS


def template_text() -> str:
    """Return the template that every catalogue is made from, without dates and line numbers."""
    return _written(_template(), "")


def _template() -> tuple[Entry, ...]:
    return tuple(Entry(text=text, files=tuple(files)) for text, files in marked(PACKAGE).items())


def languages(folder: Path) -> tuple[str, ...]:
    """Return the languages that a checkout has catalogues of."""
    return tuple(sorted(found.parents[1].name for found in (folder / FOLDER).glob("*/LC_MESSAGES/neuroform.po")))


def update(folder: Path) -> None:
    """Bring every catalogue of a checkout up to the template, and compile it; new words are left to be translated."""
    for language in languages(folder):
        file = _file(folder, language)
        entries = _in_step(file)
        file.write_text(_written(entries, language), encoding="utf-8")
        file.with_suffix(".mo").write_bytes(_compiled(entries, language))


def faults(folder: Path) -> Iterator[str]:
    """Yield, in a sentence each, what keeps the catalogues of a checkout from being whole and up to date."""
    for language in languages(folder):
        file = _file(folder, language)
        name = file.relative_to(folder).as_posix()
        entries = _in_step(file)
        if file.read_text(encoding="utf-8") != _written(entries, language):
            yield f"{name} differs from the words that are marked; run python -m neuroform.generate"
        for entry in entries:
            yield from (f"{name}: “{entry.text}” {fault}" for fault in _faults(entry))
        if _held(file.with_suffix(".mo")) != _translated(entries):
            yield f"{file.with_suffix('.mo').relative_to(folder).as_posix()} differs; run python -m neuroform.generate"


def _faults(entry: Entry) -> Iterator[str]:
    if not entry.said:
        yield "is not translated"
        return
    if entry.fuzzy:
        yield "is only guessed (fuzzy): translate it and take the mark away"
    if fields(entry.text) != fields(entry.said):
        yield "has other fields in its translation"
    if _around(entry.text) != _around(entry.said):
        yield "begins or ends with a space, its translation otherwise"


def fields(text: str) -> frozenset[str]:
    """Return the names of the fields a text has."""
    return frozenset(name for _text, name, _spec, _conversion in Formatter().parse(text) if name is not None)


def _around(text: str) -> tuple[bool, bool]:
    return text[:1].isspace(), text[-1:].isspace()


def _file(folder: Path, language: str) -> Path:
    return folder / FOLDER / language / "LC_MESSAGES" / "neuroform.po"


def _in_step(file: Path) -> tuple[Entry, ...]:
    """Read a catalogue and bring it up to the template: what is no longer marked falls away, new words are blank.

    Nothing is guessed from words that look alike: it could name another finding.
    """
    kept = {entry.text: entry for entry in read(file.read_text(encoding="utf-8"))}
    return tuple(replace(kept.get(each.text, each), files=each.files) for each in _template())


def read(catalogue: str) -> Iterator[Entry]:
    """Yield the entries of a catalogue in the gettext format, its header left out; there are no plurals or contexts."""
    for block in catalogue.split("\n\n"):
        parts = {"msgid": "", "msgstr": ""}
        part = "msgid"
        for line in block.splitlines():
            if found := _LINE.fullmatch(line):
                part = found[1] or part
                parts[part] += ast.literal_eval(found[2])
        if parts["msgid"]:
            lines = block.splitlines()
            yield Entry(
                text=parts["msgid"],
                said=parts["msgstr"],
                notes=tuple(line for line in lines if line.startswith("# ")),
                fuzzy=any(line.startswith("#,") and "fuzzy" in line for line in lines),
            )


def _written(entries: Iterable[Entry], language: str) -> str:
    head = f'{_ABOUT}\nmsgid ""\nmsgstr ""\n'
    head += "".join(f"{_quoted(line)}\n" for line in _HEADER.format(language=language).splitlines(keepends=True))
    return "\n".join([head, *map(_block, entries)])


def _block(entry: Entry) -> str:
    lines = [*entry.notes, *(f"#: {file}" for file in entry.files), *(["#, fuzzy"] if entry.fuzzy else [])]
    return "\n".join([*lines, f"msgid {_quoted(entry.text)}", f"msgstr {_quoted(entry.said)}", ""])


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t")
    return f'"{escaped}"'


def _translated(entries: Iterable[Entry]) -> dict[str, str]:
    return {entry.text: entry.said for entry in entries if entry.said and not entry.fuzzy}


def _compiled(entries: Iterable[Entry], language: str) -> bytes:
    """Return a catalogue as gettext reads it: two tables of lengths and places, then the texts (GNU gettext manual)."""
    words = {"": _HEADER.format(language=language), **_translated(entries)}
    pairs = sorted((text.encode(), said.encode()) for text, said in words.items())
    texts = [text for text, _said in pairs] + [said for _text, said in pairs]
    begin = 28 + 8 * len(texts)
    places = accumulate((len(text) + 1 for text in texts), initial=begin)
    table = [number for text, place in zip(texts, places, strict=False) for number in (len(text), place)]
    head = (_MAGIC, 0, len(pairs), 28, 28 + 8 * len(pairs), 0, begin)
    return struct.pack(f"<{7 + len(table)}I", *head, *table) + b"".join(text + b"\0" for text in texts)


def _held(compiled: Path) -> Mapping[str, str]:
    """Return what a compiled catalogue holds; nothing where there is none."""
    if not compiled.is_file():
        return {}
    with compiled.open("rb") as opened:
        kept: Mapping[str, str] = vars(GNUTranslations(opened))["_catalog"]
    return {text: said for text, said in kept.items() if text}
