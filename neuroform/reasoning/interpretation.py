"""The whole reading of an examination, and the paragraph it gives."""

from collections.abc import Iterable, Iterator, Sequence

from neuroform.exam.examination import Examination
from neuroform.language import in_english
from neuroform.reasoning.conclusions_text import last_text, support_text, urgent_text
from neuroform.reasoning.eyes_text import stance_text, vestibular
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.findings_text import circulation, coordination, joint_position, pinprick, strength, vibration
from neuroform.reasoning.patterns import read_patterns
from neuroform.reasoning.results import NextTest, Reading, Sentence
from neuroform.reasoning.said import Said, shortened
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
    person = say("person", exam.patient.sex)
    said: list[Said] = [
        *_brief(urgent_text(reading)),
        *_brief(stance_text(facts, person)),
        *joint_position(facts),
        *vibration(facts),
        *pinprick(facts),
        *vestibular(facts),
        *coordination(facts),
        *strength(facts),
        *circulation(facts),
        *_brief(support_text(facts, reading)),
        *_brief(last_text(reading, next_tests)),
    ]
    return shortened(said, _relied_on(reading))


def _relied_on(reading: Reading) -> frozenset[str]:
    """Return the findings that urgent findings and likely patterns rest on."""
    likely = (one.supporting for one in reading.patterns if one.verdict in ("supported", "possible"))
    return frozenset(path for paths in (*likely, *(one.items for one in reading.urgent)) for path in paths)


def _brief(said: Iterable[Said]) -> Iterator[Said]:
    """Mark sentences as part of the short form."""
    return (one._replace(brief=True) for one in said)


def short_form(said: Sequence[Sentence]) -> tuple[Sentence, ...]:
    """Return the short form for letters: what is urgent, the stance test and the conclusions."""
    return tuple(one for one in said if one.brief)


def paragraph(said: Sequence[Sentence]) -> str:
    """Return the paragraph of its sentences."""
    return " ".join(one.text for one in said)
