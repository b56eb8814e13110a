"""A time-stamp service on loopback vouches for the moment; when it is silent the paper is signed all the same."""

import asyncio
import importlib.util
import os
import socket
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path
from typing import Any, ClassVar

import pikepdf
import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import rsa
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from neuroform.errors import SigningError
from neuroform.settings import Settings, StampLevel
from neuroform.signing import authority as authorities
from neuroform.signing import certificates, sign, verify
from neuroform.signing.authority import Authority
from neuroform.signing.certificates import SigningCertificate
from neuroform.signing.timeservice import Level, TimeService
from neuroform.workflow import signing as workflow

STAMPED_AT = datetime(2026, 11, 20, 9, 53, 0, tzinfo=UTC)
SECRET = "the authority's"
LEVELS: tuple[Level, ...] = ("T", "LT", "LTA")


@pytest.fixture(scope="module", autouse=True)
def need_certomancer() -> None:
    if importlib.util.find_spec("certomancer") is None:
        in_ci = os.environ.get("CI", "").lower() in {"1", "true", "yes"}
        (pytest.fail if in_ci else pytest.skip)("certomancer, which stands in for a time-stamp service, is missing")


@dataclass(frozen=True, kw_only=True)
class Bureau:
    """A time-stamp bureau with an authority of its own."""

    url: str
    root: bytes
    lists: bytes


class _Answers(BaseHTTPRequestHandler):
    stamper: ClassVar[Any] = None
    lists: ClassVar[bytes] = b""

    def do_POST(self) -> None:
        from asn1crypto import tsp

        asked = tsp.TimeStampReq.load(self.rfile.read(int(self.headers["Content-Length"])))
        self._answer(self.stamper.request_tsa_response(asked).dump(), "application/timestamp-reply")

    def do_GET(self) -> None:
        self._answer(self.lists, "application/pkix-crl")

    def _answer(self, body: bytes, kind: str) -> None:
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the name is the base class's
        """Stay quiet."""


class _Silence(BaseHTTPRequestHandler):
    def do_POST(self) -> None:
        self.send_response(200)
        self.end_headers()
        self.wfile.write(b"<html>out for lunch</html>")

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the name is the base class's
        """Stay quiet."""


def _served(handler: type[BaseHTTPRequestHandler]) -> Iterator[str]:
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_address[1]}"
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture(scope="module")
def bureau(need_certomancer: None) -> Iterator[Bureau]:
    from asn1crypto import keys
    from asn1crypto import x509 as asn1_x509
    from certomancer.services import TimeStamper

    root_key, stamp_key = (rsa.generate_private_key(public_exponent=65537, key_size=2048) for _ in range(2))
    root_name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Invented time authority")])
    running = _served(_Answers)
    url = next(running)

    def begun(name: x509.Name, key: rsa.RSAPrivateKey) -> x509.CertificateBuilder:
        return (
            x509.CertificateBuilder()
            .subject_name(name)
            .issuer_name(root_name)
            .public_key(key.public_key())
            .serial_number(x509.random_serial_number())
            .not_valid_before(STAMPED_AT - timedelta(days=30))
            .not_valid_after(STAMPED_AT + timedelta(days=3000))
            .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(root_key.public_key()), critical=False)
            .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        )

    root = (
        begun(root_name, root_key)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .sign(root_key, hashes.SHA256())
    )
    stamp_name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Invented time-stamp service")])
    point = x509.DistributionPoint([x509.UniformResourceIdentifier(f"{url}/list")], None, None, None)
    stamp = (
        begun(stamp_name, stamp_key)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.TIME_STAMPING]), critical=True)
        .add_extension(x509.CRLDistributionPoints([point]), critical=False)
        .sign(root_key, hashes.SHA256())
    )
    listed = (
        x509.CertificateRevocationListBuilder()
        .issuer_name(root_name)
        .last_update(STAMPED_AT - timedelta(hours=1))
        .next_update(STAMPED_AT + timedelta(days=7))
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(root_key.public_key()), critical=False)
        .add_extension(x509.CRLNumber(1), critical=False)
        .sign(root_key, hashes.SHA256())
    )
    _Answers.lists = listed.public_bytes(Encoding.DER)
    _Answers.stamper = TimeStamper(
        asn1_x509.Certificate.load(stamp.public_bytes(Encoding.DER)),
        keys.PrivateKeyInfo.load(stamp_key.private_bytes(Encoding.DER, PrivateFormat.PKCS8, NoEncryption())),
        fixed_dt=STAMPED_AT,
    )
    yield Bureau(url=url, root=root.public_bytes(Encoding.PEM), lists=listed.public_bytes(Encoding.PEM))
    next(running, None)


