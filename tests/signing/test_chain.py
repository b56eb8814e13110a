"""A paper is finished, signed, countersigned and read back; two outside programs agree."""

import hashlib
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from neuroform.errors import PaperError, SigningError
from neuroform.signing import pdfa, verify


def test_a_countersigned_paper_is_valid(countersigned: bytes, authority: bytes, exam: bytes) -> None:
    found = verify.verify(countersigned, trust=[authority])
    assert found.to_json() == {
        "valid": True,
        "signatures": [
            {
                "role": "author",
                "name": "Dr Ilya Brandt (demonstration)",
                "signed_at": "2026-11-20T10:52:10+01:00",
                "intact": True,
                "trusted": True,
                "changed_after": [],
                "problem": None,
            },
            {
                "role": "supervisor",
                "name": "Dr Pia Lindqvist (demonstration)",
                "signed_at": "2026-11-20T11:52:10+01:00",
                "intact": True,
                "trusted": True,
                "changed_after": [],
                "problem": None,
            },
        ],
        "expected_signatures": None,
        "exam_sha256": hashlib.sha256(exam).hexdigest(),
    }
    assert found.sentence == (
        "Signed by Dr Ilya Brandt (demonstration) on 20 Nov 2026 at 10:52, then by Dr Pia Lindqvist (demonstration) "
        "on 20 Nov 2026 at 11:52. Nothing was changed since."
    )


def test_an_empty_second_field_is_no_fault(signed: bytes, authority: bytes) -> None:
    found = verify.verify(signed, trust=[authority])
    assert found.valid
    assert [each.role for each in found.signatures] == ["author"]


def test_an_unsigned_paper_is_not_valid_and_has_no_signatures(unsigned: bytes, authority: bytes) -> None:
    found = verify.verify(unsigned, trust=[authority])
    assert not found.valid
    assert found.signatures == ()
    assert found.sentence == "This paper isn't signed. Don't take it for a signed one."


def test_the_exam_comes_back_byte_for_byte(finished: bytes, countersigned: bytes, exam: bytes) -> None:
    assert pdfa.attached(finished) == exam
    assert pdfa.attached(countersigned) == exam


def test_the_filed_revision_stands_unchanged_at_the_head_of_the_signed_file(
    finished: bytes, countersigned: bytes
) -> None:
    assert countersigned.startswith(finished)


def test_the_attachment_is_an_associated_source(finished: bytes) -> None:
    with pikepdf.open(BytesIO(finished)) as document:
        (specification,) = document.Root.AF.as_list()
        assert specification.AFRelationship == pikepdf.Name.Source
        assert list(document.attachments) == ["exam.json"]
        assert document.Root.Lang == "en-GB"
        assert document.docinfo["/Title"] == "Legs and balance examination"


def test_pages_whose_type_is_not_embedded_are_refused() -> None:
    from reportlab.pdfgen.canvas import Canvas

    out = BytesIO()
    canvas = Canvas(out)
    canvas.drawString(100, 100, "in a face that isn't embedded")
    canvas.save()
    with pytest.raises(PaperError, match="filed for the long term"):
        pdfa.finish(
            out.getvalue(),
            attachments=[],
            title="A title",
            language="en-GB",
            author="Dr Ilya Brandt",
            created=datetime.fromisoformat("2026-11-20T10:00:00+01:00"),
        )


def test_a_paper_without_an_exam_says_so(pages: bytes) -> None:
    with pytest.raises(SigningError, match="carries no examination"):
        pdfa.attached(pages)


def test_a_damaged_paper_without_signatures_is_called_damaged(authority: bytes) -> None:
    found = verify.verify(b"%PDF-1.7\nnothing more", trust=[authority])
    assert not found.valid
    assert found.exam_sha256 is None
    assert found.sentence == "This paper is damaged: it can't be read as a PDF any more. Don't rely on it."


@pytest.mark.parametrize("data", [b"", b"a letter, not a paper", b"\x89PNG\r\n\x1a\n" + bytes(100)])
def test_what_is_no_pdf_at_all_is_an_error_and_not_an_answer(data: bytes, authority: bytes) -> None:
    with pytest.raises(SigningError, match="isn't a PDF"):
        verify.verify(data, trust=[authority])


