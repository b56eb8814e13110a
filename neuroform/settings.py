"""What a clinic and an examiner have chosen: one frozen value, read from and written to one TOML file."""

import os
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields
from functools import cache
from pathlib import Path
from typing import Any, Literal

from neuroform.errors import FileError, Problem, SettingsError
from neuroform.language import N_, _

HOME = "NEUROFORM_HOME"
"""Environment variable naming one folder for settings, drafts and everything else of this workplace."""
FILE = "settings.toml"

ColourScheme = Literal["system", "light", "dark"]
VibrationMethod = Literal["grade", "score", "seconds"]
StampLevel = Literal["B-T", "B-LT", "B-LTA"]
LARGEST_TEXT = 2.0
"""How many times its usual size the window's text can be."""
TOKEN = "pkcs11:"
"""Begins the address of a token (RFC 7512)."""


@dataclass(frozen=True, kw_only=True)
class Telephone:
    """One number of the clinic's own list."""

    who: str
    number: str


@dataclass(frozen=True, kw_only=True)
class Places:
    """The folders of this workplace; they need not exist yet."""

    config: Path
    """Holds the settings file, and the clinic's own `protocols` and `templates`."""
    data: Path
    """Holds drafts and papers."""

    @property
    def settings(self) -> Path:
        """Return where the settings file stands."""
        return self.config / FILE

    @property
    def protocols(self) -> Path:
        """Return the folder of the clinic's own protocols."""
        return self.config / "protocols"

    @property
    def templates(self) -> Path:
        """Return the folder of the clinic's own templates."""
        return self.config / "templates"


def places(environ: Mapping[str, str] | None = None) -> Places:
    """Return this workplace's folders: NEUROFORM_HOME for both where it is set, else the platform's own."""
    return _places((os.environ if environ is None else environ).get(HOME))


@cache
def _places(home: str | None) -> Places:
    if home:
        try:
            folder = expanded(home).absolute()
        except FileError as error:
            raise SettingsError(
                _(N_("{name} can't be used: {why}")).format(name=HOME, why=error.what), error.do
            ) from error
        return Places(config=folder, data=folder)
    from platformdirs import PlatformDirs

    own = PlatformDirs("neuroform", appauthor=False)
    return Places(config=Path(own.user_config_dir), data=Path(own.user_data_dir))


def expanded(text: str) -> Path:
    """Return a path as a person wrote it, `~` for their own folder and `~name` for somebody else's.

    Raises FileError where nobody of that name is known here.
    """
    try:
        return Path(text).expanduser()
    except (RuntimeError, ValueError) as error:
        raise FileError(
            _(N_("“{path}” begins with the folder of somebody who isn't known here.")).format(path=text),
            _(N_("Write the whole path.")),
        ) from error


class _NotAllowedError(Exception):
    """A value is not allowed; the argument says what is."""


def _line(value: object, _folder: Path) -> str:
    if not isinstance(value, str) or len(value) > 200 or not (value.isprintable() or not value):
        raise _NotAllowedError(_(N_("one line of text, at most 200 characters")))
    return value.strip()


def _lines(value: object, folder: Path) -> tuple[str, ...]:
    if not isinstance(value, list) or len(value) > 6:
        raise _NotAllowedError(_(N_("a list of at most 6 lines of text")))
    return tuple(_line(each, folder) for each in value)


def _switch(value: object, _folder: Path) -> bool:
    if not isinstance(value, bool):
        raise _NotAllowedError(_(N_("true or false")))
    return value


def _trial(value: object, _folder: Path) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 5 <= value <= 60:
        raise _NotAllowedError(_(N_("a whole number of seconds, 5 to 60")))
    return value


def _scale(value: object, _folder: Path) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not 1 <= value <= LARGEST_TEXT:
        raise _NotAllowedError(_(N_("a number from 1.0 to 2.0")))
    return float(value)


def _service(value: object, _folder: Path) -> str:
    if not isinstance(value, str) or not re.fullmatch(r"(https?://[^\s/?#]+\S*)?", value) or len(value) > 500:
        raise _NotAllowedError(_(N_("an address that begins with https:// or http://")))
    return value


