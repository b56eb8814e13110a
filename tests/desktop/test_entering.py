"""What each key does, on every kind of row."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from types import ModuleType
from typing import Any, ClassVar

import pytest

from neuroform.desktop import keys
from neuroform.desktop.document import Document
from neuroform.desktop.entering import Entering
from neuroform.desktop.workplace import judge
from neuroform.exam.circulation import Pressure
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.sensation import MovementCount
from neuroform.exam.walk import put
from neuroform.settings import Settings


class Clock:
    """A clock that stands until it is set."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def at(kit: ModuleType, clock: Clock) -> Callable[..., Entering]:
    """Give a function that puts the hand on a path of a blank examination."""

    def open_at(path: str, *, protocol: str = "full", found: dict[str, Any] | None = None, **how: Any) -> Entering:
        exam = kit.blank_exam(protocol)
        for where, value in (found or {}).items():
            exam = put(exam, where, value)
        entering = Entering(Document(exam), judge(Settings()), clock=clock, **how)
        entering.go(path)
        return entering

    return open_at


def press(entering: Entering, pressed: Iterable[str]) -> None:
    for key in pressed:
        keys.press(entering, key)


TOE = "sensation.joint_position.great_toe"


def test_key_answers_right_then_left_then_next_row(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, "16")
    assert entering.document.get("reflexes.knee.right") == Examined(value="normal")
    assert entering.document.get("reflexes.knee.left") == Examined(value="absent")
    assert entering.path == "reflexes.ankle.right"


def test_eyes_open_is_answered_before_eyes_closed(at: Callable[..., Entering]) -> None:
    entering = at("standing.firm.eyes_open.sway")
    press(entering, ["1", "3", "0", "Enter", "1"])
    assert entering.path == "standing.firm.eyes_closed.sway"


def test_sway_takes_a_grade_and_a_direction(at: Callable[..., Entering]) -> None:
    entering = at("standing.firm.eyes_closed.sway")
    press(entering, "4")
    assert entering.path == "standing.firm.eyes_closed.sway"
    press(entering, "6")
    assert entering.document.get("standing.firm.eyes_closed.sway") == Examined(value="marked")
    assert entering.document.get("standing.firm.eyes_closed.direction") == Examined(value="backward")
    assert entering.path == "standing.firm.eyes_closed.seconds"


def test_no_sway_clears_a_direction(at: Callable[..., Entering]) -> None:
    entering = at("standing.firm.eyes_open.sway")
    press(entering, "25")
    entering.go("standing.firm.eyes_open.sway")
    press(entering, "1")
    assert entering.document.get("standing.firm.eyes_open.direction") is None


@pytest.mark.parametrize(
    ("typed", "grade"), [("5", "5"), ("0", "0"), ("4", "4"), ("4-", "4-"), ("4+", "4+"), ("4=", "4+")]
)
def test_power_is_typed_as_it_is_written(at: Callable[..., Entering], typed: str, grade: str) -> None:
    entering = at("motor.power.hip_flexion.right")
    press(entering, typed)
    assert entering.document.get("motor.power.hip_flexion.right") == Examined(value=grade)
    assert entering.path == "motor.power.hip_flexion.left"
    assert entering.document.get("motor.power.hip_flexion.left") is None


def test_plus_without_a_four_changes_nothing(at: Callable[..., Entering]) -> None:
    entering = at("motor.power.hip_flexion.right")
    press(entering, "5+")
    assert entering.document.get("motor.power.hip_flexion.right") == Examined(value="5")
    assert entering.document.get("motor.power.hip_flexion.left") is None


@pytest.mark.parametrize(
    ("typed", "value"),
    [("10/10", MovementCount(correct=10, trials=10)), ("9 10", MovementCount(correct=9, trials=10)), ("2", "impaired")],
)
def test_joint_position_takes_a_count_or_a_word(at: Callable[..., Entering], typed: str, value: Any) -> None:
    entering = at(f"{TOE}.right")
    press(entering, [*("Space" if key == " " else key for key in typed), "Enter"])
    assert entering.document.get(f"{TOE}.right") == Examined(value=value)
    assert entering.path == f"{TOE}.left"


