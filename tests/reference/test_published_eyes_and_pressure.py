"""Head impulse gain and falls of pressure against the numbers as published."""

import pytest

from neuroform.errors import TableError
from neuroform.reference.blood_pressure import orthostatic, orthostatic_limits
from neuroform.reference.head_impulse import bilateral_gain_limit, gain_limit, gain_limits


def test_loss_on_both_sides_is_a_gain_under_six_tenths() -> None:
    # Strupp et al., J Vestib Res 2017;27:177-189: read.
    limit = bilateral_gain_limit()
    assert limit.value == 0.6
    assert not limit.normal(0.59)
    assert limit.normal(0.6)
    assert "Strupp" in limit.source
    assert not limit.unverified


def test_conflicting_limits_of_one_side_all_stand_with_their_sources() -> None:
    assert [(limit.value, limit.source) for limit in gain_limits()] == [
        (0.8, "BMJ Neurol Open 2022;4:e000284"),
        (0.79, "Mossman B et al. J Otolaryngol Head Neck Surg 2015;44:29"),
        (0.75, "Mossman B et al. J Otolaryngol Head Neck Surg 2015;44:29"),
        (0.68, "review PMC5854194"),
    ]


def test_clinic_chooses_a_limit_by_its_name() -> None:
    for limit in gain_limits():
        assert gain_limit(limit.name) is limit
    assert gain_limit().value == 0.8


def test_unknown_name_is_refused_with_the_names_there_are() -> None:
    with pytest.raises(TableError, match=r"called none-such.*common-use, two-sd-80-ms"):
        gain_limit("none-such")


@pytest.mark.parametrize(("lying", "fall"), [(90, 20), (139, 20), (140, 30), (200, 30)])
def test_greater_fall_is_asked_for_when_the_pressure_lying_is_high(lying: int, fall: int) -> None:
    # Freeman et al., Clin Auton Res 2011;21:69-72: read.
    limits = orthostatic_limits(lying)
    assert limits.systolic_fall == fall
    assert limits.diastolic_fall == 10
    assert limits.minutes == 3
    assert limits.lying_minutes == 5
    assert limits.high_lying == (lying >= 140)


def test_other_limits_of_standing_keep_their_own_sources_and_marks() -> None:
    table = orthostatic()
    assert (table.standing_systolic.value, table.standing_systolic.mark) == (90, "quoted")
    systolic, diastolic, about = table.sitting_fall
    # Shaw et al., J Hypertens 2017;35:1019-1025: read.
    assert (systolic, diastolic, about.mark) == (15, 7, "read")
    # Norcliffe-Kaufmann et al., Ann Neurol 2018;83:522-531: from memory.
    assert (table.pulse_ratio.value, table.pulse_ratio.unverified) == (0.5, True)
