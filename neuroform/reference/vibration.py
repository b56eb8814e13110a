"""Vibration sense: the limit for age of the graduated fork, and verdicts by each method, none turned into another.

Errs towards "described": a site, an age or a method without a published limit is judged by none.
"""

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal

from neuroform.language import N_
from neuroform.reference.results import ADULT, About, Band, Limit, Refusal, outside
from neuroform.reference.tables import band, beside, in_order, opened

Method = Literal["graduated_fork", "seconds", "words"]
VibrationVerdict = Literal["normal", "borderline", "weak", "lost", "described"]

SITES = {
    "great_toe": N_("great toe"),
    "medial_malleolus": N_("inner ankle"),
    "tibial_tuberosity": N_("shin below the knee"),
    "iliac_spine": N_("front of the hip bone"),
    "finger": N_("finger"),
}


@dataclass(frozen=True, kw_only=True)
class GraduatedFork:
    """Lower limits of the 0 to 8 fork."""

    about: About
    step: float
    """One step of the scale; a reading that far below its limit is borderline."""
    highest: float
    arm_sites: tuple[str, ...]
    leg_sites: tuple[str, ...]
    bands: tuple[tuple[Band, float, float], ...]
    """Ages, limit for the arm, limit for the leg."""


@dataclass(frozen=True, kw_only=True)
class TimedFork:
    """How the seconds of a 128 Hz fork are read."""

    about: About
    reduced_below: float
    """Seconds; fewer are reduced."""
    normal_from: float
    """Seconds; as many are normal."""
    oldest: int
    """Over this age in years seconds are described, unless nothing was felt."""
    sites: tuple[str, ...]
    published: tuple[tuple[str, About], ...]
    """Other rules in print, each with its source; they conflict."""


@dataclass(frozen=True, kw_only=True)
class VibrationWords:
    """How far the words reduced and absent count by age."""

    about: About
    weak_from: int
    """From this age in years "reduced" weighs little."""
    found: tuple[tuple[str, int], ...]
    """What is found in healthy people of that age, and in how many per cent."""


@cache
def graduated_fork() -> GraduatedFork:
    """Return the table of the graduated fork."""
    about, table = opened("graduated_fork")
    rule, rows = table.part("rule"), table.parts("bands")
    bands = tuple((band(row), row.number("arm"), row.number("leg")) for row in rows)
    in_order(rows, tuple(ages for ages, _arm, _leg in bands))
    fork = GraduatedFork(
        about=about,
        step=rule.number("step"),
        highest=rule.number("highest"),
        arm_sites=rule.texts("arm_sites"),
        leg_sites=rule.texts("leg_sites"),
        bands=bands,
    )
    for entry in (rule, *rows, table):
        entry.done()
    return fork


@cache
def timed_fork() -> TimedFork:
    """Return how the seconds of a 128 Hz fork are read, and what else is published."""
    about, table = opened("timed_fork")
    rule, rows = table.part("rule"), table.parts("published")
    fork = TimedFork(
        about=about,
        reduced_below=rule.number("reduced_below"),
        normal_from=rule.number("normal_from"),
        oldest=rule.whole("oldest"),
        sites=rule.texts("sites"),
        published=tuple((row.text("rule"), beside(about, row)) for row in rows),
    )
    for entry in (rule, *rows, table):
        entry.done()
    return fork


@cache
def vibration_words() -> VibrationWords:
    """Return how far reduced and absent vibration count by age."""
    about, table = opened("vibration_words")
    rule, rows = table.part("rule"), table.parts("found")
    words = VibrationWords(
        about=about,
        weak_from=rule.whole("weak_from"),
        found=tuple((row.text("what"), row.whole("percent")) for row in rows),
    )
    for entry in (rule, *rows, table):
        entry.done()
    return words


@lru_cache(maxsize=1024)
def vibration_limit(site: str, age: int, *, method: Method) -> Limit | Refusal:
    """Return the lower limit of normal at a site (a name of the exam file) and age in years, or why there is none."""
    if method != "graduated_fork":
        return _OTHER_METHOD[method]
    fork = graduated_fork()
    if site not in fork.arm_sites and site not in fork.leg_sites:
        return Refusal(
            words=N_("No limit of the graduated fork is published for this site: {site}."),
            fields=(("site", SITES.get(site, site)),),
        )
    for ages, arm, leg in fork.bands:
        if ages.holds(age):
            value = arm if site in fork.arm_sites else leg
            return Limit(value=value, unit="", better="high", about=fork.about, band=ages)
    return outside(age, fork.bands[0][0].low, fork.bands[-1][0].high)


def fork_verdict(site: str, reading: float, age: int) -> VibrationVerdict:
    """Judge a reading (0 to 8) of the graduated fork at a site and age in years; without a limit it is described."""
    limit = vibration_limit(site, age, method="graduated_fork")
    if isinstance(limit, Refusal):
        return "described"
    if reading >= limit.value:
        return "normal"
    return "borderline" if reading >= limit.value - graduated_fork().step else "lost"


def seconds_verdict(seconds: float, age: int) -> VibrationVerdict:
    """Judge the seconds of a 128 Hz fork at the great toe and age in years; 0 is not felt at all."""
    fork = timed_fork()
    if age < ADULT:
        return "described"
    if seconds == 0:
        return "lost"
    if age > fork.oldest:
        return "described"
    if seconds < fork.reduced_below:
        return "lost"
    return "normal" if seconds >= fork.normal_from else "described"


def word_verdict(word: Literal["normal", "reduced", "absent"], age: int) -> VibrationVerdict:
    """Judge the examiner's own word at an age in years."""
    if word == "normal":
        return "normal"
    return "weak" if word == "reduced" and age >= vibration_words().weak_from else "lost"


_OTHER_METHOD: dict[Method, Refusal] = {
    "seconds": Refusal(words=N_("No single limit for the seconds of a fork is accepted; they are read by bands.")),
    "words": Refusal(words=N_("Vibration was judged in words; a limit for age holds for the graduated fork alone.")),
}
