"""A passphrase is never a word of the command line, of a log or of an error, and never stays with what was signed."""

import logging
from datetime import UTC, datetime
from pathlib import Path

import click
import pytest

from neuroform import shipped
from neuroform.cli.commands import neuroform
from neuroform.errors import PassphraseError
from neuroform.exam import files
from neuroform.settings import Settings
from neuroform.workflow import demo, papers, signing

SECRET = demo.PASSPHRASE
EXAM_FILE = shipped.read_bytes("resources", "demonstration", "exam.json")


def clock() -> datetime:
    return datetime(2026, 11, 20, 9, 52, tzinfo=UTC)


@pytest.fixture(scope="module")
def certificate(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the file of the demonstration's certificate."""
    folder = tmp_path_factory.mktemp("clinic")
    made = demo.open_demo(folder, clock=clock)
    demo.make_certificates(folder, clock=clock)
    assert isinstance(made.settings.certificate, Path)
    return made.settings.certificate


def test_no_command_takes_a_passphrase_or_a_pin_as_a_word() -> None:
    names = {name for command in neuroform.commands.values() for each in command.params for name in each.opts}
    assert "-o" in names
    assert not any(part in name.lower() for name in names for part in ("pass", "pin", "secret", "password"))
    assert all(isinstance(each, click.Command) for each in neuroform.commands.values())


def test_signing_logs_no_passphrase_and_leaves_none_in_the_paper(
    certificate: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    order = papers.Order(kind="note", exam=files.read(EXAM_FILE), exam_file=EXAM_FILE)
    paper = papers.write_paper(order, Settings(), clock=clock)[0]
    with signing.opened(certificate, SECRET) as opened:
        signed = signing.sign_paper(paper, certificate=opened, role="author", clock=clock)
        assert SECRET not in repr(opened)
        assert SECRET not in repr(vars(opened))
    assert SECRET.encode() not in signed
    assert SECRET not in caplog.text


def test_a_wrong_passphrase_is_in_no_error(certificate: Path, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.DEBUG)
    wrong = "not the one at all"
    with pytest.raises(PassphraseError) as refused, signing.opened(certificate, wrong):
        pytest.fail("a wrong passphrase opened it")
    assert wrong not in str(refused.value) + repr(refused.value) + repr(refused.value.__cause__)
    assert wrong not in caplog.text
