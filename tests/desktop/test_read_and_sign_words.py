"""What Read and sign says of gaps, of the examiner's words and of the signature, without a window."""

from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.completeness.gaps import Gap, Severity
from neuroform.desktop.read_and_sign.blocking import blocked
from neuroform.desktop.read_and_sign.differences import changed, same_words
from neuroform.desktop.read_and_sign.doubts import doubts, too_slow
from neuroform.desktop.read_and_sign.lacking import explained, first_place, heads, lacking, left_out, title
from neuroform.exam.conclusion import WORDING_RULE
from neuroform.exam.examination import Examination, Identifier, Patient, new_examination
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import put
from neuroform.reasoning.results import Reading, Stance, UrgentFinding
from neuroform.workflow.paper_names import file_name, free_path

TOE = "sensation.joint_position.great_toe"
ANKLE = "reflexes.ankle"
NO_STANCE = Stance(result="not_assessable", because="", items=())


def exam(**found: Any) -> Examination:
    """Return an invented person's examination; a double underscore stands for a dot."""
    patient = Patient(
        family_name="Okonjo",
        given_names="Mira",
        birth_date=date(1955, 3, 3),
        identifiers=(Identifier(scheme="local", value="44/71"),),
    )
    made = new_examination(patient=patient, examiner="A. Examiner", at=datetime(2026, 11, 20, 10, 15, tzinfo=UTC))
    for path, value in found.items():
        made = put(made, path.replace("__", "."), value)
    return made


def reading(*urgent: UrgentFinding) -> Reading:
    return Reading(stance=NO_STANCE, systems={}, patterns=(), urgent=urgent)


def flag(urgency: Any) -> UrgentFinding:
    return UrgentFinding(code="x", urgency=urgency, items=(), message="Three falls in a year.", source="")


def gap(rule: str = "a-rule", severity: Severity = Severity.MUST, *items: str, reason: str | None = None) -> Gap:
    return Gap(rule=rule, severity=severity, items=items, message="It lacks.", why="", source="", reason=reason)


def said(text: str, found: Examination, generated: str = "", needed: tuple[str, ...] = ()) -> list[str]:
    return [each.words for each in doubts(text, generated, found, reading(), needed)]


# H14: the edited paragraph contradicts the findings


@pytest.mark.parametrize(
    "text",
    [
        "Ankle reflexes are normal.",
        "The reflexes were intact and gait was steady.",
        "Reflexes unremarkable",
        "Reflexes: no abnormality.",
        "The reflexes are not reduced; the rest follows.",
        "NORMAL reflexes on the right.",
    ],
)
def test_h14_normal_said_of_an_abnormal_finding_is_doubted(text: str) -> None:
    found = exam(reflexes__ankle__right=Examined(value="absent"))
    assert any("Ankle reflex" in words and "stands against" in words for words in said(text, found))


@pytest.mark.parametrize(
    "text",
    ["Temperature was not examined, so it is not called normal.", "The reflexes are not normal.", "Reflexes abnormal."],
)
def test_h14_a_denied_normal_is_no_claim(text: str) -> None:
    assert said(text, exam(reflexes__ankle__right=Examined(value="absent"))) == []


def test_h14_what_was_not_examined_is_never_called_normal_in_silence() -> None:
    found = exam(sensation__saddle=NotExamined(not_examined="declined"))
    (words,) = said("Saddle sensation intact.", found)
    assert "not examined" in words
    assert "Saddle" in words


def test_h14_an_item_left_blank_that_is_to_be_examined_counts_as_not_examined() -> None:
    found = exam(reflexes__ankle__right=Examined(value="normal"))
    assert said("Ankle reflexes normal.", found, needed=(f"{ANKLE}.right", f"{ANKLE}.left"))
    assert not said("Ankle reflexes normal.", found, needed=(f"{ANKLE}.right",))


def test_h14_the_side_named_is_the_side_that_is_looked_at() -> None:
    found = exam(reflexes__ankle__right=Examined(value="absent"), reflexes__ankle__left=Examined(value="normal"))
    assert not said("Ankle reflex normal on the left.", found)
    assert said("Ankle reflex normal on the right.", found)


def test_h14_no_sign_of_stands_against_any_abnormal_finding_where_no_subject_is_named() -> None:
    found = exam(reflexes__ankle__right=Examined(value="absent"))
    assert said("No sign of disease.", found)


def test_h14_a_sentence_the_findings_wrote_themselves_is_not_doubted() -> None:
    generated = "Heel-shin was normal. The ankle reflexes were absent."
    found = exam(coordination__heel_shin__right=Examined(value="severe"))
    assert said("Heel-shin was normal.", found, generated) == []


