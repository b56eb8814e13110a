"""Measures the two-page note: its layout, and all of it until it is signed by two and verified."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from bench.figures import Figure, medians
from neuroform.exam import files
from neuroform.notes import papers as pages
from neuroform.notes.content import Basis
from neuroform.workflow import demo, papers, signing
from neuroform.workflow.conclude import protocol_of
from neuroform.workflow.gathering import gather

_PAGES = "its pages alone"


def figures(runs: int) -> Iterator[Figure]:
    """Yield the note's layout, the whole way of a signed note, and verifying it."""
    with TemporaryDirectory() as folder:
        yield from _in(Path(folder), runs)


def now() -> datetime:
    """Return the moment."""
    return datetime.now(UTC)


def _in(folder: Path, runs: int) -> Iterator[Figure]:
    clinic = demo.open_demo(folder, clock=now)
    demo.make_certificates(folder, clock=now)
    settings = clinic.settings
    assert settings.certificate is not None
    signer = signing.open_certificate(settings.certificate, demo.PASSPHRASE)
    order = papers.Order(kind="note", exam=clinic.exam, exam_file=files.write(clinic.exam), demonstration=True)

    def gathered() -> Basis:
        basis, _concluded = gather(order.exam, protocol_of(order.exam, settings), settings)
        return basis

    def signed() -> bytes:
        paper, _concluded = papers.write_paper(order, settings, clock=now)
        return signing.sign_paper(paper, certificate=signer, role="author", clock=now)

    def countersigned() -> bytes:
        return signing.sign_paper(once, certificate=signer, role="supervisor", clock=now)

    basis, once = gathered(), signed()
    twice = countersigned()
    laid_out, concluded, whole, second, verified = medians(
        [
            lambda: pages.make("note", basis),
            gathered,
            lambda: signing.verify_paper(signed(), settings),
            countersigned,
            lambda: signing.verify_paper(twice, settings),
        ],
        runs,
    )
    told = "conclude for a note"
    yield Figure(
        name="lay the note out", milliseconds=laid_out, against=told, against_milliseconds=concluded, bound="< 20 ms"
    )
    yield _beside("written, filed, signed and verified", whole, laid_out, bound="< 250 ms")
    yield _beside("countersign it", second, laid_out)
    yield _beside("verify a note signed twice", verified, laid_out)


def _beside(name: str, milliseconds: float, laid_out: float, *, bound: str = "") -> Figure:
    return Figure(name=name, milliseconds=milliseconds, against=_PAGES, against_milliseconds=laid_out, bound=bound)
