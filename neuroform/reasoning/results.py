"""What the reading of an examination can say: plain frozen values, each with the findings it rests on."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from neuroform.exam.walk import Side
from neuroform.language import N_

Paths = tuple[str, ...]
"""Whole paths of findings, side included; never a group."""
StanceResult = Literal["positive", "negative", "unsteady_eyes_open", "inconsistent", "not_assessable"]
Verdict = Literal["supported", "possible", "unlikely", "not_assessable"]
SystemState = Literal["intact", "impaired", "partly_tested", "not_tested"]
Urgency = Literal["immediate", "same_day", "within_days"]
Mark = Literal["normal", "abnormal", "borderline", "neutral", "not_examined", "blank"]
"""How one finding is marked beside its row."""
System = Literal["vision", "joint_position", "vestibular", "cerebellar", "motor"]

STANCE_WORDS: Mapping[StanceResult, str] = {
    "positive": N_("positive"),
    "negative": N_("negative"),
    "unsteady_eyes_open": N_("unsteady with eyes open"),
    "inconsistent": N_("inconsistent"),
    "not_assessable": N_("cannot be judged"),
}
VERDICT_WORDS: Mapping[Verdict, str] = {
    "supported": N_("supported"),
    "possible": N_("possible"),
    "unlikely": N_("unlikely"),
    "not_assessable": N_("cannot be judged"),
}
SYSTEM_LABELS: Mapping[System, str] = {
    "vision": N_("Vision"),
    "joint_position": N_("Joint position"),
    "vestibular": N_("Vestibular"),
    "cerebellar": N_("Cerebellum"),
    "motor": N_("Motor"),
}
SYSTEM_WORDS: Mapping[SystemState, str] = {
    "intact": N_("intact"),
    "impaired": N_("impaired"),
    "partly_tested": N_("partly tested"),
    "not_tested": N_("not tested"),
}
NO_LOSS_AT_THE_BEDSIDE = N_("no loss found at the bedside")
"""Said of the vestibular system instead of "intact"."""
URGENCY_LABELS: Mapping[Urgency, str] = {
    "immediate": N_("Now"),
    "same_day": N_("Today"),
    "within_days": N_("Within days"),
}
URGENCY_ORDER: tuple[Urgency, ...] = ("immediate", "same_day", "within_days")


@dataclass(frozen=True, kw_only=True)
class Stance:
    """The result of the stance test."""

    result: StanceResult
    because: str
    items: Paths
    """Every finding that decided it."""
    how: Literal["lost", "by_sway_alone", "stopped_for_safety", "feet_apart", "more_sway", ""] = ""
    """What kind of positive or negative it is."""


@dataclass(frozen=True, kw_only=True)
class PatternReading:
    """The verdict on one pattern, on one side where it has sides."""

    pattern: str
    side: Side | None
    verdict: Verdict
    supporting: Paths
    opposing: Paths
    missing: Paths
    because: str
    strong: bool = False
    """A strong or decisive criterion is met."""
    argued_against: bool = False
    """A decisive criterion against is met."""


@dataclass(frozen=True, kw_only=True)
class UrgentFinding:
    """A finding that must not wait, and how fast."""

    code: str
    urgency: Urgency
    items: Paths
    """Every finding whose removal would lose it."""
    message: str
    source: str


@dataclass(frozen=True, kw_only=True)
class NextTest:
    """A proposal of what to examine next."""

    item: str
    because: str


@dataclass(frozen=True, kw_only=True)
class Sentence:
    """One sentence of the paragraph and the findings it rests on."""

    text: str
    items: Paths
    urgent: bool = False
    """It repeats an urgent finding and can't be edited away."""
    brief: bool = False
    """It belongs to the short form too: urgent findings, stance test, conclusions."""


@dataclass(frozen=True, kw_only=True)
class Reading:
    """Everything the findings support, without the words."""

    stance: Stance
    systems: Mapping[System, SystemState]
    patterns: tuple[PatternReading, ...]
    urgent: tuple[UrgentFinding, ...]
    not_built: tuple[str, ...] = ()

    def pattern(self, name: str, side: Side | None = None) -> PatternReading:
        """Return the reading of one pattern; KeyError when it is not judged."""
        for found in self.patterns:
            if found.pattern == name and found.side == side:
                return found
        raise KeyError(name)

    def raised(self, code: str) -> UrgentFinding | None:
        """Return an urgent finding by its code, when it is raised."""
        return next((found for found in self.urgent if found.code == code), None)
