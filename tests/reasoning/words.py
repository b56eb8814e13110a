"""What the rows of words are made of."""

from collections.abc import Callable
from typing import Any

from neuroform.exam.walk import Side
from neuroform.reasoning.facts import Facts, SideSign, Sign

Found = dict[str, Any]
Word = Callable[[Facts], Sign]
Row = tuple[Word, list[Found], list[Found]]


def here(sign: SideSign, side: Side = "right") -> Word:
    """Read a sign on one side."""

    def read(facts: Facts) -> Sign:
        return sign(facts, side)

    return read
