"""Signs papers, says whether one can be relied on, and takes the exam out of one."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.errors import FileError
from neuroform.language import N_, _
from neuroform.settings import TOKEN, Settings
from neuroform.workflow.files import read_file

if TYPE_CHECKING:
    from neuroform.signing.certificates import SigningCertificate
    from neuroform.signing.fields import Role
    from neuroform.signing.timeservice import Level, TimeService
    from neuroform.signing.verification import Verification

LARGEST_CERTIFICATE = 1_000_000
"""Bytes; certificates, authorities and their lists are far smaller."""
SignsWith = Path | str
"""What signs: a file (PKCS#12), or a token's address (RFC 7512)."""
_LEVELS: "dict[str, Level]" = {"B-T": "T", "B-LT": "LT", "B-LTA": "LTA"}


def signs_with(text: str) -> SignsWith:
    """Return what a person named to sign with: a token's address as it is, anything else as a file.

    Raises SigningError for an address that can't be used or holds a PIN.
    """
    if not text.startswith(TOKEN):
        return Path(text)
    from neuroform.signing import tokens

    tokens.address(text)
    return text


def file_of(chosen: SignsWith) -> Path:
    """Return the file that must not be written over: the certificate's, or the module that speaks to the token."""
    if isinstance(chosen, Path):
        return chosen
    from neuroform.signing import tokens

    return tokens.address(chosen).library


@contextmanager
def opened(chosen: SignsWith, secret: str) -> "Iterator[SigningCertificate]":
    """Open a file with its passphrase, or a token with its PIN, for as long as the block lasts.

    Raises FileError when a file can't be read, PassphraseError for a wrong passphrase or PIN, SigningError when it
    can't sign.
    """
    if isinstance(chosen, Path):
        yield open_certificate(chosen, secret)
        return
    from neuroform.signing import tokens

    where = tokens.address(chosen)
    with tokens.opened(where.library, pin=secret, token=where.token, certificate=where.certificate) as certificate:
        yield certificate


def open_certificate(path: Path, passphrase: str) -> "SigningCertificate":
    """Open the file that signs.

    Raises FileError when it can't be read, PassphraseError for a wrong passphrase, SigningError when it can't sign.
    """
    from neuroform.signing.certificates import load

    return load(read_file(path, largest=LARGEST_CERTIFICATE), passphrase=passphrase)


def sign_paper(
    paper: bytes,
    *,
    certificate: "SigningCertificate",
    role: "Role",
    clock: Callable[[], datetime],
    settings: Settings | None = None,
    warn: Callable[[str], None] | None = None,
) -> bytes:
    """Return a paper signed in the place kept for `role`, time-stamped where the settings name a service.

    `warn` is told, in a sentence, when the service doesn't answer, can't give the proof asked for, or isn't trusted
    here. Raises FileError when an authority's file can't be read, SigningError, in words, when it can't be signed.
    """
    from neuroform.signing.sign import sign

    if settings is not None:
        _check_not_withdrawn(certificate, settings, clock())
    if settings is None or not settings.time_stamp_service:
        return sign(paper, signer=certificate, role=role, clock=clock)
    told: list[str] = []
    service = _time_service(settings)
    signed = sign(paper, signer=certificate, role=role, clock=clock, timestamper=service, warn=told.append)
    if not told:
        told += _not_trusted_here(signed, service.trust)
    if warn is not None:
        for sentence in told:
            warn(sentence)
    return signed


def _check_not_withdrawn(certificate: "SigningCertificate", settings: Settings, at: datetime) -> None:
    """Refuse a certificate that the clinic's own lists name; a list that can't be read is told of when verifying."""
    from neuroform.signing import trust

    with suppress(FileError):
        trust.require_not_withdrawn(certificate.certificate, trust.read(_authorities(settings.authorities)), at=at)


def _time_service(settings: Settings) -> "TimeService":
    from neuroform.signing.timeservice import TimeService

    level = _LEVELS[settings.time_stamp_level]
    return TimeService(url=settings.time_stamp_service, level=level, trust=_authorities(settings.authorities))


def _not_trusted_here(signed: bytes, trust: Sequence[bytes]) -> list[str]:
    """Say why the paper won't verify here: a stamp by a service that isn't trusted makes it not valid."""
    from neuroform.signing.verify import verify

    found = verify(signed, trust=trust)
    if found.valid:
        return []
    why = next((each.problem for each in reversed(found.signatures) if each.problem), found.sentence)
    told = _(N_("The paper is signed, but with the authorities in the settings it can't be verified. {problem}"))
    return [told.format(problem=why)]


def verify_paper(paper: bytes, settings: Settings, *, trust: Sequence[Path] = ()) -> "Verification":
    """Say whether a paper can be relied on, by the authorities in `trust`, else by those in the settings.

    Raises FileError when an authority's file can't be read, SigningError when it is none or the paper is no PDF.
    """
    from neuroform.signing.verify import verify

    return verify(paper, trust=_authorities(trust or settings.authorities))


def _authorities(files: Sequence[Path]) -> list[bytes]:
    return [read_file(path, largest=LARGEST_CERTIFICATE) for path in files]


def extract_exam(paper: bytes) -> bytes:
    """Return the exam that a paper carries, byte for byte. Raises SigningError when there is none."""
    from neuroform.signing.pdfa import attached

    return attached(paper)
