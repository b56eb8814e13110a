"""Letters tell the history and the sides as they were recorded, and each of the gravest findings."""

from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace
from typing import Any

import pytest

from neuroform.completeness.gaps import Gap, Severity
from neuroform.exam.conclusion import LETTER_TO
from neuroform.notes import papers
from neuroform.notes.content import Basis, Call, Prose
from neuroform.reasoning.results import Sentence, UrgentFinding
from tests.notes.invented import EXAM, NOW, URGENT, basis_of, exam_of, squeezed

READERS = tuple(LETTER_TO.words)
CLASH = Gap(
    rule="contradiction-bladder-normal-yet-retention",
    severity=Severity.MUST,
    items=("context.symptoms", "context.bladder"),
    message="Retention is told and the bladder is normal: they do not fit.",
    why="…",
    source="common practice",
)
CORD = UrgentFinding(
    code="cord-compression",
    urgency="immediate",
    items=("context.bladder",),
    message="Possible compression of the cord: image the whole spine now.",
    source="common practice",
)
STROKE = replace(CORD, code="acute-vertigo-central-signs", message="Acute vertigo with a central sign.")


def changed(change: Callable[[dict[str, Any]], None], to: str | None = None, **fields: Any) -> Basis:
    """Return the invented examination after a change, with a letter to a reader."""
    raw = deepcopy(EXAM)
    raw["conclusion"]["letter"]["to"] = to
    change(raw)
    return basis_of(exam_of(raw), **fields)


def urgent(basis: Basis, *found: UrgentFinding) -> Basis:
    """Return conclusions with other urgent findings."""
    return replace(basis, reading=replace(basis.reading, urgent=found))


def told(basis: Basis, heading: str) -> str:
    """Return what stands under a heading of a referral; "" where there is no such heading."""
    found = (b for b in papers.content("referral", basis).blocks if isinstance(b, Prose) and b.heading == heading)
    return next((block.paragraphs[0] for block in found), "")


def retention(raw: dict[str, Any]) -> None:
    raw["context"]["symptoms"] = ["back_pain", "urinary_retention", "saddle_numbness"]
    raw["context"]["bladder"] = {"value": "normal"}
    raw["sensation"]["saddle"] = {"value": "absent"}


@pytest.mark.parametrize("reader", READERS)
def test_every_story_tells_the_symptoms_and_what_does_not_fit(reader: str) -> None:
    basis = changed(retention, reader, gaps=(CLASH,))
    assert "Symptoms: back pain, cannot pass urine, numb between the legs (does not fit)." in told(basis, "Story")
    assert told(basis, "Does not fit") == CLASH.message


@pytest.mark.parametrize("reader", READERS)
def test_a_story_tells_blank_symptoms_from_none(reader: str) -> None:
    # Hazard H25.
    assert "Symptoms: blank." in told(changed(lambda raw: raw["context"].pop("symptoms"), reader), "Story")
    assert "Symptoms: none told." in told(changed(lambda raw: raw["context"].update(symptoms=[]), reader), "Story")
    assert told(changed(lambda _raw: None, reader, gaps=()), "Does not fit") == ""


def test_the_bladder_s_line_tells_retention_and_that_normal_does_not_fit() -> None:
    basis = changed(retention, "emergency", gaps=(CLASH,))
    assert told(basis, "Bladder and saddle") == (
        "Told: cannot pass urine, numb between the legs. "
        "Bladder normal (does not fit); residual urine blank; saddle absent."
    )


def test_the_lines_of_bladder_and_breathing_say_when_nothing_of_it_was_told() -> None:
    none = changed(lambda _raw: None, "emergency")
    assert told(none, "Bladder and saddle").startswith("No bladder, bowel or saddle symptom told.")
    assert told(none, "Breathing").startswith("No breathing or swallowing symptom told.")
    blank = changed(lambda raw: raw["context"].pop("symptoms"), "emergency")
    assert told(blank, "Bladder and saddle").startswith("Symptoms blank.")


def test_why_now_lists_every_finding_of_the_gravest_level() -> None:
    basis = urgent(changed(lambda _raw: None, "emergency"), URGENT, CORD, NOW)
    assert told(basis, "Why now") == "Possible compression of the cord; possible compression of the cauda equina."


def test_a_letter_to_another_reader_names_whom_the_findings_need() -> None:
    # Hazard H17.
    def first(to: str, *found: UrgentFinding) -> tuple[str, ...]:
        block = papers.content("referral", urgent(changed(lambda _raw: None, to), *found)).first
        assert block is not None
        return block.paragraphs

    assert first("physiotherapy", CORD, NOW)[0] == "For these findings: emergency department."
    assert first("physiotherapy", CORD, STROKE)[0] == "For these findings: emergency department, stroke team."
    assert not any(line.startswith("For these") for line in first("emergency", CORD, NOW))
    assert not any(line.startswith("For these") for line in first("physiotherapy", URGENT))


