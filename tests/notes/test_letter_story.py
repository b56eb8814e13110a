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


def test_why_now_tells_what_every_finding_of_the_gravest_level_rests_on_and_not_their_titles() -> None:
    def numb(raw: dict[str, Any]) -> None:
        raw["context"]["symptoms"] = ["back_pain", "urinary_retention"]
        raw["sensation"]["saddle"] = {"value": "absent"}
        raw["sensation"]["trunk_level"] = {"value": "T8"}

    cord = replace(CORD, items=("sensation.trunk_level", "reflexes.ankle.right", "reflexes.ankle.left"))
    cauda = replace(NOW, items=("context.symptoms", "sensation.saddle"))
    said = told(urgent(changed(numb, "emergency"), URGENT, cord, cauda), "Why now")
    assert said == (
        "Level on the trunk: T8; saddle: absent; cannot pass urine, back pain (told); "
        "ankle reflex: absent on both sides."
    )
    # A finding that rests on nothing recorded is named at least.
    bare = urgent(changed(lambda _raw: None, "emergency"), replace(CORD, items=()))
    assert told(bare, "Why now") == "Possible compression of the cord."


def test_a_letter_to_another_reader_names_whom_the_findings_need() -> None:
    # Hazard H17.
    def first(to: str, *found: UrgentFinding) -> tuple[str, ...]:
        block = papers.content("referral", urgent(changed(lambda _raw: None, to), *found)).first
        assert block is not None
        return block.paragraphs

    assert first("physiotherapy", CORD, NOW)[0] == (
        "Urgent findings like these are for the emergency department, by telephone, by local protocol."
    )
    assert "for the emergency department and the stroke team, by telephone" in first("physiotherapy", CORD, STROKE)[0]
    assert not any(line.startswith("Urgent findings like these") for line in first("emergency", CORD, NOW))
    assert not any(line.startswith("Urgent findings like these") for line in first("physiotherapy", URGENT))


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


def symptoms(*told: str) -> Callable[[dict[str, Any]], None]:
    def change(raw: dict[str, Any]) -> None:
        raw["context"]["symptoms"] = list(told)

    return change


def test_whoever_has_vertigo_is_told_what_would_make_it_a_stroke() -> None:
    # Warning signs of stroke in vertigo: double vision, deafness, unable to stand or walk, weakness, numbness, slurred
    # speech, severe headache; common practice, from memory.
    warnings = (
        *("you see double", "you suddenly hear less in an ear", "you can no longer stand or walk", "severe headache"),
        *("suddenly become weak or numb, or you cannot speak clearly",),
    )
    calm = urgent(changed_whole(symptoms("vertigo")))
    assert [words for words in warnings if words not in " ".join(calls(calm))] == []
    going_on = urgent(changed_whole(lambda raw: raw["head_and_eyes"].update(vertigo_now={"value": "yes"})))
    assert "you see double." in calls(going_on)
    without = urgent(changed_whole(symptoms("unsteadiness")))
    assert not any("double" in line for line in calls(without))


def test_a_warning_of_vertigo_is_not_told_twice() -> None:
    lines = calls(urgent(changed_whole(symptoms("vertigo")), STROKE))
    assert sum("see double" in line for line in lines) == 1
    assert sum("stand or walk" in line for line in lines) == 1


ALREADY = (
    ("spinal-infection-or-cancer-pain", ("fever", "weakness"), "your fever gets worse, or your legs get weaker."),
    ("spinal-infection-or-cancer-pain", (), "you have a fever, or your legs get weak."),
    ("cord-compression", ("urinary_retention",), "or your bladder or bowel gets worse."),
    ("cord-compression", (), "or you lose control of your bladder or bowel."),
    ("ataxia-confusion-eye-signs", ("confusion", "double_vision"), "more drowsy or confused, or you see double more"),
    ("head-injury-anticoagulated", ("headache", "vomiting"), "your headache gets worse, you are sick again, or you"),
    ("severe-orthostatic-fall", ("fainting",), "you faint again"),
    ("possible-unstable-neck", ("numbness",), "your arms or legs tingle more or get weaker"),
    ("subacute-proximal-weakness", ("breathlessness",), "you find it harder to breathe"),
    ("acute-vertigo-new-hearing-loss", ("vertigo", "double_vision"), "or you see double more than now."),
)


@pytest.mark.parametrize(("code", "told_of", "words"), ALREADY)
def test_an_urgent_line_does_not_ask_for_what_the_person_has(code: str, told_of: tuple[str, ...], words: str) -> None:
    basis = urgent(changed_whole(symptoms(*told_of)), replace(CORD, code=code))
    assert words in calls(basis)[0]


def test_what_was_examined_counts_as_had_already() -> None:
    def weak(raw: dict[str, Any]) -> None:
        raw["context"]["symptoms"] = ["back_pain"]
        raw["motor"]["power"]["hip_flexion"] = {"right": {"value": "4"}, "left": {"value": "5"}}

    basis = urgent(changed_whole(weak), replace(CORD, code="spinal-infection-or-cancer-pain"))
    assert calls(basis)[0] == "the pain in your back or neck gets worse, you have a fever, or your legs get weaker."


