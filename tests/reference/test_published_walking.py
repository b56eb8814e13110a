"""Walking: speed, timed up and go and heel-to-toe steps against the numbers as published."""

import pytest

from neuroform.reference.results import Limit, PublishedMean, Refusal
from neuroform.reference.walking import (
    Sex,
    tandem_limit,
    tandem_lost_to,
    up_and_go,
    up_and_go_falls,
    up_and_go_limit,
    walking_speed,
    walking_speed_mean,
)

# Bohannon and Andrews, Physiotherapy 2011;97:182-189, quoted whole: ages, men, women, m/s.
BOHANNON_2011 = [
    (20, 29, 1.36, 1.34),
    (30, 39, 1.43, 1.34),
    (40, 49, 1.43, 1.39),
    (50, 59, 1.43, 1.31),
    (60, 69, 1.34, 1.24),
    (70, 79, 1.26, 1.13),
    (80, 99, 0.97, 0.94),
]
# Bohannon, J Geriatr Phys Ther 2006;29:64-68, read: ages, mean, lower and upper end of the interval, s.
BOHANNON_2006 = [(60, 69, 8.1, 7.1, 9.0), (70, 79, 9.2, 8.2, 10.2), (80, 99, 11.3, 10.0, 12.7)]


@pytest.mark.parametrize(("low", "high", "men", "women"), BOHANNON_2011)
def test_speed_is_as_published_for_sex_and_decade(low: int, high: int, men: float, women: float) -> None:
    for age in (low, high):
        for sex, published in (("male", men), ("female", women)):
            mean = walking_speed_mean(age, "male" if sex == "male" else "female")
            assert isinstance(mean, PublishedMean)
            assert mean.value == published
            assert mean.unit == "m/s"
            assert mean.mark == "quoted"


def test_table_of_speed_holds_nothing_else() -> None:
    assert [(ages.low, ages.high) for ages, _means in walking_speed().bands] == [row[:2] for row in BOHANNON_2011]


def test_ends_of_the_speed_table_are_those_of_the_abstract() -> None:
    # 143.4 cm/s, men of 40 to 49, and 94.3 cm/s, women of 80 to 99: read in the abstract.
    men, women = walking_speed_mean(45, "male"), walking_speed_mean(85, "female")
    assert isinstance(men, PublishedMean)
    assert isinstance(women, PublishedMean)
    assert abs(men.value - 1.434) < 0.005
    assert abs(women.value - 0.943) < 0.005


@pytest.mark.parametrize("sex", ["other", "unknown"])
def test_speed_is_refused_where_sex_is_neither(sex: Sex) -> None:
    refused = walking_speed_mean(50, sex)
    assert isinstance(refused, Refusal)
    assert "women and for men" in refused.why


@pytest.mark.parametrize(("age", "words"), [(17, "under 18"), (19, "begins at 20"), (100, "ends at 99")])
def test_speed_is_refused_outside_the_table(age: int, words: str) -> None:
    refused = walking_speed_mean(age, "female")
    assert isinstance(refused, Refusal)
    assert words in refused.why


def test_up_and_go_is_as_published() -> None:
    shipped = [(ages.low, ages.high, mean, low, high) for ages, mean, low, high in up_and_go().bands]
    assert shipped == BOHANNON_2006


@pytest.mark.parametrize(("age", "seconds"), [(60, 9.0), (69, 9.0), (70, 10.2), (80, 12.7), (99, 12.7)])
def test_limit_of_up_and_go_is_the_upper_end_of_the_interval(age: int, seconds: float) -> None:
    limit = up_and_go_limit(age)
    assert isinstance(limit, Limit)
    assert limit.value == seconds
    assert limit.normal(seconds)
    assert not limit.normal(seconds + 0.1)
    assert not limit.unverified


@pytest.mark.parametrize(("age", "words"), [(17, "under 18"), (59, "begins at 60"), (100, "ends at 99")])
def test_up_and_go_is_refused_outside_the_table(age: int, words: str) -> None:
    refused = up_and_go_limit(age)
    assert isinstance(refused, Refusal)
    assert words in refused.why


def test_cut_off_for_falls_is_from_memory_and_a_fast_time_is_no_low_risk() -> None:
    # Shumway-Cook et al., Phys Ther 2000;80:896-903, from memory.
    falls = up_and_go_falls()
    assert falls.value == 13.5
    assert falls.unverified
    assert any("never called a low risk" in note for note in falls.about.notes)


@pytest.mark.parametrize(("age", "normal", "lost"), [(18, 8, 5), (74, 8, 5)])
def test_heel_to_toe_steps_follow_common_practice_under_seventy_five(age: int, normal: int, lost: int) -> None:
    limit = tandem_limit(age)
    assert isinstance(limit, Limit)
    assert limit.value == normal
    assert limit.mark == "common practice"
    assert tandem_lost_to(age) == lost


def test_no_number_of_steps_is_abnormal_from_seventy_five() -> None:
    # Common practice.
    refused = tandem_limit(75)
    assert isinstance(refused, Refusal)
    assert "75" in refused.why
    assert tandem_lost_to(75) == 3


def test_heel_to_toe_steps_are_refused_for_children() -> None:
    assert isinstance(tandem_limit(17), Refusal)
    assert isinstance(tandem_lost_to(17), Refusal)
