"""Measures the signed note against its layout alone, and verifying it."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from bench.figures import Figure, medians
from neuroform.exam import files
from neuroform.workflow import demo, papers, signing


def figures(runs: int) -> Iterator[Figure]:
    """Yield a signed note against its bare pages, and verifying it against those too."""
    with TemporaryDirectory() as folder:
        yield from _in(Path(folder), runs)


def now() -> datetime:
    """Return the moment."""
    return datetime.now(UTC)


def _in(folder: Path, runs: int) -> Iterator[Figure]:
    clinic = demo.open_demo(folder, clock=now)
    demo.make_certificates(folder, clock=now)
    assert clinic.settings.certificate is not None
    certificate = signing.open_certificate(clinic.settings.certificate, demo.PASSPHRASE)
    order = papers.Order(kind="note", exam=clinic.exam, exam_file=files.write(clinic.exam), demonstration=True)

    def signed() -> bytes:
        paper, _concluded = papers.write_paper(order, clinic.settings, clock=now)
        return signing.sign_paper(paper, certificate=certificate, role="author", clock=now)

    paper = signed()
    laid_out, whole, verified = medians(
        [
            lambda: papers.lay_out(order, clinic.settings),
            signed,
            lambda: signing.verify_paper(paper, clinic.settings),
        ],
        runs,
    )
    pages = "its pages alone"
    yield Figure(
        name="note laid out, filed, signed and verified",
        milliseconds=whole,
        against=pages,
        against_milliseconds=laid_out,
    )
    yield Figure(name="verify a signed note", milliseconds=verified, against=pages, against_milliseconds=laid_out)