def test_verifying_works_in_a_worker_thread(countersigned: bytes, authority: bytes) -> None:
    with ThreadPoolExecutor(max_workers=1) as pool:
        assert pool.submit(verify.verify, countersigned, trust=[authority]).result().valid


def test_pdfsig_agrees(
    countersigned: bytes,
    authority: bytes,
    saved: Callable[[bytes], Path],
    need_tool: Callable[[str], str],
    tmp_path: Path,
) -> None:
    certutil, pdfsig = need_tool("certutil"), need_tool("pdfsig")
    store, trusted = tmp_path / "store", tmp_path / "authority.pem"
    store.mkdir()
    trusted.write_bytes(authority)
    subprocess.run([certutil, "-N", "-d", f"sql:{store}", "--empty-password"], check=True)
    subprocess.run([certutil, "-A", "-d", f"sql:{store}", "-n", "authority", "-t", "CT,C,C", "-i", trusted], check=True)
    said = subprocess.run(
        [pdfsig, "-nssdir", f"sql:{store}", saved(countersigned)], check=True, capture_output=True, text=True
    ).stdout
    assert said.count("Signature Validation: Signature is Valid.") == 2
    assert said.count("Certificate Validation: Certificate is Trusted.") == 2
    assert said.count("Total document signed") == 1
    assert "ETSI.CAdES.detached" in said


def test_qpdf_finds_no_fault(
    signed: bytes, countersigned: bytes, saved: Callable[[bytes], Path], need_tool: Callable[[str], str]
) -> None:
    qpdf = need_tool("qpdf")
    for pdf in (signed, countersigned):
        subprocess.run([qpdf, "--check", "--warning-exit-0", saved(pdf)], check=True, capture_output=True)


def test_every_face_of_a_signed_paper_is_embedded(
    countersigned: bytes, saved: Callable[[bytes], Path], need_tool: Callable[[str], str]
) -> None:
    listed = subprocess.run([need_tool("pdffonts"), saved(countersigned)], check=True, capture_output=True, text=True)
    rows = listed.stdout.splitlines()[2:]
    assert rows
    assert all(row.split()[-5] == "yes" for row in rows)


def test_the_drawn_stamps_can_be_read(
    countersigned: bytes, saved: Callable[[bytes], Path], need_tool: Callable[[str], str]
) -> None:
    text = subprocess.run(
        [need_tool("pdftotext"), "-layout", saved(countersigned), "-"], check=True, capture_output=True, text=True
    ).stdout
    for words in ("Dr Ilya Brandt (demonstration)", "20 Nov 2026, 10:52:10", "Countersigned", "20 Nov 2026, 11:52:10"):
        assert words in text
    assert "not yet countersigned" not in text


def test_pikepdf_objects_only_to_what_it_does_not_know_in_a_signed_file(countersigned: bytes) -> None:
    """Its validator can't approve signature fields; nothing that it does know may break PDF/A-3b."""
    from pikepdf import pdfa as validator

    report = validator.validate_written(BytesIO(countersigned), "3b")
    assert report.findings
    assert {finding.kind for finding in report.findings} == {"unsupported"}


def test_the_metadata_still_declares_pdfa_after_signing(countersigned: bytes) -> None:
    with pikepdf.open(BytesIO(countersigned)) as document:
        assert document.pdf_version == "1.7"
        assert document.open_metadata().pdfa_status == "3B"


def test_importing_the_room_loads_no_library_of_documents_or_signatures() -> None:
    code = (
        "import sys\n"
        "from neuroform.signing import authority, certificates, fields, layout, pdfa, tokens\n"
        "from neuroform.signing import sign, stamp, trust, verification, verify\n"
        "heavy = {'pyhanko', 'pkcs11', 'pikepdf', 'reportlab', 'cryptography', 'asn1crypto'} & set(sys.modules)\n"
        "sys.exit(', '.join(sorted(heavy)) or 0)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
