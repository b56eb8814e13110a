"""Reads the authorities a clinic trusts, and the lists of certificates they withdrew."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING

from neuroform.errors import SigningError
from neuroform.language import N_, _
from neuroform.signing import moments

if TYPE_CHECKING:
    from cryptography.x509 import Certificate, CertificateRevocationList

_CRL = b"-----BEGIN X509 CRL-----"


@dataclass(frozen=True, kw_only=True)
class Trust:
    """The authorities whose word is taken."""

    authorities: "tuple[Certificate, ...]" = field(default=())
    """Their certificates."""
    withdrawn: "tuple[CertificateRevocationList, ...]" = field(default=())
    """Their lists of withdrawn certificates."""


def read(pems: Sequence[bytes]) -> Trust:
    """Read PEM files that hold authorities' certificates, lists of withdrawn ones, or both.

    Raises SigningError for a file that holds neither.
    """
    from cryptography import x509

    authorities: list[Certificate] = []
    withdrawn: list[CertificateRevocationList] = []
    for pem in pems:
        try:
            lists = [_CRL + part for part in pem.split(_CRL)[1:]]
            withdrawn += [x509.load_pem_x509_crl(part) for part in lists]
            if b"-----BEGIN CERTIFICATE-----" in pem:
                authorities += x509.load_pem_x509_certificates(pem)
            elif not lists:
                authorities.append(x509.load_der_x509_certificate(pem))
        except ValueError as error:
            raise SigningError(
                _(N_("The file of trusted authorities holds no certificate.")),
                _(N_("Choose the authority's PEM file.")),
            ) from error
    return Trust(authorities=tuple(authorities), withdrawn=tuple(withdrawn))


def joined(trust: Trust, lists: Sequence[bytes]) -> Trust:
    """Return `trust` with more lists (DER), such as those a paper carries; what can't be read as one is left out.

    They can take trust away but never give any: only a list that a trusted authority signed counts.
    """
    from cryptography import x509

    withdrawn = list(trust.withdrawn)
    for each in lists:
        with suppress(ValueError):
            withdrawn.append(x509.load_der_x509_crl(each))
    return Trust(authorities=trust.authorities, withdrawn=tuple(withdrawn))


def listed_on(certificate: "Certificate", trust: Trust) -> datetime | None:
    """Return how late the newest list is that would name `certificate`, None if there is none."""
    return max((each.last_update_utc for each in _lists(certificate, trust)), default=None)


def withdrawn_on(certificate: "Certificate", trust: Trust, *, signed_at: datetime, stamped: bool) -> datetime | None:
    """Return when `certificate` was withdrawn, if that takes away what it signed at `signed_at`.

    Errs towards distrust: the signer's own clock counts only when the certificate was withdrawn for a harmless reason
    (the person left, a newer one took its place); a lost key could have been used with any date.
    """
    from cryptography import x509

    harmless = {
        x509.ReasonFlags.cessation_of_operation,
        x509.ReasonFlags.superseded,
        x509.ReasonFlags.affiliation_changed,
    }
    for listed in _lists(certificate, trust):
        entry = listed.get_revoked_certificate_by_serial_number(certificate.serial_number)
        if entry is None:
            continue
        try:
            reason = entry.extensions.get_extension_for_class(x509.CRLReason).value.reason
        except x509.ExtensionNotFound:
            reason = x509.ReasonFlags.unspecified
        if signed_at >= entry.revocation_date_utc or not (stamped or reason in harmless):
            return entry.revocation_date_utc
    return None


def require_not_withdrawn(certificate: "Certificate", trust: Trust, *, at: datetime) -> None:
    """Raise SigningError when a list names the certificate of someone who is about to sign."""
    from neuroform.signing.certificates import common_name

    moment = withdrawn_on(certificate, trust, signed_at=at, stamped=True)
    if moment is not None:
        withdrawn = _(N_("{name}'s certificate was withdrawn on {moment}."))
        raise SigningError(
            withdrawn.format(name=common_name(certificate), moment=moments.minute(moment)),
            _(N_("Choose a certificate that may sign today. Nothing was signed.")),
        )


def _lists(certificate: "Certificate", trust: Trust) -> "list[CertificateRevocationList]":
    return [each for each in trust.withdrawn if each.issuer == certificate.issuer and _by_authority(each, trust)]


def _by_authority(listed: "CertificateRevocationList", trust: Trust) -> bool:
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePublicKey
    from cryptography.hazmat.primitives.asymmetric.rsa import RSAPublicKey

    keys = (each.public_key() for each in trust.authorities if each.subject == listed.issuer)
    return any(
        isinstance(key, RSAPublicKey | EllipticCurvePublicKey) and listed.is_signature_valid(key) for key in keys
    )
