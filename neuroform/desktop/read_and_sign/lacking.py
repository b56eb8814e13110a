"""What the page offers for each gap: its name in few words, what can be done about it, and what doing it records."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from neuroform.completeness.gaps import SEVERITY_LABELS, Gap, Severity
from neuroform.completeness.register import NOT_CHECKED
from neuroform.desktop.form import place
from neuroform.exam.conclusion import WORDING_RULE, GapReason
from neuroform.exam.examination import Examination
from neuroform.exam.findings import REASONS, NotExamined
from neuroform.exam.walk import entry, get, is_path, side_of
from neuroform.figures.marks import Mark
from neuroform.language import N_, _

Deed = Literal["answer", "not_examined", "reason", "reason_for_all"]
"""An answer to what is said of the wording is another wording."""
BLANK = "item-of-the-examination-blank"
SHOWN_NAMES = 2
"""Names that stand in a gap's title; how many more there are follows."""
LONGEST_REASON = 1000
"""Characters of a reason typed here."""


@dataclass(frozen=True, kw_only=True)
class Action:
    """Something that can be done about a gap, and its key."""

    deed: Deed
    words: str
    key: str


@dataclass(frozen=True, kw_only=True)
class Lacking:
    """A gap as the page shows it."""

    gap: Gap
    title: str
    said: str
    """The sentence below the title."""
    mark: Mark
    actions: tuple[Action, ...]
    sealed: bool = False

    @property
    def key(self) -> tuple[str, tuple[str, ...]]:
        """What it is known by while the examination changes."""
        return self.gap.rule, self.gap.items


def lacking(gaps: Iterable[Gap], exam: Examination, *, sealed: bool = False) -> dict[Severity, tuple[Lacking, ...]]:
    """Return the gaps by severity, the gravest first; a severity without gaps is left out.

    Of a `sealed` examination nothing can be done about them.
    """
    shown = [_shown(gap, exam) for gap in gaps]
    shown = [replace(each, actions=(), sealed=True) for each in shown] if sealed else _with_one_for_all(shown)
    found = {severity: tuple(each for each in shown if each.gap.severity is severity) for severity in Severity}
    return {severity: each for severity, each in found.items() if each}


def _with_one_for_all(shown: list[Lacking]) -> list[Lacking]:
    """Offer, at the first gap that is to be signed with a reason, one reason for all of them."""
    asking = [number for number, each in enumerate(shown) if asks_for_a_reason(each.gap)]
    if len(asking) < 2:
        return shown
    first = shown[asking[0]]
    words = _(N_("one reason for all {count}")).format(count=len(asking))
    action = Action(deed="reason_for_all", words=words, key=str(len(first.actions) + 1))
    shown[asking[0]] = replace(first, actions=(*first.actions, action))
    return shown


def heads(groups: Mapping[Severity, tuple[Lacking, ...]]) -> dict[Severity, tuple[str, int]]:
    """Return the head over each severity and how many it counts: what is open, or where all have one, the reasons.

    A severity whose gaps follow under the head before it has none of its own.
    """
    made: dict[Severity, tuple[str, int]] = {}
    explained: Severity | None = None
    for severity, held in groups.items():
        still = [each for each in held if each.gap.reason is None]
        if still or not held:
            made[severity] = (_(SEVERITY_LABELS[severity]), len(still))
            explained = None
        elif explained is not None:
            made[explained] = (made[explained][0], made[explained][1] + len(held))
        else:
            words = N_("Signed with a reason") if held[0].sealed else N_("With a reason")
            made[severity] = (_(words), len(held))
            explained = severity
    return made


def asks_for_a_reason(gap: Gap) -> bool:
    """Tell whether a gap that does not count still asks for a reason before the signature."""
    return gap.severity is Severity.SHOULD and gap.reason is None and may_be_explained(gap)


def still_needed(gaps: Iterable[Gap]) -> str:
    """Say how many gaps stand in the way of a signature, or still ask for a reason; "No gaps" where there are none."""
    held = tuple(gaps)
    needed = sum(gap.counts for gap in held)
    reasons = sum(asks_for_a_reason(gap) for gap in held)
    told = [_(N_("{count} needed to sign")).format(count=needed)] if needed else []
    told += [_(N_("{count} to sign with a reason")).format(count=reasons)] if reasons else []
    if told:
        return ", ".join(told)
    return _(N_("Nothing needed to sign")) if held else _(N_("No gaps"))


def title(gap: Gap) -> str:
    """Name what a gap is about; its sentence where it names no item."""
    if gap.rule == WORDING_RULE and gap.items:
        # The words may speak of both sides where one alone stands against them.
        whole = dict.fromkeys(entry(path).path if is_path(path) else path for path in gap.items)
        return _(N_("Your wording on {items}")).format(items=named(whole, SHOWN_NAMES))
    return named(gap.items, SHOWN_NAMES) or gap.message


