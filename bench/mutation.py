"""Mutation testing of the reading and of completeness, with the example tests alone: `python -m bench.mutation`.

The mutants are mutmut's. They are tried by forks of one process that has everything loaded, because mutmut itself
leaves decorated functions alone, which most signs and rules are, and starts pytest anew for every mutant. In each fork
one function runs the code of its mutant; nothing on the disk changes. Numbers that stand as names of a module are
mutated too. A mutant that no test notices in a line that runs while the program is imported, declaring its tables, had
no effect any more when it was made: those are counted apart.
"""

import argparse
import gc
import importlib
import json
import os
import pkgutil
import random
import signal
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, Literal, get_args

import libcst as cst
import pytest
from _pytest.runner import runtestprotocol
from coverage import Coverage
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.file_mutation import MutationVisitor
from mutmut.mutation.mutators import mutation_operators
from mutmut.mutation.pragma_handling import IgnoredCode

CHECKOUT = Path(__file__).resolve().parents[1]
ROOMS = ("neuroform.reasoning", "neuroform.completeness")
TESTS = ("tests/reasoning", "tests/completeness", "tests/published", "tests/stories/test_cases_of_our_own.py")
NOT_EXAMPLES = ("generated(", "varied(", "nothing_rises(")
"""Words in the source of a test that makes its examinations up, or goes through every finding of each."""
LONGEST_S = 60

Outcome = Literal["killed", "timeout", "survived", "at import"]


@dataclass(frozen=True, kw_only=True)
class Mutant:
    """One change: where, what stood there and what stands there now, and how to make it in a fork."""

    file: str
    function: str
    lines: range
    within: range
    """The lines of the whole function."""
    before: str
    after: str
    apply: Callable[[], bool]
    """Make the change in this process; False when nothing that is loaded runs it."""

    def told(self) -> dict[str, Any]:
        """Return it as a line of the report holds it."""
        return {
            "file": self.file,
            "function": self.function,
            "line": self.lines.start,
            "before": self.before,
            "after": self.after,
        }


class _Decorated(MutationVisitor):
    """Makes mutants of decorated functions too; of the decorators none."""

    def _skip_node_and_children(self, node: cst.CSTNode) -> bool:
        return not (isinstance(node, cst.FunctionDef) and node.decorators) and super()._skip_node_and_children(node)


class Loaded:
    """The functions that are loaded, by their code, and how to give one the code of a mutant."""

    def __init__(self) -> None:
        self._by_code: dict[CodeType, list[FunctionType]] = defaultdict(list)
        for found in gc.get_objects():
            if isinstance(found, FunctionType):
                self._by_code[found.__code__].append(found)
        self._by_place: dict[tuple[str, str], list[CodeType]] = defaultdict(list)
        for code in self._by_code:
            self._by_place[code.co_filename, code.co_name].append(code)

    def replace(self, file: Path, name: str, lines: range, mutated: CodeType) -> bool:
        """Give the function that stands on these lines, and those made within it, the mutated code."""
        here = [code for code in self._by_place[str(file), name] if code.co_firstlineno in lines]
        done = [self._replace(code, mutated) for code in here]
        return any(done)

    def _replace(self, code: CodeType, mutated: CodeType) -> bool:
        done = False
        for found in self._by_code.get(code, ()):
            if len(code.co_freevars) == len(mutated.co_freevars):
                found.__code__ = mutated
                done = True
        inner, changed = (_inner(one) for one in (code, mutated))
        if len(inner) == len(changed):
            for one, other in zip(inner, changed, strict=True):
                done = self._replace(one, other) or done
        return done


def _inner(code: CodeType) -> list[CodeType]:
    return [const for const in code.co_consts if isinstance(const, CodeType)]


