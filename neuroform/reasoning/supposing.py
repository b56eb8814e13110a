"""Read the same examination again as if something more had been found, keeping every sign that does not depend on it.

Each sign is kept with the paths it was read from: a sign that looked at none of the new findings answers the same.
"""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from neuroform.exam.examination import Examination
from neuroform.reasoning.facts import Facts


class Supposing(Facts):
    """Facts that note which paths each sign is read from."""

    __slots__ = ("_depends", "_open")

    def __init__(self, exam: Examination) -> None:
        super().__init__(exam)
        self._depends: dict[Any, set[str]] = {}
        self._open: list[set[str]] = [set()]
        self.found = _Watched(self.found, self._open)
        self._values = _Watched(self._values, self._open)
        self._memo = _WatchedMemo(self._depends, self._open)

    @contextmanager
    def watched(self) -> Iterator[set[str]]:
        """Give a set that every path looked at meanwhile is added to."""
        read = set[str]()
        self._open.append(read)
        yield read
        self._open.pop()

    def supposing(self, paths: Iterable[str], answers: Iterable[Mapping[str, Any]]) -> Iterator[Facts]:
        """Yield the facts as if each of the answers had been found; all of them answer the same paths."""
        changed = set(paths)
        kept = {name: sign for name, sign in self._memo.items() if self._depends[name].isdisjoint(changed)}
        for answer in answers:
            facts = Facts.__new__(Facts)
            facts.exam, facts.age, facts.marks = self.exam, self.age, {}
            facts.found, facts._values, facts._memo = {**self.found, **answer}, {**self._values, **answer}, dict(kept)
            yield facts


class _Watched(dict[str, Any]):
    """Notes every key that is asked for in the set opened last."""

    def __init__(self, of: Mapping[str, Any], watching: list[set[str]]) -> None:
        super().__init__(of)
        self._watching = watching

    def get(self, key: str, default: Any = None) -> Any:
        self._watching[-1].add(key)
        return super().get(key, default)

    def __contains__(self, key: object) -> bool:
        self._watching[-1].add(str(key))
        return super().__contains__(key)


class _WatchedMemo(dict[Any, Any]):
    """Opens a set when a sign is not kept yet and closes it once it is: what was read between is what it needs."""

    def __init__(self, depends: dict[Any, set[str]], watching: list[set[str]]) -> None:
        super().__init__()
        self._depends = depends
        self._watching = watching

    def get(self, key: Any, default: Any = None) -> Any:
        return super().get(key, default) if key in self else default

    def __contains__(self, key: object) -> bool:
        if super().__contains__(key):
            self._watching[-1].update(self._depends[key])
            return True
        self._watching.append(set())
        return False

    def __setitem__(self, key: Any, sign: Any) -> None:
        read = self._watching.pop()
        self._depends[key] = read
        self._watching[-1].update(read)
        super().__setitem__(key, sign)
