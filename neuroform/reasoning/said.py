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
    kept = list(said)
    for weight in (3, 2, 1):
        for one in [one for one in reversed(kept) if one.weight == weight]:
            if sum(len(other.text.split()) for other in kept) <= MOST_WORDS:
                break
            kept.remove(one)
    return tuple(Sentence(text=one.text, items=one.items, urgent=one.urgent) for one in kept if one.items)
