"""Judges each signature of a file with pyHanko; imported only when something is verified.

Errs towards "not valid": whatever raises, and whatever isn't recognised, counts against the paper.
"""

import asyncio
import logging
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from io import BytesIO

from asn1crypto import x509 as asn1_x509
from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding
from pyhanko.pdf_utils.misc import PdfError
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.diff_analysis import FormUpdatingRule, ModificationLevel, StandardDiffPolicy
from pyhanko.sign.diff_analysis.rules.file_structure_rules import (
    CatalogModificationRule,
    ObjectStreamRule,
    XrefStreamRule,
)
from pyhanko.sign.diff_analysis.rules.form_field_rules import (
    DSSCompareRule,
    SigFieldCreationRule,
    SigFieldModificationRule,
)
from pyhanko.sign.fields import enumerate_sig_fields
from pyhanko.sign.validation import async_validate_pdf_signature, async_validate_pdf_timestamp
from pyhanko.sign.validation.pdf_embedded import EmbeddedPdfSignature
from pyhanko.sign.validation.settings import KeyUsageConstraints
from pyhanko.sign.validation.status import PdfSignatureStatus, SignatureCoverageLevel
from pyhanko_certvalidator import ValidationContext
from pyhanko_certvalidator.path import ValidationPath

from neuroform.language import N_, _
from neuroform.signing import changes, exact, layout, moments, trust
from neuroform.signing.certificates import common_name, issuer_name, problem
from neuroform.signing.fields import FIELD_NAMES
from neuroform.signing.verification import Signature, SignatureRole

# pyHanko's own rules, less those that wave through new document information, objects nothing refers to and objects
# written again: nothing this program writes needs them.
POLICY = StandardDiffPolicy(
    global_rules=[
        CatalogModificationRule(ignored_keys={"/AcroForm", "/DSS"}),
        XrefStreamRule().as_qualified(ModificationLevel.LTA_UPDATES),
        ObjectStreamRule().as_qualified(ModificationLevel.LTA_UPDATES),
        DSSCompareRule().as_qualified(ModificationLevel.LTA_UPDATES),
    ],
    form_rule=FormUpdatingRule(field_rules=[SigFieldCreationRule(), SigFieldModificationRule()]),
    ignore_orphaned_objects=False,
    ignore_identical_objects=False,
)

# Its warnings quote the file; what is wrong with a paper is told in the answer alone.
for _library in ("pyhanko", "pyhanko_certvalidator"):
    logging.getLogger(_library).setLevel(logging.CRITICAL)

_ROLES: dict[str, SignatureRole] = {name: role for role, name in FIELD_NAMES.items()}


@dataclass(frozen=True, kw_only=True)
class Judgement:
    """What pyHanko and the checks beside it found."""

    signatures: tuple[Signature, ...]
    """In the order they were made; time stamps of the whole file aren't among them."""
    damage: str | None = None
    """What is wrong with the file as a whole, in a few words, or None."""
    doubt: str | None = None
    """What can't be relied on though nothing was changed: one sentence, or None."""
    listed: str = ""
    """How far it is known that no certificate was withdrawn: one sentence, empty where no signer is trusted."""


def judge(pdf: bytes, trusted: trust.Trust) -> Judgement:
    """Judge every signature of `pdf`.

    A file that can't be read is judged up to the last signed revision that can, and is damaged in any case.
    """
    for end in [len(pdf), *(each for each in reversed(layout.signed_ends(pdf)) if each < len(pdf))]:
        try:
            judged = _read(pdf[:end], trusted)
        except Exception:  # whatever a damaged or hostile file makes a parser do, it isn't valid
            continue
        return judged if end == len(pdf) else _unread_behind(judged)
    return Judgement(signatures=(), damage=_(N_("it can't be read as a PDF any more")))


def _unread_behind(judged: Judgement) -> Judgement:
    words = _(N_("something was added that can't be read"))
    after = _(N_("The paper was changed after {name} signed it: {what}."))
    signatures = tuple(
        replace(
            each,
            changed_after=(*each.changed_after, words),
            problem=each.problem or after.format(name=each.name, what=words),
        )
        for each in judged.signatures
    )
    return replace(judged, signatures=signatures, damage=judged.damage or words)


def _read(pdf: bytes, trusted: trust.Trust) -> Judgement:
    reader = PdfFileReader(BytesIO(pdf))
    filled = [each for each in enumerate_sig_fields(reader) if each[1] is not None]
    found = sorted(
        (EmbeddedPdfSignature(reader, field, name) for name, _value, field in filled),
        key=lambda each: each.signed_revision,
    )
    return asyncio.run(_judged(pdf, found, trust.joined(trusted, _carried_lists(reader))))


def _carried_lists(reader: PdfFileReader) -> list[bytes]:
    """Return the lists of withdrawn certificates that travel in a file."""
    try:
        lists = reader.root["/DSS"]["/CRLs"]
        return [bytes(lists[number].data) for number in range(len(lists))]
    except (KeyError, TypeError, AttributeError, ValueError, PdfError):
        return []


