"""The reading of an examination and what must not be asked for, settled: words and rules are read from them by name."""

from collections.abc import Mapping

from neuroform.protocols.safety import impossible, not_advised
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.results import PatternReading, Reading, Stance, System, SystemState, UrgentFinding
from neuroform.reasoning.signs import neck_raised

_PARTS = ("stance", "systems", "patterns", "urgent")
_UNSAFE = "unsafe"
_IMPOSSIBLE = "impossible"


class SettledReading(Reading):
    """A reading whose parts are settled: what looks at one of them is read from that, and from nothing behind it."""

    _facts: Facts

    def __init__(self, facts: Facts) -> None:
        object.__setattr__(self, "_facts", facts)

    __eq__ = object.__eq__
    __hash__ = object.__hash__

    @property
    def stance(self) -> Stance:
        """The result of the stance test."""
        found: Stance = self._facts.settled("stance")
        return found

    @property
    def systems(self) -> Mapping[System, SystemState]:
        """The state of every system."""
        found: Mapping[System, SystemState] = self._facts.settled("systems")
        return found

    @property
    def patterns(self) -> tuple[PatternReading, ...]:
        """The reading of every pattern."""
        found: tuple[PatternReading, ...] = self._facts.settled("patterns")
        return found

    @property
    def urgent(self) -> tuple[UrgentFinding, ...]:
        """Every urgent finding."""
        found: tuple[UrgentFinding, ...] = self._facts.settled("urgent")
        return found


def settled(facts: Facts, reading: Reading) -> Reading:
    """Settle the parts of a reading and what must not be asked for; return the reading for those who read from it."""
    if isinstance(reading, SettledReading):
        return reading
    for name in _PARTS:
        facts.settle(name, getattr(reading, name))
    raised = reading.raised("possible-unstable-neck") is not None or bool(neck_raised(facts).met)
    facts.settle(_UNSAFE, not_advised(facts.exam, neck_raised=raised))
    facts.settle(_IMPOSSIBLE, impossible(facts.exam))
    return facts.once(SettledReading, lambda: SettledReading(facts))


def unsafe(facts: Facts) -> Mapping[str, str]:
    """Return the items (without a side) that are unsafe now, each with its caution's code."""
    found: Mapping[str, str] = facts.settled(_UNSAFE)
    return found


def not_possible(facts: Facts) -> Mapping[str, str]:
    """Return the whole paths of findings that can't be made, each with why."""
    found: Mapping[str, str] = facts.settled(_IMPOSSIBLE)
    return found