def named(items: Iterable[str], most: int) -> str:
    """Name items, both sides of one together, at most `most`; how many more there are follows."""
    names = list(dict.fromkeys(_labels(items)))
    shown = "; ".join(names[:most])
    more = len(names) - most
    return _(N_("{names} and {count} more")).format(names=shown, count=more) if more > 0 else shown


def _labels(items: Iterable[str]) -> Iterable[str]:
    """Yield the label of each item, with its side or "both sides"."""
    sides: dict[str, list[str]] = {}
    for path in items:
        if is_path(path):
            sides.setdefault(entry(path).path, []).append(side_of(path) or "")
    for path, found in sides.items():
        label = _(entry(path).item.label)
        if {"right", "left"} <= set(found):
            yield _(N_("{item}, both sides")).format(item=label)
        elif found[0]:
            yield _(N_("{item}, right") if found[0] == "right" else N_("{item}, left")).format(item=label)
        else:
            yield label


def _shown(gap: Gap, exam: Examination) -> Lacking:
    if gap.does_not_fit:
        mark: Mark = "does_not_fit"
    elif any(isinstance(_at(exam, path), NotExamined) for path in gap.items):
        mark = "not_examined"
    else:
        mark = "blank"
    name = title(gap)
    said = gap.message if name != gap.message else gap.why
    if gap.rule == BLANK:
        said = _(N_("Blank. Not examined is never normal."))
    return Lacking(gap=gap, title=name, said=said, mark=mark, actions=_actions(gap, exam))


def _at(exam: Examination, path: str) -> object:
    return get(exam, path) if is_path(path) else None


def _actions(gap: Gap, exam: Examination) -> tuple[Action, ...]:
    if gap.rule == WORDING_RULE:
        change, explain = _(N_("change the wording")), _(N_("give a reason"))
        return (Action(deed="answer", words=change, key="1"), Action(deed="reason", words=explain, key="2"))
    deeds: list[tuple[Deed, str]] = []
    recorded = any(_at(exam, path) is not None for path in gap.items)
    if any(place(path) for path in gap.items):
        deeds.append(("answer", _(N_("test again") if gap.does_not_fit or recorded else N_("answer"))))
    if left_out(exam, gap, "declined"):
        deeds.append(("not_examined", _(N_("not examined"))))
    if may_be_explained(gap):
        words = N_("give a reason") if gap.reason is None else N_("change the reason")
        deeds.append(("reason", _(words)))
    return tuple(Action(deed=deed, words=words, key=str(n)) for n, (deed, words) in enumerate(deeds, 1))


def may_be_explained(gap: Gap) -> bool:
    """Tell whether a reason answers a gap: not where nothing was checked, and a notice asks for none."""
    return gap.severity is not Severity.NOTICE and not could_not_be_checked(gap)


def could_not_be_checked(gap: Gap) -> bool:
    """Tell whether the gap stands for a rule that failed: nothing but a repair answers it."""
    return gap.rule.startswith(NOT_CHECKED)


def first_place(gap: Gap) -> str | None:
    """Return the item a gap sends to: the first blank one that stands in the form, else the first there."""
    return next((path for path in gap.items if place(path)), None)


def left_out(exam: Examination, gap: Gap, reason: str) -> Mapping[str, NotExamined]:
    """Return what recording a gap's blank items as not examined would write: whole path to reason."""
    if gap.does_not_fit:
        return {}
    blank = [path for path in gap.items if is_path(path) and not entry(path).plain and get(exam, path) is None]
    return {path: NotExamined(not_examined=reason) for path in blank}  # type: ignore[arg-type]  # checked on writing


def reasons() -> tuple[tuple[str, str, str], ...]:
    """Return why something was not examined: key, code and words, a refusal first."""
    return tuple((str(n), code, _(words)) for n, (code, words) in enumerate(REASONS.items(), 1))


def explained(exam: Examination, gap: Gap, reason: str) -> Examination:
    """Return the examination with a reason for a gap, or without one where `reason` is empty.

    Raises pydantic's ValidationError for a text no file may hold.
    """
    kept = [
        each
        for each in exam.conclusion.gap_reasons or ()
        if each.rule != gap.rule or not set(gap.items) <= set(each.items)
    ]
    if words := reason.strip():
        kept.append(GapReason(rule=gap.rule, items=gap.items, reason=words))
    conclusion = exam.conclusion.model_copy(update={"gap_reasons": tuple(kept) or None})
    return exam.model_copy(update={"conclusion": conclusion})
