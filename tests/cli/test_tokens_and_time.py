"""`sign` and `write` with a token's key and with a time-stamp service that is silent; `verify` in words."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

import pytest
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, pkcs12

from neuroform.settings import Settings, places, save
from neuroform.workflow import demo
from tests.cli.conftest import Command, Signer

PIN = "402817"
MODULES = (
    "/usr/lib/softhsm/libsofthsm2.so",
    "/usr/lib/x86_64-linux-gnu/softhsm/libsofthsm2.so",
    "/usr/lib/aarch64-linux-gnu/softhsm/libsofthsm2.so",
    "/opt/homebrew/lib/softhsm/libsofthsm2.so",
)
PUT = """
import sys, pkcs11
from pathlib import Path
from pkcs11.util.x509 import decode_x509_certificate
with pkcs11.lib(sys.argv[1]).get_token(token_label="Clinic").open(user_pin=sys.argv[2], rw=True) as session:
    made = decode_x509_certificate(Path(sys.argv[3]).read_bytes())
    session.create_object(made | {pkcs11.Attribute.TOKEN: True, pkcs11.Attribute.LABEL: "examiner",
                                  pkcs11.Attribute.ID: b"\\x01"})
"""


@dataclass(frozen=True)
class Token:
    """A software token that holds the examiner's key: its address, and what its module wants to know."""

    address: str
    environment: dict[str, str]


@pytest.fixture(scope="module")
def token(need_tool: Callable[[str], str], signer: Signer, tmp_path_factory: pytest.TempPathFactory) -> Token:
    """Give a token, made in processes of their own: the module reads its folder once, when it is loaded."""
    tool = need_tool("softhsm2-util")
    module = next((each for each in MODULES if Path(each).exists()), None)
    if module is None:
        in_ci = os.environ.get("CI", "").lower() in {"1", "true", "yes"}
        (pytest.fail if in_ci else pytest.skip)("SoftHSM's module is in none of the usual places")
    folder = tmp_path_factory.mktemp("token")
    (folder / "tokens").mkdir()
    (folder / "softhsm2.conf").write_text(f"directories.tokendir = {folder / 'tokens'}\nlog.level = ERROR\n")
    environment = {"SOFTHSM2_CONF": str(folder / "softhsm2.conf")}
    opened = pkcs12.load_pkcs12(signer.certificate.read_bytes(), demo.PASSPHRASE.encode())
    assert opened.cert is not None
    assert opened.key is not None
    key, certificate = folder / "key.pem", folder / "certificate.der"
    key.write_bytes(opened.key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
    certificate.write_bytes(opened.cert.certificate.public_bytes(Encoding.DER))

    def run(*words: str) -> None:
        subprocess.run(words, check=True, capture_output=True, env={**os.environ, **environment})

    run(tool, "--init-token", "--free", "--label", "Clinic", "--pin", PIN, "--so-pin", "87654321")
    run(tool, "--import", str(key), "--token", "Clinic", "--label", "key", "--id", "01", "--pin", PIN)
    run(sys.executable, "-c", PUT, module, PIN, str(certificate))
    return Token(f"pkcs11:token=Clinic;object=examiner?module-path={quote(module)}", environment)


@pytest.fixture
def note(command: Command, exam_file: Path, tmp_path: Path) -> Path:
    """Give an unsigned note."""
    assert command("write", exam_file, "--kind", "note", "-o", tmp_path / "note.pdf").status == 0
    return tmp_path / "note.pdf"


def test_a_token_signs_a_paper_as_it_is_written_and_one_that_is(
    program: Command, command: Command, token: Token, signer: Signer, exam_file: Path, note: Path, tmp_path: Path
) -> None:
    secret = {"NEUROFORM_PASSPHRASE": PIN, **token.environment}
    written, signed = tmp_path / "written.pdf", tmp_path / "signed.pdf"
    writing = ("write", exam_file, "--kind", "note", "--sign-with", token.address, "-o", written)
    for said in (
        program(*writing, **secret),
        program("sign", note, "--with", token.address, "-o", signed, **secret),
    ):
        assert (said.status, said.out) == (0, ""), said.err
    for paper in (written, signed):
        answer = json.loads(command("verify", paper, "--trust", signer.authority, "--json").out)
        assert answer["valid"]
        assert answer["signatures"][0]["name"].startswith(demo.EXAMINER)


def test_a_wrong_pin_is_told_signs_nothing_and_stands_in_no_message(
    program: Command, token: Token, note: Path, tmp_path: Path
) -> None:
    secret = {"NEUROFORM_PASSPHRASE": "917364", **token.environment}
    said = program("sign", note, "--with", token.address, "-o", tmp_path / "out.pdf", **secret)
    assert (said.status, said.out) == (2, "")
    assert said.err == "That PIN doesn't open the token Clinic. Nothing was signed.\n"
    assert not (tmp_path / "out.pdf").exists()


def test_without_a_terminal_the_pin_comes_from_the_environment(
    program: Command, note: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("NEUROFORM_PASSPHRASE", raising=False)
    said = program("sign", note, "--with", "pkcs11:?module-path=any.so", "-o", tmp_path / "out.pdf")
    assert (said.status, said.out) == (2, "")
    assert "PIN" in said.err
    assert "NEUROFORM_PASSPHRASE" in said.err


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("pkcs11:token=Clinic?pin-value=402817&module-path=any.so", "doesn't hold its PIN"),
        ("pkcs11:token=Clinic", "addresses no token"),
        ("pkcs11:?module-path=missing.so", "can't be used to speak to a token"),
    ],
)
@pytest.mark.usefixtures("passphrase")
def test_an_address_that_cannot_be_used_is_bad_use(
    command: Command, exam_file: Path, note: Path, tmp_path: Path, address: str, told: str
) -> None:
    out = tmp_path / "out.pdf"
    for words in (
        ("sign", note, "--with", address, "-o", out),
        ("write", exam_file, "--kind", "note", "--sign-with", address, "-o", out),
    ):
        said = command(*words)
        assert (said.status, said.out) == (2, "")
        assert told in said.err
        assert "402817" not in said.err
    assert not out.exists()