def test_h14_the_doubt_points_at_the_words() -> None:
    text = "First. The ankle reflexes are normal."
    (doubt,) = doubts(text, "", exam(reflexes__ankle__right=Examined(value="absent")), reading())
    assert text[doubt.start : doubt.end] == "normal"


@given(st.text(max_size=200))
def test_any_text_can_be_looked_through(text: str) -> None:
    found = exam(reflexes__ankle__right=Examined(value="absent"))
    for doubt in doubts(text, "", found, reading()):
        assert 0 <= doubt.start < doubt.end <= len(text)


# H16: "routine" beside an urgent finding


@pytest.mark.parametrize(
    ("chosen", "raised", "warned"),
    [
        ("routine", "within_days", True),
        ("within_days", "immediate", True),
        ("within_days", "within_days", False),
        ("immediate", "same_day", False),
        (None, "immediate", False),
    ],
)
def test_h16_an_urgency_below_an_urgent_finding_is_warned_of(chosen: str | None, raised: str, warned: bool) -> None:
    found = exam() if chosen is None else exam(conclusion__urgency=chosen)
    assert bool(too_slow(found, reading(flag(raised), flag("within_days")))) is warned


# What differs


def test_only_the_words_that_differ_are_marked() -> None:
    text = "The test is clearly positive today."
    assert [text[start:end] for start, end in changed("The test is positive.", text)] == ["clearly", "today."]


@given(st.lists(st.sampled_from(["a", "b", "normal", "\n", " "]), max_size=30).map(" ".join))
def test_a_text_differs_from_itself_in_nothing(text: str) -> None:
    assert changed(text, text) == ()
    assert same_words(text, f"  {text}\n")


# Gaps


def test_a_blank_finding_may_be_answered_left_out_or_explained() -> None:
    shown = lacking([gap("a", Severity.MUST, f"{TOE}.right", f"{TOE}.left")], exam())[Severity.MUST][0]
    assert [(each.key, each.deed) for each in shown.actions] == [
        ("1", "answer"),
        ("2", "not_examined"),
        ("3", "reason"),
    ]
    assert shown.title == "Joint position, great toe, both sides"
    assert shown.mark == "blank"


def test_what_is_asked_and_not_examined_has_no_reason_for_not_examining() -> None:
    shown = lacking([gap("a", Severity.MUST, "conclusion.plan")], exam())[Severity.MUST][0]
    assert [each.deed for each in shown.actions] == ["answer", "reason"]


def test_a_contradiction_asks_to_test_again_and_names_its_mark() -> None:
    found = exam(reflexes__ankle__right=Examined(value="absent"))
    shown = lacking([gap("contradiction-x", Severity.SHOULD, f"{ANKLE}.right")], found)[Severity.SHOULD][0]
    assert [each.words for each in shown.actions] == ["test again", "give a reason"]
    assert shown.mark == "does_not_fit"


def test_a_notice_asks_for_no_reason() -> None:
    shown = lacking([gap("a", Severity.NOTICE, f"{TOE}.right")], exam())[Severity.NOTICE][0]
    assert "reason" not in [each.deed for each in shown.actions]


def test_leaving_out_records_the_blank_items_alone() -> None:
    found = exam(sensation__joint_position__great_toe__right=Examined(value="absent"))
    written = left_out(found, gap("a", Severity.MUST, f"{TOE}.right", f"{TOE}.left"), "declined")
    assert written == {f"{TOE}.left": NotExamined(not_examined="declined")}


def test_the_first_blank_item_in_the_form_is_where_answering_goes() -> None:
    assert first_place(gap("a", Severity.MUST, "encounter.protocol", f"{TOE}.left")) == f"{TOE}.left"


def test_a_reason_is_kept_for_its_rule_and_items_and_an_empty_one_takes_it_back() -> None:
    lack = gap("a-rule", Severity.SHOULD, f"{TOE}.left")
    with_reason = explained(exam(), lack, " asked, not wanted ")
    (kept,) = with_reason.conclusion.gap_reasons or ()
    assert (kept.rule, kept.items, kept.reason) == ("a-rule", (f"{TOE}.left",), "asked, not wanted")
    assert explained(explained(with_reason, lack, "another"), lack, "").conclusion.gap_reasons is None


def test_reasons_of_other_gaps_stay() -> None:
    other = gap("a-rule", Severity.SHOULD, f"{TOE}.right")
    both = explained(explained(exam(), other, "one"), gap("a-rule", Severity.SHOULD, f"{TOE}.left"), "two")
    assert [each.reason for each in both.conclusion.gap_reasons or ()] == ["one", "two"]


