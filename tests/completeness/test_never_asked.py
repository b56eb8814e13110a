"""Nothing is asked for that is unsafe or impossible, whatever else was found; and left is treated as right is."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from neuroform.completeness.examples import Example, examples
from neuroform.completeness.gaps import Gap, Severity
from neuroform.completeness.register import check, complete, needed, see
from neuroform.exam.conclusion import GapReason
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import OTHER, SIDES, entries, put, side_of
from neuroform.protocols.loading import load
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.interpretation import read
from tests.exam.strategies import generated

Check = Callable[..., tuple[Gap, ...]]
EXAMS = st.sampled_from(tuple(generated(60, seed=4_711)))
"""Made once: from nearly blank to full, from healthy to anything at all."""
FEW = settings(max_examples=40)
PROTOCOLS = st.sampled_from(("full", "ward", "acute_vertigo", "weak_legs"))

# Written out again here, from the rule and not from the code.
MOVING_THE_HEAD = (
    "head_and_eyes.head_impulse",
    "head_and_eyes.head_impulse_gain",
    "head_and_eyes.positional_test",
    "head_and_eyes.roll_test",
    "head_and_eyes.head_shaking_nystagmus",
    "head_and_eyes.acuity_lines_lost_on_head_shaking",
)
NECKS = (
    "neck_instability",
    "neck_trauma",
    "neck_artery_dissection",
    "neck_surgery",
    "severe_neck_pain",
    "atlantoaxial_risk",
)


def asked(exam: Examination, protocol: str = "full") -> set[str]:
    """Return every path that a gap asks for; a contradiction asks for nothing, it names what is recorded."""
    reading = read(exam)
    gaps = check(exam, reading, load(protocol))
    assert [gap.rule for gap in gaps if gap.rule.startswith("could-not")] == []
    recorded = Facts(exam).found
    named = {path for gap in gaps if gap.severity is not Severity.NOTICE for path in gap.items if not gap.does_not_fit}
    return {path for path in {*named, *needed(see(exam, reading, load(protocol)))} if path not in recorded}


def with_caution(exam: Examination, caution: str) -> Examination:
    return put(exam, "context.cautions", (caution,))


@FEW
@given(exam=EXAMS, caution=st.sampled_from(NECKS), protocol=PROTOCOLS)
def test_h2_no_test_that_moves_the_head_is_asked_for_with_a_neck_at_risk(
    exam: Examination, caution: str, protocol: str
) -> None:
    assert not [path for path in asked(with_caution(exam, caution), protocol) if path.startswith(MOVING_THE_HEAD)]


@FEW
@given(exam=EXAMS, caution=st.sampled_from(("neck_instability", "neck_trauma")))
def test_h23_nothing_on_the_feet_is_asked_for_with_an_unstable_neck(exam: Examination, caution: str) -> None:
    assert not [path for path in asked(with_caution(exam, caution)) if path.startswith(("standing.", "walking."))]


@FEW
@given(exam=EXAMS, protocol=PROTOCOLS)
def test_h23_nothing_on_the_feet_is_asked_for_of_someone_who_cannot_stand(exam: Examination, protocol: str) -> None:
    paths = asked(with_caution(exam, "cannot_stand"), protocol)
    assert not [
        path
        for path in paths
        if path.startswith(("standing.", "walking.", "circulation.standing")) and path != "standing.sitting_balance"
    ]


@FEW
@given(
    exam=EXAMS,
    power=st.sampled_from(("0", "1", "2")),
    group=st.sampled_from(("hip_flexion", "ankle_dorsiflexion", "ankle_eversion")),
    side=st.sampled_from(SIDES),
)
def test_h23_nothing_on_the_feet_is_asked_for_with_power_of_two_or_less_in_a_leg(
    exam: Examination, power: str, group: str, side: str
) -> None:
    weak = put(exam, f"motor.power.{group}.{side}", Examined(value=power))
    assert not [
        path
        for path in asked(weak)
        if path.startswith(("standing.", "walking.")) and path != "standing.sitting_balance"
    ]


@FEW
@given(exam=EXAMS)
def test_h23_nothing_on_the_feet_is_asked_for_while_an_unstable_neck_is_possible(exam: Examination) -> None:
    injured = put(put(exam, "context.symptoms", ("neck_injury",)), "context.onset", Examined(value="acute"))
    paths = asked(injured)
    assert not [path for path in paths if path.startswith(("standing.", "walking.", *MOVING_THE_HEAD))]


@FEW
@given(
    exam=EXAMS,
    ended=st.sampled_from(("stepped", "opened_eyes", "needed_support", "fell")),
)
def test_foam_is_never_asked_for_after_a_lost_firm_stance(exam: Examination, ended: str) -> None:
    lost = put(exam, "standing.firm.eyes_closed.ended", Examined(value=ended))
    assert not [path for path in asked(lost) if path.startswith("standing.foam.")]


@FEW
@given(
    exam=EXAMS,
    list_name=st.sampled_from(("limb_absent", "limb_immobilised")),
    level=st.sampled_from(("foot", "below_knee", "above_knee")),
    side=st.sampled_from(SIDES),
)
def test_what_a_missing_or_immobilised_limb_makes_impossible_is_not_asked_for(
    exam: Examination, list_name: str, level: str, side: str
) -> None:
    paths = asked(put(exam, f"context.{list_name}", (f"{side}_{level}",)))
    gone = [f"sensation.joint_position.great_toe.{side}", f"sensation.vibration.great_toe.{side}"]
    gone += [f"reflexes.ankle.{side}", f"reflexes.plantar.{side}", f"sensation.pinprick.{side}"]
    gone += [f"coordination.heel_shin.{side}", f"motor.power.ankle_dorsiflexion.{side}"]
    gone += ["standing.firm.eyes_closed.sway", "walking.tandem.correct_steps"]
    gone += [f"reflexes.knee.{side}"] if level == "above_knee" else []
    assert paths.isdisjoint(gone)


@FEW
@given(exam=EXAMS, protocol=PROTOCOLS)
def test_what_needs_eyes_is_not_asked_for_without_useful_vision(exam: Examination, protocol: str) -> None:
    paths = asked(put(exam, "context.useful_vision", Examined(value="none")), protocol)
    assert not [path for path in paths if ".eyes_closed." in path or "head_impulse" in path or "gaze" in path]
    assert paths.isdisjoint({"head_and_eyes.nystagmus", "head_and_eyes.skew"})


@FEW
@given(exam=EXAMS, protocol=PROTOCOLS)
def test_a_reason_given_on_every_named_item_leaves_only_what_does_not_fit(exam: Examination, protocol: str) -> None:
    plain = {path for at in entries() if at.plain for path in at.paths}
    for path in asked(exam, protocol) - {"patient.birth_date", "encounter.examined_at"}:
        exam = put(exam, path, _said(path) if path in plain else NotExamined(not_examined="declined"))
    gaps = check(exam, read(exam), load(protocol))
    left = {path for gap in gaps for path in gap.items if gap.severity is not Severity.NOTICE and not gap.does_not_fit}
    assert not [path for path in left if path not in Facts(exam).found and path not in plain and side_of(path)]


def _said(path: str) -> Any:
    return () if path in ("context.symptoms", "context.cautions") else "immediate" if "urgency" in path else "said"


@FEW
@given(exam=EXAMS, protocol=PROTOCOLS)
def test_every_gap_names_whole_paths_and_speaks(exam: Examination, protocol: str) -> None:
    whole = {path for at in entries() for path in at.paths} | {"patient.birth_date", "encounter.examined_at"}
    for gap in check(exam, read(exam), load(protocol)):
        assert gap.items
        assert set(gap.items) <= whole
        assert gap.message
        assert "{" not in gap.message
        assert gap.source


@FEW
@given(exam=EXAMS, protocol=PROTOCOLS)
def test_explaining_every_gap_makes_it_complete(exam: Examination, protocol: str) -> None:
    gaps = check(exam, read(exam), load(protocol))
    reasons = tuple(GapReason(rule=gap.rule, items=gap.items, reason="said why") for gap in gaps)
    conclusion = exam.conclusion.model_copy(update={"gap_reasons": reasons})
    explained = exam.model_copy(update={"conclusion": conclusion})
    after = check(explained, read(explained), load(protocol))
    assert complete(after)
    assert [(gap.rule, gap.items) for gap in after] == [(gap.rule, gap.items) for gap in gaps]


def mirrored(at: Any) -> Any:
    """Swap right and left in paths and codes."""
    if isinstance(at, dict):
        return {mirrored(key): value if key in ("comment", "entered") else mirrored(value) for key, value in at.items()}
    if isinstance(at, list | tuple):
        return [mirrored(one) for one in at]
    if not isinstance(at, str) or " " in at:
        return at
    parts = at.replace(".", "\0.\0").replace("_", "\0_\0").split("\0")
    return "".join(OTHER.get(part, part) for part in parts)


@pytest.mark.parametrize(
    ("rule_id", "example"),
    [
        pytest.param(rule_id, example, id=f"{rule_id}: {example.name}")
        for rule_id, found in examples().items()
        for example in found
    ],
)
def test_the_mirrored_example_gives_the_mirrored_gaps(
    check_example: Callable[[Example], tuple[Gap, ...]], rule_id: str, example: Example
) -> None:
    other = Example(
        name=example.name,
        flags=example.flags,
        found=mirrored(dict(example.found)),
        protocol=example.protocol,
        age=example.age,
        examined_at=example.examined_at,
        fill=example.fill,
        without=tuple(mirrored(example.without)),
        earlier=None if example.earlier is None else mirrored(dict(example.earlier)),
        urgent=example.urgent,
        patterns=example.patterns,
    )
    here = sorted((gap.rule, gap.severity.value, sorted(mirrored(gap.items))) for gap in check_example(example))
    there = sorted((gap.rule, gap.severity.value, sorted(gap.items)) for gap in check_example(other))
    assert here == there
