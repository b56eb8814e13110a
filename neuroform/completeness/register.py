"""Checks an examination against every rule: what it lacks, and what does not fit.

A rule that crashes becomes a gap that blocks signing; the others still run.
"""

import logging
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import UTC, datetime

from neuroform.completeness import (
    circulation,
    conclusion,
    context,
    contradictions_history,
    contradictions_limbs,
    contradictions_senses,
    contradictions_standing,
    coordination,
    generic,
    head_and_eyes,
    manner,
    motor,
    sensation,
    standing,
    walking,
)
from neuroform.completeness.gaps import Gap, Progress, Severity
from neuroform.completeness.generic import neck_not_asked
from neuroform.completeness.rule import Call, Rule
from neuroform.completeness.seen import Seen, without_side
from neuroform.completeness.wording import items_in_words
from neuroform.exam.conclusion import GapReason
from neuroform.exam.examination import Examination
from neuroform.exam.walk import is_path, position
from neuroform.language import N_, _
from neuroform.protocols.loading import Protocol
from neuroform.protocols.safety import HEAD_MOVED
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.results import Paths, Reading

MODULES: tuple[tuple[Rule, ...], ...] = tuple(
    tuple(rule for rule in module.rules if not rule.last)
    for module in (
        context,
        manner,
        standing,
        walking,
        motor,
        sensation,
        coordination,
        head_and_eyes,
        circulation,
        conclusion,
        contradictions_history,
        contradictions_standing,
        contradictions_limbs,
        contradictions_senses,
        generic,
    )
)
"""The rules, module by module. A new module of rules is joined here."""
LAST: tuple[Rule, ...] = tuple(rule for rule in generic.rules if rule.last)
"""Those that name only what no other asks for."""
RULES: tuple[Rule, ...] = (*(rule for module in MODULES for rule in module), *LAST)
"""Every rule, in the order they run."""

NOT_CHECKED = "could-not-be-checked"
"""Opens the rule of a gap that stands for a rule that crashed."""
_NOT_CHECKED_MESSAGE = N_("“{rule}” could not be checked. Look at it yourself.")
_NOT_CHECKED_WHY = N_("A rule of the program failed on this examination; what it would have found is not known.")
_NECK_FIRST = N_("Ask about the neck first.")
_SEVERITIES: Mapping[Severity, int] = {severity: place for place, severity in enumerate(Severity)}

logger = logging.getLogger(__name__)


def check(
    exam: Examination,
    reading: Reading,
    protocol: Protocol,
    *,
    earlier: Examination | None = None,
    facts: Facts | None = None,
    now: datetime | None = None,
    rules: Sequence[Rule] | None = None,
) -> tuple[Gap, ...]:
    """Return every gap, the most pressing first and then in bedside order; explained ones carry their reason.

    `earlier` is the examination that a follow-up follows; `facts` those of `exam`, where they are at hand;
    `now` the time, for dates in the future; `rules` others than all.
    """
    seen = see(exam, reading, protocol, earlier=earlier, facts=facts, now=now)
    if rules is None:
        return found(seen)
    return found(seen, (tuple(rule for rule in rules if not rule.last),), [rule for rule in rules if rule.last])


def found(seen: Seen, modules: Iterable[tuple[Rule, ...]] = MODULES, last: Iterable[Rule] = LAST) -> tuple[Gap, ...]:
    """Return every gap of an examination as the rules see it."""
    kept = seen.keeping(_of_module)
    gaps = [gap for module in modules for gap in kept(module)]
    asked = {path for gap in gaps if gap.severity is Severity.MUST and not gap.does_not_fit for path in gap.items}
    gaps += [gap for rule in last for gap in _of_the_last(seen, rule, asked)]
    if reasons := _reasons(seen.exam.conclusion.gap_reasons or ()):
        gaps = [_explained(gap, reasons) for gap in gaps]
    return tuple(sorted(gaps, key=_order(seen.protocol)))


def complete(gaps: Iterable[Gap]) -> bool:
    """Tell whether every gap that is needed to sign is answered or explained."""
    return not any(gap.counts for gap in gaps)


def needed(seen: Seen) -> Paths:
    """Return the whole paths of the findings that are to be examined; what can't be asked for is left out.

    Where one of several ways answers, it is the way that was used, else the one that stands for them.
    """
    recorded = seen.found.keys()
    return tuple([next((way for way in ways if way in recorded), path) for path, ways in seen.slots])


def progress(seen: Seen, gaps: Iterable[Gap]) -> Progress:
    """Return how many answers are there or explained, of those the examination and its must gaps ask for."""
    gaps = [gap for gap in gaps if gap.severity is Severity.MUST]
    wanted = {*seen.needed, *(path for gap in gaps for path in gap.items)}
    lacking = {path for gap in gaps if gap.counts for path in gap.items}
    return Progress(answered=len(wanted - lacking), total=len(wanted))


