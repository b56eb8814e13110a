"""Every pattern in the order of the answer, and their reading."""

from collections.abc import Iterable

from neuroform.exam.walk import Side
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.mechanism import Pattern, judge
from neuroform.reasoning.normal import read_no_abnormality
from neuroform.reasoning.patterns_cerebellar import COMBINED, HEMISPHERE, MIDLINE
from neuroform.reasoning.patterns_motor import FRONTAL_OR_PARKINSONIAN, LOWER_MOTOR_NEURONE, UPPER_MOTOR_NEURONE
from neuroform.reasoning.patterns_other import FUNCTIONAL, ORTHOSTATIC, VISUAL_DEPENDENCE
from neuroform.reasoning.patterns_sensory import DORSAL_COLUMN, LENGTH_DEPENDENT, SENSORY_ATAXIA
from neuroform.reasoning.patterns_vestibular import (
    ACUTE_CENTRAL,
    ACUTE_PERIPHERAL,
    BILATERAL,
    COMPENSATED,
    POSITIONAL_VERTIGO,
)
from neuroform.reasoning.results import PatternReading

PATTERNS: tuple[Pattern, ...] = (
    SENSORY_ATAXIA,
    LENGTH_DEPENDENT,
    DORSAL_COLUMN,
    ACUTE_PERIPHERAL,
    ACUTE_CENTRAL,
    COMPENSATED,
    BILATERAL,
    POSITIONAL_VERTIGO,
    MIDLINE,
    HEMISPHERE,
    COMBINED,
    FUNCTIONAL,
    UPPER_MOTOR_NEURONE,
    LOWER_MOTOR_NEURONE,
    FRONTAL_OR_PARKINSONIAN,
    ORTHOSTATIC,
    VISUAL_DEPENDENCE,
)
"""Every pattern but "no abnormality", which is read from the others and comes first."""


def read_patterns(facts: Facts) -> tuple[PatternReading, ...]:
    """Return the reading of every pattern once, those with sides right then left."""
    others = tuple(read_some(facts, PATTERNS))
    facts.settle(_OTHERS, others)
    return (facts.kept(_no_abnormality), *others)


_OTHERS = "the other patterns"


def _no_abnormality(facts: Facts) -> PatternReading:
    return read_no_abnormality(facts, facts.settled(_OTHERS))


def read_some(facts: Facts, patterns: Iterable[Pattern]) -> Iterable[PatternReading]:
    """Yield the readings of some patterns."""
    return (facts.kept(_judged, pattern, side) for pattern in patterns for side in pattern.sides)


def _judged(facts: Facts, pattern: Pattern, side: Side | None) -> PatternReading:
    return judge(pattern, facts, side)
