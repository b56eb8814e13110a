"""A workplace opens whatever became of its journal, and says what could not be read."""

import sqlite3
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from neuroform.errors import DraftError
from neuroform.exam.examination import Examination, Patient, new_examination
from neuroform.exam.findings import Examined
from neuroform.records.drafts import DamagedError, Drafts
from neuroform.records.reopening import put_aside, reopen

AT = datetime(2026, 11, 20, 10, 15, 7, tzinfo=UTC)
LATER = AT + timedelta(seconds=9)
ASIDE = "journal.sqlite.damaged-20261120T101507Z"


@pytest.fixture
def blank() -> Examination:
    """Give a blank examination."""
    patient = Patient(family_name="Example", birth_date=date(1954, 2, 11))
    return new_examination(patient=patient, examiner="Examiner A", at=AT)


@pytest.fixture
def place(tmp_path: Path, blank: Examination) -> Path:
    """Give a journal with drafts of two clinics, closed."""
    path = tmp_path / "journal.sqlite"
    drafts = Drafts(path)
    drafts.begin("clinic", "one", blank, AT)
    drafts.append("clinic", "one", "walking.base", Examined(value="wide"), AT)
    drafts.begin("elsewhere", "two", blank, LATER)
    drafts.checkpoint()
    drafts.close()
    return path


def into(place: Path, statement: str) -> None:
    """Change a journal behind the program's back."""
    other = sqlite3.connect(place, isolation_level=None)
    other.execute(statement)
    other.close()


def torn(place: Path) -> None:
    place.write_bytes(b"not a database at all" * 400)


def cut_short(place: Path) -> None:
    place.write_bytes(place.read_bytes()[:4096])


def without_its_table(place: Path) -> None:
    into(place, "DROP TABLE journal")


def of_another_shape(place: Path) -> None:
    into(place, "ALTER TABLE journal RENAME COLUMN seq TO number")


def test_a_journal_that_can_be_read_is_opened_as_it_is(place: Path) -> None:
    found = reopen(place, "clinic", LATER)
    assert [draft.exam_id for draft in found.drafts.latest()] == ["two", "one"]
    assert found.drafts.replay("one").exam.walking.base == Examined(value="wide")
    assert found.told == ()
    found.drafts.close()


def test_a_page_that_is_damaged_among_the_changes_is_seen_at_once(place: Path) -> None:
    drafts = Drafts(place)
    drafts.append("clinic", "one", "context.reason", "y" * 20_000, AT)
    drafts.begin("clinic", "one", drafts.replay("one").exam, AT)
    drafts.checkpoint()
    drafts.close()
    content = bytearray(place.read_bytes())
    # A long value goes on from page to page, each naming the next in its first four bytes (SQLite's file format, 1.6).
    page = next(at for at in range(0, len(content), 4096) if content[at + 4 : at + 4096] == b"y" * 4092)
    content[page : page + 4] = b"\xff" * 4
    place.write_bytes(content)
    found = reopen(place, "clinic", AT)
    assert found.drafts.latest() == ()
    assert str(place.with_name(ASIDE)) in found.told[0]
    found.drafts.close()


@pytest.mark.parametrize("harm", [torn, cut_short, without_its_table, of_another_shape])
def test_a_damaged_file_is_put_aside_and_a_new_one_begun(
    place: Path, blank: Examination, harm: Callable[[Path], None]
) -> None:
    harm(place)
    damaged = place.read_bytes()
    found = reopen(place, "clinic", AT)
    assert found.drafts.latest() == ()
    (told,) = found.told
    assert str(place.with_name(ASIDE)) in told
    assert place.with_name(ASIDE).read_bytes() == damaged
    found.drafts.begin("clinic", "three", blank, AT)
    found.drafts.close()
    again = reopen(place, "clinic", LATER)
    assert [draft.exam_id for draft in again.drafts.latest()] == ["three"]
    assert again.told == ()
    again.drafts.close()


def test_a_damaged_file_is_told_where_nobody_may_put_it_aside(place: Path) -> None:
    torn(place)
    with pytest.raises(DamagedError, match=r"are damaged: .*Close the program and open it again"):
        Drafts(place)


def test_nothing_that_was_put_aside_is_written_over(place: Path) -> None:
    first = place.read_bytes()
    assert put_aside(place, AT).name == ASIDE
    torn(place)
    second = put_aside(place, AT)
    assert second.name == f"{ASIDE}-2"
    assert place.with_name(ASIDE).read_bytes() == first
    assert second.read_bytes().startswith(b"not a database")


def test_a_journal_goes_aside_with_its_companions(place: Path) -> None:
    place.with_name("journal.sqlite-wal").write_bytes(b"log")
    put_aside(place, AT)
    assert sorted(file.name for file in place.parent.iterdir()) == [ASIDE, f"{ASIDE}-wal"]


def test_a_draft_of_which_nothing_can_be_read_locks_nobody_out(place: Path) -> None:
    into(place, "INSERT INTO journal VALUES ('clinic', 'bad', 1, NULL, CAST(x'ff' AS TEXT), '2027')")
    found = reopen(place, "clinic", LATER)
    assert "bad" not in {draft.exam_id for draft in found.drafts.latest()}
    found.drafts.close()
    (told,) = found.told
    assert "Nothing of this draft can be read back" in told
    again = reopen(place, "clinic", LATER)
    again.drafts.close()
    assert again.told == ()


def test_what_is_not_damaged_is_not_put_aside(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("neuroform.records.drafts._PATIENCE_MS", 20)
    into(place, "PRAGMA user_version = 2")
    with pytest.raises(DraftError, match="newer version"):
        reopen(place, "clinic", AT)
    into(place, "PRAGMA user_version = 1")
    holder = sqlite3.connect(place, isolation_level=None)
    holder.execute("PRAGMA locking_mode = EXCLUSIVE")
    holder.execute("BEGIN EXCLUSIVE")
    with pytest.raises(DraftError, match="can't be kept"):
        reopen(place, "clinic", AT)
    holder.close()
    assert not place.with_name(ASIDE).exists()
