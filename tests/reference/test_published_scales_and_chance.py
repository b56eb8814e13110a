"""Scales with their words, and the arithmetic of guessing against an independent library."""

from importlib import import_module

import pytest

from neuroform.reference.joint_position import (
    chance_of_guessing,
    intact_from,
    joint_position_rule,
    joint_position_verdict,
)
from neuroform.reference.scales import power_scale, reflex_scale

binom = import_module("scipy.stats").binom  # it ships no types


@pytest.mark.parametrize("trials", range(1, 21))
def test_chance_of_guessing_is_the_binomial_tail(trials: int) -> None:
    for correct in range(trials + 1):
        assert chance_of_guessing(correct, trials) == pytest.approx(binom.sf(correct - 1, trials, 0.5), abs=1e-12)


def test_chances_in_the_table_are_exact_to_their_digits() -> None:
    # Arithmetic: 9 or more of 10 in 1.1 %, 5 of 5 in 3.1 %.
    assert joint_position_rule().chance == ((9, 10, 1.1), (5, 5, 3.1))
    for correct, trials, percent in joint_position_rule().chance:
        assert round(100 * float(binom.sf(correct - 1, trials, 0.5)), 1) == percent


@pytest.mark.parametrize(
    ("correct", "trials", "verdict"),
    [
        # From 90 per cent intact, up to 60 lost, under five movements described: common practice and arithmetic.
        (10, 10, "intact"),
        (9, 10, "intact"),
        (8, 10, "impaired"),
        (7, 10, "impaired"),
        (6, 10, "lost"),
        (0, 10, "lost"),
        (5, 5, "intact"),
        (4, 5, "impaired"),
        (3, 5, "lost"),
        (8, 9, "impaired"),
        (18, 20, "intact"),
        (17, 20, "impaired"),
        (12, 20, "lost"),
        (13, 20, "impaired"),
        (4, 4, "described"),
        (0, 1, "described"),
    ],
)
def test_answers_are_judged_by_their_share(correct: int, trials: int, verdict: str) -> None:
    assert joint_position_verdict(correct, trials) == verdict


@pytest.mark.parametrize("trials", range(1, 21))
def test_number_shown_as_intact_is_the_least_that_is_judged_so(trials: int) -> None:
    least = intact_from(trials)
    judged = [correct for correct in range(trials + 1) if joint_position_verdict(correct, trials) == "intact"]
    assert least == (judged[0] if judged else None)


@pytest.mark.parametrize(("correct", "trials"), [(-1, 5), (6, 5), (0, 0)])
def test_impossible_counts_are_refused(correct: int, trials: int) -> None:
    with pytest.raises(ValueError, match="correct of"):
        joint_position_verdict(correct, trials)


def test_power_has_the_grades_of_the_scale_with_words_and_its_licence() -> None:
    # Medical Research Council, Memorandum No. 45 (words shortened): read.
    scale = power_scale()
    assert [grade.code for grade in scale.grades] == ["0", "1", "2", "3", "4-", "4", "4+", "5"]
    assert "flicker" in scale.grade("1").words
    assert "gravity eliminated" in scale.grade("2").words
    assert scale.grade("3").words == "movement against gravity"
    assert scale.grade("5").words == "normal power"
    assert "Used with the permission of the Medical Research Council" in scale.about.licence
    assert "Open Government Licence 3.0" in scale.about.licence


def test_grade_three_of_a_reflex_keeps_both_conflicting_meanings() -> None:
    # Hallett, Neurology 1993;43:2723, from memory; Morimoto et al., Cureus 2024;16(3), quoted.
    scale = reflex_scale()
    assert [grade.code for grade in scale.grades] == ["0", "1", "2", "3", "4"]
    assert scale.grade("3").words == "upper half of normal"
    assert "enhanced" in (scale.grade("3").otherwise or "")
    assert any(note.startswith("Conflict: grade 3") for note in scale.about.notes)
    assert any("never abnormal without" in note for note in scale.about.notes)


def test_grade_a_scale_lacks_is_not_found() -> None:
    with pytest.raises(KeyError):
        power_scale().grade("6")
