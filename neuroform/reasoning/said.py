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


def shortened(said: list[Said]) -> tuple[Sentence, ...]:
    """Leave out what can be spared, the heaviest and last first, until the paragraph is short enough."""
    words = [len(one.text.split()) for one in said]
    over = sum(words) - MOST_WORDS
    spared: set[int] = set()
    for place in sorted(range(len(said)), key=lambda place: (-said[place].weight, -place)):
        if over <= 0 or said[place].weight == 0:
            break
        spared.add(place)
        over -= words[place]
    kept = (one for place, one in enumerate(said) if place not in spared)
    return tuple(Sentence(text=one.text, items=one.items, urgent=one.urgent) for one in kept if one.items)
