"""Many whole examinations, concluded as the program does, each written: nothing fails, drops out or spills over."""

import os
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import pikepdf
import pytest
from fontTools.ttLib import TTFont

from neuroform.exam import walk
from neuroform.exam.circulation import Pressure
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.exam.sensation import MovementCount
from neuroform.notes import papers
from neuroform.notes.content import KINDS, Basis, Earlier, Kind, Paper
from neuroform.notes.layout import UnsignedPaper
from neuroform.settings import Settings
from neuroform.workflow.conclude import named_protocol
from neuroform.workflow.gathering import gather
from tests.conftest import IN_CI
from tests.exam.strategies import generated
from tests.notes.invented import pages_of, squeezed
from tests.notes.test_generated_papers import drawable, overfull

COUNT = 1000 if IN_CI or os.environ.get("NEUROFORM_LONG") == "1" else 60
OTHERS: tuple[Kind, ...] = tuple(kind for kind in KINDS if kind != "note")
EARLIER = Earlier(title="Legs and balance examination, note", when="12 November 2026, 09:30", sha256="9f" * 32)
TRIAL = {"sway", "direction", "seconds", "ended"}
# In points at pdftotext's own 72 to the inch, from the upper left corner of the page.
BETWEEN_HEAD_AND_FOOT = ("-x", "0", "-y", "64", "-W", "596", "-H", "732")
AFTER_NORMAL = r"Comments|Signed with a reason|Not answered|Plan"


@dataclass(frozen=True)
class Written:
    """An examination, what was concluded of it, and its note."""

    number: int
    basis: Basis
    note: UnsignedPaper
    text: str
    """Of all pages, as PDFium reads it."""
    flow: str
    """Its letters alone, without heads and feet."""

    @property
    def exam(self) -> Examination:
        return self.basis.exam


@pytest.fixture(scope="module")
def all_written() -> list[Written]:
    """Give many examinations with their notes."""
    made = []
    for number, exam in enumerate(generated(COUNT, seed=41)):
        protocol = named_protocol(("full", "ward", "acute_vertigo", "weak_legs")[number % 4])
        basis, _concluded = gather(drawable(exam), protocol, Settings())
        note = papers.make("note", basis)
        read = squeezed(" ".join(pages_of(note.pdf)))
        made.append(Written(number, basis, note, read, flowing(note, papers.content("note", basis))))
    return made


def flowing(note: UnsignedPaper, paper: Paper) -> str:
    """Read a note's letters as they flow from page to page, without the head and the foot that stand on each."""
    found = []
    for page in map(letters, pages_of(note.pdf)):
        foot = page.rindex(letters(paper.foot.paper)) - len(letters(paper.foot.person))
        found.append(page[:foot].removeprefix(letters(paper.title + paper.when)))
    return "".join(found)


def told(entry: walk.Entry, value: Any) -> Iterator[str]:
    """Yield what has to be read of a value, from the catalogue."""
    if entry.path == "context.duration_days" and value >= 180:
        # Counted by the calendar: twelve months a year, 365.25 days.
        yield f"{round(value / 365.25)}\u202fyears" if value >= 730 else f"{round(value / 365.25 * 12)}\u202fmonths"
    elif isinstance(value, MovementCount):
        yield f"{value.correct} of {value.trials}"
    elif isinstance(value, Pressure):
        yield f"{value.systolic:g}/{value.diastolic:g}"
    elif isinstance(value, tuple):
        yield from (entry.answers.words[code] if entry.answers else code for code in value)
    elif isinstance(value, str):
        yield entry.answers.words[value] if entry.answers else value
    else:
        yield f"{value:g}"


def letters(text: str) -> str:
    """Return text without what breaking lines changes."""
    return re.sub(r"[\s-]", "", text).casefold()


def expected(written: Written) -> Iterator[tuple[str, str]]:
    """Yield (path, words) for everything that was found."""
    for path, found in walk.recorded(written.exam):
        entry = walk.entry(path)
        if entry.section == "conclusion" or entry.kind == "text":
            continue
        value = found.value if isinstance(found, Examined) else None if not entry.plain else found
        # A trial is told in a phrase of its own: "slight sway, forward; stepped at 12 s".
        if value is None or (entry.path.rpartition(".")[2] in TRIAL and not isinstance(value, int | float)):
            continue
        for words in told(entry, value):
            yield path, letters(words)


def test_every_finding_s_words_are_read_from_the_note_h25(all_written: list[Written]) -> None:
    for written in all_written:
        missing = [path for path, words in expected(written) if words not in written.flow]
        assert missing == [], written.number


def test_every_finding_s_words_are_found_by_pdftotext_h29(
    all_written: list[Written], poppler_text: Callable[..., str]
) -> None:
    """A second program reads the pages: what dropped out of "< 3.5" or stood in no letter it knows would be missing."""
    for written in all_written:
        read = letters(poppler_text(written.note.pdf, *BETWEEN_HEAD_AND_FOOT))
        missing = [(path, words) for path, words in expected(written) if words not in read]
        assert missing == [], written.number


