"""Signs with a key that never leaves its token: a card, a USB key or a box in the cellar, spoken to by PKCS#11."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote

from neuroform.errors import PassphraseError, SigningError
from neuroform.language import N_, _
from neuroform.signing import certificates
from neuroform.signing.certificates import SigningCertificate, TokenKey

if TYPE_CHECKING:
    from cryptography.x509 import Certificate

_SCHEME = "pkcs11:"
_RSA_SHA256 = bytes.fromhex("3031300d060960864801650304020105000420")
"""What stands before a SHA-256 digest in an RSA signature (RFC 8017, 9.2, note 1)."""


@dataclass(frozen=True, kw_only=True)
class Address:
    """Which certificate in which token, and the module that speaks to it."""

    library: Path
    """The token maker's PKCS#11 module."""
    token: str | None = None
    """The token's label."""
    certificate: str | None = None
    """The certificate's label or its owner."""


def is_address(text: str) -> bool:
    """Tell whether a text addresses a token rather than a file."""
    return text.startswith(_SCHEME)


def address(text: str) -> Address:
    """Read an address such as "pkcs11:token=Clinic;object=Dr%20Reyes?module-path=/usr/lib/module.so" (RFC 7512).

    Raises SigningError for one that can't be used; one that holds a PIN is refused, for it would lie about in lists of
    commands.
    """
    path, _mark, query = text.removeprefix(_SCHEME).partition("?")
    pairs = [each.partition("=")[::2] for each in [*path.split(";"), *query.split("&")] if each]
    held = {name: unquote(value) for name, value in pairs}
    if {"pin-value", "pin-source"} & held.keys():
        raise SigningError(
            _(N_("A token's address doesn't hold its PIN.")), _(N_("Leave it out: the PIN is asked for."))
        )
    strange = sorted(held.keys() - {"token", "object", "type", "module-path"})
    if not is_address(text) or strange or len(held) < len(pairs) or not held.get("module-path"):
        raise SigningError(
            _(N_("“{address}” addresses no token.")).format(address=text),
            _(N_("Write it as pkcs11:token=LABEL;object=LABEL?module-path=FILE.")),
        )
    return Address(library=Path(held["module-path"]), token=held.get("token"), certificate=held.get("object"))


@contextmanager
def opened(
    library: Path, *, pin: str, token: str | None = None, certificate: str | None = None
) -> Iterator[SigningCertificate]:
    """Log in to a token for as long as the block lasts, and give the certificate in it that signs papers.

    `library` is the token maker's PKCS#11 module; `token` is the token's label where more than one is plugged in,
    `certificate` a certificate's label or common name where more than one can sign. Raises PassphraseError when the
    PIN is wrong or locked, SigningError, in words, when there is no such module, token or certificate.
    """
    import pkcs11

    place = _token(library, token)
    try:
        session = place.open(user_pin=pin)
    except pkcs11.exceptions.PKCS11Error as error:
        raise _not_opened(error, place.label) from error
    try:
        yield _Contents(session, pin).chosen(certificate)
    finally:
        # A token pulled out has ended its session already.
        with suppress(pkcs11.exceptions.PKCS11Error):
            session.close()


def _token(library: Path, label: str | None) -> Any:
    import pkcs11

    try:
        module = pkcs11.lib(str(library))
        found = [slot.get_token() for slot in module.get_slots(token_present=True)]
    except RuntimeError as error:  # what the loader and the module raise alike
        raise SigningError(
            _(N_("{file} can't be used to speak to a token.")).format(file=library.name),
            _(N_("Name the PKCS#11 module that came with the token. Nothing was signed.")),
        ) from error
    ready = [each for each in found if pkcs11.TokenFlag.TOKEN_INITIALIZED in each.flags]
    named = [each for each in ready if label is None or each.label == label]
    if len(named) == 1:
        return named[0]
    nothing = _(N_("Nothing was signed."))
    if named:
        labels = ", ".join(sorted(each.label for each in named))
        raise SigningError(_(N_("More than one token is plugged in: {labels}.")).format(labels=labels), nothing)
    if label is not None:
        raise SigningError(_(N_("The token {label} isn't plugged in.")).format(label=label), nothing)
    raise SigningError(_(N_("No token is plugged in.")), nothing)


