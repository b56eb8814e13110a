"""A wording of the interpretation that says more than the findings is signed only with a reason."""

from collections.abc import Iterable

from neuroform.completeness.gaps import Gap, Severity
from neuroform.desktop.read_and_sign.doubts import Doubt
from neuroform.exam.conclusion import WORDING_RULE, GapReason
from neuroform.exam.examination import Examination
from neuroform.language import N_, _

__all__ = ["WORDING_RULE", "gaps", "without_stale"]


def gaps(doubtful: Iterable[Doubt], exam: Examination) -> tuple[Gap, ...]:
    """Return a gap for each doubt about the wording, with the reason given for it; one for those of the same items."""
    by_items = {doubt.items: doubt for doubt in reversed(tuple(doubtful))}
    return tuple(_gap(doubt, exam) for doubt in reversed(by_items.values()))


def _gap(doubt: Doubt, exam: Examination) -> Gap:
    given = next((each.reason for each in _reasons(exam) if set(doubt.items) <= set(each.items)), None)
    return Gap(
        rule=WORDING_RULE,
        severity=Severity.MUST,
        items=doubt.items,
        message=doubt.words,
        why=_(N_("Change the wording, or say why it stands; the note prints the reason.")),
        source="",
        reason=given,
    )


def without_stale(exam: Examination, now: Iterable[Gap]) -> Examination:
    """Return the examination without reasons for what its wording no longer says."""
    asked = [set(gap.items) for gap in now]
    held = exam.conclusion.gap_reasons or ()
    kept = tuple(each for each in held if each.rule != WORDING_RULE or any(items <= set(each.items) for items in asked))
    if len(kept) == len(held):
        return exam
    return exam.model_copy(update={"conclusion": exam.conclusion.model_copy(update={"gap_reasons": kept or None})})


def _reasons(exam: Examination) -> Iterable[GapReason]:
    return (each for each in exam.conclusion.gap_reasons or () if each.rule == WORDING_RULE)