def test_more_correct_than_tried_is_refused_in_words(at: Callable[..., Entering]) -> None:
    entering = at(f"{TOE}.right")
    press(entering, [*"9/5", "Enter"])
    assert entering.document.get(f"{TOE}.right") is None
    assert "9 correct of 5" in entering.message
    assert entering.path == f"{TOE}.right"


def test_pressure_takes_pulse_after_it(at: Callable[..., Entering]) -> None:
    entering = at("circulation.lying", protocol="ward")
    press(entering, [*"142/88", "Space", *"76", "Enter"])
    expected = Pressure(systolic=142, diastolic=88, pulse=76)
    assert entering.document.get("circulation.lying") == Examined(value=expected)


def test_number_is_recorded_while_it_is_typed(at: Callable[..., Entering]) -> None:
    entering = at("standing.firm.eyes_open.seconds")
    press(entering, "12")
    assert entering.document.get("standing.firm.eyes_open.seconds") == Examined(value=12.0)


def test_number_beyond_its_range_leaves_what_stood_there(at: Callable[..., Entering]) -> None:
    path = "standing.firm.eyes_open.seconds"
    entering = at(path, found={path: Examined(value=30.0)})
    press(entering, "90")
    assert "60" in entering.message
    press(entering, ["Enter"])
    assert entering.path == path
    press(entering, ["Up"])
    assert entering.document.get(path) == Examined(value=30.0)
    assert "Nothing was recorded" in entering.message


def test_backspace_takes_back_a_digit_then_the_answer(at: Callable[..., Entering]) -> None:
    path = "context.falls_past_year"
    entering = at(path)
    press(entering, ["1", "2", "Backspace"])
    assert entering.document.get(path) == Examined(value=1)
    press(entering, ["Enter"])
    entering.go(path)
    press(entering, ["Backspace"])
    assert entering.document.get(path) is None


def test_level_on_the_trunk_is_typed_by_its_name(at: Callable[..., Entering]) -> None:
    entering = at("sensation.trunk_level")
    press(entering, [*"t10", "Enter"])
    assert entering.document.get("sensation.trunk_level") == Examined(value="T10")


def test_long_list_takes_two_digits_a_word(at: Callable[..., Entering]) -> None:
    entering = at("context.symptoms")
    press(entering, "1112")
    assert entering.document.get("context.symptoms") == ("unsteadiness", "falls")
    press(entering, "11")
    assert entering.document.get("context.symptoms") == ("falls",)


def test_none_of_a_list_is_an_answer_and_not_blank(at: Callable[..., Entering]) -> None:
    entering = at("context.symptoms")
    press(entering, "0")
    assert entering.document.get("context.symptoms") == ()
    assert entering.path == "context.falls_past_year"


def test_normal_gait_stands_alone(at: Callable[..., Entering]) -> None:
    entering = at("walking.pattern")
    press(entering, "12")
    entering.go("walking.pattern")
    press(entering, "0")
    assert entering.document.get("walking.pattern") == Examined(value=("normal",))


def test_s_copies_and_says_so_in_the_record(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, "2s")
    assert entering.document.get("reflexes.knee.left") == Examined(value="brisk", entered="copied")
    assert entering.path == "reflexes.ankle.right"


def test_change_by_hand_drops_copied(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, "2s")
    entering.go("reflexes.knee.left")
    press(entering, "2")
    assert entering.document.get("reflexes.knee.left") == Examined(value="brisk")


