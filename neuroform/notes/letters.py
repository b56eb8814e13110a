"""Letters: a referral for each of its readers, and the letter to the patient in plain words."""

from collections.abc import Iterator

from neuroform.exam.conclusion import LETTER_TO, URGENCY_ORDER
from neuroform.notes import heads, rendering, story, wording
from neuroform.notes.content import Basis, Block, Call, Clinic, Column, Prose, Signatures, Urgent
from neuroform.notes.context import context, passed_over, proposed
from neuroform.notes.values import ended, shortened
from neuroform.notes.wording import Wording
from neuroform.reasoning.results import URGENCY_LABELS, Urgency


def template(kind: str, basis: Basis) -> str:
    """Return the name of the template of a letter."""
    return "patient_letter.toml" if kind == "patient_letter" else f"referral/{proposed(basis)}.toml"


def referral(words: Wording, basis: Basis, clinic: Clinic) -> tuple[Block, ...]:
    """Return the blocks of a referral: what its reader needs first, then the headings of every letter."""
    source = wording.source(template("referral", basis), clinic.templates)
    filled = rendering.render(source, context(words, basis, clinic, source.table))
    blocks: list[Block] = [Prose(heading=heading, paragraphs=(text,), whole=True) for heading, text in filled]
    blocks.append(Prose(heading=words("note.scope_heading"), paragraphs=(words("note.scope"),), tone="tiny"))
    return (*blocks, _signatures(words, advice=words("note.advice")))


def first(words: Wording, basis: Basis) -> Prose | None:
    """Return what stands above a letter: that it confirms a call, who was told, and what is still needed."""
    said = []
    if heads.has(basis, "immediate"):
        said.append(words("urgent.telephone"))
        told = basis.exam.conclusion.told
        said.append(words("urgent.told", words=told) if told else words("urgent.not_told"))
    others = passed_over(basis)
    if others:
        said.insert(
            0, words("urgent.elsewhere", readers=words("urgent.and").join(LETTER_TO.words[each] for each in others))
        )
    missing = sum(gap.counts for gap in basis.gaps)
    if missing:
        said.append(words("referral.missing", count=missing))
    return Prose(heading=words("referral.first"), paragraphs=tuple(said)) if said else None


def urgent(words: Wording, basis: Basis) -> tuple[Urgent, ...]:
    """Return the urgent findings, and the writer's own urgency where it is higher than theirs."""
    found = heads.urgent(words, basis)
    level = heads.urgency(basis)
    highest = max((each.urgency for each in basis.reading.urgent), key=URGENCY_ORDER.index, default=None)
    if level in {"routine", highest}:
        return found
    own: Urgency = "immediate" if level == "immediate" else "same_day" if level == "same_day" else "within_days"
    message = words("urgent.writer")
    return (
        Urgent(urgency=own, word=URGENCY_LABELS[own], caption=words("urgent.own"), message=message, source=""),
        *found,
    )


def columns(words: Wording, basis: Basis, clinic: Clinic) -> tuple[Column, ...]:
    """Return to whom and from whom."""
    exam = basis.exam
    letter = exam.conclusion.letter
    reader = LETTER_TO.words[proposed(basis)]
    recipient = letter.recipient or ""
    sender = [heads.by(exam), clinic.name, *clinic.letterhead, exam.encounter.place or ""]
    return (
        Column(caption=words("head.to"), lines=heads.filled((recipient, reader)), strong=True),
        Column(caption=words("head.from"), lines=heads.filled(sender), strong=True),
    )


def person(words: Wording, basis: Basis) -> tuple[str, ...]:
    """Return the person a letter is about, in one line."""
    known = heads.identifiers(words, basis.exam)
    found = (heads.name(basis.exam), heads.born_and_age(words, basis.exam), known)
    return heads.filled(found)


def patient(words: Wording, basis: Basis, clinic: Clinic) -> tuple[Block, ...]:
    """Return the blocks of the letter to the patient; with an urgent finding the call for help comes first."""
    source = wording.source(template("patient_letter", basis), clinic.templates)
    filled = rendering.render(source, context(words, basis, clinic, source.table))
    call = Call(heading=words("patient_letter.call"), lines=tuple(map(ended, _call(Wording(source.table), basis))))
    told: list[Block] = [Prose(heading=heading, paragraphs=(text,)) for heading, text in filled]
    blocks = [call, *told] if basis.reading.urgent else [*told, call]
    return (*_now(Wording(source.table), words, basis), *blocks, _signatures(words, advice=""))


def intro(words: Wording, basis: Basis) -> str:
    """Return for whom the patient's letter is, when, and from whom."""
    exam = basis.exam
    spoken = f"{exam.patient.given_names} {exam.patient.family_name}".strip()
    day = heads.long_day(words, exam.encounter.examined_at.date())
    return words("patient_letter.intro", name=shortened(spoken, 200), day=day, examiner=shortened(heads.by(exam), 200))


def _now(own: Wording, words: Wording, basis: Basis) -> Iterator[Block]:
    for level, name in (("immediate", "now"), ("same_day", "today")):
        if heads.urgency(basis) == level:
            yield Prose(heading=words(f"patient_letter.{name}"), paragraphs=(own(f"call.{name}"),))


def _call(own: Wording, basis: Basis) -> Iterator[str]:
    """Yield when to call for help: what was found first, then what holds for everybody and was not said by then.

    With vertigo come the signs that would make it a stroke. Who has something already is told when it gets worse.
    """
    said: dict[str, None] = {}
    covered: set[str] = set()
    already = story.has_already(basis.exam)
    parts = _parts(own, already)
    for found in basis.reading.urgent:
        name = f"call.urgent.{found.code}"
        said[own(name, **parts) if own.has(name) else found.message] = None
        if own.has(f"call.covers.{found.code}"):
            covered |= set(own.texts(f"call.covers.{found.code}"))
    if story.vertigo(basis.exam) and own.has("call.vertigo"):
        for name in own.names("call.vertigo"):
            if name not in covered:
                said[own(f"call.vertigo.{name}", **parts)] = None
    for name in own.names("call.always"):
        if name not in covered:
            worse = name in already and own.has(f"call.again.{name}")
            said[own(f"call.{'again' if worse else 'always'}.{name}")] = None
    yield from said


def _parts(own: Wording, already: frozenset[str]) -> dict[str, str]:
    """Return what the lines of a call are put together from, of what a person has already that it gets worse."""
    names = own.names("call.part") if own.has("call.part") else ()
    return {
        name: own(
            f"call.part_again.{name}" if name in already and own.has(f"call.part_again.{name}") else f"call.part.{name}"
        )
        for name in names
    }


def _signatures(words: Wording, *, advice: str) -> Signatures:
    return Signatures(
        heading=words("referral.signed"),
        author=words("note.author"),
        supervisor=words("note.supervisor"),
        advice=advice,
        waiting=(words("note.not_signed"), words("note.not_countersigned")),
    )
