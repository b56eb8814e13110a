"""The note: every finding is on it, the urgent ones first, and nothing nobody examined is called normal."""

import re
from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace
from io import BytesIO
from typing import Any

import pypdfium2
import pytest

from neuroform.completeness.gaps import Gap, Severity
from neuroform.exam import walk
from neuroform.exam.conclusion import WORDING_RULE, GapReason
from neuroform.exam.findings import Examined
from neuroform.notes import papers
from neuroform.notes.content import Basis, Clinic, Findings, Prose, RunIn
from neuroform.notes.values import value_words
from tests.notes.invented import EXAM, NOW, TOE, URGENT, basis_of, exam_of, pages_of, place_of, squeezed

LONG = "Walks to the shop and back, slowly, holding the wall where there is one. " * 13


def changed(**sections: dict[str, Any]) -> Basis:
    """Return the invented examination with whole sections replaced."""
    raw = deepcopy(EXAM)
    raw.update(sections)
    return basis_of(exam_of(raw))


def words_of(basis: Basis, **options: Any) -> str:
    """Read a note's text, its pages joined."""
    return squeezed(" ".join(pages_of(papers.make("note", basis, **options).pdf)))


def test_every_finding_s_words_are_found(basis: Basis) -> None:
    text = words_of(basis)
    for path, found in walk.recorded(basis.exam):
        item = walk.entry(path)
        if item.section == "conclusion" or not isinstance(found, Examined):
            continue
        for part in squeezed(value_words(item, found.value)).split(", "):
            if not path.endswith((".ended", ".direction")):
                assert part in text, path


def test_how_each_trial_went_is_told_in_words(basis: Basis) -> None:
    text = words_of(basis)
    assert "marked sway, backward; stepped at 12 s" in text
    assert "slight sway, forward; stood for the full 30 s" in text


def test_the_examiner_s_own_words_are_found(basis: Basis) -> None:
    text, own = words_of(basis), basis.exam.conclusion
    for said in (own.impression, own.plan, own.told, own.paragraph):
        assert said is not None
        assert squeezed(said) in text
    assert "left wrist, in August" in text


def test_urgent_findings_stand_before_anything_the_examiner_wrote(basis: Basis) -> None:
    # Hazard H15.
    first = squeezed(pages_of(papers.make("note", basis).pdf)[0])
    assert first.index(URGENT.message) < first.index("Impression") < first.index("Interpretation")


def test_the_gravest_urgent_finding_stands_first(basis: Basis) -> None:
    both = replace(basis, reading=replace(basis.reading, urgent=(URGENT, NOW)))
    first = squeezed(pages_of(papers.make("note", both).pdf)[0])
    assert first.index(NOW.message) < first.index(URGENT.message)


def test_an_edited_paragraph_takes_no_urgent_finding_away(basis: Basis) -> None:
    # Hazards H14 and H15.
    raw = deepcopy(EXAM)
    raw["conclusion"]["paragraph"] = "All is well."
    text = words_of(basis_of(exam_of(raw)))
    assert URGENT.message in text
    assert "Edited by the examiner" in text


def test_an_edited_paragraph_says_so_at_its_head_with_the_generated_beneath(basis: Basis) -> None:
    # Hazard H14.
    edited = squeezed(papers.text("note", basis))
    own = basis.exam.conclusion.paragraph
    assert own is not None
    generated = "As generated: The stance test was positive. Together this supports a sensory ataxia."
    head = edited.index("Interpretation Edited by the examiner.")
    assert head < edited.index(squeezed(own)) < edited.index(generated)
    drawn = words_of(basis)
    assert drawn.index("Edited by the examiner.") < drawn.index(squeezed(own)) < drawn.index(generated)
    plain = basis_of(walk.put(basis.exam, "conclusion.paragraph", None))
    assert "As generated" not in words_of(plain)
    assert "Edited by" not in words_of(plain)


def test_why_a_wording_stands_against_the_findings_is_printed(basis: Basis) -> None:
    # Hazard H14.
    given = GapReason(rule=WORDING_RULE, items=("reflexes.ankle.right",), reason="Absent for years.")
    kept = (*(basis.exam.conclusion.gap_reasons or ()), given)
    conclusion = basis.exam.conclusion.model_copy(update={"gap_reasons": kept})
    told = words_of(replace(basis, exam=basis.exam.model_copy(update={"conclusion": conclusion})))
    assert "The interpretation as edited says more than the findings: Ankle reflex, right." in told
    assert "Reason: Absent for years." in told
    unedited = conclusion.model_copy(update={"paragraph": None})
    assert "Absent for years." not in words_of(
        replace(basis, exam=basis.exam.model_copy(update={"conclusion": unedited}))
    )


