"""What a rule is: a function that names items, with its severity, its words and its source."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from neuroform.completeness.gaps import Severity
from neuroform.completeness.seen import Seen
from neuroform.language import N_
from neuroform.reasoning.facts import Ref, SidedRef
from neuroform.reasoning.results import Paths, Reading

COMMON_PRACTICE = N_("common practice")
FROM_MEMORY = N_("common practice; from memory")

MUST, SHOULD, NOTICE = Severity.MUST, Severity.SHOULD, Severity.NOTICE

Kind = Literal["ask", "look", "tell"]
Named = Ref[Any] | SidedRef[Any] | str


class Call(NamedTuple):
    """What a rule says of an examination: the items it names, and how."""

    items: Paths
    kind: Kind
    severity: Severity | None = None
    """Where it differs from the rule's own."""
    words: Mapping[str, str] = {}
    """Fills the named fields of the rule's message."""


Find = Callable[[Seen, Reading], Iterable[Call]]


@dataclass(frozen=True, kw_only=True, eq=False)
class Rule:
    """One rule of completeness."""

    id: str
    severity: Severity
    """The highest it can have."""
    message: str
    """One sentence to a colleague, marked for translation; {items} stands for the items named."""
    why: str
    source: str
    find: Find
    last: bool = False
    """Whether it names only what no other rule asks for with the same force."""


class Rules:
    """The rules of one module, in the order they are written."""

    def __init__(self) -> None:
        self._rules: list[Rule] = []

    def rule(
        self,
        name: str,
        *,
        severity: Severity,
        message: str,
        why: str = "",
        source: str = COMMON_PRACTICE,
        last: bool = False,
    ) -> Callable[[Find], Find]:
        """Add a function to the rules under its name, which says what is wrong."""

        def add(find: Find) -> Find:
            self._rules.append(
                Rule(id=name, severity=severity, message=message, why=why, source=source, find=find, last=last)
            )
            return find

        return add

    def __iter__(self) -> Iterator[Rule]:
        """Give the rules in order."""
        return iter(self._rules)


def ask(*items: Named, severity: Severity | None = None, **words: str) -> Call:
    """Ask for items: those that are answered, unsafe or impossible fall away, and with the last one the gap."""
    return Call(_paths(items), "ask", severity, words)


def look(*items: Named, severity: Severity | None = None, **words: str) -> Call:
    """Ask to look again at how recorded items were done: what is unsafe or impossible falls away."""
    return Call(_paths(items), "look", severity, words)


def tell(*items: Named, severity: Severity | None = None, **words: str) -> Call:
    """Name recorded items, whatever may be asked for: nothing falls away."""
    return Call(_paths(items), "tell", severity, words)


def _paths(items: Iterable[Named]) -> Paths:
    paths: list[str] = []
    for item in items:
        if isinstance(item, SidedRef):
            paths += (item.right.path, item.left.path)
        else:
            paths.append(item if isinstance(item, str) else item.path)
    return tuple(dict.fromkeys(paths))
