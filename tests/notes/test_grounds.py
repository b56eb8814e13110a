"""Each urgent finding is printed with the recorded findings it rests on, on every kind of paper that has its frame."""

from copy import deepcopy
from dataclasses import replace
from typing import Any

import pytest

from neuroform.notes import papers
from neuroform.notes.content import Basis, Earlier, Kind
from tests.notes.invented import EXAM, NOW, URGENT, basis_of, exam_of, pages_of, squeezed

EARLIER = Earlier(title="Legs and balance examination, note", when="12 November 2026, 09:30", sha256="9f" * 32)
SIDES = ("right", "left")
POWER = tuple(
    f"motor.power.{name}.{side}" for name in ("hip_flexion", "knee_extension", "ankle_dorsiflexion") for side in SIDES
)


def cord(*items: str, to: str | None = None, symptoms: tuple[str, ...] = ("back_pain", "urinary_retention")) -> Basis:
    """Return the invented person with a level, a numb saddle and weak legs, and an urgent finding on those paths."""
    raw: dict[str, Any] = deepcopy(EXAM)
    raw["context"]["symptoms"] = list(symptoms)
    raw["context"]["onset"] = {"value": "subacute"}
    raw["sensation"] |= {"trunk_level": {"value": "T8"}, "saddle": {"value": "absent"}}
    for name in raw["motor"]["power"]:
        raw["motor"]["power"][name] = {side: {"value": "3"} for side in SIDES}
    raw["conclusion"]["letter"]["to"] = to
    basis = basis_of(exam_of(raw))
    return replace(basis, reading=replace(basis.reading, urgent=(replace(NOW, items=items),)))


def found(basis: Basis, kind: Kind = "note") -> str:
    """Return what the first frame says was found."""
    return papers.content(kind, basis).urgent[0].found


def test_abnormal_findings_come_first_the_gravest_of_them_before_the_rest() -> None:
    basis = cord("context.onset", "context.symptoms", "walking.base", "sensation.trunk_level", "sensation.saddle")
    assert found(basis) == (
        "Found: level on the trunk: T8; saddle: absent; cannot pass urine, back pain (told); base: wide; "
        "onset: subacute (days to weeks)."
    )


def test_alike_findings_are_told_together_with_their_sides() -> None:
    assert (
        found(cord(*POWER))
        == "Found: power, MRC grade, 3 on both sides: hip flexion, knee extension, ankle dorsiflexion."
    )


def test_a_finding_on_one_side_is_told_of_that_side_alone() -> None:
    # The pinprick is less up to mid-calf on the right and up to the ankle on the left.
    assert found(cord("sensation.pinprick.left")) == "Found: pinprick: up to the ankle on the left."


def test_what_does_not_fit_in_six_is_counted() -> None:
    items = (
        *("sensation.trunk_level", "sensation.saddle", "walking.base", "walking.pattern", "context.walking_aid"),
        *("reflexes.ankle.right", "reflexes.ankle.left", "context.onset", "context.course"),
    )
    said = found(cord(*items))
    assert said.endswith("; and 2 more.")
    assert said.count(";") == 6
    assert "T8" in said
    # One alone is told, not counted.
    assert "more" not in found(cord(*items[:-1]))


def test_normal_findings_stand_behind_abnormal_ones() -> None:
    said = found(cord("reflexes.knee.right", "reflexes.knee.left", "sensation.saddle"))
    assert said == "Found: saddle: absent; knee reflex: normal on both sides."


def test_a_trial_of_standing_is_told_whole() -> None:
    assert found(cord("standing.firm.eyes_closed.ended")) == (
        "Found: firm ground, eyes closed: marked sway, backward; stepped at 12\u202fs."
    )


def test_many_symptoms_are_told_gravest_first_and_counted() -> None:
    told = ("numbness", "falls", "unsteadiness", "leg_stiffness", "back_pain", "urinary_retention")
    said = found(cord("context.symptoms", symptoms=told))
    assert said.startswith("Found: cannot pass urine, back pain, ")
    assert said.endswith(", and 2 more symptoms (told).")


def test_what_does_not_fit_is_said_not_to() -> None:
    from tests.notes.test_letter_story import CLASH

    basis = replace(cord("context.symptoms"), gaps=(CLASH,))
    assert found(basis) == "Found: cannot pass urine, back pain (told, does not fit)."


@pytest.mark.parametrize("kind", ["note", "referral", "completeness", "addendum"])
def test_every_framed_kind_prints_them_under_the_message_and_in_its_text(kind: Kind) -> None:
    # Hazards H15 and H26.
    basis = cord("sensation.trunk_level", "sensation.saddle", "context.symptoms", to="primary_care")
    told = "Found: level on the trunk: T8; saddle: absent; cannot pass urine, back pain (told)."
    page = squeezed(pages_of(papers.make(kind, basis, earlier=EARLIER).pdf)[0])
    lines = papers.text(kind, basis, earlier=EARLIER).splitlines()
    assert page.index(NOW.message) < page.index(told)
    assert lines[1].strip() == told


def test_a_frame_says_nothing_of_findings_where_none_is_recorded(basis: Basis) -> None:
    bare = replace(basis, reading=replace(basis.reading, urgent=(replace(URGENT, items=()),)))
    assert found(bare) == ""
    assert "Found:" not in papers.text("note", bare).partition("\n\n")[0]
