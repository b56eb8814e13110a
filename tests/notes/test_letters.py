"""Letters: each reader's own needs first, the urgent findings before everything, the patient's in plain words."""

from copy import deepcopy
from dataclasses import replace

import pytest

from neuroform.exam.conclusion import LETTER_TO
from neuroform.notes import papers
from neuroform.notes.content import Basis, Clinic, Kind, Prose
from neuroform.notes.context import PROPOSED, proposed
from neuroform.reasoning.results import UrgentFinding
from tests.notes.invented import EXAM, NOW, URGENT, basis_of, exam_of, pages_of, squeezed

READERS = tuple(LETTER_TO.words)


def to(reader: str | None, **conclusion: str | None) -> Basis:
    """Return the invented examination with a letter to a reader."""
    raw = deepcopy(EXAM)
    raw["conclusion"]["letter"]["to"] = reader
    raw["conclusion"].update(conclusion)
    return basis_of(exam_of(raw))


def with_urgent(basis: Basis, *found: UrgentFinding) -> Basis:
    """Return conclusions with other urgent findings."""
    return replace(basis, reading=replace(basis.reading, urgent=found))


def headings(basis: Basis) -> list[str]:
    """List the headings of a referral."""
    return [block.heading for block in papers.content("referral", basis).blocks]


def words_of(kind: Kind, basis: Basis) -> str:
    """Read a letter's first page."""
    return squeezed(pages_of(papers.make(kind, basis).pdf)[0])


@pytest.mark.parametrize("reader", READERS)
def test_a_letter_has_the_elements_of_the_outpatient_letter_standard(reader: str) -> None:
    # PRSB outpatient letter standard (Professional Record Standards Body, 2017 on; from memory): patient and GP or
    # recipient details, attendance, clinical summary, examination findings, plan and actions, person completing record,
    # information given, contact.
    text = squeezed(" ".join(pages_of(papers.make("referral", to(reader)).pdf)))
    for element in (
        *("Okonjo-Vale, Marit", "born 9 April 1953", "ID 20817", "Dr Pia Holmgard, falls clinic", "20 November 2026"),
        *("Dr Tessa Quill, neurology", "Story", "Found", "Looked for and normal", "Not examined", "Done"),
        *("Bloods for neuropathy", "The person and her son, today", "Ring", "5512, weekdays to 17:00"),
    ):
        assert element in text, element


FIRST = {
    "stroke_team": ["Last known well", "Side", "Eye signs", "Pressure and pulse", "Anticoagulated", "Walking before"],
    "emergency": ["Why now", "Breathing", "Bladder and saddle", "Level and weakness", "Neck", "Done and told"],
    "specialist": ["Question", "Story", "Found"],
    "ear_nose_throat": ["Question", "Attack or continuous", "Hearing", "Nystagmus", "Head impulse", "Medicines"],
    "balance_clinic": ["Question", "Attack or continuous", "Hearing", "Nystagmus", "Head impulse", "Medicines"],
    "falls_clinic": ["Question", "Can and can’t", "Falls and injuries", "Sense lost", "Hazards"],
    "physiotherapy": ["Question", "Can and can’t", "Falls and injuries", "Sense lost", "Hazards"],
    "primary_care": ["What it probably is", "Asked of you first", "The person was told", "Send back at once"],
}


@pytest.mark.parametrize("reader", READERS)
def test_each_reader_finds_first_what_they_need_first(reader: str) -> None:
    assert headings(to(reader))[: len(FIRST[reader])] == FIRST[reader]


def test_the_specialist_reads_findings_from_strength_to_eyes() -> None:
    # The order of the neurological examination in common teaching: power, reflexes, sensation, coordination, gait.
    found = next(b for b in papers.content("referral", to("specialist")).blocks if b.heading == "Found")
    assert isinstance(found, Prose)
    text = found.paragraphs[0]
    order = [text.index(words) for words in ("nkle reflex: absent", "oint position", "eel-shin", "ait: stamping")]
    assert order == sorted(order)


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("kind", ["referral", "note", "completeness"])
def test_an_urgent_finding_stands_before_what_was_written(reader: str, kind: Kind) -> None:
    # Hazard H15.
    basis = with_urgent(to(reader), NOW)
    text = words_of(kind, basis)
    assert text.index(NOW.message) < text.index(FIRST[reader][0] if kind == "referral" else "Needed to sign")


@pytest.mark.parametrize("code", PROPOSED)
def test_every_urgent_code_reaches_the_first_lines_of_every_text(code: str, basis: Basis) -> None:
    # Hazard H15 and H26.
    found = replace(NOW, code=code, message=f"Urgent: {code}.")
    kinds: tuple[Kind, ...] = ("note", "referral", "completeness")
    for kind in kinds:
        text = papers.text(kind, with_urgent(basis, found))
        assert text.startswith(f"Now (urgent finding): Urgent: {code}.")


def test_a_finding_for_now_says_telephone_first_and_who_was_told() -> None:
    # Hazards H17 and H18.
    text = words_of("referral", with_urgent(to("emergency"), NOW))
    assert "Telephone first. This letter confirms a call." in text
    assert "Told: The person and her son, today." in text
    nobody = words_of("referral", with_urgent(to("emergency", told=None), NOW))
    assert "Who was told, and when, is blank." in nobody


