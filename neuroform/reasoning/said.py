"""A sentence on its way into the interpretation, with how easily it can be spared."""

from typing import NamedTuple

from neuroform.reasoning.results import Paths, Sentence

MOST_WORDS = 230


class Said(NamedTuple):
    """A sentence, the findings it rests on, and its weight: 0 is never spared, 3 first."""

    text: str
    items: Paths
    weight: int = 1
    urgent: bool = False
    brief: bool = False


def shortened(said: list[Said], relied_on: frozenset[str]) -> tuple[Sentence, ...]:
    """Leave out what can be spared, the heaviest and last first, until the paragraph is short enough.

    A sentence with a finding that a conclusion relies on goes after all others of its weight.
    """
    words = [len(one.text.split()) for one in said]
    over = sum(words) - MOST_WORDS
    spared: set[int] = set()
    for place in sorted(range(len(said)), key=lambda place: _sparing(said[place], place, relied_on)):
        if over <= 0 or said[place].weight == 0:
            break
        spared.add(place)
        over -= words[place]
    kept = (one for place, one in enumerate(said) if place not in spared)
    return tuple(
        Sentence(text=one.text, items=one.items, urgent=one.urgent, brief=one.brief) for one in kept if one.items
    )


def _sparing(one: Said, place: int, relied_on: frozenset[str]) -> tuple[int, bool, int]:
    return (-one.weight, one.weight == 1 and not relied_on.isdisjoint(one.items), -place)
