"""How the paragraph begins and ends, and what it spares when it grows too long."""

from neuroform.reasoning.conclusions_text import last_text, urgent_text
from neuroform.reasoning.interpretation import paragraph
from neuroform.reasoning.results import NextTest, Sentence
from neuroform.reasoning.said import MOST_WORDS, Said, shortened
from tests.reasoning.verdicts_by_hand import FOR, LACKING, TOE_RIGHT, reading


def test_urgent_findings_begin_by_their_haste() -> None:
    lines = list(
        urgent_text(
            reading(
                urgent={
                    "cauda-equina": "immediate",
                    "cord-compression": "immediate",
                    "severe-orthostatic-fall": "same_day",
                    "rapid-ataxia": "within_days",
                }
            )
        )
    )
    assert [each.text for each in lines] == [
        "Now: possible compression of the cauda equina; possible compression of the cord.",
        "Today: a severe fall of blood pressure on standing.",
        "Within days: an ataxia that grew within weeks.",
    ]
    assert {(each.weight, each.urgent, each.items) for each in lines} == {(0, True, (FOR, LACKING))}


def proposed(*items: str) -> list[NextTest]:
    return [NextTest(item=item, because="") for item in items]


def test_with_something_for_now_the_last_sentence_is_what_must_not_be_delayed() -> None:
    codes = ("cauda-equina", "cord-compression", "head-injury-anticoagulated", "weakness-with-breathing-or-swallowing")
    (last,) = last_text(reading(urgent=dict.fromkeys(codes, "immediate")), proposed(LACKING))
    assert last.text == (
        "What must not be delayed: emergency MRI and a bladder scan after voiding; imaging of the whole spine;"
        " CT of the head."
    )
    assert (last.weight, last.urgent, last.items) == (0, True, (FOR, LACKING))


def test_else_it_is_what_to_examine_next_three_items_at_most() -> None:
    today = reading(urgent={"severe-orthostatic-fall": "same_day"})
    items = (LACKING, TOE_RIGHT, "walking.turning", "motor.breath_count")
    (last,) = last_text(today, proposed(*items))
    assert last.text == "Examine next: speech, position sense at the great toes (right) and turning."
    assert (last.weight, last.urgent, last.items) == (0, False, items[:3])


def test_with_neither_there_is_no_last_sentence() -> None:
    assert list(last_text(reading(), [])) == []


def line(weight: int, words: int, item: str = LACKING) -> Said:
    return Said(" ".join(["word"] * words), (item,), weight)


def kept(said: list[Said], relied_on: frozenset[str] = frozenset()) -> list[int]:
    lengths = [len(each.text.split()) for each in said]
    return [lengths.index(len(each.text.split())) for each in shortened(said, relied_on)]


def test_a_paragraph_of_just_as_many_words_as_allowed_loses_nothing() -> None:
    assert MOST_WORDS == 230
    assert kept([line(3, 100), line(3, 130)]) == [0, 1]


def test_one_word_more_costs_the_last_of_the_sentences_that_are_spared_first() -> None:
    assert kept([line(3, 100), line(3, 90), line(2, 41)]) == [0, 2]


def test_what_a_conclusion_relies_on_is_spared_after_its_equals() -> None:
    said = [line(1, 100), line(1, 90, FOR), line(1, 41, FOR)]
    assert kept(said, frozenset({FOR})) == [1, 2]


def test_what_must_be_said_is_never_spared() -> None:
    assert kept([line(0, 200), line(0, 100), line(1, 10)]) == [0, 1]


def test_a_sentence_without_a_finding_is_not_said() -> None:
    assert shortened([Said("Word.", ())], frozenset()) == ()


def test_an_urgent_sentence_stays_marked() -> None:
    (each,) = shortened([Said("Word.", (FOR,), 0, urgent=True)], frozenset())
    assert (each.text, each.items, each.urgent) == ("Word.", (FOR,), True)


def test_the_sentences_stand_one_space_apart() -> None:
    assert paragraph([Sentence(text="One.", items=(FOR,)), Sentence(text="Two.", items=(FOR,))]) == "One. Two."
