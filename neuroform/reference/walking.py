"""Walking: comfortable speed, timed up and go, and heel-to-toe steps by age."""

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal

from neuroform.language import N_
from neuroform.reference.results import About, Band, Limit, PublishedMean, Refusal, outside
from neuroform.reference.tables import band, beside, in_order, opened

Sex = Literal["female", "male", "other", "unknown"]
"""Administrative, as in the exam file."""


@dataclass(frozen=True, kw_only=True)
class WalkingSpeed:
    """Mean comfortable speed in metres a second."""

    about: About
    bands: tuple[tuple[Band, dict[Sex, float]], ...]


@dataclass(frozen=True, kw_only=True)
class UpAndGo:
    """Seconds of the timed up and go."""

    about: About
    bands: tuple[tuple[Band, float, float, float], ...]
    """Ages, mean, lower and upper end of its confidence interval."""
    falls: Limit


@dataclass(frozen=True, kw_only=True)
class TandemSteps:
    """Correct heel-to-toe steps in a row, of ten."""

    about: About
    bands: tuple[tuple[Band, int | None, int], ...]
    """Ages, normal from (None: no number is abnormal), lost up to."""


@cache
def walking_speed() -> WalkingSpeed:
    """Return the table of comfortable walking speed."""
    about, table = opened("walking_speed")
    rows = table.parts("bands")
    bands: tuple[tuple[Band, dict[Sex, float]], ...] = tuple(
        (band(row), {"female": row.number("female"), "male": row.number("male")}) for row in rows
    )
    in_order(rows, tuple(ages for ages, _means in bands))
    for entry in (*rows, table):
        entry.done()
    return WalkingSpeed(about=about, bands=bands)


@lru_cache(maxsize=512)
def walking_speed_mean(age: int, sex: Sex) -> PublishedMean | Refusal:
    """Return the published mean comfortable speed, metres a second, at an age in years, or why there is none."""
    table = walking_speed()
    for ages, means in table.bands:
        if ages.holds(age):
            if sex not in means:
                return _NEITHER
            return PublishedMean(value=means[sex], unit="m/s", about=table.about, band=ages, mark=table.about.mark)
    return outside(age, table.bands[0][0].low, table.bands[-1][0].high)


@cache
def up_and_go() -> UpAndGo:
    """Return the table of the timed up and go."""
    about, table = opened("timed_up_and_go")
    rows, falls = table.parts("bands"), table.part("falls")
    bands = tuple((band(row), row.number("mean"), row.number("low"), row.number("high")) for row in rows)
    in_order(rows, tuple(ages for ages, *_numbers in bands))
    limit = Limit(
        value=falls.number("seconds"),
        unit="s",
        better="low",
        about=beside(about, falls),
        band=Band(low=falls.whole("from"), high=None),
        note=falls.text("note"),
    )
    for entry in (*rows, falls, table):
        entry.done()
    return UpAndGo(about=about, bands=bands, falls=limit)


@lru_cache(maxsize=512)
def up_and_go_limit(age: int) -> Limit | Refusal:
    """Return the seconds above which an age in years does worse than average, or why there is no such number."""
    table = up_and_go()
    for ages, _mean, _low, high in table.bands:
        if ages.holds(age):
            return Limit(value=high, unit="s", better="low", about=table.about, band=ages)
    return outside(age, table.bands[0][0].low, table.bands[-1][0].high)


def up_and_go_falls() -> Limit:
    """Return the seconds from which fallers were told from others at 60 and over; a faster time is no low risk."""
    return up_and_go().falls


@cache
def tandem_steps() -> TandemSteps:
    """Return how heel-to-toe steps are read."""
    about, table = opened("tandem_steps")
    rows = table.parts("bands")
    bands = tuple(
        (band(row), row.whole("normal_from") if row.has("normal_from") else None, row.whole("lost_to")) for row in rows
    )
    in_order(rows, tuple(ages for ages, *_numbers in bands))
    for entry in (*rows, table):
        entry.done()
    return TandemSteps(about=about, bands=bands)


@lru_cache(maxsize=512)
def tandem_limit(age: int) -> Limit | Refusal:
    """Return the correct steps of ten that are normal at an age in years, or why no number is asked for."""
    table = tandem_steps()
    for ages, normal_from, _lost_to in table.bands:
        if ages.holds(age):
            if normal_from is None:
                return Refusal(
                    words=N_("From {age} years no number of steps is abnormal."), fields=(("age", ages.low),)
                )
            return Limit(value=normal_from, unit="", better="high", about=table.about, band=ages)
    return outside(age, table.bands[0][0].low, table.bands[-1][0].high)


@lru_cache(maxsize=512)
def tandem_lost_to(age: int) -> int | Refusal:
    """Return up to how many correct steps of ten heel-to-toe walking counts as lost at an age in years."""
    table = tandem_steps()
    for ages, _normal_from, lost_to in table.bands:
        if ages.holds(age):
            return lost_to
    return outside(age, table.bands[0][0].low, table.bands[-1][0].high)


_NEITHER = Refusal(words=N_("The published means are for women and for men; neither is recorded."))
