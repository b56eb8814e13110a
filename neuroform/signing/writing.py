"""The part of signing that needs pyHanko; imported only when something is signed."""

import asyncio
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from hashlib import sha256
from io import BytesIO
from typing import Any

from asn1crypto import x509 as asn1_x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric.ec import ECDSA
from cryptography.hazmat.primitives.asymmetric.padding import PKCS1v15
from cryptography.hazmat.primitives.asymmetric.rsa import RSAPrivateKey
from cryptography.hazmat.primitives.serialization import Encoding
from cryptography.x509 import Certificate
from pyhanko.pdf_utils import generic
from pyhanko.pdf_utils.content import PdfContent
from pyhanko.pdf_utils.generic import pdf_name
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.pdf_utils.layout import AxisAlignment, BoxConstraints, Margins, SimpleBoxLayoutRule
from pyhanko.pdf_utils.misc import PdfError
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign import fields as sig_fields
from pyhanko.sign import signers
from pyhanko.sign.general import SigningError as PyHankoSigningError
from pyhanko.sign.signers.pdf_cms import PdfCMSSignedAttributes
from pyhanko.stamp import StaticStampStyle
from pyhanko_certvalidator import ValidationContext
from pyhanko_certvalidator.errors import PathError
from pyhanko_certvalidator.registry import SimpleCertificateStore

from neuroform.errors import SigningError
from neuroform.language import N_, _
from neuroform.signing import accessible, timestamps
from neuroform.signing import stamp as stamps
from neuroform.signing.certificates import SigningCertificate, TokenKey, longest_signature
from neuroform.signing.fields import FIELD_NAMES, Place, Role
from neuroform.signing.timeservice import TimeService


@dataclass(frozen=True, kw_only=True)
class NewField:
    """An empty signature field to make."""

    role: Role
    """Who will sign it."""
    place: Place
    """Where it stands."""
    lines: Sequence[str]
    """Caption, what it waits for, and more lines."""
    locks: bool
    """Whether signing it forbids every later change."""


class FiledWriter(IncrementalPdfFileWriter):
    """An incremental writer that leaves the metadata as PDF/A wants it."""

    def _update_meta(self) -> None:
        """Rewrite no metadata: pyHanko's own would drop what declares PDF/A, and each revision keeps its date."""


class Drawn(PdfContent):
    """A page of another PDF, held in memory, as a drawing."""

    def __init__(self, page: bytes, *, width: float, height: float) -> None:
        super().__init__(box=BoxConstraints(width=width, height=height))
        self._page = page

    def render(self) -> bytes:
        """Bring the page in as one drawing and return the operators that place it."""
        writer = self._ensure_writer
        self.resources.xobject[pdf_name("/Stamp")] = writer.import_page_as_xobject(PdfFileReader(BytesIO(self._page)))
        return b"/Stamp Do"


