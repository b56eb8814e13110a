"""The note: everything found, what was not, what is missing, and the places for two signatures."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from neuroform.completeness.gaps import Severity
from neuroform.exam.conclusion import URGENCY, WORDING_RULE, GapReason
from neuroform.exam.examination import SECTIONS
from neuroform.exam.walk import entry, get, is_path, position, section_group
from neuroform.figures.marks import Mark
from neuroform.notes import overview
from neuroform.notes.content import (
    Basis,
    Block,
    Explained,
    Findings,
    Marked,
    Prose,
    RunIn,
    Signatures,
)
from neuroform.notes.findings import Observation, both_sides, limits, named, observations, sentence
from neuroform.notes.values import ended, lowered
from neuroform.notes.wording import Wording

_STANDS_OUT: frozenset[Mark | None] = frozenset({"abnormal", "borderline", "does_not_fit"})
BLANK_ITEM = "item-of-the-examination-blank"
ORDER = (
    "impression",
    "summary",
    "interpretation",
    "abnormal",
    "not_examined",
    "blank",
    "history",
    "recorded",
    "normal",
    "comments",
    "reasons",
    "open_gaps",
    "plan",
    "limits",
    "scope",
)
"""The blocks of a note as they are usually read."""
_LISTED = 6
"""How many gaps the first page tells one by one."""
_NAMED = 14
"""How many blank items it names."""


def blocks(words: Wording, basis: Basis, order: Sequence[str] = ORDER) -> tuple[Block, ...]:
    """Return the blocks of a note below its urgent findings, in the order they are read; signatures stand last."""
    observed = observations(basis)
    made: dict[str, Block | None] = {
        "impression": _impression(words, basis),
        "summary": overview.summary(words, basis),
        "interpretation": _interpretation(words, basis),
        "abnormal": abnormal(words, observed),
        "not_examined": not_examined(words, observed),
        "blank": blank(words, basis),
        **recorded(words, basis, observed),
        "comments": comments(words, observed),
        "reasons": explained(words, basis),
        "open_gaps": open_gaps(words, basis),
        "plan": plan(words, basis),
        "limits": limits_used(words, basis),
        "scope": Prose(heading=words("note.scope_heading"), paragraphs=(words("note.scope"),), tone="tiny"),
    }
    return (*(block for name in order if (block := made.get(name)) is not None), signatures(words))


def _impression(words: Wording, basis: Basis) -> Block:
    own = basis.exam.conclusion.impression
    return Prose(heading=words("note.impression"), paragraphs=(own or words("note.impression_blank"),))


def _interpretation(words: Wording, basis: Basis) -> Block:
    own = basis.exam.conclusion.paragraph
    edited = own is not None
    generated = " ".join(said.text for said in basis.sentences)
    return Prose(
        heading=words("note.interpretation"),
        paragraphs=(own or generated or words("note.interpretation_blank"),),
        before=words("note.edited") if edited else "",
        after=words("note.as_generated", words=generated) if edited and generated else "",
        whole=True,
    )


def first(words: Wording, basis: Basis) -> tuple[str, ...]:
    """Return what is still needed to sign, for the first page, a line a gap; nothing where nothing is."""
    counting = [gap for gap in basis.gaps if gap.counts]
    if not counting:
        return ()
    others = [gap for gap in counting if gap.rule != BLANK_ITEM]
    said = [ended(gap.message) for gap in others[:_LISTED]]
    if len(others) > _LISTED:
        said.append(words("note.first_more", count=len(others) - _LISTED))
    names = [*_blank_names(_in_order(path for gap in counting if gap.rule == BLANK_ITEM for path in gap.items))]
    if names:
        more = len(names) - _NAMED
        rest = [words("note.first_blank_more", count=more)] if more > 0 else []
        said.append(words("note.first_blank", items="; ".join([*names[:_NAMED], *rest])))
    return tuple(said)


def abnormal(words: Wording, observed: Iterable[Observation]) -> Block:
    """Return the rows of what was found abnormal, borderline, or does not fit."""
    found = [each.row for each in observed if each.marks & _STANDS_OUT]
    # Rows with two sides first, so that the columns stand in one piece.
    rows = (*(row for row in found if row.single is None), *(row for row in found if row.single is not None))
    heading = words("note.abnormal")
    if not rows:
        return Prose(heading=heading, paragraphs=(words("note.abnormal_none"),))
    return Findings(heading=heading, right=words("note.right"), left=words("note.left"), rows=rows)


def not_examined(words: Wording, observed: Iterable[Observation]) -> Block | None:
    """Return what was not examined, each with its reason."""
    entries: list[tuple[Mark, str, str]] = []
    for each in observed:
        missed = [(side, cell.reason) for side, cell in each.cells if cell.mark == "not_examined"]
        if len(missed) == 2 and missed[0][1] == missed[1][1]:
            entries.append(("not_examined", f"{each.label}, both sides", missed[0][1]))
        else:
            entries += [("not_examined", f"{each.label}, {side}" if side else each.label, why) for side, why in missed]
    return Marked(heading=words("note.not_examined"), entries=tuple(entries)) if entries else None


def blank(words: Wording, basis: Basis) -> Block | None:
    """Return what is to be examined and was left blank, and what a gap still needs; the plan says its own blanks."""
    left = _left_blank(basis)
    if not left:
        return None
    lines = []
    for section, paths in groupby(left, key=lambda path: entry(path).section):
        lines.append((section_group(section).label, ended("; ".join(_blank_names(list(paths))))))
    return RunIn(heading=words("note.blank"), lines=(("", words("note.blank_line") + " "), *lines), flowing=True)


def blank_names(basis: Basis) -> Iterator[str]:
    """Yield the names of what stands under Blank in a note."""
    return _blank_names(_left_blank(basis))


def _left_blank(basis: Basis) -> list[str]:
    counting = (path for gap in basis.gaps if gap.counts for path in gap.items if is_path(path))
    asked = [path for path in counting if entry(path).section != "conclusion"]
    needed = [path for path in basis.needed if entry(path).section != "conclusion"]
    return _in_order(path for path in (*needed, *asked) if get(basis.exam, path) is None)


def recorded(words: Wording, basis: Basis, observed: Iterable[Observation]) -> dict[str, Block]:
    """Return the history, what was recorded without saying normal or abnormal, and what was found normal."""
    rest = [each for each in observed if not each.marks & _STANDS_OUT]
    made: dict[str, Block] = {}
    history = [each for each in rest if each.section == "context" and _told(each)]
    if history:
        told = tuple((each.label, ended(both_sides(each))) for each in history)
        made["history"] = RunIn(heading=words("note.history"), lines=told, flowing=True)
    plain = [each for each in rest if each.section != "context"]
    for name, normal in (("recorded", False), ("normal", True)):
        kept = [part for each in plain if (part := _part(each, normal)) is not None]
        lines = tuple(_lines(words, kept))
        if lines:
            made[name] = RunIn(heading=words(f"note.{name}"), lines=lines, flowing=True)
    return made


def comments(words: Wording, observed: Iterable[Observation]) -> Block | None:
    """Return the examiner's comments on findings; those on a reason stand with it."""
    told = tuple(
        (f"{each.label}, {side}" if side else each.label, comment)
        for each in observed
        for side, comment in each.comments
        if "not_examined" not in {cell.mark for at, cell in each.cells if at == side}
    )
    return RunIn(heading=words("note.comments"), lines=told) if told else None


