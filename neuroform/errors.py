"""The failures Neuroform tells a person about: what happened, then what to do."""

from collections.abc import Iterable
from dataclasses import dataclass

from neuroform.language import N_, _


class NeuroformError(Exception):
    """Something failed that a person can be told about and can act on."""

    def __init__(self, what: str, do: str = "") -> None:
        """Hold `what` happened and what to `do`, each a sentence already in the person's language."""
        self.what = what
        self.do = do
        super().__init__(f"{what} {do}".strip())

    def __reduce__(self) -> tuple[object, ...]:
        """Travel between processes whole, whatever arguments a subclass takes."""
        return (_rebuilt, (type(self), self.args, self.__dict__.copy()))


def _rebuilt(kind: type[NeuroformError], args: tuple[object, ...], held: dict[str, object]) -> NeuroformError:
    error = kind.__new__(kind)
    error.args = args
    error.__dict__.update(held)
    return error


@dataclass(frozen=True, kw_only=True)
class Problem:
    """One place in a file that cannot be read as it stands."""

    path: str
    """Dotted path of the item, empty for the file as a whole."""
    found: str
    """What stands there."""
    allowed: str
    """What may stand there."""

    def __str__(self) -> str:
        """Write the problem on one line."""
        told = _(N_("{found} (allowed: {allowed})")).format(found=self.found, allowed=self.allowed)
        return f"{self.path}: {told}" if self.path else told


class FileError(NeuroformError):
    """A file does not hold what it should."""

    def __init__(self, what: str, do: str = "", *, problems: Iterable[Problem] = ()) -> None:
        """Hold every problem found, in the order of the file."""
        self.problems = tuple(problems)
        super().__init__(what, do)


class ExamFileError(FileError):
    """An exam file does not hold an examination."""


class NewerFormatError(ExamFileError):
    """An exam file was written by a newer Neuroform than this one."""


class SettingsError(FileError):
    """The settings file cannot be used as it stands."""


class ProtocolError(FileError):
    """A protocol file is missing or cannot be used."""


class TableError(FileError):
    """A table of published values is missing or cannot be used."""


class ShippedFileError(NeuroformError):
    """A file that belongs to the program is missing."""


class PaperError(NeuroformError):
    """A note or letter cannot be made, or a PDF holds no examination."""


class GlyphError(PaperError):
    """A text holds a character that no shipped font can draw."""

    def __init__(self, what: str, do: str = "", *, character: str) -> None:
        """Hold the `character` itself, so that it can be pointed out."""
        self.character = character
        super().__init__(what, do)


class SigningError(NeuroformError):
    """A note cannot be signed, or a signed note cannot be read."""


class PassphraseError(SigningError):
    """The passphrase does not open the certificate."""


class DraftError(NeuroformError):
    """A draft cannot be kept or read back."""
