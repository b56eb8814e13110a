"""A key inside a token signs as one in a file does; every token that won't says why in words."""

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec, rsa
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
    pkcs12,
)
from cryptography.x509.oid import NameOID

from neuroform.errors import PassphraseError, SigningError
from neuroform.signing import sign, tokens, verify
from neuroform.signing.certificates import DemoAuthority, SigningCertificate

PIN = "402817"
Clock = Callable[[], datetime]
Key = rsa.RSAPrivateKey | ec.EllipticCurvePrivateKey

MODULES = (
    "/usr/lib/softhsm/libsofthsm2.so",
    "/usr/lib/x86_64-linux-gnu/softhsm/libsofthsm2.so",
    "/usr/lib/aarch64-linux-gnu/softhsm/libsofthsm2.so",
    "/opt/homebrew/lib/softhsm/libsofthsm2.so",
)


@dataclass(frozen=True, kw_only=True)
class Drawer:
    """A drawer of software tokens, each with its label."""

    module: Path
    folder: Path


class Maker:
    """Makes tokens with the token maker's own tool and puts keys and certificates into them."""

    def __init__(self, tool: str, folder: Path) -> None:
        self._tool = tool
        self._folder = folder

    def token(self, label: str) -> None:
        self._run("--init-token", "--free", "--label", label, "--pin", PIN, "--so-pin", "87654321")

    def key(self, token: str, key: Key, *, number: str) -> None:
        file = self._folder / "key.pem"
        file.write_bytes(key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
        self._run("--import", str(file), "--token", token, "--label", "key", "--id", number, "--pin", PIN)
        file.unlink()

    def _run(self, *arguments: str) -> None:
        subprocess.run([self._tool, *arguments], check=True, capture_output=True)


def put_certificate(module: Path, token: str, certificate: x509.Certificate, *, label: str, number: str) -> None:
    import pkcs11
    from pkcs11.util.x509 import decode_x509_certificate

    place = pkcs11.lib(str(module)).get_token(token_label=token)
    with place.open(user_pin=PIN, rw=True) as session:
        attributes = decode_x509_certificate(certificate.public_bytes(Encoding.DER))
        session.create_object(
            {
                **attributes,
                pkcs11.Attribute.TOKEN: True,
                pkcs11.Attribute.LABEL: label,
                pkcs11.Attribute.ID: bytes.fromhex(number),
            }
        )


def put_key_that_always_asks(module: Path, token: str, key: ec.EllipticCurvePrivateKey, *, number: str) -> None:
    import pkcs11
    from pkcs11.util.ec import decode_ec_private_key

    place = pkcs11.lib(str(module)).get_token(token_label=token)
    with place.open(user_pin=PIN, rw=True) as session:
        held = key.private_bytes(Encoding.DER, PrivateFormat.TraditionalOpenSSL, NoEncryption())
        session.create_object(
            {
                **decode_ec_private_key(held),
                pkcs11.Attribute.TOKEN: True,
                pkcs11.Attribute.PRIVATE: True,
                pkcs11.Attribute.SIGN: True,
                pkcs11.Attribute.ALWAYS_AUTHENTICATE: True,
                pkcs11.Attribute.ID: bytes.fromhex(number),
            }
        )


def certified(
    demo: DemoAuthority, name: str, key: Key, passphrase: str, at: datetime, *, signs: bool = True
) -> x509.Certificate:
    """Certify a key in the name of the run's authority."""
    issuer = x509.load_pem_x509_certificate(demo.authority.read_bytes())
    issuer_key = load_pem_private_key((demo.authority.parent / "authority-key.pem").read_bytes(), passphrase.encode())
    assert isinstance(issuer_key, rsa.RSAPrivateKey)
    usage = [signs, signs, not signs, False, False, False, False, False, False]
    return (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)]))
        .issuer_name(issuer.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(at.replace(year=at.year - 1))
        .not_valid_after(at.replace(year=at.year + 1))
        .add_extension(x509.KeyUsage(*usage), critical=True)
        .sign(issuer_key, hashes.SHA256())
    )


