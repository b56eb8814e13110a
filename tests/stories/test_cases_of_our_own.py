"""Every case, ours and the shared ones: as written, mirrored in reverse order, and with one finding less."""

import copy
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.cases.build import HERE, built, text_of
from tests.cases.comparing import Json, asked, core, disagreements, mirrored, reading_alone, reversed_order, verdicts

OWN = sorted(HERE.glob("V*.json"))
WEAKER_SYSTEMS = {"not_tested", "partly_tested"}
own_cases = pytest.mark.parametrize("own_case", OWN, ids=[case.stem for case in OWN])


def case_in(file: Path) -> tuple[Json, Json]:
    case: Json = json.loads(file.read_text(encoding="utf-8"))
    return case["exam"], case["expected"]


def taken_away(exam: Json) -> Iterator[tuple[str, bool, Json]]:
    """Yield the exam without each finding or list entry: the path, whether an entry went, and the rest."""
    for path in paths_of(exam):
        less = copy.deepcopy(exam)
        at: Any = less
        for step in path[:-1]:
            at = at[step]
        del at[path[-1]]
        yield ".".join(step for step in path if isinstance(step, str)), isinstance(path[-1], int), less


def paths_of(found: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    if isinstance(found, dict):
        if path and ("value" in found or "not_examined" in found):
            yield path
            return
        for key, each in found.items():
            yield from paths_of(each, (*path, key))
    elif isinstance(found, list) and path[0] == "context":
        yield from ((*path, place) for place in range(len(found)))


def holds(file: Path) -> None:
    exam, want = case_in(file)
    assert list(disagreements(want, *asked(exam))) == []


def holds_mirrored(file: Path) -> None:
    exam, want = case_in(file)
    lacking, says = asked(exam)
    other = asked(reversed_order(mirrored(exam)))
    assert list(disagreements(mirrored(want), *other)) == []
    assert core(*other) == core(mirrored(lacking), mirrored(says))


def nothing_rises(file: Path) -> Iterator[str]:
    """Yield what rose, became normal or lost its warning when one finding was taken away."""
    exam, _ = case_in(file)
    says = reading_alone(exam)
    before = verdicts(says)
    opposing = {(each["pattern"], item) for each in says["patterns"] for item in each["opposing"]}
    for path, entry, less in taken_away(exam):
        then = reading_alone(less)
        codes = {each["code"] for each in then["urgent"]}
        yield from (
            f"{each['code']} lost without {path}"
            for each in says["urgent"]
            if path not in each["items"] and each["code"] not in codes
        )
        if entry:
            continue
        yield from (
            f"{name} supported without {path}"
            for name, verdict in verdicts(then).items()
            if verdict == "supported" != before.get(name) and (name.split(":")[0], path) not in opposing
        )
        yield from (
            f"{system} intact without {path}"
            for system, state in then["systems"].items()
            if state == "intact" and says["systems"][system] in WEAKER_SYSTEMS
        )


@own_cases
def test_own_case_holds(own_case: Path) -> None:
    holds(own_case)


@own_cases
def test_own_case_holds_with_right_and_left_exchanged_and_everything_in_reverse_order(own_case: Path) -> None:
    holds_mirrored(own_case)


@own_cases
def test_taking_a_finding_of_an_own_case_away_raises_nothing_and_loses_no_warning(own_case: Path) -> None:
    assert list(nothing_rises(own_case)) == []


def test_shared_case_holds(shared_case: Path) -> None:
    holds(shared_case)


def test_shared_case_holds_with_right_and_left_exchanged_and_everything_in_reverse_order(shared_case: Path) -> None:
    holds_mirrored(shared_case)


def test_taking_a_finding_of_a_shared_case_away_raises_nothing_and_loses_no_warning(shared_case: Path) -> None:
    assert list(nothing_rises(shared_case)) == []


def test_the_case_files_are_what_is_written() -> None:
    files = {file.name: file.read_text(encoding="utf-8") for file in OWN}
    assert files == {f"V{name}.json": text_of(case) for name, case in built().items()}


def test_every_pattern_is_supported_in_one_case_and_kept_down_in_another() -> None:
    up: set[str] = set()
    down: set[str] = set()
    for file in OWN:
        for pattern, verdict in case_in(file)[1]["patterns"].items():
            (up if verdict == "supported" else down).add(pattern.split(":")[0])
    assert up | {"visual_dependence"} == down | {"visual_dependence"} == PATTERNS


def test_every_urgent_code_is_raised_in_one_case_and_kept_out_in_another() -> None:
    wants = [case_in(file)[1] for file in OWN]
    assert {each["code"] for want in wants for each in want["urgent"]} == URGENT
    assert {code for want in wants for code in want["urgent_must_not"]} == URGENT


def paragraph_of(name: str) -> str:
    paragraph: str = asked(case_in(HERE / f"V{name}.json")[0])[1]["paragraph"]
    return paragraph


def test_what_has_a_reason_is_never_called_not_recorded() -> None:
    assert "not recorded" not in paragraph_of("N117")


def test_what_was_uncertain_is_never_called_not_recorded() -> None:
    said = paragraph_of("N38")
    assert "skew was uncertain" in said
    assert not re.search(r"skew (and [\w ]+ )?(was|were) not recorded", said)


def test_a_tremor_that_stops_on_walking_is_not_said_to_go_on() -> None:
    assert "goes on walking" not in paragraph_of("N30")


def test_no_abnormality_is_not_printed_beside_what_must_not_be_delayed() -> None:
    assert "no abnormality was found" not in paragraph_of("N81")


def test_extensor_plantar_responses_are_always_said() -> None:
    assert all("extensor" in paragraph_of(name) for name in ("N63", "N73", "N75", "N76", "N78", "N80"))


PATTERNS = {
    "no_abnormality",
    "sensory_ataxia",
    "length_dependent_neuropathy",
    "dorsal_column",
    "acute_vestibular_peripheral",
    "acute_vestibular_central",
    "compensated_vestibular",
    "bilateral_vestibular",
    "positional_vertigo",
    "cerebellar_midline",
    "cerebellar_hemisphere",
    "combined_sensory_cerebellar",
    "functional",
    "upper_motor_neurone",
    "lower_motor_neurone_weakness",
    "frontal_or_parkinsonian_gait",
    "orthostatic",
    "visual_dependence",
}
URGENT = {
    "acute-vertigo-central-signs",
    "acute-vertigo-central-not-excluded",
    "acute-vertigo-new-hearing-loss",
    "sudden-cerebellar-or-hemispheric-signs",
    "possible-unstable-neck",
    "cord-compression",
    "cauda-equina",
    "rapid-areflexic-weakness",
    "ataxia-confusion-eye-signs",
    "head-injury-anticoagulated",
    "weakness-with-breathing-or-swallowing",
    "spinal-infection-or-cancer-pain",
    "severe-orthostatic-fall",
    "rapid-ataxia",
    "progressive-myelopathy",
    "treatable-myelopathy",
    "subacute-sensory-neuronopathy",
    "subacute-proximal-weakness",
    "gait-bladder-cognition",
    "injurious-falls",
}
