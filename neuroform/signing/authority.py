"""A clinic's own small authority: made here, kept apart from daily keys, with a list of what it withdrew."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from neuroform.errors import PassphraseError, SigningError
from neuroform.language import N_, _
from neuroform.signing.certificates import DEMONSTRATION

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.rsa import RSAPrivateKey
    from cryptography.x509 import Certificate, CertificateBuilder, KeyUsage, Name

# RSA: pyHanko raises the file to PDF 2.0 for elliptic curves, which ends PDF/A-3. 3072 bits: papers are kept 30 years.
_KEY_BITS = 3072
_AUTHORITY_YEARS = 15
_PERSON_YEARS = 3
# Clocks of two machines differ by minutes.
_LEEWAY = timedelta(minutes=10)
_LONGEST_NAME = 64  # RFC 5280, ub-common-name


@dataclass(frozen=True, kw_only=True)
class Authority:
    """An authority's certificate and its key."""

    certificate: bytes
    """The certificate, PEM."""
    key: bytes = field(repr=False)
    """The key, PEM, encrypted under the authority's own passphrase."""


def create(*, name: str, passphrase: str, clock: Callable[[], datetime], demonstration: bool = False) -> Authority:
    """Make an authority called `name`, its key under `passphrase`."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization

    key = _new_key()
    subject = _subject(name, demonstration=demonstration)
    now = clock()
    certificate = (
        _begun(subject, subject, key, key, now=now, years=_AUTHORITY_YEARS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_papers=False), critical=True)
        .sign(key, hashes.SHA256())
    )
    return Authority(
        certificate=certificate.public_bytes(serialization.Encoding.PEM),
        key=key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.BestAvailableEncryption(passphrase.encode()),
        ),
    )


def issue(
    authority: Authority,
    *,
    name: str,
    authority_passphrase: str,
    passphrase: str,
    clock: Callable[[], datetime],
    demonstration: bool = False,
) -> bytes:
    """Return a new certificate and key for `name` as PKCS#12 under `passphrase`; renewing is issuing anew.

    It names no address to ask about withdrawal: a clinic's small authority answers none, and viewers would then report
    an unknown problem. Raises PassphraseError when the authority's key doesn't open.
    """
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.serialization import pkcs12

    issuer, issuer_key = _opened(authority, authority_passphrase)
    key = _new_key()
    subject = _subject(name, demonstration=demonstration)
    purposes = [x509.ObjectIdentifier("1.3.6.1.5.5.7.3.36"), x509.ObjectIdentifier("1.3.6.1.5.5.7.3.4")]
    certificate = (
        _begun(subject, issuer.subject, key, issuer_key, now=clock(), years=_PERSON_YEARS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_papers=True), critical=True)
        .add_extension(x509.ExtendedKeyUsage(purposes), critical=False)
        .sign(issuer_key, hashes.SHA256())
    )
    return pkcs12.serialize_key_and_certificates(
        name.encode(), key, certificate, [issuer], serialization.BestAvailableEncryption(passphrase.encode())
    )


def withdraw(
    authority: Authority,
    certificates: "Iterable[tuple[Certificate, datetime]]",
    *,
    authority_passphrase: str,
    clock: Callable[[], datetime],
) -> bytes:
    """Return the authority's list (PEM) of withdrawn certificates, each with the moment it was withdrawn.

    Kept beside the authority's certificate, in the same file or another, the list is heeded when verifying.
    """
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization

    issuer, issuer_key = _opened(authority, authority_passphrase)
    now = clock()
    listed = x509.CertificateRevocationListBuilder().issuer_name(issuer.subject)
    listed = listed.last_update(now - _LEEWAY).next_update(now + timedelta(days=366))
    for certificate, moment in certificates:
        entry = x509.RevokedCertificateBuilder().serial_number(certificate.serial_number).revocation_date(moment)
        listed = listed.add_revoked_certificate(entry.build())
    return listed.sign(issuer_key, hashes.SHA256()).public_bytes(serialization.Encoding.PEM)


def _new_key() -> "RSAPrivateKey":
    from cryptography.hazmat.primitives.asymmetric import rsa

    return rsa.generate_private_key(public_exponent=65537, key_size=_KEY_BITS)


def _subject(name: str, *, demonstration: bool) -> "Name":
    from cryptography import x509
    from cryptography.x509.oid import NameOID

    shown = f"{name} ({DEMONSTRATION})" if demonstration else name
    if not name.strip() or len(shown) > _LONGEST_NAME:
        raise SigningError(
            _(N_("“{name}” can't stand in a certificate.")).format(name=name),
            _(N_("Give a name of 1 to {count} characters.")).format(count=_LONGEST_NAME - len(shown) + len(name)),
        )
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, shown)])


def _begun(
    subject: "Name", issuer: "Name", key: "RSAPrivateKey", issuer_key: "RSAPrivateKey", *, now: datetime, years: int
) -> "CertificateBuilder":
    from cryptography import x509

    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - _LEEWAY)
        .not_valid_after(now + timedelta(days=365.25 * years))
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(issuer_key.public_key()), critical=False)
    )


def _usage(*, signs_papers: bool) -> "KeyUsage":
    from cryptography import x509

    return x509.KeyUsage(
        digital_signature=signs_papers,
        content_commitment=signs_papers,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=not signs_papers,
        crl_sign=not signs_papers,
        encipher_only=False,
        decipher_only=False,
    )


def _opened(authority: Authority, passphrase: str) -> "tuple[Certificate, RSAPrivateKey]":
    from cryptography import x509
    from cryptography.hazmat.primitives import serialization
    from cryptography.hazmat.primitives.asymmetric.rsa import RSAPrivateKey

    try:
        key = serialization.load_pem_private_key(authority.key, passphrase.encode())
    except (ValueError, TypeError) as error:
        raise PassphraseError(
            _(N_("That passphrase doesn't open the authority's key.")), _(N_("No certificate was made."))
        ) from error
    if not isinstance(key, RSAPrivateKey):
        raise SigningError(_(N_("The authority's key isn't one this program made.")), _(N_("Choose its own key file.")))
    return x509.load_pem_x509_certificate(authority.certificate), key
