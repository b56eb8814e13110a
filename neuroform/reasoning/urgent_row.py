"""One row of the table of urgent findings, and how it is read."""

from collections.abc import Callable
from dataclasses import dataclass

from neuroform.exam.walk import position
from neuroform.language import _
from neuroform.reasoning.facts import Facts, Sign
from neuroform.reasoning.results import Urgency, UrgentFinding

How = Callable[[Facts, Sign], Urgency]
Said = Callable[[Facts, Sign], str]


@dataclass(frozen=True, kw_only=True, eq=False)
class UrgentRow:
    """One row of the table: a code, what raises it, how fast, what it says and where that stands."""

    code: str
    raised: Callable[[Facts], Sign]
    urgency: Urgency | How
    says: str
    source: str
    detail: Said | None = None
    """Words for the named field {detail} of what it says: which sign, what is missing."""

    def read(self, facts: Facts) -> UrgentFinding | None:
        """Return the finding when it is raised."""
        sign = self.raised(facts)
        if not sign.met:
            return None
        urgency = self.urgency if isinstance(self.urgency, str) else self.urgency(facts, sign)
        message = _(self.says)
        if self.detail:
            message = message.format(detail=self.detail(facts, sign))
        items = tuple(sorted(sign.because, key=position))
        return UrgentFinding(
            code=self.code, urgency=urgency, items=items, message=_upper_first(message), source=_(self.source)
        )


def _upper_first(text: str) -> str:
    return text[:1].upper() + text[1:]
