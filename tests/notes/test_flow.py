"""How a paper is shared out over pages: no more pages than it needs, and signatures in company."""

from copy import deepcopy
from dataclasses import replace

import pytest

from neuroform.notes import looks, papers
from neuroform.notes.content import Basis, Kind
from neuroform.notes.flow import Slice, in_company, room, shared_out
from neuroform.notes.pages import HEIGHT, Pages
from tests.notes.invented import EXAM, basis_of, exam_of, pages_of, squeezed

FOOT = 789.0
FULL = FOOT - looks.TOP


def strip(height: float) -> Slice:
    """Make a strip that draws nothing."""

    def draw(_pages: Pages, _y: float) -> None:
        return

    return Slice(height=height, draw=draw)


def heights(pages: list[list[tuple[float, Slice]]]) -> list[list[float]]:
    """List the heights of the strips of each page."""
    return [[each.height for _y, each in page] for page in pages]


def test_empty_room_shrinks_where_that_saves_a_page_and_no_further_than_it_has_to() -> None:
    fits = [strip(FULL / 2), room(20), strip(FULL / 2 - 20)]
    assert heights(shared_out(fits, foot=FOOT)) == [[FULL / 2, 20, FULL / 2 - 20]]
    spills = [strip(FULL / 2), room(20), strip(FULL / 2 - 15)]
    (page,) = shared_out(spills, foot=FOOT)
    assert [each.height for _y, each in page] == [FULL / 2, pytest.approx(14), FULL / 2 - 15]
    assert page[-1][0] + page[-1][1].height <= FOOT


def test_empty_room_keeps_its_height_where_no_page_is_saved() -> None:
    pages = shared_out([strip(FULL / 2), room(20), strip(100), room(20), strip(FULL / 2)], foot=FOOT)
    assert heights(pages) == [[FULL / 2, 20, 100, 20], [FULL / 2]]


def test_what_stands_before_the_signatures_is_kept_with_them() -> None:
    kept = in_company([strip(40) for _line in range(10)])
    assert [each.keep for each in kept] == [False] * 7 + [True] * 3


@pytest.mark.parametrize("lines", range(0, 66, 3))
def test_signatures_never_stand_alone_on_a_page(lines: int) -> None:
    raw = {**EXAM, "conclusion": {**EXAM["conclusion"], "plan": "\n".join(f"Step {line}." for line in range(lines))}}
    made = papers.make("note", basis_of(exam_of(raw)))
    author, supervisor = (made.signature_boxes[role] for role in ("author", "supervisor"))
    assert (author.page, supervisor.page) == (made.page_count - 1, made.page_count - 1)
    page = squeezed(pages_of(made.pdf)[author.page])
    assert "What it covers" in page
    assert HEIGHT - author.box[3] > looks.TOP_AFTER + looks.COMPANY / 2


@pytest.mark.parametrize(("items", "before"), [((), "next one"), (("context.fall_injury",), "fracture")])
def test_a_source_behind_a_message_takes_no_line_of_its_own(basis: Basis, items: tuple[str, ...], before: str) -> None:
    (urgent,) = basis.reading.urgent
    long = replace(urgent, items=items, message="Falls with a risk of the next one: " * 4, source="From memory.")
    written = replace(basis, reading=replace(basis.reading, urgent=(long,)))
    page = pages_of(papers.make("note", written).pdf)[0]
    last = next(line for line in page.splitlines() if "From memory." in line)
    assert before in last


@pytest.mark.parametrize("kind", ["note", "referral", "patient_letter"])
def test_the_signatures_are_never_alone_on_a_page(kind: Kind) -> None:
    seen = set()
    for extra in range(2, 90, 3):
        raw = deepcopy(EXAM)
        raw["conclusion"]["plan"] = "A line of a plan for some weeks.\n" * extra
        raw["sensation"] = raw["coordination"] = {}
        basis = basis_of(exam_of(raw), gaps=())
        calm = replace(basis, reading=replace(basis.reading, urgent=()))
        made = papers.make(kind, calm)
        page = made.signature_boxes["author"].page
        heading = "Signatures" if kind == "note" else "Signed"
        body = pages_of(made.pdf)[page].partition(heading)[0]
        assert page == 0 or len(body.splitlines()) > 4, extra
        seen.add(made.page_count)
    assert len(seen) > 1


def test_the_interpretation_stands_on_one_page_where_that_takes_no_more_pages() -> None:
    def read(words: str) -> list[int]:
        raw = deepcopy(EXAM)
        raw["conclusion"] |= {"impression": "An impression of one line. " * 40, "paragraph": words}
        written = basis_of(exam_of(raw), sentences=(), gaps=())
        return [page.count("Reads.") for page in pages_of(papers.make("note", written).pdf)]

    assert sorted(count for count in read("Reads. " * 300) if count) == [300]
    # Where it fits on no page it is broken, and nothing of it is lost.
    broken = read("Reads.\n" * 90)
    assert sum(broken) == 90
    assert len([count for count in broken if count]) > 1