def one_sided(raw: dict[str, Any]) -> None:
    """Record what points to a side in one answer, as of a person with a weak right labyrinth."""
    raw["head_and_eyes"]["nystagmus"] = {"value": "beats_left"}
    raw["head_and_eyes"]["brainstem_signs"] = {"value": ["facial_numbness_left", "double_vision"]}
    raw["standing"]["firm"]["eyes_closed"] |= {"direction": {"value": "right"}, "ended": {"value": "fell"}}
    raw["walking"]["pattern"] = {"value": ["veers_right", "cautious"]}
    raw["motor"]["power"]["hip_flexion"] = {"right": {"value": "3"}, "left": {"value": "4"}}


def test_the_stroke_team_reads_every_direction_as_a_side() -> None:
    said = squeezed(told(changed(one_sided, "stroke_team"), "Side"))
    right, left = said.index("Right:"), said.index("Left:")
    unlike = said.index("Both sides, not alike:")
    for words in ("eyes closed: marked sway, to the right; fell at 12 s", "gait: veers to the right"):
        assert right < said.index(words) < left, words
    for words in ("nystagmus, looking ahead: beats left", "brainstem signs: numb face, left"):
        assert left < said.index(words) < unlike, words
    assert "power, hip flexion: 3 on the right, 4 on the left" in said[unlike:]
    assert "No sided finding" not in said


def test_without_a_sided_finding_no_more_is_said_than_what_was_examined() -> None:
    def alike(raw: dict[str, Any]) -> None:
        raw["sensation"] = {}

    assert told(changed(alike, "stroke_team"), "Side") == "No sided finding among what was examined."


@pytest.mark.parametrize(
    ("days", "words"),
    [
        # 20 November 2026, 10:15, less 14.4 h is 19:51 the day before; less 12 h is 22:15; less 4 days is the 16th.
        (0.6, "It began about 20:00 on 19 November 2026, reckoned from"),
        (0.5, "It began about 22:00 on 19 November 2026, reckoned from"),
        (4, "It began about 16 November 2026, reckoned from"),
    ],
)
def test_onset_is_a_moment_and_not_the_time_last_known_well(days: float, words: str) -> None:
    basis = changed(lambda raw: raw["context"].update(duration_days={"value": days}), "stroke_team")
    said = told(basis, "Last known well")
    assert said.startswith("The time last known well is blank; the onset is not that time.")
    assert words in said


def test_what_was_written_beside_the_onset_stands_as_last_known_well() -> None:
    onset = {"value": "acute", "comment": "well at 21:30, woke dizzy at 06:00"}
    said = told(changed(lambda raw: raw["context"].update(onset=onset), "stroke_team"), "Last known well")
    assert said.startswith("Written beside the onset: well at 21:30, woke dizzy at 06:00.")
    unknown = told(changed(lambda raw: raw["context"].pop("duration_days"), "stroke_team"), "Last known well")
    assert "It began" not in unknown
    assert "How long ago it began: blank." in unknown


SHORT = Sentence(text="The stance test was positive.", items=("standing.firm.eyes_closed.ended",), brief=True)
LONG = Sentence(text="The ankle reflexes were absent.", items=("reflexes.ankle.right",))


@pytest.mark.parametrize("reader", READERS)
def test_a_referral_reads_the_short_form_and_not_the_findings_again(reader: str) -> None:
    basis = changed(lambda raw: raw["conclusion"].pop("paragraph"), reader, sentences=(SHORT, LONG))
    said = told(basis, "What it probably is" if reader == "primary_care" else "Reading of it")
    assert SHORT.text in said
    assert LONG.text not in said


@pytest.mark.parametrize("reader", READERS)
def test_an_edited_reading_says_so_first_with_the_generated_beneath(reader: str) -> None:
    # Hazard H14.
    basis = changed(lambda raw: raw["conclusion"].update(paragraph="All is well."), reader, sentences=(SHORT, LONG))
    said = told(basis, "What it probably is" if reader == "primary_care" else "Reading of it")
    assert "Edited by the examiner: All is well. As generated: The stance test was positive." in said


