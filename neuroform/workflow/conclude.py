"""Draws every conclusion from an examination: reading, gaps, sentences and how far it is."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from neuroform.completeness.gaps import Gap, Progress
from neuroform.completeness.register import complete, found, needed, progress, see
from neuroform.errors import ProtocolError
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.protocols.loading import Protocol, load, load_file
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.following import Following
from neuroform.reasoning.interpretation import read, sentences
from neuroform.reasoning.results import NextTest, Reading, Sentence
from neuroform.settings import Settings, places


@dataclass(frozen=True, kw_only=True)
class Conclusions:
    """What follows from an examination as it stands."""

    reading: Reading
    gaps: tuple[Gap, ...]
    sentences: tuple[Sentence, ...]
    progress: Progress
    needed: tuple[str, ...]
    """Whole paths that are to be examined."""
    next_tests: tuple[NextTest, ...] = ()

    @property
    def complete(self) -> bool:
        """Whether every gap that must be answered is."""
        return complete(self.gaps)

    @property
    def paragraph(self) -> str:
        """The sentences as one text."""
        return " ".join(sentence.text for sentence in self.sentences)


def conclude(
    exam: Examination,
    settings: Settings,
    *,
    protocol: Protocol | None = None,
    earlier: Examination | None = None,
    with_next_tests: bool = False,
) -> Conclusions:
    """Conclude from an examination.

    `protocol` says how much is to be examined, else the exam itself, else the settings. The next tests are costly and
    left out unless asked for. Raises ProtocolError for an unknown name.
    """
    protocol = protocol or protocol_of(exam, settings)
    return _conclude(Facts(exam), protocol, earlier=earlier, with_next_tests=with_next_tests)


class Concluding:
    """Concludes again and again from one examination as it grows; what a change does not touch is kept."""

    def __init__(self, settings: Callable[[], Settings]) -> None:
        """Conclude under the settings as they are each time."""
        self._settings = settings
        self._facts: Following | None = None
        self._protocol: Protocol | None = None

    def __call__(self, exam: Examination) -> Conclusions:
        """Conclude as `conclude` does. Raises ProtocolError for an unknown name."""
        protocol = protocol_of(exam, self._settings())
        facts = self._facts
        self._facts = None  # what fails half-way is not gone on from
        if facts is None or protocol is not self._protocol:
            facts = Following(exam)
        else:
            facts.take(exam)
        conclusions = _conclude(facts, protocol)
        self._facts, self._protocol = facts, protocol
        return conclusions


def _conclude(
    facts: Facts, protocol: Protocol, *, earlier: Examination | None = None, with_next_tests: bool = False
) -> Conclusions:
    exam = facts.exam
    reading = read(exam, facts)
    seen = see(exam, reading, protocol, earlier=earlier, facts=facts)
    gaps = found(seen)
    proposed = _proposed(exam, reading) if with_next_tests else ()
    return Conclusions(
        reading=reading,
        gaps=gaps,
        sentences=sentences(exam, seen.reading, proposed, facts),
        progress=progress(seen, gaps),
        needed=needed(seen),
        next_tests=proposed,
    )


def _proposed(exam: Examination, reading: Reading) -> tuple[NextTest, ...]:
    from neuroform.reasoning.next_tests import propose

    return propose(exam, reading)


def protocol_of(exam: Examination, settings: Settings) -> Protocol:
    """Return how much is to be examined: what the exam names, else what the settings do."""
    return named_protocol(exam.encounter.protocol or settings.protocol)


def named_protocol(name: str) -> Protocol:
    """Return a protocol by its name, the clinic's own before the shipped one. Raises ProtocolError."""
    return _loaded(name, places().protocols)


def chosen_protocol(chosen: str, *, earlier: bool) -> Protocol:
    """Return a protocol by its name or its file's path; one that follows an examination needs that one given.

    Raises ProtocolError.
    """
    is_file = chosen.endswith(".toml") or "/" in chosen or "\\" in chosen
    protocol = load_file(Path(chosen)) if is_file else named_protocol(chosen)
    if protocol.follows and not earlier:
        raise follow_up_alone(protocol)
    return protocol


def follow_up_alone(protocol: Protocol) -> ProtocolError:
    """Return why a follow-up can't be judged by itself."""
    return ProtocolError(
        _(N_("“{name}” follows an earlier examination, and none is given.")).format(name=protocol.name),
        _(N_("Name the earlier exam file with --after.")),
    )


@lru_cache(maxsize=32)
def _loaded(name: str, folder: Path) -> Protocol:
    return load(name, (folder,))
