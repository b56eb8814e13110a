"""Signs a paper: the author certifies it, the supervisor countersigns and locks it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from neuroform.errors import SigningError
from neuroform.language import N_, _, in_english
from neuroform.signing import certificates, layout, moments
from neuroform.signing.certificates import SigningCertificate
from neuroform.signing.fields import FIELD_NAMES, Role
from neuroform.signing.stamp import Stamp
from neuroform.signing.timeservice import TimeService
from neuroform.signing.verification import Signature


def sign(
    pdf: bytes,
    *,
    signer: SigningCertificate,
    role: Role,
    clock: Callable[[], datetime],
    reason: str | None = None,
    location: str | None = None,
    stamp: Stamp | None = None,
    timestamper: TimeService | None = None,
    warn: Callable[[str], None] | None = None,
) -> bytes:
    """Return `pdf` signed in the field kept for `role`, verified before it is returned.

    PAdES B-B; with a `timestamper` B-T, B-LT or B-LTA, and when the service doesn't answer or can't give the proof, the
    best level that can be had, which `warn` is told in one sentence.

    The author's signature certifies the paper and allows only the second field to be signed; the supervisor's allows
    nothing after it. `clock` tells the moment with its zone; `stamp` replaces the words in the drawn frame. Raises
    SigningError, in words, when the certificate may not sign now, the field is missing or taken, the order is wrong,
    or the paper was changed after its first signature; GlyphError when the frame's words can't be drawn.
    """
    layout.require_pdf(pdf)
    at = clock()
    if at.tzinfo is None:
        raise ValueError("the clock lacks its zone")
    at = at.replace(microsecond=0)
    certificates.check(signer, at=at)
    from neuroform.signing import writing

    _check_order(writing.filled(pdf), role)
    before = _signatures(pdf)
    _check_sound(before)

    def written(service: TimeService | None) -> bytes:
        return writing.sign(
            pdf,
            certificate=signer,
            role=role,
            at=at,
            stamp=stamp if stamp is not None else words(signer, role=role, at=at, reason=reason, location=location),
            reason=reason,
            location=location,
            service=service,
        )

    signed = _best(written, timestamper, warn)
    after = _signatures(signed)
    if len(after) != len(before) + 1 or after[-1].role != role:
        raise _unsound(_(N_("the new signature isn't in the file")))
    _check_sound(after)
    return signed


def _best(
    written: Callable[[TimeService | None], bytes], service: TimeService | None, warn: Callable[[str], None] | None
) -> bytes:
    """Sign at the level asked for, else at the best below it."""
    if service is None:
        return written(None)
    from neuroform.signing.timestamps import NoProofError

    try:
        try:
            return written(service)
        except NoProofError:
            _tell(warn, _(N_("The lists of withdrawn certificates couldn't be had: the paper is signed without them.")))
            return written(replace(service, level="T"))
    except OSError:
        _tell(warn, _(N_("The time-stamp service didn't answer: the paper is signed without a time stamp.")))
        return written(None)


def _tell(warn: Callable[[str], None] | None, sentence: str) -> None:
    if warn is not None:
        warn(sentence)


@in_english()
def words(
    signer: SigningCertificate, *, role: Role, at: datetime, reason: str | None = None, location: str | None = None
) -> Stamp:
    """Return what the frame of a signature says, in the language of papers."""
    caption = _(N_("Signed")) if role == "author" else _(N_("Countersigned"))
    extra = ", ".join(each for each in (reason, location) if each)
    note = _(N_("electronic signature, contained in this file"))
    return Stamp(caption=caption, name=signer.name, lines=[moments.second(at), *([extra] if extra else []), note])


def _check_order(filled: dict[str, bool], role: Role) -> None:
    """Refuse a field that is missing or taken, and a supervisor before the author or an author after anyone."""
    nothing = _(N_("Nothing was signed."))
    if FIELD_NAMES[role] not in filled:
        raise SigningError(_(N_("This paper has no place for this signature.")), nothing)
    if filled[FIELD_NAMES[role]]:
        taken = _(N_("The author has signed this paper already."))
        if role == "supervisor":
            taken = _(N_("This paper is countersigned already."))
        raise SigningError(taken, nothing)
    if role == "supervisor" and not filled.get(FIELD_NAMES["author"], False):
        raise SigningError(_(N_("The author hasn't signed this paper yet, and signs first.")), nothing)
    if role == "author" and any(filled.values()):
        raise SigningError(_(N_("Someone else has signed this paper already, and the author signs first.")), nothing)


def _signatures(pdf: bytes) -> tuple[Signature, ...]:
    """Return the signatures of a file; no authority is asked for, only that nothing was changed."""
    from neuroform.signing import judgement
    from neuroform.signing.trust import Trust

    judged = judgement.judge(pdf, Trust())
    if judged.damage is not None:
        raise _unsound(judged.damage)
    return judged.signatures


def _check_sound(signatures: tuple[Signature, ...]) -> None:
    for each in signatures:
        if not each.intact or each.changed_after:
            raise _unsound("; ".join(each.changed_after) or (each.problem or "").rstrip("."))


def _unsound(what: str) -> SigningError:
    return SigningError(
        _(N_("This paper can't be signed: {what}.")).format(what=what), _(N_("Write it again. Nothing was signed."))
    )
