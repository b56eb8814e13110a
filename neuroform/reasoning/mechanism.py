"""How criteria become a verdict: one evaluator for every pattern, on three-valued signs.

Errs towards under-calling: what is unknown counts neither for nor against, and a guard that is not known and clear
never makes another criterion of the one it guards.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache, reduce
from operator import or_
from typing import Literal, NamedTuple

from neuroform.exam.walk import SIDES, Side
from neuroform.language import N_, _, current
from neuroform.reasoning.facts import Facts, SideSign, Sign, WholeSign, bits, paths_of
from neuroform.reasoning.marks import mark
from neuroform.reasoning.results import Paths, PatternReading, Verdict
from neuroform.reasoning.sign_makers import of_person

Weight = Literal["decisive", "strong", "weak"]

DECISIVE = 4
"""What a decisive criterion counts among those that speak for a pattern."""
STRONG = 2
WEAK = 1
SUPPORTED_FROM = 4
"""Sum of the criteria met that supports a pattern, from at least two of them."""
SUPPORTED_AGAINST = 1
"""The most that may speak against a supported pattern."""
POINTS: dict[Weight, int] = {"decisive": DECISIVE, "strong": STRONG, "weak": WEAK}


@dataclass(frozen=True, kw_only=True)
class Criterion:
    """One line of a pattern's table: what is looked for, how heavily it weighs, and the sign that tells."""

    label: str
    weight: Weight
    sign: SideSign
    source: str = N_("common practice")


def _reads(sign: WholeSign | None, on_side: SideSign | None) -> SideSign:
    if on_side is not None:
        return on_side
    if sign is None:
        raise ValueError("a criterion needs a sign")
    return of_person(sign)


def decisive(
    label: str, sign: WholeSign | None = None, *, on_side: SideSign | None = None, source: str = ""
) -> Criterion:
    """Declare a decisive criterion by a sign of the whole person, or of the side judged."""
    return _criterion(label, "decisive", _reads(sign, on_side), source)


def strong(
    label: str, sign: WholeSign | None = None, *, on_side: SideSign | None = None, source: str = ""
) -> Criterion:
    """Declare a strong criterion by a sign of the whole person, or of the side judged."""
    return _criterion(label, "strong", _reads(sign, on_side), source)


def weak(label: str, sign: WholeSign | None = None, *, on_side: SideSign | None = None, source: str = "") -> Criterion:
    """Declare a weak criterion by a sign of the whole person, or of the side judged."""
    return _criterion(label, "weak", _reads(sign, on_side), source)


def _criterion(label: str, weight: Weight, sign: SideSign, source: str) -> Criterion:
    return Criterion(label=label, weight=weight, sign=sign, source=source or Criterion.source)


@dataclass(frozen=True, kw_only=True)
class Pattern:
    """One pattern: its criteria and what else a verdict asks for; conditions answer met, not met or unknown."""

    name: str
    label: str
    speaks_for: tuple[Criterion, ...]
    speaks_against: tuple[Criterion, ...]
    must: SideSign
    """Met when everything that has to be known is known."""
    sided: bool = False
    gate: SideSign | None = None
    """Without it the pattern is not thought of."""
    gate_label: str = ""
    must_to_deny: SideSign | None = None
    """What has to be known before it is called unlikely, where that is another thing than `must`."""
    supported_needs: SideSign | None = None
    possible_needs: SideSign | None = None
    """What even `possible` needs; `supported` needs it too."""
    possible_at_most: SideSign | None = None
    """While met, the pattern is never supported."""
    never_unlikely: SideSign | None = None
    """While met, want of evidence leaves the pattern not assessable."""
    decisive_suffices: bool = False
    """A decisive criterion supports it whatever is missing or speaks against."""
    asked_for: WholeSign | None = None
    """While met, the complaint asks for it even when nothing found speaks for it yet."""
    advice: str = ""
    """What to think of, where the pattern alone would mislead."""

    @property
    def sides(self) -> tuple[Side | None, ...]:
        """The sides it is judged on."""
        return SIDES if self.sided else (None,)


class Weighed(NamedTuple):
    """The criteria of a pattern that are met, what they add up to, and its conditions."""

    met_for: tuple[Criterion, ...]
    met_against: tuple[Criterion, ...]
    sum_for: int
    sum_against: int
    decisive_for: bool
    decisive_against: bool
    strong: bool
    """A strong or decisive criterion for it is met."""
    gate: bool | None
    must: bool | None
    must_to_deny: bool | None
    supported_needs: bool | None
    possible_needs: bool | None
    possible_at_most: bool | None
    never_unlikely: bool | None
    decisive_suffices: bool

    @property
    def supported(self) -> bool:
        """Everything that has to be known is, almost nothing speaks against it, and enough speaks for it."""
        if self.decisive_suffices and self.decisive_for:
            return True
        enough = self.decisive_for or (self.sum_for >= SUPPORTED_FROM and len(self.met_for) > 1)
        conditions = self.must and self.supported_needs and self.possible_needs and not self.possible_at_most
        return bool(conditions and enough and self.sum_against <= SUPPORTED_AGAINST)

    @property
    def possible(self) -> bool:
        """Something strong speaks for it, and more than speaks against it."""
        return bool(self.strong and self.possible_needs and self.sum_for > self.sum_against)

    @property
    def verdict(self) -> Verdict:
        """The first of these that holds."""
        if self.gate is not True:
            return "not_assessable" if self.gate is None else "unlikely"
        if self.decisive_against:
            return "unlikely"
        if self.supported:
            return "supported"
        if self.possible:
            return "possible"
        return "unlikely" if self.must_to_deny and not self.never_unlikely else "not_assessable"


