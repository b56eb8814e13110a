"""Drafts survive whatever stops the program, and say so when they can't."""

import os
import signal
import sqlite3
import stat
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from neuroform.errors import DraftError
from neuroform.exam.examination import Examination, Patient, new_examination
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import put, recorded
from neuroform.records.drafts import Draft, Drafts
from tests.exam.strategies import dense_exams, exams

AT = datetime(2026, 11, 20, 10, 15, 7, tzinfo=UTC)
LATER = AT + timedelta(seconds=9)

TYPING = """
import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from neuroform.exam.examination import Patient, new_examination
from neuroform.exam.findings import Examined
from neuroform.records.drafts import Drafts

at = datetime(2026, 11, 20, 10, 15, 7, tzinfo=UTC)
drafts = Drafts(Path(sys.argv[1]))
exam = new_examination(patient=Patient(family_name="Example", birth_date=date(1954, 2, 11)), examiner="A", at=at)
drafts.begin("clinic", "one", exam, at)
for step in range(1_000_000):
    now = at + timedelta(seconds=step)
    drafts.append("clinic", "one", "walking.tandem.side_steps", Examined(value=step % 100), now)
    print(step, flush=True)
"""


@pytest.fixture
def blank() -> Examination:
    """Give a blank examination."""
    patient = Patient(family_name="Example", birth_date=date(1954, 2, 11))
    return new_examination(patient=patient, examiner="Examiner A", at=AT)


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """Give where the journal will stand."""
    return tmp_path / "drafts" / "journal.sqlite"


@pytest.fixture
def drafts(place: Path) -> Iterator[Drafts]:
    """Give an open journal."""
    opened = Drafts(place)
    yield opened
    opened.close()


def test_a_draft_is_read_back_with_every_change(drafts: Drafts, blank: Examination) -> None:
    drafts.begin("clinic", "one", blank, AT)
    exam = blank
    for path, found in (
        ("walking.base", Examined(value="wide", comment="holds on")),
        ("motor.tone.left", NotExamined(not_examined="declined", entered="copied")),
        ("circulation.lying", None),
        ("context.symptoms", ("falls", "vertigo")),
        ("context.reason", "falls"),
        ("walking.base", None),
    ):
        exam = put(exam, path, found)
        drafts.append("clinic", "one", path, found, LATER)
    recovered = drafts.replay("one")
    assert recovered.exam == exam
    assert (recovered.at, recovered.lost) == (LATER, 0)


@given(exams(), dense_exams(), st.data())
def test_any_examination_is_read_back_from_its_changes(
    tmp_path_factory: pytest.TempPathFactory, before: Examination, after: Examination, data: st.DataObject
) -> None:
    changes = data.draw(st.lists(st.sampled_from(list(recorded(after)) or [("context.reason", "x")]), max_size=8))
    drafts = Drafts(tmp_path_factory.mktemp("drafts") / "journal.sqlite")
    drafts.begin("clinic", "one", before, AT)
    exam = before
    for path, found in changes:
        exam = put(exam, path, found)
        drafts.append("clinic", "one", path, found, AT)
    assert drafts.replay("one").exam == exam
    drafts.close()


def test_the_place_of_the_last_change_is_told(drafts: Drafts, blank: Examination) -> None:
    drafts.begin("clinic", "one", blank, AT)
    assert drafts.replay("one").path is None
    for path in ("walking.base", "motor.tone.left"):
        drafts.append("clinic", "one", path, None, LATER)
    assert drafts.replay("one").path == "motor.tone.left"
    drafts.begin("clinic", "one", blank, LATER)
    assert drafts.replay("one").path == "motor.tone.left"


def test_a_whole_examination_replaces_what_came_before(drafts: Drafts, blank: Examination) -> None:
    drafts.begin("clinic", "one", blank, AT)
    drafts.append("clinic", "one", "walking.base", Examined(value="wide"), AT)
    drafts.append("clinic", "one", None, blank, LATER)
    assert drafts.replay("one").exam == blank


def test_open_drafts_are_listed_last_changed_first_and_finished_ones_are_not(
    drafts: Drafts, blank: Examination
) -> None:
    for exam_id, at in (("one", AT), ("two", LATER), ("three", AT)):
        drafts.begin("clinic", exam_id, blank, at)
    drafts.append("clinic", "one", "walking.base", Examined(value="wide"), LATER + timedelta(seconds=1))
    drafts.finish("clinic", "three", LATER)
    assert [(draft.exam_id, draft.changes) for draft in drafts.latest()] == [("one", 2), ("two", 1)]
    assert drafts.latest()[1] == Draft(clinic="clinic", exam_id="two", at=LATER, changes=1)
    drafts.append("clinic", "three", None, blank, LATER)
    assert "three" in {draft.exam_id for draft in drafts.latest()}


