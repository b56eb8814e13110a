"""Examples of every rule, some that flag and some that stay silent: why a rule exists, shown; tests run them all."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from string import Formatter
from typing import Any

from neuroform import shipped
from neuroform.completeness.gaps import Severity
from neuroform.completeness.register import rule_named
from neuroform.completeness.wording import items_in_words
from neuroform.exam.findings import REASONS
from neuroform.exam.walk import SIDES, entry, is_path
from neuroform.language import N_, _
from neuroform.reasoning.results import VERDICT_WORDS, Paths

FOLDER = ("resources", "rules")
_VERDICTS: Mapping[str, str] = dict(VERDICT_WORDS.items())


@dataclass(frozen=True, kw_only=True)
class Example:
    """A situation, told truly by its name."""

    name: str
    flags: bool
    """Whether the rule flags it."""
    found: Mapping[str, Any]
    """What is recorded, by whole path, as an exam file holds it: a plain value, or a finding."""
    names: Paths = ()
    """The whole paths of the gap, when it flags."""
    severity: Severity | None = None
    """Of the gap, where it is not the rule's own."""
    protocol: str = "full"
    age: int = 50
    examined_at: str = "2026-03-02T12:00:00+00:00"
    fill: str = ""
    """A protocol whose every item is answered and normal beside what is recorded."""
    without: Paths = ()
    """Whole paths left blank all the same."""
    earlier: Mapping[str, Any] | None = None
    """What was recorded in the examination it follows."""
    urgent: Mapping[str, str] = field(default_factory=dict)
    """Urgent findings that are raised, each with its urgency."""
    patterns: Mapping[str, str] = field(default_factory=dict)
    """Verdicts on patterns."""

    @property
    def told(self) -> tuple[str, ...]:
        """The findings as a person reads them, one a line."""
        lines = list(_told(self.found))
        if self.fill:
            lines.append(_(N_("Everything else is answered and normal")))
        lines += [_(N_("Urgent finding: {code}")).format(code=code) for code in self.urgent]
        lines += [f"{pattern}: {_(_VERDICTS[verdict])}" for pattern, verdict in self.patterns.items()]
        if self.earlier is not None:
            lines += [_(N_("Earlier, {finding}")).format(finding=line) for line in _told(self.earlier)]
        return tuple(lines)


@dataclass(frozen=True, kw_only=True)
class Explanation:
    """Why a rule exists."""

    rule: str
    severity: Severity
    message: str
    """With “…” where an examination fills in its own words."""
    why: str
    source: str
    flags: Example
    silent: Example


def explain(rule_id: str) -> Explanation:
    """Return why a rule exists, its source, an example that flags and one that stays silent; KeyError if unknown."""
    rule = rule_named(rule_id)
    found = examples()[rule.id]
    blanks = {name: "…" for _text, name, _spec, _conversion in Formatter().parse(rule.message) if name}
    return Explanation(
        rule=rule.id,
        severity=rule.severity,
        message=_(rule.message).format(**blanks),
        why=_(rule.why),
        source=_(rule.source),
        flags=next(example for example in found if example.flags),
        silent=next(example for example in found if not example.flags),
    )


@cache
def examples() -> Mapping[str, tuple[Example, ...]]:
    """Return the shipped examples by rule id."""
    found: dict[str, tuple[Example, ...]] = {}
    for file in shipped.names(*FOLDER):
        if file.endswith(".toml"):
            found.update(examples_in(shipped.read_text(*FOLDER, file)))
    return found


def examples_in(text: str) -> dict[str, tuple[Example, ...]]:
    """Return the examples of a TOML text by rule id."""
    return {rule_id: tuple(_examples(table)) for rule_id, table in tomllib.loads(text).items()}


def _examples(table: Mapping[str, Any]) -> Iterator[Example]:
    for kind, flags in (("flags", True), ("silent", False)):
        for told in table.get(kind, ()):
            rest = {key: value for key, value in told.items() if key not in _READ}
            yield Example(
                flags=flags,
                found=dict(_flat(told["exam"])),
                names=tuple(path for name in told.get("names", ()) for path in _whole(name)),
                without=tuple(path for name in told.get("without", ()) for path in _whole(name)),
                severity=Severity(told["severity"]) if "severity" in told else None,
                earlier=dict(_flat(told["earlier"])) if "earlier" in told else None,
                **rest,
            )


_READ = ("exam", "names", "without", "severity", "earlier")


def _flat(table: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Any]]:
    """Yield what stands at every whole path; a path without its side stands for both."""
    for key, value in table.items():
        here = f"{above}{key}"
        sides = isinstance(value, dict) and not set(value).difference(SIDES)
        if not is_path(here) or (sides and value):
            yield from _flat(value, f"{here}.")
        else:
            plain = entry(here).plain
            finding = isinstance(value, dict) and ("value" in value or "not_examined" in value)
            for path in _whole(here):
                yield path, value if plain or finding else {"value": value}


def _whole(name: str) -> Paths:
    if not is_path(name):
        return (name,)
    at = entry(name)
    return at.paths if name == at.path else (name,)


def _told(found: Mapping[str, Any]) -> Iterator[str]:
    for path, at in found.items():
        if isinstance(at, dict) and "not_examined" in at:
            answer = _(N_("not examined: {reason}")).format(reason=_(REASONS[at["not_examined"]]))
        else:
            answer = _answer(path, at["value"] if isinstance(at, dict) else at)
        comment = f" ({at['comment']})" if isinstance(at, dict) and "comment" in at else ""
        yield f"{items_in_words((path,))}: {answer}{comment}"


def _answer(path: str, value: Any) -> str:
    answers = entry(path).answers
    if isinstance(value, list):
        return ", ".join(_answer(path, word) for word in value) or _(N_("asked, and none"))
    if isinstance(value, dict):
        return " / ".join(f"{number:g}" for number in value.values())
    if answers and value in answers.words:
        return _(answers.words[value])
    return f"{value:g}" if isinstance(value, int | float) else str(value)
