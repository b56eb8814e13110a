"""Opens the file that signs, says what is wrong with it, and makes the demo clinic's."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.errors import PassphraseError, SigningError
from neuroform.language import N_, _
from neuroform.signing import moments
from neuroform.signing.fields import Role

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
    from cryptography.hazmat.primitives.asymmetric.rsa import RSAPrivateKey
    from cryptography.hazmat.primitives.asymmetric.types import PublicKeyTypes
    from cryptography.x509 import Certificate, Name

DEMONSTRATION = "demonstration"
"""The word that marks a certificate of the demo clinic, in its subject."""

SIGNING_PURPOSES = frozenset(
    {
        "1.3.6.1.5.5.7.3.4",  # e-mail protection (RFC 5280)
        "1.3.6.1.5.5.7.3.36",  # document signing (RFC 9336)
        "1.2.840.113583.1.1.5",  # PDF signing, as common viewers name it
        "1.3.6.1.4.1.311.10.3.12",  # document signing, as common operating systems name it
        "2.5.29.37.0",  # any purpose (RFC 5280)
    }
)
"""Extended key usages with which a certificate may sign papers."""


@dataclass(frozen=True, kw_only=True)
class TokenKey:
    """A private key that never leaves its token; good as long as the token is open."""

    longest: int
    """Bytes that a signature takes at most."""
    sign_digest: Callable[[bytes], bytes] = field(repr=False)
    """Returns the signature of a SHA-256 digest; raises SigningError, in words, when the token gives none."""


@dataclass(frozen=True, kw_only=True)
class SigningCertificate:
    """A certificate with its key, opened once; the passphrase isn't kept."""

    name: str
    """Whose it is."""
    issuer: str
    """Who vouches for it."""
    valid_from: datetime
    """First moment it may sign."""
    valid_until: datetime
    """Last moment it may sign."""
    demonstration: bool
    """Whether it belongs to a demo clinic."""
    certificate: "Certificate" = field(repr=False)
    """The certificate itself."""
    others: "tuple[Certificate, ...]" = field(repr=False)
    """What else was in the file: the authorities between it and the root."""
    key: "RSAPrivateKey | EllipticCurvePrivateKey | TokenKey" = field(repr=False)
    """The private key, parsed, or where it lies."""


def load(data: bytes, *, passphrase: str | bytes) -> SigningCertificate:
    """Open a PKCS#12 file.

    Raises PassphraseError when the passphrase is wrong, SigningError when it isn't such a file, holds no key, or its
    key is of a kind that can't sign papers.
    """
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
    from cryptography.hazmat.primitives.asymmetric.rsa import RSAPrivateKey
    from cryptography.hazmat.primitives.serialization import pkcs12

    secret = passphrase.encode("utf-8") if isinstance(passphrase, str) else bytes(passphrase)
    try:
        opened = pkcs12.load_pkcs12(data, secret or None)
    except Exception as error:
        if _is_pkcs12(data):
            raise PassphraseError(
                _(N_("That passphrase doesn't open this certificate.")), _(N_("Nothing was signed."))
            ) from error
        raise _unusable(_(N_("This file isn't a certificate with a key (PKCS#12)."))) from error
    if opened.cert is None or opened.key is None:
        raise _unusable(_(N_("This certificate file holds no key to sign with.")))
    if not isinstance(opened.key, RSAPrivateKey | EllipticCurvePrivateKey):
        raise _wrong_kind()
    others = tuple(each.certificate for each in opened.additional_certs)
    return described(opened.cert.certificate, others=others, key=opened.key)


def described(
    certificate: "Certificate",
    *,
    others: "tuple[Certificate, ...]",
    key: "RSAPrivateKey | EllipticCurvePrivateKey | TokenKey",
) -> SigningCertificate:
    """Return a certificate with what it says of itself. Raises SigningError when its kind of key can't sign papers."""
    _check_key(certificate.public_key())
    return SigningCertificate(
        name=common_name(certificate),
        issuer=issuer_name(certificate),
        valid_from=certificate.not_valid_before_utc,
        valid_until=certificate.not_valid_after_utc,
        demonstration=DEMONSTRATION in certificate.subject.rfc4514_string().lower(),
        certificate=certificate,
        others=_vouching(certificate, others),
        key=key,
    )


