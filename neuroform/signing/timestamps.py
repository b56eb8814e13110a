"""Asks a time-stamp service, and gathers what proves later that no certificate was withdrawn."""

import asyncio
from collections.abc import Callable, Iterable
from datetime import datetime
from io import BytesIO
from typing import Any
from urllib.request import Request, urlopen

from asn1crypto import crl as asn1_crl
from asn1crypto import tsp
from asn1crypto import x509 as asn1_x509
from cryptography.hazmat.primitives.serialization import Encoding
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign.signers import PdfTimeStamper
from pyhanko.sign.signers.pdf_signer import (
    DSSContentSettings,
    SigDSSPlacementPreference,
    TimestampDSSContentSettings,
)
from pyhanko.sign.timestamps import TimeStamper
from pyhanko_certvalidator import ValidationContext

from neuroform.signing import trust
from neuroform.signing.certificates import SigningCertificate
from neuroform.signing.timeservice import TimeService

# In the revision that is signed, so that the signature covers it too: behind it, nothing would.
SETTINGS = DSSContentSettings(
    include_vri=False,
    placement=SigDSSPlacementPreference.TOGETHER_WITH_SIGNATURE,
    next_ts_settings=TimestampDSSContentSettings(include_vri=False, update_before_ts=True),
)


class NoProofError(Exception):
    """What proves that no certificate was withdrawn couldn't be gathered."""


class Service(TimeStamper):
    """Speaks to a time-stamp service over HTTP."""

    def __init__(self, service: TimeService) -> None:
        begin: Callable[[], None] = super().__init__  # pyHanko leaves it without types
        begin()
        if not service.url.startswith(("http://", "https://")):
            raise OSError("a time-stamp service is reached by http or https")
        self._service = service

    async def async_request_tsa_response(self, req: tsp.TimeStampReq) -> tsp.TimeStampResp:
        """Send one request; raises OSError when no answer comes or it isn't a time stamp."""
        return await asyncio.to_thread(self._ask, req.dump())

    def _ask(self, request: bytes) -> tsp.TimeStampResp:
        asked = Request(self._service.url, data=request, headers={"Content-Type": "application/timestamp-query"})
        with urlopen(asked, timeout=self._service.timeout) as answer:
            data = answer.read(1 << 20)
        try:
            response: tsp.TimeStampResp = tsp.TimeStampResp.load(data, strict=True)
            known = response["status"]["status"].native is not None
        except (ValueError, TypeError) as error:
            raise OSError("the answer isn't a time stamp") from error
        if not known:
            raise OSError("the answer says nothing")
        return response

    @property
    def certificates(self) -> list[asn1_x509.Certificate]:
        """The certificates the service sent along."""
        return list(self.cert_registry)


async def gathered(
    service: TimeService, stamper: Service, signer: SigningCertificate, at: datetime
) -> ValidationContext:
    """Return the context that holds the lists of withdrawn certificates for signer and service.

    Raises OSError when the service doesn't answer, NoProofError when a list can't be had, SigningError when a list
    names the signer.
    """
    await stamper.async_dummy_response("sha256")
    trusted = trust.read(service.trust)
    roots = [_asn1(each.public_bytes(Encoding.DER)) for each in trusted.authorities]
    others = [_asn1(each.public_bytes(Encoding.DER)) for each in (signer.certificate, *signer.others)]
    others += stamper.certificates
    lists = [each.public_bytes(Encoding.DER) for each in trusted.withdrawn]
    lists += [await asyncio.to_thread(_fetched, url, service.timeout) for url in sorted(_addresses(others))]
    trust.require_not_withdrawn(signer.certificate, trust.joined(trusted, lists), at=at)
    return ValidationContext(
        trust_roots=roots,
        other_certs=others,
        crls=[asn1_crl.CertificateList.load(each) for each in lists],
        moment=at,
        allow_fetching=False,
        revocation_mode="require",
        retroactive_revinfo=True,
    )


async def stamp_file(
    pdf: bytes, writer: type[IncrementalPdfFileWriter], stamper: Service, proof: ValidationContext
) -> bytes:
    """Return `pdf` with a time stamp over all of it, as one more revision."""
    out = BytesIO()
    await PdfTimeStamper(stamper).async_timestamp_pdf(
        writer(BytesIO(pdf)),
        "sha256",
        proof,
        output=out,
        dss_settings=SETTINGS.get_settings_for_ts(),
        embed_roots=False,
    )
    return out.getvalue()


def _addresses(certificates: Iterable[Any]) -> set[str]:
    """Return where the issuers publish their lists."""
    return {
        address
        for certificate in certificates
        for point in certificate.crl_distribution_points
        if (address := point.url) is not None and address.startswith(("http://", "https://"))
    }


def _fetched(url: str, timeout: float) -> bytes:
    try:
        with urlopen(url, timeout=timeout) as answer:
            return bytes(answer.read(1 << 24))
    except OSError as error:
        raise NoProofError(url) from error


def _asn1(der: bytes) -> Any:
    return asn1_x509.Certificate.load(der)