@pytest.mark.parametrize(
    ("trial", "normal"),
    [
        ({"sway": "none", "seconds": 30, "ended": "held"}, True),
        ({"sway": "moderate", "direction": "right", "seconds": 30, "ended": "held"}, False),
        ({"sway": "slight", "direction": "right", "seconds": 30, "ended": "held"}, False),
        ({"sway": "none", "seconds": 12, "ended": "held"}, False),
        ({"sway": "none", "seconds": 30}, False),
    ],
)
def test_a_trial_is_normal_only_where_every_part_of_it_is(trial: dict[str, Any], normal: bool) -> None:
    # Hazard H25.
    raw = deepcopy(EXAM)
    raw["standing"]["firm"]["eyes_closed"] = {name: {"value": value} for name, value in trial.items()}
    blocks = {b.heading: b for b in papers.content("note", basis_of(exam_of(raw))).blocks if isinstance(b, RunIn)}
    said = {name: " ".join(words for _lead, words in blocks[name].lines) for name in ("Found normal", "Also recorded")}
    assert ("firm ground, eyes closed:" in said["Found normal"]) is normal
    assert ("firm ground, eyes closed:" in said["Also recorded"]) is not normal


def test_what_an_open_gap_needs_stands_among_the_blank() -> None:
    # Hazard H25.
    gap = Gap(
        rule="acute-vertigo-signs",
        severity=Severity.MUST,
        items=("head_and_eyes.eye_movements", "conclusion.plan", "head_and_eyes.nystagmus"),
        message="Eye movements are blank.",
        why="…",
        source="common practice",
    )

    def blank(*gaps: Gap) -> str:
        blocks = papers.content("note", basis_of(exam_of(EXAM), gaps=gaps)).blocks
        found = next(block for block in blocks if isinstance(block, RunIn) and block.heading == "Blank")
        return " ".join(words for _lead, words in found.lines)

    assert "eye movements" in blank(gap)
    assert "plan" not in blank(gap)
    assert "nystagmus, looking ahead" not in blank(gap)
    assert "eye movements" not in blank(replace(gap, reason="the eye is bandaged"))


def test_the_letters_of_a_sway_cross_keep_clear_of_the_systems_marks(basis: Basis) -> None:
    document = pypdfium2.PdfDocument(BytesIO(papers.make("note", basis).pdf))
    text = document[0].get_textpage()
    found = text.get_text_range()
    left_of_name = text.get_charbox(found.index("Joint position"))[0]
    boxes = [text.get_charbox(n) for n, letter in enumerate(found) if letter == "L" and found[n - 1] in "\r\n "]
    crosses = [box for box in boxes if 200 < box[0] < left_of_name]
    document.close()
    assert crosses
    # A mark is 8 units wide at a scale of 0.64, its axis 7.5 points before the name; 6 points keep the two apart.
    assert max(box[2] for box in crosses) < left_of_name - 7.5 - 2.6 - 6


def test_who_when_and_page_stand_on_every_page(basis: Basis) -> None:
    # Generic medical record keeping standards of the Royal College of Physicians (2007, from memory): every page
    # carries the person's name and identification number and the location; every entry is dated, timed, and carries
    # name and designation.
    made = papers.make("note", basis)
    pages = [squeezed(page) for page in pages_of(made.pdf)]
    assert len(pages) == made.page_count
    for number, page in enumerate(pages, 1):
        assert "Okonjo-Vale, Marit, born 9 Apr 1953, ID 20817" in page
        assert f"page {number} of {len(pages)}" in page
        assert "20 Nov 2026" in page
    assert "20 November 2026, 10:15" in pages[0]
    assert "Dr Tessa Quill, neurology" in pages[0]
    assert "Balance clinic, room 3" in pages[0]


def test_the_usual_note_takes_two_pages(basis: Basis) -> None:
    assert papers.make("note", basis).page_count == 2


