"""Asks the program about an exam, in this process, and compares what it says with what a case expects."""

import json
from collections.abc import Iterator
from typing import Any

from neuroform.completeness.register import check, complete, progress, see
from neuroform.exam import files
from neuroform.protocols.loading import load
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.interpretation import read, sentences
from neuroform.reasoning.next_tests import propose
from neuroform.workflow.judging import Checked, Interpreted, gaps_answer, reading_answer

OTHER = {"right": "left", "left": "right"}
TEXT = {"reason", "comment", "title", "why", "family_name", "given_names", "place", "examiner"}
RISING = ("unlikely", "not_assessable", "possible", "supported")
STRONG = {"must", "should"}

Json = dict[str, Any]


def mirrored(found: Any) -> Any:
    """Return an exam, an answer or an expectation with right and left exchanged, free text as it was."""
    if isinstance(found, dict):
        return {_exchanged(key): each if key in TEXT else mirrored(each) for key, each in found.items()}
    if isinstance(found, list):
        return [mirrored(each) for each in found]
    return _exchanged(found) if isinstance(found, str) else found


def _exchanged(text: str) -> str:
    for mark in ":._":
        text = text.replace(mark, f"\0{mark}\0")
    return "".join(OTHER.get(part, part) for part in text.split("\0"))


def reversed_order(found: Any) -> Any:
    """Return the same exam with its keys and lists in reverse order."""
    if isinstance(found, dict):
        return {key: reversed_order(each) for key, each in reversed(found.items())}
    return [reversed_order(each) for each in reversed(found)] if isinstance(found, list) else found


def reading_alone(exam: Json) -> Json:
    """Return what the program reads in an exam, without its sentences and without what to examine next."""
    given = files.read(json.dumps(exam).encode())
    return dict(reading_answer("exam", Interpreted(reading=read(given), next_tests=(), sentences=())))


def asked(exam: Json) -> tuple[Json, Json]:
    """Return what the program finds missing in an exam, and what it reads in it, as its commands print them."""
    given = files.read(json.dumps(exam).encode())
    facts = Facts(given)
    reading = read(given, facts)
    protocol = load(given.encounter.protocol or "full")
    gaps = check(given, reading, protocol, facts=facts)
    proposed = propose(given, reading)
    lacking = Checked(
        gaps=gaps, complete=complete(gaps), progress=progress(see(given, reading, protocol, facts=facts), gaps)
    )
    says = Interpreted(reading=reading, next_tests=proposed, sentences=sentences(given, reading, proposed, facts))
    return dict(gaps_answer("exam", lacking)), dict(reading_answer("exam", says))


def verdicts(says: Json) -> dict[str, str]:
    """Return the verdict of every pattern, by its name (the stronger of its sides) and by `name:side`."""
    found: dict[str, str] = {}
    for each in says["patterns"]:
        names = [each["pattern"], *([f"{each['pattern']}:{each['side']}"] if each["side"] else [])]
        for name in names:
            found[name] = max(found.get(name, RISING[0]), each["verdict"], key=RISING.index)
    return found


def core(lacking: Json, says: Json) -> Json:
    """Return the part of an answer that may not depend on sides or on the order of entry."""
    return {
        "stance": says["stance_test"]["result"],
        "systems": says["systems"],
        "verdicts": verdicts(says),
        "urgent": sorted((each["code"], each["urgency"], sorted(each["items"])) for each in says["urgent"]),
        "next": sorted(each["item"] for each in says["next_tests"]),
        "gaps": sorted((each["rule"], each["severity"], sorted(each["items"])) for each in lacking["gaps"]),
    }


def disagreements(want: Json, lacking: Json, says: Json) -> Iterator[str]:
    """Yield every expectation of a case that the answer does not meet."""
    result = says["stance_test"]["result"]
    if result not in want["stance_test"]:
        yield f"stance test {result}, expected {want['stance_test']}"
    found = verdicts(says)
    for pattern, verdict in want["patterns"].items():
        allowed = _allowed(want, pattern, verdict)
        if found.get(pattern) not in allowed:
            yield f"{pattern} {found.get(pattern)}, expected {allowed}"
    for system, state in (want.get("systems") or {}).items():
        if says["systems"].get(system) != state:
            yield f"system {system} {says['systems'].get(system)}, expected {state}"
    yield from _urgent(want, says)
    yield from _asked_for(want, lacking, says)
    texts = [each["text"] for each in says["sentences"]]
    if says["paragraph"] != " ".join(texts) or not all(each["items"] for each in says["sentences"]):
        yield "the paragraph is not its sentences, or a sentence rests on nothing"


def _allowed(want: Json, pattern: str, verdict: str | list[str]) -> list[str]:
    allowed = verdict if isinstance(verdict, list) else [verdict]
    part = pattern in {"sensory_ataxia", "cerebellar_midline"}
    if part and want["patterns"].get("combined_sensory_cerebellar") == "supported":
        return [*allowed, "supported", "possible"]
    return allowed


def _urgent(want: Json, says: Json) -> Iterator[str]:
    raised = {each["code"]: each["urgency"] for each in says["urgent"]}
    for each in want["urgent"]:
        allowed = each["urgency"] if isinstance(each["urgency"], list) else [each["urgency"]]
        if raised.get(each["code"]) not in allowed:
            yield f"urgent {each['code']} {raised.get(each['code'], 'not raised')}, expected {allowed}"
    one_of = want.get("urgent_any") or []
    if one_of and not raised.keys() & set(one_of):
        yield f"none of {one_of} raised"
    for code in want.get("urgent_must_not") or ():
        if code in raised:
            yield f"urgent {code} raised"
    may = {each["code"] for each in want["urgent"]} | set(want.get("urgent_may") or ()) | set(one_of)
    loud = [code for code, urgency in raised.items() if urgency == "immediate" and code not in may]
    if loud:
        yield f"immediate without cause: {loud}"


def _asked_for(want: Json, lacking: Json, says: Json) -> Iterator[str]:
    strong = [item for gap in lacking["gaps"] if gap["severity"] in STRONG for item in gap["items"]]
    every = [item for gap in lacking["gaps"] for item in gap["items"]]
    proposed = [each["item"] for each in says["next_tests"]]
    for path in want["gaps_must_name"]:
        if not any(_named(path, item) for item in strong):
            yield f"no gap names {path}"
    for path in want["gaps_or_next_tests_name"]:
        if not any(_named(path, item) for item in [*every, *proposed]):
            yield f"neither gap nor next test names {path}"
    for path in want["must_not_be_asked_for"]:
        if any(_named(path, item) for item in [*strong, *proposed]):
            yield f"asked for what can't or mustn't be done: {path}"
    if want["contradiction"] and not any(gap["rule"].startswith("contradiction-") for gap in lacking["gaps"]):
        yield "the contradiction is not named"


def _named(wanted: str, item: str) -> bool:
    first, second = (_one_vibration(path) for path in (wanted, item))
    return second in {first, _without_side(first)} or _without_side(second) == first


def _one_vibration(path: str) -> str:
    return path.replace("vibration_score", "vibration").replace("vibration_seconds", "vibration")


def _without_side(path: str) -> str:
    head, _, last = path.rpartition(".")
    return head if last in OTHER else path
