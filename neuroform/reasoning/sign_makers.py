"""Make a sign of a single finding, of a side's sign on either side or both, or of one that holds at some ages alone."""

from typing import TypeVar

from neuroform.exam.context import Symptom
from neuroform.exam.walk import Side
from neuroform.reasoning.facts import Facts, Ref, SidedRef, SideSign, Sign, WholeSign, any_side, both_sides, whole
from neuroform.reasoning.signs import sym

T = TypeVar("T")


def found(ref: Ref[T], *values: T) -> WholeSign:
    """Read whether a finding is one of `values`."""
    return lambda facts: facts.is_(ref, *values)


def found_here(ref: SidedRef[T], *values: T) -> SideSign:
    """Read whether the finding on the side judged is one of `values`."""
    return lambda facts, side: facts.is_(ref[side], *values)


def holds(ref: Ref[tuple[T, ...]], *words: T) -> WholeSign:
    """Read whether a list holds one of `words`."""
    return lambda facts: facts.has(ref, *words)


def told(*words: Symptom) -> WholeSign:
    """Read whether one of the symptoms was told."""
    return lambda facts: sym(facts, *words)


def on_either(sign: SideSign) -> WholeSign:
    """Read a sign of one side on either."""
    return whole(lambda facts: any_side(sign, facts))


def on_both(sign: SideSign) -> WholeSign:
    """Read a sign of one side on both."""
    return whole(lambda facts: both_sides(sign, facts))


def at_age(sign: WholeSign, low: int = 0, high: int = 1000) -> WholeSign:
    """Read a sign from `low` to under `high` years; at another age it is unknown, and nothing is missing."""

    def read(facts: Facts) -> Sign:
        return sign(facts) if low <= facts.age < high else Sign(None)

    return read


def at_least_two(*signs: WholeSign) -> WholeSign:
    """Read whether two of them hold at least."""

    def read(facts: Facts) -> Sign:
        read_all = tuple(sign(facts) for sign in signs)
        met = sum(sign.met is True for sign in read_all)
        unknown = sum(sign.met is None for sign in read_all)
        return Sign(True if met > 1 else None if met + unknown > 1 else False)

    return read


def settled(sign: Sign) -> Sign:
    """It is known, whichever way."""
    return sign if sign.met is None else sign.answering(True)


def of_person(sign: WholeSign) -> SideSign:
    """Read a sign of the whole person, whichever side is judged."""

    def read(facts: Facts, side: Side) -> Sign:
        return sign(facts)

    return read


def known_here(ref: SidedRef[T]) -> SideSign:
    """Read whether the finding on the side judged is known."""
    return lambda facts, side: facts.known(ref[side])
