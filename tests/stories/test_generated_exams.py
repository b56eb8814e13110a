"""Thousands of generated examinations: the reading never breaks, mirrors, and calls nothing normal that is blank."""

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest

from neuroform.completeness.gaps import Gap
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.exam.walk import OTHER, entry, get
from neuroform.reasoning.results import Sentence
from neuroform.settings import Settings
from neuroform.workflow.conclude import Conclusions, conclude
from tests.exam.strategies import generated

PARTS = 20
SETTINGS = Settings()
SWAP = OTHER
SPARED = {"patient", "encounter", "conclusion"}
CALLS_NORMAL = re.compile(r"\b(normal|full|intact|unchanged|flexor)\b")
SAYS_LACKING = re.compile(
    r"not (recorded|examined)|a normal examination|uncertain|normal scan|full examination|left blank|"
    r"means? nothing"
)


def mirrored_code(text: str) -> str:
    """Swap right and left where they stand as a word of a code or path."""
    return "".join(SWAP.get(part, part) for part in re.split(r"([._])", text))


def mirrored(at: Any) -> Any:
    """Swap right and left in an exam as JSON holds it, but not in free text."""
    if isinstance(at, dict):
        return {mirrored_code(k): v if k == "comment" or k in SPARED else mirrored(v) for k, v in at.items()}
    if isinstance(at, list):
        return [mirrored(one) for one in at]
    return mirrored_code(at) if isinstance(at, str) else at


def mirror_of(exam: Examination) -> Examination:
    raw = files.plain(exam)
    texts = {path: get(exam, path) for path in ("context.reason", "context.balance_affecting_medicines")}
    swapped = mirrored(raw)
    for path, text in texts.items():
        if text is not None:
            swapped["context"][path.rpartition(".")[2]] = text
    return files.read(json.dumps(swapped).encode())


def answer(said: Conclusions) -> tuple[Any, ...]:
    """Return what has to be the same for the mirrored exam."""
    reading = said.reading
    return (
        reading.stance.result,
        dict(reading.systems),
        sorted((one.pattern, one.side or "", one.verdict) for one in reading.patterns),
        sorted((one.code, one.urgency, sorted(one.items)) for one in reading.urgent),
        sorted((gap.rule, gap.severity.value, sorted(gap.items)) for gap in said.gaps if not _spared(gap)),
    )


def swapped(said: tuple[Any, ...]) -> tuple[Any, ...]:
    result, systems, patterns, urgent, gaps = said
    return (
        result,
        systems,
        sorted((name, SWAP.get(side, side), verdict) for name, side, verdict in patterns),
        sorted((code, urgency, sorted(map(mirrored_code, items))) for code, urgency, items in urgent),
        sorted((rule, severity, sorted(map(mirrored_code, items))) for rule, severity, items in gaps),
    )


def _spared(gap: Gap) -> bool:
    """Leave out gaps about free text, which is not mirrored."""
    return gap.rule == "words-in-free-text"


def calls_a_blank_normal(exam: Examination, sentence: Sentence) -> bool:
    """Tell whether a sentence that calls something normal rests on something that was not examined."""
    if not CALLS_NORMAL.search(sentence.text) or SAYS_LACKING.search(sentence.text) or sentence.urgent:
        return False
    findings = [path for path in sentence.items if not entry(path).plain]
    return any(not isinstance(get(exam, path), Examined) for path in findings)


def part(number: int, count: int) -> Iterator[Examination]:
    return generated(count // PARTS, seed=number * 1_000_003)


@pytest.mark.parametrize("number", range(PARTS))
def test_every_generated_examination_is_read_whole(number: int, exam_count: int) -> None:
    for exam in part(number, exam_count):
        said = conclude(exam, SETTINGS)
        assert all(one.items for one in said.sentences)
        assert not [one.text for one in said.sentences if calls_a_blank_normal(exam, one)]
        assert not [gap for gap in said.gaps if gap.rule.startswith("could-not-be-checked")]
        assert swapped(answer(said)) == answer(conclude(mirror_of(exam), SETTINGS))