def gravest(raw: dict[str, Any]) -> None:
    raw["sensation"] |= {"saddle": {"value": "absent"}, "trunk_level": {"value": "T8"}}
    raw["sensation"]["pinprick"] = {side: {"value": "groin"} for side in ("right", "left")}
    raw["motor"]["power"]["hip_flexion"] = {side: {"value": "4"} for side in ("right", "left")}
    raw["reflexes"]["plantar"] = {side: {"value": "extensor"} for side in ("right", "left")}


def under(basis: Basis, heading: str) -> str:
    """Return what stands under a heading of the letter to the patient; "" where there is no such heading."""
    found = (b for b in papers.content("patient_letter", basis).blocks if isinstance(b, Prose) and b.heading == heading)
    return next((block.paragraphs[0] for block in found), "")


def test_the_patient_reads_the_gravest_findings_in_plain_words() -> None:
    said = under(urgent(changed_whole(gravest), CORD), "What we found")
    for words in (
        "You feel nothing between the legs.",
        "On your trunk there is a line below which you feel less than usual.",
        "You feel less than usual, or nothing, up to the groin in both legs.",
        "Some reflexes in your legs are not as usual.",
    ):
        assert words in said, words
    well = under(changed_whole(lambda raw: raw["sensation"].clear()), "What we found")
    assert "between the legs" not in well
    assert "feel less" not in well


def test_sides_of_lost_feeling_are_told_apart() -> None:
    # Pinprick and touch: mid-calf and foot on the right, ankle and foot on the left.
    said = under(changed_whole(lambda _raw: None), "What we found")
    assert "up to the middle of the calf in your right leg and up to the ankle in your left leg" in said
    one = changed_whole(lambda raw: raw["sensation"].update(pinprick={"left": {"value": "knee"}}, light_touch={}))
    assert "You feel less than usual, or nothing, up to the knee in your left leg." in under(one, "What we found")


def test_with_something_for_now_nothing_in_the_letter_weakens_it() -> None:
    def no_plan(raw: dict[str, Any]) -> None:
        raw["conclusion"].pop("plan")

    now = papers.text("patient_letter", urgent(changed_whole(no_plan), CORD))
    assert "Keep a light on" not in now
    assert "not written down" not in now
    assert "get help now, as it says at the head" in now
    planned = under(urgent(changed_whole(lambda _raw: None), CORD), "What happens next")
    assert planned.startswith("First of all: get help now")
    assert planned.endswith(EXAM["conclusion"]["plan"])
    today = under(urgent(changed_whole(no_plan), replace(CORD, urgency="same_day")), "What happens next")
    assert "see a doctor today" in today
    later = under(urgent(changed_whole(no_plan), URGENT), "What happens next")
    assert later.startswith("You need to be seen again within days.")
    assert "Keep a light on" in papers.text("patient_letter", urgent(changed_whole(no_plan)))


@pytest.mark.parametrize("reader", READERS)
def test_a_referral_tells_blank_items_where_nothing_was_declined(reader: str) -> None:
    # Hazard H25.
    def nothing_missed(raw: dict[str, Any]) -> None:
        for section, name in (("sensation", "temperature"), ("sensation", "saddle"), ("head_and_eyes", "skew")):
            raw[section].pop(name)
        raw["standing"]["foam"] = {}
        raw["context"].pop("cautions")

    said = told(changed(nothing_missed, reader, gaps=()), "Not examined")
    assert said.startswith("None declined or impossible. Blank: ")
    assert "cautions" in said
    declined = told(changed(lambda _raw: None, reader), "Not examined")
    assert "declined; asked once" in declined
    assert "None declined" not in declined


def vertigo_letter(raw: dict[str, Any]) -> None:
    raw["context"]["symptoms"] = ["vertigo"]
    raw["sensation"]["saddle"] = {"value": "normal"}
    raw["head_and_eyes"] |= {
        "gaze_evoked_nystagmus": {"value": "absent"},
        "skew": {"value": "absent"},
        "new_hearing_loss": {side: {"value": "no"} for side in ("right", "left")},
    }


@pytest.mark.parametrize("reader", READERS)
def test_a_letter_about_vertigo_names_normal_eyes_and_ears_and_no_saddle(reader: str) -> None:
    said = told(changed(vertigo_letter, reader), "Looked for and normal")
    for words in ("changing with gaze: absent", "skew: absent", "new hearing loss: not present on either side"):
        assert words in said, words
    assert "saddle" not in said


def test_a_letter_about_vertigo_keeps_the_saddle_where_bladder_or_back_ask_for_it() -> None:
    def both(raw: dict[str, Any]) -> None:
        vertigo_letter(raw)
        raw["context"]["symptoms"] = ["vertigo", "urinary_retention"]

    assert "saddle: normal" in told(changed(both, "emergency"), "Looked for and normal")
