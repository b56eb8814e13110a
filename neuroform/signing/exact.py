"""Checks what no digest covers: a signature's own digits, and what its envelope holds unsigned.

Errs towards "not valid": the envelope is built again from its signed parts as this program's signer builds it, and must
come out the same to the byte (CMS, RFC 5652, in DER).
"""

from typing import Any

from asn1crypto import cms
from cryptography import x509
from cryptography.exceptions import InvalidSignature

from neuroform.language import N_, _
from neuroform.signing.layout import Span

_SIGNED_DATA = bytes.fromhex("06092a864886f70d010702")
_DATA = bytes.fromhex("06092a864886f70d010701")
_TIME_STAMP_INFO = bytes.fromhex("060b2a864886f70d0109100104")
_TIME_STAMP_TOKEN = bytes.fromhex("060b2a864886f70d010910020e")
_NULL = b"\x05\x00"
# SHA-256, SHA-384 and SHA-512, and what RSA and elliptic curves with each are called (RFC 5754).
_DIGESTS = {
    name: bytes.fromhex(f"06096086480165030402{last}") for name, last in (("256", "01"), ("384", "02"), ("512", "03"))
}
_RSA = {
    name: bytes.fromhex(f"06092a864886f70d0101{last}") for name, last in (("256", "0b"), ("384", "0c"), ("512", "0d"))
}
_CURVE = {
    name: bytes.fromhex(f"06082a8648ce3d0403{last}") for name, last in (("256", "02"), ("384", "03"), ("512", "04"))
}
_RSA_ALONE = bytes.fromhex("06092a864886f70d010101")


def fault(
    pdf: bytes, span: Span, content: bytes, trusted: tuple[x509.Certificate, ...], *, stamp: bool = False
) -> str | None:
    """Return what differs from what the signer writes, in words, or None.

    `content` is the signature as the digits say it, its zeros included; `stamp` says it is a time stamp's.
    """
    envelope = content[: _length(content)]
    room = span.gap_end - span.gap_start - 2
    written = b"<" + envelope.hex().upper().encode().ljust(room, b"0") + b">"
    if pdf[span.gap_start : span.gap_end] != written:
        return _(N_("the signature's own digits were changed"))
    if not _as_written(cms.ContentInfo.load(envelope, strict=True), envelope, trusted, stamp=stamp):
        return _(N_("what accompanies the signature was changed"))
    return None


def strangers(signed_data: Any, path: Any) -> bool:
    """Say whether certificates travel along that aren't, byte for byte, on the trusted path."""
    on_path = {certificate.dump() for certificate in path.iter_certs(include_root=True)}
    return any(each.chosen.dump() not in on_path for each in signed_data["certificates"])


def _length(der: bytes) -> int:
    """Return how long the first DER value in `der` is, header included."""
    if len(der) < 2 or der[0] != 0x30:
        raise ValueError("no signature")
    if der[1] < 0x80:
        return 2 + der[1]
    count = der[1] & 0x7F
    return 2 + count + int.from_bytes(der[2 : 2 + count], "big")


def _as_written(envelope: Any, der: bytes, trusted: tuple[x509.Certificate, ...], *, stamp: bool) -> bool:
    data = envelope["content"]
    signer = data["signer_infos"][0]
    digest, mechanism = signer["digest_algorithm"].dump(), signer["signature_algorithm"].dump()
    if not _named(digest, mechanism, stamp=stamp) or not _chain(data, signer, trusted, stamp=stamp):
        return False
    token = b""
    if signer["unsigned_attrs"].native is not None:
        inner = signer["unsigned_attrs"][0]["values"][0]
        token = inner.dump()
        if stamp or not _as_written(inner, token, trusted, stamp=True):
            return False
        token = _tlv(0xA1, _tlv(0x30, _TIME_STAMP_TOKEN, _tlv(0x31, token)))
    serial = signer["sid"].chosen["serial_number"].dump()
    one = b"\x02\x01\x01"
    info = _tlv(
        0x30,
        one,
        _tlv(0x30, signer["sid"].chosen["issuer"].dump(), serial),
        digest,
        _tlv(0xA0, signer["signed_attrs"].contents),
        mechanism,
        _tlv(0x04, signer["signature"].native),
        token,
    )
    inside = _tlv(0x30, _DATA)
    if stamp:
        inside = _tlv(0x30, _TIME_STAMP_INFO, _tlv(0xA0, _tlv(0x04, data["encap_content_info"]["content"].contents)))
    certificates = _tlv(0xA0, *(each.chosen.dump() for each in data["certificates"]))
    version = b"\x02\x01\x03" if stamp else one
    body = _tlv(0x30, version, _tlv(0x31, digest), inside, certificates, _tlv(0x31, info))
    return _tlv(0x30, _SIGNED_DATA, _tlv(0xA0, body)) == der


def _tlv(tag: int, *parts: bytes) -> bytes:
    """Return one DER value: tag, shortest length, contents."""
    contents = b"".join(parts)
    size = len(contents)
    if size < 0x80:
        return bytes((tag, size)) + contents
    length = size.to_bytes((size.bit_length() + 7) // 8, "big")
    return bytes((tag, 0x80 | len(length))) + length + contents


def _named(digest: bytes, mechanism: bytes, *, stamp: bool) -> bool:
    """Say whether the algorithms are named as they must be; services of others name plain RSA, our signer doesn't."""
    for name, identifier in _DIGESTS.items():
        if digest in {_tlv(0x30, identifier, _NULL), _tlv(0x30, identifier)}:
            known = {_tlv(0x30, _RSA[name], _NULL), _tlv(0x30, _CURVE[name])}
            return mechanism in known or (stamp and mechanism == _tlv(0x30, _RSA_ALONE, _NULL))
    return False


def _chain(data: Any, signer: Any, trusted: tuple[x509.Certificate, ...], *, stamp: bool) -> bool:
    """Say whether every certificate that travels along is the signer's or vouches, in turn, for it.

    A time-stamp service may send along more than its chain; each must then at least be properly signed.
    """
    given = [x509.load_der_x509_certificate(each.chosen.dump()) for each in data["certificates"]]
    sid = signer["sid"].chosen
    own = [
        each
        for each, asn1 in zip(given, data["certificates"], strict=True)
        if asn1.chosen.issuer.dump() == sid["issuer"].dump() and each.serial_number == sid["serial_number"].native
    ]
    if len(own) != 1:
        return False
    current = own[0]
    rest = [each for each in given if each is not current]
    if stamp:
        return all(any(_issued(each, by) for by in (*given, *trusted)) for each in rest)
    while rest:
        issuer = next((each for each in rest if _issued(current, each)), None)
        if issuer is None:
            return False
        rest.remove(issuer)
        current = issuer
    return True


def _issued(certificate: x509.Certificate, by: x509.Certificate) -> bool:
    try:
        certificate.verify_directly_issued_by(by)
    except (ValueError, TypeError, InvalidSignature):
        return False
    return True
