"""Files are written whole or not at all, and never over what they were made from."""

import os
import stat
from pathlib import Path

import pytest

from neuroform.errors import ExamFileError, FileError
from neuroform.workflow.files import OutputError, read_exam, read_file, write_file


def names(folder: Path) -> list[str]:
    """List what stands in a folder."""
    return sorted(file.name for file in folder.iterdir())


def test_a_file_is_written_and_nothing_is_left_beside_it(tmp_path: Path) -> None:
    write_file(tmp_path / "out.pdf", b"whole")
    write_file(tmp_path / "out.pdf", b"newer")
    assert (tmp_path / "out.pdf").read_bytes() == b"newer"
    assert names(tmp_path) == ["out.pdf"]


@pytest.mark.parametrize("other", ["in.json", "./in.json", "sub/../in.json", "linked.json", "hard.json"])
def test_what_it_was_made_from_is_not_overwritten(tmp_path: Path, other: str) -> None:
    source = tmp_path / "in.json"
    source.write_bytes(b"exam")
    (tmp_path / "sub").mkdir()
    (tmp_path / "linked.json").symlink_to(source)
    os.link(source, tmp_path / "hard.json")
    with pytest.raises(OutputError, match="would be overwritten"):
        write_file(tmp_path / other, b"paper", made_from=[source])
    assert source.read_bytes() == b"exam"


def test_a_planted_link_is_replaced_not_followed(tmp_path: Path) -> None:
    precious = tmp_path / "precious"
    precious.write_bytes(b"precious")
    (tmp_path / "out").symlink_to(precious)
    write_file(tmp_path / "out", b"paper")
    assert precious.read_bytes() == b"precious"
    assert (tmp_path / "out").read_bytes() == b"paper"
    assert not (tmp_path / "out").is_symlink()


@pytest.fixture
def pipe(tmp_path: Path) -> Path:
    """Give a pipe that nobody writes into."""
    if not hasattr(os, "mkfifo"):
        pytest.skip("this system has no named pipes")
    os.mkfifo(tmp_path / "pipe")
    return tmp_path / "pipe"


def test_a_pipe_is_neither_waited_for_nor_replaced(tmp_path: Path, pipe: Path) -> None:
    (tmp_path / "linked").symlink_to(pipe)
    for path in (pipe, tmp_path / "linked"):
        with pytest.raises(FileError, match=r"can't be read: it is no ordinary file\."):
            read_file(path)
        with pytest.raises(OutputError, match=r"can't be written: it is no ordinary file\."):
            write_file(path, b"paper")
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert names(tmp_path) == ["linked", "pipe"]
    assert (tmp_path / "linked").is_symlink()


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="this system shows no open files")
def test_a_name_that_stands_for_an_open_file_is_not_replaced(tmp_path: Path) -> None:
    with (tmp_path / "open").open("wb") as file, pytest.raises(OutputError, match="it is no ordinary file"):
        write_file(Path("/proc/self/fd") / str(file.fileno()), b"paper")
    assert names(tmp_path) == ["open"]


@pytest.mark.parametrize("place", ["", ".", "/", "..", "folder", "linked"])
def test_a_folder_for_an_output_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, place: str) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "linked").symlink_to(tmp_path / "folder")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(OutputError, match=r"can't be written: it is a folder\."):
        write_file(Path(place), b"paper")
    assert names(tmp_path) == ["folder", "linked"]


def test_a_link_that_leads_nowhere_is_replaced(tmp_path: Path) -> None:
    (tmp_path / "out").symlink_to(tmp_path / "nowhere")
    write_file(tmp_path / "out", b"paper")
    assert names(tmp_path) == ["out"]
    assert (tmp_path / "out").read_bytes() == b"paper"


@pytest.mark.parametrize("place", ["missing/out", "file/out", "folder", "bad\0name", "n" * 300])
def test_a_place_that_cannot_be_written_is_told_and_nothing_is_left(tmp_path: Path, place: str) -> None:
    (tmp_path / "file").write_bytes(b"")
    (tmp_path / "folder").mkdir()
    with pytest.raises(OutputError, match="can't be written"):
        write_file(tmp_path / place, b"paper")
    assert names(tmp_path) == ["file", "folder"]
    assert names(tmp_path / "folder") == []


def test_a_disk_that_fills_leaves_the_old_file_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    (tmp_path / "out").write_bytes(b"old")
    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OutputError, match="No space left on device"):
        write_file(tmp_path / "out", b"new")
    assert (tmp_path / "out").read_bytes() == b"old"
    assert names(tmp_path) == ["out"]


def test_what_cannot_be_read_is_told(tmp_path: Path) -> None:
    for place in ("missing", "", "bad\0name"):
        with pytest.raises(FileError, match="can't be read"):
            read_file(tmp_path / place)
    (tmp_path / "large").write_bytes(b"x" * 11)
    with pytest.raises(FileError, match="larger"):
        read_file(tmp_path / "large", largest=10)
    assert read_file(tmp_path / "large", largest=11) == b"x" * 11


def test_an_exam_is_read_with_its_own_bytes(tmp_path: Path, checkout: Path) -> None:
    data = (checkout / "resources" / "demonstration" / "exam.json").read_bytes()
    (tmp_path / "exam.json").write_bytes(data.replace(b"\n", b"\n\n"))
    exam, held = read_exam(tmp_path / "exam.json")
    assert held == data.replace(b"\n", b"\n\n")
    assert exam.patient.family_name == "Ferrandis"
    (tmp_path / "exam.json").write_bytes(b"{}")
    with pytest.raises(ExamFileError):
        read_exam(tmp_path / "exam.json")