@pytest.mark.parametrize(
    "path", [TOE, "reflexes.plantar", "head_and_eyes.head_impulse", "head_and_eyes.new_hearing_loss"]
)
def test_h11_what_differs_between_sides_is_never_copied(at: Callable[..., Entering], path: str) -> None:
    entering = at(f"{path}.right", protocol="acute_vertigo", found={"context.cautions": ()})
    press(entering, ["1", "Enter"] if path == TOE else ["1"])
    entering.go(f"{path}.left")
    press(entering, "s")
    assert entering.document.get(f"{path}.left") is None
    assert "can’t be copied" in entering.message


def test_copied_reason_keeps_the_reason(at: Callable[..., Entering]) -> None:
    entering = at("sensation.pinprick.right")
    press(entering, "x5s")
    assert entering.document.get("sensation.pinprick.left") == NotExamined(
        not_examined="no_equipment", entered="copied"
    )


def test_h32_declined_is_the_first_reason(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, "x1")
    assert entering.document.get("reflexes.knee.right") == NotExamined(not_examined="declined")


def test_reason_on_the_sway_passes_over_the_trial(at: Callable[..., Entering]) -> None:
    entering = at("standing.firm.eyes_open.sway")
    press(entering, "x3")
    assert entering.path == "standing.firm.eyes_closed.sway"


def test_escape_leaves_the_reasons(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, ["x", "Escape", "1"])
    assert entering.document.get("reflexes.knee.right") == Examined(value="normal")


def test_undo_and_redo_everything(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, ["2", "s", "x", "2"])
    after = entering.document.exam
    for _step in range(3):
        entering.undo()
    assert entering.document.get("reflexes.knee.right") is None
    assert entering.path == "reflexes.knee.right"
    for _step in range(3):
        entering.redo()
    assert entering.document.exam == after


def test_undo_restores_how_a_side_was_entered(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, "2s")
    entering.go("reflexes.knee.left")
    press(entering, "1")
    entering.undo()
    assert entering.document.get("reflexes.knee.left") == Examined(value="brisk", entered="copied")


def test_typed_number_is_one_step_to_undo(at: Callable[..., Entering]) -> None:
    entering = at("context.falls_past_year")
    press(entering, ["1", "2", "Enter"])
    entering.undo()
    assert entering.document.get("context.falls_past_year") is None


class TestTogether:
    """The rest of a section, answered as normal."""

    NO_COMPLAINT: ClassVar[dict[str, Any]] = {"context.symptoms": ()}

    def test_names_what_it_answers_and_waits(self, at: Callable[..., Entering]) -> None:
        entering = at("motor.tone.right", found=self.NO_COMPLAINT)
        press(entering, "n")
        assert entering.offer is not None
        assert "Tone" in entering.offer.names
        assert entering.document.get("motor.tone.right") is None

    def test_second_key_records_it_as_such(self, at: Callable[..., Entering]) -> None:
        entering = at("motor.tone.right", found=self.NO_COMPLAINT)
        press(entering, ["2", "n", "Enter"])
        assert entering.document.get("motor.tone.right") == Examined(value="increased")
        assert entering.document.get("motor.tone.left") == Examined(value="normal", entered="together")
        assert entering.document.get("motor.power.hip_flexion.left") == Examined(value="5", entered="together")
        assert entering.document.get("motor.bulk.left") is None

    def test_escape_records_nothing(self, at: Callable[..., Entering]) -> None:
        entering = at("motor.tone.right", found=self.NO_COMPLAINT)
        before = entering.document.exam
        press(entering, ["n", "Escape"])
        assert entering.document.exam == before

    def test_other_keys_record_nothing(self, at: Callable[..., Entering]) -> None:
        entering = at("motor.tone.right", found=self.NO_COMPLAINT)
        before = entering.document.exam
        press(entering, ["n", "1", "s", "Down"])
        assert entering.document.exam == before

    def test_h12_not_offered_for_the_complaint(self, at: Callable[..., Entering]) -> None:
        entering = at("motor.tone.right", found={"context.symptoms": ("weakness",)})
        press(entering, "n")
        assert entering.offer is None
        assert "complains" in entering.message

    def test_not_offered_before_symptoms_are_asked(self, at: Callable[..., Entering]) -> None:
        entering = at("motor.tone.right")
        press(entering, "n")
        assert entering.offer is None

    def test_leaves_what_is_looked_at_by_itself(self, at: Callable[..., Entering]) -> None:
        entering = at("reflexes.knee.right", found=self.NO_COMPLAINT)
        press(entering, ["n", "Enter"])
        assert entering.document.get("reflexes.knee.right") == Examined(value="normal", entered="together")
        assert entering.document.get("reflexes.plantar.right") is None

    def test_is_one_step_to_undo(self, at: Callable[..., Entering]) -> None:
        entering = at("motor.tone.right", found=self.NO_COMPLAINT)
        before = entering.document.exam
        press(entering, ["n", "Enter"])
        entering.undo()
        assert entering.document.exam == before


