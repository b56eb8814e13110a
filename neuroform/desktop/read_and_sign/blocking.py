"""Why the page can't sign, in words: one sentence, the gravest reason first."""

from collections.abc import Iterable
from pathlib import Path

from neuroform.completeness.gaps import Gap
from neuroform.desktop.read_and_sign.lacking import could_not_be_checked, title
from neuroform.language import N_, _

NAMED = 2
"""Gaps that are all named; of more, the first is, and how many others there are."""


def blocked(gaps: Iterable[Gap] | None, *, certificate: Path | str | None, passphrase: bool, paper: str = "") -> str:
    """Return what stands in the way of a signature, empty where nothing does.

    `gaps` is None where the examination could not be checked at all; `paper` says why the paper can't be made.
    """
    if gaps is None:
        return _(N_("Cannot sign: this examination could not be checked."))
    open_gaps = [gap for gap in gaps if gap.counts or could_not_be_checked(gap)]
    failed = [gap for gap in open_gaps if could_not_be_checked(gap)]
    if failed:
        return _(N_("Cannot sign: {gap}")).format(gap=failed[0].message)
    if open_gaps:
        return _needed(open_gaps)
    if paper:
        return _(N_("Cannot sign: {why}")).format(why=paper)
    if certificate is None:
        return _(N_("Choose the certificate that signs."))
    if passphrase:
        return ""
    by_file = isinstance(certificate, Path)
    return _(N_("Type the passphrase of the certificate.") if by_file else N_("Type the PIN of the token."))


def _needed(gaps: list[Gap]) -> str:
    names = [title(gap) for gap in gaps]
    if len(names) == 1:
        return _(N_("Cannot sign yet: {gap}. Answer it or give a reason.")).format(gap=names[0])
    shown = "; ".join(names)
    if len(names) > NAMED:
        shown = _(N_("{names} and {count} more")).format(names=names[0], count=len(names) - 1)
    told = _(N_("Cannot sign yet, {count} gaps: {gaps}. Answer them or give a reason."))
    return told.format(count=len(names), gaps=shown)