@pytest.mark.usefixtures("passphrase")
def test_a_silent_time_stamp_service_is_told_and_the_paper_signed_all_the_same(
    command: Command,
    exam_file: Path,
    note: Path,
    signer: Signer,
    tmp_path: Path,
    own_home: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("NEUROFORM_HOME", str(tmp_path / "home"))
    # Nothing listens on the discard port.
    save(places().settings, Settings(time_stamp_service="http://127.0.0.1:9", authorities=(signer.authority,)))
    told = "The time-stamp service didn't answer: the paper is signed without a time stamp."
    signed, written = tmp_path / "signed.pdf", tmp_path / "written.pdf"
    said = command("sign", note, "--with", signer.certificate, "-o", signed)
    assert (said.status, said.out, said.err) == (0, "", f"{told}\n")
    said = command("write", exam_file, "--kind", "note", "--sign-with", signer.certificate, "-o", written)
    assert (said.status, said.out) == (0, "")
    assert said.err.splitlines()[0] == told
    for paper in (signed, written):
        assert command("verify", paper).status == 0


@pytest.mark.usefixtures("passphrase")
def test_verify_says_the_answer_first_then_who_signed_and_whether_the_examination_makes_the_pages(
    command: Command, note: Path, signer: Signer, tmp_path: Path
) -> None:
    signed, both = tmp_path / "signed.pdf", tmp_path / "both.pdf"
    assert command("sign", note, "--with", signer.certificate, "-o", signed).status == 0
    assert command("sign", signed, "--with", signer.supervisor, "--as", "supervisor", "-o", both).status == 0
    said = command("verify", both, "--trust", signer.authority)
    first, author, supervisor, listed, comparison = said.out.splitlines()
    assert (said.status, said.err) == (0, "")
    assert first.startswith(f"{both}: Signed by {demo.EXAMINER}")
    assert first.endswith("Nothing was changed since.")
    assert author.startswith(f"  Signed by {demo.EXAMINER} (demonstration), ")
    assert author.endswith(": as it was signed; certificate trusted.")
    assert supervisor.startswith(f"  Countersigned by {demo.SUPERVISOR} (demonstration), ")
    assert listed == "  Whether a certificate was withdrawn isn't known: no list of withdrawn ones was at hand."
    assert comparison == "  The examination in this paper makes the same pages."


@pytest.mark.usefixtures("passphrase")
def test_verify_says_what_is_wrong_and_once(command: Command, note: Path, signer: Signer, tmp_path: Path) -> None:
    signed = tmp_path / "signed.pdf"
    assert command("sign", note, "--with", signer.certificate, "-o", signed).status == 0
    said = command("verify", signed)
    assert said.status == 1
    assert said.out.count("isn't among the trusted authorities") == 1
    assert "as it was signed; certificate not trusted." in said.out
    signed.write_bytes(signed.read_bytes() + b"% more")
    said = command("verify", signed, "--trust", signer.authority)
    assert said.status == 1
    assert "changed after it was signed" in said.out.splitlines()[0]
