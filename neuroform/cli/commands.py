"""What can be asked for on a command line; each command hands over to the workflow."""

import functools
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from neuroform.cli import funnel
from neuroform.cli.funnel import UseError, not_offered
from neuroform.language import N_, _
from neuroform.settings import Settings, load, places

if TYPE_CHECKING:
    from neuroform.exam.examination import Examination
    from neuroform.protocols.loading import Protocol
    from neuroform.signing.fields import Role

KINDS = ("note", "referral", "patient_letter", "completeness", "addendum")
FORMATS = ("fhir", "text", "csv")
ROLES = ("author", "supervisor")
SIGNS_WITH = "CERTIFICATE.p12|pkcs11:…"


def _named(_context: click.Context, parameter: click.Parameter, value: str | None) -> str | None:
    """Refuse an option with nothing behind it: that is a slip, and no choice to go without."""
    if value == "":
        raise UseError(
            _(N_("{option} has no name behind it.")).format(option=max(parameter.opts, key=len)),
            _(N_("Give a name or a file.")),
        )
    return value


file_argument = click.argument("file")
files_argument = click.argument("files", nargs=-1, required=True, metavar="FILE…")
output_option = click.option("-o", "--output", "output", required=True, metavar="OUT", callback=_named)
json_option = click.option("--json", "as_json", is_flag=True, help="One line of JSON for each file.")


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
def neuroform() -> None:
    """Legs and balance examination: what is missing, what the findings support, the signed note.

    Without a command the window opens. Exit status: 0 done, 1 done and the answer is no, 2 bad input or use.
    """


@neuroform.command()
@files_argument
@click.option("--protocol", metavar="P", callback=_named, help="How much is to be examined: a name, or a file.")
@click.option("--after", metavar="EARLIER", callback=_named, help="The exam file that a follow-up follows.")
@json_option
def check(files: tuple[str, ...], protocol: str | None, after: str | None, as_json: bool) -> int:
    """Say what exam files lack."""
    from neuroform.cli.many import tell
    from neuroform.cli.telling import check_told

    earlier = _earlier(after)
    chosen = _protocol(protocol, earlier)
    teller = functools.partial(check_told, settings=_settings(), protocol=chosen, earlier=earlier, as_json=as_json)
    return tell(files, teller, as_json=as_json)


@neuroform.command()
@files_argument
@json_option
def interpret(files: tuple[str, ...], as_json: bool) -> int:
    """Say what the findings in exam files support."""
    from neuroform.cli.many import tell
    from neuroform.cli.telling import interpret_told

    return tell(files, functools.partial(interpret_told, settings=_settings(), as_json=as_json), as_json=as_json)


@neuroform.command()
@file_argument
@click.option("--kind", type=click.Choice(KINDS), required=True)
@click.option("--to", "note", metavar="NOTE.pdf", callback=_named, help="The signed note that an addendum adds to.")
@output_option
@click.option("--sign-with", "certificate", metavar=SIGNS_WITH, callback=_named)
def write(file: str, kind: str, note: str | None, output: str, certificate: str | None) -> int:
    """Write a paper as PDF, or as plain text to OUT.txt."""
    from neuroform.cli.papers import write as write_paper

    return write_paper(file, kind=kind, note=note, output=output, certificate=certificate, settings=_settings())


@neuroform.command()
@click.argument("paper", metavar="IN.pdf")
@click.option("--with", "certificate", required=True, metavar=SIGNS_WITH, callback=_named)
@click.option("--as", "role", type=click.Choice(ROLES), default="author", show_default=True)
@output_option
def sign(paper: str, certificate: str, role: str, output: str) -> int:
    """Sign a paper in the place kept for it."""
    from neuroform.cli.papers import sign as sign_paper

    signs_as: Role = "supervisor" if role == "supervisor" else "author"
    return sign_paper(paper, certificate=certificate, role=signs_as, output=output, settings=_settings())


@neuroform.command()
@click.argument("paper", metavar="FILE.pdf")
@click.option(
    "--trust", metavar="CA.pem", callback=_named, help="The authority to trust instead of those in the settings."
)
@json_option
def verify(paper: str, trust: str | None, as_json: bool) -> int:
    """Say whether a paper can be relied on: who signed it, when, and what was changed since."""
    from neuroform.cli.papers import verify as verify_paper

    return verify_paper(paper, trust=trust, as_json=as_json, settings=_settings())


@neuroform.command()
@click.argument("paper", metavar="FILE.pdf")
@output_option
def extract(paper: str, output: str) -> int:
    """Write the exam that a paper carries, byte for byte."""
    from neuroform.cli.papers import extract as extract_exam

    return extract_exam(paper, output=output)


@neuroform.command()
@click.argument("rule")
def explain(rule: str) -> int:
    """Say why a rule exists, its source, and an example."""
    from neuroform.cli.explaining import explained

    click.echo(explained(rule))
    return funnel.DONE


@neuroform.command()
@file_argument
@click.option("--as", "format_", type=click.Choice(FORMATS), required=True)
@output_option
def export(**_words: Any) -> int:
    """Write an exam for another program (not offered yet)."""
    raise not_offered(_(N_("Exporting")))


@neuroform.command(name="measure-sway")
@click.argument("opened", metavar="OPEN.csv")
@click.argument("closed", metavar="CLOSED.csv")
@json_option
def measure_sway(**_words: Any) -> int:
    """Measure two recordings of standing (not offered yet)."""
    raise not_offered(_(N_("Measuring sway")))


@neuroform.command(name="verify-records")
def verify_records() -> int:
    """Say whether the stored history is whole (not offered yet)."""
    raise not_offered(_(N_("Verifying stored records")))


@neuroform.command()
@click.pass_obj
def demo(open_demo: Callable[[], int]) -> int:
    """Open the window on an invented clinic in a folder of its own."""
    return open_demo()


def _settings() -> Settings:
    return load(places().settings)


def _earlier(after: str | None) -> "Examination | None":
    if after is None:
        return None
    from neuroform.workflow.files import read_exam

    return read_exam(Path(after))[0]


def _protocol(chosen: str | None, earlier: "Examination | None") -> "Protocol | None":
    if chosen is None:
        return None
    from neuroform.workflow.conclude import chosen_protocol

    return chosen_protocol(chosen, earlier=earlier is not None)