# What stands in the way of a signature


def test_needed_gaps_block_and_are_named() -> None:
    told = blocked([gap("a", Severity.MUST, f"{TOE}.left")], certificate=Path("c.p12"), passphrase=True)
    assert told == "Cannot sign yet: Joint position, great toe, left. Answer it or give a reason."


def test_of_many_needed_gaps_the_first_is_named_and_the_others_counted() -> None:
    gaps = [
        gap(str(n), Severity.MUST, path) for n, path in enumerate((f"{TOE}.left", "conclusion.plan", "conclusion.told"))
    ]
    told = blocked(gaps, certificate=None, passphrase=False)
    assert told == (
        "Cannot sign yet, 3 gaps: Joint position, great toe, left and 2 more. Answer them or give a reason."
    )


def test_an_explained_gap_does_not_block() -> None:
    gaps = [gap("a", Severity.MUST, reason="declined"), gap("b", Severity.SHOULD, reason="asleep")]
    assert blocked(gaps, certificate=Path("c.p12"), passphrase=True) == ""


def test_a_gap_that_asks_for_a_reason_blocks_until_one_is_given() -> None:
    gaps = [gap("a", Severity.SHOULD, f"{TOE}.left"), gap("b", Severity.SHOULD, "conclusion.plan")]
    assert blocked(gaps, certificate=Path("c.p12"), passphrase=True) == (
        "Sign with a reason, 2 gaps: Joint position, great toe, left; Plan. One reason may serve for all."
    )
    notice = [gap("c", Severity.NOTICE)]
    assert blocked(notice, certificate=Path("c.p12"), passphrase=True) == ""


def test_one_reason_is_offered_for_all_that_ask_for_one_and_only_there() -> None:
    gaps = [
        gap("a", Severity.MUST, f"{TOE}.left"),
        gap("b", Severity.SHOULD, "conclusion.plan"),
        gap("c", Severity.SHOULD, "conclusion.told"),
    ]
    shown = lacking(gaps, exam())
    offered = {
        each.gap.rule: action.words
        for held in shown.values()
        for each in held
        for action in each.actions
        if action.deed == "reason_for_all"
    }
    assert offered == {"b": "one reason for all 2"}


def test_gaps_with_a_reason_no_longer_stand_under_what_is_needed() -> None:
    given = [gap("a", Severity.MUST, reason="declined"), gap("b", Severity.SHOULD, reason="asleep")]
    assert list(heads(lacking(given, exam())).values()) == [("With a reason", 2)]
    assert list(heads(lacking(given, exam(), sealed=True)).values()) == [("Signed with a reason", 2)]
    half = [gap("a", Severity.MUST, reason="declined"), gap("b", Severity.MUST), gap("c", Severity.NOTICE)]
    assert list(heads(lacking(half, exam())).values()) == [("Needed to sign", 1), ("For information", 1)]


def test_a_doubt_about_the_wording_names_the_item_and_not_the_side_the_words_did_not_single_out() -> None:
    doubtful = gap(WORDING_RULE, Severity.MUST, "sensation.pinprick.right")
    assert title(doubtful) == "Your wording on Pinprick"


def test_h33_a_rule_that_could_not_be_checked_blocks_even_with_a_reason() -> None:
    failed = gap("could-not-be-checked-some-rule", Severity.MUST, reason="never mind")
    assert blocked([failed], certificate=Path("c.p12"), passphrase=True) == "Cannot sign: It lacks."
    (shown,) = lacking([failed], exam())[Severity.MUST]
    assert shown.actions == ()


def test_h33_an_examination_that_was_not_checked_at_all_is_not_signed() -> None:
    assert "could not be checked" in blocked(None, certificate=Path("c.p12"), passphrase=True)


def test_a_certificate_and_its_passphrase_are_asked_for() -> None:
    assert "certificate" in blocked([], certificate=None, passphrase=False)
    assert "passphrase" in blocked([], certificate=Path("c.p12"), passphrase=False)


# Where the paper is saved


def test_a_paper_is_named_by_time_kind_and_number_and_never_by_the_person() -> None:
    assert file_name(exam(), "patient_letter") == "2026-11-20 1015 patient letter 44-71.pdf"


def test_no_paper_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "note.pdf").touch()
    (tmp_path / "note (2).pdf").touch()
    assert free_path(tmp_path, "note.pdf") == tmp_path / "note (3).pdf"
