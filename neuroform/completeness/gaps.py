"""What an examination lacks: a gap is a result, never an exception."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from neuroform.language import N_


class Severity(Enum):
    """How a gap stands in the way of a signature."""

    MUST = "must"
    SHOULD = "should"
    NOTICE = "notice"


SEVERITY_LABELS: Mapping[Severity, str] = {
    Severity.MUST: N_("Needed to sign"),
    Severity.SHOULD: N_("Sign with a reason"),
    Severity.NOTICE: N_("For information"),
}


@dataclass(frozen=True, kw_only=True)
class Gap:
    """Something the examination needs and lacks, or two findings that do not fit."""

    rule: str
    severity: Severity
    items: tuple[str, ...]
    """Whole paths of single findings, side included."""
    message: str
    """One sentence to a colleague."""
    why: str
    source: str
    reason: str | None = None
    """The reason given, when it is explained."""

    @property
    def does_not_fit(self) -> bool:
        """Whether it names findings that contradict each other."""
        return self.rule.startswith("contradiction-")

    @property
    def counts(self) -> bool:
        """Whether it still stands against "complete"."""
        return self.severity is Severity.MUST and self.reason is None


@dataclass(frozen=True, kw_only=True)
class Progress:
    """How far the examination is: answered or explained, of what is to be examined."""

    answered: int
    total: int
