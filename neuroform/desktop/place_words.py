"""The words of the Examination place: who is examined, how to test, what a key would record, which keys work here."""

from collections.abc import Iterator
from datetime import datetime

from neuroform.desktop.entering import Entering
from neuroform.desktop.form import Cell, section_label
from neuroform.desktop.head import Person
from neuroform.desktop.keyboard import key_word
from neuroform.desktop.timing import timer_for
from neuroform.desktop.together import Offer
from neuroform.exam.examination import Examination, age
from neuroform.language import N_, _
from neuroform.signing.moments import day


def person(exam: Examination, amount: str, saved: datetime | None, refused: str, *, signed: bool = False) -> Person:
    """Return who is examined, how much, on which day where that isn't today, and when the draft was saved or not.

    `refused` says in its place why it isn't, or, of what is `signed`, when it was.
    """
    usual = amount
    patient = exam.patient
    name = f"{patient.family_name}, {patient.given_names}" if patient.given_names else patient.family_name
    born = patient.birth_date
    facts = [
        _(N_("age {age}")).format(age=age(exam)),
        _(N_("born {date}")).format(date=day(born)),
        *(_(N_("ID {value}")).format(value=each.value) for each in patient.identifiers[:1]),
    ]
    examined = exam.encounter.examined_at.astimezone()
    if examined.date() != datetime.now().astimezone().date():
        amount = _(N_("{amount} of {day}")).format(amount=amount, day=day(examined))
    state = refused or amount
    if saved is not None and not refused:
        words = _(N_("{amount}, draft saved {time}"))
        state = words.format(amount=amount, time=f"{saved.astimezone():%H:%M:%S}")
    how = _(N_("signed")) if signed else refused or _(N_("draft"))
    told = _(N_("{amount}, {state}"))
    brief = (told.format(amount=amount, state=how), told.format(amount=usual, state=how), how)
    return Person(name=name, facts=tuple(facts), state=state, brief=brief)


def hint(cell: Cell, barred: str) -> str:
    """Return how to test what is in focus, "How it ended: the first thing that stopped the trial.", or why not to."""
    if barred:
        return f"{barred[:1].upper()}{barred[1:]}."
    words = _(cell.entry.item.hint)
    label = _(cell.entry.item.label)
    first = words[:1].lower() + words[1:] if not words[:2].isupper() else words
    return f"{label}: {first}" if words else ""


def offered(offer: Offer | None) -> str:
    """Name what one key would record; empty without an offer."""
    if offer is None:
        return ""
    told = _(N_("One key answers {count} blank places of {section} as normal: {names}."))
    section = _(section_label(offer.section))
    words = told.format(count=len(offer.found), section=section, names="; ".join(offer.names))
    if offer.left_out:
        words += " " + _(N_("{count} stay blank, to be answered one by one.")).format(count=offer.left_out)
    return words


def needed(entering: Entering) -> str:
    """Say how many gaps are to be answered before signing, or that it is signed."""
    if entering.document.sealed:
        return _(N_("Signed"))
    if entering.unchecked:
        return _(N_("Could not be checked"))
    lacking = sum(gap.counts for gap in entering.conclusions.gaps)
    return _(N_("{count} needed to sign")).format(count=lacking) if lacking else _(N_("Nothing needed to sign"))


def gaps_in(entering: Entering, section: str) -> int:
    """Return how many gaps that are needed to sign ask for an item of a section."""
    below = f"{section}."
    gaps = entering.conclusions.gaps
    return sum(gap.counts and any(path.startswith(below) for path in gap.items) for gap in gaps)


def progress(entering: Entering) -> str:
    """Say how far the examination is."""
    found = entering.conclusions.progress
    told = _(N_("{done} of {all} answered or explained"))
    return told.format(done=found.answered, all=found.total)


def nothing_next(entering: Entering) -> str:
    """Say why nothing is proposed; of a blank form, where to begin."""
    if entering.document.sealed:
        return _(N_("Nothing is proposed for what is signed."))
    if entering.conclusions.progress.answered:
        return _(N_("Nothing stands out as the next test."))
    return _(N_("Start with the history, or type the name of an item."))


def keys_here(entering: Entering) -> Iterator[tuple[str, str]]:
    """Yield what the keys do where the hand is, and their names."""
    cell = entering.at if not entering.document.sealed else None
    if cell is not None:
        if not cell.entry.plain:
            yield _(N_("not examined")), "x"
        if cell.column == "left" and cell.entry.item.copies:
            yield _(N_("same on the left")), "s"
        if entering.document.get(cell.path) is not None:
            yield _(N_("clear¦take away")), key_word("Backspace")
        if timer_for(cell, entering.document.exam, 0.0) is not None:
            yield _(N_("timer")), key_word("Space")
    if any(gap.counts for gap in entering.conclusions.gaps):
        yield _(N_("next gap")), "g"
    yield from ((_(N_("find")), "f"), (_(N_("next")), key_word("Enter")), (_(N_("keys")), "F1"))


def keys_in_band() -> Iterator[tuple[str, str]]:
    """Yield what the keys do while the hand is in the band, and their names."""
    yield _(N_("to what it rests on")), key_word("Enter")
    yield from ((_(N_("back")), key_word("Escape")), (_(N_("keys")), "F1"))
