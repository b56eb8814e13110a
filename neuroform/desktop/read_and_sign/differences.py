"""Which words of an edited text are not in the text it was made from."""

import re
from difflib import SequenceMatcher

_WORD = re.compile(r"\S+")


def changed(generated: str, edited: str) -> tuple[tuple[int, int], ...]:
    """Return start and end of each run of words in `edited` that differs from `generated`."""
    ours = [_bare(found.group()) for found in _WORD.finditer(generated)]
    theirs = list(_WORD.finditer(edited))
    matched = SequenceMatcher(a=ours, b=[_bare(found.group()) for found in theirs], autojunk=False)
    return tuple(
        (theirs[first].start(), theirs[last - 1].end())
        for kind, _a, _b, first, last in matched.get_opcodes()
        if kind != "equal" and last > first
    )


def _bare(word: str) -> str:
    """Return a word without the mark that ends its sentence."""
    return word.rstrip(".,;:") or word


def same_words(generated: str, edited: str) -> bool:
    """Tell whether two texts hold the same words, however they are broken into lines."""
    return generated.split() == edited.split()