def test_drafts_are_there_after_the_program_was_killed_while_typing(place: Path) -> None:
    typing = subprocess.Popen([sys.executable, "-c", TYPING, str(place)], stdout=subprocess.PIPE, text=True)
    assert typing.stdout is not None
    seen = [int(typing.stdout.readline()) for _ in range(300)]
    typing.send_signal(signal.SIGKILL)
    seen += [int(line) for line in typing.stdout.read().split()]
    typing.wait()
    typing.stdout.close()
    drafts = Drafts(place)
    (draft,) = drafts.latest()
    steps = drafts.replay("one").exam.walking.tandem.side_steps
    drafts.close()
    # Everything that was told as kept is there; one more may be.
    assert draft.changes - 2 in (seen[-1], seen[-1] + 1)
    assert steps == Examined(value=(draft.changes - 2) % 100)


def test_only_the_owner_reads_drafts(drafts: Drafts, place: Path, blank: Examination) -> None:
    drafts.begin("clinic", "one", blank, AT)
    assert stat.S_IMODE(place.parent.stat().st_mode) == 0o700
    kept = sorted(place.parent.iterdir())
    assert [file.name for file in kept] == ["journal.sqlite", "journal.sqlite-shm", "journal.sqlite-wal"]
    assert {stat.S_IMODE(file.stat().st_mode) for file in kept} == {0o600}


def test_two_programs_keep_their_drafts_in_one_file(drafts: Drafts, place: Path, blank: Examination) -> None:
    other = Drafts(place)
    drafts.begin("clinic", "one", blank, AT)
    for step in range(50):
        (drafts, other)[step % 2].append("clinic", "one", "walking.tandem.side_steps", Examined(value=step), AT)
    assert other.replay("one").exam == drafts.replay("one").exam
    assert drafts.latest()[0].changes == 51
    other.close()


def test_a_full_disk_is_told_and_what_was_kept_stays(drafts: Drafts, blank: Examination) -> None:
    drafts.begin("clinic", "one", blank, AT)
    drafts._open.execute("PRAGMA max_page_count = 4")

    def type_on() -> None:
        for _ in range(50):
            drafts.append("clinic", "one", "context.reason", "x" * 4000, LATER)

    with pytest.raises(DraftError, match=r"can't be kept in .*: database or disk is full\. Make room"):
        type_on()
    assert drafts.replay("one").exam.patient == blank.patient


def test_a_file_that_must_not_be_written_is_told(drafts: Drafts, blank: Examination) -> None:
    drafts._open.execute("PRAGMA query_only = ON")
    with pytest.raises(DraftError, match="readonly"):
        drafts.begin("clinic", "one", blank, AT)


def test_a_place_where_no_file_can_be_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(DraftError, match="can't be kept"):
        Drafts(tmp_path / "file" / "journal.sqlite")


def test_a_planted_link_is_not_followed(tmp_path: Path) -> None:
    target = tmp_path / "elsewhere"
    (tmp_path / "journal.sqlite").symlink_to(target)
    with pytest.raises(DraftError, match="can't be kept"):
        Drafts(tmp_path / "journal.sqlite")
    assert not target.exists()


