"""What an urgent finding says beside its fixed words: which sign, what is missing, whether anyone was hurt."""

from typing import Any

import pytest

from neuroform.reasoning.facts import Facts
from neuroform.reasoning.urgent import urgent_findings

Found = dict[str, Any]
EYES = "head_and_eyes"
VERTIGO: Found = {"context.symptoms": ["vertigo"], "context.onset": "acute"}
BENIGN: Found = {
    **VERTIGO,
    f"{EYES}.nystagmus": "beats_left",
    f"{EYES}.head_impulse.right": "corrective_saccade",
    f"{EYES}.head_impulse.left": "normal",
    f"{EYES}.gaze_evoked_nystagmus": "absent",
    f"{EYES}.skew": "absent",
    f"{EYES}.examiner_trained": "yes",
}
AFTER = ". What can't be tested counts as dangerous; look again, also without fixation."
BEFORE = "Acute vertigo in which a central cause is not excluded: "


def message(made: Any, code: str, found: Found) -> str:
    given = {path: value for path, value in found.items() if value is not None}
    return next(one.message for one in urgent_findings(Facts(made(given))) if one.code == code)


@pytest.mark.parametrize(
    ("signs", "words"),
    [
        ({f"{EYES}.skew": "present"}, "skew"),
        (
            {f"{EYES}.skew": "present", f"{EYES}.gaze_evoked_nystagmus": "present"},
            "nystagmus that changes with gaze and skew",
        ),
        (
            {
                f"{EYES}.nystagmus": "downbeat",
                "standing.sitting_balance": "cannot_sit",
                "coordination.heel_shin.left": "severe",
                f"{EYES}.eye_movements": "restricted",
            },
            "nystagmus of a central direction, unable to sit, limb ataxia and restricted eye movements",
        ),
        (
            {"coordination.speech": "slurred", f"{EYES}.brainstem_signs": ["tongue_deviation"]},
            "slurred or scanning speech and a brainstem sign",
        ),
        ({f"{EYES}.head_impulse.right": "normal"}, "a head impulse that does not fit the nystagmus"),
        ({"context.symptoms": ["vertigo", "double_vision"]}, "a central symptom"),
    ],
)
def test_a_central_sign_is_named(made: Any, signs: Found, words: str) -> None:
    said = message(made, "acute-vertigo-central-signs", {**BENIGN, **signs})
    assert said.startswith(f"Acute vertigo with {words}: a stroke or bleed of cerebellum or brainstem is possible.")


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({f"{EYES}.skew": None}, "skew (not recorded)"),
        ({f"{EYES}.skew": "uncertain"}, "skew (not examined or uncertain)"),
        (
            {f"{EYES}.gaze_evoked_nystagmus": "not examined: declined"},
            "nystagmus changing with gaze (not examined or uncertain)",
        ),
        (
            {f"{EYES}.head_impulse.left": None, f"{EYES}.nystagmus": None},
            "head impulse (not recorded); nystagmus (not recorded)",
        ),
        ({f"{EYES}.examiner_trained": "no"}, "the examiner is not trained in these signs"),
        (
            {f"{EYES}.nystagmus": "none", f"{EYES}.examiner_trained": "no"},
            (
                "the examiner is not trained in these signs;"
                " no nystagmus, so a normal head impulse means nothing and gait decides"
            ),
        ),
    ],
)
def test_what_is_missing_is_named(made: Any, changed: Found, words: str) -> None:
    assert message(made, "acute-vertigo-central-not-excluded", {**BENIGN, **changed}) == f"{BEFORE}{words}{AFTER}"


@pytest.mark.parametrize(("changed", "item"), [({f"{EYES}.skew": "uncertain"}, True), ({f"{EYES}.skew": None}, False)])
def test_what_stands_there_uncertain_is_among_its_items(made: Any, changed: Found, item: bool) -> None:
    given = {path: value for path, value in {**BENIGN, **changed}.items() if value is not None}
    one = next(
        each for each in urgent_findings(Facts(made(given))) if each.code == "acute-vertigo-central-not-excluded"
    )
    assert (f"{EYES}.skew" in one.items) is item


@pytest.mark.parametrize(
    ("found", "unasked"),
    [({"context.symptoms": ["falls"]}, True), ({"context.fall_injury": "minor"}, False)],
)
def test_whether_anyone_was_hurt_is_said_to_be_unrecorded(made: Any, found: Found, unasked: bool) -> None:
    said = message(made, "injurious-falls", {**found, "sensation.joint_position.great_toe": "absent"})
    assert said.endswith(" Whether anyone was hurt was not recorded.") is unasked


# Two of eye signs, ataxia and confusion with a nutrition risk: Caine 1997, from memory.
@pytest.mark.parametrize(
    "two",
    [
        {f"{EYES}.nystagmus": "downbeat", "walking.pattern": ["ataxic"]},
        {f"{EYES}.nystagmus": "downbeat", "context.symptoms": ["confusion"]},
        {"walking.pattern": ["ataxic"], "context.symptoms": ["confusion"]},
    ],
)
def test_thiamine_rests_on_the_risk_and_on_both_signs(made: Any, two: Found) -> None:
    facts = Facts(made({"context.background": ["alcohol"], **two}))
    one = next(each for each in urgent_findings(facts) if each.code == "ataxia-confusion-eye-signs")
    assert set(one.items) == set(facts.found)


def test_a_recent_ataxia_without_a_central_sign_is_left_to_the_vertigo_it_goes_with(made: Any) -> None:
    found = {**BENIGN, "context.onset": "subacute", "context.duration_days": 10, "walking.pattern": ["ataxic"]}
    assert "rapid-ataxia" not in {each.code for each in urgent_findings(Facts(made(found)))}


STIFF = {"reflexes.plantar": "extensor", "reflexes.knee": "brisk"}


@pytest.mark.parametrize(
    ("sign", "ends"),
    [
        (
            {"sensation.trunk_level": "T8"},
            (
                "now. The level found is a lower bound. Flaccid legs without reflexes do not exclude the cord; "
                "a rapid neuropathy can look the same."
            ),
        ),
        ({"sensation.trunk_level": "T8", **STIFF}, "now. The level found is a lower bound."),
        ({"context.symptoms": ["fever"], "reflexes.plantar": "extensor"}, "now."),
    ],
)
def test_the_cord_is_warned_of_by_what_was_found_of_this_person(made: Any, sign: Found, ends: str) -> None:
    assert message(made, "cord-compression", {"context.onset": "subacute", **sign}).endswith(ends)


@pytest.mark.parametrize(
    ("sign", "ends"),
    [
        ({"sensation.saddle": "absent"}, "voiding. Normal tone and reflexes do not exclude it."),
        (
            {"context.bladder": "retention", "context.symptoms": ["back_pain"]},
            "voiding. A saddle that was not tested is not excluded. Normal tone and reflexes do not exclude it.",
        ),
    ],
)
def test_the_cauda_is_warned_of_by_what_was_found_of_this_person(made: Any, sign: Found, ends: str) -> None:
    assert message(made, "cauda-equina", {"context.onset": "acute", **sign}).endswith(ends)


@pytest.mark.parametrize(("left", "said"), [("3", True), ("5", False), (None, False)])
def test_the_aorta_is_thought_of_where_both_legs_are_weak(made: Any, left: str | None, said: bool) -> None:
    found = {"context.onset": "sudden", "motor.power.knee_extension.right": "3"}
    found |= {"motor.power.knee_extension.left": left} if left else {}
    assert ("aorta" in message(made, "sudden-cerebellar-or-hemispheric-signs", found)) is said
