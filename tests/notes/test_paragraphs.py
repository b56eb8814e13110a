"""Text on paper: nothing in it is markup, nothing of it is lost, and what can't be drawn is refused by name."""

import unicodedata
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.errors import GlyphError
from neuroform.notes import faces, looks
from neuroform.notes.pages import Pages
from neuroform.notes.paragraphs import Paragraph, Run, paragraph
from neuroform.notes.pieces import Style, clean
from tests.notes.invented import pages_of, squeezed

STYLE = Style(size=10, leading=14)
ARABIC = "IBMPlexSansArabic-Regular"


def letters(made: Paragraph) -> str:
    return "\n".join("".join(piece.text for piece in line.pieces) for line in made.lines)


def drawn(text: str) -> bytes:
    pages = Pages(title="t", author="a", subject="s")
    pages.write(paragraph(text, STYLE, width=391), pages.root.add("P"), x=80, y=80)
    return pages.finished(language="en")


@pytest.mark.parametrize(
    "hostile",
    [
        '<img src="file:///etc/passwd"/>',
        "<b>unclosed <i>tags",
        "a &amp; b &#60; c",
        "</para><para>",
        "%PDF ) Tj ET Q (",
        "{{ 7 * 7 }} {% for x in y %}",
    ],
)
def test_markup_and_operators_stay_the_letters_they_are(hostile: str) -> None:
    assert squeezed(pages_of(drawn(hostile))[0]) == hostile


def test_a_sign_before_a_number_is_never_lost() -> None:
    # Hazard H29: a glyph that drops turns "< 3.5" into "3.5".
    text = "< 3.5, ≤ 4, ≥ 2, −1, 5 × 2, ± 0.5, ½, µ, →"
    assert squeezed(pages_of(drawn(text))[0]) == text


@pytest.mark.parametrize(("character", "code"), [("漢", "U+6F22"), ("🦵", "U+1F9B5"), ("\ue000", "U+E000")])
def test_a_character_no_face_holds_is_refused_by_name(character: str, code: str) -> None:
    # Hazard H29.
    with pytest.raises(GlyphError, match=code.replace("+", r"\+")) as refused:
        paragraph(f"before {character} after", STYLE, width=300)
    assert refused.value.character == character


def test_half_a_character_is_refused() -> None:
    with pytest.raises(GlyphError):
        paragraph("a\ud800b", STYLE, width=300)


def test_control_characters_and_changes_of_direction_are_dropped() -> None:
    assert clean("a\x00\x07\x1bb\u202ec\u2066d\u200be\ufefff\u00adg") == "abcdefg"


def test_a_newline_begins_a_line() -> None:
    assert letters(paragraph("one\ntwo\n\nfour", STYLE, width=300)).split("\n") == ["one", "two", "", "four"]


def test_a_number_and_its_unit_are_never_parted() -> None:
    made = paragraph("stood for 12\N{NO-BREAK SPACE}s " * 20, STYLE, width=61)
    assert all("12\xa0s" in line or "12" not in line for line in letters(made).split("\n"))


def test_a_word_wider_than_its_line_is_cut_and_none_of_it_lost() -> None:
    made = paragraph("x" * 500, STYLE, width=100)
    assert letters(made).replace("\n", "") == "x" * 500
    assert all(line.width <= 100.01 for line in made.lines)


def test_a_run_goes_on_in_the_middle_of_a_word() -> None:
    strong = Style(size=10, leading=14, weight=600)
    assert letters(paragraph([Run("half", STYLE), Run("way there", strong)], STYLE, width=300)) == "halfway there"


@given(st.text(alphabet=st.characters(max_codepoint=0x17F, exclude_categories=["Cc"]), max_size=300))
def test_every_letter_of_a_text_stands_in_its_lines_and_no_line_is_too_wide(text: str) -> None:
    made = paragraph(text, STYLE, width=120)
    assert "".join(letters(made).split()) == "".join(clean(text).split())
    assert all(line.width <= 120.01 for line in made.lines)