def explained(words: Wording, basis: Basis) -> Block | None:
    """Return the gaps that were answered with a reason, and why an edited wording stands against findings."""
    told = tuple((gap.message, words("note.reason", reason=gap.reason)) for gap in basis.gaps if gap.reason is not None)
    own = basis.exam.conclusion
    if own.paragraph is not None:
        told += tuple(
            (_wording_kept(words, each), words("note.reason", reason=each.reason))
            for each in own.gap_reasons or ()
            if each.rule == WORDING_RULE
        )
    return Explained(heading=words("note.reasons"), entries=told) if told else None


def _wording_kept(words: Wording, given: GapReason) -> str:
    names = ", ".join(dict.fromkeys(named(path) for path in given.items if is_path(path)))
    return words("note.wording_kept", findings=names) if names else words("note.wording_kept_beside_urgent")


def open_gaps(words: Wording, basis: Basis) -> Block | None:
    """Return the gaps nobody answered, but for those on the first page and blanks, which have a block of their own."""
    told = [gap for gap in basis.gaps if gap.counts and gap.rule != BLANK_ITEM][:_LISTED]
    kept = [
        ended(gap.message)
        for gap in basis.gaps
        if gap.reason is None and gap not in told and gap.severity is not Severity.NOTICE and gap.rule != BLANK_ITEM
    ]
    return Prose(heading=words("note.open_gaps"), paragraphs=(" ".join(kept),), tone="small") if kept else None


