"""What an urgent finding asks of the conclusion.

Errs towards asking.
"""

from collections.abc import Iterator

from neuroform.completeness.rule import MUST, SHOULD, Call, Rules, ask, tell
from neuroform.completeness.seen import Seen
from neuroform.exam.conclusion import URGENCY, URGENCY_ORDER
from neuroform.language import N_, _
from neuroform.reasoning.facts import plain
from neuroform.reasoning.results import URGENCY_LABELS, Reading

rules = Rules()

PLAN = plain(lambda e: e.conclusion.plan)
TOLD = plain(lambda e: e.conclusion.told)
DECIDED = plain(lambda e: e.conclusion.urgency)


@rules.rule(
    "urgent-finding-without-plan",
    severity=MUST,
    message=N_("There is an urgent finding. Blank in the conclusion: {items}."),
    why=N_("An urgent finding without a plan is not acted on."),
)
def urgent_finding_without_plan(seen: Seen, reading: Reading) -> Iterator[Call]:
    """An urgent finding is raised; the plan or its urgency is blank.

    Why: it is not acted on.
    """
    if reading.urgent:
        now = any(found.urgency == "immediate" for found in reading.urgent)
        yield ask(PLAN, DECIDED, severity=MUST if now else SHOULD)


@rules.rule(
    "immediate-without-call",
    severity=MUST,
    message=N_("An urgent finding for Now. Who was told, and when?"),
    why=N_("A written letter is not a call."),
)
def immediate_without_call(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A finding for now is raised, and who was told is blank.

    Why: who was told, when?
    """
    if any(found.urgency == "immediate" for found in reading.urgent):
        yield ask(TOLD)


@rules.rule(
    "impression-contradicts-urgent",
    severity=MUST,
    message=N_("You have written “{written}” beside an urgent finding for “{raised}”: say why."),
    why=N_("The higher of the two is printed."),
)
def impression_contradicts_urgent(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The urgency written is lower than that of an urgent finding.

    Why: say why.
    """
    written = seen.value(DECIDED)
    if written is None or not reading.urgent:
        return
    raised = max((found.urgency for found in reading.urgent), key=URGENCY_ORDER.index)
    if URGENCY_ORDER.index(written) < URGENCY_ORDER.index(raised):
        yield tell(DECIDED, written=_(URGENCY.words[written]), raised=_(URGENCY_LABELS[raised]))
