"""Follow an examination from answer to answer: what looked at nothing that changed answers as it did before.

Each answer is kept with everything it was read from, as bits: paths of findings, and the names of what was settled.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from typing import Any, TypeVar, cast

from neuroform.exam.examination import SECTIONS, Examination, age
from neuroform.exam.walk import entries, recorded_in
from neuroform.language import current
from neuroform.reasoning.facts import EVERYTHING, Facts, Laid, bit, bits, laid

T = TypeVar("T")
_FINDINGS = bits(tuple(path for at in entries() for path in at.paths))
"""As bits: every finding; what was settled stands above them."""


class Following(Facts):
    """Facts that note what each answer is read from."""

    __slots__ = ("_language", "_late", "_reads", "_sections")

    _memo: "_Kept"

    def __init__(self, exam: Examination) -> None:
        super().__init__(exam)
        self._language = current()
        self._reads: dict[Any, int] = {}
        self._late: dict[Any, int] = {}
        """Of what is kept, that which was read from something settled."""
        self._memo = self.marks = _Kept(self._reads, self._late, self._noted)

    def _laid(self) -> Laid:
        self._sections = {name: laid(recorded_in(self.exam, name)) for name in SECTIONS}
        return self._watched()

    def _watched(self) -> Laid:
        found, values = _Watched(self._noted), _Watched(self._noted)
        for of_section, values_of_section in self._sections.values():
            found.update(of_section)
            values.update(values_of_section)
        return found, values

    def take(self, exam: Examination) -> None:
        """Go on to a changed examination: what was read from anything that is different now is forgotten."""
        del self._noted[1:]
        changed = self._lay(exam)
        if age(exam) != self.age or current() != self._language:
            self.age, self._language = age(exam), current()
            self._memo.clear()
            self._settled.clear()
        else:
            self._forget(changed, self._reads)

    def _lay(self, exam: Examination) -> int:
        """Lay a changed examination flat; return, as bits, the paths under which it differs."""
        different: list[str] = []
        for name, before in self._sections.items():
            if getattr(exam, name) is not getattr(self.exam, name):
                self._sections[name] = now = laid(recorded_in(exam, name))
                found = now[0]
                different += [path for path in before[0].keys() | found if before[0].get(path) != found.get(path)]
        self.exam = exam
        self.found, self._values = self._watched()
        return bits(tuple(different))

    def settle(self, name: str, value: Any) -> None:
        """Settle what others are read from; when it is another value than before, they are forgotten."""
        if self._settled.get(name, self) != value:
            self._forget(bit(name), self._late)
        self._settled[name] = value

    def _forget(self, changed: int, among: Mapping[Any, int]) -> None:
        for name in [name for name, read in among.items() if read & changed] if changed else ():
            self._memo.forget(name)

    def once(self, name: Any, make: Callable[[], T]) -> T:
        """Return what `make` made the first time it was asked for under `name`."""
        return self._made(name, make) if name not in self._memo else cast(T, self._memo[name])

    def kept(self, make: Callable[..., T], *of: Any, by: Facts | None = None) -> T:
        """Return what `make` reads, the same as before while nothing that it was read from changed."""
        name = (make, *of)
        read = self._reads.get(name)
        if read is not None:
            self._noted[-1] |= read
            return cast(T, self._memo[name])
        self._noted.append(0)
        return self._made(name, lambda: make(by or self, *of))

    def keeping(self, make: Callable[..., T], *, by: Facts | None = None) -> Callable[..., T]:
        """Return `kept` for one `make`, to be called again and again."""
        return partial(self.kept, make, by=by)

    def _made(self, name: Any, make: Callable[[], T]) -> T:
        """Make what the memory has just said it lacks; what fails leaves nothing half noted."""
        depth = len(self._noted) - 1
        try:
            self._memo[name] = made = make()
        except BaseException:
            del self._noted[depth:]
            raise
        return made

    @contextmanager
    def watched(self) -> Iterator[list[int]]:
        """Give a list whose one number is, after the block, everything that was looked at in it, as bits."""
        self._noted.append(0)
        read: list[int] = []
        yield read
        read.append(self._noted.pop())
        self._noted[-1] |= read[0]

    def supposing(self, paths: Iterable[str], answers: Iterable[Mapping[str, Any]]) -> Iterator[Facts]:
        """Yield the facts as if each of the answers had been found; all of them answer the same paths."""
        changed = bits(tuple(paths))
        kept = {name: sign for name, sign in self._memo.items() if not self._reads[name] & changed}
        for answer in answers:
            facts = Facts.__new__(Facts)
            facts.exam, facts.age, facts._settled, facts._noted = self.exam, self.age, {}, [0]
            facts.found, facts._values, facts._memo = {**self.found, **answer}, {**self._values, **answer}, dict(kept)
            facts.marks = {}
            yield facts


class _Watched(dict[str, Any]):
    """Notes every key that is asked for; whoever goes through all of it looked at everything."""

    __slots__ = ("_noted",)

    def __init__(self, noted: list[int]) -> None:
        super().__init__()
        self._noted = noted

    def get(self, key: str, default: Any = None) -> Any:
        self._noted[-1] |= bit(key)
        return dict.get(self, key, default)

    def __getitem__(self, key: str) -> Any:
        self._noted[-1] |= bit(key)
        return dict.__getitem__(self, key)

    def __contains__(self, key: object) -> bool:
        self._noted[-1] |= bit(str(key))
        return dict.__contains__(self, key)

    def __iter__(self) -> Iterator[str]:
        self._noted[-1] = EVERYTHING
        return dict.__iter__(self)

    def __len__(self) -> int:
        self._noted[-1] = EVERYTHING
        return dict.__len__(self)

    def keys(self) -> Any:
        self._noted[-1] = EVERYTHING
        return dict.keys(self)

    def items(self) -> Any:
        self._noted[-1] = EVERYTHING
        return dict.items(self)

    def values(self) -> Any:
        self._noted[-1] = EVERYTHING
        return dict.values(self)


class _Kept(dict[Any, Any]):
    """Opens a number for an answer that is not kept yet and closes it once it is: what was noted meanwhile it needs."""

    __slots__ = ("_late", "_noted", "_reads")

    def __init__(self, reads: dict[Any, int], late: dict[Any, int], noted: list[int]) -> None:
        super().__init__()
        self._reads = reads
        self._late = late
        self._noted = noted

    def get(self, key: Any, default: Any = None) -> Any:
        read = self._reads.get(key)
        if read is None:
            self._noted.append(0)
            return default
        self._noted[-1] |= read
        return self[key]

    def __contains__(self, key: object) -> bool:
        read = self._reads.get(key)
        if read is None:
            self._noted.append(0)
            return False
        self._noted[-1] |= read
        return True

    def __setitem__(self, key: Any, sign: Any) -> None:
        read = self._noted.pop()
        self._reads[key] = read
        if read > _FINDINGS or read < 0:
            self._late[key] = read
        self._noted[-1] |= read
        dict.__setitem__(self, key, sign)

    def forget(self, key: Any) -> None:
        """Let go of an answer."""
        del self._reads[key]
        self._late.pop(key, None)
        self.pop(key)

    def clear(self) -> None:
        """Let go of all of them."""
        self._reads.clear()
        self._late.clear()
        dict.clear(self)
