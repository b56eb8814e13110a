"""Signs papers, says whether one can be relied on, and takes the exam out of one."""

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.settings import Settings
from neuroform.workflow.files import read_file

if TYPE_CHECKING:
    from neuroform.signing.certificates import SigningCertificate
    from neuroform.signing.fields import Role
    from neuroform.signing.verification import Verification

LARGEST_CERTIFICATE = 1_000_000
"""Bytes; certificates, authorities and their lists are far smaller."""


def open_certificate(path: Path, passphrase: str) -> "SigningCertificate":
    """Open the file that signs.

    Raises FileError when it can't be read, PassphraseError for a wrong passphrase, SigningError when it can't sign.
    """
    from neuroform.signing.certificates import load

    return load(read_file(path, largest=LARGEST_CERTIFICATE), passphrase=passphrase)


def sign_paper(
    paper: bytes, *, certificate: "SigningCertificate", role: "Role", clock: Callable[[], datetime]
) -> bytes:
    """Return a paper signed in the place kept for `role`. Raises SigningError, in words, when that can't be."""
    from neuroform.signing.sign import sign

    return sign(paper, signer=certificate, role=role, clock=clock)


def verify_paper(paper: bytes, settings: Settings, *, trust: Sequence[Path] = ()) -> "Verification":
    """Say whether a paper can be relied on, by the authorities in `trust`, else by those in the settings.

    Raises FileError when an authority's file can't be read, SigningError when it is none or the paper is no PDF.
    """
    from neuroform.signing.verify import verify

    authorities = [read_file(path, largest=LARGEST_CERTIFICATE) for path in trust or settings.authorities]
    return verify(paper, trust=authorities)


def extract_exam(paper: bytes) -> bytes:
    """Return the exam that a paper carries, byte for byte. Raises SigningError when there is none."""
    from neuroform.signing.pdfa import attached

    return attached(paper)