class TestTimer:
    """Timed stance, walking and turning."""

    def test_stops_by_hand_and_asks_how_it_ended(self, at: Callable[..., Entering], clock: Clock) -> None:
        entering = at("standing.firm.eyes_open.seconds")
        press(entering, ["Space"])
        clock.now += 12.34
        press(entering, ["Space"])
        assert entering.document.get("standing.firm.eyes_open.seconds") == Examined(value=12.3)
        assert entering.path == "standing.firm.eyes_open.ended"

    def test_ends_by_itself_at_the_length_of_the_trial(self, at: Callable[..., Entering], clock: Clock) -> None:
        entering = at("standing.firm.eyes_closed.sway", found={"standing.trial_seconds": 20.0})
        press(entering, ["Space"])
        clock.now += 19.9
        entering.tick()
        assert entering.running is not None
        clock.now += 5
        entering.tick()
        assert entering.running is None
        assert entering.document.get("standing.firm.eyes_closed.seconds") == Examined(value=20.0)
        assert entering.path == "standing.firm.eyes_closed.ended"
        assert entering.document.get("standing.firm.eyes_closed.ended") is None

    def test_how_it_ended_leads_on_to_what_is_blank_of_the_trial(
        self, at: Callable[..., Entering], clock: Clock
    ) -> None:
        entering = at("standing.firm.eyes_open.sway")
        press(entering, ["Space"])
        clock.now += 40
        entering.tick()
        press(entering, "1")
        assert entering.path == "standing.firm.eyes_open.sway"
        press(entering, "1")
        assert entering.path == "standing.firm.eyes_closed.sway"

    def test_h22_other_keys_do_nothing_while_it_runs(self, at: Callable[..., Entering], clock: Clock) -> None:
        entering = at("standing.firm.eyes_open.sway")
        press(entering, ["Space", "1", "x", "Backspace"])
        assert entering.running is not None
        assert entering.document.get("standing.firm.eyes_open.sway") is None

    def test_walk_has_no_end_of_its_own(self, at: Callable[..., Entering], clock: Clock) -> None:
        entering = at("walking.ten_metre_seconds")
        press(entering, ["Space"])
        clock.now += 45.06
        entering.tick()
        press(entering, ["Space"])
        assert entering.document.get("walking.ten_metre_seconds") == Examined(value=45.1)

    def test_escape_records_nothing(self, at: Callable[..., Entering], clock: Clock) -> None:
        entering = at("walking.ten_metre_seconds")
        press(entering, ["Space"])
        clock.now += 8
        press(entering, ["Escape"])
        assert entering.document.get("walking.ten_metre_seconds") is None


