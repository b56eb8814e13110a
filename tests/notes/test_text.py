"""The paper as text to paste: urgent findings first, sides as words, the three states told apart."""

from dataclasses import replace

from neuroform.exam.findings import Examined
from neuroform.exam.walk import put
from neuroform.notes import papers
from neuroform.notes.content import Basis, Earlier
from tests.notes.invented import URGENT, basis_of


def test_pasted_text_begins_with_the_urgent_findings(basis: Basis) -> None:
    # Hazard H26.
    assert papers.text("note", basis).startswith(f"Within days (urgent finding): {URGENT.message}")


def test_sides_are_words_right_first(basis: Basis) -> None:
    # Hazard H26.
    text = papers.text("note", basis)
    assert "Joint position, great toe: right 6 of 10; left 7 of 10" in text
    assert "Pinprick: right up to mid-calf; left up to the ankle" in text


def test_not_examined_blank_and_normal_stand_under_their_own_names(basis: Basis) -> None:
    # Hazard H25.
    text = papers.text("note", basis)
    missed, blank, normal = (text.index(name) for name in ("\nNot examined\n", "\nBlank\n", "\nFound normal\n"))
    assert missed < text.index("- Skew: deferred") < blank
    assert blank < text.index("nystagmus changing with gaze") < normal


def test_a_text_says_that_nobody_signed_it(basis: Basis) -> None:
    for kind in ("note", "referral", "patient_letter", "completeness"):
        text = papers.text(kind, basis)
        assert "Examined and signed: not yet signed\nCountersignature: not yet countersigned\n" in text


def test_what_is_denied_on_both_sides_is_denied_of_either(basis: Basis) -> None:
    loss = {side: Examined(value="no") for side in ("right", "left")}
    exam = basis.exam
    for side, found in loss.items():
        exam = put(exam, f"head_and_eyes.new_hearing_loss.{side}", found)
    text = papers.text("note", basis_of(exam))
    assert "new hearing loss: not present on either side" in text
    assert "head impulse: no corrective saccade on either side" in text
    assert "no on both sides" not in text


def test_text_is_plain(basis: Basis) -> None:
    text = papers.text("note", basis)
    assert "\t" not in text
    assert "\N{NO-BREAK SPACE}" not in text
    assert "\u202f" not in text
    assert text.endswith("\n")
    assert "stepped at 12 s" in text


def test_an_addendum_names_the_note_it_adds_to(basis: Basis) -> None:
    earlier = Earlier(title="Legs and balance examination, note", when="12 November 2026, 09:30", sha256="9f" * 32)
    text = papers.text("addendum", basis, earlier=earlier)
    assert "12 November 2026, 09:30" in text
    assert "9f9f9f9f9f9f9f9f" in text


def test_what_an_addendum_adds_stands_before_the_note_it_adds_to(basis: Basis) -> None:
    earlier = Earlier(title="Legs and balance examination, note", when="12 November 2026, 09:30", sha256="9f" * 32)
    text = papers.text("addendum", basis, earlier=replace(earlier, text="Rung by the ward.\n\nPlantars were flexor."))
    assert text.index("Rung by the ward.") < text.index("Plantars were flexor.") < text.index("12 November 2026, 09:30")
    assert "Added" in text
    assert "Added" not in papers.text("addendum", basis, earlier=earlier)


def test_the_completeness_sheet_tells_gaps_reasons_and_how_each_item_was_entered(basis: Basis) -> None:
    text = papers.text("completeness", basis)
    assert "Nystagmus changing with gaze is blank." in text
    assert "Reason: tested twice with the same result; cold feet" in text
    assert "answered with one key" in text
    assert "copied from the other side" in text
    assert "- Saddle: not examined (declined)" in text
