"""Standing: every mean against the numbers as published, and the table's own consistency."""

import pytest

from neuroform.reference.results import Limit, PublishedMean, Refusal
from neuroform.reference.stance import (
    Column,
    Eyes,
    Of,
    Who,
    single_leg_fall_risk,
    single_leg_mean,
    single_leg_stance,
    stance_limit,
    stance_trial,
)

# Springer et al., J Geriatr Phys Ther 2007;30(1):8-15, from memory: n, open best, open mean, closed best, closed mean.
SPRINGER: dict[tuple[int, int, Who], tuple[int, float, float, float, float]] = {
    (18, 39, "female"): (44, 45.1, 43.5, 13.1, 8.5),
    (18, 39, "male"): (54, 44.4, 43.2, 16.9, 10.2),
    (18, 39, "all"): (98, 44.7, 43.3, 15.2, 9.4),
    (40, 49, "female"): (47, 42.1, 40.4, 13.5, 7.4),
    (40, 49, "male"): (51, 41.6, 40.1, 12.0, 7.3),
    (40, 49, "all"): (98, 41.9, 40.3, 12.7, 7.3),
    (50, 59, "female"): (50, 40.9, 36.0, 7.9, 5.0),
    (50, 59, "male"): (48, 41.5, 38.1, 8.6, 4.5),
    (50, 59, "all"): (98, 41.2, 37.0, 8.3, 4.8),
    (60, 69, "female"): (50, 30.4, 25.1, 3.6, 2.5),
    (60, 69, "male"): (51, 33.8, 28.7, 5.1, 3.1),
    (60, 69, "all"): (101, 32.1, 26.9, 4.4, 2.8),
    (70, 79, "female"): (45, 16.7, 11.3, 3.7, 2.2),
    (70, 79, "male"): (50, 25.9, 18.3, 2.6, 1.9),
    (70, 79, "all"): (95, 21.5, 15.0, 3.1, 2.0),
    (80, 99, "female"): (22, 10.6, 7.4, 2.1, 1.4),
    (80, 99, "male"): (37, 8.7, 5.6, 1.8, 1.3),
    (80, 99, "all"): (59, 9.4, 6.2, 1.9, 1.3),
}
COLUMNS: tuple[Column, ...] = ("open_best", "open_mean", "closed_best", "closed_mean")
# The clinic page that quotes the means of three with eyes open, rounded to whole seconds, from 40 on.
QUOTED_ROUNDED = {40: 40, 50: 37, 60: 27, 70: 15, 80: 6}


def test_every_cell_of_the_table_is_as_published() -> None:
    shipped = {
        (ages.low, ages.high, who): (group.n, *(group.seconds[column] for column in COLUMNS))
        for ages, groups in single_leg_stance().bands
        for who, group in groups.items()
    }
    assert shipped == SPRINGER


def test_people_of_all_groups_add_up_to_those_the_abstract_names() -> None:
    # n = 549: read in the abstract.
    assert sum(groups["all"].n for _ages, groups in single_leg_stance().bands) == 549
    for _ages, groups in single_leg_stance().bands:
        assert groups["female"].n + groups["male"].n == groups["all"].n


@pytest.mark.parametrize("column", COLUMNS)
def test_mean_of_all_is_the_weighted_mean_of_women_and_men(column: Column) -> None:
    for ages, groups in single_leg_stance().bands:
        women, men, everyone = groups["female"], groups["male"], groups["all"]
        weighted = (women.n * women.seconds[column] + men.n * men.seconds[column]) / everyone.n
        assert abs(weighted - everyone.seconds[column]) <= 0.1, ages


def test_totals_agree_with_the_page_that_quotes_them_rounded() -> None:
    for age, rounded in QUOTED_ROUNDED.items():
        mean = single_leg_mean(age, "open", "mean")
        assert isinstance(mean, PublishedMean)
        assert abs(mean.value - rounded) <= 0.5
        assert mean.mark == "quoted"
        assert not mean.unverified


@pytest.mark.parametrize(
    ("age", "eyes", "of", "seconds"),
    [
        (18, "open", "best", 44.7),
        (39, "closed", "best", 15.2),
        (40, "closed", "best", 12.7),
        (59, "open", "best", 41.2),
        (69, "closed", "mean", 2.8),
        (79, "open", "mean", 15.0),
        (80, "closed", "best", 1.9),
        (99, "open", "best", 9.4),
    ],
)
def test_mean_for_age_is_that_of_women_and_men_together(age: int, eyes: Eyes, of: Of, seconds: float) -> None:
    mean = single_leg_mean(age, eyes, of)
    assert isinstance(mean, PublishedMean)
    assert mean.value == seconds


def test_mean_is_unverified_where_it_is_from_memory() -> None:
    mean = single_leg_mean(71, "closed")
    assert isinstance(mean, PublishedMean)
    assert mean.unverified
    assert "45 s" in mean.note


def test_no_spread_is_kept_from_which_a_z_score_could_be_made() -> None:
    assert set(COLUMNS) == set(single_leg_stance().bands[0][1]["all"].seconds)
    assert not {name for name in PublishedMean.__dataclass_fields__ if "sd" in name or "deviation" in name}


@pytest.mark.parametrize(("age", "words"), [(17, "under 18"), (0, "under 18"), (100, "ends at 99")])
def test_mean_on_one_leg_is_refused_outside_the_table(age: int, words: str) -> None:
    refused = single_leg_mean(age, "open")
    assert isinstance(refused, Refusal)
    assert words in refused.why


def test_five_seconds_on_one_leg_is_the_published_bound_for_falls() -> None:
    # Vellas et al., J Am Geriatr Soc 1997;45:735-738, from memory.
    risk = single_leg_fall_risk()
    assert risk.value == 5
    assert not risk.normal(4.9)
    assert risk.normal(5)
    assert risk.unverified
    assert "Vellas" in risk.source


def test_everyone_held_feet_together_for_thirty_seconds() -> None:
    # Bohannon et al., Phys Ther 1984;64:1067-1070, 184 people of 20 to 79 years: read.
    trial = stance_trial()
    assert trial.value == 30
    assert trial.unit == "s"
    assert not trial.unverified
    assert "184" in trial.population


@pytest.mark.parametrize("age", [20, 50, 79])
def test_stance_has_its_limit_from_twenty_to_seventy_nine(age: int) -> None:
    limit = stance_limit(age)
    assert isinstance(limit, Limit)
    assert limit.value == 30


@pytest.mark.parametrize(("age", "words"), [(17, "under 18"), (19, "begins at 20"), (80, "ends at 79")])
def test_stance_is_refused_where_nobody_was_measured(age: int, words: str) -> None:
    refused = stance_limit(age)
    assert isinstance(refused, Refusal)
    assert words in refused.why
