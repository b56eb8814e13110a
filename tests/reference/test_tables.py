"""Tables: each says where it comes from, and a malformed one is refused with its place."""

import subprocess
import sys
from collections.abc import Callable

import pytest

from neuroform import shipped
from neuroform.errors import ShippedFileError, TableError
from neuroform.reference import blood_pressure, head_impulse, joint_position, scales, stance, tables, vibration, walking
from neuroform.reference.results import MARKS, Band, Refusal

HEAD = """
[about]
title = "t"
source = "s"
edition = "2000"
licence = "facts only"
mark = "read"
method = "m"
population = "p"
notes = []
"""

READERS: dict[str, Callable[[], object]] = {
    "feet_together_stance": stance.stance_trial,
    "graduated_fork": vibration.graduated_fork,
    "head_impulse_gain": head_impulse.head_impulse_gain,
    "joint_position": joint_position.joint_position_rule,
    "muscle_power": scales.power_scale,
    "orthostatic": blood_pressure.orthostatic,
    "single_leg_stance": stance.single_leg_stance,
    "tandem_steps": walking.tandem_steps,
    "tendon_reflexes": scales.reflex_scale,
    "timed_fork": vibration.timed_fork,
    "timed_up_and_go": walking.up_and_go,
    "vibration_words": vibration.vibration_words,
    "walking_speed": walking.walking_speed,
}


@pytest.fixture
def written(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Let the given text stand for every table."""

    def stand(text: str) -> None:
        monkeypatch.setattr(shipped, "read_text", lambda *_parts: text)

    return stand


def test_every_shipped_table_has_a_reader_and_can_be_read() -> None:
    assert set(tables.names()) == set(READERS)
    for read in READERS.values():
        assert read() is read()


@pytest.mark.parametrize("name", sorted(READERS))
def test_every_table_says_where_its_numbers_come_from(name: str) -> None:
    about = tables.about(name)
    assert about.mark in MARKS
    assert all((about.title, about.source, about.edition, about.licence, about.method, about.population))
    assert about.notes


def test_numbers_from_memory_say_so_in_the_tables_notes() -> None:
    remembered = [name for name in READERS if tables.about(name).unverified]
    assert remembered == ["graduated_fork", "single_leg_stance", "tendon_reflexes"]
    assert all("from memory" in " ".join(tables.about(name).notes) for name in remembered[:2])


def test_missing_table_is_told() -> None:
    with pytest.raises(ShippedFileError, match=r"none_such\.toml"):
        tables.opened("none_such")


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("[about", "cannot be read"),
        ("", "nothing stands at about"),
        (HEAD.replace('source = "s"', ""), r"nothing stands at about\.source"),
        (HEAD.replace('source = "s"', 'source = " "'), r"' ' stands at about\.source"),
        (HEAD.replace('"read"', '"guessed"'), r"'guessed' stands at about\.mark"),
        (HEAD.replace("notes = []", "notes = [1]"), r"\[1\] stands at about\.notes"),
        (HEAD + "more = 1\n", r"1 stands at about\.more"),
    ],
)
def test_malformed_head_is_refused_with_its_place(written: Callable[[str], None], text: str, place: str) -> None:
    written(text)
    with pytest.raises(TableError, match=place):
        tables.opened("any")


ROW = "[[bands]]\nfrom = 18\nto = 74\nnormal_from = 8\nlost_to = 5\n[[bands]]\nfrom = 75\nlost_to = 3\n"


@pytest.mark.parametrize(
    ("rows", "place"),
    [
        ("", "nothing stands at bands"),
        (ROW.replace("lost_to = 3", 'lost_to = "3"'), r"'3' stands at bands\[2\]\.lost_to"),
        (ROW.replace("lost_to = 3", "lost_to = -3"), r"-3 stands at bands\[2\]\.lost_to"),
        (ROW.replace("lost_to = 3", "lost_to = true"), r"True stands at bands\[2\]\.lost_to"),
        (ROW.replace("lost_to = 3", "lost_to = 3.5"), r"3\.5 stands at bands\[2\]\.lost_to"),
        (ROW.replace("from = 75", "from = 76"), r"76 stands at bands\[2\]\.from"),
        (ROW.replace("from = 75", "from = 74"), r"74 stands at bands\[2\]\.from"),
        (ROW.replace("from = 18", "from = 12"), r"12 stands at bands\[1\]\.from"),
        (ROW.replace("to = 74\n", "to = 17\n", 1), r"18 stands at bands\[1\]\.from"),
        (ROW + "more = 1\n", r"1 stands at bands\[2\]\.more"),
        ("[bands]\nfrom = 18\n", r"\{'from': 18\} stands at bands"),
    ],
)
def test_malformed_rows_are_refused_with_their_place(written: Callable[[str], None], rows: str, place: str) -> None:
    written(HEAD + rows)
    with pytest.raises(TableError, match=place):
        walking.tandem_steps.__wrapped__()


@pytest.mark.parametrize("text", ["nan", "inf", "-1.0", "true", '"1"'])
def test_number_that_is_none_is_refused(written: Callable[[str], None], text: str) -> None:
    written(HEAD + f"[part]\nvalue = {text}\n")
    _about, table = tables.opened("any")
    with pytest.raises(TableError, match=r"part\.value"):
        table.part("part").number("value")


def test_part_that_is_no_table_is_refused(written: Callable[[str], None]) -> None:
    written("part = 1\n" + HEAD)
    _about, table = tables.opened("any")
    with pytest.raises(TableError, match="1 stands at part"):
        table.part("part")


def test_column_that_is_not_there_cannot_be_quoted(written: Callable[[str], None]) -> None:
    whole = shipped.read_text("resources", "reference", "single_leg_stance.toml")
    written(whole.replace('quoted = ["open_mean"]', 'quoted = ["spread"]', 1))
    with pytest.raises(TableError, match=r"\['spread'\] stands at bands\[2\]\.all\.quoted"):
        stance.single_leg_stance.__wrapped__()


def test_band_holds_both_its_ends() -> None:
    ages = Band(low=20, high=29)
    assert [age for age in range(18, 32) if ages.holds(age)] == list(range(20, 30))


def test_refusal_is_a_sentence() -> None:
    refused = Refusal(words="From {age} years at the {site}.", fields=(("age", 75), ("site", "great toe")))
    assert str(refused) == refused.why == "From 75 years at the great toe."


def test_importing_the_look_ups_reads_no_table() -> None:
    program = """
import sys
from neuroform.reference import blood_pressure, head_impulse, joint_position, scales, stance, vibration, walking
from neuroform import shipped
shipped.read_text = None
try:
    walking.up_and_go_limit(70)
except TypeError:
    print("read on first use", "pydantic" in sys.modules)
"""
    said = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, timeout=60, check=True)
    assert said.stdout.strip() == "read on first use False"