def test_caution_and_scope_and_version_are_printed(basis: Basis) -> None:
    text = words_of(basis)
    assert "It supports the examiner’s judgement and does not replace it." in text
    assert (
        "It does not examine cognition, nor the speech, face, arms, optic discs or heart beyond what is listed." in text
    )
    assert re.search(r"version \d+\.\d+\.\d+, templates [0-9a-f]{8}", text)


def test_a_demonstration_says_so_on_every_page(basis: Basis) -> None:
    pages = pages_of(papers.make("note", basis, clinic=Clinic(demonstration=True)).pdf)
    assert all("Demonstration: invented person, demonstration certificate" in squeezed(page) for page in pages)
    assert "Demonstration" not in words_of(basis)


def test_what_was_left_blank_is_never_called_normal() -> None:
    # Hazards H25 and H3: blank, not examined and normal are three things.
    empty: dict[str, Any] = {name: {} for name in EXAM if name not in {"format", "patient", "encounter"}}
    basis = changed(**empty)
    blank = replace(basis, sentences=(), gaps=())
    text = words_of(blank)
    assert "Found normal" not in text
    assert not re.search(r"(?<!called )\bnormal\b", text)
    assert "nystagmus changing with gaze" in text


def test_what_was_not_examined_stands_with_its_reason(basis: Basis) -> None:
    text = words_of(basis)
    section = text[text.index("Not examined") : text.index("Blank")]
    assert "Saddle declined; asked once, no bladder or bowel symptoms" in section
    assert "Temperature, both sides no equipment" in section
    assert "Skew deferred" in section


def test_one_side_normal_says_nothing_of_the_other(basis: Basis) -> None:
    one = basis_of(walk.put(basis.exam, "reflexes.knee.left", None))
    text = words_of(one)
    assert "knee reflex: normal on the right" in text
    assert "knee reflex, left" in text[text.index("Blank") :]
    assert "knee reflex: normal on both sides" not in text


def test_copied_and_answered_with_one_key_are_told(basis: Basis) -> None:
    # Hazard H11.
    text = words_of(basis)
    assert "foot copied from the other side" in text
    assert "Answered with one key: power, hip flexion" in text


def test_a_limit_stands_beside_its_value_with_source_and_mark(basis: Basis) -> None:
    # Hazard H19. The lower limit for the leg at 61 to 85 years is 3.5 of 8: Martina ISJ and others, J Neurol Neurosurg
    # Psychiatry 1998;65:743-747, from memory and so unverified.
    text = words_of(basis)
    assert "limit at 73: 3.5, unverified" in text
    assert "1998;65:743-747" in text
    assert "from memory, unverified" in text


def test_what_does_not_fit_is_marked_and_its_reason_given(basis: Basis) -> None:
    text = words_of(basis)
    assert re.search(r"1\.0 .{0,40}does not fit", text)
    assert "Reason: tested twice with the same result; cold feet" in text


def test_gaps_that_hold_back_a_signature_stand_on_the_first_page(basis: Basis) -> None:
    first = squeezed(pages_of(papers.make("note", basis).pdf)[0])
    assert "Needed to sign" in first
    assert "Nystagmus changing with gaze is blank." in first


def test_an_unread_system_says_how_far_it_was_tested(basis: Basis) -> None:
    text = words_of(basis)
    assert "no loss found at the bedside" in text
    assert "Cerebellum partly tested" in text


def columns(pdf: bytes, poppler_text: Callable[..., str]) -> tuple[int, int]:
    """Return where in its line the right and the left answer of one row begin."""
    lines = poppler_text(pdf, "-layout").splitlines()
    row = next(line for line in lines if "Joint position, great toe" in line)
    return row.index("6 of 10"), row.index("7 of 10")


@pytest.mark.parametrize("name", ["Okonjo-Vale", "أحمد محمد", "דוד כהן"])
def test_right_and_left_keep_their_columns_whatever_the_name(name: str, poppler_text: Callable[..., str]) -> None:
    # Hazard H30.
    raw = deepcopy(EXAM)
    raw["patient"]["family_name"] = name
    right, left = columns(papers.make("note", basis_of(exam_of(raw))).pdf, poppler_text)
    assert right < left


def test_sides_are_in_one_order_in_every_row(basis: Basis) -> None:
    # Hazard H10.
    content = papers.content("note", basis)
    table = next(block for block in content.blocks if isinstance(block, Findings))
    assert (table.right, table.left) == ("patient’s right", "patient’s left")
    toe = next(row for row in table.rows if row.label == "Joint position, great toe")
    assert toe.right is not None
    assert toe.left is not None
    assert (toe.right.words, toe.left.words) == ("6 of 10", "7 of 10")