class Answered(NamedTuple):
    """Every criterion and condition of a pattern, read on one side."""

    speaks_for: tuple[Sign, ...]
    speaks_against: tuple[Sign, ...]
    gate: Sign
    must: Sign
    must_to_deny: Sign
    supported_needs: Sign
    possible_needs: Sign
    possible_at_most: Sign
    never_unlikely: Sign


_HOLDS = Sign(True)
_NEVER = Sign(False)


def answer(pattern: Pattern, facts: Facts, side: Side) -> Answered:
    """Read every criterion and condition of a pattern; behind a closed gate nothing is read."""
    gate = pattern.gate(facts, side) if pattern.gate else _HOLDS
    if gate.met is False:
        return Answered((), (), gate, *([_NEVER] * 6))

    def asked(condition: SideSign | None, otherwise: Sign) -> Sign:
        return condition(facts, side) if condition else otherwise

    must = pattern.must(facts, side)
    return Answered(
        tuple([criterion.sign(facts, side) for criterion in pattern.speaks_for]),
        tuple([criterion.sign(facts, side) for criterion in pattern.speaks_against]),
        gate,
        must,
        asked(pattern.must_to_deny, must),
        asked(pattern.supported_needs, _HOLDS),
        asked(pattern.possible_needs, _HOLDS),
        asked(pattern.possible_at_most, _NEVER),
        asked(pattern.never_unlikely, _NEVER),
    )


def weigh(pattern: Pattern, read: Answered) -> Weighed:
    """Add up the criteria that are met."""
    met_for = tuple([c for c, sign in zip(pattern.speaks_for, read.speaks_for, strict=False) if sign.met])
    met_against = tuple([c for c, sign in zip(pattern.speaks_against, read.speaks_against, strict=False) if sign.met])
    weights = [criterion.weight for criterion in met_for]
    return Weighed(
        met_for,
        met_against,
        sum([POINTS[weight] for weight in weights]),
        sum([POINTS[criterion.weight] for criterion in met_against]),
        "decisive" in weights,
        any(criterion.weight == "decisive" for criterion in met_against),
        weights.count("weak") < len(weights),
        read.gate.met,
        read.must.met,
        read.must_to_deny.met,
        read.supported_needs.met,
        read.possible_needs.met,
        read.possible_at_most.met,
        read.never_unlikely.met,
        pattern.decisive_suffices,
    )


def judge(pattern: Pattern, facts: Facts, side: Side | None) -> PatternReading:
    """Return the verdict on a pattern, on one side where it has sides, and the findings behind it."""
    read = answer(pattern, facts, side or "right")
    weighed = weigh(pattern, read)
    supporting = missing = 0
    for met, rests, lacking, _clouded in read.speaks_for:
        if met:
            supporting |= rests
        elif met is None:
            missing |= lacking
    return PatternReading(
        pattern=pattern.name,
        side=side,
        verdict=weighed.verdict,
        supporting=paths_of(supporting),
        opposing=paths_of(_opposing(facts, read)),
        missing=paths_of(missing | _missing(read)),
        because=_because(
            pattern.gate_label if weighed.gate is False else "",
            tuple([criterion.label for criterion in weighed.met_for]),
            tuple([criterion.label for criterion in weighed.met_against]),
            weighed.gate is None or not weighed.must,
            current(),
        ),
        strong=weighed.strong,
        argued_against=weighed.decisive_against,
    )


def verdict(pattern: Pattern, facts: Facts, side: Side | None) -> Verdict:
    """Return the verdict alone."""
    return weigh(pattern, answer(pattern, facts, side or "right")).verdict


def _opposing(facts: Facts, read: Answered) -> int:
    """Return, as bits, what keeps the verdict down: taking any other finding away can't raise it."""
    if read.gate.met is False:
        return read.gate.rests
    found = read.must.rests & _normal(facts)
    for met, rests, _missing, _clouded in read.speaks_against:
        if met:
            found |= rests
    for met, _rests, _missing, clouded in (*read.speaks_for, read.must, read.supported_needs, read.possible_needs):
        if not met:
            found |= clouded
    return found | read.possible_at_most.rests if read.possible_at_most.met else found


def _normal(facts: Facts) -> int:
    """Return, as bits, every finding that is normal."""
    return facts.once(_normal, lambda: bits(tuple([path for path in facts.found if mark(facts, path) == "normal"])))


def _missing(read: Answered) -> int:
    return 0 if read.gate.met is False else read.gate.lacks | read.must.lacks


@lru_cache(maxsize=4096)
def _because(
    gate_label: str, met_for: tuple[str, ...], met_against: tuple[str, ...], partly: bool, _language: str
) -> str:
    """Say in one line what the verdict rests on; with `gate_label`, that the gate is closed."""
    if gate_label:
        return _(N_("Only asked about in {gate}: that is not so here.")).format(gate=_(gate_label))
    said = []
    if met_for:
        said.append(_(N_("For it: {labels}.")).format(labels="; ".join(map(_, met_for))))
    if met_against:
        said.append(_(N_("Against it: {labels}.")).format(labels="; ".join(map(_, met_against))))
    if partly:
        said.append(_(N_("Not everything it rests on was examined.")))
    return " ".join(said) or _(N_("Nothing recorded speaks for it."))


def in_bedside_order(parts: Iterable[Paths]) -> Paths:
    """Join paths, each once, in the order of the examination."""
    return paths_of(reduce(or_, map(bits, parts), 0))