def _token(value: object, _folder: Path) -> str:
    fits = isinstance(value, str) and len(value) <= 500 and (value.isprintable() and value.startswith(TOKEN))
    if value != "" and not fits:
        raise _NotAllowedError(_(N_("an address that begins with pkcs11:")))
    return str(value)


def _file(value: object, folder: Path) -> Path | None:
    text = _line(value, folder)
    try:
        return folder / expanded(text) if text else None
    except FileError as error:
        raise _NotAllowedError(_(N_("a whole path, or one that begins with ~/"))) from error


def _files(value: object, folder: Path) -> tuple[Path, ...]:
    if not isinstance(value, list):
        raise _NotAllowedError(_(N_("a list of files")))
    return tuple(found for each in value if (found := _file(each, folder)))


def _telephones(value: object, folder: Path) -> tuple[Telephone, ...]:
    if not isinstance(value, dict):
        raise _NotAllowedError(_(N_("a table of names and numbers")))
    return tuple(Telephone(who=_line(who, folder), number=_line(number, folder)) for who, number in value.items())


def _matching(pattern: str, allowed: str) -> Callable[[object, Path], str]:
    def read(value: object, _folder: Path) -> str:
        if not isinstance(value, str) or not re.fullmatch(pattern, value):
            raise _NotAllowedError(_(allowed))
        return value

    return read


def _one_of(*words: str) -> Callable[[object, Path], str]:
    def read(value: object, _folder: Path) -> str:
        if not isinstance(value, str) or value not in words:
            raise _NotAllowedError(_(N_("one of {words}")).format(words=", ".join(words)))
        return value

    return read


def _plain(value: object) -> object:
    match value:
        case Path():
            return str(value)
        case tuple():
            return [_plain(each) for each in value]
        case _:
            return value


def _numbers(value: tuple[Telephone, ...]) -> dict[str, str]:
    return {each.who: each.number for each in value}


def _at(
    place: str,
    default: object,
    read: Callable[[Any, Path], object],
    write: Callable[[Any], object] = _plain,
) -> Any:
    """Declare a setting: its dotted place in the file, its default, how it is read and written."""
    return field(default=default, metadata={"at": place, "read": read, "write": write})


@dataclass(frozen=True, kw_only=True)
class Settings:
    """Every choice, with the usual one as default."""

    language: str = _at("language", "en", _matching(r"[a-z]{2,3}(_[A-Z]{2})?", N_("a language such as en or pt_BR")))
    """Of the window; papers stay in the language of their templates."""
    colour_scheme: ColourScheme = _at("colour_scheme", "system", _one_of("system", "light", "dark"))
    text_scale: float = _at("text_scale", 1.0, _scale)
    """How many times its usual size the window's text is."""
    sound: bool = _at("sound", False, _switch)
    """Whether the timer of a trial can be heard."""
    clinic_name: str = _at("clinic.name", "", _line)
    letterhead: tuple[str, ...] = _at("clinic.letterhead", (), _lines)
    """Lines under the clinic's name on every paper."""
    logo: Path | None = _at("clinic.logo", None, _file)
    """A picture at the head of every paper, PNG or JPEG: a copy kept beside these settings."""
    telephones: tuple[Telephone, ...] = _at("clinic.telephones", (), _telephones, _numbers)
    examiner_name: str = _at("examiner.name", "", _line)
    examiner_designation: str = _at("examiner.designation", "", _line)
    protocol: str = _at("examination.protocol", "full", _matching(r"[a-z0-9_-]{1,60}", N_("the name of a protocol")))
    """With which a new examination begins."""
    trial_seconds: int = _at("examination.trial_seconds", 30, _trial)
    """How long a trial of standing lasts, in seconds, where the examination does not say."""
    vibration: VibrationMethod = _at("examination.vibration", "grade", _one_of("grade", "score", "seconds"))
    """Which of the three ways of testing vibration the form opens with."""
    certificate: Path | None = _at("signing.certificate", None, _file)
    """PKCS#12 file that signs; the passphrase is never kept."""
    token: str = _at("signing.token", "", _token)
    """Address of a token that signs in place of the file (RFC 7512); the PIN is never kept."""
    authorities: tuple[Path, ...] = _at("signing.authorities", (), _files)
    """PEM files of the authorities whose signatures are trusted, time-stamp services' among them."""
    time_stamp_service: str = _at("signing.time_stamp_service", "", _service)
    """Where a time-stamp service (RFC 3161) answers; without one a paper says when by the signer's own clock."""
    time_stamp_level: StampLevel = _at("signing.time_stamp_level", "B-T", _one_of("B-T", "B-LT", "B-LTA"))
    """How far the service's proof goes (PAdES, ETSI EN 319 142-1)."""

    @property
    def signs_with(self) -> Path | str | None:
        """Return what signs: the token's address where there is one, else the certificate's file."""
        return self.token or self.certificate