def test_long_texts_flow_over_pages_and_nothing_is_lost() -> None:
    raw = deepcopy(EXAM)
    raw["sensation"]["joint_position"]["great_toe"]["right"]["comment"] = LONG[:1000]
    raw["conclusion"]["plan"] = "\n".join(f"{number}. {LONG[:300]}" for number in range(1, 13))
    made = papers.make("note", basis_of(exam_of(raw)))
    text = squeezed(" ".join(pages_of(made.pdf)))
    assert made.page_count >= 3
    assert text.count("Walks to the shop and back") >= 13 + 12 * 3
    assert "12. Walks to the shop" in text


def test_no_heading_stands_alone_at_the_foot_of_a_page(basis: Basis) -> None:
    headings = {block.heading for block in papers.content("note", basis).blocks}
    for extra in range(0, 40, 3):
        raw = deepcopy(EXAM)
        raw["conclusion"]["impression"] = "\n".join(["A line of the impression."] * (extra + 1))
        for page in pages_of(papers.make("note", basis_of(exam_of(raw))).pdf):
            body = [line.strip() for line in page.splitlines()]
            foot = next(number for number, line in enumerate(body) if line.startswith("Okonjo-Vale, Marit, born"))
            assert body[foot - 1] not in headings


def test_the_places_for_signatures_lie_on_a_page_and_apart(basis: Basis) -> None:
    made = papers.make("note", basis)
    author, supervisor = made.signature_boxes["author"], made.signature_boxes["supervisor"]
    for place in (author, supervisor):
        left, bottom, right, top = place.box
        assert 0 <= place.page < made.page_count
        assert (round(right - left, 3), round(top - bottom, 3)) == (186, 64)
        assert 51 <= left < right <= 544.3
        assert 42 < bottom < top < 842
    assert author.box[2] < supervisor.box[0]


def test_an_unknown_glyph_is_refused_before_anything_is_signed(basis: Basis) -> None:
    from neuroform.errors import GlyphError

    with pytest.raises(GlyphError, match="漢"):
        papers.make("note", basis_of(walk.put(basis.exam, "conclusion.plan", "see 漢 tomorrow")))


def test_the_same_examination_makes_the_same_bytes(basis: Basis) -> None:
    assert papers.make("note", basis).pdf == papers.make("note", basis).pdf


def test_a_side_that_was_not_examined_is_said_so_beside_the_other(basis: Basis) -> None:
    from neuroform.exam.findings import NotExamined

    one = basis_of(walk.put(basis.exam, f"{TOE}.left", NotExamined(not_examined="absent")))
    text = words_of(one)
    assert "6 of 10 Joint position, great toe not examined (limb, eye or joint missing)" in text


def test_a_state_of_two_lines_pushes_the_next_system_down(basis: Basis) -> None:
    # The vestibular state takes two lines; the cerebellum's stands below, a line of 8.2 points at least apart.
    pdf = papers.make("note", basis).pdf
    (_x, wrapped), (_left, below) = place_of("the bedside", pdf), place_of("partly tested", pdf)
    assert below - wrapped > 8.2


def test_each_gap_needed_to_sign_has_a_line_of_its_own() -> None:
    gap = Gap(
        rule="first",
        severity=Severity.MUST,
        items=("context.bladder",),
        message="The bladder is blank.",
        why="…",
        source="common practice",
    )
    raw = basis_of(exam_of(EXAM), gaps=(gap, replace(gap, rule="second", message="The neck is blank.")))
    needed = papers.content("note", raw).first
    assert needed is not None
    assert needed.paragraphs == ("The bladder is blank.", "The neck is blank.")
    pdf = papers.make("note", raw).pdf
    assert place_of("The neck is blank.", pdf)[1] > place_of("The bladder is blank.", pdf)[1]


def test_a_limit_says_once_how_far_it_is_known(basis: Basis) -> None:
    limits = next(
        b for b in papers.content("note", basis).blocks if isinstance(b, Prose) and b.heading == "Limits used"
    )
    tandem = next(line for line in limits.paragraphs if line.startswith("Heel-to-toe"))
    assert tandem.count("common practice") == 1
