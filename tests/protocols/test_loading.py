"""How much is to be examined: the shipped files, a clinic's own, and what is wrong with a file."""

from pathlib import Path

import pytest

from neuroform.errors import ProtocolError
from neuroform.exam.walk import entry
from neuroform.protocols.loading import SHIPPED_LABELS, Protocol, load, load_file, names

SHIPPED = ("full", "ward", "acute_vertigo", "weak_legs", "follow_up")

# Counted by hand from the list of what each examination holds: both sides of a sided item.
ANSWERS = {"full": 49, "ward": 32, "acute_vertigo": 29, "weak_legs": 35, "follow_up": 13}

OWN = """
name = "full"
label = "our full examination"
must = ["context.symptoms", "motor.tone"]
any_of = [["sensation.vibration.great_toe", "sensation.vibration_score.great_toe"]]
"""


def answers(protocol: Protocol) -> int:
    return sum(len(entry(item).paths) for item in (*protocol.must, *(group[0] for group in protocol.any_of)))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Give a clinic's folder of protocols."""
    return tmp_path


def written(folder: Path, text: str, name: str = "full") -> Path:
    file = folder / f"{name}.toml"
    file.write_text(text, encoding="utf-8")
    return file


def test_five_protocols_are_shipped() -> None:
    assert names() == SHIPPED
    assert tuple(load(name).label for name in SHIPPED) == SHIPPED_LABELS


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_protocol_holds_its_number_of_answers(name: str) -> None:
    assert answers(load(name)) == ANSWERS[name]


def test_the_full_examination_asks_for_onset_duration_and_course_with_a_symptom() -> None:
    assert load("full").with_symptoms == ("context.onset", "context.duration_days", "context.course")


def test_acute_vertigo_leaves_out_what_it_does_not_ask_for() -> None:
    items = load("acute_vertigo").must
    assert not [item for item in items if "eyes_closed" in item or "joint_position" in item or "vibration" in item]


def test_acute_leg_weakness_asks_for_nothing_on_the_feet() -> None:
    assert not [item for item in load("weak_legs").must if item.startswith(("standing.", "walking."))]


def test_in_acute_vertigo_head_and_eyes_come_before_standing_and_the_neck_before_the_head_impulse() -> None:
    order = load("acute_vertigo").must
    places = [
        order.index(item)
        for item in (
            "standing.sitting_balance",
            "head_and_eyes.nystagmus",
            "head_and_eyes.gaze_evoked_nystagmus",
            "head_and_eyes.skew",
            "head_and_eyes.new_hearing_loss",
            "context.cautions",
            "head_and_eyes.head_impulse",
            "standing.firm.eyes_open.sway",
            "walking.pattern",
        )
    ]
    assert places == sorted(places)
    assert load("acute_vertigo").order
    assert not load("full").order


def test_only_a_follow_up_follows_an_examination() -> None:
    assert [name for name in SHIPPED if load(name).follows] == ["follow_up"]


def test_a_clinics_own_file_shadows_the_shipped_one(folder: Path) -> None:
    written(folder, OWN)
    own = load("full", (folder,))
    assert own.label == "our full examination"
    assert own.must == ("context.symptoms", "motor.tone")
    assert own.any_of == (("sensation.vibration.great_toe", "sensation.vibration_score.great_toe"),)
    assert load("ward", (folder,)).label == "ward examination"


def test_a_clinics_own_examination_is_known_by_its_name(folder: Path) -> None:
    written(folder, OWN.replace('"full"', '"stroke-ward"'), "stroke-ward")
    assert names((folder,)) == (*SHIPPED, "stroke-ward")
    assert load("stroke-ward", (folder,)).name == "stroke-ward"


def test_a_file_by_its_path_may_have_any_name(folder: Path) -> None:
    assert load_file(written(folder, OWN, "draft 2")).name == "full"


@pytest.mark.parametrize("name", ["nothing", "", "../full", "full/../full", "Full", "full.toml"])
def test_an_unknown_name_is_refused_with_the_names_there_are(folder: Path, name: str) -> None:
    with pytest.raises(ProtocolError, match=r"no examination named .* Use one of full, ward"):
        load(name, (folder,))


@pytest.mark.parametrize(
    ("changed", "path"),
    [
        (OWN.replace("must", "shall"), "shall"),
        (OWN.replace('label = "our full examination"', ""), "label"),
        (OWN.replace("our full examination", ""), "label"),
        (OWN.replace("motor.tone", "motor.strength"), "must[1]"),
        (OWN.replace("motor.tone", "motor.tone.right"), "must[1]"),
        (OWN.replace("motor.tone", "motor"), "must[1]"),
        (OWN.replace('"motor.tone"', "3"), "must[1]"),
        (OWN.replace('["context.symptoms", "motor.tone"]', '"context.symptoms"'), "must"),
        (OWN.replace("motor.tone", "context.symptoms"), "must"),
        (OWN.replace("motor.tone", "sensation.vibration.great_toe"), "must"),
        (OWN.replace('"sensation.vibration_score.great_toe"', '"context.bladder"'), "any_of[0]"),
        (OWN.replace('["sensation.vibration.great_toe", "sensation.vibration_score.great_toe"]', "[]"), "any_of[0]"),
        (OWN + "follows = 1\n", "follows"),
        (OWN + 'with_pulse = ["circulation.lying"]\n', "with_pulse"),
        (OWN + 'with_pulse = ["motor.tone"]\n', "with_pulse"),
        (OWN.replace('name = "full"', 'name = "Full"'), "name"),
        (OWN.replace('name = "full"', 'name = "ward"'), "name"),
    ],
)
def test_a_malformed_file_is_refused_with_the_place(folder: Path, changed: str, path: str) -> None:
    file = written(folder, changed)
    with pytest.raises(ProtocolError) as refused:
        load("full", (folder,))
    assert path in {problem.path for problem in refused.value.problems}
    assert str(file) in refused.value.what
    assert refused.value.do


def test_every_problem_of_a_file_is_told_at_once(folder: Path) -> None:
    written(folder, 'name = "full"\nlabel = ""\nmust = ["no.such.item", "motor.tone.left"]\nhurry = true\n')
    with pytest.raises(ProtocolError) as refused:
        load("full", (folder,))
    assert {problem.path for problem in refused.value.problems} == {"label", "must[0]", "must[1]", "hurry"}


@pytest.mark.parametrize(
    "content", [b"name = ", b"\xff\xfe", b"a" * 200_000], ids=["not TOML", "not UTF-8", "too long"]
)
def test_a_file_that_cannot_be_read_is_refused(folder: Path, content: bytes) -> None:
    file = folder / "full.toml"
    file.write_bytes(content)
    with pytest.raises(ProtocolError, match="can't be read"):
        load_file(file)


def test_a_missing_file_is_refused(folder: Path) -> None:
    with pytest.raises(ProtocolError, match="can't be read"):
        load_file(folder / "none.toml")
