"""What a look-up gives: a limit, a published mean, or a refusal that says why."""

from dataclasses import dataclass
from typing import Literal, get_args

from neuroform.language import N_, _

Mark = Literal["read", "quoted", "from memory", "common practice", "arithmetic"]
"""How a number is known: read in its source, in a page that quotes it, or remembered; or no paper stands behind it."""
MARKS: tuple[Mark, ...] = get_args(Mark)

ADULT = 18
"""No limit is used below this age in years."""


@dataclass(frozen=True, kw_only=True)
class Band:
    """Ages a number holds for, both ends included."""

    low: int
    high: int | None
    """None: no upper end."""

    def holds(self, age: int) -> bool:
        """Tell whether an age in years lies in the band."""
        return age >= self.low and (self.high is None or age <= self.high)

    @property
    def words(self) -> str:
        """The band as words."""
        if self.high is None:
            return _(N_("{low} years and over")).format(low=self.low)
        return _(N_("{low} to {high} years")).format(low=self.low, high=self.high)


@dataclass(frozen=True, kw_only=True)
class About:
    """What stands at the head of a table, or beside one number whose source is another."""

    title: str
    source: str
    edition: str
    licence: str
    mark: Mark
    method: str
    population: str
    notes: tuple[str, ...]

    @property
    def unverified(self) -> bool:
        """Whether the numbers come from memory and still have to be checked."""
        return self.mark == "from memory"


@dataclass(frozen=True, kw_only=True)
class Limit:
    """One published limit of normal, with everything that has to stand beside it."""

    value: float
    unit: str
    """UCUM code, empty for a bare number."""
    better: Literal["high", "low"]
    """A value at the limit is normal; so is one on this side of it."""
    about: About
    band: Band | None = None
    """Ages it holds for; None: all adults."""
    note: str = ""
    """What else holds for this very number."""
    name: str = ""
    """By which a clinic chooses it, where several sources stand."""

    @property
    def source(self) -> str:
        """Where the number was published."""
        return self.about.source

    @property
    def mark(self) -> Mark:
        """How the number is known."""
        return self.about.mark

    @property
    def method(self) -> str:
        """The only way of measuring it holds for."""
        return self.about.method

    @property
    def population(self) -> str:
        """The people it was found in."""
        return self.about.population

    @property
    def unverified(self) -> bool:
        """Whether the number comes from memory and still has to be checked."""
        return self.about.unverified

    def normal(self, value: float) -> bool:
        """Tell whether `value`, in the limit's unit, is at the limit or on its better side."""
        return value >= self.value if self.better == "high" else value <= self.value


@dataclass(frozen=True, kw_only=True)
class PublishedMean:
    """A mean that healthy people of an age reached: shown beside a value, and no verdict made of it."""

    value: float
    unit: str
    about: About
    band: Band
    mark: Mark
    """Of this number; the rest of its table may be known otherwise."""
    note: str = ""

    @property
    def source(self) -> str:
        """Where the number was published."""
        return self.about.source

    @property
    def unverified(self) -> bool:
        """Whether the number comes from memory and still has to be checked."""
        return self.mark == "from memory"


@dataclass(frozen=True, kw_only=True)
class Refusal:
    """Why a table gives no number."""

    words: str
    """Marked for translation, with named fields."""
    fields: tuple[tuple[str, int | str], ...] = ()

    @property
    def why(self) -> str:
        """The reason in a sentence, in the language in use."""
        shown = {name: _(value) if isinstance(value, str) else value for name, value in self.fields}
        return _(self.words).format(**shown)

    def __str__(self) -> str:
        """Write the reason."""
        return self.why


CHILD = Refusal(words=N_("No limit is used under {age} years."), fields=(("age", ADULT),))


def outside(age: int, lowest: int, highest: int | None) -> Refusal:
    """Refuse an age outside a table from `lowest` to `highest` years."""
    if age < ADULT:
        return CHILD
    if age < lowest:
        return Refusal(words=N_("The published table begins at {age} years."), fields=(("age", lowest),))
    return Refusal(words=N_("The published table ends at {age} years."), fields=(("age", highest or 0),))
