"""The whole reading of an examination, and the paragraph it gives."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from neuroform.exam.examination import Examination
from neuroform.language import in_english
from neuroform.reasoning.conclusions_text import last_text, support_text, urgent_text
from neuroform.reasoning.eyes_text import stance_text, vestibular
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.findings_text import (
    circulation,
    consistency,
    coordination,
    joint_position,
    pinprick,
    strength,
    vibration,
)
from neuroform.reasoning.patterns import read_patterns
from neuroform.reasoning.results import NextTest, Reading, Sentence
from neuroform.reasoning.said import Said, shortened
from neuroform.reasoning.settled import settled
from neuroform.reasoning.stance_test import stance
from neuroform.reasoning.systems import systems
from neuroform.reasoning.urgent import urgent_findings
from neuroform.reasoning.wording import say


def read(exam: Examination, facts: Facts | None = None) -> Reading:
    """Read an examination: stance test, systems, patterns and urgent findings, without the words."""
    facts = facts or Facts(exam)
    return Reading(
        stance=stance(facts),
        systems=systems(facts),
        patterns=read_patterns(facts),
        urgent=urgent_findings(facts),
    )


@in_english()
def sentences(
    exam: Examination, reading: Reading, next_tests: Sequence[NextTest] = (), facts: Facts | None = None
) -> tuple[Sentence, ...]:
    """Return the interpretation in its template's language, sentence by sentence; joined by a space, a paragraph."""
    facts = facts or Facts(exam)
    reading = settled(facts, reading)
    said: list[Said] = [
        *facts.kept(_brief, _first, reading),
        *facts.kept(_brief, stance_text, say("person", exam.patient.sex)),
        *(one for tell in _FINDINGS for one in facts.kept(_told, tell)),
        *facts.kept(_brief, support_text, reading),
        *_brief(facts, _last, reading, next_tests),
    ]
    return shortened(said, facts.kept(_relied_on, reading))


Tell = Callable[..., Iterable[Said]]
_FINDINGS: tuple[Tell, ...] = (
    joint_position,
    vibration,
    pinprick,
    vestibular,
    coordination,
    strength,
    consistency,
    circulation,
)
"""What tells of the findings, in the order of the paragraph."""


def _first(_facts: Facts, reading: Reading) -> Iterable[Said]:
    return urgent_text(reading)


def _last(_facts: Facts, reading: Reading, next_tests: Sequence[NextTest]) -> Iterable[Said]:
    return last_text(reading, next_tests)


def _told(facts: Facts, tell: Tell, *of: Any) -> tuple[Said, ...]:
    return tuple(tell(facts, *of))


def _brief(facts: Facts, tell: Tell, *of: Any) -> tuple[Said, ...]:
    """Mark what is told as part of the short form."""
    return tuple(one._replace(brief=True) for one in tell(facts, *of))


def _relied_on(_facts: Facts, reading: Reading) -> frozenset[str]:
    """Return the findings that urgent findings and likely patterns rest on."""
    likely = (one.supporting for one in reading.patterns if one.verdict in ("supported", "possible"))
    return frozenset(path for paths in (*likely, *(one.items for one in reading.urgent)) for path in paths)


def short_form(said: Sequence[Sentence]) -> tuple[Sentence, ...]:
    """Return the short form for letters: what is urgent, the stance test and the conclusions."""
    return tuple(one for one in said if one.brief)


def paragraph(said: Sequence[Sentence]) -> str:
    """Return the paragraph of its sentences."""
    return " ".join(one.text for one in said)