@pytest.fixture(scope="module")
def drawer(
    need_tool: Callable[[str], str],
    tmp_path_factory: pytest.TempPathFactory,
    demo: DemoAuthority,
    passphrase: str,
    clock: Clock,
) -> Iterator[Drawer]:
    """Give tokens with an RSA key, a curve's, one that always asks, a door's beside a signing one, two, none at all."""
    tool = need_tool("softhsm2-util")
    module = next((Path(each) for each in MODULES if Path(each).exists()), None)
    if module is None:
        in_ci = os.environ.get("CI", "").lower() in {"1", "true", "yes"}
        (pytest.fail if in_ci else pytest.skip)("SoftHSM's module is in none of the usual places")
    folder = tmp_path_factory.mktemp("drawer")
    (folder / "tokens").mkdir()
    settings = folder / "softhsm2.conf"
    settings.write_text(f"directories.tokendir = {folder / 'tokens'}\nlog.level = ERROR\nslots.removable = true\n")
    before = os.environ.get("SOFTHSM2_CONF")
    os.environ["SOFTHSM2_CONF"] = str(settings)

    opened = pkcs12.load_pkcs12(demo.certificates["author"].read_bytes(), passphrase.encode())
    assert opened.cert is not None
    assert isinstance(opened.key, rsa.RSAPrivateKey)
    curve = ec.generate_private_key(ec.SECP256R1())
    other = ec.generate_private_key(ec.SECP384R1())
    make = Maker(tool, folder)
    for label in ("files", "curve", "asks", "card", "twins", "empty"):
        make.token(label)
    make.key("files", opened.key, number="01")
    make.key("curve", curve, number="02")
    for label in ("card", "twins"):
        make.key(label, curve, number="03")
        make.key(label, other, number="04")
    # The module reads its settings and looks for tokens when it is first loaded.
    at = clock()
    authority = x509.load_pem_x509_certificate(demo.authority.read_bytes())
    put_certificate(module, "files", opened.cert.certificate, label="examiner", number="01")
    put_certificate(module, "files", authority, label="authority", number="99")
    put_certificate(module, "curve", certified(demo, "Dr Ona Reyes", curve, passphrase, at), label="c", number="02")
    put_key_that_always_asks(module, "asks", other, number="05")
    put_certificate(module, "asks", certified(demo, "Dr Ona Reyes", other, passphrase, at), label="a", number="05")
    door = certified(demo, "Door", curve, passphrase, at, signs=False)
    put_certificate(module, "card", door, label="door", number="03")
    put_certificate(module, "card", certified(demo, "Dr Ona Reyes", other, passphrase, at), label="paper", number="04")
    for label, key, number in (("morning", curve, "03"), ("evening", other, "04")):
        put_certificate(
            module, "twins", certified(demo, f"Dr {label}", key, passphrase, at), label=label, number=number
        )
    yield Drawer(module=module, folder=folder)
    import pkcs11

    pkcs11.unload(str(module))
    os.environ.pop("SOFTHSM2_CONF")
    if before is not None:
        os.environ["SOFTHSM2_CONF"] = before


@pytest.mark.parametrize(
    ("token", "name"),
    [
        ("files", "Dr Ilya Brandt (demonstration)"),
        ("curve", "Dr Ona Reyes"),
        ("asks", "Dr Ona Reyes"),
        ("card", "Dr Ona Reyes"),
    ],
)
def test_a_token_signs_and_the_paper_is_valid(
    token: str, name: str, drawer: Drawer, unsigned: bytes, authority: bytes, clock: Clock
) -> None:
    with tokens.opened(drawer.module, pin=PIN, token=token) as certificate:
        signed = sign.sign(unsigned, signer=certificate, role="author", clock=clock)
    found = verify.verify(signed, trust=[authority])
    assert found.valid, found
    assert found.signatures[0].name == name


def test_a_file_and_a_token_sign_one_paper_together(
    drawer: Drawer,
    signed: bytes,
    authority: bytes,
    clock: Clock,
    saved: Callable[[bytes], Path],
    need_tool: Callable[[str], str],
) -> None:
    with tokens.opened(drawer.module, pin=PIN, token="curve") as certificate:
        both = sign.sign(signed, signer=certificate, role="supervisor", clock=clock)
    assert [each.role for each in verify.verify(both, trust=[authority]).signatures] == ["author", "supervisor"]
    said = subprocess.run([need_tool("pdfsig"), saved(both)], check=True, capture_output=True, text=True).stdout
    assert said.count("Signature Validation: Signature is Valid.") == 2


def test_a_wrong_pin_is_told_and_nothing_is_signed(drawer: Drawer) -> None:
    for pin in ("000000", "", "4"):
        with (
            pytest.raises(PassphraseError) as caught,
            tokens.opened(drawer.module, pin=pin, token="files") as _never,
        ):
            pytest.fail("the token opened")
        assert str(caught.value) == "That PIN doesn't open the token files. Nothing was signed."


def test_the_pin_is_in_no_message_and_no_representation(drawer: Drawer) -> None:
    with tokens.opened(drawer.module, pin=PIN, token="files") as certificate:
        assert PIN not in repr(certificate)
    wrong = "917364"
    with pytest.raises(PassphraseError) as caught, tokens.opened(drawer.module, pin=wrong, token="files"):
        pytest.fail("the token opened")
    assert wrong not in f"{caught.value!r} {caught.value.__cause__!r}"


@pytest.mark.parametrize(
    ("token", "certificate", "words"),
    [
        ("empty", None, "This token holds no certificate with a key."),
        ("files", "nobody", "This token holds no certificate called nobody."),
        (
            "twins",
            None,
            "This token holds more than one certificate that signs: evening, morning. Name one of them.",
        ),
        ("gone", None, "The token gone isn't plugged in."),
        (None, None, "More than one token is plugged in: asks, card, curve, empty, files, twins."),
    ],
)
def test_a_token_that_cannot_be_used_says_why(
    token: str | None, certificate: str | None, words: str, drawer: Drawer
) -> None:
    with (
        pytest.raises(SigningError) as caught,
        tokens.opened(drawer.module, pin=PIN, token=token, certificate=certificate),
    ):
        pytest.fail("the token opened")
    assert str(caught.value) == f"{words} Nothing was signed."