class KeySigner(signers.Signer):
    """Signs with a key that was parsed once; pyHanko's own signer parses it again for every signature."""

    def __init__(self, certificate: SigningCertificate) -> None:
        registry = SimpleCertificateStore()
        registry.register_multiple([_asn1(each) for each in certificate.others])
        super().__init__(signing_cert=_asn1(certificate.certificate), cert_registry=registry, embed_roots=False)
        self._key = certificate.key

    async def async_sign_raw(self, data: bytes, digest_algorithm: str, dry_run: bool = False) -> bytes:
        """Return the signature of `data`; a dry run returns as many bytes as it may take at most."""
        if digest_algorithm != "sha256":
            raise ValueError(f"this signer uses SHA-256, not {digest_algorithm}")
        digest = hashes.SHA256()
        key = self._key
        if isinstance(key, TokenKey):
            return bytes(key.longest) if dry_run else key.sign_digest(sha256(data).digest())
        if isinstance(key, RSAPrivateKey):
            return bytes(key.key_size // 8) if dry_run else key.sign(data, PKCS1v15(), digest)
        return bytes(longest_signature(key.key_size)) if dry_run else key.sign(data, ECDSA(digest))


class FiledSigner(signers.PdfSigner):
    """A signer that keeps the file at PDF 1.7."""

    def register_extensions(self, pdf_out: Any, *, md_algorithm: str) -> None:
        """Declare what PAdES needs and no more: for elliptic curves pyHanko raises the file to 2.0, ending PDF/A-3."""
        del md_algorithm
        pdf_out.register_extension(signers.constants.ESIC_EXTENSION_1)


def add_fields(pdf: bytes, fields: Sequence[NewField]) -> bytes:
    """Return `pdf` with one more revision that holds the empty fields."""
    writer = _writer(pdf)
    names = {name for name, _value, _reference in sig_fields.enumerate_sig_fields(writer.prev)}
    if names & {FIELD_NAMES[field.role] for field in fields}:
        raise SigningError(_(N_("This paper has its places for signatures already.")), _(N_("Sign it.")))
    # pyHanko leaves some of its functions without types.
    pages: Callable[[int], tuple[Any, Any]] = writer.find_page_for_modification
    write: Callable[[BytesIO], None] = writer.write
    for field in fields:
        left, bottom, right, top = field.place.box
        width, height = right - left, top - bottom
        caption, name, *lines = field.lines
        drawing = stamps.draw(
            stamps.Stamp(caption=caption, name=name, lines=lines, signed=False), width=width, height=height
        )
        page, _resources = pages(field.place.page)
        _made, reference = sig_fields.prepare_sig_field(
            FIELD_NAMES[field.role], writer.root, update_writer=writer, box=field.place.box, include_on_page=page
        )
        sig_fields.ensure_sig_flags(writer, lock_sig_flags=False)
        made_field = reference.get_object()
        made_field[pdf_name("/TU")] = generic.TextStringObject(caption)
        appearance = Drawn(drawing, width=width, height=height)
        appearance.writer = writer
        made_field[pdf_name("/AP")] = generic.DictionaryObject(
            {pdf_name("/N"): writer.add_object(appearance.as_form_xobject())}
        )
        if field.locks:
            lock = sig_fields.FieldMDPSpec(sig_fields.FieldMDPAction.ALL).as_sig_field_lock()
            lock[pdf_name("/P")] = generic.NumberObject(sig_fields.MDPPerm.NO_CHANGES.value)
            made_field[pdf_name("/Lock")] = writer.add_object(lock)
        accessible.tie_in(writer, made_field, reference, page, name=field.role, words=caption)
    accessible.declare(writer)
    out = BytesIO()
    write(out)
    return out.getvalue()


def filled(pdf: bytes) -> dict[str, bool]:
    """Return the signature fields of a file by name, and whether each is signed."""
    try:
        found = list(sig_fields.enumerate_sig_fields(_writer(pdf).prev))
    except (PdfError, ValueError, KeyError, TypeError) as error:
        raise _damaged() from error
    return {name: value is not None for name, value, _reference in found}


def sign(
    pdf: bytes,
    *,
    certificate: SigningCertificate,
    role: Role,
    at: datetime,
    stamp: stamps.Stamp,
    reason: str | None,
    location: str | None,
    service: TimeService | None = None,
) -> bytes:
    """Return `pdf` with the role's field signed; the author certifies, the supervisor's field locks the file.

    With a time-stamp service: OSError when it doesn't answer, NoProofError when its level can't be had.
    """
    writer = _writer(pdf)
    field = _field(writer.prev, FIELD_NAMES[role])
    left, bottom, right, top = (float(value) for value in field["/Rect"])
    width, height = right - left, top - bottom
    metadata = signers.PdfSignatureMetadata(
        field_name=FIELD_NAMES[role],
        md_algorithm="sha256",
        name=certificate.name,
        reason=reason,
        location=location,
        certify=role == "author",
        subfilter=sig_fields.SigSeedSubFilter.PADES,
        embed_validation_info=service is not None and service.level != "T",
        dss_settings=timestamps.SETTINGS,
        docmdp_permissions=(sig_fields.MDPPerm.FILL_FORMS if role == "author" else sig_fields.MDPPerm.NO_CHANGES),
    )
    style = StaticStampStyle(
        border_width=0,
        background=Drawn(stamps.draw(stamp, width=width, height=height), width=width, height=height),
        background_layout=SimpleBoxLayoutRule(AxisAlignment.ALIGN_MIN, AxisAlignment.ALIGN_MIN, Margins()),
    )
    stamper = None if service is None else timestamps.Service(service)
    signer = FiledSigner(metadata, signer=KeySigner(certificate), stamp_style=style, timestamper=stamper)
    work = _Work(signer=signer, writer=writer, at=at, service=service, certificate=certificate)
    try:
        return asyncio.run(_signed(work))
    except (PyHankoSigningError, PdfError) as error:
        raise _damaged() from error


@dataclass(frozen=True, kw_only=True)
class _Work:
    """All that one signature needs."""

    signer: FiledSigner
    writer: FiledWriter
    at: datetime
    service: TimeService | None
    certificate: SigningCertificate


async def _signed(work: _Work) -> bytes:
    """Go through pyHanko's own steps, with our clock in place of its."""
    proof = await _proof(work)
    if proof is not None:
        work.signer.signature_meta = replace(work.signer.signature_meta, validation_context=proof)
    session = work.signer.init_signing_session(work.writer, existing_fields_only=True)
    session.system_time = work.at
    try:
        known = await session.perform_presign_validation(work.writer)
    except (PyHankoSigningError, PathError) as error:
        raise timestamps.NoProofError(str(error)) from error
    reserved = await session.estimate_signature_container_size(known)
    document = session.prepare_tbs_document(known, bytes_reserved=reserved)
    out = BytesIO()
    digest, _output = document.digest_tbs_document(output=out)
    await document.perform_signature(digest.document_digest, PdfCMSSignedAttributes(signing_time=work.at))
    if work.service is not None and work.service.level == "LTA" and proof is not None:
        stamper = timestamps.Service(work.service)
        return await timestamps.stamp_file(out.getvalue(), FiledWriter, stamper, proof)
    return out.getvalue()


async def _proof(work: _Work) -> ValidationContext | None:
    if work.service is None or work.service.level == "T":
        return None
    return await timestamps.gathered(work.service, timestamps.Service(work.service), work.certificate, work.at)


def _writer(pdf: bytes) -> FiledWriter:
    try:
        return FiledWriter(BytesIO(pdf))
    except (PdfError, ValueError, KeyError, TypeError) as error:
        raise _damaged() from error


def _damaged() -> SigningError:
    return SigningError(_(N_("This paper can't be signed: its file is damaged.")), _(N_("Write the paper again.")))


def _field(reader: PdfFileReader, name: str) -> Any:
    found = list(sig_fields.enumerate_sig_fields(reader, with_name=name))
    return found[0][2].get_object() if found else None


def _asn1(certificate: Certificate) -> Any:
    return asn1_x509.Certificate.load(certificate.public_bytes(Encoding.DER))
