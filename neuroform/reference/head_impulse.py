"""Gain of the recorded head impulse: conflicting limits, all of them kept, one chosen by the clinic."""

from dataclasses import dataclass
from functools import cache

from neuroform.errors import TableError
from neuroform.language import N_, _
from neuroform.reference.results import About, Limit
from neuroform.reference.tables import Entry, beside, opened

DEFAULT = "common-use"
"""The limit used where the clinic has chosen none."""


@dataclass(frozen=True, kw_only=True)
class HeadImpulseGain:
    """Limits of the gain."""

    about: About
    both_sides: Limit
    """A gain below it on both sides is the criterion of loss on both sides."""
    one_side: tuple[Limit, ...]
    """A gain below is reduced; the sources conflict."""


@cache
def head_impulse_gain() -> HeadImpulseGain:
    """Return the table of gains."""
    about, table = opened("head_impulse_gain")
    both, rows = table.part("bilateral"), table.parts("one_side")
    gains = HeadImpulseGain(
        about=about, both_sides=_limit(about, both), one_side=tuple(_limit(about, row) for row in rows)
    )
    table.done()
    return gains


def gain_limits() -> tuple[Limit, ...]:
    """Return every published limit for one side, each with its name and source."""
    return head_impulse_gain().one_side


def gain_limit(name: str = DEFAULT) -> Limit:
    """Return the limit for one side of the source called `name`; raises TableError for a name there is none for."""
    limits = {limit.name: limit for limit in gain_limits()}
    if name not in limits:
        raise TableError(
            _(N_("There is no limit of the head impulse gain called {name}.")).format(name=name),
            _(N_("Choose one of {names} in the settings.")).format(names=", ".join(limits)),
        )
    return limits[name]


def bilateral_gain_limit() -> Limit:
    """Return the gain below which, on both sides, loss on both sides is met."""
    return head_impulse_gain().both_sides


def _limit(about: About, row: Entry) -> Limit:
    limit = Limit(
        value=row.number("limit"),
        unit="",
        better="high",
        about=beside(about, row),
        note=row.text("note"),
        name=row.text("name"),
    )
    row.done()
    return limit