def mutants(module: str, loaded: Loaded) -> Iterator[Mutant]:
    """Yield every mutant of a module's functions, and of its named numbers."""
    path = CHECKOUT / Path(*module.split(".")).with_suffix(".py")
    wrapper = MetadataWrapper(cst.parse_module(path.read_text(encoding="utf-8")))
    visitor = _Decorated(mutation_operators, IgnoredCode(set(), set(), set()))
    wrapper.visit(visitor)
    places: Any = wrapper.resolve(PositionProvider)
    file = str(path.relative_to(CHECKOUT))
    for made in visitor.mutations:
        function = made.contained_by_top_level_function
        if not isinstance(function, cst.FunctionDef) or _holds(function.params, made.original_node):
            continue
        place = places.get(made.original_node, places[function])
        yield Mutant(
            file=file,
            function=function.name.value,
            lines=range(place.start.line, place.end.line + 1),
            within=range(places[function].start.line, places[function].end.line + 1),
            before=_text(made.original_node),
            after=_text(made.mutated_node),
            apply=_in_function(loaded, path, function, made.original_node, made.mutated_node, places[function]),
        )
    for name, value in _named_numbers(wrapper.module):
        yield Mutant(
            file=file,
            function="",
            lines=range(0),
            within=range(0),
            before=f"{name} = {value}",
            after=f"{name} = {value + 1}",
            apply=_in_modules(name, value),
        )


def _holds(above: cst.CSTNode, node: cst.CSTNode) -> bool:
    return above is node or any(_holds(below, node) for below in above.children)


def _text(node: cst.CSTNode) -> str:
    with suppress(Exception):
        return cst.Module([]).code_for_node(node).strip()
    return type(node).__name__


def _in_function(
    loaded: Loaded, path: Path, function: cst.FunctionDef, old: cst.CSTNode, new: cst.CSTNode, place: Any
) -> Callable[[], bool]:
    def apply() -> bool:
        changed: Any = function.deep_replace(old, new)
        alone = cst.Module([changed.with_changes(decorators=(), leading_lines=())])
        whole = compile(f"from __future__ import annotations\n{alone.code}", str(path), "exec")
        name = function.name.value
        code = next(one for one in _inner(whole) if one.co_name == name)
        first = place.start.line - len(function.decorators) * 12
        return loaded.replace(path, name, range(first, place.end.line + 1), code)

    return apply


def _named_numbers(module: cst.Module) -> Iterator[tuple[str, float]]:
    for line in module.body:
        for found in line.body if isinstance(line, cst.SimpleStatementLine) else ():
            if not isinstance(found, cst.Assign) or not isinstance(found.value, cst.Integer | cst.Float):
                continue
            for target in found.targets:
                if isinstance(target.target, cst.Name):
                    yield target.target.value, found.value.evaluated_value


def _in_modules(name: str, value: float) -> Callable[[], bool]:
    def apply() -> bool:
        holding = [at for at in _modules() if vars(at).get(name) == value]
        for at in holding:
            setattr(at, name, value + 1)
        return bool(holding)

    return apply


def _modules() -> list[Any]:
    return [module for name, module in sys.modules.items() if name.startswith(ROOMS)]


def watching() -> Coverage:
    """Return a coverage of the rooms, kept in memory."""
    rooms = [str(CHECKOUT / Path(*room.split(".")) / "*") for room in ROOMS]
    return Coverage(include=rooms, data_file=None, config_file=False)


def run_at_import() -> Mapping[str, set[int]]:
    """Import every module of the rooms; return the lines of each file that this runs."""
    coverage = watching()
    coverage.start()
    for room in ROOMS:
        for found in pkgutil.iter_modules(importlib.import_module(room).__path__, f"{room}."):
            importlib.import_module(found.name)
    coverage.stop()
    data = coverage.get_data()
    return {str(Path(file).relative_to(CHECKOUT)): {*(data.lines(file) or ())} for file in data.measured_files()}


def passes(item: pytest.Item) -> bool:
    """Run a test and tell whether it passed or was left out."""
    return not any(report.failed for report in runtestprotocol(item, log=False, nextitem=None))