@pytest.fixture(scope="module")
def clinic(clock: Callable[[], datetime]) -> Authority:
    return authorities.create(name="Invented clinic", passphrase=SECRET, clock=clock)


@pytest.fixture(scope="module")
def people(clinic: Authority, clock: Callable[[], datetime]) -> list[SigningCertificate]:
    made = (
        authorities.issue(clinic, name=name, authority_passphrase=SECRET, passphrase="own", clock=clock)
        for name in ("Dr Ilya Brandt", "Dr Pia Lindqvist")
    )
    return [certificates.load(each, passphrase="own") for each in made]


@pytest.fixture(scope="module")
def trusted(clinic: Authority, bureau: Bureau, clock: Callable[[], datetime]) -> list[bytes]:
    none_withdrawn = authorities.withdraw(clinic, [], authority_passphrase=SECRET, clock=clock)
    return [clinic.certificate + none_withdrawn, bureau.root]


@pytest.mark.parametrize("level", LEVELS)
def test_both_signatures_carry_the_services_time(
    level: Level,
    unsigned: bytes,
    people: list[SigningCertificate],
    trusted: list[bytes],
    bureau: Bureau,
    clock: Callable[[], datetime],
) -> None:
    said: list[str] = []
    service = TimeService(url=bureau.url, level=level, trust=trusted)
    signed = sign.sign(unsigned, signer=people[0], role="author", clock=clock, timestamper=service, warn=said.append)
    assert verify.verify(signed, trust=trusted).valid
    both = sign.sign(signed, signer=people[1], role="supervisor", clock=clock, timestamper=service, warn=said.append)
    found = verify.verify(both, trust=trusted)
    assert found.valid, found
    assert said == []
    assert [(each.role, each.signed_at) for each in found.signatures] == [
        ("author", STAMPED_AT),
        ("supervisor", STAMPED_AT),
    ]
    with pikepdf.open(BytesIO(both)) as document:
        assert ("/DSS" in document.Root) == (level != "T")
        stamps = [each for each in document.Root.AcroForm.Fields.as_list() if each.V.Type == pikepdf.Name.DocTimeStamp]
        assert len(stamps) == (2 if level == "LTA" else 0)
        assert document.open_metadata().pdfa_status == "3B"


@pytest.mark.parametrize("level", ["LT", "LTA"])
def test_the_proof_holds_years_later_without_a_network(
    level: Level,
    unsigned: bytes,
    people: list[SigningCertificate],
    trusted: list[bytes],
    bureau: Bureau,
    clock: Callable[[], datetime],
) -> None:
    """The outside judge is pyHanko with what the file itself carries, told to refuse what no list clears."""
    from asn1crypto import pem
    from asn1crypto import x509 as asn1_x509
    from pyhanko.pdf_utils.reader import PdfFileReader
    from pyhanko.sign.validation import async_validate_pdf_signature
    from pyhanko.sign.validation.dss import DocumentSecurityStore

    service = TimeService(url=bureau.url, level=level, trust=trusted)
    signed = sign.sign(unsigned, signer=people[0], role="author", clock=clock, timestamper=service)
    roots = [
        asn1_x509.Certificate.load(der)
        for each in trusted
        for kind, _headers, der in pem.unarmor(each, multiple=True)
        if kind == "CERTIFICATE"
    ]
    reader = PdfFileReader(BytesIO(signed))
    proof: Any = DocumentSecurityStore.read_dss(reader)
    context = proof.as_validation_context(
        {
            "trust_roots": roots,
            "moment": STAMPED_AT,
            "revocation_mode": "require",
            "retroactive_revinfo": True,
            "allow_fetching": False,
        }
    )
    status = asyncio.run(async_validate_pdf_signature(reader.embedded_regular_signatures[0], context))
    assert status.timestamp_validity is not None
    assert status.timestamp_validity.trusted
    assert status.intact
    assert status.valid
    assert status.trusted


