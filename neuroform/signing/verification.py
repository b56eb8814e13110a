"""What verifying a paper found: plain values, and the sentence a person reads first."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from neuroform.language import N_, _
from neuroform.signing import moments

SignatureRole = Literal["author", "supervisor", "other"]


@dataclass(frozen=True, kw_only=True)
class Signature:
    """One signature and what can be said of it."""

    role: SignatureRole
    """Who it was kept for, by the field it fills."""
    name: str
    """Whose certificate signed; empty where that can't be read."""
    signed_at: datetime | None
    """When: from a trusted time stamp, else as the signer's clock said."""
    intact: bool
    """Whether every byte it covers, and its own digits, are as they were."""
    trusted: bool
    """Whether the certificate leads to a trusted authority, was valid at that time and is meant for signing."""
    changed_after: tuple[str, ...]
    """What was changed after it, beyond what it allows: each a few words."""
    problem: str | None
    """What is wrong with it, one sentence, or None."""

    def to_json(self) -> dict[str, object]:
        """Return the values as JSON holds them."""
        return {
            "role": self.role,
            "name": self.name,
            "signed_at": None if self.signed_at is None else self.signed_at.isoformat(),
            "intact": self.intact,
            "trusted": self.trusted,
            "changed_after": list(self.changed_after),
            "problem": self.problem,
        }


@dataclass(frozen=True, kw_only=True)
class Verification:
    """The answer about one paper."""

    valid: bool
    """Whether it can be relied on."""
    signatures: tuple[Signature, ...]
    """Its signatures in the order they were made."""
    expected_signatures: int | None
    """How many the clinic's store says it had, None where the store doesn't know the file."""
    exam_sha256: str | None
    """SHA-256, in hexadecimal, of the exam it carries; None where none can be read."""
    sentence: str
    """The answer in one sentence, then what to do."""
    listed: str = ""
    """How far it is known that no certificate was withdrawn: one sentence, empty where no signer is trusted."""
    whole: bool = True
    """Whether nothing is wrong with the file beside its signatures, such as something added behind the last."""

    @property
    def unchanged(self) -> bool:
        """Whether it is as it was signed, by whomever."""
        as_signed = all(each.intact and not each.changed_after for each in self.signatures)
        return bool(self.signatures) and as_signed and self.whole

    def to_json(self) -> dict[str, object]:
        """Return the values as `verify --json` prints them."""
        return {
            "valid": self.valid,
            "signatures": [signature.to_json() for signature in self.signatures],
            "expected_signatures": self.expected_signatures,
            "exam_sha256": self.exam_sha256,
        }


def sentence(
    signatures: tuple[Signature, ...],
    *,
    valid: bool,
    expected: int | None,
    damage: str | None,
    doubt: str | None,
    signed: bool,
) -> str:
    """Return the answer in words.

    `damage` says in a few what is wrong with the file as a whole, `doubt` in a sentence what can't be relied on;
    `signed`, that the file was signed once, whether or not its signatures can still be read.
    """
    if valid:
        return _good(signatures)
    dont = _(N_("Don't rely on it."))
    if expected is not None and len(signatures) < expected and damage is None:
        cut = _(N_("This paper was cut back: it had {expected} signatures and shows {count}."))
        return f"{cut.format(expected=expected, count=len(signatures))} {dont}"
    if damage is not None and not signed:
        damaged = _(N_("This paper is damaged: {what}."))
        return f"{damaged.format(what=damage)} {dont}"
    wrong = next((each for each in signatures if not each.intact), None)
    if wrong is not None and damage is None:
        changed = _(N_("This paper was changed after it was signed."))
        return " ".join(part for part in (changed, wrong.problem, dont) if part)
    named = [words for signature in signatures for words in signature.changed_after]
    changes = dict.fromkeys([*named, *([] if damage is None else [damage])])
    if changes:
        changed = _(N_("This paper was changed after it was signed: {what}."))
        return f"{changed.format(what='; '.join(changes))} {dont}"
    if not signatures:
        return _(N_("This paper isn't signed. Don't take it for a signed one."))
    found = next((each.problem for each in signatures if each.problem is not None), doubt)
    unsure = _(N_("This paper is as it was signed, but who signed it isn't certain. {problem}"))
    return f"{unsure.format(problem=found or '')} {dont}"


def _good(signatures: tuple[Signature, ...]) -> str:
    parts = [
        _(N_("{name} on {moment}")).format(name=each.name, moment=moments.minute(each.signed_at)) for each in signatures
    ]
    who = (
        parts[0]
        if len(parts) == 1
        else _(N_("{first}, then by {rest}")).format(first=parts[0], rest=", ".join(parts[1:]))
    )
    return _(N_("Signed by {who}. Nothing was changed since.")).format(who=who)
