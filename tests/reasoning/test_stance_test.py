"""The stance test: the change on closing the eyes is the test, not the amount of sway.

Rules are common practice; 30 s with feet together, eyes closed, is held by all at 20 to 79 years
(Bohannon 1984, Phys Ther 64:1067-1070).
"""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.stance_test import stance

OPEN, CLOSED = "standing.firm.eyes_open", "standing.firm.eyes_closed"
STEADY_OPEN = {f"{OPEN}.sway": "slight", f"{OPEN}.seconds": 30, f"{OPEN}.ended": "held"}
TOGETHER = {"standing.feet_position": "together"}
HELD = {f"{CLOSED}.sway": "slight", f"{CLOSED}.seconds": 30, f"{CLOSED}.ended": "held"}
FELL = {f"{CLOSED}.sway": "marked", f"{CLOSED}.seconds": 4, f"{CLOSED}.ended": "fell"}


def judged(made: Any, *parts: dict[str, Any]) -> Any:
    found: dict[str, Any] = {}
    for part in parts:
        found |= part
    return stance(Facts(made(found)))


@pytest.mark.parametrize("ended", ["stepped", "opened_eyes", "needed_support", "fell"])
def test_a_stance_lost_on_closing_the_eyes_is_positive(made: Any, ended: str) -> None:
    found = judged(made, STEADY_OPEN, TOGETHER, FELL, {f"{CLOSED}.ended": ended})
    assert (found.result, found.how) == ("positive", "lost")


def test_held_with_feet_together_is_negative(made: Any) -> None:
    assert judged(made, STEADY_OPEN, TOGETHER, HELD).result == "negative"


def test_more_sway_without_a_loss_is_negative_and_said(made: Any) -> None:
    found = judged(made, STEADY_OPEN, TOGETHER, HELD, {f"{CLOSED}.sway": "moderate"})
    assert (found.result, found.how) == ("negative", "more_sway")


def test_sway_that_becomes_marked_is_positive_by_sway_alone(made: Any) -> None:
    found = judged(made, STEADY_OPEN, TOGETHER, HELD, {f"{CLOSED}.sway": "marked"})
    assert (found.result, found.how) == ("positive", "by_sway_alone")


def test_sway_marked_from_moderate_is_no_change(made: Any) -> None:
    found = judged(made, STEADY_OPEN, TOGETHER, HELD, {f"{OPEN}.sway": "moderate", f"{CLOSED}.sway": "marked"})
    assert found.result == "negative"


def test_stopped_by_the_examiner_is_positive_only_when_sway_became_marked(made: Any) -> None:
    stopped = {f"{CLOSED}.ended": "stopped_early", f"{CLOSED}.sway": "marked"}
    assert judged(made, STEADY_OPEN, TOGETHER, stopped).how == "stopped_for_safety"
    quiet = {**stopped, f"{CLOSED}.sway": "moderate"}
    assert judged(made, STEADY_OPEN, TOGETHER, quiet).result == "not_assessable"


@pytest.mark.parametrize(
    "bad", [{f"{OPEN}.sway": "marked"}, *({f"{OPEN}.ended": e} for e in ("stepped", "needed_support", "fell"))]
)
def test_unsteady_with_eyes_open_is_never_positive(made: Any, bad: dict[str, Any]) -> None:
    assert judged(made, STEADY_OPEN, TOGETHER, FELL, bad).result == "unsteady_eyes_open"


@pytest.mark.parametrize(
    "spoilt",
    [
        {f"{OPEN}.ended": "stopped_early"},
        {f"{OPEN}.ended": "opened_eyes"},
        {"context.useful_vision": "none"},
        {"motor.power.ankle_dorsiflexion.left": "3"},
    ],
)
def test_what_spoils_the_test_makes_it_not_assessable(made: Any, spoilt: dict[str, Any]) -> None:
    assert judged(made, STEADY_OPEN, TOGETHER, FELL, spoilt).result == "not_assessable"


def test_a_stance_held_in_spite_of_weakness_stands(made: Any) -> None:
    assert judged(made, STEADY_OPEN, TOGETHER, HELD, {"motor.power.ankle_dorsiflexion": "3"}).result == "negative"


def test_a_wide_stance_hides_the_effect_but_a_loss_counts(made: Any) -> None:
    apart = {"standing.feet_position": "apart"}
    assert judged(made, STEADY_OPEN, apart, HELD).result == "not_assessable"
    assert judged(made, STEADY_OPEN, HELD).result == "not_assessable"
    lost = judged(made, STEADY_OPEN, apart, FELL)
    assert (lost.result, lost.how) == ("positive", "feet_apart")
    plaster = {"context.limb_immobilised": ["left_below_knee"]}
    assert judged(made, STEADY_OPEN, apart, FELL, plaster).result == "not_assessable"


@pytest.mark.parametrize(
    "sign",
    [
        {"standing.firm.distraction": "steadier"},
        {"walking.pattern": ["as_on_ice"]},
        {"motor.hoover.right": "positive"},
    ],
)
def test_a_change_beside_a_functional_sign_is_inconsistent(made: Any, sign: dict[str, Any]) -> None:
    assert judged(made, STEADY_OPEN, TOGETHER, FELL, sign).result == "inconsistent"


def test_hip_movement_alone_is_no_functional_sign(made: Any) -> None:
    """Horak, Nashner, Diener 1990, Exp Brain Res 82:167-177, from memory: people without position sense move more
    at the hips."""
    assert judged(made, STEADY_OPEN, TOGETHER, FELL, {"standing.firm.sway_from": "hips"}).result == "positive"


@pytest.mark.parametrize("missing", [f"{OPEN}.sway", f"{OPEN}.ended", f"{CLOSED}.ended", f"{CLOSED}.sway"])
def test_a_held_trial_without_its_parts_decides_nothing(made: Any, missing: str) -> None:
    found = {**STEADY_OPEN, **TOGETHER, **HELD}
    del found[missing]
    assert judged(made, found).result == "not_assessable"


def test_nothing_recorded_is_not_assessable(made: Any) -> None:
    assert judged(made).result == "not_assessable"


def test_it_names_every_finding_that_decided_it(made: Any) -> None:
    found = judged(made, STEADY_OPEN, TOGETHER, FELL)
    assert set(found.items) == {
        f"{OPEN}.sway",
        f"{OPEN}.ended",
        f"{CLOSED}.sway",
        f"{CLOSED}.ended",
        "standing.feet_position",
    }
