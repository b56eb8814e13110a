"""What someone who only has a paper can learn from it, and the examination read back out of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.errors import NeuroformError, SigningError
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.settings import Settings
from neuroform.workflow import signing

if TYPE_CHECKING:
    from neuroform.signing.verification import Signature, Verification
    from neuroform.workflow.same_paper import Comparison

_ROLES = {"author": N_("Signed"), "supervisor": N_("Countersigned"), "other": N_("Signed in another place")}


@dataclass(frozen=True, kw_only=True)
class Looked:
    """Everything that is known of a paper."""

    verification: "Verification"
    comparison: "Comparison | None"
    """Whether the examination it carries makes its pages; None where it carries none."""
    exam: Examination | None
    """The examination it carries, where it is signed and unchanged and its pages are this examination's."""


def looked_into(paper: bytes, verification: "Verification", settings: Settings) -> Looked:
    """Return what else a verified paper tells; never raises for what it holds. Call it from one thread at a time."""
    from neuroform.workflow import same_paper

    if verification.exam_sha256 is None:
        return Looked(verification=verification, comparison=None, exam=None)
    comparison = same_paper.compare(paper, settings)
    exam: Examination | None = None
    if comparison.agrees is not False and verification.unchanged:
        try:
            exam = files.read(signing.extract_exam(paper))
        except NeuroformError:
            exam = None
    return Looked(verification=verification, comparison=comparison, exam=exam)


def read_back(paper: bytes, settings: Settings) -> Examination:
    """Return the examination that a signed paper carries, to be read and never changed.

    Whether its signer is trusted isn't asked: another clinic's paper opens too. Raises SigningError for a paper that
    isn't signed, was changed since, or carries no examination; ExamFileError where that can't be read.
    """
    found = signing.verify_paper(paper, settings)
    if not found.unchanged:
        raise SigningError(found.sentence)
    return files.read(signing.extract_exam(paper))


def signed_papers(folder: Path) -> tuple[Path, ...]:
    """Return the papers kept in a folder, the newest first; whether one can be relied on is asked when it is opened."""
    try:
        found = [(each.stat().st_mtime, each) for each in folder.glob("*.pdf") if each.is_file()]
    except OSError:
        return ()
    return tuple(path for _time, path in sorted(found, reverse=True))


def told(looked: Looked) -> tuple[str, ...]:
    """Return what stands below the answer, a line each: signatures, changes, withdrawals, the examination."""
    found = looked.verification
    lines = [line for each in found.signatures for line in _signature(each, said=found.sentence)]
    lines += [found.listed] if found.listed else []
    lines += [looked.comparison.sentence] if looked.comparison is not None else []
    return tuple(lines)


def headline(signature: "Signature") -> str:
    """Return who signed as what, and when."""
    from neuroform.signing import moments

    words = _(N_("{what} by {name}, {when}"))
    who = signature.name or _(N_("someone whose name can’t be read"))
    return words.format(what=_(_ROLES[signature.role]), name=who, when=moments.minute(signature.signed_at))


def state(signature: "Signature") -> str:
    """Return whether what was signed is unchanged and by whom it is trusted, and what was added after it.

    Of a signature that doesn't hold nothing is said of trust: its certificate vouches for nothing.
    """
    parts = [_(N_("not valid, altered since it was signed"))]
    if signature.intact:
        trusted = _(N_("certificate trusted") if signature.trusted else N_("certificate not trusted"))
        parts = [_(N_("as it was signed")), trusted]
    return "; ".join([*parts, *signature.changed_after]) + "."


def _signature(signature: "Signature", *, said: str) -> Iterator[str]:
    yield f"{headline(signature)}: {state(signature)}"
    if signature.problem is not None and signature.problem not in said:
        yield signature.problem
