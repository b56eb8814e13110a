"""Urgent findings that were raised in an examination and withdrawn again, as its draft's journal tells.

Errs towards telling: a slip that was mended at once is listed as well. A number half typed is no slip.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from neuroform.exam.examination import Examination
from neuroform.exam.walk import entry, is_path
from neuroform.reasoning.following import Following
from neuroform.reasoning.results import UrgentFinding
from neuroform.reasoning.urgent import urgent_findings
from neuroform.records.drafts import Step

TYPING = timedelta(seconds=10)
"""So long after one digit the next may still belong to the same number."""


@dataclass(frozen=True, kw_only=True)
class Withdrawn:
    """An urgent finding that stood for a while."""

    finding: UrgentFinding
    """As it stood last."""
    raised: datetime
    at: datetime
    """When it was withdrawn."""
    path: str | None
    """The whole path that was changed then; None where it was more than one."""
    again: bool
    """Whether a finding of its kind stands now."""


def withdrawn(steps: Iterable[Step]) -> tuple[Withdrawn, ...]:
    """Return what was withdrawn, in the order that happened; takes a moment, so call it from a worker."""
    standing: dict[str, tuple[UrgentFinding, datetime]] = {}
    gone: list[Withdrawn] = []
    facts: Following | None = None
    for step in _settled(steps):
        # What a change does not touch is not read anew: a long history takes little longer than its changes.
        if facts is None:
            facts = Following(step.exam)
        else:
            facts.take(step.exam)
        now = {each.code: each for each in urgent_findings(facts)}
        for code in [code for code in standing if code not in now]:
            finding, raised = standing.pop(code)
            gone.append(Withdrawn(finding=finding, raised=raised, at=step.at, path=step.path, again=False))
        for code, finding in now.items():
            standing[code] = (finding, standing[code][1] if code in standing else step.at)
    return tuple(_told_now(each, standing.keys()) for each in gone)


def _told_now(each: Withdrawn, standing: Iterable[str]) -> Withdrawn:
    again = each.finding.code in set(standing)
    return Withdrawn(finding=each.finding, raised=each.raised, at=each.at, path=each.path, again=again)


def _settled(steps: Iterable[Step]) -> Iterator[Step]:
    """Yield the steps that can change what is urgent, of a number only the last digit."""
    before: Examination | None = None
    held: Step | None = None
    for step in steps:
        if step.path is not None and step.path.startswith("conclusion."):
            continue
        if held is not None and not _same_number(held, step):
            if held.exam != before:
                yield held
            before = held.exam
        held = step
    if held is not None and held.exam != before:
        yield held


def _same_number(one: Step, other: Step) -> bool:
    path = one.path
    typed = path is not None and path == other.path and is_path(path) and entry(path).answers is None
    return typed and other.at - one.at <= TYPING