def test_a_damaged_page_is_told(place: Path, blank: Examination) -> None:
    drafts = Drafts(place)
    for number in range(200):
        drafts.begin("clinic", str(number), blank, AT)
    drafts.checkpoint()
    drafts.close()
    content = bytearray(place.read_bytes())
    for page in range(2, len(content) // 4096):
        content[page * 4096 : page * 4096 + 2000] = os.urandom(2000)
    place.write_bytes(content)
    opened = Drafts(place)
    with pytest.raises(DraftError, match="damaged"):
        opened.latest()
    opened.close()


def test_a_change_that_cannot_be_read_back_costs_only_itself(drafts: Drafts, place: Path, blank: Examination) -> None:
    drafts.begin("clinic", "one", blank, AT)
    other = sqlite3.connect(place, isolation_level=None)
    for path, value in (("walking.base", '{"value": "sideways"}'), ("walking.hop", "{}"), (None, "{"), ("x", "nul")):
        other.execute(
            "INSERT INTO journal SELECT 'clinic', 'one', MAX(seq) + 1, ?, ?, ? FROM journal",
            (path, value, "2026-11-20T10:15:08.000000Z"),
        )
    other.close()
    drafts.append("clinic", "one", "walking.base", Examined(value="wide"), LATER)
    recovered = drafts.replay("one")
    assert recovered.lost == 4
    assert recovered.exam.walking.base == Examined(value="wide")


KEPT = "'2026-11-20T10:15:08.000000Z'"


@pytest.mark.parametrize(
    ("path", "value", "at"),
    [
        ("'walking.base'", "CAST(x'ff22' AS TEXT)", KEPT),
        ("CAST(x'ff' AS TEXT)", "'null'", KEPT),
        ("'walking.base'", "x'22'", KEPT),
        ("NULL", "x'7b7dff'", KEPT),
        ("'walking.base'", "'null'", "'yesterday'"),
        ("'walking.base'", "'null'", "CAST(x'ff' AS TEXT)"),
        ("'walking.base'", "NULL", KEPT),
        ("'motor.tone'", "'null'", KEPT),
        ("'motor.tone'", """'{"value": "normal"}'""", KEPT),
    ],
)
def test_a_row_that_is_not_even_text_costs_only_itself(
    drafts: Drafts, place: Path, blank: Examination, path: str, value: str, at: str
) -> None:
    drafts.begin("clinic", "one", blank, AT)
    drafts.append("clinic", "one", "walking.base", Examined(value="wide"), AT)
    other = sqlite3.connect(place, isolation_level=None)
    # After the last good change: listing the drafts reads it first.
    other.execute(f"INSERT INTO journal SELECT 'clinic', 'one', MAX(seq) + 1, {path}, {value}, {at} FROM journal")
    other.close()
    (draft,) = drafts.latest()
    assert draft.at == (AT + timedelta(seconds=1) if at == KEPT else AT)
    recovered = drafts.replay("one")
    assert (recovered.exam.walking.base, recovered.at, recovered.lost) == (Examined(value="wide"), AT, 1)
    assert [step.path for step in drafts.steps("one")] == [None, "walking.base"]


def test_a_finding_without_its_side_is_not_kept(drafts: Drafts, blank: Examination) -> None:
    drafts.begin("clinic", "one", blank, AT)
    for path in ("motor.tone", "motor.nothing"):
        with pytest.raises(KeyError):
            drafts.append("clinic", "one", path, None, AT)
    assert drafts.latest()[0].changes == 1


def test_a_draft_of_which_nothing_can_be_read_is_not_offered(drafts: Drafts, place: Path, blank: Examination) -> None:
    drafts.begin("clinic", "one", blank, AT)
    other = sqlite3.connect(place, isolation_level=None)
    for exam_id, clinic in (("bad", "clinic"), ("worse", "elsewhere")):
        other.execute(
            "INSERT INTO journal VALUES (?, ?, 1, NULL, CAST(x'ff' AS TEXT), ?)", (clinic, exam_id, KEPT[1:-1])
        )
    other.execute("INSERT INTO journal VALUES (CAST(x'ff' AS TEXT), 'odd', 1, NULL, '{}', ?)", (KEPT[1:-1],))
    other.close()
    assert [draft.exam_id for draft in drafts.latest()] == ["one"]
    assert drafts.unreadable("clinic") == ("bad",)


def test_a_draft_that_is_not_there_is_told(drafts: Drafts) -> None:
    with pytest.raises(DraftError, match="Nothing of this draft"):
        drafts.replay("unknown")


def test_what_was_written_cannot_be_changed(drafts: Drafts, blank: Examination) -> None:
    drafts.begin("clinic", "one", blank, AT)
    for change in ("DELETE FROM journal", "UPDATE journal SET value = NULL"):
        with pytest.raises(sqlite3.DatabaseError, match="append only"):
            drafts._open.execute(change)


def test_drafts_of_a_newer_version_are_refused_in_words(place: Path) -> None:
    Drafts(place).close()
    other = sqlite3.connect(place)
    other.execute("PRAGMA user_version = 2")
    other.close()
    with pytest.raises(DraftError, match="newer version"):
        Drafts(place)


def test_the_moment_of_a_change_is_the_given_one_in_any_zone(drafts: Drafts, blank: Examination) -> None:
    local = AT.astimezone().replace(microsecond=123456)
    drafts.begin("clinic", "one", blank, local)
    assert drafts.replay("one").at == local
    assert drafts.latest()[0].at == local
