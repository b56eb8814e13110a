"""A clinic's own authority: kept apart from daily keys, issuing and withdrawing the certificates that sign.

Errs towards refusing: a key is never written over, and never under a passphrase that opens another one.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.errors import PassphraseError, SigningError
from neuroform.language import N_, _
from neuroform.settings import Places
from neuroform.workflow.files import OutputError, read_file, write_file
from neuroform.workflow.signing import LARGEST_CERTIFICATE

if TYPE_CHECKING:
    from cryptography.x509 import Certificate, CertificateRevocationList

    from neuroform.signing.authority import Authority

SHORTEST = 12
"""Characters of a passphrase that keeps a key."""
_CERTIFICATE, _KEY, _ISSUED, _TRUSTED = "authority.pem", "authority-key.pem", "issued", "trusted.pem"


@dataclass(frozen=True, kw_only=True)
class Folders:
    """Where the parts lie."""

    apart: Path
    """The authority's own: its key, and what it issued. Needed to issue and to withdraw, never to sign."""
    daily: Path
    """The certificates that sign."""
    trusted: Path
    """The file that verifying trusts: the authority's certificate and its list of withdrawn ones."""


@dataclass(frozen=True, kw_only=True)
class Issued:
    """One certificate that the authority issued."""

    name: str
    serial: int
    valid_until: datetime
    withdrawn: datetime | None
    """When it was withdrawn, None where it wasn't."""


def folders(places: Places, *, apart: Path | None = None) -> Folders:
    """Return the usual places of a workplace; `apart` is better on a disk that lies in a drawer."""
    chosen = apart or places.data / "authority"
    return Folders(
        apart=chosen,
        daily=places.data / "certificates",
        trusted=places.config / f"{chosen.name or 'authority'}.pem",
    )


def make(where: Folders, *, name: str, passphrase: str, clock: Callable[[], datetime]) -> Path:
    """Make an authority called `name`; return the file that verifying trusts. Takes seconds: call it from a worker.

    Raises SigningError where there is one already or the name can't stand in a certificate, PassphraseError for a
    short passphrase, OutputError where a folder can't be written.
    """
    from neuroform.signing import authority

    for path in (where.apart / _KEY, where.apart / _CERTIFICATE, where.trusted):
        if path.exists():
            raise SigningError(
                _(N_("There is an authority already: {file}.")).format(file=path),
                _(N_("Issue certificates with it, or name another folder. Nothing was made.")),
            )
    _check_passphrase(passphrase)
    made = authority.create(name=name, passphrase=passphrase, clock=clock)
    listed = authority.withdraw(made, [], authority_passphrase=passphrase, clock=clock)
    _folder(where.apart)
    write_file(where.apart / _KEY, made.key, private=True)
    write_file(where.apart / _CERTIFICATE, made.certificate)
    _trust(where, made.certificate + listed)
    return where.trusted


def issue(
    where: Folders, *, name: str, authority_passphrase: str, passphrase: str, clock: Callable[[], datetime]
) -> Path:
    """Issue a certificate for `name` under a passphrase of its own; return its file. Renewing is issuing anew.

    What `name` had before stays valid until it ends or is withdrawn, so older papers stay as they are. Raises
    FileError where the authority isn't at hand, PassphraseError, SigningError, OutputError.
    """
    from neuroform.signing import authority, certificates

    if where.daily.absolute().is_relative_to(where.apart.absolute()):
        raise SigningError(
            _(N_("Daily certificates don't lie in the authority's own folder.")), _(N_("Nothing was made."))
        )
    _check_passphrase(passphrase)
    if passphrase == authority_passphrase:
        raise PassphraseError(
            _(N_("That passphrase opens the authority too.")), _(N_("Give the certificate its own. Nothing was made."))
        )
    held = _held(where, clock)
    listed = _list(where, held, [], authority_passphrase, clock)
    made = authority.issue(
        held, name=name, authority_passphrase=authority_passphrase, passphrase=passphrase, clock=clock
    )
    opened = certificates.load(made, passphrase=passphrase).certificate
    _folder(where.apart / _ISSUED)
    _folder(where.daily)
    path = _free(where.daily, name)
    write_file(where.apart / _ISSUED / f"{opened.serial_number:x}.pem", _pem(opened))
    write_file(path, made, private=True)
    _trust(where, held.certificate + listed)
    return path


def withdraw(where: Folders, serial: int, *, authority_passphrase: str, clock: Callable[[], datetime]) -> Path:
    """Withdraw a certificate: its key was lost, or somebody else has its passphrase. Return the file with the list.

    Papers it signed without a time stamp are no longer relied on, whatever their date: whoever has the key can write
    any. Raises FileError where the authority isn't at hand, PassphraseError, SigningError, OutputError.
    """
    held = _held(where, clock)
    if serial not in {each.serial_number for each in _certificates(where)}:
        raise SigningError(
            _(N_("This authority didn't issue that certificate.")), _(N_("Choose another. Nothing was withdrawn."))
        )
    _trust(where, held.certificate + _list(where, held, [serial], authority_passphrase, clock))
    return where.trusted


