"""Three-valued reading of single findings: met, not met, or unknown, each with the findings it rests on.

Errs towards unknown: what was not examined, or is uncertain, is never taken as absent.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Generic, NamedTuple, TypeVar, cast

from neuroform.exam.examination import Examination, age
from neuroform.exam.findings import Examined, Finding, NotExamined, Sided
from neuroform.exam.walk import SIDES, Side, recorded
from neuroform.reasoning.results import Paths

T = TypeVar("T")


class Sign(NamedTuple):
    """Whether something holds (None: unknown), and the findings behind that answer."""

    met: bool | None
    because: Paths = ()
    """Findings that made it met, or not met."""
    missing: Paths = ()
    """Findings that would be needed to know."""
    clouded: Paths = ()
    """Findings of a guard that is known and not clear: they keep it from counting."""


UNKNOWN = Sign(None)


class Ref(Generic[T]):
    """A finding, or a plain value, named by the attributes that lead to it."""

    __slots__ = ("path",)

    def __init__(self, path: str) -> None:
        self.path = path


class SidedRef(Generic[T]):
    """A finding on both sides."""

    __slots__ = ("_sides", "left", "path", "right")

    def __init__(self, path: str) -> None:
        self.path = path
        self.right: Ref[T] = Ref(f"{path}.right")
        self.left: Ref[T] = Ref(f"{path}.left")
        self._sides: Mapping[Side, Ref[T]] = {"right": self.right, "left": self.left}

    def __getitem__(self, side: Side) -> Ref[T]:
        """Return the finding on one side."""
        return self._sides[side]


class _Path:
    """Notes which attributes are taken from it."""

    def __init__(self, path: str) -> None:
        self._path = path

    def __getattr__(self, name: str) -> "_Path":
        return _Path(f"{self._path}.{name}" if self._path else name)


def _path(pick: Callable[[Examination], Any]) -> str:
    taken = cast(Any, pick)(_Path(""))
    return str(taken._path)


def one(pick: Callable[[Examination], Finding[T] | None]) -> Ref[T]:
    """Return a reference to a finding: ``one(lambda e: e.walking.base)``."""
    return Ref(_path(pick))


def plain(pick: Callable[[Examination], T | None]) -> Ref[T]:
    """Return a reference to a plain value."""
    return Ref(_path(pick))


def sided(pick: Callable[[Examination], Sided[T]]) -> SidedRef[T]:
    """Return a reference to a finding on both sides."""
    return SidedRef(_path(pick))


class Facts:
    """One examination, laid flat for reading: every recorded finding under its path."""

    __slots__ = ("_memo", "age", "exam", "found")

    def __init__(self, exam: Examination) -> None:
        self.exam = exam
        self.age = age(exam)
        """Whole years on the day of the examination."""
        self.found: dict[str, Any] = dict(recorded(exam))
        self._memo: dict[Any, Any] = {}

    def value(self, ref: Ref[T]) -> T | None:
        """Return what was found, or None when it was not examined or is blank."""
        found = self.found.get(ref.path)
        if isinstance(found, Examined):
            return cast(T, found.value)
        return None if isinstance(found, NotExamined) else cast("T | None", found)

    def reason(self, ref: Ref[Any]) -> str | None:
        """Return why it was not examined, or None."""
        found = self.found.get(ref.path)
        return found.not_examined if isinstance(found, NotExamined) else None

    def blank(self, ref: Ref[Any]) -> bool:
        """Tell whether nobody said anything about it."""
        return ref.path not in self.found

    def is_(self, ref: Ref[T], *values: T) -> Sign:
        """Tell whether the finding is one of `values`; "uncertain" is unknown."""
        found = self.value(ref)
        if found is None or found == "uncertain":
            return Sign(None, (), (ref.path,))
        return Sign(found in values, (ref.path,))

    def test(self, ref: Ref[T], holds: Callable[[T], bool | None]) -> Sign:
        """Tell whether `holds` of the finding; where it answers None the finding is known but decides nothing."""
        found = self.value(ref)
        met = None if found is None else holds(found)
        return Sign(None, (), (ref.path,)) if met is None else Sign(met, (ref.path,))

    def known(self, ref: Ref[Any]) -> Sign:
        """Tell whether the finding has a value that is not "uncertain"; never unknown itself."""
        found = self.value(ref)
        return Sign(None, (), (ref.path,)) if found is None or found == "uncertain" else Sign(True, (ref.path,))

    def has(self, ref: Ref[tuple[T, ...]], *words: T) -> Sign:
        """Tell whether a list holds one of `words`; a list nobody filled is unknown."""
        found = self.value(ref)
        if found is None:
            return Sign(None, (), (ref.path,))
        return Sign(any(word in found for word in words), (ref.path,))

    def once(self, name: Any, make: Callable[[], T]) -> T:
        """Return what `make` made the first time it was asked for under `name`."""
        if name not in self._memo:
            self._memo[name] = make()
        return cast(T, self._memo[name])


WholeSign = Callable[[Facts], Sign]
SideSign = Callable[[Facts, Side], Sign]


def whole(make: WholeSign) -> WholeSign:
    """Read a sign of the whole person once for each examination."""

    def read(facts: Facts) -> Sign:
        memo = facts._memo
        if make not in memo:
            memo[make] = make(facts)
        return cast(Sign, memo[make])

    read.__doc__, read.__name__ = make.__doc__, make.__name__
    return read


def per_side(make: SideSign) -> SideSign:
    """Read a sign of one side once for each examination and side."""

    def read(facts: Facts, side: Side) -> Sign:
        memo, name = facts._memo, (make, side)
        if name not in memo:
            memo[name] = make(facts, side)
        return cast(Sign, memo[name])

    read.__doc__, read.__name__ = make.__doc__, make.__name__
    return read


def all_of(*signs: Sign) -> Sign:
    """All hold: one that does not decides; else one that is unknown."""
    return _joined(signs, decides=False)


def any_of(*signs: Sign) -> Sign:
    """At least one holds: one that does decides; else one that is unknown."""
    return _joined(signs, decides=True)


def _joined(signs: Iterable[Sign], *, decides: bool) -> Sign:
    signs = tuple(signs)
    deciding = [sign for sign in signs if sign.met is decides]
    clouded = merged(sign.clouded for sign in signs if sign.clouded)
    if deciding:
        return Sign(decides, merged(sign.because for sign in deciding), (), clouded)
    unknown = [sign for sign in signs if sign.met is None]
    because = merged(sign.because for sign in signs)
    if unknown:
        return Sign(None, because, merged(sign.missing for sign in unknown), clouded)
    return Sign(not decides, because, (), clouded)


def negated(sign: Sign) -> Sign:
    """It does not hold; unknown while it is unknown."""
    return sign if sign.met is None else sign._replace(met=not sign.met)


def unless(sign: Sign) -> Sign:
    """It is not known to hold: only a recorded fact keeps this from being met."""
    return Sign(False, sign.because) if sign.met else Sign(True)


def guarded(sign: Sign, guard: Sign) -> Sign:
    """Let a sign count only where a guard is known and clear; a guard never makes another sign of it."""
    if not sign.met:
        return sign
    if guard.met:
        return Sign(True, merged((sign.because, guard.because)))
    return Sign(None, sign.because, guard.missing, guard.because if guard.met is False else ())


def any_side(sign: SideSign, facts: Facts) -> Sign:
    """It holds on the right or on the left."""
    return any_of(*(sign(facts, side) for side in SIDES))


def both_sides(sign: SideSign, facts: Facts) -> Sign:
    """It holds on the right and on the left."""
    return all_of(*(sign(facts, side) for side in SIDES))


def merged(parts: Iterable[Paths]) -> Paths:
    """Join paths in order, each once."""
    return tuple(dict.fromkeys(path for part in parts for path in part))