class Trial:
    """A pytest plugin: runs the examples once to learn what each reads, then again for every mutant until one fails."""

    def __init__(self, asked: argparse.Namespace, at_import: Mapping[str, set[int]]) -> None:
        self._asked = asked
        self._at_import = at_import
        self._killers: dict[tuple[str, str], list[int]] = defaultdict(list)
        self._caches: list[Any] = []
        self.outcomes: list[tuple[Outcome, Mutant]] = []

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Keep the examples."""
        items[:] = [item for item in items if self._is_example(item)]

    def _is_example(self, item: pytest.Item) -> bool:
        test = getattr(item, "obj", None)
        if test is None or getattr(test, "is_hypothesis_test", False):
            return False
        names = {*test.__code__.co_names}
        return not any(word.rstrip("(") in names for word in NOT_EXAMPLES)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Try every mutant drawn."""
        self._caches = [
            found
            for module in _modules()
            for found in vars(module).values()
            if hasattr(found, "cache_clear") and found.__wrapped__.__module__ != "neuroform.reasoning.facts"
        ]
        reads, cost = self._learn(session.items)
        loaded = Loaded()
        names = sorted(at.__name__ for at in _modules() if not hasattr(at, "__path__"))
        drawn = [one for name in names if self._asked.only in name for one in mutants(name, loaded)]
        random.Random(self._asked.seed).shuffle(drawn)
        drawn = drawn[: round(len(drawn) * self._asked.sample)]
        print(f"{len(session.items)} tests, {len(drawn)} mutants", flush=True)
        gc.freeze()
        self.outcomes = self._shared_out(drawn, session.items, reads, cost)
        return True

    def _learn(self, items: Sequence[pytest.Item]) -> tuple[Mapping[str, Mapping[int, set[int]]], list[float]]:
        """Return the tests that run each line of each file, and how long each test takes."""
        cost: list[float] = []
        for item in items:
            began = time.perf_counter()
            if not passes(item):
                raise pytest.UsageError(f"{item.nodeid} fails as it is")
            cost.append(time.perf_counter() - began)
        coverage = watching()
        coverage.start()
        for place, item in enumerate(items):
            coverage.switch_context(str(place))
            self._forget()
            passes(item)
        coverage.stop()
        data = coverage.get_data()
        return {
            str(Path(file).relative_to(CHECKOUT)): {
                line: {int(place) for place in places if place}
                for line, places in data.contexts_by_lineno(file).items()
            }
            for file in data.measured_files()
        }, cost

    def _forget(self) -> None:
        for cached in self._caches:
            cached.cache_clear()

    def _shared_out(
        self,
        drawn: Sequence[Mutant],
        items: Sequence[pytest.Item],
        reads: Mapping[str, Mapping[int, set[int]]],
        cost: Sequence[float],
    ) -> list[tuple[Outcome, Mutant]]:
        """Try the mutants in several workers at once; those that the time does not suffice for are left out."""
        until = time.monotonic() + self._asked.minutes * 60
        named: Mapping[str, Outcome] = {outcome: outcome for outcome in get_args(Outcome)}
        found: list[tuple[Outcome, Mutant]] = []
        with ExitStack() as open_files:
            outs = [open_files.enter_context(tempfile.TemporaryFile("w+")) for _ in range(self._asked.workers)]
            for worker, out in enumerate(outs):
                if os.fork() == 0:
                    for place in range(worker, len(drawn), len(outs)):
                        if time.monotonic() > until:
                            break
                        print(place, self._outcome(drawn[place], items, reads, cost), sep="\t", file=out, flush=True)
                    os._exit(0)
            for _ in outs:
                os.wait()
            for out in outs:
                out.seek(0)
                for line in out:
                    at, outcome = line.rstrip("\n").split("\t")
                    found.append((named[outcome], drawn[int(at)]))
        return found

    def _outcome(
        self,
        mutant: Mutant,
        items: Sequence[pytest.Item],
        reads: Mapping[str, Mapping[int, set[int]]],
        cost: Sequence[float],
    ) -> Outcome:
        lines = reads.get(mutant.file, {})
        unseen: Outcome = "at import" if self._at_import.get(mutant.file, set()) & {*mutant.lines} else "survived"
        reading = set(range(len(items)))
        if mutant.function:
            reading = {test for line in mutant.lines for test in lines.get(line, ())}
            # A constant that spans lines of its own runs on none of them.
            reading = reading or {test for line in mutant.within for test in lines.get(line, ())}
        if not reading:
            return unseen
        killers = self._killers[mutant.file, mutant.function]
        order = [test for test in killers if test in reading]
        order += sorted(reading.difference(order), key=cost.__getitem__)
        killer = self._tried(mutant, [items[test] for test in order])
        if isinstance(killer, str):
            return unseen if killer == "survived" else killer
        by = order[killer]
        if by in killers:
            killers.remove(by)
        killers.insert(0, by)
        del killers[15:]
        return "killed"

    def _tried(self, mutant: Mutant, items: Iterable[pytest.Item]) -> int | Outcome:
        """Return the place of the test that failed with the mutant in a fork, or what became of it."""
        reading, writing = os.pipe()
        fork = os.fork()
        if fork == 0:
            try:
                self._try(mutant, items, writing)
            finally:
                os._exit(0)
        os.close(writing)
        with os.fdopen(reading) as pipe:
            said = pipe.read()
        os.waitpid(fork, 0)
        told: Mapping[str, Outcome] = {"": "timeout", "-": "survived", "?": "at import"}
        return told[said] if said in told else int(said)

    def _try(self, mutant: Mutant, items: Iterable[pytest.Item], writing: int) -> None:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        signal.alarm(LONGEST_S)
        applied = False
        with suppress(SyntaxError, ValueError):
            applied = mutant.apply()
        if not applied:
            os.write(writing, b"?")
            return
        self._forget()
        failed = (place for place, item in enumerate(items) if not passes(item))
        os.write(writing, str(next(failed, "-")).encode())


