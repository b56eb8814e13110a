"""What the band says: urgent findings, systems, sentences and proposals in the words of the window."""

from collections.abc import Iterable

from neuroform.desktop.column_layout import Said, SystemView
from neuroform.desktop.form import place
from neuroform.desktop.judge import Conclusions
from neuroform.desktop.urgent_names import short
from neuroform.exam.walk import entry
from neuroform.figures.marks import Mark
from neuroform.language import _
from neuroform.reasoning.results import (
    NO_LOSS_AT_THE_BEDSIDE,
    SYSTEM_LABELS,
    SYSTEM_WORDS,
    URGENCY_LABELS,
    URGENCY_ORDER,
    NextTest,
    Reading,
    Sentence,
    SystemState,
)

_MARKS: dict[SystemState, Mark] = {
    "intact": "normal",
    "impaired": "abnormal",
    "partly_tested": "partly_tested",
    "not_tested": "blank",
}


def urgent(reading: Reading) -> tuple[Said, ...]:
    """Return the urgent findings, the most urgent first."""
    ordered = sorted(reading.urgent, key=lambda found: URGENCY_ORDER.index(found.urgency))
    return tuple(
        Said(
            head=_(URGENCY_LABELS[found.urgency]),
            text=found.message,
            items=found.items,
            urgency=found.urgency,
            short=short(found.code, found.message),
        )
        for found in ordered
    )


def systems(reading: Reading) -> tuple[SystemView, ...]:
    """Return the systems in their order."""
    return tuple(
        SystemView(mark=_MARKS[state], name=_(SYSTEM_LABELS[system]), state=_system_words(system, state))
        for system, state in reading.systems.items()
    )


def _system_words(system: str, state: SystemState) -> str:
    if system == "vestibular" and state == "intact":
        return _(NO_LOSS_AT_THE_BEDSIDE)
    return _(SYSTEM_WORDS[state])


def sentences(conclusions: Conclusions) -> tuple[Said, ...]:
    """Return the sentences of the paragraph: on the stance test, on what is supported or possible, then the rest.

    Those that repeat an urgent finding stand in their own column.
    """
    told = [each for each in conclusions.sentences if not each.urgent]
    weighty = _weighty(conclusions.reading)
    stance = frozenset(conclusions.reading.stance.items)

    def rank(each: Sentence) -> int:
        items = frozenset(each.items)
        if each is told[0] and items & stance:
            return 0
        return 1 if any(found <= items for found in weighty) else 2

    return tuple(Said(text=each.text, items=each.items) for each in sorted(told, key=rank))


def _weighty(reading: Reading) -> tuple[frozenset[str], ...]:
    """Return what each supported or possible pattern rests on."""
    found = (each for each in reading.patterns if each.verdict in {"supported", "possible"})
    return tuple(frozenset(each.supporting) for each in found if len(each.supporting) > 1)


def proposals(found: Iterable[NextTest]) -> tuple[Said, ...]:
    """Return what to examine next."""
    return tuple(Said(head=name(each.item), text=_sentence(each.because), items=_paths(each.item)) for each in found)


def _sentence(words: str) -> str:
    """Write a reason that follows a name as the sentence it is."""
    return words[:1].upper() + words[1:] + ("" if words.endswith(".") else ".")


def name(item: str) -> str:
    """Return the name of an item, with its side where the path has one."""
    found = place(item)
    if found is None:
        return _(entry(item).item.label)
    _section, row, column = found
    return row.cells[column].name if item in row.paths else _(row.cells[0].entry.item.label)


def _paths(item: str) -> tuple[str, ...]:
    found = place(item)
    if found is None:
        return ()
    return (item,) if item in found[1].paths else tuple(cell.path for cell in found[1].cells)
