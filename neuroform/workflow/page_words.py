"""What a reader sees on a paper's pages, words and picture, and whether an exam's findings are among them."""

import re
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import lru_cache
from hashlib import sha256
from io import BytesIO
from typing import TYPE_CHECKING, Any
from unicodedata import category, normalize

from neuroform.exam.examination import Examination
from neuroform.language import N_, _

if TYPE_CHECKING:
    from neuroform.notes.content import Basis, Cell
    from neuroform.notes.findings import Observation

_APART = 200
"""Letters that may stand between what was found of several items and the name of the last."""
_SHOWN = 5
"""Words of a difference that are told."""


@dataclass(frozen=True, kw_only=True)
class Page:
    """One page as it is shown, annotations and signatures left out."""

    text: str
    picture: str
    """The digest of the drawn page."""

    @property
    def letters(self) -> str:
        """The text's letters, digits and mathematical signs alone, small."""
        return letters(self.text)


def read(pdf: bytes) -> tuple[Page, ...]:
    """Read every page of a PDF; raises RuntimeError for one that can't be read. One thread at a time."""
    import pypdfium2

    document: Any = pypdfium2.PdfDocument(BytesIO(pdf))
    try:
        return tuple(_page(document[number]) for number in range(len(document)))
    finally:
        document.close()


def letters(text: str) -> str:
    """Return what two ways of breaking lines leave the same: letters, digits and mathematical signs, small."""
    kept = (each for each in normalize("NFKC", text) if each.isalnum() or category(each) in {"Sm", "Mn", "Mc"})
    return "".join(kept).casefold()


def difference(shown: tuple[Page, ...], made: tuple[Page, ...]) -> str | None:
    """Say where pages differ from those made again, in a few words; None if they are the same."""
    if len(shown) != len(made):
        return _(N_("it has {count} pages instead of {made}")).format(count=len(shown), made=len(made))
    for number, (one, other) in enumerate(zip(shown, made, strict=True), start=1):
        if one.text != other.text:
            return _words_differ(number, one.text.split(), other.text.split())
        if one.picture != other.picture:
            return _(N_("page {number} looks different")).format(number=number)
    return None


def stranger(exam: Examination, shown: tuple[Page, ...], made: tuple[Page, ...]) -> str | None:
    """Return a sentence when a page doesn't name the person whose examination it is; None if every page does.

    `made` are pages made from the exam: a name whose script can't be read back even from those isn't asked for.
    """
    from neuroform.notes import heads

    name = heads.name(exam)
    asked = [name, *(each.value for each in exam.patient.identifiers)]
    asked = [each for each in asked if all(letters(each) in page.letters for page in made)]
    born = [letters(day) for day in _days(exam)]
    for number, page in enumerate(shown, start=1):
        unnamed = [each for each in asked if letters(each) not in page.letters]
        if unnamed or not any(day in page.letters for day in born):
            whose = _(N_("The examination in this paper is of {name}, born {day}, whom page {number} doesn't name."))
            return whose.format(name=name, day=_days(exam)[0], number=number)
    return None


def findings(basis: "Basis") -> "tuple[Observation, ...]":
    """Return what is recorded, item by item."""
    from neuroform.notes.findings import observations

    return tuple(each for each in observations(basis) if each.marks - {"blank"})


def holds(pages: tuple[Page, ...], observed: "Observation") -> bool:
    """Tell whether the pages say of an item what was found, on each side."""
    whole = _flow(pages)
    told = [(side, cell) for side, cell in observed.cells if cell.mark != "blank"]
    return all(
        _in_a_phrase(whole, observed, side, cell) or _in_a_row(whole, observed, side, cell) for side, cell in told
    )


@lru_cache(maxsize=4)
def _flow(pages: tuple[Page, ...]) -> str:
    """Return the letters of all pages in one, without what stands on each: a phrase may go on over the page."""
    lines = [page.text.splitlines() for page in pages]
    everywhere = frozenset.intersection(*(frozenset(map(_undated, each)) for each in lines))
    if len(lines) > 1:
        lines = [_inner(each, everywhere) for each in lines]
    return "".join(letters(line) for each in lines for line in each)


def _inner(lines: list[str], everywhere: frozenset[str]) -> list[str]:
    first = next((at for at, line in enumerate(lines) if _undated(line) not in everywhere), 0)
    last = next((at for at, line in enumerate(reversed(lines)) if _undated(line) not in everywhere), 0)
    return lines[first : len(lines) - last]


def _undated(line: str) -> str:
    return "".join(each for each in letters(line) if not each.isdigit())


def _in_a_phrase(whole: str, observed: "Observation", side: str, cell: "Cell") -> bool:
    """Look for "ankle reflex: absent on the left", and for several items told at once."""
    from neuroform.notes.findings import both_sides, on_both

    name = observed.label
    where = f"on the {side}" if side else ""
    phrases = [
        f"{name} {both_sides(observed)}",
        *(f"{name} {cell.words} {place}" for place in (where, "on both sides")),
        f"{name} {on_both(cell.words)}",
        *(f"{name} {place} {cell.reason}" for place in (side, "both sides") if cell.reason),
        *([] if side else [f"{observed.entry.item.label} {cell.words}"]),
    ]
    if any(letters(phrase) in whole for phrase in phrases):
        return True
    group, _comma, part = name.rpartition(", ")
    first, last = re.escape(letters(group)), re.escape(letters(part))
    return any(
        re.search(f"{first}.{{0,30}}{re.escape(letters(said))}.{{0,{_APART}}}?{last}", whole)
        for said in {f"{cell.words} {where}", f"{cell.words} on both sides", on_both(cell.words)}
        if group and side
    )


def _in_a_row(whole: str, observed: "Observation", side: str, cell: "Cell") -> bool:
    """Look for a table's row: what was found on the right, the name, what was found on the left, notes beside each."""
    name, words = letters(observed.label), letters(cell.words)
    room = len(words) + len(letters("".join(cell.notes)))
    at = whole.find(name)
    while at >= 0:
        behind = at + len(name)
        beside = whole[max(at - room, 0) : at] if side == "right" else whole[behind : behind + room]
        if words in beside:
            return True
        at = whole.find(name, at + 1)
    return False


def _days(exam: Examination) -> tuple[str, str]:
    from neuroform.notes import heads, wording

    words = wording.wording(None)
    born = exam.patient.birth_date
    return heads.short_day(words, born), heads.long_day(words, born)


def _words_differ(number: int, shown: list[str], made: list[str]) -> str:
    matcher = SequenceMatcher(None, shown, made, autojunk=False)
    for kind, begin, end, made_begin, made_end in matcher.get_opcodes():
        if kind != "equal":
            here = " ".join(shown[begin : min(end, begin + _SHOWN)]) or _(N_("nothing"))
            there = " ".join(made[made_begin : min(made_end, made_begin + _SHOWN)]) or _(N_("nothing"))
            told = _(N_("page {number} says “{here}” where the examination makes “{there}”"))
            return told.format(number=number, here=here, there=there)
    return _(N_("page {number} is broken into lines differently")).format(number=number)


def _page(page: Any) -> Page:
    drawn = page.render(scale=1.5, may_draw_forms=False, draw_annots=False)
    picture = sha256(bytes(drawn.buffer)).hexdigest()
    return Page(text=str(page.get_textpage().get_text_range()), picture=picture)