class _Contents:
    """The certificates of a token that have a key beside them, and the others that vouch for them."""

    def __init__(self, session: Any, pin: str) -> None:
        import pkcs11
        from cryptography import x509

        self._session = session
        self._pin = pin
        self._found: list[tuple[Certificate, str, bytes]] = []
        kind = {pkcs11.Attribute.CLASS: pkcs11.ObjectClass.CERTIFICATE}
        for each in session.get_objects(kind):
            # A token may hold what isn't an X.509 certificate, or none that can be read.
            with suppress(ValueError, KeyError, pkcs11.exceptions.PKCS11Error):
                read = x509.load_der_x509_certificate(each[pkcs11.Attribute.VALUE])
                self._found.append((read, _label(each), bytes(each[pkcs11.Attribute.ID])))

    def chosen(self, wanted: str | None) -> SigningCertificate:
        """Return the certificate called `wanted`, else the only one that may sign papers, with its key."""
        own = [each for each in self._found if self._key(each[2]) is not None]
        named = [each for each in own if wanted in {None, each[1], certificates.common_name(each[0])}]
        # Cards often hold a second one that opens doors.
        able = [each for each in named if certificates.may_sign(each[0])] or named
        nothing = _(N_("Nothing was signed."))
        if not own:
            raise SigningError(_(N_("This token holds no certificate with a key.")), nothing)
        if not able:
            what = _(N_("This token holds no certificate called {name}.")).format(name=wanted)
            raise SigningError(what, nothing)
        if len(able) > 1:
            labels = ", ".join(sorted(label for _certificate, label, _identity in able))
            raise SigningError(
                _(N_("This token holds more than one certificate that signs: {labels}.")).format(labels=labels),
                _(N_("Name one of them. Nothing was signed.")),
            )
        found, _shown, identity = able[0]
        others = tuple(certificate for certificate, _label, _identity in self._found if certificate != found)
        return certificates.described(found, others=others, key=self._signing_key(found, identity))

    def _key(self, identity: bytes) -> Any:
        import pkcs11

        attributes = {pkcs11.Attribute.CLASS: pkcs11.ObjectClass.PRIVATE_KEY, pkcs11.Attribute.ID: identity}
        return next(iter(self._session.get_objects(attributes)), None)

    def _signing_key(self, certificate: "Certificate", identity: bytes) -> TokenKey:
        import pkcs11
        from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePublicKey
        from cryptography.hazmat.primitives.asymmetric.rsa import RSAPublicKey
        from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature

        public = certificate.public_key()
        key = self._key(identity)
        # Some keys want the PIN again for every signature.
        again = self._pin if _always_asks(key) else None

        def by_rsa(digest: bytes) -> bytes:
            return self._signed(key, _RSA_SHA256 + digest, pkcs11.Mechanism.RSA_PKCS, again)

        def by_curve(digest: bytes) -> bytes:
            # The raw mechanism: tokens that hash for elliptic curves themselves are few. It gives the two numbers bare.
            pair = self._signed(key, digest, pkcs11.Mechanism.ECDSA, again)
            half = len(pair) // 2
            return encode_dss_signature(int.from_bytes(pair[:half], "big"), int.from_bytes(pair[half:], "big"))

        if isinstance(public, RSAPublicKey):
            return TokenKey(longest=public.key_size // 8, sign_digest=by_rsa)
        assert isinstance(public, EllipticCurvePublicKey)
        return TokenKey(longest=certificates.longest_signature(public.key_size), sign_digest=by_curve)

    @staticmethod
    def _signed(key: Any, data: bytes, mechanism: Any, pin: str | None) -> bytes:
        import pkcs11

        try:
            return bytes(key.sign(data, mechanism=mechanism, pin=pin))
        except pkcs11.exceptions.PKCS11Error as error:
            raise _not_signed(error) from error


def _label(certificate: Any) -> str:
    import pkcs11

    return str(certificate[pkcs11.Attribute.LABEL])


def _always_asks(key: Any) -> bool:
    import pkcs11

    try:
        return bool(key[pkcs11.Attribute.ALWAYS_AUTHENTICATE])
    except (KeyError, pkcs11.exceptions.PKCS11Error):  # tokens that never ask needn't know the question
        return False


def _not_opened(error: Exception, label: str) -> SigningError:
    """Say why a token didn't let anyone in."""
    from pkcs11 import exceptions

    nothing = _(N_("Nothing was signed."))
    match error:
        case exceptions.PinIncorrect() | exceptions.PinInvalid() | exceptions.PinLenRange() | exceptions.ArgumentsBad():
            return PassphraseError(_(N_("That PIN doesn't open the token {label}.")).format(label=label), nothing)
        case exceptions.PinLocked():
            locked = _(N_("The token {label} is locked: a wrong PIN was given too often.")).format(label=label)
            return PassphraseError(locked, _(N_("Unlock it with its own program. Nothing was signed.")))
        case exceptions.PinExpired():
            expired = _(N_("The PIN of the token {label} has to be changed.")).format(label=label)
            return PassphraseError(expired, _(N_("Change it with the token's own program. Nothing was signed.")))
        case _:
            return _not_signed(error)


def _not_signed(error: Exception) -> SigningError:
    """Say why a token gave no signature."""
    from pkcs11 import exceptions

    gone = (
        exceptions.DeviceRemoved,
        exceptions.TokenNotPresent,
        exceptions.TokenNotRecognised,
        exceptions.SessionClosed,
        exceptions.SessionHandleInvalid,
        exceptions.ObjectHandleInvalid,
        exceptions.SlotIDInvalid,
        exceptions.UserNotLoggedIn,
    )
    if isinstance(error, gone):
        return SigningError(_(N_("The token was taken out.")), _(N_("Put it back and sign again. Nothing was signed.")))
    return SigningError(
        _(N_("The token gave no signature ({what}).")).format(what=type(error).__name__),
        _(N_("Try again, or use another certificate. Nothing was signed.")),
    )