@pytest.mark.parametrize("wanted", ["morning", "Dr morning"])
def test_one_of_several_certificates_is_named_by_its_label_or_its_owner(wanted: str, drawer: Drawer) -> None:
    with tokens.opened(drawer.module, pin=PIN, token="twins", certificate=wanted) as certificate:
        assert certificate.name == "Dr morning"


def test_a_certificate_for_doors_is_refused_in_words(drawer: Drawer, unsigned: bytes, clock: Clock) -> None:
    with (
        tokens.opened(drawer.module, pin=PIN, token="card", certificate="door") as certificate,
        pytest.raises(SigningError, match="Door's certificate wasn't issued for signing papers"),
    ):
        sign.sign(unsigned, signer=certificate, role="author", clock=clock)


@pytest.mark.parametrize("module", ["nowhere.so", "letter.txt"])
def test_what_is_no_module_is_told(module: str, tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("a letter")
    with pytest.raises(SigningError) as caught, tokens.opened(tmp_path / module, pin=PIN):
        pytest.fail("the token opened")
    assert str(caught.value) == (
        f"{module} can't be used to speak to a token. Name the PKCS#11 module that came with the token. Nothing was "
        "signed."
    )


def test_a_token_taken_out_before_signing_signs_nothing(drawer: Drawer, unsigned: bytes, clock: Clock) -> None:
    kept: list[SigningCertificate] = []
    with tokens.opened(drawer.module, pin=PIN, token="curve") as certificate:
        kept.append(certificate)
    with pytest.raises(SigningError) as caught:
        sign.sign(unsigned, signer=kept[0], role="author", clock=clock)
    assert str(caught.value) == "The token was taken out. Put it back and sign again. Nothing was signed."


def test_a_token_emptied_while_it_is_open_signs_nothing(
    drawer: Drawer, unsigned: bytes, clock: Clock, tmp_path: Path
) -> None:
    """The nearest that software comes to pulling a card out in the middle."""
    away = tmp_path / "away"
    with tokens.opened(drawer.module, pin=PIN, token="files") as certificate:
        shutil.move(drawer.folder / "tokens", away)
        try:
            with pytest.raises(SigningError) as caught:
                sign.sign(unsigned, signer=certificate, role="author", clock=clock)
        finally:
            shutil.move(away, drawer.folder / "tokens")
    assert str(caught.value) == "The token was taken out. Put it back and sign again. Nothing was signed."


class _Refusing:
    """A token that answers a PIN with one error."""

    label = "clinic"

    def __init__(self, error: Exception) -> None:
        self._error = error

    def open(self, *, user_pin: str) -> None:
        """Refuse."""
        raise self._error


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (
            "PinLocked",
            "The token clinic is locked: a wrong PIN was given too often. Unlock it with its own program.",
        ),
        (
            "PinExpired",
            "The PIN of the token clinic has to be changed. Change it with the token's own program.",
        ),
        ("DeviceRemoved", "The token was taken out. Put it back and sign again."),
        (
            "DeviceError",
            "The token gave no signature (DeviceError). Try again, or use another certificate.",
        ),
    ],
)
def test_what_software_tokens_never_answer_is_told_as_well(
    error: str, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from pkcs11 import exceptions

    refusing = _Refusing(getattr(exceptions, error)())
    monkeypatch.setattr(tokens, "_token", lambda _library, _label: refusing)
    with pytest.raises(SigningError) as caught, tokens.opened(Path("module.so"), pin=PIN):
        pytest.fail("the token opened")
    assert str(caught.value) == f"{words} Nothing was signed."


def test_an_address_is_read_as_its_standard_writes_it() -> None:
    """RFC 7512, 2.3: attributes of the path apart by semicolons, of the query by ampersands, percent signs decoded."""
    found = tokens.address("pkcs11:token=The%20clinic;object=Dr%20Ona%20Reyes;type=cert?module-path=/usr/lib/m.so")
    assert found == tokens.Address(library=Path("/usr/lib/m.so"), token="The clinic", certificate="Dr Ona Reyes")
    assert tokens.address("pkcs11:?module-path=m.so") == tokens.Address(library=Path("m.so"))


@pytest.mark.parametrize(
    "text",
    [
        "examiner.p12",
        "pkcs11:",
        "pkcs11:token=Clinic",
        "pkcs11:serial=5?module-path=m.so",
        "pkcs11:token=a;token=b?module-path=m.so",
        "pkcs11:token=Clinic?module-path=",
    ],
)
def test_an_address_that_says_too_little_or_too_much_is_refused(text: str) -> None:
    with pytest.raises(SigningError, match="addresses no token"):
        tokens.address(text)


@pytest.mark.parametrize("attribute", ["pin-value=402817", "pin-source=file:/pin"])
def test_an_address_with_a_pin_is_refused(attribute: str) -> None:
    with pytest.raises(SigningError) as caught:
        tokens.address(f"pkcs11:token=Clinic?module-path=m.so&{attribute}")
    assert "402817" not in str(caught.value)
