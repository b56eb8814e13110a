"""The commands about papers: write, sign, verify and take the exam out."""

import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from getpass import getpass
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.cli import funnel
from neuroform.cli.funnel import UseError
from neuroform.language import N_, _
from neuroform.settings import Settings
from neuroform.workflow.files import read_exam, read_file, write_file

if TYPE_CHECKING:
    from neuroform.signing.certificates import SigningCertificate
    from neuroform.signing.fields import Role
    from neuroform.workflow.signing import SignsWith

PASSPHRASE = "NEUROFORM_PASSPHRASE"
"""Environment variable that answers for the prompt."""
_BUILT_IN = N_("The paper is written with the program's own.")
_NO_LOGO = N_("The paper is written without the clinic's logo.")


def now() -> datetime:
    """Return the moment, with this machine's offset."""
    return datetime.now().astimezone()


def write(file: str, *, kind: str, note: str | None, output: str, certificate: str | None, settings: Settings) -> int:
    """Write a paper; what the examination lacks goes to standard error and holds nothing back."""
    from neuroform.workflow import adding, logo, papers, signing

    source, target = Path(file), Path(output)
    as_text = target.suffix.lower() == ".txt"
    if as_text and certificate is not None:
        raise UseError(_(N_("Plain text can't be signed.")), _(N_("Write a PDF, or leave out --sign-with.")))
    if (kind == "addendum") != (note is not None):
        raise UseError(
            _(N_("An addendum, and no other paper, adds to a note.")), _(N_("Give --kind addendum --to NOTE.pdf."))
        )
    exam, data = read_exam(source)
    signs_with = signing.signs_with(certificate) if certificate is not None else None
    made_from = [source, *([] if note is None else [Path(note)])]
    if signs_with is not None:
        made_from.append(signing.file_of(signs_with))
    earlier = None if note is None else adding.earlier_note(read_file(Path(note)), exam, settings)
    with _opened(signs_with) as signer:
        asked = papers.Order(
            kind=papers.kind_of(kind),
            exam=exam,
            exam_file=data,
            demonstration=signer is not None and signer.demonstration,
            earlier=earlier,
        )
        if as_text:
            text, conclusions = papers.write_text(asked, settings)
            made = text.encode()
        else:
            made, conclusions = papers.write_paper(asked, settings, clock=now)
        refused = papers.refused_templates(asked, settings)
        warnings = [] if refused is None else [f"{refused} {_(_BUILT_IN)}"]
        unprinted = None if as_text else logo.refused(settings.logo)
        warnings += [] if unprinted is None else [f"{unprinted} {_(_NO_LOGO)}"]
        if signer is not None:
            made = signing.sign_paper(
                made, certificate=signer, role="author", clock=now, settings=settings, warn=warnings.append
            )
    write_file(target, made, made_from=made_from)
    for warning in warnings:
        funnel.say(warning)
    for gap in conclusions.gaps:
        if gap.counts:
            funnel.say(gap.message)
    return funnel.DONE


def sign(paper: str, *, certificate: str, role: "Role", output: str, settings: Settings) -> int:
    """Sign a paper; what the time-stamp service could not give goes to standard error."""
    from neuroform.workflow import signing

    source, target = Path(paper), Path(output)
    data = read_file(source)
    signs_with = signing.signs_with(certificate)
    warnings: list[str] = []
    with signing.opened(signs_with, _secret(signs_with)) as signer:
        signed = signing.sign_paper(
            data, certificate=signer, role=role, clock=now, settings=settings, warn=warnings.append
        )
    write_file(target, signed, made_from=[source, signing.file_of(signs_with)])
    for warning in warnings:
        funnel.say(warning)
    return funnel.DONE


def verify(paper: str, *, trust: str | None, as_json: bool, settings: Settings) -> int:
    """Say whether a paper can be relied on."""
    from neuroform.workflow import signing, verifying

    data = read_file(Path(paper))
    found = signing.verify_paper(data, settings, trust=() if trust is None else [Path(trust)])
    said = json.dumps({"file": paper, **found.to_json()})
    if not as_json:
        more = verifying.told(verifying.looked_into(data, found, settings))
        said = "\n  ".join([f"{paper}: {found.sentence}", *more])
    sys.stdout.write(f"{said}\n")
    return funnel.DONE if found.valid else funnel.NO


def extract(paper: str, *, output: str) -> int:
    """Write the exam that a paper carries."""
    from neuroform.workflow import signing

    source = Path(paper)
    write_file(Path(output), signing.extract_exam(read_file(source)), made_from=[source])
    return funnel.DONE


@contextmanager
def _opened(chosen: "SignsWith | None") -> "Iterator[SigningCertificate | None]":
    """Open what signs, where something does."""
    from neuroform.workflow import signing

    if chosen is None:
        yield None
        return
    with signing.opened(chosen, _secret(chosen)) as signer:
        yield signer


def _secret(chosen: "SignsWith") -> str:
    """Return the passphrase or PIN from the environment or a prompt, never from the command line."""
    given = os.environ.get(PASSPHRASE)
    if given is not None:
        return given
    by_file = isinstance(chosen, Path)
    if not sys.stdin.isatty():
        needed = N_("The certificate's passphrase is needed, and there is no terminal to ask at.")
        raise UseError(
            _(needed if by_file else N_("The token's PIN is needed, and there is no terminal to ask at.")),
            _(N_("Set {name}.")).format(name=PASSPHRASE),
        )
    return getpass(_(N_("Passphrase of the certificate: ") if by_file else N_("PIN of the token: ")))
