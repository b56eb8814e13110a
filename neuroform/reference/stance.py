"""Standing: how long healthy people stand with feet together and on one leg."""

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal

from neuroform.language import N_
from neuroform.reference.results import About, Band, Limit, Mark, PublishedMean, Refusal, outside
from neuroform.reference.tables import Entry, band, beside, in_order, opened

Eyes = Literal["open", "closed"]
Of = Literal["best", "mean"]
Who = Literal["all", "female", "male"]
Column = Literal["open_best", "open_mean", "closed_best", "closed_mean"]

_COLUMNS: tuple[Column, ...] = ("open_best", "open_mean", "closed_best", "closed_mean")
_COLUMN: dict[tuple[Eyes, Of], Column] = {
    ("open", "best"): "open_best",
    ("open", "mean"): "open_mean",
    ("closed", "best"): "closed_best",
    ("closed", "mean"): "closed_mean",
}
_NOTES: dict[Of, str] = {
    "best": N_("Best of three trials of at most 45 s; published mean for age."),
    "mean": N_("Mean of three trials of at most 45 s; published mean for age."),
}


@dataclass(frozen=True, kw_only=True)
class Group:
    """Mean seconds on one leg of people of one age and sex."""

    n: int
    seconds: dict[Column, float]
    quoted: tuple[str, ...]
    """Columns found in a page that quotes the paper; the others are from memory."""


@dataclass(frozen=True, kw_only=True)
class SingleLegStance:
    """Mean seconds on one leg by age."""

    about: About
    bands: tuple[tuple[Band, dict[Who, Group]], ...]
    fall_risk: Limit


@cache
def single_leg_stance() -> SingleLegStance:
    """Return the table of standing on one leg."""
    about, table = opened("single_leg_stance")
    rows, risk = table.parts("bands"), table.part("fall_risk")
    bands = tuple((band(row), _groups(row)) for row in rows)
    in_order(rows, tuple(ages for ages, _groups_of_age in bands))
    fall_risk = Limit(
        value=risk.number("seconds"), unit="s", better="high", about=beside(about, risk), note=risk.text("note")
    )
    for entry in (*rows, risk, table):
        entry.done()
    return SingleLegStance(about=about, bands=bands, fall_risk=fall_risk)


@lru_cache(maxsize=512)
def single_leg_mean(age: int, eyes: Eyes, of: Of = "best") -> PublishedMean | Refusal:
    """Return the published mean seconds on one leg at an age in years, or why there is none.

    Women and men have the same: no effect of sex was found. Never make a distance from it: the times end at 45 s.
    """
    table = single_leg_stance()
    column = _COLUMN[eyes, of]
    for ages, groups in table.bands:
        if ages.holds(age):
            group = groups["all"]
            mark: Mark = "quoted" if column in group.quoted else table.about.mark
            seconds = group.seconds[column]
            return PublishedMean(value=seconds, unit="s", about=table.about, band=ages, mark=mark, note=_NOTES[of])
    return outside(age, table.bands[0][0].low, table.bands[-1][0].high)


def single_leg_fall_risk() -> Limit:
    """Return the seconds on one leg, eyes open, below which injurious falls were more frequent in old people."""
    return single_leg_stance().fall_risk


@cache
def stance_trial() -> Limit:
    """Return the seconds healthy people stand with feet together on firm ground, eyes open or closed."""
    about, table = opened("feet_together_stance")
    rule = table.part("rule")
    limit = Limit(value=rule.number("seconds"), unit="s", better="high", about=about, band=band(rule))
    for entry in (rule, table):
        entry.done()
    return limit


def stance_limit(age: int) -> Limit | Refusal:
    """Return the same for an age in years, or why there is none; it holds for feet together on firm ground alone."""
    limit = stance_trial()
    ages = limit.band
    return limit if ages is None or ages.holds(age) else outside(age, ages.low, ages.high)


def _groups(row: Entry) -> dict[Who, Group]:
    return {who: _group(row.part(who)) for who in _WHO}


_WHO: tuple[Who, ...] = ("all", "female", "male")


def _group(entry: Entry) -> Group:
    quoted = entry.texts("quoted")
    group = Group(
        n=entry.whole("n"),
        seconds={column: entry.number(column) for column in _COLUMNS},
        quoted=quoted,
    )
    if not set(quoted) <= set(_COLUMNS):
        raise entry.wrong("quoted", list(quoted))
    entry.done()
    return group
