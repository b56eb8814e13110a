"""The demonstration clinic stands in a folder of its own and can sign."""

import stat
from datetime import UTC, datetime
from pathlib import Path

import pytest

from neuroform.errors import PassphraseError
from neuroform.exam import files
from neuroform.exam.walk import get
from neuroform.settings import load
from neuroform.workflow import demo
from neuroform.workflow.signing import open_certificate

AT = datetime(2026, 11, 20, 10, 15, 7, 123456, tzinfo=UTC)


def clock() -> datetime:
    """Tell one moment."""
    return AT


def test_it_is_made_in_its_folder_and_found_there_again(tmp_path: Path) -> None:
    first = demo.open_demo(tmp_path / "demonstration", clock=clock)
    assert first.settings.clinic_name == "Demonstration clinic"
    assert stat.S_IMODE((tmp_path / "demonstration").stat().st_mode) == 0o700
    assert load(first.places.settings) == first.settings
    (tmp_path / "demonstration").rename(tmp_path / "elsewhere")
    again = demo.open_demo(tmp_path / "elsewhere", clock=clock)
    assert again.settings.certificate == tmp_path / "elsewhere" / "signing" / "examiner.p12"


def test_the_examination_is_half_done_and_of_today() -> None:
    exam = demo.half_done(AT)
    assert exam.encounter.examined_at == AT.replace(microsecond=0)
    assert files.read(files.write(exam)) == exam
    for path in (
        "head_and_eyes.head_impulse.left",
        "head_and_eyes.skew",
        "head_and_eyes.gaze_evoked_nystagmus",
        "head_and_eyes.new_hearing_loss.right",
        "sensation.joint_position.great_toe.left",
    ):
        assert get(exam, path) is None
    assert get(exam, "head_and_eyes.head_impulse.right").value == "corrective_saccade"


def test_its_certificates_are_made_on_the_spot_and_open_with_the_shown_passphrase(tmp_path: Path) -> None:
    opened = demo.open_demo(tmp_path, clock=clock)
    assert not demo.certificates_made(tmp_path)
    demo.make_certificates(tmp_path, clock=clock)
    assert demo.certificates_made(tmp_path)
    assert opened.settings.certificate is not None
    certificate = open_certificate(opened.settings.certificate, demo.PASSPHRASE)
    assert certificate.demonstration
    assert certificate.name.startswith(demo.EXAMINER)
    assert stat.S_IMODE(opened.settings.certificate.stat().st_mode) == 0o600
    with pytest.raises(PassphraseError):
        open_certificate(opened.settings.certificate, "guess")
