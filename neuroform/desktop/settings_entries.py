"""What can be chosen on the settings page: every entry as text, and back, checked as the settings file is."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import Any, Literal

from neuroform.errors import NeuroformError
from neuroform.language import N_, _
from neuroform.settings import Settings, Telephone

Kind = Literal["line", "lines", "choice", "file", "files"]


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One setting on the page."""

    name: str
    """Its field in the settings."""
    label: str
    kind: Kind
    hint: str = ""
    choices: Mapping[str, str] | None = None
    """Code to word, where it is one of a few."""


@dataclass(frozen=True, kw_only=True)
class Group:
    """Entries under one head."""

    title: str
    entries: tuple[Entry, ...]


YES_NO: Mapping[str, str] = {"no": N_("no"), "yes": N_("yes")}
SCHEMES: Mapping[str, str] = {"system": N_("as the system"), "light": N_("light"), "dark": N_("dark")}
METHODS: Mapping[str, str] = {
    "grade": N_("in words"),
    "score": N_("graduated fork (0 to 8)"),
    "seconds": N_("seconds felt"),
}

LEVELS: Mapping[str, str] = {
    "B-T": N_("when it was signed"),
    "B-LT": N_("and that no certificate was withdrawn"),
    "B-LTA": N_("and all of it for decades"),
}


def groups(amounts: Mapping[str, str], languages: Mapping[str, str]) -> tuple[Group, ...]:
    """Return everything that can be chosen; `amounts` and `languages` are name to words."""
    return (
        Group(
            title=N_("Clinic"),
            entries=(
                Entry(name="clinic_name", label=N_("Name"), kind="line"),
                Entry(
                    name="letterhead",
                    label=N_("Letterhead"),
                    kind="lines",
                    hint=N_("Stands under the name on every paper; up to 6 lines."),
                ),
                Entry(
                    name="logo",
                    label=N_("Logo"),
                    kind="file",
                    hint=N_("PNG or JPEG, at most 2 MB. Papers print it in grey; a copy is kept beside the settings."),
                ),
                Entry(
                    name="telephones",
                    label=N_("Telephone numbers"),
                    kind="lines",
                    hint=N_("One to a line: Stroke team: 0000 000000. Papers that say “telephone first” name them."),
                ),
            ),
        ),
        Group(
            title=N_("Examiner"),
            entries=(
                Entry(name="examiner_name", label=N_("Name"), kind="line"),
                Entry(name="examiner_designation", label=N_("Designation"), kind="line"),
            ),
        ),
        _signature(),
        Group(
            title=N_("Examination"),
            entries=(
                Entry(name="protocol", label=N_("How much is to be examined"), kind="choice", choices=amounts),
                Entry(name="vibration", label=N_("Vibration is tested"), kind="choice", choices=METHODS),
                Entry(
                    name="trial_seconds",
                    label=N_("Length of a trial of standing, s"),
                    kind="line",
                    hint=N_("Whole seconds, 5 to 60."),
                ),
            ),
        ),
        Group(
            title=N_("This window"),
            entries=(
                Entry(name="colour_scheme", label=N_("Colours"), kind="choice", choices=SCHEMES),
                Entry(name="sound", label=N_("The timer can be heard"), kind="choice", choices=YES_NO),
                Entry(
                    name="language",
                    label=N_("Language of the window"),
                    kind="choice",
                    choices=languages,
                    hint=N_("Papers stay in the clinic’s. It changes with the next start."),
                ),
            ),
        ),
    )


