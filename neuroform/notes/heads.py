"""What stands around the findings on every paper: who, when, by whom, the item line, urgent findings, the foot."""

from collections.abc import Iterable
from datetime import date, datetime

import neuroform
from neuroform.errors import PaperError
from neuroform.exam.conclusion import URGENCY_ORDER
from neuroform.exam.examination import SECTIONS, SEX, Examination, age
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import entry, get, position
from neuroform.figures.item_line import Segment, State, in_words
from neuroform.language import N_, _
from neuroform.notes.content import Basis, Clinic, Column, Foot, Kind, Urgent
from neuroform.notes.findings import Observation, contradicted, observations
from neuroform.notes.grounds import grounds
from neuroform.notes.values import ended, finding_words, shortened
from neuroform.notes.wording import Wording
from neuroform.reasoning import marks
from neuroform.reasoning.results import URGENCY_LABELS, Urgency
from neuroform.reasoning.results import URGENCY_ORDER as GRAVEST_FIRST

_LONGEST_LINE = 400
"""Characters; a name of an institution takes a tenth of it."""


def long_day(words: Wording, day: date) -> str:
    """Return a day as "20 November 2026"."""
    return f"{day.day} {_months(words, 'months')[day.month - 1]} {day.year}"


def short_day(words: Wording, day: date) -> str:
    """Return a day as "20 Nov 2026"."""
    return f"{day.day} {_months(words, 'short_months')[day.month - 1]} {day.year}"


def moment(words: Wording, at: datetime) -> str:
    """Return a day and time as "20 November 2026, 10:15"."""
    return f"{long_day(words, at.date())}, {at:%H:%M}"


def name(exam: Examination) -> str:
    """Return a person's name, family name first."""
    given = exam.patient.given_names
    return f"{exam.patient.family_name}, {given}" if given else exam.patient.family_name


def identifiers(words: Wording, exam: Examination, most: int = 600) -> str:
    """Return the identifiers of a person, the local one simply as "ID", in at most that many characters."""
    known = [
        words("foot.identifier", number=each.value)
        if each.scheme == "local"
        else words("foot.other_identifier", scheme=each.scheme, number=each.value)
        for each in exam.patient.identifiers
    ]
    return shortened(", ".join(known), most)


def born_and_age(words: Wording, exam: Examination) -> str:
    """Return age, date of birth and sex in one line."""
    person = exam.patient
    return words(
        "head.age", age=age(exam), born=long_day(words, person.birth_date), sex=SEX.words.get(person.sex, person.sex)
    )


def by(exam: Examination) -> str:
    """Return who examined and what they are."""
    met = exam.encounter
    return f"{met.examiner}, {met.designation}" if met.designation else met.examiner


def columns(words: Wording, basis: Basis, clinic: Clinic) -> tuple[Column, ...]:
    """Return who was examined, where and how much, and by whom."""
    exam = basis.exam
    person = (name(exam), born_and_age(words, exam), identifiers(words, exam))
    done = words("head.progress", protocol=basis.protocol, answered=basis.progress.answered, total=basis.progress.total)
    examined = (clinic.name, exam.encounter.place or "", done)
    supervisor = exam.encounter.supervisor
    examiner = (
        by(exam),
        words("head.supervisor", name=supervisor) if supervisor else "",
        words("head.stand_by", words=_words(exam, "standing.stand_by")),
        words("head.consent", words=_words(exam, "context.consent")),
    )
    return (
        Column(caption=words("head.patient"), lines=filled(person), strong=True),
        Column(caption=words("head.examined"), lines=filled(examined)),
        Column(caption=words("head.by"), lines=filled(examiner)),
    )


def item_line(words: Wording, basis: Basis) -> tuple[tuple[str, tuple[Segment, ...]], ...]:
    """Return the segments of each section that has any, with the section's short name."""
    clashing = contradicted(basis)
    sections: dict[str, list[Segment]] = {section: [] for section in SECTIONS}
    for path in sorted(basis.needed, key=position):
        sections[entry(path).section].append(_segment(basis.exam, path, clashing))
    return tuple((words(f"sections.{section}"), tuple(segments)) for section, segments in sections.items() if segments)


def item_line_words(line: Iterable[tuple[str, tuple[Segment, ...]]]) -> str:
    """Return the item line in words, section by section."""
    return " ".join(f"{section}: {in_words(segments)}." for section, segments in line)


def urgent(words: Wording, basis: Basis) -> tuple[Urgent, ...]:
    """Return every urgent finding, the gravest first."""
    raised = sorted(basis.reading.urgent, key=lambda found: GRAVEST_FIRST.index(found.urgency))
    observed = observations(basis) if raised else ()
    return tuple(
        Urgent(
            urgency=found.urgency,
            word=URGENCY_LABELS[found.urgency],
            caption=words("urgent.caption"),
            message=found.message,
            source=found.source,
            found=_found(words, basis, found.items, observed),
        )
        for found in raised
    )


def _found(words: Wording, basis: Basis, items: Iterable[str], observed: tuple[Observation, ...]) -> str:
    told = grounds(words, basis, items, observed).joined(words)
    return words("urgent.found", findings=ended(told)) if told else ""


def urgency(basis: Basis) -> str:
    """Return the higher of the findings' urgency and the writer's: a code of the exam's scale."""
    codes = [found.urgency for found in basis.reading.urgent]
    written = basis.exam.conclusion.urgency
    return max([*codes, written or "routine"], key=URGENCY_ORDER.index)


def has(basis: Basis, level: Urgency) -> bool:
    """Tell whether an urgent finding of this level was raised."""
    return any(found.urgency == level for found in basis.reading.urgent)


def foot(words: Wording, basis: Basis, kind: Kind, hashed: str, *, own_refused: bool = False) -> Foot:
    """Return what stands at the foot of every page."""
    exam = basis.exam
    day = short_day(words, exam.encounter.examined_at.date())
    person = words("foot.person", name=shortened(name(exam), 120), born=short_day(words, exam.patient.birth_date))
    known = identifiers(words, exam, 240)
    version = neuroform.__version__
    return Foot(
        person=f"{person}, {known}" if known else person,
        paper=words(f"foot.{kind}", day=day),
        page=words("foot.page"),
        caution=words("foot.caution"),
        version=words("foot.version_refused" if own_refused else "foot.version", version=version, hash=hashed),
    )


def banner(words: Wording, clinic: Clinic) -> str:
    """Return what a demonstration's pages say, else nothing."""
    return words("foot.demonstration") if clinic.demonstration else ""


def _segment(exam: Examination, path: str, clashing: frozenset[str]) -> Segment:
    found = get(exam, path)
    state: State = "answered"
    if found is None:
        state = "blank"
    elif isinstance(found, NotExamined):
        state = "not_examined"
    elif isinstance(found, Examined) and found.entered is not None:
        state = found.entered
    return Segment(state=state, abnormal=marks.mark(exam, path) == "abnormal", does_not_fit=path in clashing)


def _words(exam: Examination, path: str) -> str:
    return finding_words(entry(path), get(exam, path))


def filled(lines: Iterable[str]) -> tuple[str, ...]:
    """Return the lines of a column that hold something, each short enough that the column stays on its page."""
    return tuple(shortened(line, _LONGEST_LINE) for line in lines if line)


def _months(words: Wording, which: str) -> tuple[str, ...]:
    found = words.texts(which)
    if len(found) != 12:
        raise PaperError(
            _(N_("The clinic's papers.toml names {count} months.")).format(count=len(found)),
            _(N_("Give it twelve, or leave the line out.")),
        )
    return found
