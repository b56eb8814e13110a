"""Three-valued reading of single findings: met, not met, or unknown, each with the findings it rests on.

Errs towards unknown: what was not examined, or is uncertain, is never taken as absent.
"""

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache, partial
from itertools import chain
from operator import itemgetter
from typing import TYPE_CHECKING, Any, Generic, TypeVar, cast

from neuroform.exam.examination import Examination, age
from neuroform.exam.findings import Examined, Finding, NotExamined, Sided
from neuroform.exam.walk import Side, entries, recorded
from neuroform.reasoning.results import Paths

T = TypeVar("T")


EVERYTHING = -1
"""As bits: whatever there is."""
_NAMES: list[str] = [path for at in entries() for path in at.paths]
_BITS: dict[str, int] = {path: 1 << place for place, path in enumerate(_NAMES)}


def bit(name: str) -> int:
    """Return the bit that stands for a finding, or for anything else by a name of its own."""
    found = _BITS.get(name)
    if found is None:
        _BITS[name] = found = 1 << len(_NAMES)
        _NAMES.append(name)
    return found


@lru_cache(maxsize=1 << 15)
def bits(paths: Paths) -> int:
    """Return a set of findings as bits, the first in bedside order lowest: joining them is what a reading does most."""
    found = 0
    for path in paths:
        found |= bit(path)
    return found


@lru_cache(maxsize=1 << 15)
def paths_of(found: int) -> Paths:
    """Return the findings a set of bits stands for, in bedside order."""
    paths = []
    while found:
        lowest = found & -found
        paths.append(_NAMES[lowest.bit_length() - 1])
        found ^= lowest
    return tuple(paths)


_Bits = tuple[bool | None, int, int, int]
_new: Callable[[type["Sign"], _Bits], "Sign"] = tuple.__new__


class Sign(_Bits):
    """Whether something holds (None: unknown), and the findings behind that answer, each set in bedside order."""

    __slots__ = ()

    if TYPE_CHECKING:

        @property
        def met(self) -> bool | None:
            """Whether it holds; None: unknown."""

        @property
        def rests(self) -> int:
            """The bits of `because`."""

        @property
        def lacks(self) -> int:
            """The bits of `missing`."""

        @property
        def clouds(self) -> int:
            """The bits of `clouded`."""
    else:
        met, rests, lacks, clouds = (property(itemgetter(place)) for place in range(4))

    def __new__(cls, met: bool | None, because: Paths = (), missing: Paths = (), clouded: Paths = ()) -> "Sign":
        """Make a sign from paths."""
        return _new(cls, (met, bits(because), bits(missing), bits(clouded)))

    @property
    def because(self) -> Paths:
        """Findings that made it met, or not met."""
        return paths_of(self[1])

    @property
    def missing(self) -> Paths:
        """Findings that would be needed to know."""
        return paths_of(self[2])

    @property
    def clouded(self) -> Paths:
        """Findings of a guard that is known and not clear: they keep it from counting."""
        return paths_of(self[3])

    def answering(self, met: bool | None) -> "Sign":
        """Return another answer on the same findings."""
        return _new(Sign, (met, self[1], self[2], self[3]))

    def __repr__(self) -> str:
        """Write it as it is made."""
        return f"Sign({self.met}, {self.because}, {self.missing}, {self.clouded})"


UNKNOWN = Sign(None)


class Ref(Generic[T]):
    """A finding, or a plain value, named by the attributes that lead to it."""

    __slots__ = ("met", "path", "unknown", "unmet")

    def __init__(self, path: str) -> None:
        self.path = path
        self.met = Sign(True, (path,))
        """The three answers a sign of this finding alone can give, made once."""
        self.unmet = Sign(False, (path,))
        self.unknown = Sign(None, (), (path,))


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


Laid = tuple[dict[str, Any], dict[str, Any]]
"""What is recorded by its path, and the values alone."""


def laid(found: Iterable[tuple[str, Any]]) -> Laid:
    """Lay flat what is recorded."""
    by_path = dict(found)
    return by_path, {path: value for path, at in by_path.items() if (value := value_of(at)) is not None}