def report(outcomes: Sequence[tuple[Outcome, Mutant]]) -> str:
    """Return the figures: of the mutants tried, how many survived."""
    count = Counter(outcome for outcome, _mutant in outcomes)
    tried = len(outcomes) - count["at import"]
    lived = count["survived"]
    lines = [f"{outcome}: {number}" for outcome, number in count.most_common()]
    lines.append(f"survived of {tried} tried: {lived} ({100 * lived / max(tried, 1):.1f} %)")
    return "\n".join(lines)


def main() -> int:
    """Try the mutants asked for and write down those that survive."""
    parser = argparse.ArgumentParser(prog="python -m bench.mutation", description=__doc__)
    parser.add_argument("--sample", type=float, default=1.0, help="the share of all mutants to try")
    parser.add_argument("--seed", type=int, default=20261120, help="draws the sample and its order")
    parser.add_argument("--minutes", type=float, default=30, help="what is not tried by then is left out")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--only", default="", help="a part of the names of the modules to mutate")
    parser.add_argument("--survivors", type=Path, help="a file for those that survive, one a line")
    asked = parser.parse_args()
    trial = Trial(asked, run_at_import())
    options = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:pytest-qt", "--no-header"]
    pytest.main([*options, *TESTS], plugins=[trial])
    print(report(trial.outcomes))
    if asked.survivors:
        lived = [mutant for outcome, mutant in trial.outcomes if outcome == "survived"]
        lived.sort(key=lambda mutant: (mutant.file, mutant.lines.start, mutant.after))
        text = "".join(json.dumps(mutant.told(), ensure_ascii=False) + "\n" for mutant in lived)
        asked.survivors.write_text(text, encoding="utf-8")
    return 0 if trial.outcomes else 1


if __name__ == "__main__":
    sys.exit(main())
