"""Why the stance test was judged as it was, in the words beside its result."""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.results import StanceResult
from neuroform.reasoning.stance_test import change, no_change, stance

Found = dict[str, Any]
OPEN, CLOSED, FEET = "standing.firm.eyes_open", "standing.firm.eyes_closed", "standing.feet_position"
STEADY: Found = {f"{OPEN}.sway": "slight", f"{OPEN}.ended": "held"}

ROWS: list[tuple[Found, StanceResult, str, str]] = [
    (
        {**STEADY, f"{CLOSED}.ended": "fell"},
        "positive",
        "lost",
        "Steady with eyes open; the stance was lost on closing them.",
    ),
    (
        {**STEADY, f"{CLOSED}.ended": "fell", FEET: "apart"},
        "positive",
        "feet_apart",
        "Lost on closing the eyes even with feet apart.",
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "stopped_early"},
        "positive",
        "stopped_for_safety",
        "Sway became marked on closing the eyes, and the examiner stopped for safety.",
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "held"},
        "positive",
        "by_sway_alone",
        "By sway alone, the weaker form: sway became marked on closing the eyes.",
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "moderate", f"{CLOSED}.ended": "held", FEET: "together"},
        "negative",
        "more_sway",
        "Held with more sway with eyes closed.",
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "slight", f"{CLOSED}.ended": "held", FEET: "together"},
        "negative",
        "",
        "Held with eyes open and with eyes closed.",
    ),
    (
        {**STEADY, f"{CLOSED}.ended": "fell", "motor.hoover.left": "positive"},
        "inconsistent",
        "",
        "A clear change on closing the eyes, together with a positive functional sign.",
    ),
    (
        {f"{OPEN}.sway": "marked"},
        "unsteady_eyes_open",
        "",
        "With eyes already open the sway was marked or the stance was lost; closing them can't show a change.",
    ),
    (
        {**STEADY, f"{CLOSED}.ended": "fell", "motor.power.knee_extension.left": "3"},
        "not_assessable",
        "",
        "The stance was lost, but power is 3 or less in a leg.",
    ),
    (
        {**STEADY, f"{CLOSED}.ended": "fell", "context.limb_absent": ["left_foot"], FEET: "apart"},
        "not_assessable",
        "",
        "The stance was lost, not with feet together, and a limb is missing or immobilised.",
    ),
]


@pytest.mark.parametrize(("found", "result", "how", "because"), ROWS, ids=[row[3] for row in ROWS])
def test_it_says_why_and_rests_on_everything_that_decided(
    made: Any, found: Found, result: StanceResult, how: str, because: str
) -> None:
    facts = Facts(made(found))
    read = stance(facts)
    assert (read.result, read.how, read.because) == (result, how, because)
    assert set(read.items) == set(facts.found)


@pytest.mark.parametrize(
    "found",
    [
        # Power 4- is not 3; with feet together a missing foot elsewhere clouds nothing.
        {**STEADY, f"{CLOSED}.ended": "fell", "motor.power.knee_extension.left": "4-"},
        {**STEADY, f"{CLOSED}.ended": "fell", "context.limb_absent": ["left_foot"], FEET: "together"},
    ],
)
def test_beside_the_border_the_loss_counts(made: Any, found: Found) -> None:
    assert stance(Facts(made(found))).result == "positive"


@pytest.mark.parametrize(
    ("found", "changed", "unchanged"),
    [
        (ROWS[0][0], True, False),
        (ROWS[6][0], True, False),
        (ROWS[4][0], False, True),
        (ROWS[7][0], False, False),
        (ROWS[8][0], None, None),
    ],
)
def test_a_change_and_none_rest_on_what_decided(
    made: Any, found: Found, changed: bool | None, unchanged: bool | None
) -> None:
    facts = Facts(made(found))
    assert (change(facts).met, no_change(facts).met) == (changed, unchanged)
    items = set(stance(facts).items)
    said = change(facts)
    assert set(said.because) == (set() if changed is None else items)
    assert set(said.clouded) == (set() if changed else items)


def test_what_was_not_recorded_is_missing_for_a_change(made: Any) -> None:
    facts = Facts(made({f"{OPEN}.sway": "slight"}))
    wanted = {f"{OPEN}.ended", f"{CLOSED}.sway", f"{CLOSED}.ended", FEET}
    assert set(change(facts).missing) == set(no_change(facts).missing) == wanted