class Facts:
    """One examination, laid flat for reading: every recorded finding under its path."""

    __slots__ = ("_memo", "_noted", "_settled", "_values", "age", "exam", "found", "marks")

    def __init__(self, exam: Examination) -> None:
        self.exam = exam
        self.age = age(exam)
        """Whole years on the day of the examination."""
        self.marks: dict[Any, Any] = {}
        """How findings are marked, kept by path."""
        self._memo: dict[Any, Any] = {}
        self._settled: dict[str, Any] = {}
        self._noted: list[int] = [0]
        self.found, self._values = self._laid()

    def _laid(self) -> Laid:
        return laid(recorded(self.exam))

    def value(self, ref: Ref[T]) -> T | None:
        """Return what was found, or None when it was not examined or is blank."""
        found: T | None = self._values.get(ref.path)
        return found

    def reason(self, ref: Ref[Any]) -> str | None:
        """Return why it was not examined, or None."""
        found = self.found.get(ref.path)
        return found.not_examined if isinstance(found, NotExamined) else None

    def blank(self, ref: Ref[Any]) -> bool:
        """Tell whether nobody said anything about it."""
        return ref.path not in self.found

    def is_(self, ref: Ref[T], *values: T) -> Sign:
        """Tell whether the finding is one of `values`; "uncertain" is unknown."""
        found = self._values.get(ref.path)
        if found is None or found == "uncertain":
            return ref.unknown
        return ref.met if found in values else ref.unmet

    def test(self, ref: Ref[T], holds: Callable[[T], bool | None]) -> Sign:
        """Tell whether `holds` of the finding; where it answers None the finding is known but decides nothing."""
        found = self.value(ref)
        met = None if found is None else holds(found)
        return ref.unknown if met is None else ref.met if met else ref.unmet

    def known(self, ref: Ref[Any]) -> Sign:
        """Tell whether the finding has a value that is not "uncertain"; never unknown itself."""
        found = self.value(ref)
        return ref.unknown if found is None or found == "uncertain" else ref.met

    def has(self, ref: Ref[tuple[T, ...]], *words: T) -> Sign:
        """Tell whether a list holds one of `words`; a list nobody filled is unknown."""
        found = self.value(ref)
        if found is None:
            return ref.unknown
        return ref.unmet if set(words).isdisjoint(found) else ref.met

    def once(self, name: Any, make: Callable[[], T]) -> T:
        """Return what `make` made the first time it was asked for under `name`."""
        if name not in self._memo:
            self._memo[name] = make()
        return cast(T, self._memo[name])

    def kept(self, make: Callable[..., T], *of: Any, by: "Facts | None" = None) -> T:
        """Return what `make` reads from these facts; from facts that are followed, only once something in it changed.

        `by` are the facts as `make` wants them, where they hold more than these.
        """
        return make(by or self, *of)

    def keeping(self, make: Callable[..., T], *, by: "Facts | None" = None) -> Callable[..., T]:
        """Return `kept` for one `make`, to be called again and again."""
        return partial(make, by or self)

    def looked_at_everything(self) -> None:
        """Note that what is being read may come from anything."""
        self._noted[-1] = EVERYTHING

    def settle(self, name: str, value: Any) -> None:
        """Settle, under a name, a value that other answers are read from."""
        self._settled[name] = value

    def settled(self, name: str) -> Any:
        """Return what was settled under a name; KeyError when nothing was."""
        self._noted[-1] |= bit(name)
        return self._settled[name]


def value_of(found: Any) -> Any:
    """Return the value of a finding, a plain value as it is, or None."""
    return found.value if isinstance(found, Examined) else None if isinstance(found, NotExamined) else found


WholeSign = Callable[[Facts], Sign]
SideSign = Callable[[Facts, Side], Sign]


def whole(make: WholeSign) -> WholeSign:
    """Read a sign of the whole person once for each examination."""

    def read(facts: Facts) -> Sign:
        memo = facts._memo
        sign: Sign | None = memo.get(make)
        if sign is None:
            memo[make] = sign = make(facts)
        return sign

    read.__doc__, read.__name__ = make.__doc__, make.__name__
    return read


def per_side(make: SideSign) -> SideSign:
    """Read a sign of one side once for each examination and side."""

    def read(facts: Facts, side: Side) -> Sign:
        memo, name = facts._memo, (make, side)
        sign: Sign | None = memo.get(name)
        if sign is None:
            memo[name] = sign = make(facts, side)
        return sign

    read.__doc__, read.__name__ = make.__doc__, make.__name__
    return read


def all_of(*signs: Sign) -> Sign:
    """All hold: one that does not decides; else one that is unknown."""
    return _joined(signs, decides=False)


def any_of(*signs: Sign) -> Sign:
    """At least one holds: one that does decides; else one that is unknown."""
    return _joined(signs, decides=True)


def _joined(signs: tuple[Sign, ...], *, decides: bool) -> Sign:
    decided = unknown = False
    deciding = because = lacking = clouded = 0
    for met, rests, missing, clouds in signs:
        because |= rests
        clouded |= clouds
        if met is decides:
            decided = True
            deciding |= rests
        elif met is None:
            unknown = True
            lacking |= missing
    if decided:
        return _new(Sign, (decides, deciding, 0, clouded))
    return _new(Sign, (None, because, lacking, clouded) if unknown else (not decides, because, 0, clouded))


def every(facts: Facts, *signs: WholeSign) -> Sign:
    """All hold, read one after the other: the first that is not met ends the reading and is the answer.

    Quicker than `all_of` where most examinations end at the first; it tells less of what else is missing.
    """
    rests = 0
    for read in signs:
        sign = read(facts)
        if not sign[0]:
            return sign
        rests |= sign[1]
    return _new(Sign, (True, rests, 0, 0))


def negated(sign: Sign) -> Sign:
    """It does not hold; unknown while it is unknown."""
    return sign if sign.met is None else sign.answering(not sign.met)


def unless(sign: Sign) -> Sign:
    """It is not known to hold: only a recorded fact keeps this from being met."""
    return _new(Sign, (False, sign[1], 0, 0)) if sign.met else _HOLDS


_HOLDS = Sign(True)


def denied(sign: Sign) -> Sign:
    """It is not known to hold; and where a recorded fact denies it, this rests on that fact."""
    return _new(Sign, (True, sign[1], 0, 0)) if sign.met is False else unless(sign)


def guarded(sign: Sign, guard: Sign) -> Sign:
    """Let a sign count only where a guard is known and clear; a guard never makes another sign of it."""
    if not sign.met:
        return sign
    if guard.met:
        return _new(Sign, (True, sign[1] | guard[1], 0, 0))
    return _new(Sign, (None, sign[1], guard[2], guard[1] if guard.met is False else 0))


def any_side(sign: SideSign, facts: Facts) -> Sign:
    """It holds on the right or on the left."""
    return any_of(sign(facts, "right"), sign(facts, "left"))


def both_sides(sign: SideSign, facts: Facts) -> Sign:
    """It holds on the right and on the left."""
    return all_of(sign(facts, "right"), sign(facts, "left"))


def merged(parts: Iterable[Paths]) -> Paths:
    """Join paths in order, each once."""
    filled = [part for part in parts if part]
    if len(filled) < 2:
        return filled[0] if filled else ()
    return tuple(dict.fromkeys(chain.from_iterable(filled)))
