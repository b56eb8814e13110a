"""Makes the lists that come from the declarations: `python -m neuroform.generate [--check]`."""

import json
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform import catalogues

if TYPE_CHECKING:
    from neuroform.exam.walk import Entry

CHECKOUT = Path(__file__).resolve().parents[1]
MADE = "Made from the declarations by `python -m neuroform.generate`."


def schema_text() -> str:
    """Return the JSON Schema of exam files."""
    from neuroform.exam.schema import schema

    return json.dumps(schema(), indent=1, ensure_ascii=False) + "\n"


def items_text() -> str:
    """Return the list of items in bedside order: path, name, answers or bounds."""
    from neuroform.exam.walk import entries, section_group

    lines = [
        "# Items",
        "",
        "Made by `python -m neuroform.generate`. “Both sides”: the path ends in `.right` or `.left`.",
    ]
    section = ""
    for entry in entries():
        if entry.section != section:
            section = entry.section
            lines += ["", f"## {section_group(section).label}", "", "| path | name | may hold |", "|---|---|---|"]
        sides = "both sides: " if entry.sided else "plain: " if entry.plain else ""
        lines.append(f"| `{entry.path}` | {entry.item.label} | {sides}{_may_hold(entry)} |")
    return "\n".join(lines) + "\n"


def _may_hold(entry: "Entry") -> str:
    words = ", ".join(f"`{code}`" for code in entry.answers.words) if entry.answers else ""
    match entry.kind:
        case "choice":
            return f"one of {words}"
        case "words":
            return f"a list of {words}"
        case "text":
            return "text"
        case "joint_position":
            return f"correct of trials, or one of {words}"
        case "pressure":
            return "systolic, diastolic, pulse"
        case "number":
            return _bounds(entry)


def _bounds(entry: "Entry") -> str:
    low = f"more than {entry.above:g}" if entry.above is not None else f"{entry.low or 0:g}"
    unit = f" {entry.item.unit}" if entry.item.unit else ""
    whole = "whole number, " if entry.whole else ""
    step = f", in steps of {entry.step:g}" if entry.step else ""
    return f"{whole}{low} to {entry.high:g}{unit}{step}"


def rules_text() -> str:
    """Return the list of completeness rules: what each says, why, and its source."""
    from neuroform.completeness.gaps import SEVERITY_LABELS
    from neuroform.completeness.register import RULES

    lines = ["# Rules", "", MADE + " `neuroform explain RULE` adds an example."]
    for rule in RULES:
        lines += ["", f"## {rule.id}", "", f"{SEVERITY_LABELS[rule.severity]}: {rule.message}"]
        lines += ["", f"Why: {rule.why}"] if rule.why else []
        lines += ["", f"Source: {rule.source}."]
    return "\n".join(lines) + "\n"


def patterns_text() -> str:
    """Return the criteria of every pattern, as a clinician could read them aloud."""
    from neuroform.reasoning.patterns import PATTERNS

    lines = ["# Patterns", "", MADE]
    for pattern in PATTERNS:
        sides = ", judged on each side" if pattern.sided else ""
        lines += ["", f"## {pattern.label}", "", f"`{pattern.name}`{sides}"]
        lines += ["", f"Thought of only with: {pattern.gate_label}."] if pattern.gate_label else []
        lines += ["", "| | weight | criterion | source |", "|---|---|---|---|"]
        for word, criteria in (("for", pattern.speaks_for), ("against", pattern.speaks_against)):
            lines += [f"| {word} | {each.weight} | {each.label} | {each.source} |" for each in criteria]
        lines += ["", pattern.advice] if pattern.advice else []
    return "\n".join(lines) + "\n"


FILES: tuple[tuple[str, Callable[[], str]], ...] = (
    ("resources/schema/neuroform-exam-1.json", schema_text),
    ("docs/items.md", items_text),
    ("docs/rules.md", rules_text),
    ("docs/patterns.md", patterns_text),
    (catalogues.TEMPLATE, catalogues.template_text),
)
"""What is generated: its place in the checkout, and what makes it."""


def drifted(folder: Path) -> Iterator[str]:
    """Yield the generated files of a checkout that are missing or differ from the declarations."""
    for name, make in FILES:
        file = folder / name
        if not file.is_file() or file.read_text(encoding="utf-8") != make():
            yield name


def write(folder: Path) -> None:
    """Write every generated file of a checkout, and bring its catalogues up to date."""
    for name, make in FILES:
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(make(), encoding="utf-8")
    catalogues.update(folder)


def main(words: list[str]) -> int:
    """Write the files, or with --check say which differ and what is untranslated; return the exit status."""
    if words not in ([], ["--check"]):
        sys.stderr.write((__doc__ or "") + "\n")
        return 2
    if not words:
        write(CHECKOUT)
        return 0
    stale = list(drifted(CHECKOUT))
    for name in stale:
        sys.stderr.write(f"{name} differs from the declarations; run python -m neuroform.generate\n")
    faults = list(catalogues.faults(CHECKOUT))
    for fault in faults:
        sys.stderr.write(fault + "\n")
    return 1 if stale or faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
