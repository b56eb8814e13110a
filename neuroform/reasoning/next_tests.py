"""What to examine next: the items whose answers would move the patterns still standing the most.

Errs towards silence: an item that is unsafe, impossible or answered by a reason is never proposed.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from neuroform.exam.examination import Examination
from neuroform.exam.walk import entry, position
from neuroform.language import N_, _, within
from neuroform.protocols.safety import HEAD_MOVED, impossible, not_advised
from neuroform.reasoning.answers_supposed import supposed, together
from neuroform.reasoning.facts import Facts, bits
from neuroform.reasoning.following import Following
from neuroform.reasoning.items import CAUTIONS
from neuroform.reasoning.mechanism import Pattern, verdict
from neuroform.reasoning.patterns import PATTERNS
from neuroform.reasoning.results import NextTest, PatternReading, Reading, Verdict

AT_MOST = 3
TRIED_AT_MOST = 10
"""Items whose answers are tried: those that most of the standing patterns read."""
_NEEDS_EQUIPMENT = ("head_and_eyes.head_impulse_gain",)
_RANK: Mapping[Verdict, int] = {"unlikely": 0, "not_assessable": 1, "possible": 2, "supported": 3}
_BY_NAME = {pattern.name: pattern for pattern in PATTERNS}


class Standing(NamedTuple):
    """A pattern that is still standing, and everything its verdict was read from."""

    reading: PatternReading
    pattern: Pattern
    read: int
    """As bits."""


class Candidate(NamedTuple):
    """An item that may be examined, and the standing patterns that read it."""

    item: str
    paths: tuple[str, ...]
    affected: tuple[Standing, ...]


class Tried(NamedTuple):
    """A candidate, and every different result of its answers: how far each affected pattern moves up or down."""

    item: str
    affected: tuple[Standing, ...]
    outcomes: frozenset[tuple[int, ...]]

    def score(self, settled: Mapping[str, int]) -> float:
        """How far one result moves the patterns on average; what earlier proposals settle counts half each time."""
        weights = [0.5 ** settled.get(one.pattern.name, 0) for one in self.affected]
        moved = sum(
            abs(move) * weight for outcome in self.outcomes for weight, move in zip(weights, outcome, strict=True)
        )
        return moved / max(len(self.outcomes), 1)

    def moves(self, at: int) -> int:
        """How far a pattern is moved at most."""
        return max(abs(outcome[at]) for outcome in self.outcomes)


def propose(exam: Examination, reading: Reading, *, excluded: frozenset[str] | None = None) -> tuple[NextTest, ...]:
    """Return at most three items to examine next, the most telling first.

    `excluded` names items or whole paths that are unsafe or impossible; by default it comes from the examination.
    """
    facts = Following(exam)
    banned = _unsafe(exam, reading) if excluded is None else excluded
    standing = tuple(_standing(facts, reading))
    wanted = dict.fromkeys(path for one in standing for path in one.reading.missing)
    candidates = [_candidate(facts, standing, item, banned) for item in dict.fromkeys(_items(facts, wanted, banned))]
    candidates.sort(key=lambda one: (-len(one.affected), _place(one.item)))
    return tuple(_proposed(facts, [_tried(facts, one) for one in candidates[:TRIED_AT_MOST]]))


def _place(item: str) -> int:
    return position(entry(item).path)


def _unsafe(exam: Examination, reading: Reading) -> frozenset[str]:
    neck = reading.raised("possible-unstable-neck") is not None
    return frozenset((*not_advised(exam, neck_raised=neck), *impossible(exam)))


def _standing(facts: Following, reading: Reading) -> Iterator[Standing]:
    """Yield what is supported, possible, or open while something speaks for it or the complaint asks for it."""
    for one in reading.patterns:
        pattern = _BY_NAME.get(one.pattern)
        if pattern and _stands(facts, pattern, one):
            with facts.watched() as read:
                verdict(pattern, facts, one.side)
            yield Standing(one, pattern, read[0])


def _stands(facts: Facts, pattern: Pattern, one: PatternReading) -> bool:
    if one.verdict != "not_assessable":
        return one.verdict != "unlikely"
    return bool(one.supporting or (pattern.asked_for and pattern.asked_for(facts).met))


def _may(facts: Facts, path: str, banned: frozenset[str]) -> bool:
    """Tell whether an item is blank, has an answer of its own, and nothing speaks against asking for it."""
    at = entry(path)
    asked = not at.plain and at.kind != "text"
    asked = asked and at.path not in _NEEDS_EQUIPMENT
    return asked and path not in facts.found and path not in banned and at.path not in banned


def _items(facts: Facts, wanted: Iterable[str], banned: frozenset[str]) -> Iterator[str]:
    """Yield what to ask for: an item without its side where both sides are open, the first part of a trial."""
    for path in wanted:
        parts = [part for part in together(path) if _may(facts, part, banned)]
        if path in parts:
            first = entry(parts[0])
            yield first.path if all(_may(facts, whole, banned) for whole in first.paths) else parts[0]


def _candidate(facts: Facts, standing: Sequence[Standing], item: str, banned: frozenset[str]) -> Candidate:
    at = entry(item)
    whole = at.paths if item == at.path else (item,)
    paths = tuple(path for one in whole for path in together(one) if _may(facts, path, banned))
    looked_at = bits(paths)
    return Candidate(item, paths, tuple(one for one in standing if one.read & looked_at))


def _tried(facts: Following, candidate: Candidate) -> Tried:
    worlds = facts.supposing(candidate.paths, supposed(candidate.paths))
    outcomes = (_outcome(candidate.affected, world) for world in worlds)
    return Tried(candidate.item, candidate.affected, frozenset(outcomes))


def _outcome(affected: Sequence[Standing], facts: Facts) -> tuple[int, ...]:
    verdicts = [verdict(one.pattern, facts, one.reading.side) for one in affected]
    return tuple([_RANK[new] - _RANK[one.reading.verdict] for new, one in zip(verdicts, affected, strict=True)])


def _proposed(facts: Facts, tried: list[Tried]) -> Iterator[NextTest]:
    """Yield the most telling again and again, with what it settles counting less each time."""
    settled: dict[str, int] = {}
    said: set[str] = set()
    while tried and len(said) < AT_MOST:
        best = min(tried, key=lambda one: (-one.score(settled), _place(one.item)))
        if not best.score(settled):
            return
        tried.remove(best)
        for name in {one.pattern.name for at, one in enumerate(best.affected) if best.moves(at)}:
            settled[name] = settled.get(name, 0) + 1
        test = _test(facts, best)
        if test.item not in said:
            said.add(test.item)
            yield test


def _test(facts: Facts, tried: Tried) -> NextTest:
    """Return the proposal; before anything that moves the head, the question about the neck where that is open."""
    at, why = entry(tried.item), because(tried)
    if at.path not in HEAD_MOVED or not facts.blank(CAUTIONS):
        return NextTest(item=tried.item, because=why)
    said = _(N_("ask about the neck first: the {item} {why}"))
    return NextTest(item=CAUTIONS.path, because=said.format(item=within(_(at.item.label)), why=why))


def because(tried: Tried) -> str:
    """Say in a line what an item would tell: one pattern from another, or for or against the one it moves most."""
    pair = _split(tried)
    if pair:
        one, other = (_label(tried, standing) for standing in pair)
        return _(N_("would tell {one} from {other}")).format(one=one, other=other)
    most = max(range(len(tried.affected)), key=tried.moves)
    return _(N_("would speak for or against {one}")).format(one=_label(tried, tried.affected[most]))


def _split(tried: Tried) -> tuple[Standing, Standing] | None:
    """Return the two patterns that one result moves apart the furthest, the one it raises first."""
    pairs = [
        (outcome[up] - outcome[down], -up, -down)
        for outcome in tried.outcomes
        for up in range(len(outcome))
        for down in range(len(outcome))
        if outcome[up] > 0 > outcome[down]
    ]
    if not pairs:
        return None
    _apart, up, down = max(pairs)
    return tried.affected[-up], tried.affected[-down]


def _label(tried: Tried, one: Standing) -> str:
    """Name a pattern, with its side where the other side is not moved too."""
    name = _(one.pattern.label)
    alone = sum(other.pattern is one.pattern for other in tried.affected) == 1
    if one.reading.side is None or not alone:
        return name
    sided = N_("{pattern} on the right") if one.reading.side == "right" else N_("{pattern} on the left")
    return _(sided).format(pattern=name)
