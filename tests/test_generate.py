"""Generated lists follow the declarations; drift is told."""

from pathlib import Path

import pytest

from neuroform import generate


def test_what_is_generated_is_what_stands_in_the_checkout(checkout: Path) -> None:
    assert list(generate.drifted(checkout)) == []


def test_a_missing_and_a_changed_file_are_named(tmp_path: Path) -> None:
    names = [name for name, _make in generate.FILES]
    assert list(generate.drifted(tmp_path)) == names
    generate.write(tmp_path)
    assert list(generate.drifted(tmp_path)) == []
    (tmp_path / names[0]).write_text("{}", encoding="utf-8")
    assert list(generate.drifted(tmp_path)) == names[:1]


def test_checking_says_which_file_differs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(generate, "CHECKOUT", tmp_path)
    assert generate.main(["--check"]) == 1
    assert "resources/schema/neuroform-exam-1.json differs" in capsys.readouterr().err
    assert generate.main([]) == 0
    assert generate.main(["--check"]) == 0
    assert generate.main(["--strange"]) == 2