def issued(where: Folders) -> tuple[Issued, ...]:
    """Return what the authority in that folder issued, the newest first; nothing where it isn't at hand."""
    from neuroform.signing.certificates import common_name

    withdrawn = _withdrawn(where)
    found = sorted(_certificates(where), key=lambda each: each.not_valid_before_utc, reverse=True)
    return tuple(
        Issued(
            name=common_name(each),
            serial=each.serial_number,
            valid_until=each.not_valid_after_utc,
            withdrawn=withdrawn.get(each.serial_number),
        )
        for each in found
    )


def _held(where: Folders, clock: Callable[[], datetime]) -> "Authority":
    from cryptography.x509 import load_pem_x509_certificate

    from neuroform.signing import moments
    from neuroform.signing.authority import Authority

    certificate = read_file(where.apart / _CERTIFICATE, largest=LARGEST_CERTIFICATE)
    key = read_file(where.apart / _KEY, largest=LARGEST_CERTIFICATE)
    try:
        ends = load_pem_x509_certificate(certificate).not_valid_after_utc
    except ValueError as error:
        raise SigningError(
            _(N_("{folder} holds no authority.")).format(folder=where.apart), _(N_("Name the folder it was made in."))
        ) from error
    if ends <= clock():
        raise SigningError(
            _(N_("The authority expired on {day}.")).format(day=moments.day(ends)),
            _(N_("Make another in a folder of its own. Nothing was made.")),
        )
    return Authority(certificate=certificate, key=key)


def _list(
    where: Folders,
    held: "Authority",
    serials: list[int],
    passphrase: str,
    clock: Callable[[], datetime],
) -> bytes:
    """Return the list of withdrawn certificates with some more in it; what stood there stays, with its moment."""
    from neuroform.signing import authority

    moments = {serial: clock() for serial in serials} | _withdrawn(where)
    known = {each.serial_number: each for each in _certificates(where)}
    if lost := moments.keys() - known.keys():
        raise SigningError(
            _(N_("A withdrawn certificate is missing from {folder}: {serial}.")).format(
                folder=where.apart / _ISSUED, serial=f"{min(lost):x}.pem"
            ),
            _(N_("Put it back, so that it stays withdrawn. Nothing was made.")),
        )
    entries = [(known[serial], moment) for serial, moment in moments.items()]
    return authority.withdraw(held, entries, authority_passphrase=passphrase, clock=clock)


def _withdrawn(where: Folders) -> dict[int, datetime]:
    """Return what the lists name: the one that is trusted here, and the authority's own copy of it."""
    from neuroform.signing import trust

    found: dict[int, datetime] = {}
    for path in (where.trusted, where.apart / _TRUSTED):
        if path.exists():
            for listed in trust.read([read_file(path, largest=LARGEST_CERTIFICATE)]).withdrawn:
                found |= _entries(listed)
    return found


def _entries(listed: "CertificateRevocationList") -> dict[int, datetime]:
    return {each.serial_number: each.revocation_date_utc for each in listed}


def _certificates(where: Folders) -> "list[Certificate]":
    from cryptography.x509 import load_pem_x509_certificate

    found = sorted((where.apart / _ISSUED).glob("*.pem"))
    try:
        return [load_pem_x509_certificate(read_file(each, largest=LARGEST_CERTIFICATE)) for each in found]
    except ValueError as error:
        raise SigningError(
            _(N_("{folder} holds a file that is no certificate.")).format(folder=where.apart / _ISSUED),
            _(N_("Take it out, then try again.")),
        ) from error


def _trust(where: Folders, pem: bytes) -> None:
    """Write what verifying trusts, and keep a copy with the authority: another machine may have an older one."""
    _folder(where.trusted.parent)
    write_file(where.apart / _TRUSTED, pem)
    write_file(where.trusted, pem)


def _pem(certificate: "Certificate") -> bytes:
    from cryptography.hazmat.primitives.serialization import Encoding

    return certificate.public_bytes(Encoding.PEM)


def _check_passphrase(passphrase: str) -> None:
    if len(passphrase.strip()) < SHORTEST:
        raise PassphraseError(
            _(N_("That passphrase is too short to keep a key.")),
            _(N_("Give at least {count} characters. Nothing was made.")).format(count=SHORTEST),
        )


def _folder(path: Path) -> None:
    try:
        path.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(
            _(N_("{folder} can't be made: {why}.")).format(folder=path, why=error.strerror),
            _(N_("Name another folder. Nothing was made.")),
        ) from error


def _free(folder: Path, name: str) -> Path:
    """Return a path for a person's certificate that no file has."""
    stem = "".join(each if each.isalnum() or each in " -." else "-" for each in name).strip(" .")[:80] or "certificate"
    path, number = folder / f"{stem}.p12", 2
    while path.exists():
        path, number = folder / f"{stem} {number}.p12", number + 1
    return path
