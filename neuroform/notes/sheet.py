"""The completeness sheet for a supervisor, and what an addendum says of the note it adds to."""

from collections.abc import Iterator
from dataclasses import replace

from neuroform.completeness.gaps import SEVERITY_LABELS, Severity
from neuroform.exam.examination import SECTIONS
from neuroform.exam.walk import section_group
from neuroform.notes import note
from neuroform.notes.content import Basis, Block, Earlier, Explained, Findings, Prose, Row
from neuroform.notes.findings import observations
from neuroform.notes.values import begun, ended, shortened
from neuroform.notes.wording import Wording

_LONGEST = 240
"""Characters of a row's words."""


def completeness(words: Wording, basis: Basis) -> tuple[Block, ...]:
    """Return how far the examination is: the gaps by severity, the reasons given, and every item with its mark."""
    return (
        Prose(
            heading=words("completeness.progress"),
            paragraphs=(
                words(
                    "head.progress",
                    protocol=basis.protocol,
                    answered=basis.progress.answered,
                    total=basis.progress.total,
                ),
            ),
        ),
        *_gaps(words, basis),
        *_explained(words, basis),
        *_items(words, basis),
        note.signatures(words),
    )


def addendum(words: Wording, basis: Basis, earlier: Earlier, order: tuple[str, ...]) -> tuple[Block, ...]:
    """Return a note's blocks after what is added and a line that names the paper they add to."""
    named = words("addendum.adds_to_words", title=earlier.title, when=earlier.when)
    digest = words("addendum.file", hash=earlier.sha256)
    lines = tuple(line for line in earlier.text.splitlines() if line.strip())
    added = (Prose(heading=words("addendum.added"), paragraphs=lines),) if lines else ()
    adds_to = Prose(heading=words("addendum.adds_to"), paragraphs=(named,), after=digest)
    return (*added, adds_to, *note.blocks(words, basis, order))


def _gaps(words: Wording, basis: Basis) -> Iterator[Block]:
    still = [gap for gap in basis.gaps if gap.reason is None]
    if not still:
        yield Prose(heading=words("completeness.gaps"), paragraphs=(words("completeness.gaps_none"),))
    for severity in Severity:
        told = tuple(
            (gap.message, f"{ended(gap.why)} {ended(begun(gap.source))}") for gap in still if gap.severity is severity
        )
        if told:
            yield Explained(heading=SEVERITY_LABELS[severity], entries=told)


def _explained(words: Wording, basis: Basis) -> Iterator[Block]:
    block = note.explained(words, basis)
    if block is not None:
        yield block


def _items(words: Wording, basis: Basis) -> Iterator[Block]:
    """Yield a table a section, both sides in their columns, blank and not examined among them."""
    observed = observations(basis)
    for section in SECTIONS:
        rows = tuple(_short(each.row) for each in observed if each.section == section)
        if rows:
            yield Findings(
                heading=section_group(section).label, right=words("note.right"), left=words("note.left"), rows=rows
            )


def _short(row: Row) -> Row:
    """Keep a row on its page: long words stand whole in the note."""
    if row.single is None:
        return row
    return replace(row, single=replace(row.single, words=shortened(row.single.words, _LONGEST)))
