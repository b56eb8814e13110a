"""Stands in for the rules in the first moment: the form takes keys while they are still being loaded.

Errs towards saying nothing: no reading, no gap, no limit; only what is to be examined, and what must not be.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from neuroform.completeness.gaps import Gap, Progress
from neuroform.desktop.judge import Judge
from neuroform.exam import walk
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined, NotExamined
from neuroform.language import N_, _
from neuroform.protocols.loading import Protocol
from neuroform.protocols.safety import impossible, not_advised, why_impossible, why_not_advised
from neuroform.reasoning.results import NextTest, Reading, Sentence, Stance
from neuroform.reference.results import Limit

NOTHING = Reading(stance=Stance(result="not_assessable", because="", items=()), systems={}, patterns=(), urgent=())


@dataclass(frozen=True, kw_only=True)
class Early:
    """Conclusions before there are any."""

    needed: tuple[str, ...]
    progress: Progress
    reading: Reading = NOTHING
    gaps: tuple[Gap, ...] = ()
    sentences: tuple[Sentence, ...] = ()


def early_judge(protocol: Protocol) -> Judge:
    """Return the functions of the first moment."""

    def conclude(exam: Examination) -> Early:
        items = (*protocol.must, *(each[0] for each in protocol.any_of))
        if exam.context.symptoms:
            items += protocol.with_symptoms
        paths = sorted((path for item in items for path in walk.entry(item).paths), key=walk.position)
        answered = sum(walk.get(exam, path) is not None for path in paths)
        return Early(needed=tuple(paths), progress=Progress(answered=answered, total=len(paths)))

    def needed(exam: Examination, _conclusions: object) -> tuple[str, ...]:
        return conclude(exam).needed

    def propose(_exam: Examination, _reading: Reading) -> tuple[NextTest, ...]:
        return ()

    def limit(_exam: Examination, _path: str) -> Limit | None:
        return None

    return Judge(conclude=conclude, needed=needed, propose=propose, mark=mark, limit=limit, barred=barred)


def mark(exam: Examination, path: str) -> str:
    """Return the mark of a finding as far as its list of answers tells it."""
    found, answers = walk.get(exam, path), walk.entry(path).answers
    if found is None:
        return "blank"
    if isinstance(found, NotExamined):
        return "not_examined"
    value = found.value if isinstance(found, Examined) else found
    words = frozenset(value) if isinstance(value, tuple) else frozenset([value] if isinstance(value, str) else [])
    if answers is None or not words:
        return "neutral"
    return "abnormal" if words & answers.abnormal else "normal" if words <= answers.normal else "neutral"


def barred(exam: Examination) -> Mapping[str, str]:
    """Return what is unsafe or impossible now: path, with or without its side, to why, in words."""
    words = N_("not advised: {why}")
    found = {path: _(words).format(why=why_not_advised(code)) for path, code in not_advised(exam).items()}
    found.update((path, why_impossible(code)) for path, code in impossible(exam).items())
    return found
