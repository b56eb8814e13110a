"""Shipped files are found in an installed copy and in a checkout."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import neuroform
from neuroform import shipped
from neuroform.errors import ShippedFileError

READ = "from neuroform import shipped; print(shipped.read_text('resources', 'told.txt'), end='')"


def copy_of_the_accessor(root: Path) -> Path:
    """Lay the root modules out by themselves under `root`."""
    package = root / "neuroform"
    package.mkdir()
    for name in ("__init__.py", "errors.py", "language.py", "shipped.py"):
        shutil.copy(Path(neuroform.__file__).with_name(name), package / name)
    return package


def tell(folder: Path, words: str) -> None:
    """Ship one file in `folder`."""
    (folder / "resources").mkdir()
    (folder / "resources" / "told.txt").write_text(words, encoding="utf-8")


def read_in(root: Path) -> str:
    """Read that file with the copy under `root`."""
    done = subprocess.run([sys.executable, "-c", READ], cwd=root, capture_output=True, text=True, check=True)
    return done.stdout


def test_the_packaged_folder_comes_before_the_checkout(tmp_path: Path) -> None:
    tell(copy_of_the_accessor(tmp_path), "packaged")
    tell(tmp_path, "checkout")
    assert read_in(tmp_path) == "packaged"


def test_without_a_packaged_folder_the_checkout_is_read(tmp_path: Path) -> None:
    copy_of_the_accessor(tmp_path)
    tell(tmp_path, "checkout")
    assert read_in(tmp_path) == "checkout"


def test_bytes_and_text_are_those_of_the_file() -> None:
    assert shipped.read_bytes("resources", "fonts", "OFL.txt").decode() == shipped.read_text(
        "resources", "fonts", "OFL.txt"
    )


def test_names_lists_a_folder_in_order() -> None:
    listed = shipped.names("resources", "fonts")
    assert "IBMPlexSans-Regular.ttf" in listed
    assert list(listed) == sorted(listed)


def test_a_missing_file_is_told_with_what_to_do() -> None:
    with pytest.raises(ShippedFileError, match=r"resources/nothing\.toml.*is missing\. Install Neuroform anew\."):
        shipped.path("resources", "nothing.toml")


@pytest.mark.parametrize(
    "parts",
    [(), ("neuroform",), ("resources", ".."), ("resources", "../start.py"), ("resources", ""), ("resources", "/etc")],
)
def test_a_path_that_leaves_the_shipped_folders_is_refused(parts: tuple[str, ...]) -> None:
    with pytest.raises(ValueError, match="not a shipped path"):
        shipped.path(*parts)
