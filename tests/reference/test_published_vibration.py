"""Vibration: limits, bands and verdicts against the numbers as published."""

from typing import Literal

import pytest

from neuroform.reference.results import Limit, Refusal
from neuroform.reference.vibration import (
    Method,
    fork_verdict,
    graduated_fork,
    seconds_verdict,
    timed_fork,
    vibration_limit,
    vibration_words,
    word_verdict,
)

# Martina et al., J Neurol Neurosurg Psychiatry 1998;65:743-747, simplified table, from memory: age, arm, leg.
MARTINA = [
    (18, 6.5, 4.5),
    (40, 6.5, 4.5),
    (41, 6.0, 4.0),
    (60, 6.0, 4.0),
    (61, 5.5, 3.5),
    (85, 5.5, 3.5),
    (86, 5.0, 3.0),
    (104, 5.0, 3.0),
]


@pytest.mark.parametrize(("age", "arm", "leg"), MARTINA)
def test_graduated_fork_has_the_published_limit_for_every_age(age: int, arm: float, leg: float) -> None:
    for site, published in (("finger", arm), ("great_toe", leg), ("medial_malleolus", leg)):
        limit = vibration_limit(site, age, method="graduated_fork")
        assert isinstance(limit, Limit)
        assert limit.value == published
        assert limit.better == "high"


def test_limit_of_the_fork_says_that_it_is_from_memory_and_whose_it_is() -> None:
    limit = vibration_limit("great_toe", 71, method="graduated_fork")
    assert isinstance(limit, Limit)
    assert limit.unverified
    assert limit.mark == "from memory"
    assert "Martina" in limit.source
    assert "1998;65:743-747" in limit.source
    assert "64 Hz" in limit.method
    assert "198" in limit.population
    assert limit.band is not None
    assert limit.band.words == "61 to 85 years"


def test_last_band_has_no_upper_end() -> None:
    limit = vibration_limit("finger", 90, method="graduated_fork")
    assert isinstance(limit, Limit)
    assert limit.band is not None
    assert limit.band.words == "86 years and over"


@pytest.mark.parametrize(
    ("reading", "verdict"), [(8.0, "normal"), (3.5, "normal"), (3.0, "borderline"), (2.5, "lost"), (0.0, "lost")]
)
def test_half_a_step_below_the_limit_is_borderline_and_less_is_lost(reading: float, verdict: str) -> None:
    # Limit at 71, leg: 3.5 (Martina, from memory); half a step of grey zone: common practice.
    assert fork_verdict("great_toe", reading, 71) == verdict


@pytest.mark.parametrize(("site", "age"), [("great_toe", 17), ("iliac_spine", 50), ("tibial_tuberosity", 50)])
def test_fork_without_a_limit_is_described(site: str, age: int) -> None:
    assert fork_verdict(site, 1.0, age) == "described"
    assert fork_verdict(site, 8.0, age) == "described"


@pytest.mark.parametrize("method", ["seconds", "words"])
def test_limit_of_the_fork_is_refused_for_other_methods(method: Method) -> None:
    refused = vibration_limit("great_toe", 71, method=method)
    assert isinstance(refused, Refusal)
    assert refused.why.endswith(".")


def test_refusal_names_the_site_in_words() -> None:
    refused = vibration_limit("iliac_spine", 50, method="graduated_fork")
    assert isinstance(refused, Refusal)
    assert "hip bone" in refused.why
    assert "iliac_spine" not in str(refused)


@pytest.mark.parametrize(
    ("seconds", "age", "verdict"),
    [
        # 4.8 s: Chattopadhyay et al., BMJ Open 2024;14:e082193; 5 s, 10 s and 70 years: common practice.
        (0.0, 50, "lost"),
        (4.8, 50, "lost"),
        (4.9, 50, "lost"),
        (5.0, 50, "described"),
        (9.9, 50, "described"),
        (10.0, 50, "normal"),
        (10.0, 70, "normal"),
        (10.0, 71, "described"),
        (3.0, 71, "described"),
        (0.0, 90, "lost"),
        (0.0, 17, "described"),
        (15.0, 17, "described"),
    ],
)
def test_seconds_are_judged_only_outside_the_grey_bands(seconds: float, age: int, verdict: str) -> None:
    assert seconds_verdict(seconds, age) == verdict


def test_every_published_rule_for_seconds_stands_beside_the_others_with_its_source() -> None:
    rules = {rule: about.mark for rule, about in timed_fork().published}
    assert len(rules) == 5
    assert sum("4.8 s" in rule for rule in rules) == 1
    assert sum("10.2 s" in rule for rule in rules) == 1
    assert set(rules.values()) == {"read", "quoted", "from memory"}
    assert "no single accepted number of seconds" in timed_fork().about.notes[0]


@pytest.mark.parametrize(
    ("word", "age", "verdict"),
    [
        ("normal", 30, "normal"),
        ("reduced", 59, "lost"),
        ("reduced", 60, "weak"),
        ("absent", 59, "lost"),
        ("absent", 95, "lost"),
    ],
)
def test_reduced_counts_under_sixty_and_is_weak_from_then_on(
    word: Literal["normal", "reduced", "absent"], age: int, verdict: str
) -> None:
    assert word_verdict(word, age) == verdict


def test_what_is_common_in_healthy_old_people_is_kept_as_published() -> None:
    # Vrancken et al., J Neurol 2006;253:578-589, from 60 years.
    assert dict(vibration_words().found) == {
        "vibration absent at the great toes": 29,
        "vibration absent at the ankles": 15,
        "ankle reflexes absent": 23,
    }


def test_bands_of_the_fork_follow_each_other_without_a_gap() -> None:
    bands = [ages for ages, _arm, _leg in graduated_fork().bands]
    assert all(sum(ages.holds(age) for ages in bands) == 1 for age in range(18, 120))
