"""Says of exam files what they lack and what they support: the answers that other programs read."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from neuroform.completeness.gaps import Gap, Progress
from neuroform.completeness.register import complete, found, progress, see
from neuroform.errors import FileError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.protocols.loading import Protocol
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.interpretation import read, sentences
from neuroform.reasoning.results import NextTest, Reading, Sentence
from neuroform.settings import Settings
from neuroform.workflow.conclude import follow_up_alone, protocol_of
from neuroform.workflow.files import read_exam

Answer = Mapping[str, Any]
"""What stands on one line of the commands, as JSON holds it."""


@dataclass(frozen=True, kw_only=True)
class Checked:
    """What an exam file lacks."""

    gaps: tuple[Gap, ...]
    complete: bool
    """Whether every gap that must be answered is."""
    progress: Progress


@dataclass(frozen=True, kw_only=True)
class Interpreted:
    """What the findings in an exam file support."""

    reading: Reading
    next_tests: tuple[NextTest, ...]
    sentences: tuple[Sentence, ...]


def check_file(
    path: Path, settings: Settings, *, protocol: Protocol | None = None, earlier: Examination | None = None
) -> Checked:
    """Say what an exam file lacks, after an `earlier` examination where one is given.

    Raises FileError, also where the earlier one is another person's or not earlier, ExamFileError or ProtocolError.
    """
    exam, _data = read_exam(path)
    if earlier is not None:
        _check_follows(exam, earlier)
    chosen = protocol or protocol_of(exam, settings)
    if chosen.follows and earlier is None:
        raise follow_up_alone(chosen)
    facts = Facts(exam)
    reading = read(exam, facts)
    seen = see(exam, reading, chosen, earlier=earlier, facts=facts)
    gaps = found(seen)
    return Checked(gaps=gaps, complete=complete(gaps), progress=progress(seen, gaps))


def _check_follows(exam: Examination, earlier: Examination) -> None:
    from neuroform.workflow.adding import same_person

    if not same_person(earlier, exam):
        raise FileError(
            _(N_("The earlier examination is about another person.")),
            _(N_("Name the same person's earlier exam file with --after.")),
        )
    if earlier.encounter.examined_at > exam.encounter.examined_at:
        raise FileError(
            _(N_("The earlier examination was made after the one that should follow it.")),
            _(N_("Name the earlier exam file with --after.")),
        )


def interpret_file(path: Path, settings: Settings) -> Interpreted:
    """Say what the findings in an exam file support. Raises FileError, ExamFileError or ProtocolError."""
    exam, _data = read_exam(path)
    protocol_of(exam, settings)  # an unknown one is refused here as well
    from neuroform.reasoning.next_tests import propose

    facts = Facts(exam)
    reading = read(exam, facts)
    proposed = propose(exam, reading)
    return Interpreted(reading=reading, next_tests=proposed, sentences=sentences(exam, reading, proposed, facts))


def gaps_answer(file: str, found: Checked) -> Answer:
    """Return what `check --json` prints of a file."""
    return {
        "file": file,
        "complete": found.complete,
        "gaps": [
            {
                "rule": gap.rule,
                "severity": gap.severity.value,
                "items": list(gap.items),
                "message": gap.message,
                "why": gap.why,
                "source": gap.source,
                "reason": gap.reason,
            }
            for gap in found.gaps
        ],
    }


def reading_answer(file: str, found: Interpreted) -> Answer:
    """Return what `interpret --json` prints of a file."""
    reading = found.reading
    return {
        "file": file,
        "stance_test": {
            "result": reading.stance.result,
            "because": reading.stance.because,
            "items": list(reading.stance.items),
        },
        "systems": dict(reading.systems),
        "patterns": [
            {
                "pattern": each.pattern,
                "side": each.side,
                "verdict": each.verdict,
                "supporting": list(each.supporting),
                "opposing": list(each.opposing),
                "missing": list(each.missing),
                "because": each.because,
            }
            for each in reading.patterns
        ],
        "urgent": [
            {
                "code": each.code,
                "urgency": each.urgency,
                "items": list(each.items),
                "message": each.message,
                "source": each.source,
            }
            for each in reading.urgent
        ],
        "next_tests": [{"item": each.item, "because": each.because} for each in found.next_tests],
        "paragraph": " ".join(each.text for each in found.sentences),
        "sentences": [{"text": each.text, "items": list(each.items)} for each in found.sentences],
        "not_built": list(reading.not_built),
    }
