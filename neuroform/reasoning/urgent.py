"""What must not wait: every urgent finding an examination raises, the most pressing first.

Errs towards raising: what is blank is read as it would raise the finding, and nothing hides one.
"""

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.results import URGENCY_ORDER, UrgentFinding
from neuroform.reasoning.urgent_cord import CORD_ROWS
from neuroform.reasoning.urgent_nerve import NERVE_ROWS
from neuroform.reasoning.urgent_others import OTHER_ROWS
from neuroform.reasoning.urgent_row import UrgentRow
from neuroform.reasoning.urgent_vertigo import VERTIGO_ROWS

ROWS = (*VERTIGO_ROWS, *CORD_ROWS, *NERVE_ROWS, *OTHER_ROWS)
CODES = (
    "acute-vertigo-central-signs",
    "acute-vertigo-central-not-excluded",
    "acute-vertigo-new-hearing-loss",
    "sudden-cerebellar-or-hemispheric-signs",
    "possible-unstable-neck",
    "cord-compression",
    "cauda-equina",
    "rapid-areflexic-weakness",
    "ataxia-confusion-eye-signs",
    "head-injury-anticoagulated",
    "weakness-with-breathing-or-swallowing",
    "spinal-infection-or-cancer-pain",
    "severe-orthostatic-fall",
    "rapid-ataxia",
    "progressive-myelopathy",
    "treatable-myelopathy",
    "subacute-sensory-neuronopathy",
    "subacute-proximal-weakness",
    "gait-bladder-cognition",
    "injurious-falls",
)
"""Every code, in the order in which findings of one urgency stand."""
_ORDER = {code: place for place, code in enumerate(CODES)}


def urgent_findings(facts: Facts) -> tuple[UrgentFinding, ...]:
    """Return every urgent finding: now first, then today, then within days; each in the order of the table."""
    found = [finding for row in ROWS if (finding := facts.kept(_read, row)) is not None]
    return tuple(sorted(found, key=lambda one: (URGENCY_ORDER.index(one.urgency), _ORDER[one.code])))


def _read(facts: Facts, row: UrgentRow) -> UrgentFinding | None:
    return row.read(facts)
