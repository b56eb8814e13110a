"""Joint position: how many movements named rightly are intact, and how likely guessing is."""

from dataclasses import dataclass
from functools import cache, lru_cache
from math import comb
from typing import Literal

from neuroform.reference.results import About
from neuroform.reference.tables import opened

JointPositionVerdict = Literal["intact", "impaired", "lost", "described"]


@dataclass(frozen=True, kw_only=True)
class JointPositionRule:
    """How correct answers are judged; each movement is guessed rightly one time in two."""

    about: About
    least_trials: int
    """Fewer movements are described, not judged."""
    intact_from_percent: int
    lost_to_percent: int
    chance: tuple[tuple[int, int, float], ...]
    """Correct or more, of how many, and how often guessing gives that, in per cent."""


@cache
def joint_position_rule() -> JointPositionRule:
    """Return the rule and its source."""
    about, table = opened("joint_position")
    rule, rows = table.part("rule"), table.parts("chance")
    made = JointPositionRule(
        about=about,
        least_trials=rule.whole("least_trials"),
        intact_from_percent=rule.whole("intact_from_percent"),
        lost_to_percent=rule.whole("lost_to_percent"),
        chance=tuple((row.whole("correct"), row.whole("trials"), row.number("percent")) for row in rows),
    )
    for entry in (rule, *rows, table):
        entry.done()
    return made


@lru_cache(maxsize=512)
def joint_position_verdict(correct: int, trials: int) -> JointPositionVerdict:
    """Judge `correct` answers of `trials` movements; raises ValueError unless 0 ≤ correct ≤ trials and 1 ≤ trials."""
    if not 0 <= correct <= trials or trials < 1:
        raise ValueError(f"{correct} correct of {trials}")
    rule = joint_position_rule()
    if trials < rule.least_trials:
        return "described"
    if 100 * correct >= rule.intact_from_percent * trials:
        return "intact"
    return "lost" if 100 * correct <= rule.lost_to_percent * trials else "impaired"


def intact_from(trials: int) -> int | None:
    """Return how many of `trials` have to be right to be intact; None for too few movements."""
    rule = joint_position_rule()
    return None if trials < rule.least_trials else -(-rule.intact_from_percent * trials // 100)


def chance_of_guessing(correct: int, trials: int) -> float:
    """Return the probability of `correct` or more right answers in `trials` by guessing up or down."""
    return float(sum(comb(trials, right) for right in range(correct, trials + 1)) / 2**trials)
