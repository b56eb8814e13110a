"""Exam files: strict reading with every problem at once, canonical writing, migrations.

Errs towards refusing: what is not certainly an exam file of a known format is not read.
"""

import json
import re
from collections.abc import Callable, Mapping
from typing import Any, NoReturn

from pydantic import ValidationError

from neuroform.errors import ExamFileError, NewerFormatError, Problem
from neuroform.exam.examination import FORMAT, Examination
from neuroform.exam.nulls import without_nulls
from neuroform.exam.problems import problems_of
from neuroform.language import N_, _

LARGEST = 4_000_000
"""Bytes; a full examination takes about 20,000."""
DEEPEST = 40
# A string is taken whole and never given back, so that no text takes longer than its length.
_STRING_OR_BRACKET = re.compile(r'"(?:[^"\\]+|\\.)*+"?|[\[{\]}]', re.DOTALL)
FAMILY = FORMAT.split("/")[0]
CURRENT = int(FORMAT.split("/")[1])

MIGRATIONS: Mapping[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}
"""Version to the function that lifts a raw exam of that version to the next. The first is to come with version 2."""


def read(data: bytes) -> Examination:
    """Read an exam file.

    Raises NewerFormatError for a newer format, ExamFileError with every problem otherwise.
    """
    raw = _parsed(data)
    version = _version(raw)
    migrated = raw
    for step in range(version, CURRENT):
        migrated = MIGRATIONS[step](migrated)
    pruned, misplaced = without_nulls(migrated) if b"null" in data else (migrated, ())
    text = data if pruned is raw else json.dumps(pruned).encode()
    try:
        exam = Examination.model_validate_json(text)
    except ValidationError as refused:
        found = problems_of(refused)
        named = {problem.path for problem in found}
        _refuse((*found, *(problem for problem in misplaced if problem.path not in named)))
    if misplaced:
        _refuse(misplaced)
    return exam


def write(exam: Examination) -> bytes:
    """Write an exam canonically: keys in order of declaration, blanks left out, shortest numbers, UTF-8."""
    return json.dumps(plain(exam), ensure_ascii=False, indent=1).encode() + b"\n"


def plain(exam: Examination) -> dict[str, Any]:
    """Return an exam as plain JSON values, blanks left out."""
    kept = _kept(exam.model_dump(mode="json", exclude_none=True))
    assert isinstance(kept, dict)
    return kept


def _parsed(data: bytes) -> dict[str, Any]:
    if len(data) > LARGEST:
        _refuse_file(N_("The file is larger than any exam file."), N_("at most 4,000,000 bytes"))
    if data.startswith(b"\xef\xbb\xbf"):
        _refuse_file(N_("The file begins with a byte order mark."), N_("JSON in UTF-8 without one"))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        _refuse_file(N_("The file is not UTF-8 text."), N_("JSON in UTF-8"))
    if _depth(text) > DEEPEST:
        _refuse_file(N_("The file is nested too deeply."), N_("an exam file"))
    try:
        raw = json.loads(text, object_pairs_hook=_refuse_duplicates, parse_constant=_refuse_constant)
    except json.JSONDecodeError as broken:
        where = _("line {line}, column {column}").format(line=broken.lineno, column=broken.colno)
        _refuse_file(_("The file is not JSON: it breaks at {where}.").format(where=where), N_("JSON"))
    except (ValueError, RecursionError):
        _refuse_file(N_("The file holds a number with thousands of digits."), N_("a number within its range"))
    if not isinstance(raw, dict):
        _refuse_file(N_("The file does not hold an object."), N_("an exam file"))
    if "\\ud" in text or "\\uD" in text:
        _refuse_surrogates(raw, "")
    return raw


def _version(raw: dict[str, Any]) -> int:
    """Return the number of the format; refuse a missing, foreign or newer one."""
    named = raw.get("format")
    if named is None:
        _refuse((Problem(path="format", found=_("is missing"), allowed=FORMAT),))
    family, _slash, number = str(named).partition("/")
    known = isinstance(named, str) and family == FAMILY and number.isascii() and number.isdigit() and len(number) < 6
    if not known or number.startswith("0"):
        _refuse((Problem(path="format", found=_shown(named), allowed=FORMAT),))
    if int(number) > CURRENT:
        raise NewerFormatError(
            _("This exam file is of the newer format {format}; this program reads up to {ours}.").format(
                format=named, ours=FORMAT
            ),
            _("Open it with a newer version."),
            problems=(Problem(path="format", found=named, allowed=FORMAT),),
        )
    return int(number)


def _depth(text: str) -> int:
    """Return how deep brackets nest outside strings."""
    if text.count("[") + text.count("{") <= DEEPEST:
        return 0
    depth = deepest = 0
    for found in _STRING_OR_BRACKET.finditer(text):
        mark = found[0]
        if mark in "[{":
            depth += 1
            deepest = max(deepest, depth)
            if deepest > DEEPEST:
                break
        elif mark in "]}":
            depth -= 1
    return deepest


def _refuse_duplicates(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        names = [name for name, _value in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        _refuse((Problem(path=_shown(twice), found=_("stands twice"), allowed=_("each key once")),))
    return found


def _refuse_constant(name: str) -> NoReturn:
    _refuse_file(_("The file holds {name}, which is not a number.").format(name=name), N_("a number within its range"))


def _refuse_surrogates(at: Any, path: str) -> None:
    """Refuse half a character, which an escape can write."""
    if isinstance(at, str):
        if any("\ud800" <= letter <= "\udfff" for letter in at):
            _refuse(
                (Problem(path=path, found=_("half a character (a lone surrogate)"), allowed=_("whole characters")),)
            )
    elif isinstance(at, dict):
        for name, value in at.items():
            _refuse_surrogates(name, path)
            _refuse_surrogates(value, f"{path}.{name}" if path else name)
    elif isinstance(at, list):
        for number, value in enumerate(at):
            _refuse_surrogates(value, f"{path}.{number}")


def _kept(at: Any) -> Any:
    """Leave out empty groups and write whole numbers without a point."""
    if isinstance(at, dict):
        kept = {name: _kept(value) for name, value in at.items()}
        return {name: value for name, value in kept.items() if value != {}}
    if isinstance(at, list):
        return [_kept(value) for value in at]
    return int(at) if isinstance(at, float) and at.is_integer() else at


def _shown(found: Any) -> str:
    text = found if isinstance(found, str) else json.dumps(found, default=str)
    printable = "".join(letter if letter.isprintable() else "\ufffd" for letter in text)
    return printable if len(printable) <= 60 else printable[:57] + "…"


def _refuse_file(what: str, allowed: str) -> NoReturn:
    _refuse((Problem(path="", found=_(what), allowed=_(allowed)),))


def _refuse(problems: tuple[Problem, ...]) -> NoReturn:
    first = str(problems[0])
    more = len(problems) - 1
    what = _("This is not a valid exam file: {first}").format(first=first)
    if more:
        what += " " + _("(and {more} more)").format(more=more)
    raise ExamFileError(what, _("Mend the file and open it again."), problems=problems)
