"""The commands about papers: write, sign, verify and take the exam out."""

import json
import os
import sys
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
    from neuroform.signing.fields import Role

PASSPHRASE = "NEUROFORM_PASSPHRASE"
"""Environment variable that answers for the prompt."""


def now() -> datetime:
    """Return the moment, with this machine's offset."""
    return datetime.now().astimezone()


def write(file: str, *, kind: str, note: str | None, output: str, certificate: str | None, settings: Settings) -> int:
    """Write a paper; what the examination lacks goes to standard error and holds nothing back."""
    from neuroform.workflow import papers, signing

    source, target = Path(file), Path(output)
    as_text = target.suffix.lower() == ".txt"
    if as_text and certificate:
        raise UseError(_(N_("Plain text can't be signed.")), _(N_("Write a PDF, or leave out --sign-with.")))
    if (kind == "addendum") != (note is not None):
        raise UseError(
            _(N_("An addendum, and no other paper, adds to a note.")), _(N_("Give --kind addendum --to NOTE.pdf."))
        )
    exam, data = read_exam(source)
    made_from = [source, *(Path(each) for each in (note, certificate) if each)]
    signer = signing.open_certificate(Path(certificate), _passphrase()) if certificate else None
    asked = papers.Order(
        kind=papers.kind_of(kind),
        exam=exam,
        exam_file=data,
        demonstration=signer is not None and signer.demonstration,
    )
    if as_text:
        text, conclusions = papers.write_text(asked, settings)
        made = text.encode()
    else:
        made, conclusions = papers.write_paper(asked, settings, clock=now)
        if signer is not None:
            made = signing.sign_paper(made, certificate=signer, role="author", clock=now)
    write_file(target, made, made_from=made_from)
    for gap in conclusions.gaps:
        if gap.counts:
            funnel.say(gap.message)
    return funnel.DONE


def sign(paper: str, *, certificate: str, role: "Role", output: str) -> int:
    """Sign a paper."""
    from neuroform.workflow import signing

    source, target = Path(paper), Path(output)
    data = read_file(source)
    signer = signing.open_certificate(Path(certificate), _passphrase())
    signed = signing.sign_paper(data, certificate=signer, role=role, clock=now)
    write_file(target, signed, made_from=[source, Path(certificate)])
    return funnel.DONE


def verify(paper: str, *, trust: str | None, as_json: bool, settings: Settings) -> int:
    """Say whether a paper can be relied on."""
    from neuroform.workflow import signing

    found = signing.verify_paper(read_file(Path(paper)), settings, trust=[Path(trust)] if trust else ())
    said = json.dumps({"file": paper, **found.to_json()}) if as_json else f"{paper}: {found.sentence}"
    sys.stdout.write(f"{said}\n")
    return funnel.DONE if found.valid else funnel.NO


def extract(paper: str, *, output: str) -> int:
    """Write the exam that a paper carries."""
    from neuroform.workflow import signing

    source = Path(paper)
    write_file(Path(output), signing.extract_exam(read_file(source)), made_from=[source])
    return funnel.DONE


def _passphrase() -> str:
    """Return the passphrase from the environment or a prompt, never from the command line."""
    given = os.environ.get(PASSPHRASE)
    if given is not None:
        return given
    if not sys.stdin.isatty():
        raise UseError(
            _(N_("The certificate's passphrase is needed, and there is no terminal to ask at.")),
            _(N_("Set {name}.")).format(name=PASSPHRASE),
        )
    return getpass(_(N_("Passphrase of the certificate: ")))
