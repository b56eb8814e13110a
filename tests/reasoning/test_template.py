"""The template of the interpretation: what it lacks is said, and by which name."""

import pytest

from neuroform.errors import PaperError
from neuroform.reasoning.wording import has, listed, rank, say, sentence


@pytest.mark.parametrize(("table", "name"), [("stance", "nowhere"), ("nowhere", "positive"), ("stance", "positive")])
def test_what_the_template_lacks_is_named(table: str, name: str) -> None:
    with pytest.raises(PaperError) as lacking:
        say(table, name)
    said = str(lacking.value)
    assert f"The template of the interpretation lacks “{table}.{name}” or one of its fields." in said
    assert "Restore the shipped template." in said


def test_a_phrase_is_there_or_not() -> None:
    assert has("person", "female")
    assert not has("person", "nobody")
    assert not has("nowhere", "female")


def test_what_is_not_in_a_table_stands_last_in_it() -> None:
    assert rank("urgency", "anything") == 0
    assert rank("person", "female") == 0
    assert rank("person", "male") == 1
    assert rank("person", "nobody") > rank("person", "unknown")


@pytest.mark.parametrize(
    ("words", "text"),
    [
        ([], ""),
        (["a"], "a"),
        (["a", "b"], "a and b"),
        (["a", "b", "c"], "a, b and c"),
        (["a", "b", "c", "d"], "a, b, c and d"),
    ],
)
def test_words_are_joined_as_a_sentence_does(words: list[str], text: str) -> None:
    assert listed(words) == text


@pytest.mark.parametrize(("text", "said"), [("one", "One."), ("one.", "One."), ("Two", "Two.")])
def test_a_sentence_has_its_capital_and_one_full_stop(text: str, said: str) -> None:
    assert sentence(text) == said