def plan(words: Wording, basis: Basis) -> Block:
    """Return the plan, how fast, and who was told."""
    own = basis.exam.conclusion
    said = [own.plan or words("note.plan_blank")]
    if own.urgency is not None:
        said.append(words("note.urgency", words=URGENCY.words[own.urgency]))
    if own.told is not None or basis.reading.urgent:
        said.append(words("urgent.told", words=own.told) if own.told else words("urgent.not_told"))
    # Where nobody wrote a plan there is nothing to set apart from what follows it.
    paragraphs = tuple(said) if own.plan else (" ".join(said),)
    return Prose(heading=words("note.plan"), paragraphs=paragraphs)


def limits_used(words: Wording, basis: Basis) -> Block:
    """Return every published limit that was used, with its source and how far it is verified."""
    by_source: dict[tuple[str, str, str], list[str]] = {}
    for label, limit in limits(basis):
        known = f"{limit.mark}, unverified" if limit.unverified else limit.mark
        by_source.setdefault((limit.source, known, limit.method), []).append(label)
    told = tuple(
        words(
            # A source that says itself how far it is known needs no word more.
            "note.limit_known" if source.startswith(known) else "note.limit",
            items="; ".join(labels),
            source=source.rstrip("."),
            method=method.rstrip("."),
            mark=known,
        )
        for (source, known, method), labels in by_source.items()
    )
    return Prose(heading=words("note.limits"), paragraphs=told or (words("note.limits_none"),), tone="tiny")


def signatures(words: Wording) -> Signatures:
    """Return the places for two signatures."""
    return Signatures(
        heading=words("note.signatures"),
        author=words("note.author"),
        supervisor=words("note.supervisor"),
        advice=words("note.advice"),
        waiting=(words("note.not_signed"), words("note.not_countersigned")),
    )


def _in_order(paths: Iterable[str]) -> list[str]:
    return sorted(dict.fromkeys(paths), key=position)


def _blank_names(paths: list[str]) -> Iterator[str]:
    for at, group in groupby(paths, key=lambda path: entry(path).path):
        both = list(group)
        yield lowered(f"{named(at)}, both sides" if len(both) == 2 else named(both[0]))


def _told(observed: Observation) -> bool:
    return any(mark not in {"blank", "not_examined"} for mark in observed.marks)


def _part(observed: Observation, normal: bool) -> Observation | None:
    """Return an observation with only the sides that were found normal, or recorded without being judged."""
    wanted: frozenset[Mark | None] = frozenset({"normal"}) if normal else frozenset({None, "partly_tested"})
    cells = tuple(each for each in observed.cells if each[1].mark in wanted)
    if not cells:
        return None
    return Observation(
        section=observed.section,
        label=observed.label,
        entry=observed.entry,
        cells=cells,
        comments=(),
        together=observed.together,
    )


def _lines(words: Wording, kept: list[Observation]) -> Iterator[tuple[str, str]]:
    for section in SECTIONS:
        here = [each for each in kept if each.section == section]
        if not here:
            continue
        said = ended("; ".join(phrases(here)))
        together = [lowered(each.label) for each in here if each.together]
        if together:
            said += " " + words("note.together", items="; ".join(together))
        yield section_group(section).label, said


def phrases(observed: Iterable[Observation]) -> Iterator[str]:
    """Yield one phrase an item; items of one block that are alike on both sides share one."""
    for (block, alike), group in groupby(observed, key=_alike):
        items = list(group)
        if block and alike and len(items) > 1:
            yield f"{lowered(block)}, {alike}: {', '.join(each.entry.item.short for each in items)}"
        else:
            yield from (f"{sentence(each)}{_notes(each)}" for each in items)


def _alike(observed: Observation) -> tuple[str, str]:
    same = len(observed.cells) == 2 and observed.cells[0][1].words == observed.cells[1][1].words
    plain = not any(set(cell.notes) - {"answered with one key"} for _side, cell in observed.cells)
    if not (same and plain and observed.entry.item.short):
        return "", observed.entry.path
    return observed.entry.groups[-1][1].label, both_sides(observed)


def _notes(observed: Observation) -> str:
    notes = [(side, note) for side, cell in observed.cells for note in cell.notes if note != "answered with one key"]
    shared = dict.fromkeys(f"{side} {note}" if "copied" in note and side else note for side, note in notes)
    return f" ({'; '.join(shared)})" if shared else ""
