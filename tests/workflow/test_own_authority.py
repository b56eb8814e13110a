"""A clinic without an authority makes its own: apart from the daily keys, renewed and withdrawn by its passphrase."""

import stat
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from neuroform import shipped
from neuroform.errors import FileError, PassphraseError, SigningError
from neuroform.exam import files
from neuroform.settings import Places, Settings
from neuroform.signing import authority as authorities
from neuroform.signing.verification import Verification
from neuroform.workflow import own_authority, papers, signing
from neuroform.workflow.own_authority import Folders

AT = datetime(2026, 11, 20, 9, 52, tzinfo=UTC)
AUTHORITY = "the key lies in a drawer"
DAILY = "five steps heel to toe"
EXAM_FILE = shipped.read_bytes("resources", "demonstration", "exam.json")


def clock() -> datetime:
    return AT


@pytest.fixture(scope="module", autouse=True)
def small_keys() -> Iterator[None]:
    """Make the run's keys as short as signing allows."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(authorities, "_KEY_BITS", 2048)
        yield


@pytest.fixture
def where(tmp_path: Path) -> Folders:
    """Give a workplace whose authority is made."""
    found = own_authority.folders(Places(config=tmp_path / "config", data=tmp_path / "data"))
    assert own_authority.make(found, name="Harbour clinic", passphrase=AUTHORITY, clock=clock) == found.trusted
    return found


def issue(where: Folders, name: str = "Ona Reyes", at: datetime = AT) -> Path:
    return own_authority.issue(where, name=name, authority_passphrase=AUTHORITY, passphrase=DAILY, clock=lambda: at)


def signed(certificate: Path, at: datetime = AT) -> bytes:
    order = papers.Order(kind="note", exam=files.read(EXAM_FILE), exam_file=EXAM_FILE)
    paper = papers.write_paper(order, Settings(), clock=lambda: at)[0]
    with signing.opened(certificate, DAILY) as opened:
        return signing.sign_paper(paper, certificate=opened, role="author", clock=lambda: at)


def verified(paper: bytes, where: Folders) -> Verification:
    return signing.verify_paper(paper, Settings(authorities=(where.trusted,)))


def test_what_it_issues_signs_papers_that_verify_with_the_list_of_the_day(where: Folders) -> None:
    found = verified(signed(issue(where)), where)
    assert found.valid, found
    assert found.signatures[0].name == "Ona Reyes"
    assert found.listed == "By the list of 20 Nov 2026 no certificate was withdrawn."


def test_the_authoritys_key_lies_apart_from_the_daily_ones_and_nobody_else_reads_either(where: Folders) -> None:
    certificate = issue(where)
    key = where.apart / "authority-key.pem"
    assert b"ENCRYPTED PRIVATE KEY" in key.read_bytes()
    assert certificate.parent == where.daily
    assert not where.daily.is_relative_to(where.apart)
    assert {stat.S_IMODE(each.stat().st_mode) for each in (key, certificate)} == {0o600}
    assert {stat.S_IMODE(each.stat().st_mode) for each in (where.apart, where.daily)} == {0o700}
    assert b"PRIVATE" not in where.trusted.read_bytes()
    with pytest.raises(SigningError, match="own folder"):
        issue(replace(where, daily=where.apart / "daily"))


def test_papers_are_verified_while_the_authoritys_disk_lies_in_the_drawer(where: Folders, tmp_path: Path) -> None:
    paper = signed(issue(where))
    where.apart.rename(tmp_path / "drawer")
    assert verified(paper, where).valid
    assert own_authority.issued(where) == ()
    with pytest.raises(FileError, match="can't be read"):
        issue(where)


def test_a_renewed_certificate_leaves_the_older_papers_as_they_are(where: Folders) -> None:
    first = issue(where)
    paper = signed(first)
    later = AT + timedelta(days=1000)
    second = issue(where, at=later)
    assert second != first
    assert first.exists()
    assert verified(paper, where).valid
    assert verified(signed(second, later), where).valid
    assert [each.name for each in own_authority.issued(where)] == ["Ona Reyes", "Ona Reyes"]


def test_a_withdrawn_certificate_takes_its_papers_trust_and_no_others(where: Folders) -> None:
    lost, other = issue(where), issue(where, "Pia Lindqvist")
    serial = next(each.serial for each in own_authority.issued(where) if each.name == "Ona Reyes")
    papers_signed = signed(lost), signed(other)
    own_authority.withdraw(where, serial, authority_passphrase=AUTHORITY, clock=clock)
    by_lost, by_other = (verified(each, where) for each in papers_signed)
    assert not by_lost.valid
    assert "was withdrawn on 20 Nov 2026" in (by_lost.signatures[0].problem or "")
    assert by_other.valid


def test_a_withdrawn_certificate_signs_nothing_more_where_its_list_is_known(where: Folders) -> None:
    lost = issue(where)
    (listed,) = own_authority.issued(where)
    own_authority.withdraw(where, listed.serial, authority_passphrase=AUTHORITY, clock=clock)
    order = papers.Order(kind="note", exam=files.read(EXAM_FILE), exam_file=EXAM_FILE)
    settings = Settings(authorities=(where.trusted,))
    paper = papers.write_paper(order, settings, clock=clock)[0]
    with (
        signing.opened(lost, DAILY) as opened,
        pytest.raises(SigningError, match="certificate was withdrawn on 20 Nov 2026"),
    ):
        signing.sign_paper(paper, certificate=opened, role="author", clock=clock, settings=settings)


def test_what_was_withdrawn_stays_withdrawn_with_its_moment(where: Folders) -> None:
    issue(where)
    (lost,) = own_authority.issued(where)
    own_authority.withdraw(where, lost.serial, authority_passphrase=AUTHORITY, clock=clock)
    later = AT + timedelta(days=30)
    where.trusted.unlink()
    issue(where, "Pia Lindqvist", at=later)
    own_authority.withdraw(where, lost.serial, authority_passphrase=AUTHORITY, clock=lambda: later)
    assert {each.name: each.withdrawn for each in own_authority.issued(where)} == {
        "Ona Reyes": AT,
        "Pia Lindqvist": None,
    }
    next(where.apart.glob(f"issued/{lost.serial:x}.pem")).unlink()
    with pytest.raises(SigningError, match="missing"):
        issue(where)


def test_an_authority_is_never_written_over(where: Folders) -> None:
    before = {each: each.read_bytes() for each in where.apart.iterdir() if each.is_file()}
    with pytest.raises(SigningError, match="already"):
        own_authority.make(where, name="Another", passphrase=AUTHORITY, clock=clock)
    assert {each: each.read_bytes() for each in before} == before


@pytest.mark.parametrize(
    ("authority_passphrase", "passphrase", "told"),
    [
        ("not this one at all", DAILY, "doesn't open the authority's key"),
        (AUTHORITY, "short", "too short"),
        (AUTHORITY, AUTHORITY, "opens the authority too"),
    ],
)
def test_a_passphrase_that_will_not_do_issues_nothing(
    where: Folders, authority_passphrase: str, passphrase: str, told: str
) -> None:
    with pytest.raises(PassphraseError, match=told):
        own_authority.issue(
            where, name="Ona", authority_passphrase=authority_passphrase, passphrase=passphrase, clock=clock
        )
    assert not where.daily.exists()
    assert own_authority.issued(where) == ()


def test_an_authority_that_expired_issues_nothing(where: Folders) -> None:
    with pytest.raises(SigningError, match="expired on 20 Nov 2041"):
        issue(where, at=AT + timedelta(days=16 * 366))


def test_only_its_own_certificates_are_withdrawn(where: Folders) -> None:
    with pytest.raises(SigningError, match="didn't issue"):
        own_authority.withdraw(where, 12345, authority_passphrase=AUTHORITY, clock=clock)


def test_a_second_authority_in_another_folder_is_trusted_beside_the_first(where: Folders, tmp_path: Path) -> None:
    second = own_authority.folders(
        Places(config=tmp_path / "config", data=tmp_path / "data"), apart=tmp_path / "stick" / "authority 2041"
    )
    own_authority.make(second, name="Harbour clinic", passphrase=AUTHORITY, clock=clock)
    paper = signed(issue(second))
    assert second.trusted != where.trusted
    assert not verified(paper, where).valid
    assert verified(paper, second).valid