async def _judged(pdf: bytes, found: list[EmbeddedPdfSignature], trusted: trust.Trust) -> Judgement:
    signatures: list[Signature] = []
    damage: str | None = None
    doubt: str | None = None
    end = intact_until = 0
    paths: list[x509.Certificate] = []
    for each in found:
        span = _span(pdf, each)
        end = 0 if span is None else span.end
        if each.sig_object_type == "/DocTimeStamp":
            holds = await _stamp_holds(pdf, each, span, trusted)
            if holds is None:
                damage = _(N_("its time stamp doesn't hold"))
            elif not holds:
                doubt = _(N_("The time stamp over the whole file isn't by a trusted service."))
            continue
        case = _Case(pdf=pdf, embedded=each, span=span, trusted=trusted, intact_until=intact_until, paths=paths)
        signature = await case.judged()
        signatures.append(signature)
        if signature.intact:
            intact_until = end
    if found and damage is None:
        damage = _stray(pdf, found, end, seen=any(each.changed_after for each in signatures))
    return Judgement(signatures=tuple(signatures), damage=damage, doubt=doubt, listed=_listed(paths, trusted))


def _listed(paths: list[x509.Certificate], trusted: trust.Trust) -> str:
    """Say how far it is known that none of the certificates was withdrawn."""
    known = [trust.listed_on(each, trusted) for each in paths]
    dated = [each for each in known if each is not None]
    if not known:
        return ""
    if len(dated) < len(known):
        return _(N_("Whether a certificate was withdrawn isn't known: no list of withdrawn ones was at hand."))
    return _(N_("By the list of {day} no certificate was withdrawn.")).format(day=moments.day(min(dated)))


def _stray(pdf: bytes, found: list[EmbeddedPdfSignature], end: int, *, seen: bool) -> str | None:
    """Say what no signature covers: the last must reach the end of the file, the first must be first as written."""
    if end != len(pdf) and not seen:
        return _(N_("something was added behind the last signature"))
    first = _span(pdf, found[0])
    if first is None or first.end != layout.signed_ends(pdf)[0]:
        return _(N_("a signed part was put where it doesn't belong"))
    return None


@dataclass(frozen=True, kw_only=True)
class _Case:
    """One signature to judge."""

    pdf: bytes
    embedded: EmbeddedPdfSignature
    span: layout.Span | None
    trusted: trust.Trust
    intact_until: int
    paths: list[x509.Certificate]
    """Takes up the certificates from the signers' to those of the authorities, authorities left out."""

    async def judged(self) -> Signature:
        """Return the judgement; whatever raises makes it a damaged signature."""
        try:
            return await self._judged()
        except Exception:  # the file is hostile by assumption: whatever it makes a parser do, it isn't valid
            return self._answer(name=self._name(), problem=self._damaged(_(N_("it can't be read"))))

    async def _judged(self) -> Signature:
        if self.embedded.sig_object_type != "/Sig" or self.span is None:
            return self._answer(name=self._name(), problem=self._damaged(_(N_("it doesn't say what it covers"))))
        fault = exact.fault(self.pdf, self.span, self.embedded.pkcs7_content, self.trusted.authorities)
        if fault is not None:
            return self._answer(name=self._name(), problem=self._damaged(fault))
        if not _digest_agrees(self.embedded):
            return self._answer(
                name=self._name(), signed_at=self.embedded.self_reported_timestamp, problem=self._broken()
            )
        stamped_at = _stamped_at(self.embedded)
        signed_at = stamped_at or self.embedded.self_reported_timestamp
        if signed_at is None:
            return self._answer(name=self._name(), problem=self._damaged(_(N_("it doesn't say when it was made"))))
        status = await async_validate_pdf_signature(
            self.embedded,
            signer_validation_context=_context(self.trusted, signed_at),
            diff_policy=POLICY,
            key_usage_settings=KeyUsageConstraints(key_usage=frozenset()),
        )
        whole = status.coverage in {SignatureCoverageLevel.ENTIRE_FILE, SignatureCoverageLevel.ENTIRE_REVISION}
        if not (status.intact and status.valid and whole):
            return self._answer(name=self._name(), signed_at=signed_at, problem=self._broken())
        changed = tuple(str(each) for each in changes.after(self.pdf, self.span.end))
        if not changed and not status.docmdp_ok:
            changed = (_(N_("something was added that its signatures don't allow")),)
        distrust = self._distrust(status, signed_at, stamped=stamped_at is not None)
        after = _(N_("The paper was changed after {name} signed it: {what}."))
        return self._answer(
            name=self._name(),
            signed_at=signed_at,
            intact=True,
            trusted=distrust is None,
            changed_after=changed,
            problem=after.format(name=self._name(), what="; ".join(changed)) if changed else distrust,
        )

    def _distrust(self, status: PdfSignatureStatus, signed_at: datetime, *, stamped: bool) -> str | None:
        """Return why the signer isn't trusted, as one sentence, or None."""
        certificate = self._certificate()
        found = problem(certificate, at=signed_at)
        if found is not None:
            return found
        name = common_name(certificate)
        if not status.trusted or status.validation_path is None:
            issuer = issuer_name(certificate)
            unknown = _(N_("{name}'s certificate comes from {issuer}, which isn't among the trusted authorities."))
            return unknown.format(name=name, issuer=issuer)
        if exact.strangers(self.embedded.signed_data, status.validation_path):
            return self._damaged(_(N_("a certificate came along that isn't {name}'s")).format(name=name))
        path = _path(status.validation_path)
        for each in path:
            moment = trust.withdrawn_on(each, self.trusted, signed_at=signed_at, stamped=stamped)
            if moment is not None:
                withdrawn = _(N_("{name}'s certificate was withdrawn on {moment}."))
                return withdrawn.format(name=common_name(each), moment=moments.minute(moment))
        stamp = status.timestamp_validity
        if stamp is not None and not (stamp.intact and stamp.valid and stamp.trusted):
            return _(N_("The time stamp on {name}'s signature isn't by a trusted service.")).format(name=name)
        stampers = [] if stamp is None or stamp.validation_path is None else _path(stamp.validation_path)
        if any(trust.withdrawn_on(each, self.trusted, signed_at=signed_at, stamped=False) for each in stampers):
            withdrawn = _(N_("The service that stamped the time on {name}'s signature was withdrawn."))
            return withdrawn.format(name=name)
        self.paths.extend([*path, *stampers])
        return None

    def _answer(
        self,
        *,
        name: str,
        problem: str | None,
        signed_at: datetime | None = None,
        intact: bool = False,
        trusted: bool = False,
        changed_after: tuple[str, ...] = (),
    ) -> Signature:
        return Signature(
            role=_ROLES.get(self.embedded.field_name, "other"),
            name=name,
            signed_at=signed_at,
            intact=intact,
            trusted=trusted,
            changed_after=changed_after,
            problem=problem,
        )

    def _broken(self) -> str:
        """Say that what was signed is no longer the same, and in which revisions the change lies."""
        last = layout.revision_at(self.pdf, self.span.end if self.span is not None else len(self.pdf))
        first = layout.revision_at(self.pdf, self.intact_until) + 1 if self.intact_until else 1
        what = _(N_("What {name} signed is no longer the same (revision {first} of the file)."))
        if first < last:
            what = _(N_("What {name} signed is no longer the same (revisions {first} to {last} of the file)."))
        return what.format(name=self._name() or self.embedded.field_name, first=first, last=last)

    def _damaged(self, what: str) -> str:
        name = self._name() or self.embedded.field_name
        return _(N_("{name}'s signature doesn't hold: {what}.")).format(name=name, what=what)

    def _certificate(self) -> x509.Certificate:
        return x509.load_der_x509_certificate(self.embedded.signer_cert.dump())

    def _name(self) -> str:
        try:
            return common_name(self._certificate())
        except Exception:  # a damaged certificate names nobody
            return ""


