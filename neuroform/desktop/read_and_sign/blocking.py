"""Why the page can't sign, in words: one sentence, the gravest reason first."""

from collections.abc import Iterable
from pathlib import Path

from neuroform.completeness.gaps import Gap
from neuroform.desktop.read_and_sign.lacking import asks_for_a_reason, could_not_be_checked, title
from neuroform.language import N_, _

NAMED = 2
"""Gaps that are all named; of more, the first is, and how many others there are."""


def blocked(gaps: Iterable[Gap] | None, *, certificate: Path | str | None, passphrase: bool, paper: str = "") -> str:
    """Return what stands in the way of a signature, empty where nothing does.

    A gap to be signed with a reason stands in the way until one is given. `gaps` is None where the examination could
    not be checked at all; `paper` says why the paper can't be made.
    """
    if gaps is None:
        return _(N_("Cannot sign: this examination could not be checked."))
    gaps = tuple(gaps)
    open_gaps = [gap for gap in gaps if gap.counts or could_not_be_checked(gap)]
    failed = [gap for gap in open_gaps if could_not_be_checked(gap)]
    if failed:
        return _(N_("Cannot sign: {gap}")).format(gap=failed[0].message)
    if open_gaps:
        return _needed(open_gaps)
    if reasons := [gap for gap in gaps if asks_for_a_reason(gap)]:
        return _reasons(reasons)
    if paper:
        return _(N_("Cannot sign: {why}")).format(why=paper)
    if certificate is None:
        return _(N_("Choose the certificate that signs."))
    if passphrase:
        return ""
    by_file = isinstance(certificate, Path)
    return _(N_("Type the passphrase of the certificate.") if by_file else N_("Type the PIN of the token."))


def _needed(gaps: list[Gap]) -> str:
    if len(gaps) == 1:
        return _(N_("Cannot sign yet: {gap}. Answer it or give a reason.")).format(gap=title(gaps[0]).rstrip("."))
    told = _(N_("Cannot sign yet, {count} gaps: {gaps}. Answer them or give a reason."))
    return told.format(count=len(gaps), gaps=_names(gaps))


def _reasons(gaps: list[Gap]) -> str:
    if len(gaps) == 1:
        return _(N_("Sign with a reason: {gap}. Answer it or give the reason.")).format(gap=title(gaps[0]).rstrip("."))
    told = _(N_("Sign with a reason, {count} gaps: {gaps}. One reason may serve for all."))
    return told.format(count=len(gaps), gaps=_names(gaps))


def _names(gaps: list[Gap]) -> str:
    names = [title(gap).rstrip(".") for gap in gaps]
    if len(names) <= NAMED:
        return "; ".join(names)
    return _(N_("{names} and {count} more")).format(names=names[0], count=len(names) - 1)