def load(file: Path) -> Settings:
    """Read the settings, the usual ones where there is no file; relative paths in it start at its folder.

    Raises SettingsError with every problem found.
    """
    import tomllib

    try:
        file.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return Settings()
    except OSError as error:
        raise _unreadable(file, error) from error
    try:
        if not (file.is_file() or file.is_dir()):
            raise OSError(0, _(N_("it is no ordinary file")))
        table = tomllib.loads(file.read_text(encoding="utf-8"))
    except OSError as error:
        raise _unreadable(file, error) from error
    except (ValueError, RecursionError) as error:  # bad TOML and bad UTF-8 alike
        raise _refusal(file, [Problem(path="", found=str(error), allowed=_(N_("a TOML file")))]) from error
    found = _flat(table)
    known = {each.metadata["at"]: each for each in fields(Settings)}
    problems = [
        Problem(path=place, found=_(N_("no such setting")), allowed=", ".join(known))
        for place in found
        if place not in known
    ]
    chosen: dict[str, Any] = {}
    for place, each in known.items():
        if place not in found:
            continue
        try:
            chosen[each.name] = each.metadata["read"](found[place], file.absolute().parent)
        except _NotAllowedError as refused:
            problems.append(Problem(path=place, found=repr(found[place])[:80], allowed=str(refused)))
    if problems:
        raise _refusal(file, problems)
    return Settings(**chosen)


def save(file: Path, settings: Settings) -> None:
    """Write the settings, whole or not at all; comments and order of an existing file stay, defaults are not added.

    Raises SettingsError where the file there cannot be read or the folder not be written.
    """
    import tomlkit

    before = load(file)
    document = tomlkit.parse(file.read_text(encoding="utf-8")) if file.exists() else tomlkit.document()
    for each in fields(Settings):
        value = getattr(settings, each.name)
        if value != getattr(before, each.name):
            _put(document, each.metadata["at"].split("."), each.metadata["write"](value))
    aside = file.with_name(f"{file.name}.{os.getpid()}.new")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        aside.write_text(tomlkit.dumps(document), encoding="utf-8")
        aside.replace(file)
    except OSError as error:
        raise SettingsError(
            _(N_("The settings cannot be written to {file}: {why}.")).format(file=file, why=error.strerror),
            _(N_("Make room or allow writing there, then save again.")),
        ) from error


def _put(table: Any, place: list[str], value: object) -> None:
    import tomlkit

    for step in place[:-1]:
        table = table.setdefault(step, tomlkit.table())
    if value is None:
        table.pop(place[-1], None)
    else:
        table[place[-1]] = value


def _flat(table: Mapping[str, object], above: str = "") -> dict[str, object]:
    """Return every value by its dotted place; a table that is itself a setting stays whole."""
    whole = {each.metadata["at"] for each in fields(Settings)}
    flat: dict[str, object] = {}
    for key, value in table.items():
        here = f"{above}{key}"
        if isinstance(value, dict) and here not in whole:
            flat.update(_flat(value, f"{here}."))
        else:
            flat[here] = value
    return flat


def _unreadable(file: Path, error: OSError) -> SettingsError:
    found = error.strerror or str(error)
    return _refusal(file, [Problem(path="", found=found, allowed=_(N_("a readable file")))])


def _refusal(file: Path, problems: list[Problem]) -> SettingsError:
    return SettingsError(
        _(N_("The settings in {file} cannot be used: {problems}.")).format(
            file=file, problems="; ".join(str(problem) for problem in problems)
        ),
        _(N_("Mend the file, or move it away to begin with the usual settings.")),
        problems=problems,
    )