async def _stamp_holds(
    pdf: bytes, embedded: EmbeddedPdfSignature, span: layout.Span | None, trusted: trust.Trust
) -> bool | None:
    """Say whether a time stamp over the whole file is by a trusted service; None if it doesn't hold at all."""
    try:
        moment = embedded.signed_data["encap_content_info"]["content"].parsed["gen_time"].native
        if span is None or exact.fault(pdf, span, embedded.pkcs7_content, trusted.authorities, stamp=True) is not None:
            return None
        status = await async_validate_pdf_timestamp(
            embedded, validation_context=_context(trusted, moment), diff_policy=POLICY
        )
        if not (status.intact and status.valid) or isinstance(status.diff_result, Exception):
            return None
        return bool(status.trusted)
    except Exception:  # as above: hostile by assumption
        return None


def _span(pdf: bytes, embedded: EmbeddedPdfSignature) -> layout.Span | None:
    try:
        return layout.span(tuple(int(number) for number in embedded.byte_range), len(pdf))
    except (TypeError, ValueError):
        return None


def _digest_agrees(embedded: EmbeddedPdfSignature) -> bool:
    """Say whether the bytes covered are those that were signed, before anything else reads them."""
    for each in embedded.signer_info["signed_attrs"]:
        if each["type"].native == "message_digest":
            return bool(each["values"][0].native == embedded.compute_digest())
    return False


def _stamped_at(embedded: EmbeddedPdfSignature) -> datetime | None:
    attributes = embedded.signer_info["unsigned_attrs"]
    for each in attributes if attributes.native is not None else ():
        if each["type"].native == "signature_time_stamp_token":
            moment: datetime = each["values"][0]["content"]["encap_content_info"]["content"].parsed["gen_time"].native
            return moment
    return None


def _context(trusted: trust.Trust, moment: datetime) -> ValidationContext:
    roots = [asn1_x509.Certificate.load(each.public_bytes(Encoding.DER)) for each in trusted.authorities]
    return ValidationContext(trust_roots=roots, moment=moment.astimezone(UTC), allow_fetching=False)


def _path(path: ValidationPath) -> list[x509.Certificate]:
    return [x509.load_der_x509_certificate(each.dump()) for each in path.iter_certs(include_root=False)]
