"""What holds for every pattern in every examination: mirror, order, monotony, and never normal unless examined."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from neuroform.exam.walk import entries
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.normal import core_paths
from neuroform.reasoning.patterns import read_patterns
from neuroform.reasoning.results import PatternReading
from neuroform.reasoning.systems import systems
from tests.exam.strategies import generated
from tests.reasoning.changing import mirrored, read_raw, recorded_paths, swapped, varied, without

SEEDS = st.integers(0, 2**32)
# The order of the answer: section 3 of the file format's description.
ORDER = [
    ("no_abnormality", None),
    ("sensory_ataxia", None),
    ("length_dependent_neuropathy", None),
    ("dorsal_column", None),
    ("acute_vestibular_peripheral", "right"),
    ("acute_vestibular_peripheral", "left"),
    ("acute_vestibular_central", None),
    ("compensated_vestibular", "right"),
    ("compensated_vestibular", "left"),
    ("bilateral_vestibular", None),
    ("positional_vertigo", "right"),
    ("positional_vertigo", "left"),
    ("cerebellar_midline", None),
    ("cerebellar_hemisphere", "right"),
    ("cerebellar_hemisphere", "left"),
    ("combined_sensory_cerebellar", None),
    ("functional", None),
    ("upper_motor_neurone", "right"),
    ("upper_motor_neurone", "left"),
    ("lower_motor_neurone_weakness", "right"),
    ("lower_motor_neurone_weakness", "left"),
    ("frontal_or_parkinsonian_gait", None),
    ("orthostatic", None),
    ("visual_dependence", None),
]

Readings = dict[tuple[str, str | None], PatternReading]


def readings(raw: dict[str, Any]) -> Readings:
    return {(one.pattern, one.side): one for one in read_patterns(Facts(read_raw(raw)))}


def test_every_pattern_is_answered_once_in_order_even_of_a_blank_form(made: Any) -> None:
    for exam in (made(), *generated(20)):
        assert [(one.pattern, one.side) for one in read_patterns(Facts(exam))] == ORDER


def test_of_a_blank_form_nothing_is_supported_possible_or_unlikely(made: Any) -> None:
    read = read_patterns(Facts(made()))
    assert {one.verdict for one in read} == {"not_assessable"}
    assert not any(one.supporting or one.opposing for one in read)


@given(SEEDS)
def test_right_and_left_swapped_and_order_reversed_give_the_swapped_answer(seed: int) -> None:
    raw = varied(seed)
    here, there = readings(raw), readings(mirrored(raw))
    for (name, side), one in here.items():
        other = there[name, swapped(side) if side else None]
        assert one.verdict == other.verdict, name
        for ours, theirs in (
            (one.supporting, other.supporting),
            (one.opposing, other.opposing),
            (one.missing, other.missing),
        ):
            assert {swapped(path) for path in ours} == set(theirs), name
    assert systems(Facts(read_raw(raw))) == systems(Facts(read_raw(mirrored(raw))))


@given(SEEDS, st.data())
def test_taking_a_finding_away_supports_nothing_that_it_did_not_oppose(seed: int, data: st.DataObject) -> None:
    raw = varied(seed)
    before = readings(raw)
    for path in data.draw(st.lists(st.sampled_from(list(recorded_paths(raw))), min_size=1, max_size=8, unique=True)):
        gone = ".".join(path)
        for name, after in readings(without(raw, path)).items():
            if after.verdict == "supported" and before[name].verdict != "supported":
                assert gone in before[name].opposing, (name, gone)


@given(SEEDS, st.data())
def test_taking_a_finding_away_makes_no_system_intact_that_was_not_tested_whole(seed: int, data: st.DataObject) -> None:
    raw = varied(seed)
    before = systems(Facts(read_raw(raw)))
    for path in data.draw(st.lists(st.sampled_from(list(recorded_paths(raw))), min_size=1, max_size=8, unique=True)):
        after = systems(Facts(read_raw(without(raw, path))))
        for system, state in after.items():
            assert state != "intact" or before[system] in ("intact", "impaired"), (system, path)


@given(SEEDS)
def test_no_abnormality_is_supported_only_when_the_whole_of_a_full_examination_has_a_value(seed: int) -> None:
    facts = Facts(read_raw(varied(seed)))
    read = {(one.pattern, one.side): one for one in read_patterns(facts)}
    if read["no_abnormality", None].verdict == "supported":
        for path in core_paths(facts):
            assert facts.found[path] is not None
        assert not any(one.strong for one in read.values() if one.verdict in ("supported", "possible"))


@given(SEEDS)
def test_never_both_supported(seed: int) -> None:
    read = readings(varied(seed))
    supported = {name for (name, _side), one in read.items() if one.verdict == "supported"}
    assert not {"acute_vestibular_peripheral", "acute_vestibular_central"} <= supported
    assert "no_abnormality" not in supported or supported == {"no_abnormality"}
    assert read["visual_dependence", None].verdict != "supported"


@given(SEEDS)
def test_what_supports_and_opposes_was_recorded_and_what_is_missing_was_not_known(seed: int) -> None:
    facts = Facts(read_raw(varied(seed)))
    known = {path for at in entries() for path in at.paths}
    for one in read_patterns(facts):
        assert set(one.supporting) <= set(facts.found), one.pattern
        assert set(one.opposing) <= set(facts.found), one.pattern
        assert set(one.missing) <= known
        assert one.because
