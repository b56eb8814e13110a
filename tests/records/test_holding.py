"""A draft is held by one window, and given back when that lets go or its program ends."""

import subprocess
import sys
from pathlib import Path

import pytest

from neuroform.errors import DraftError
from neuroform.records.holding import hold

HOLDING = """
import sys
from pathlib import Path
from neuroform.records.holding import hold
held = hold(Path(sys.argv[1]), "one")
print(held is not None, flush=True)
sys.stdin.read()
"""


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    return tmp_path / "journal.sqlite"


def test_a_draft_is_held_once(journal: Path) -> None:
    first = hold(journal, "one")
    assert first is not None
    assert hold(journal, "one") is None
    other = hold(journal, "two")
    assert other is not None
    first.let_go()
    again = hold(journal, "one")
    assert again is not None
    again.let_go()
    other.let_go()


def test_nothing_stays_behind_of_a_finished_draft(journal: Path) -> None:
    held = hold(journal, "one")
    assert held is not None
    assert list(journal.parent.iterdir())
    held.let_go(finished=True)
    assert not list(journal.parent.iterdir())


def test_another_program_holds_it_until_it_is_killed(journal: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", HOLDING, str(journal)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as other:
        assert other.stdout is not None
        assert other.stdout.readline().strip() == b"True"
        # Asked twice: looking at it must not take the lock away from whoever has it.
        assert hold(journal, "one") is None
        assert hold(journal, "one") is None
        other.kill()
        other.wait()
    held = hold(journal, "one")
    assert held is not None
    held.let_go()


def test_looking_does_not_give_up_what_this_program_holds(journal: Path) -> None:
    held = hold(journal, "one")
    assert held is not None
    assert hold(journal, "one") is None
    told = subprocess.run(
        [sys.executable, "-c", HOLDING, str(journal)], input=b"", capture_output=True, check=True
    ).stdout
    assert told.strip() == b"False"
    held.let_go()


def test_an_id_never_leads_out_of_the_folder(journal: Path) -> None:
    held = hold(journal, "../../one")
    assert held is not None
    assert len(list(journal.parent.iterdir())) == 1
    held.let_go()


def test_a_place_where_no_file_can_be_is_told(tmp_path: Path) -> None:
    with pytest.raises(DraftError, match="open in another window"):
        hold(tmp_path / "nowhere" / "journal.sqlite", "one")
