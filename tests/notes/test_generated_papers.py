"""Papers of generated examinations: none fails, none loses a finding, none calls the unexamined normal."""

from copy import deepcopy
from dataclasses import replace
from io import BytesIO
from random import Random

import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from neuroform.completeness.gaps import Progress
from neuroform.errors import GlyphError
from neuroform.exam import walk
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.notes import papers
from neuroform.notes.content import KINDS, Basis, Earlier, Kind, Prose, RunIn
from neuroform.notes.values import value_words
from tests.exam.strategies import TEXTS, dense_exams, exam_of, raw_exam
from tests.notes.invented import EXAM, NEEDED_ITEMS, basis_of, pages_of, squeezed

EARLIER = Earlier(title="note", when="then", sha256="ab" * 32)
UNDRAWABLE = "眩暈"


def drawable(exam: Examination) -> Examination:
    """Replace what no shipped face can draw, wherever it stands."""
    text = exam.model_dump_json().replace(UNDRAWABLE, "dizzy")
    return Examination.model_validate_json(text)


def concluded(exam: Examination) -> Basis:
    """Put the simplest conclusions beside an exam."""
    return replace(basis_of(exam), gaps=(), progress=Progress(answered=1, total=len(NEEDED_ITEMS)))


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(exam=dense_exams(), kind=st.sampled_from(KINDS))
def test_every_kind_is_made_of_every_examination(exam: Examination, kind: Kind) -> None:
    basis = concluded(drawable(exam))
    made = papers.make(kind, basis, earlier=EARLIER)
    assert made.page_count == len(pages_of(made.pdf))
    assert papers.text(kind, basis, earlier=EARLIER)


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(exam=dense_exams())
def test_every_finding_s_words_are_in_the_note(exam: Examination) -> None:
    basis = concluded(drawable(exam))
    text = squeezed(papers.text("note", basis))
    drawn = squeezed(" ".join(pages_of(papers.make("note", basis).pdf))).replace("- ", "-")
    for path, found in walk.recorded(basis.exam):
        item = walk.entry(path)
        told = path.rpartition(".")[2] not in {"sway", "direction", "seconds", "ended"}
        if item.section != "conclusion" and told and isinstance(found, Examined) and item.kind != "text":
            words = squeezed(value_words(item, found.value))
            assert words in text, path
            assert words.split(", ")[0] in drawn, path


def overfull(pdf: bytes, *, left: float = 49.0, right: float = 547.5) -> list[str]:
    """List what is written outside a page’s margins, usually of 51 points, with room for a space behind a line."""
    document = pypdfium2.PdfDocument(BytesIO(pdf))
    found = []
    for page in document:
        text = page.get_textpage()
        for number in range(text.count_rects()):
            begins, bottom, ends, top = text.get_rect(number)
            if begins < left or ends > right or bottom < 12 or top > 830:
                found.append(text.get_text_bounded(begins, bottom, ends, top))
    document.close()
    return found


@settings(max_examples=20, suppress_health_check=[HealthCheck.too_slow])
@given(exam=dense_exams(), kind=st.sampled_from(KINDS))
def test_nothing_is_written_outside_the_margins(exam: Examination, kind: Kind) -> None:
    assert overfull(papers.make(kind, concluded(drawable(exam)), earlier=EARLIER).pdf) == []


@pytest.mark.parametrize("kind", KINDS)
def test_the_longest_texts_an_exam_may_hold_stay_on_their_pages(kind: Kind) -> None:
    raw = deepcopy(EXAM)
    raw["patient"] |= {"family_name": "Y" * 200, "given_names": "Zz " * 1300}
    raw["patient"]["identifiers"] = [{"scheme": "local", "value": "9" * 200}] * 9
    raw["encounter"] |= {"place": "Place " * 600, "designation": "D" * 4000, "supervisor": "S " * 2000}
    raw["context"]["reason"] = "Reason " * 570
    raw["conclusion"]["letter"]["recipient"] = "R" * 4000
    made = papers.make(kind, concluded(exam_of(raw)), earlier=EARLIER)
    assert overfull(made.pdf) == []
    assert all("born 9 Apr 1953" in squeezed(page) for page in pages_of(made.pdf))


def test_a_form_filled_to_the_last_item_is_told_whole() -> None:
    basis = concluded(drawable(exam_of(raw_exam(Random(11), filled=1.0, healthy=0.3))))
    text = squeezed(papers.text("note", basis)).lower()
    trial = {"sway", "direction", "seconds", "ended"}
    items = [item for item in walk.entries() if item.section != "conclusion" and item.kind != "text"]
    whole = [item for item in items if item.path.rpartition(".")[2] not in trial]
    missing = [item.path for item in whole if item.item.row.lower() not in text]
    assert missing == []
    assert len(whole) > 100


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(exam=dense_exams())
def test_only_what_was_examined_is_listed_as_normal(exam: Examination) -> None:
    basis = concluded(drawable(exam))
    blocks = papers.content("note", basis).blocks
    normal = next((block for block in blocks if isinstance(block, RunIn) and block.heading == "Found normal"), None)
    said = " ".join(words for _lead, words in normal.lines) if normal else ""
    assert "blank" not in said
    assert "not examined" not in said
    assert any(isinstance(block, Prose) for block in blocks)


def test_what_cannot_be_drawn_is_refused_and_all_else_is_drawn(basis: Basis) -> None:
    for text in TEXTS:
        other = basis_of(walk.put(basis.exam, "conclusion.plan", text))
        if text != UNDRAWABLE:
            assert papers.make("note", other).pdf
            continue
        with pytest.raises(GlyphError) as refused:
            papers.make("note", other)
        assert refused.value.character == UNDRAWABLE[0]


def test_a_random_choice_of_blanks_never_fails(basis: Basis) -> None:
    random = Random(7)
    for _turn in range(15):
        exam = basis.exam
        for path, _found in list(walk.recorded(exam)):
            if random.random() < 0.5:
                exam = walk.put(exam, path, None)
        assert papers.make("note", basis_of(exam)).page_count >= 1
