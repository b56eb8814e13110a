"""How criteria become a verdict: one evaluator for every pattern, on three-valued signs.

Errs towards under-calling: what is unknown counts neither for nor against, and a guard that is not known and clear
never makes another criterion of the one it guards.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache, reduce
from operator import or_
from typing import Literal

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


@dataclass(frozen=True, kw_only=True, eq=False)
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


@dataclass(frozen=True, kw_only=True, eq=False)
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


@dataclass(slots=True)
class Weighed:
    """The criteria of a pattern added up on one side, and its conditions."""

    gate: bool | None
    labels_for: list[str]
    labels_against: list[str]
    sum_for: int = 0
    sum_against: int = 0
    decisive_for: bool = False
    decisive_against: bool = False
    strong: bool = False
    """A strong or decisive criterion for it is met."""
    must: bool | None = None
    must_to_deny: bool | None = None
    supported_needs: bool | None = True
    possible_needs: bool | None = True
    possible_at_most: bool | None = None
    never_unlikely: bool | None = None
    decisive_suffices: bool = False
    supporting: int = 0
    """Findings as bits, like the next two."""
    opposing: int = 0
    missing: int = 0

    @property
    def supported(self) -> bool:
        """Everything that has to be known is, almost nothing speaks against it, and enough speaks for it."""
        if self.decisive_suffices and self.decisive_for:
            return True
        enough = self.decisive_for or (self.sum_for >= SUPPORTED_FROM and len(self.labels_for) > 1)
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


def weigh(pattern: Pattern, facts: Facts, side: Side) -> Weighed:
    """Read every criterion and condition of a pattern; behind a closed gate nothing else is read."""
    gate = pattern.gate(facts, side) if pattern.gate else _HOLDS
    weighed = Weighed(gate.met, [], [], decisive_suffices=pattern.decisive_suffices)
    if gate.met is False:
        weighed.opposing = gate.rests
        return weighed
    weighed.missing = gate.lacks
    _weigh_for(weighed, pattern.speaks_for, facts, side)
    _weigh_against(weighed, pattern.speaks_against, facts, side)
    _conditions(weighed, pattern, facts, side)
    return weighed


_HOLDS = Sign(True)


def _weigh_for(weighed: Weighed, criteria: tuple[Criterion, ...], facts: Facts, side: Side) -> None:
    for criterion in criteria:
        met, rests, lacks, clouded = criterion.sign(facts, side)
        if met:
            weighed.supporting |= rests
            weighed.sum_for += POINTS[criterion.weight]
            weighed.labels_for.append(criterion.label)
            weighed.strong = weighed.strong or criterion.weight != "weak"
            weighed.decisive_for = weighed.decisive_for or criterion.weight == "decisive"
            continue
        weighed.opposing |= clouded
        if met is None:
            weighed.missing |= lacks


def _weigh_against(weighed: Weighed, criteria: tuple[Criterion, ...], facts: Facts, side: Side) -> None:
    for criterion in criteria:
        met, rests, _lacks, _clouded = criterion.sign(facts, side)
        if met:
            weighed.opposing |= rests
            weighed.sum_against += POINTS[criterion.weight]
            weighed.labels_against.append(criterion.label)
            weighed.decisive_against = weighed.decisive_against or criterion.weight == "decisive"


def _conditions(weighed: Weighed, pattern: Pattern, facts: Facts, side: Side) -> None:
    must = pattern.must(facts, side)
    weighed.must = weighed.must_to_deny = must.met
    weighed.missing |= must.lacks
    weighed.opposing |= _normal(facts, must.rests) | (0 if must.met else must.clouds)
    if pattern.must_to_deny:
        weighed.must_to_deny = pattern.must_to_deny(facts, side).met
    if pattern.supported_needs:
        needed = pattern.supported_needs(facts, side)
        weighed.supported_needs = needed.met
        weighed.opposing |= 0 if needed.met else needed.clouds
    if pattern.possible_needs:
        needed = pattern.possible_needs(facts, side)
        weighed.possible_needs = needed.met
        weighed.opposing |= 0 if needed.met else needed.clouds
    if pattern.possible_at_most:
        cap = pattern.possible_at_most(facts, side)
        weighed.possible_at_most = cap.met
        weighed.opposing |= cap.rests if cap.met else 0
    if pattern.never_unlikely:
        weighed.never_unlikely = pattern.never_unlikely(facts, side).met


def _normal(facts: Facts, among: int) -> int:
    """Return, as bits like those given, the findings that are normal."""
    return bits(tuple([path for path in paths_of(among) if mark(facts, path) == "normal"])) if among else 0


def judge(pattern: Pattern, facts: Facts, side: Side | None) -> PatternReading:
    """Return the verdict on a pattern, on one side where it has sides, and the findings behind it."""
    weighed = weigh(pattern, facts, side or "right")
    return PatternReading(
        pattern=pattern.name,
        side=side,
        verdict=weighed.verdict,
        supporting=paths_of(weighed.supporting),
        opposing=paths_of(weighed.opposing),
        missing=paths_of(weighed.missing),
        because=_because(
            pattern.gate_label if weighed.gate is False else "",
            tuple(weighed.labels_for),
            tuple(weighed.labels_against),
            weighed.gate is None or not weighed.must,
            current(),
        ),
        strong=weighed.strong,
        argued_against=weighed.decisive_against,
    )


def verdict(pattern: Pattern, facts: Facts, side: Side | None) -> Verdict:
    """Return the verdict alone."""
    return weigh(pattern, facts, side or "right").verdict


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
