"""Readings with their verdicts set by hand, for what the paragraph makes of them."""

from collections.abc import Mapping
from typing import Any, cast

from neuroform.reasoning.conclusions_text import support_text
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.patterns import PATTERNS
from neuroform.reasoning.results import PatternReading, Reading, Stance, UrgentFinding, Verdict

FOR, AGAINST, LACKING = "reflexes.knee.right", "reflexes.ankle.right", "coordination.speech"
TOE_RIGHT = "sensation.joint_position.great_toe.right"
SOMETHING: dict[str, Any] = {"walking.base": "wide"}
Set = Mapping[str, Verdict]


def one(pattern: str, side: Any, verdict: Verdict, **more: Any) -> PatternReading:
    told: dict[str, Any] = {"supporting": (FOR,), "opposing": (AGAINST,), "missing": (LACKING,), "because": ""}
    return PatternReading(pattern=pattern, side=side, verdict=verdict, **(told | more))


def reading(
    verdicts: Set | None = None, urgent: Mapping[str, str] | None = None, more: Mapping[str, Any] | None = None
) -> Reading:
    """Make a reading: "unlikely" where nothing is set; a pattern with sides is set by "name:right" or by its name."""
    wanted = dict(verdicts or {})
    patterns = [
        one(
            pattern.name,
            side,
            wanted.get(f"{pattern.name}:{side}", wanted.get(pattern.name, "unlikely")),
            **(more or {}).get(pattern.name, {}),
        )
        for pattern in PATTERNS
        for side in pattern.sides
    ]
    normal = one("no_abnormality", None, wanted.get("no_abnormality", "unlikely"))
    return Reading(
        stance=Stance(result="not_assessable", because="", items=()),
        systems={},
        patterns=(*patterns, normal),
        urgent=tuple(
            UrgentFinding(code=code, urgency=cast(Any, how), items=(FOR, LACKING), message="", source="")
            for code, how in (urgent or {}).items()
        ),
    )


def said(made: Any, read: Reading, found: Mapping[str, Any] | None = None) -> list[tuple[int, str]]:
    facts = Facts(made(SOMETHING if found is None else found))
    return [(each.weight, each.text) for each in support_text(facts, read)]
