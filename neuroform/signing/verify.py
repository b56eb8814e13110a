"""Says whether a paper can be relied on: who signed it, when, and what was changed since."""

from collections.abc import Sequence
from hashlib import sha256

from neuroform.errors import SigningError
from neuroform.signing import layout, pdfa, verification
from neuroform.signing import trust as authorities
from neuroform.signing.verification import Verification


def verify(pdf: bytes, *, trust: Sequence[bytes], expected: int | None = None) -> Verification:
    """Verify every signature of `pdf` against the authorities in `trust` (PEM, lists of withdrawn ones among them).

    `expected` is the number of signatures that the clinic's store knows of. A file cut back to its first signature is
    perfect in itself: only that number gives it away. Runs its own event loop: call it from a worker thread, or from
    one that runs none. Raises SigningError when the file isn't a PDF or `trust` holds no certificate; a damaged PDF is
    an answer, not an error. Lists of withdrawn certificates that travel in the file are heeded too.
    """
    layout.require_pdf(pdf)
    trusted = authorities.read(trust)
    exam = _exam(pdf)
    from neuroform.signing import judgement

    judged = judgement.judge(pdf, trusted)
    signatures = judged.signatures
    valid = (
        bool(signatures)
        and judged.damage is None
        and judged.doubt is None
        and all(each.intact and each.trusted and not each.changed_after and each.problem is None for each in signatures)
        and (expected is None or len(signatures) >= expected)
    )
    return Verification(
        valid=valid,
        signatures=signatures,
        expected_signatures=expected,
        exam_sha256=None if exam is None else sha256(exam).hexdigest(),
        sentence=verification.sentence(
            signatures,
            valid=valid,
            expected=expected,
            damage=judged.damage,
            doubt=judged.doubt,
            signed=bool(layout.signed_ends(pdf)),
        ),
        listed=judged.listed,
        whole=judged.damage is None,
    )


def _exam(pdf: bytes) -> bytes | None:
    try:
        return pdfa.attached(pdf)
    except SigningError:
        return None
    except Exception:  # as above: the exam of a hostile file is no exam
        return None
