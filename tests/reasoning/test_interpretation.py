"""The paragraph: plain, bounded, urgent first, every sentence on findings, and three phrases never exchanged."""

import re
from typing import Any

import pytest

from neuroform.exam.examination import Examination
from neuroform.reasoning.interpretation import paragraph, read, sentences, short_form
from neuroform.reasoning.results import NextTest
from tests.exam.strategies import generated

FORBIDDEN = re.compile(
    r"no evidence of|intact neurologically|unremarkable|rule[sd]? out|\borganic\b|denie[sd]|\bpt\b|\bNAD\b|\bWNL\b",
    re.IGNORECASE,
)
BROKEN = re.compile(r"[{}_]|  | [.,;]|\.\.|,,|\bNone\b|\ba [aeiou]|\ban [^aeioulmn]")
TOE, STANCE = "sensation.joint_position.great_toe", "standing.firm"


def said(exam: Examination, next_tests: tuple[NextTest, ...] = ()) -> str:
    return paragraph(sentences(exam, read(exam), next_tests))


def test_every_generated_paragraph_is_bounded_whole_and_in_its_own_words() -> None:
    for exam in generated(200, seed=77):
        every = sentences(exam, read(exam))
        text = paragraph(every)
        assert 60 <= len(text.split()) <= 230
        assert not FORBIDDEN.search(text)
        for one in every:
            assert one.items
            assert one.text[0].isupper() or one.text[0].isdigit()
            assert one.text.endswith(".")
            assert not BROKEN.search(one.text), one.text


def test_an_empty_examination_says_so_and_calls_nothing_normal(made: Any) -> None:
    text = said(made())
    assert "Nothing was recorded yet" in text
    assert not re.search(r"\b(was|were) (normal|full|intact)\b", text)


def test_blank_reason_and_unjudged_are_three_phrases(made: Any) -> None:
    blank = said(made({"context.symptoms": ["numbness"]}))
    assert "Position sense was not recorded at either great toe." in blank
    refused = said(made({TOE: "not examined: declined"}))
    assert "Position sense was not examined at either great toe (declined)." in refused
    few = said(made({TOE: {"correct": 3, "trials": 4}}))
    assert "3 of 4, too few movements to judge, at both great toes" in few


def test_sides_stand_right_first_and_alike_means_both(made: Any) -> None:
    differing = {f"{TOE}.right": "absent", f"{TOE}.left": "intact"}
    assert "Position sense was absent at the right great toe and intact at the left great toe." in said(made(differing))
    assert "Position sense was absent at both great toes." in said(made({TOE: "absent"}))


def test_abnormal_stands_before_normal(made: Any) -> None:
    found = {f"{TOE}.right": "intact", f"{TOE}.left": "impaired"}
    assert "impaired at the left great toe and intact at the right great toe" in said(made(found))


@pytest.mark.parametrize(("sex", "person"), [("female", "the woman"), ("male", "the man"), ("unknown", "the person")])
def test_the_person_is_named_by_no_name(made: Any, sex: str, person: str) -> None:
    fell = {
        f"{STANCE}.eyes_open.sway": "none",
        f"{STANCE}.eyes_open.ended": "held",
        f"{STANCE}.eyes_open.seconds": 30,
        f"{STANCE}.eyes_closed.sway": "marked",
        f"{STANCE}.eyes_closed.ended": "fell",
        f"{STANCE}.eyes_closed.seconds": 4,
        f"{STANCE}.eyes_closed.direction": "right",
    }
    text = said(made(fell, sex=sex))
    assert f"{person} fell to the right after 4\u00a0s with eyes closed" in text.replace("\u202f", "\u00a0")
    assert "Halloran" not in text


def test_urgent_comes_first_and_what_must_not_be_delayed_last(made: Any) -> None:
    every = sentences(
        made({"context.symptoms": ["saddle_numbness"]}), read(made({"context.symptoms": ["saddle_numbness"]}))
    )
    assert every[0].text.startswith("Now: possible compression of the cauda equina")
    assert every[0].urgent
    assert every[-1].text.startswith("What must not be delayed: emergency MRI")


