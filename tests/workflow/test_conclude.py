"""Everything that follows from an examination comes together; the demonstration's next answers decide."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from neuroform.errors import ProtocolError
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.exam.sensation import MovementCount
from neuroform.exam.walk import put
from neuroform.settings import Settings
from neuroform.workflow.conclude import Conclusions, chosen_protocol, conclude, protocol_of
from neuroform.workflow.demo import half_done

AT = datetime(2026, 11, 20, 10, 15, tzinfo=UTC)
# What the demonstration lacks, answered as in an acute loss of one vestibular nerve.
LACKING = {
    "head_and_eyes.gaze_evoked_nystagmus": "absent",
    "head_and_eyes.skew": "absent",
    "head_and_eyes.new_hearing_loss.right": "no",
    "head_and_eyes.new_hearing_loss.left": "no",
    "head_and_eyes.head_impulse.left": "normal",
    "coordination.finger_nose.left": "normal",
    "reflexes.ankle.right": "normal",
    "reflexes.ankle.left": "normal",
    "sensation.joint_position.great_toe.left": MovementCount(correct=10, trials=10),
    "motor.power.ankle_dorsiflexion.left": "5",
}


def answered(**changed: str) -> Examination:
    """Return the demonstration's examination with what it lacks, some of it `changed` (by the item's own name)."""
    exam = half_done(AT)
    for path, value in LACKING.items():
        exam = put(exam, path, Examined(value=changed.get(path.split(".")[-1], value)))
    return exam


def now(concluded: Conclusions) -> set[str]:
    """Return what must not wait a minute."""
    return {found.code for found in concluded.reading.urgent if found.urgency == "immediate"}


def test_half_done_a_stroke_is_not_excluded_and_a_signature_is_held_back() -> None:
    concluded = conclude(half_done(AT), Settings())
    assert now(concluded) == {"acute-vertigo-central-not-excluded"}
    assert not concluded.complete
    assert concluded.progress.answered < concluded.progress.total
    assert concluded.paragraph == " ".join(sentence.text for sentence in concluded.sentences)


def test_a_corrective_impulse_without_skew_or_changing_nystagmus_supports_the_vestibular_nerve() -> None:
    # Kattah 2009, Stroke 40:3504-3510: impulse, nystagmus and skew together.
    concluded = conclude(answered(), Settings())
    assert now(concluded) == set()
    assert concluded.complete
    assert concluded.reading.pattern("acute_vestibular_peripheral", "right").verdict == "supported"
    assert concluded.progress.answered == concluded.progress.total


def test_a_skew_points_to_the_brainstem_whatever_the_impulse() -> None:
    concluded = conclude(answered(skew="present"), Settings())
    assert now(concluded) == {"acute-vertigo-central-signs"}
    assert concluded.reading.pattern("acute_vestibular_central").verdict == "supported"
    assert not concluded.complete


def test_how_much_is_examined_comes_from_the_exam_then_from_the_settings() -> None:
    exam = half_done(AT)
    silent = exam.model_copy(update={"encounter": exam.encounter.model_copy(update={"protocol": None})})
    assert protocol_of(exam, Settings(protocol="ward")).name == "acute_vertigo"
    assert protocol_of(silent, Settings(protocol="ward")).name == "ward"
    assert conclude(exam, Settings(), protocol=chosen_protocol("full", earlier=False)).progress.total > 35


def test_an_unknown_examination_and_a_follow_up_alone_are_refused(tmp_path: Path) -> None:
    for name in ("house_visit", str(tmp_path / "missing.toml")):
        with pytest.raises(ProtocolError):
            chosen_protocol(name, earlier=False)
    with pytest.raises(ProtocolError, match="follows an earlier examination"):
        chosen_protocol("follow_up", earlier=False)
    assert chosen_protocol("follow_up", earlier=True).follows