def test_the_higher_urgency_is_printed_whoever_chose_it() -> None:
    # Hazard H16.
    routine = with_urgent(to("falls_clinic", urgency="routine"), URGENT)
    assert "Within days" in words_of("referral", routine)
    writer = papers.content("referral", with_urgent(to("falls_clinic", urgency="immediate"), URGENT))
    assert [each.word for each in writer.urgent] == ["Now", "Within days"]


def test_the_recipient_is_proposed_from_the_gravest_urgent_finding() -> None:
    # Hazard H17.
    raw = deepcopy(EXAM)
    del raw["conclusion"]["letter"]
    basis = basis_of(exam_of(raw))
    assert proposed(with_urgent(basis, URGENT, NOW)) == "emergency"
    assert proposed(with_urgent(basis, URGENT)) == "falls_clinic"
    assert proposed(with_urgent(basis)) == "specialist"
    assert proposed(to("physiotherapy")) == "physiotherapy"


@pytest.mark.parametrize(
    ("pattern", "reader"),
    [
        ("acute_vestibular_peripheral", "ear_nose_throat"),
        ("positional_vertigo", "balance_clinic"),
        ("sensory_ataxia", "specialist"),
    ],
)
def test_the_recipient_is_proposed_from_a_supported_pattern_unless_something_is_urgent(
    pattern: str, reader: str
) -> None:
    # Common practice: an acute peripheral vestibular loss is for ear, nose and throat.
    basis = with_urgent(to(None))
    (sensory,) = basis.reading.patterns
    one = replace(basis, reading=replace(basis.reading, patterns=(replace(sensory, pattern=pattern, side="left"),)))
    assert proposed(one) == reader
    assert proposed(with_urgent(one, replace(NOW, code="acute-vertigo-central-not-excluded"))) == "stroke_team"
    possible = replace(one.reading.patterns[0], verdict="possible")
    assert proposed(replace(one, reading=replace(one.reading, patterns=(possible,)))) == "specialist"


def test_what_was_not_looked_for_is_not_among_the_normal() -> None:
    # Hazard H25.
    blocks = papers.content("referral", to("stroke_team")).blocks
    said = next(b.paragraphs[0] for b in blocks if isinstance(b, Prose) and b.heading == "Looked for and normal")
    normal, _, blank = said.partition("Blank, so not called normal:")
    assert "ystagmus changing with gaze" in blank
    assert "ystagmus changing with gaze" not in normal
    assert "skew" not in normal


def test_blank_anticoagulation_is_not_told_as_no() -> None:
    raw = deepcopy(EXAM)
    del raw["context"]["cautions"]
    raw["conclusion"]["letter"]["to"] = "stroke_team"
    blocks = papers.content("referral", basis_of(exam_of(raw))).blocks
    told = next(b.paragraphs[0] for b in blocks if isinstance(b, Prose) and b.heading == "Anticoagulated")
    assert told == "Blank: nobody has said whether the person is anticoagulated."


def test_telephone_numbers_come_from_the_clinic_s_own_list(basis: Basis) -> None:
    # Hazards H17 and H36.
    clinic = Clinic(name="Harbour Clinic", telephones={"stroke team": "4040"})
    assert "stroke team: 4040" in papers.text("referral", basis, clinic=clinic)
    assert "4040" not in papers.text("referral", basis)


JARGON = (
    "Romberg",
    "saccade",
    "vestibular",
    "cerebell",
    "ataxia",
    "MRC",
    "plantar",
    "neuropathy",
    "paresis",
    "impulse",
)


def test_the_patient_s_letter_explains_without_jargon_or_grades() -> None:
    # Plain language: common practice for letters to patients (Academy of Medical Royal Colleges, Please write to me,
    # 2018, from memory).
    raw = deepcopy(EXAM)
    raw["conclusion"]["plan"] = "Blood tests. The falls clinic will ring you within the week."
    text = papers.text("patient_letter", basis_of(exam_of(raw)))
    body = text[: text.index("Signed")]
    assert [word for word in JARGON if word.lower() in body.lower()] == []
    assert "where your toes are" in body
    assert "6 of 10" not in body
    assert "The falls clinic will ring you within the week." in body


def test_the_patient_s_letter_says_when_to_call_for_help(basis: Basis) -> None:
    # Hazard H15: with an urgent finding the call stands before everything else.
    text = words_of("patient_letter", basis)
    assert text.index("Call an ambulance at once if") < text.index("What we did")
    calm = words_of("patient_letter", with_urgent(basis))
    assert calm.index("What we did") < calm.index("Call an ambulance at once if")


def test_the_patient_with_a_finding_for_now_is_sent_at_once(basis: Basis) -> None:
    text = words_of("patient_letter", with_urgent(basis, NOW))
    assert "You need to be seen in hospital now." in text
    assert text.index("You need to be seen in hospital now.") < text.index("What we did")


def test_the_patient_is_not_told_that_the_untested_was_well(basis: Basis) -> None:
    # Hazard H25.
    text = papers.text("patient_letter", basis)
    well = text[text.index("What was well") : text.index("What we did not test")]
    assert "How smoothly you move" not in well
    assert "Only in part: how smoothly you move" in text[text.index("What we did not test") :]


def test_no_letter_calls_a_reading_a_diagnosis() -> None:
    # Hazard H31.
    text = papers.text("referral", to("specialist", paragraph=None))
    assert "Together this supports a sensory ataxia." in text
    assert "diagnosis" not in text.lower()