NAMES = {
    "Latin": "Łukasz Đorđević-Ÿrjölä",
    "Vietnamese": "Nguyễn Thị Ánh Tuyết",
    "Greek": "Ελένη Παπαδοπούλου",
    "Cyrillic": "Ірина Щербакова",
    "Arabic": "أحمد محمد الأمين",
    "Hebrew": "דוד בן־גוריון",
    "Devanagari": "क्षितिज श्रीवास्तव",
}


@pytest.mark.parametrize("script", NAMES)
def test_a_name_in_its_own_script_is_found_again_letter_by_letter(
    script: str, poppler_text: Callable[[bytes], str]
) -> None:
    found = poppler_text(drawn(NAMES[script]))
    kept = "".join(letter for letter in found if unicodedata.category(letter) != "Cf")
    assert squeezed(kept) == NAMES[script]


def test_arabic_letters_are_joined_and_run_from_the_right() -> None:
    # The Unicode Standard, chapter 9: an Arabic letter's shape depends on its neighbours.
    joined = faces.shape("ححح", ARABIC).clusters
    outlines = {cluster.glyphs[0].outline for cluster in joined}
    assert len(outlines) == 3
    assert faces.shape("ح", ARABIC).clusters[0].glyphs[0].outline not in outlines
    assert [cluster.x for cluster in joined] == sorted((cluster.x for cluster in joined), reverse=True)


def test_a_name_from_the_right_within_a_sentence_keeps_its_words_in_order() -> None:
    made = paragraph("Patient: דוד כהן seen", STYLE, width=400)
    assert shown(made) == ["Patient:", "כהן", "דוד", "seen"]


def shown(made: Paragraph) -> list[str]:
    (line,) = made.lines
    return [piece.text.strip() for piece in line.pieces if piece.text.strip()]


def test_a_name_from_the_right_never_turns_the_line_it_stands_in() -> None:
    # Hazard H30.
    strong = Style(size=10, leading=14, weight=600)
    runs = [Run("אבי לוי", strong), Run(" born 9 Apr 1953", STYLE)]
    assert shown(paragraph(runs, STYLE, width=400)) == ["לוי", "אבי", "born 9 Apr 1953"]


def test_a_text_that_begins_from_the_right_runs_from_the_right_throughout() -> None:
    assert shown(paragraph("בדיקת B12 מחר", STYLE, width=400)) == ["מחר", "B12", "בדיקת"]


def test_a_decomposed_letter_is_drawn_whole() -> None:
    made = paragraph("ẹ\u0301x", STYLE, width=300)
    assert letters(made) == "ẹ\u0301x"
    assert made.widest < paragraph("exx", STYLE, width=300).widest


def test_no_style_is_smaller_than_can_be_read() -> None:
    styles = [style for style in vars(looks).values() if isinstance(style, Style)]
    assert min(style.size for style in styles) >= looks.LEAST


def test_no_paragraph_ends_in_a_line_of_one_word_where_the_line_before_can_spare_one() -> None:
    words = "The plan is to come again in two weeks and to ring at once if anything gets worse again"
    for width in range(120, 400, 3):
        lines = ["".join(piece.text for piece in line.pieces) for line in paragraph(words, STYLE, width=width).lines]
        assert " ".join(squeezed(line) for line in lines) == words
        assert len(lines) == 1 or " " in lines[-1].strip(), width
        assert all(line.width <= width + 0.01 for line in paragraph(words, STYLE, width=width).lines)


def test_a_word_on_a_line_of_its_own_stays_there() -> None:
    lines = paragraph("Seen again in two weeks, in the clinic.\nTomorrow", STYLE, width=300).lines
    assert ["".join(piece.text for piece in line.pieces).strip() for line in lines][-1] == "Tomorrow"
