"""What `explain` says of a rule."""

from collections.abc import Iterator

from neuroform.cli.funnel import UseError
from neuroform.completeness.examples import Example, Explanation, explain
from neuroform.completeness.gaps import SEVERITY_LABELS
from neuroform.completeness.wording import items_in_words
from neuroform.language import N_, _


def explained(name: str) -> str:
    """Return why a rule exists, its source, and two examples. Raises UseError for an unknown rule."""
    try:
        told = explain(name)
    except KeyError:
        raise UseError(
            _(N_("There is no rule “{rule}”.")).format(rule=name), _(N_("`check --json` names the rules it applied."))
        ) from None
    return "\n".join(_lines(told))


def _lines(told: Explanation) -> Iterator[str]:
    yield f"{told.rule}: {_(SEVERITY_LABELS[told.severity])}"
    yield told.message
    if told.why:
        yield _(N_("Why: {why}")).format(why=told.why)
    yield _(N_("Source: {source}")).format(source=told.source)
    yield from _example(_(N_("Example: {name}.")), told.flags)
    if told.flags.names:
        yield "  " + _(N_("Named: {items}")).format(items=items_in_words(told.flags.names))
    yield from _example(_(N_("Nothing to say: {name}.")), told.silent)


def _example(head: str, example: Example) -> Iterator[str]:
    yield head.format(name=example.name)
    yield from (f"  {line}" for line in example.told)