@pytest.mark.parametrize(
    ("level", "words"),
    [
        ("T", "Whether a certificate was withdrawn isn't known: no list of withdrawn ones was at hand."),
        ("LT", "By the list of 20 Nov 2026 no certificate was withdrawn."),
        ("LTA", "By the list of 20 Nov 2026 no certificate was withdrawn."),
    ],
)
def test_the_lists_in_the_file_are_used_without_a_network(
    level: Level,
    words: str,
    unsigned: bytes,
    people: list[SigningCertificate],
    trusted: list[bytes],
    clinic: Authority,
    bureau: Bureau,
    clock: Callable[[], datetime],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    service = TimeService(url=bureau.url, level=level, trust=trusted)
    signed = sign.sign(unsigned, signer=people[0], role="author", clock=clock, timestamper=service)

    def refuse(*_arguments: object) -> None:
        pytest.fail("verifying asked the network")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    found = verify.verify(signed, trust=[clinic.certificate, bureau.root])
    assert found.valid, found
    assert found.listed == words


def test_a_list_in_the_file_takes_trust_away_and_a_strangers_does_not(
    unsigned: bytes,
    people: list[SigningCertificate],
    clinic: Authority,
    clock: Callable[[], datetime],
    revise: Callable[..., bytes],
) -> None:
    from pyhanko.pdf_utils import generic
    from pyhanko.pdf_utils.generic import pdf_name

    stranger = authorities.create(name="Invented clinic", passphrase=SECRET, clock=clock)
    earlier = clock() - timedelta(days=1)
    for issuer, trusted in ((clinic, False), (stranger, True)):
        pem = authorities.withdraw(issuer, [(people[0].certificate, earlier)], authority_passphrase=SECRET, clock=clock)
        der = x509.load_pem_x509_crl(pem).public_bytes(Encoding.DER)

        def carry(writer: Any, der: bytes = der) -> None:
            listed = writer.add_object(generic.StreamObject(stream_data=der))
            store = generic.DictionaryObject({pdf_name("/CRLs"): generic.ArrayObject([listed])})
            writer.root[pdf_name("/DSS")] = writer.add_object(store)
            writer.update_root()

        signed = sign.sign(revise(unsigned, carry), signer=people[0], role="author", clock=clock)
        found = verify.verify(signed, trust=[clinic.certificate])
        assert found.signatures[0].intact
        assert found.valid == trusted
        assert (found.signatures[0].problem is None) == trusted
        if not trusted:
            assert found.signatures[0].problem == (
                "Dr Ilya Brandt's certificate was withdrawn on 19 Nov 2026 at 09:52."
            )


def test_a_withdrawn_certificate_signs_nothing_where_a_list_says_so(
    unsigned: bytes,
    people: list[SigningCertificate],
    clinic: Authority,
    bureau: Bureau,
    clock: Callable[[], datetime],
) -> None:
    earlier = clock() - timedelta(days=1)
    withdrawn = authorities.withdraw(
        clinic, [(people[0].certificate, earlier)], authority_passphrase=SECRET, clock=clock
    )
    service = TimeService(url=bureau.url, level="LT", trust=[clinic.certificate + withdrawn, bureau.root])
    with pytest.raises(SigningError) as caught:
        sign.sign(unsigned, signer=people[0], role="author", clock=clock, timestamper=service)
    assert str(caught.value) == (
        "Dr Ilya Brandt's certificate was withdrawn on 19 Nov 2026 at 09:52. Choose a certificate that may sign today. "
        "Nothing was signed."
    )


def test_a_service_nobody_trusts_vouches_for_nothing(
    unsigned: bytes,
    people: list[SigningCertificate],
    clinic: Authority,
    bureau: Bureau,
    clock: Callable[[], datetime],
) -> None:
    service = TimeService(url=bureau.url)
    signed = sign.sign(unsigned, signer=people[0], role="author", clock=clock, timestamper=service)
    found = verify.verify(signed, trust=[clinic.certificate])
    assert not found.valid
    assert found.signatures[0].intact
    assert found.signatures[0].problem == ("The time stamp on Dr Ilya Brandt's signature isn't by a trusted service.")


def test_a_file_stamped_by_a_service_nobody_trusts_is_not_valid(
    unsigned: bytes,
    people: list[SigningCertificate],
    clinic: Authority,
    trusted: list[bytes],
    bureau: Bureau,
    clock: Callable[[], datetime],
) -> None:
    service = TimeService(url=bureau.url, level="LTA", trust=trusted)
    signed = sign.sign(unsigned, signer=people[0], role="author", clock=clock, timestamper=service)
    assert not verify.verify(signed, trust=[clinic.certificate]).valid
    assert not verify.verify(signed[:-1] + b" ", trust=trusted).valid


def test_a_silent_service_leaves_the_paper_signed_without_it(
    unsigned: bytes, people: list[SigningCertificate], clinic: Authority, clock: Callable[[], datetime]
) -> None:
    running = _served(_Silence)
    babbling = next(running)
    for url in (babbling, "http://127.0.0.1:9", "ftp://127.0.0.1/"):
        for level in LEVELS:
            said: list[str] = []
            signed = sign.sign(
                unsigned,
                signer=people[0],
                role="author",
                clock=clock,
                timestamper=TimeService(url=url, level=level, trust=[clinic.certificate], timeout=2),
                warn=said.append,
            )
            assert said == ["The time-stamp service didn't answer: the paper is signed without a time stamp."]
            found = verify.verify(signed, trust=[clinic.certificate])
            assert found.valid
            assert found.signatures[0].signed_at == clock()
    next(running, None)


def test_without_the_lists_of_withdrawn_certificates_only_the_time_is_proven(
    unsigned: bytes,
    people: list[SigningCertificate],
    clinic: Authority,
    trusted: list[bytes],
    bureau: Bureau,
    clock: Callable[[], datetime],
) -> None:
    said: list[str] = []
    service = TimeService(url=bureau.url, level="LT", trust=[clinic.certificate, bureau.root])
    signed = sign.sign(unsigned, signer=people[0], role="author", clock=clock, timestamper=service, warn=said.append)
    assert said == ["The lists of withdrawn certificates couldn't be had: the paper is signed without them."]
    found = verify.verify(signed, trust=trusted)
    assert found.valid
    assert found.signatures[0].signed_at == STAMPED_AT


def test_a_stamped_signature_outlives_a_certificate_withdrawn_later(
    unsigned: bytes,
    people: list[SigningCertificate],
    clinic: Authority,
    trusted: list[bytes],
    bureau: Bureau,
    clock: Callable[[], datetime],
) -> None:
    """With the time proven, nobody can have set the clock back."""
    service = TimeService(url=bureau.url)
    signed = sign.sign(unsigned, signer=people[0], role="author", clock=clock, timestamper=service)
    later = STAMPED_AT + timedelta(days=1)
    withdrawn = authorities.withdraw(
        clinic, [(people[0].certificate, later)], authority_passphrase=SECRET, clock=lambda: later
    )
    assert verify.verify(signed, trust=[*trusted, withdrawn]).valid


def test_no_random_byte_of_a_stamped_signature_is_accepted(
    unsigned: bytes,
    people: list[SigningCertificate],
    trusted: list[bytes],
    bureau: Bureau,
    clock: Callable[[], datetime],
    flips: int,
) -> None:
    import random
    import re

    service = TimeService(url=bureau.url)
    signed = sign.sign(unsigned, signer=people[0], role="author", clock=clock, timestamper=service)
    start, end = list(re.finditer(rb"/Contents <([0-9A-F]+)>", signed))[-1].span(1)
    chance = random.Random(31)
    for _number in range(flips):
        at = chance.randrange(start, end)
        other = chance.choice([each for each in b"0123456789ABCDEF" if each != signed[at]])
        changed = signed[:at] + bytes((other,)) + signed[at + 1 :]
        assert not verify.verify(changed, trust=trusted).valid, at


@pytest.mark.parametrize(("level", "wanted"), [("B-T", "T"), ("B-LT", "LT"), ("B-LTA", "LTA")])
def test_the_settings_name_the_service_and_how_far_its_proof_goes(
    level: StampLevel,
    wanted: Level,
    unsigned: bytes,
    people: list[SigningCertificate],
    trusted: list[bytes],
    bureau: Bureau,
    clock: Callable[[], datetime],
    tmp_path: Path,
) -> None:
    files = tuple(tmp_path / f"{number}.pem" for number in range(len(trusted)))
    for file, pem in zip(files, trusted, strict=True):
        file.write_bytes(pem)
    settings = Settings(time_stamp_service=bureau.url, time_stamp_level=level, authorities=files)
    said: list[str] = []
    signed = workflow.sign_paper(
        unsigned, certificate=people[0], role="author", clock=clock, settings=settings, warn=said.append
    )
    found = workflow.verify_paper(signed, settings)
    assert (said, found.valid, found.signatures[0].signed_at) == ([], True, STAMPED_AT)
    with pikepdf.open(BytesIO(signed)) as document:
        stamps = [each for each in document.Root.AcroForm.Fields.as_list() if "/V" in each]
        assert (("/DSS" in document.Root), len(stamps)) == (wanted != "T", 2 if wanted == "LTA" else 1)


def test_a_service_that_is_not_trusted_here_is_told_of_at_once(
    unsigned: bytes,
    people: list[SigningCertificate],
    clinic: Authority,
    bureau: Bureau,
    clock: Callable[[], datetime],
    tmp_path: Path,
) -> None:
    (tmp_path / "own.pem").write_bytes(clinic.certificate)
    settings = Settings(time_stamp_service=bureau.url, authorities=(tmp_path / "own.pem",))
    said: list[str] = []
    workflow.sign_paper(
        unsigned, certificate=people[0], role="author", clock=clock, settings=settings, warn=said.append
    )
    (told,) = said
    assert told.startswith("The paper is signed, but with the authorities in the settings it can't be verified.")
    assert told.endswith("The time stamp on Dr Ilya Brandt's signature isn't by a trusted service.")