def test_lone_words_stand_in_sentences() -> None:
    basis = changed(lambda raw: raw["circulation"].pop("lying"), "stroke_team")
    assert told(basis, "Pressure and pulse").startswith("Pressure, lying: blank.")
    assert told(basis, "Anticoagulated") == "Yes: anticoagulated."
    none = changed(lambda raw: raw["context"].update(cautions=[]), "stroke_team")
    assert told(none, "Anticoagulated") == "Not among the cautions recorded."
    assert "pinprick: up to mid-calf on the right, up to the ankle on the left" in told(basis, "Found")


def test_grades_are_named_once() -> None:
    def weak(raw: dict[str, Any]) -> None:
        for muscle in raw["motor"]["power"].values():
            muscle |= {"right": {"value": "4"}, "left": {"value": "4"}}

    assert told(changed(weak, "emergency"), "Level and weakness").count("MRC") == 1


@pytest.mark.parametrize("reader", ["emergency", "stroke_team"])
def test_no_letter_tells_the_same_twice_under_two_headings(reader: str) -> None:
    blocks = papers.content("referral", changed(lambda _raw: None, reader)).blocks
    headings = [block.heading for block in blocks]
    assert len(set(headings)) == len(headings)
    text = papers.text("referral", changed(lambda _raw: None, reader))
    body = text[text.index("Question") :] if reader == "emergency" else text[text.index("Last known well") :]
    assert body.count("The person and her son, today.") == (0 if reader == "emergency" else 1)
    assert text.count("Dr Tessa Quill, 5512, weekdays to 17:00") == 1


def test_an_empty_examination_tells_the_patient_of_no_test() -> None:
    # Hazard H25.
    def empty(raw: dict[str, Any]) -> None:
        for name in set(raw) - {"format", "patient", "encounter"}:
            raw[name] = {}

    basis = changed_whole(empty)
    unread = replace(basis.reading, stance=replace(basis.reading.stance, result="not_assessable"))
    text = papers.text("patient_letter", replace(basis, reading=unread))
    assert "No test is written down for this day." in text
    assert "We tested" not in text
    assert "We did not test how you stand with your eyes closed." in text


def changed_whole(change: Callable[[dict[str, Any]], None]) -> Basis:
    """Return the invented examination after a change of any of its sections."""
    raw = deepcopy(EXAM)
    change(raw)
    return basis_of(exam_of(raw))


def test_the_patient_reads_what_was_examined_and_no_more() -> None:
    def few(raw: dict[str, Any]) -> None:
        for name in set(raw) - {"format", "patient", "encounter", "reflexes", "standing"}:
            raw[name] = {}
        raw["standing"] = {"stand_by": {"value": "yes"}, "footwear": {"value": "barefoot"}}

    assert "We tested your reflexes." in papers.text("patient_letter", changed_whole(few))


def test_the_patient_is_called_weak_only_with_a_grade_below_5() -> None:
    def of(basis: Basis) -> str:
        impaired = replace(basis.reading, systems={**basis.reading.systems, "motor": "impaired"})
        return papers.text("patient_letter", replace(basis, reading=impaired))

    strong = of(changed_whole(lambda _raw: None))
    assert "weaker than usual" not in strong.replace("where your toes are is weaker", "")
    assert "The nerve signals to your legs do not travel as usual" in strong
    grade = {"right": {"value": "4+"}, "left": {"value": "5"}}
    weak = of(changed_whole(lambda raw: raw["motor"]["power"].update(hip_flexion=grade)))
    assert "Some of the muscles in your legs are weaker than usual." in weak


def calls(basis: Basis) -> tuple[str, ...]:
    """Return the lines of the call for help."""
    return next(block for block in papers.content("patient_letter", basis).blocks if isinstance(block, Call)).lines


def test_each_reason_to_call_stands_on_a_line_of_its_own_and_once() -> None:
    rapid = replace(CORD, code="rapid-areflexic-weakness")
    lines = calls(urgent(changed_whole(lambda _raw: None), rapid, CORD, NOW))
    assert not any(";" in line for line in lines)
    assert sum("breathe" in line for line in lines) == 1
    assert len(set(lines)) == len(lines)
    assert all(line.endswith(".") for line in lines)
    breathing = replace(CORD, code="weakness-with-breathing-or-swallowing")
    assert sum("breathe" in line for line in calls(urgent(changed_whole(lambda _raw: None), breathing))) == 1


def test_who_has_it_already_is_told_when_it_gets_worse() -> None:
    def struck(raw: dict[str, Any]) -> None:
        raw["context"]["symptoms"] = ["head_injury", "urinary_retention"]

    lines = " ".join(calls(changed_whole(struck)))
    assert "you hit your head again" in lines
    assert "you still cannot pass water" in lines
    well = " ".join(calls(changed_whole(lambda _raw: None)))
    assert "you hit your head, above all if you take a blood thinner" in well
    assert "you cannot pass water" in well