def test_next_tests_end_the_paragraph_when_nothing_is_pressing(made: Any) -> None:
    proposed = (NextTest(item="sensation.joint_position.great_toe", because="…"),)
    text = said(made({"context.symptoms": ["unsteadiness"]}), proposed)
    assert text.endswith("Examine next: position sense at the great toes.")


def test_a_limit_from_memory_is_said_to_be(made: Any) -> None:
    """Graduated fork, Martina 1998, J Neurol Neurosurg Psychiatry 65:743-747: the table is from memory."""
    text = said(made({"sensation.vibration_score.great_toe": 2.5}, age=71))
    assert "lower limit at 71 years: 3.5, from memory" in text


def test_a_limit_is_not_used_for_a_child(made: Any) -> None:
    """H21: adult limits are not a child's."""
    assert "no limit is used at 12 years" in said(made({"sensation.vibration_score.great_toe": 2.5}, age=12))


def test_lost_position_stands_beside_the_heel_shin_it_clouds(made: Any) -> None:
    text = said(made({TOE: "absent", "coordination.heel_shin": "moderate"}))
    assert "Because position sense is lost in a foot, heel-shin cannot be called cerebellar." in text


def test_a_supported_pattern_is_supported_and_a_possible_one_possible(made: Any) -> None:
    umn = {"reflexes.plantar.right": "extensor", "reflexes.knee.right": "clonus", "reflexes.ankle.right": "clonus"}
    assert "supports signs of the upper motor neurones to the right leg" in said(made(umn))
    one = said(made({"reflexes.plantar.right": "extensor"}))
    assert "Signs of the upper motor neurones to the right leg are possible." in one


def test_h31_a_reading_is_no_diagnosis(made: Any) -> None:
    """H31: causes stand behind "possible", never as facts."""
    for exam in generated(60, seed=5):
        assert not re.search(r"\b(diagnos\w+|is due to|is caused by|has a stroke)\b", said(exam))


def test_the_same_examination_gives_the_same_words(made: Any) -> None:
    found = {TOE: "absent", "reflexes.ankle": "absent", "walking.pattern": ["stamping", "ataxic"]}
    turned = {**dict(reversed(found.items())), "walking.pattern": ["ataxic", "stamping"]}
    assert said(made(found)) == said(made(turned))


def test_the_short_form_is_part_of_the_long_one_and_concludes_the_same(made: Any) -> None:
    exam = made({TOE: "absent", "reflexes.plantar": "extensor", "reflexes.knee": "clonus", "reflexes.ankle": "clonus"})
    every = sentences(exam, read(exam))
    short = short_form(every)
    assert set(short) < set(every)
    assert "supports" in paragraph(short)
    assert "Position sense" not in paragraph(short)
    assert short[0].urgent


def test_one_missing_side_is_named_and_a_refusal_is_no_blank(made: Any) -> None:
    found = {
        f"{TOE}.right": {"correct": 10, "trials": 10},
        f"{TOE}.left": "not examined: declined",
        "context.symptoms": ["unsteadiness"],
        "motor.power.hip_flexion.right": "5",
        "motor.power.hip_flexion.left": "not examined: declined",
    }
    text = said(made(found))
    assert "Power was not examined on the left (declined)." in text
    assert "position sense at the great toes on the left was not examined" in text


def test_a_level_is_spoken_of_only_where_one_was_found(made: Any) -> None:
    found = {"context.onset": "acute", "reflexes.plantar": "extensor", "context.symptoms": ["urinary_retention"]}
    without = read(made(found)).raised("cord-compression")
    with_level = read(made({**found, "sensation.trunk_level": "T8"})).raised("cord-compression")
    assert without is not None
    assert with_level is not None
    assert "level found" not in without.message
    assert "level found" in with_level.message
