"""What the tests of signing share: a paper, an authority made for the run, and a pen for updates."""

import os
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta, timezone
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from neuroform import shipped
from neuroform.signing import authority as authorities
from neuroform.signing import certificates, fields, pdfa, sign
from neuroform.signing.certificates import DemoAuthority, SigningCertificate
from tests.conftest import IN_CI

if TYPE_CHECKING:
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

PASSPHRASE = "a pass phrase for show"
EXAM = b'{"format": "neuroform-exam/1",\r\n "odd spacing":   true}\n'
SIGNED_AT = datetime(2026, 11, 20, 10, 52, 10, tzinfo=timezone(timedelta(hours=1)))
AUTHOR_BOX = (153.0, 100.0, 339.0, 164.0)
SUPERVISOR_BOX = (358.0, 100.0, 544.0, 164.0)

Reviser = Callable[[bytes, "Callable[[IncrementalPdfFileWriter], None]"], bytes]


@pytest.fixture(scope="session", autouse=True)
def small_keys() -> Iterator[None]:
    """Make the run's keys as short as signing allows: the program's own take a second to find each."""
    assert authorities._KEY_BITS >= 3072
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(authorities, "_KEY_BITS", 2048)
        yield


@pytest.fixture(scope="session")
def passphrase() -> str:
    """Give the passphrase of the run's certificates."""
    return PASSPHRASE


@pytest.fixture(scope="session")
def exam() -> bytes:
    """Give the file that the paper carries, in a form no writer of JSON would produce."""
    return EXAM


@pytest.fixture(scope="session")
def clock() -> Callable[[], datetime]:
    """Give a clock that stands still."""
    return lambda: SIGNED_AT


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory, clock: Callable[[], datetime]) -> DemoAuthority:
    """Give the files of an authority made for this run."""
    return certificates.make_demo_authority(
        tmp_path_factory.mktemp("authority"),
        names={"author": "Dr Ilya Brandt", "supervisor": "Dr Pia Lindqvist"},
        passphrase=PASSPHRASE,
        clock=clock,
    )


@pytest.fixture(scope="session")
def authority(demo: DemoAuthority) -> bytes:
    """Give the authority's certificate (PEM)."""
    return demo.authority.read_bytes()


@pytest.fixture(scope="session")
def examiner(demo: DemoAuthority) -> SigningCertificate:
    """Give the examiner's opened certificate."""
    return certificates.load(demo.certificates["author"].read_bytes(), passphrase=PASSPHRASE)


@pytest.fixture(scope="session")
def supervisor(demo: DemoAuthority) -> SigningCertificate:
    """Give the supervisor's opened certificate."""
    return certificates.load(demo.certificates["supervisor"].read_bytes(), passphrase=PASSPHRASE)


@pytest.fixture(scope="session")
def pages() -> bytes:
    """Give two laid-out pages with an embedded face."""
    pdfmetrics.registerFont(
        TTFont("TestSans", BytesIO(shipped.read_bytes("resources", "fonts", "IBMPlexSans-Regular.ttf")))
    )
    out = BytesIO()
    face: Any = "TestSans"  # the stubs take a font's name for a number
    canvas = Canvas(out, pagesize=(595.28, 841.89), initialFontName=face, invariant=True)
    for number in (1, 2):
        canvas.setFont("TestSans", 10)
        canvas.drawString(153, 700, f"Joint position lost at both great toes. Page {number} of 2")
        canvas.showPage()
    canvas.save()
    return out.getvalue()


@pytest.fixture(scope="session")
def finished(pages: bytes) -> bytes:
    """Give the paper as it is filed, without places for signatures."""
    return pdfa.finish(
        pages,
        attachments=[pdfa.Attachment(data=EXAM, name="exam.json", description="The examination")],
        title="Legs and balance examination",
        language="en-GB",
        author="Dr Ilya Brandt",
        created=SIGNED_AT,
    )


@pytest.fixture(scope="session")
def unsigned(finished: bytes) -> bytes:
    """Give the paper with its two places for signatures."""
    return fields.add(
        finished,
        author=fields.Place(page=-1, box=AUTHOR_BOX),
        supervisor=fields.Place(page=-1, box=SUPERVISOR_BOX),
    )


@pytest.fixture(scope="session")
def signed(unsigned: bytes, examiner: SigningCertificate, clock: Callable[[], datetime]) -> bytes:
    """Give the paper signed by the examiner."""
    return sign.sign(unsigned, signer=examiner, role="author", clock=clock)


@pytest.fixture(scope="session")
def countersigned(signed: bytes, supervisor: SigningCertificate) -> bytes:
    """Give the paper signed by the examiner and, an hour later, by the supervisor."""
    later = SIGNED_AT + timedelta(hours=1)
    return sign.sign(signed, signer=supervisor, role="supervisor", clock=lambda: later)


@pytest.fixture(scope="session")
def note() -> bytes:
    """Give the program's own note of an invented person, with its two places for signatures."""
    from neuroform.exam import files
    from neuroform.settings import Settings
    from neuroform.workflow import papers

    data = shipped.read_bytes("resources", "demonstration", "exam.json")
    order = papers.Order(kind="note", exam=files.read(data), exam_file=data)
    return papers.write_paper(order, Settings(clinic_name="Invented clinic"), clock=lambda: SIGNED_AT)[0]


@pytest.fixture(scope="session")
def signed_note(note: bytes, examiner: SigningCertificate, clock: Callable[[], datetime]) -> bytes:
    """Give the note signed by the examiner."""
    return sign.sign(note, signer=examiner, role="author", clock=clock)


@pytest.fixture(scope="session")
def countersigned_note(signed_note: bytes, supervisor: SigningCertificate) -> bytes:
    """Give the note signed by the examiner and, an hour later, by the supervisor."""
    later = SIGNED_AT + timedelta(hours=1)
    return sign.sign(signed_note, signer=supervisor, role="supervisor", clock=lambda: later)


@pytest.fixture(scope="session")
def revise() -> Reviser:
    """Give a pen that adds one revision to a file, as any PDF program can."""
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

    class Plain(IncrementalPdfFileWriter):
        def _update_meta(self) -> None:
            """Leave the document information alone, so that a test changes only what it means to."""

    def update(pdf: bytes, change: "Callable[[IncrementalPdfFileWriter], None]") -> bytes:
        writer = Plain(BytesIO(pdf))
        change(writer)
        out = BytesIO()
        write: Callable[[BytesIO], None] = writer.write
        write(out)
        assert out.getvalue().startswith(pdf)
        assert len(out.getvalue()) > len(pdf)
        return out.getvalue()

    return update


@pytest.fixture(scope="session")
def flips() -> int:
    """Give how many random bytes to change."""
    return 1000 if IN_CI or os.environ.get("NEUROFORM_LONG") == "1" else 200


@pytest.fixture
def saved(tmp_path: Path) -> Callable[[bytes], Path]:
    """Give a function that puts a paper into a file for tools outside."""

    def save(pdf: bytes) -> Path:
        path = tmp_path / "paper.pdf"
        path.write_bytes(pdf)
        return path

    return save
