"""Papers are filed under names of their own, whatever came first."""

import os
from pathlib import Path
from threading import Thread

import pytest

from neuroform.workflow import paper_names
from neuroform.workflow.files import write_file
from neuroform.workflow.paper_names import file_away, free_path


def test_a_paper_that_came_meanwhile_is_not_written_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def late(folder: Path, name: str) -> Path:
        path = free_path(folder, name)
        if not list(folder.iterdir()):
            path.write_bytes(b"another window's")
        return path

    monkeypatch.setattr(paper_names, "free_path", late)
    path = file_away(tmp_path, "note.pdf", b"mine")
    assert (tmp_path / "note.pdf").read_bytes() == b"another window's"
    assert (path.name, path.read_bytes()) == ("note (2).pdf", b"mine")
    assert len(list(tmp_path.iterdir())) == 2


def test_all_of_many_papers_at_once_are_kept(tmp_path: Path) -> None:
    texts = [str(number).encode() for number in range(12)]
    threads = [Thread(target=file_away, args=(tmp_path, "note.pdf", text)) for text in texts]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert sorted(path.read_bytes() for path in tmp_path.iterdir()) == sorted(texts)


def test_a_name_is_taken_where_files_have_one_name_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_paths: object) -> None:
        raise PermissionError(1, "no links here")

    monkeypatch.setattr(os, "link", refused)
    path = tmp_path / "note.pdf"
    write_file(path, b"mine", new=True)
    with pytest.raises(FileExistsError):
        write_file(path, b"other", new=True)
    assert path.read_bytes() == b"mine"
    assert list(tmp_path.iterdir()) == [path]


def test_a_dangling_link_takes_a_name(tmp_path: Path) -> None:
    (tmp_path / "note.pdf").symlink_to(tmp_path / "nothing.pdf")
    assert file_away(tmp_path, "note.pdf", b"mine").name == "note (2).pdf"