class TestNotAdvised:
    """What a caution makes unsafe asks for nothing."""

    NECK: ClassVar[dict[str, Any]] = {"context.cautions": ("neck_instability",)}
    IMPULSE = "head_and_eyes.head_impulse"

    def test_h2_says_why_and_takes_no_answer(self, at: Callable[..., Entering]) -> None:
        entering = at(f"{self.IMPULSE}.right", found=self.NECK)
        press(entering, "1")
        assert entering.document.get(f"{self.IMPULSE}.right") is None
        assert "unstable neck" in entering.message

    def test_takes_a_reason(self, at: Callable[..., Entering]) -> None:
        entering = at(f"{self.IMPULSE}.right", found=self.NECK)
        press(entering, "x3")
        assert entering.document.get(f"{self.IMPULSE}.right") == NotExamined(not_examined="unsafe")

    def test_h22_no_foam_after_a_lost_stance(self, at: Callable[..., Entering]) -> None:
        firm = "standing.firm.eyes_closed"
        entering = at(
            "standing.foam.eyes_open.sway",
            found={f"{firm}.sway": Examined(value="marked"), f"{firm}.ended": Examined(value="fell")},
        )
        press(entering, "1")
        assert entering.document.get("standing.foam.eyes_open.sway") is None


def test_only_what_is_to_be_examined_stands_in_the_form(at: Callable[..., Entering]) -> None:
    entering = at("motor.tone.right")
    assert "motor.bulk.right" not in [row.key for row in entering.shown]
    press(entering, "m")
    assert "motor.bulk.right" in [row.key for row in entering.shown]
    assert entering.path == "motor.tone.right"


def test_cleared_answer_keeps_its_row(at: Callable[..., Entering]) -> None:
    entering = at("motor.bulk.right")
    press(entering, "1")
    entering.go("motor.bulk.right")
    press(entering, ["Backspace"])
    assert entering.path == "motor.bulk.right"


def test_acute_vertigo_looks_at_the_eyes_before_standing(at: Callable[..., Entering]) -> None:
    entering = at("context.symptoms", protocol="acute_vertigo")
    assert entering.order[:3] == ("context", "head_and_eyes", "standing")


def test_next_gap_goes_there_and_says_what_is_lacking(at: Callable[..., Entering]) -> None:
    entering = at("standing.firm.eyes_open.sway", found={"standing.stand_by": Examined(value="yes")})
    press(entering, ["1", "3", "0", "Enter", "1", "g"])
    assert entering.message
    assert entering.path in {path for gap in entering.conclusions.gaps for path in gap.items}


def test_trace_marks_the_findings_and_goes_to_the_first(at: Callable[..., Entering]) -> None:
    entering = at("context.symptoms")
    entering.trace(("sensation.pinprick.left", "reflexes.knee.right"))
    assert entering.path == "reflexes.knee.right"
    assert entering.traced == {"sensation.pinprick.left", "reflexes.knee.right"}


def test_arrows_rove_over_the_answers_and_enter_takes_one(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, ["Left", "Left", "Enter"])
    assert entering.document.get("reflexes.knee.right") == Examined(value="brisk")


def test_arrow_crosses_the_spine(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, ["Right"])
    assert entering.path == "reflexes.knee.left"
    press(entering, ["Right", "Left", "Left"])
    assert entering.path == "reflexes.knee.right"


def test_letters_choose_the_side(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")
    press(entering, "l")
    assert entering.path == "reflexes.knee.left"
    press(entering, "r")
    assert entering.path == "reflexes.knee.right"


def test_change_of_value_keeps_the_comment(at: Callable[..., Entering]) -> None:
    path = "reflexes.knee.right"
    entering = at(path, found={path: Examined(value="normal", comment="hard to relax")})
    press(entering, "2")
    assert entering.document.get(path) == replace(Examined(value="brisk"), comment="hard to relax")


def test_a_rule_that_fails_leaves_the_answer_and_says_so(at: Callable[..., Entering]) -> None:
    entering = at("reflexes.knee.right")

    def broken(_exam: Any) -> Any:
        raise KeyError("gone")

    entering.judge = replace(entering.judge, conclude=broken)
    press(entering, "1")
    assert entering.document.get("reflexes.knee.right") == Examined(value="normal")
    assert "could not be checked" in entering.message