def _signature() -> Group:
    return Group(
        title=N_("Signature"),
        entries=(
            Entry(
                name="certificate",
                label=N_("Certificate that signs"),
                kind="file",
                hint=N_("A file with a key (PKCS#12). Its passphrase is never kept."),
            ),
            Entry(
                name="token",
                label=N_("Or a token that signs"),
                kind="line",
                hint=N_("Its address: pkcs11:token=LABEL;object=LABEL?module-path=FILE. Its PIN is never kept."),
            ),
            Entry(
                name="authorities",
                label=N_("Authorities that are trusted"),
                kind="files",
                hint=N_("Files (PEM), one to a line: whose certificates count when a paper is verified."),
            ),
            Entry(
                name="time_stamp_service",
                label=N_("Time-stamp service"),
                kind="line",
                hint=N_(
                    "Its address; blank for none. Its authority stands among the trusted ones, or papers don’t verify."
                ),
            ),
            Entry(
                name="time_stamp_level",
                label=N_("What a time stamp proves"),
                kind="choice",
                choices=LEVELS,
            ),
        ),
    )


def as_text(entry: Entry, settings: Settings) -> str:
    """Return what a person reads and writes for an entry; of a choice, its code."""
    value = getattr(settings, entry.name)
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case tuple():
            told = (f"{each.who}: {each.number}" if isinstance(each, Telephone) else str(each) for each in value)
            return "\n".join(told)
        case _:
            return str(value)


def taken(entry: Entry, text: str, settings: Settings, folder: Path) -> tuple[Settings, str]:
    """Return the settings with what was written, and why it is not allowed; they are unchanged where it isn't.

    Relative paths start at `folder`.
    """
    try:
        raw = _RAW.get(entry.name, _line)(text)
    except ValueError as refused:
        return settings, str(refused)
    read = next(each.metadata["read"] for each in fields(Settings) if each.name == entry.name)
    try:
        value = read(raw, folder)
    except Exception as refused:  # the readers refuse with a sentence of their own
        return settings, _(N_("Allowed is {what}.")).format(what=refused)
    if entry.name == "token" and value:
        refused_address = _no_token(value)
        if refused_address:
            return settings, refused_address
    missing = next((path for path in _paths(value) if not path.is_file()), None)
    if missing is not None:
        return settings, _(N_("There is no file {file}.")).format(file=missing)
    if entry.name == "logo" and value is not None:
        refused_picture = _no_logo(value)
        if refused_picture:
            return settings, refused_picture
    return replace(settings, **{entry.name: value}), ""


def _no_logo(path: Path) -> str:
    """Return why a file is no logo, empty where it is one."""
    from neuroform.workflow.logo import check

    try:
        check(path)
    except NeuroformError as refused:
        return str(refused)
    return ""


def _no_token(address: str) -> str:
    """Return why an address of a token can't be used, empty where it can."""
    from neuroform.workflow.signing import file_of

    try:
        module = file_of(address)
    except NeuroformError as refused:
        return str(refused)
    # A bare name is looked for where the system keeps such modules.
    found = module.is_file() or not module.is_absolute()
    return "" if found else _(N_("There is no file {file}.")).format(file=module)


def _paths(value: Any) -> tuple[Path, ...]:
    if isinstance(value, Path):
        return (value,)
    return tuple(each for each in value if isinstance(each, Path)) if isinstance(value, tuple) else ()


def _line(text: str) -> Any:
    return text.strip()


def _lines(text: str) -> Any:
    return [line.strip() for line in text.splitlines() if line.strip()]


def _whole(text: str) -> Any:
    try:
        return int(text.strip())
    except ValueError as error:
        raise ValueError(_(N_("“{typed}” is no whole number of seconds.")).format(typed=text.strip())) from error


def _numbers(text: str) -> Any:
    table: dict[str, str] = {}
    for line in _lines(text):
        who, colon, number = line.rpartition(":")
        if not (colon and who.strip() and number.strip()):
            raise ValueError(_(N_("“{line}” is not written as name: number.")).format(line=line))
        if who.strip() in table:
            raise ValueError(_(N_("“{who}” stands there twice.")).format(who=who.strip()))
        table[who.strip()] = number.strip()
    return table


_RAW: Mapping[str, Callable[[str], Any]] = {
    "letterhead": _lines,
    "authorities": _lines,
    "telephones": _numbers,
    "trial_seconds": _whole,
    "sound": lambda text: text == "yes",
}
