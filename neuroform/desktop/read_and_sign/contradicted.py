"""A wording of the interpretation that says more than the findings is signed only with a reason.

The reason begins with the words it is given for: other words, or the same said of other findings, ask for their own.
"""

from collections.abc import Iterable, Mapping

from neuroform.completeness.gaps import Gap, Severity
from neuroform.desktop.read_and_sign.doubts import Doubt
from neuroform.exam.conclusion import WORDING_RULE, GapReason
from neuroform.exam.examination import Examination
from neuroform.language import N_, _

__all__ = ["WORDING_RULE", "explained", "gaps", "without_stale"]


def gaps(doubtful: Iterable[Doubt], exam: Examination) -> tuple[Gap, ...]:
    """Return a gap for each doubt about the wording, with the reason given for it; one for those of the same items."""
    held = tuple(doubtful)
    begins = _begins(held)
    first = {frozenset(doubt.items): doubt for doubt in reversed(held)}
    return tuple(_gap(first[items], begin, exam) for items, begin in begins.items())


def _gap(doubt: Doubt, begins: str, exam: Examination) -> Gap:
    given = (each for each in _reasons(exam) if _answers(each, {frozenset(doubt.items): begins}))
    return Gap(
        rule=WORDING_RULE,
        severity=Severity.MUST,
        items=doubt.items,
        message=doubt.words,
        why=_(N_("Change the wording, or say why it stands; the note prints the reason.")),
        source="",
        reason=next((each.reason.removeprefix(begins) for each in given), None),
    )


def explained(exam: Examination, gap: Gap, reason: str, doubtful: Iterable[Doubt]) -> Examination:
    """Return the examination with a reason for the words of a gap, or without one where `reason` is empty.

    Raises pydantic's ValidationError for a text no file may hold.
    """
    items = frozenset(gap.items)
    held = exam.conclusion.gap_reasons or ()
    kept = [each for each in held if each.rule != WORDING_RULE or frozenset(each.items) != items]
    begins = _begins(doubtful).get(items)
    if begins is not None and (words := reason.strip()):
        kept.append(GapReason(rule=WORDING_RULE, items=gap.items, reason=begins + words))
    return _with(exam, kept)


def without_stale(exam: Examination, doubtful: Iterable[Doubt]) -> Examination:
    """Return the examination without reasons for what its wording no longer says."""
    begins = _begins(doubtful)
    held = exam.conclusion.gap_reasons or ()
    kept = [each for each in held if each.rule != WORDING_RULE or _answers(each, begins)]
    return exam if len(kept) == len(held) else _with(exam, kept)


def _begins(doubtful: Iterable[Doubt]) -> Mapping[frozenset[str], str]:
    """Return, by the items that doubts are about, how a reason for them begins: with every word that is doubted."""
    quoted: dict[frozenset[str], dict[str, None]] = {}
    for doubt in doubtful:
        quoted.setdefault(frozenset(doubt.items), {})[f"“{doubt.quoted}”"] = None
    return {items: ", ".join(words) + ": " for items, words in quoted.items()}


def _answers(given: GapReason, begins: Mapping[frozenset[str], str]) -> bool:
    begin = begins.get(frozenset(given.items))
    return begin is not None and given.reason.startswith(begin)


def _with(exam: Examination, reasons: Iterable[GapReason]) -> Examination:
    kept = tuple(reasons) or None
    return exam.model_copy(update={"conclusion": exam.conclusion.model_copy(update={"gap_reasons": kept})})


def _reasons(exam: Examination) -> Iterable[GapReason]:
    return (each for each in exam.conclusion.gap_reasons or () if each.rule == WORDING_RULE)
