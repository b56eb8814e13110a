"""What was found on one side: of two sides one alone, two that are not alike, and answers that name a direction."""

from collections.abc import Iterable, Iterator

from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.exam.walk import SIDES, Entry, entries, get
from neuroform.figures.sway_cross import in_words as trial_words
from neuroform.notes.findings import Observation, sentence, trial_at
from neuroform.notes.values import label, lowered

_OUT = frozenset({"abnormal", "borderline", "does_not_fit"})
_ELSEWHERE = frozenset({"context", "conclusion"})


def sides(exam: Examination, stands_out: Iterable[Observation]) -> dict[str, list[str]]:
    """Return phrases under "right", "left" and "unlike" (found on both sides, and not the same)."""
    found: dict[str, list[str]] = {"right": [], "left": [], "unlike": []}
    for each in stands_out:
        out = {at: cell.words for at, cell in each.cells if cell.mark in _OUT}
        if len(out) == 1 and (side := next(iter(out))) in found:
            found[side].append(sentence(each))
        elif len(set(out.values())) > 1:
            found["unlike"].append(sentence(each))
    for item in entries():
        if item.section not in _ELSEWHERE and not item.sided:
            for side, said in _pointing(exam, item):
                found[side].append(said)
    return found


def _pointing(exam: Examination, item: Entry) -> Iterator[tuple[str, str]]:
    """Yield (side, phrase) where the answer of an item without sides names one."""
    found = get(exam, item.path)
    if item.answers is None or not isinstance(found, Examined):
        return
    codes = found.value if isinstance(found.value, tuple) else (found.value,)
    for code in codes:
        side = next((side for side in SIDES if side in str(code).split("_")), None)
        if side is not None:
            yield side, _phrase(exam, item, item.answers.words[code])


def _phrase(exam: Examination, item: Entry, words: str) -> str:
    trial, _dot, part = item.path.rpartition(".")
    if part == "direction" and (whole := trial_at(exam, trial)).not_examined is None:
        return f"{lowered(item.groups[-1][1].label)}: {trial_words(whole)}"
    return f"{lowered(label(item))}: {words}"