def rule_named(rule_id: str) -> Rule:
    """Return a rule by its id; KeyError when there is none."""
    plain = rule_id.removeprefix(f"{NOT_CHECKED}-")
    for rule in RULES:
        if rule.id == plain:
            return rule
    raise KeyError(rule_id)


def see(
    exam: Examination,
    reading: Reading,
    protocol: Protocol,
    *,
    earlier: Examination | None = None,
    facts: Facts | None = None,
    now: datetime | None = None,
) -> Seen:
    """Return an examination as the rules see it."""
    return Seen(
        facts or Facts(exam),
        reading,
        protocol,
        earlier=None if earlier is None else Facts(earlier),
        now=now or datetime.now(UTC),
    )


def _of_module(seen: Seen, rules: tuple[Rule, ...]) -> list[Gap]:
    kept = seen.keeping(_of_rule)
    gaps: list[Gap] = []
    for rule in rules:
        try:
            gaps += kept(rule)
        except Exception as error:
            gaps.append(_failed(seen, rule, error))
    return gaps


def _failed(seen: Seen, rule: Rule, error: Exception) -> Gap:
    # The message of the error may hold what was found in a person: it stays out of the log.
    logger.error("rule %s failed: %s", rule.id, type(error).__name__)
    seen.looked_at_everything()
    return _not_checked(rule)


def _of_rule(seen: Seen, rule: Rule) -> list[Gap]:
    gaps = []
    for call in rule.find(seen, seen.reading):
        items = _left(call, seen)
        if items:
            gaps.append(_gap(rule, call, items, seen))
    return gaps


def _of_the_last(seen: Seen, rule: Rule, asked: set[str]) -> list[Gap]:
    """Return the gaps of a rule that names only what no other asks for with the same force."""
    try:
        called = [(call, _left(call, seen)) for call in seen.kept(_calls, rule)]
    except Exception as error:
        return [_failed(seen, rule, error)]
    left = [(call, tuple([path for path in items if path not in asked])) for call, items in called]
    return [_gap(rule, call, items, seen) for call, items in left if items]


def _calls(seen: Seen, rule: Rule) -> list[Call]:
    return list(rule.find(seen, seen.reading))


def _left(call: Call, seen: Seen) -> Paths:
    """Return the items that may be named: what is answered, unsafe or impossible falls away."""
    if call.kind == "tell":
        return call.items
    if call.kind == "look":
        return tuple(path for path in call.items if not seen.barred(path))
    return tuple(path for path in call.items if seen.open(path))


def _gap(rule: Rule, call: Call, items: Paths, seen: Seen) -> Gap:
    message = _(rule.message).format(items=items_in_words(items), **call.words)
    moving = call.kind == "ask" and any(without_side(path) in HEAD_MOVED for path in items)
    if moving and neck_not_asked(seen):
        message = f"{_(_NECK_FIRST)} {message}"
    return Gap(
        rule=rule.id,
        severity=call.severity or rule.severity,
        items=tuple(sorted(items, key=_place)),
        message=message,
        why=_(rule.why),
        source=_(rule.source),
    )


def _not_checked(rule: Rule) -> Gap:
    return Gap(
        rule=f"{NOT_CHECKED}-{rule.id}",
        severity=Severity.MUST,
        items=(),
        message=_(_NOT_CHECKED_MESSAGE).format(rule=rule.id),
        why=_(_NOT_CHECKED_WHY),
        source="",
    )


def _reasons(given: Iterable[GapReason]) -> dict[str, list[GapReason]]:
    by_rule: dict[str, list[GapReason]] = {}
    for reason in given:
        if reason.reason.strip():
            by_rule.setdefault(reason.rule, []).append(reason)
    return by_rule


def _explained(gap: Gap, reasons: Mapping[str, list[GapReason]]) -> Gap:
    """Give a gap the reason that stands for its rule and for all of its items."""
    for given in reasons.get(gap.rule, ()):
        if set(gap.items) <= set(given.items):
            return Gap(
                rule=gap.rule,
                severity=gap.severity,
                items=gap.items,
                message=gap.message,
                why=gap.why,
                source=gap.source,
                reason=given.reason,
            )
    return gap


def _place(path: str) -> int:
    return position(path) if is_path(path) else -1


def _order(protocol: Protocol) -> Callable[[Gap], tuple[int, int, int, str]]:
    own = protocol.order
    last = len(own)

    def key(gap: Gap) -> tuple[int, int, int, str]:
        first = gap.items[0] if gap.items else ""
        return (_SEVERITIES[gap.severity], own.get(first, last), _place(first) if first else -1, gap.rule)

    return key