def longest_signature(bits: int) -> int:
    """Return the bytes a signature by an elliptic curve takes at most: two integers and their headers (RFC 3279)."""
    return 2 * ((bits + 7) // 8) + 9


def check(certificate: SigningCertificate, *, at: datetime) -> None:
    """Raise SigningError, in words, unless `certificate` may sign papers at that moment."""
    found = problem(certificate.certificate, at=at)
    if found is not None:
        raise SigningError(found, _(N_("Choose a certificate that may sign today. Nothing was signed.")))


def problem(certificate: "Certificate", *, at: datetime) -> str | None:
    """Return why `certificate` may not sign papers at that moment, as one sentence, None if it may."""
    name = common_name(certificate)
    if at < certificate.not_valid_before_utc:
        day = moments.day(certificate.not_valid_before_utc)
        return _(N_("{name}'s certificate isn't valid before {day}.")).format(name=name, day=day)
    if at > certificate.not_valid_after_utc:
        day = moments.day(certificate.not_valid_after_utc)
        return _(N_("{name}'s certificate expired on {day}.")).format(name=name, day=day)
    if not may_sign(certificate):
        return _(N_("{name}'s certificate wasn't issued for signing papers.")).format(name=name)
    return None


def common_name(certificate: "Certificate") -> str:
    """Return whose certificate it is: the common name, else the whole subject."""
    return _shown(certificate.subject)


def issuer_name(certificate: "Certificate") -> str:
    """Return who issued a certificate: the common name, else the whole name."""
    return _shown(certificate.issuer)


@dataclass(frozen=True, kw_only=True)
class DemoAuthority:
    """Where the demo clinic's certificates were put."""

    authority: Path
    """The authority's certificate (PEM): what verifying trusts."""
    certificates: dict[Role, Path]
    """The certificates that sign (PKCS#12), one a role."""


def make_demo_authority(
    folder: Path, *, names: Mapping[Role, str], passphrase: str, clock: Callable[[], datetime]
) -> DemoAuthority:
    """Make a small authority and a certificate for each of `names` in `folder`; both say that they are for show.

    The authority's own key lies in a folder apart, under the same passphrase. What is there already is replaced.
    """
    from neuroform.signing import authority

    made = authority.create(name=_(N_("Demo clinic authority")), passphrase=passphrase, clock=clock, demonstration=True)
    apart = folder / "authority"
    apart.mkdir(parents=True, exist_ok=True)
    (apart / "authority.pem").write_bytes(made.certificate)
    _write_private(apart / "authority-key.pem", made.key)
    files: dict[Role, str] = {"author": "examiner.p12", "supervisor": "supervisor.p12"}
    certificates: dict[Role, Path] = {}
    for role, name in names.items():
        certificates[role] = folder / files[role]
        issued = authority.issue(
            made, name=name, authority_passphrase=passphrase, passphrase=passphrase, clock=clock, demonstration=True
        )
        _write_private(certificates[role], issued)
    return DemoAuthority(authority=apart / "authority.pem", certificates=certificates)


def _write_private(path: Path, data: bytes) -> None:
    path.unlink(missing_ok=True)
    path.touch(mode=0o600)
    path.write_bytes(data)


def may_sign(certificate: "Certificate") -> bool:
    """Say whether the key usages allow it; one that names none is unrestricted (RFC 5280, 4.2.1.3)."""
    from cryptography.x509 import ExtendedKeyUsage, ExtensionNotFound, KeyUsage

    with suppress(ExtensionNotFound):
        usage = certificate.extensions.get_extension_for_class(KeyUsage).value
        if not (usage.digital_signature or usage.content_commitment):
            return False
    with suppress(ExtensionNotFound):
        purposes = certificate.extensions.get_extension_for_class(ExtendedKeyUsage).value
        return any(purpose.dotted_string in SIGNING_PURPOSES for purpose in purposes)
    return True


def _vouching(certificate: "Certificate", others: "tuple[Certificate, ...]") -> "tuple[Certificate, ...]":
    """Return those of `others` that vouch for a certificate, in turn; a file or token may hold strangers' as well."""
    from cryptography.exceptions import InvalidSignature

    found: list[Certificate] = []
    current = certificate
    while True:
        for each in others:
            if each not in {certificate, *found}:
                with suppress(ValueError, TypeError, InvalidSignature):
                    current.verify_directly_issued_by(each)
                    found.append(each)
                    current = each
                    break
        else:
            return tuple(found)


def _check_key(key: "PublicKeyTypes") -> None:
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePublicKey
    from cryptography.hazmat.primitives.asymmetric.rsa import RSAPublicKey

    if not isinstance(key, RSAPublicKey | EllipticCurvePublicKey):
        raise _wrong_kind()
    if isinstance(key, RSAPublicKey) and key.key_size < 2048:
        raise _unusable(_(N_("This certificate's key is too short to sign papers: it needs 2048 bits.")))


def _wrong_kind() -> SigningError:
    return _unusable(_(N_("This certificate's kind of key can't sign papers.")))


def _is_pkcs12(data: bytes) -> bool:
    """Say whether `data` opens like a PFX: a sequence whose first element is the version 3 (RFC 7292)."""
    from asn1crypto.core import load
    from asn1crypto.pkcs12 import Pfx

    try:
        load(data, strict=True)
        return bool(Pfx.load(data)["version"].native == "v3")
    except (ValueError, TypeError, KeyError):
        return False


def _shown(name: "Name") -> str:
    from cryptography.x509.oid import NameOID

    common = name.get_attributes_for_oid(NameOID.COMMON_NAME)
    return str(common[0].value) if common else name.rfc4514_string()


def _unusable(what: str) -> SigningError:
    return SigningError(what, _(N_("Choose another certificate. Nothing was signed.")))