def test_what_was_not_examined_is_read_with_its_reason_h25(all_written: list[Written]) -> None:
    for written in all_written:
        for path, found in walk.recorded(written.exam):
            code = getattr(found, "not_examined", None)
            if code is not None and path.rpartition(".")[2] not in TRIAL:
                assert letters(walk.entry(path).item.label) in written.flow, (written.number, path)


def test_nothing_is_called_normal_that_was_not_examined_h25(all_written: list[Written]) -> None:
    seen = 0
    for written in all_written:
        block = re.search(rf"Found normal (.*?) (?:{AFTER_NORMAL}) ", written.text)
        if block is None:
            continue
        seen += 1
        normal = block[1].casefold()
        for entry in walk.entries():
            name = walk.name_of(entry.path).casefold()
            unseen = [path for path in entry.paths if not isinstance(walk.get(written.exam, path), Examined)]
            if not unseen or entry.plain:
                continue
            asked = f"{name} " if ": " in name else f"{name}: "
            for phrase in re.findall(rf"(?:^|[;.:] ){re.escape(asked)}(.*?)(?:;|[.] |$)", normal):
                sides = {path.rpartition(".")[2] for path in unseen} if entry.sided else {""}
                assert entry.sided, (written.number, entry.path, phrase)
                assert "both sides" not in phrase, (written.number, entry.path, phrase)
                assert "either side" not in phrase, (written.number, entry.path, phrase)
                assert not any(f"on the {side}" in phrase for side in sides), (written.number, entry.path, phrase)
            if entry.sided and entry.item.short:
                head = entry.groups[-1][1].label.casefold()
                for listed in re.findall(rf"{re.escape(head)}, [^;:]* on (?:both sides|either side): ([^;.]*)", normal):
                    assert entry.item.short.casefold() not in listed.split(", "), (written.number, entry.path)
    assert seen > COUNT / 4


def test_urgent_findings_stand_first_on_every_kind_h15(all_written: list[Written]) -> None:
    raised = 0
    for written in all_written:
        urgent = written.basis.reading.urgent
        raised += bool(urgent)
        for kind in ("note", "referral", "completeness", "addendum"):
            text = papers.text(kind, written.basis, earlier=EARLIER)
            head = letters(text[: text.index("Legs and balance examination")])
            assert all(letters(each.message) in head for each in urgent), (written.number, kind)
        page = letters(pages_of(written.note.pdf)[0])
        assert all(letters(each.message) in page for each in urgent[:3]), written.number
    assert raised > COUNT / 4


def test_no_kind_fails_or_writes_outside_its_margins(all_written: list[Written]) -> None:
    for written in all_written:
        assert overfull(written.note.pdf) == [], written.number
        kind = OTHERS[written.number % len(OTHERS)]
        made = papers.make(kind, written.basis, earlier=EARLIER)
        assert made.page_count == len(pages_of(made.pdf))
        assert overfull(made.pdf) == [], (written.number, kind)


def test_who_is_written_about_stands_on_every_page_h13(all_written: list[Written]) -> None:
    for written in all_written:
        born = f"{written.exam.patient.birth_date.day} {written.exam.patient.birth_date:%b %Y}"
        for page in pages_of(written.note.pdf):
            assert f"born {born}" in squeezed(page), written.number


def test_no_letter_drawn_is_a_blank_h29(all_written: list[Written]) -> None:
    for written in all_written:
        assert not set(written.text) & {"\ufffd", "\x00"}
        for page, code, glyph in unknown_letters(written.note.pdf):
            pytest.fail(f"examination {written.number}, page {page}: letter {code} is drawn as {glyph}")


def unknown_letters(pdf: bytes) -> Iterator[tuple[int, int, str]]:
    """Yield (page, code, glyph) for letters that their embedded font draws as nothing, or as its sign for unknown."""
    with pikepdf.open(BytesIO(pdf)) as document:
        for number, page in enumerate(document.pages):
            fonts = {str(name): font for name, font in page.Resources.Font.items()}
            drawn: dict[str, set[int]] = {}
            for name, codes in re.findall(rb"(/F\d+\+\d+) \S+ Tf <([0-9a-f]+)> Tj", page.Contents.read_bytes()):
                drawn.setdefault(name.decode(), set()).update(bytes.fromhex(codes.decode()))
            assert drawn
            for name, used in drawn.items():
                font = TTFont(BytesIO(fonts[name].FontDescriptor.FontFile2.read_bytes()))
                cmap, glyf = font["cmap"].tables[0].cmap, font["glyf"]
                for code in sorted(used - spaces(fonts[name])):
                    glyph = cmap.get(code)
                    if glyph is None or font.getGlyphID(glyph) == 0 or glyf[glyph].numberOfContours == 0:
                        yield number + 1, code, str(glyph)


def spaces(font: Any) -> set[int]:
    """Return the codes of a font that stand for some kind of space."""
    read = re.findall(rb"<([0-9A-F]{2})> <([0-9A-F]{4})>", font.ToUnicode.read_bytes())
    return {int(code, 16) for code, letter in read if chr(int(letter, 16)).isspace()}
