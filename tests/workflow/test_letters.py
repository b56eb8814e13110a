"""A letter is proposed to whom the gravest urgent finding needs, whomever the writer named."""

import pytest

from neuroform import shipped
from neuroform.exam import files
from neuroform.exam.walk import put
from neuroform.reasoning.results import Reading, Stance, Urgency, UrgentFinding
from neuroform.workflow.letters import proposed_reader

EXAM = files.read(shipped.read_bytes("resources", "demonstration", "exam.json"))


def reading(*urgent: tuple[str, Urgency]) -> Reading:
    return Reading(
        stance=Stance(result="not_assessable", because="", items=()),
        systems={},
        patterns=(),
        urgent=tuple(
            UrgentFinding(code=code, urgency=urgency, items=(), message="", source="") for code, urgency in urgent
        ),
    )


@pytest.mark.parametrize(
    ("urgent", "proposed"),
    [
        ((), "specialist"),
        ((("injurious-falls", "within_days"),), "falls_clinic"),
        ((("injurious-falls", "within_days"), ("cauda-equina", "immediate")), "emergency"),
        ((("acute-vertigo-central-signs", "immediate"),), "stroke_team"),
    ],
)
def test_h17_the_gravest_finding_says_to_whom(urgent: tuple[tuple[str, Urgency], ...], proposed: str) -> None:
    assert proposed_reader(EXAM, reading(*urgent)) == proposed


def test_h17_whom_the_writer_named_does_not_change_the_proposal() -> None:
    named = put(EXAM, "conclusion.letter.to", "physiotherapy")
    assert proposed_reader(named, reading(("cauda-equina", "immediate"))) == "emergency"
    assert named.conclusion.letter.to == "physiotherapy"
