"""Generates whole valid examinations from the catalogue, for every test that needs many.

`exams()` draws few findings and shrinks; `dense_exams()` and `generated()` fill most of the form and are fast.
"""

import json
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta, timezone
from random import Random
from typing import Any

from hypothesis import strategies as st

from neuroform.exam import files
from neuroform.exam.examination import FORMAT, Examination
from neuroform.exam.walk import Entry, entries

REASONS = ("declined", "unable", "unsafe", "absent", "no_equipment", "deferred")
PROTOCOLS = ("full", "ward", "acute_vertigo", "weak_legs")
TEXTS = (
    "a",
    "walks to the shop",
    "Ünal’s “knee”",
    "two\nlines\tand a tab",
    "دوار",
    "眩暈",
    "=1+1",
    "<b>&amp;",
    "x" * 200,
)
MINUTES = (0, 60, -300, 345)


def raw_exam(rng: Random, *, filled: float, healthy: float) -> dict[str, Any]:
    """Make one exam as JSON holds it: each finding there with chance `filled`, then normal with chance `healthy`."""
    raw = {"format": FORMAT, **raw_person(rng)}
    for entry in entries():
        for path in entry.paths:
            if rng.random() < filled:
                place(raw, path, raw_found(rng, entry, healthy))
    if rng.random() < filled / 4:
        reason = {"rule": "one-side-missing", "items": ["motor.tone.left"], "reason": rng.choice(TEXTS)}
        place(raw, "conclusion.gap_reasons", [reason])
    return raw


def raw_person(rng: Random) -> dict[str, Any]:
    """Make who was examined, when and by whom."""
    when = datetime(2000, 1, 1, tzinfo=UTC) + timedelta(seconds=rng.randrange(1_200_000_000))
    local = when.astimezone(timezone(timedelta(minutes=rng.choice(MINUTES))))
    born = local.date() - timedelta(days=rng.randrange(36_500))
    return {
        "patient": {
            "family_name": rng.choice(TEXTS),
            "given_names": rng.choice(("", *TEXTS)),
            "birth_date": max(born, date(1900, 1, 1)).isoformat(),
            "sex": rng.choice(("female", "male", "other", "unknown")),
            "identifiers": [{"scheme": "local", "value": rng.choice(TEXTS)}] * rng.randrange(3),
        },
        "encounter": {
            "examined_at": local.isoformat(),
            "examiner": rng.choice(TEXTS),
            "protocol": rng.choice(PROTOCOLS),
        },
    }


def raw_found(rng: Random, entry: Entry, healthy: float) -> Any:
    """Make what may stand under an item: a plain value, or a finding with a value mostly and sometimes a reason."""
    if entry.plain:
        return raw_value(rng, entry, healthy)
    examined = rng.random() > 0.08
    found = {"value": raw_value(rng, entry, healthy)} if examined else {"not_examined": rng.choice(REASONS)}
    if rng.random() < 0.05:
        found["comment"] = rng.choice(TEXTS)
    if rng.random() < 0.05:
        found["entered"] = rng.choice(("copied", "together"))
    return found


def raw_value(rng: Random, entry: Entry, healthy: float) -> Any:
    """Make a value of an item."""
    words = list(entry.answers.words) if entry.answers else []
    normal = sorted(entry.answers.normal) if entry.answers else []
    if normal and rng.random() < healthy:
        return [rng.choice(normal)] if entry.kind == "words" else rng.choice(normal)
    match entry.kind:
        case "choice":
            return rng.choice(words)
        case "words":
            return _words(rng, words, blank=entry.plain)
        case "text":
            return rng.choice(TEXTS)
        case "number":
            return _number(rng, entry)
        case "joint_position":
            trials = rng.randint(1, 20)
            return rng.choice((rng.choice(words), {"correct": rng.randint(0, trials), "trials": trials}))
        case "pressure":
            diastolic = rng.randint(20, 180)
            found = {"systolic": rng.randint(diastolic + 1, 300), "diastolic": diastolic}
            return {**found, "pulse": rng.randint(20, 300)} if rng.random() < 0.5 else found


def place(raw: dict[str, Any], path: str, found: Any) -> None:
    """Put what was found under its path."""
    *groups, last = path.split(".")
    for group in groups:
        raw = raw.setdefault(group, {})
    raw[last] = found


def exam_of(raw: dict[str, Any]) -> Examination:
    """Read an exam made here, as a file is read."""
    return files.read(json.dumps(raw).encode())


def _words(rng: Random, words: list[str], *, blank: bool) -> list[str]:
    several = [word for word in words if word not in ("normal", "none")]
    chosen = rng.sample(several, rng.randint(0, min(4, len(several))))
    return chosen if chosen or blank else [words[0]]


def _number(rng: Random, entry: Entry) -> float | int:
    low = int(entry.low or 0) if entry.above is None else int(entry.above) + 1
    high = int(entry.high or 0)
    if entry.step:
        return rng.randint(round(low / entry.step), round(high / entry.step)) * entry.step
    if entry.whole or rng.random() < 0.5:
        return rng.randint(low, high)
    return rng.randint(low * 10, high * 10) / 10


def raw_exams() -> st.SearchStrategy[dict[str, Any]]:
    """Draw exams with few findings, as JSON holds them."""
    return st.builds(_sparse, st.randoms(use_true_random=False))


def _sparse(rng: Random) -> dict[str, Any]:
    raw = {"format": FORMAT, **raw_person(rng)}
    places = [(path, entry) for entry in entries() for path in entry.paths]
    for path, entry in rng.sample(places, rng.randint(0, 20)):
        place(raw, path, raw_found(rng, entry, 0.2))
    return raw


def exams() -> st.SearchStrategy[Examination]:
    """Draw valid exams with few findings; they shrink to the ones that matter."""
    return raw_exams().map(exam_of)


def dense_exams() -> st.SearchStrategy[Examination]:
    """Draw valid exams with most of the form filled, from nearly healthy to anything at all."""
    return st.integers(0, 2**32 - 1).map(_dense)


def generated(count: int, seed: int = 0) -> Iterator[Examination]:
    """Yield `count` valid exams, the same ones for the same seed."""
    for number in range(count):
        yield _dense(seed + number)


def raw_dense(seed: int) -> dict[str, Any]:
    """Make the dense exam of a seed, as JSON holds it."""
    rng = Random(seed)
    return raw_exam(rng, filled=rng.choice((0.15, 0.5, 0.9)), healthy=rng.choice((0.0, 0.5, 0.8, 0.95)))


def _dense(seed: int) -> Examination:
    return exam_of(raw_dense(seed))
