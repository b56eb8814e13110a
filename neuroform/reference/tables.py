"""Reads the shipped tables of published values, once each, and refuses what is malformed."""

import tomllib
from collections.abc import Mapping
from functools import cache
from math import isfinite

from neuroform import shipped
from neuroform.errors import TableError
from neuroform.language import N_, _
from neuroform.reference.results import ADULT, MARKS, About, Band, Mark


class Entry:
    """One table of a TOML file, read key by key; what nobody asked for is refused by `done`."""

    def __init__(self, file: str, place: str, values: Mapping[str, object]) -> None:
        """Hold the `values` that stand at `place` in `file`."""
        self.file = file
        self.place = place
        self._left = dict(values)

    def has(self, key: str) -> bool:
        """Tell whether a key is there and not yet read."""
        return key in self._left

    def text(self, key: str) -> str:
        """Read a text that is not empty."""
        value = self._take(key)
        if not isinstance(value, str) or not value.strip():
            raise self.wrong(key, value)
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Read a list of texts."""
        value = self._take(key)
        if not isinstance(value, list) or not all(isinstance(text, str) and text.strip() for text in value):
            raise self.wrong(key, value)
        return tuple(value)

    def number(self, key: str) -> float:
        """Read a number of 0 or more."""
        value = self._take(key)
        if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value) or value < 0:
            raise self.wrong(key, value)
        return float(value)

    def whole(self, key: str) -> int:
        """Read a whole number of 0 or more."""
        value = self._take(key)
        if isinstance(value, bool) or not isinstance(value, int) or value < 0:
            raise self.wrong(key, value)
        return value

    def mark(self) -> Mark:
        """Read how the numbers are known."""
        value = self._take("mark")
        for mark in MARKS:
            if value == mark:
                return mark
        raise self.wrong("mark", value)

    def part(self, key: str) -> "Entry":
        """Read a table inside this one."""
        value = self._take(key)
        if not isinstance(value, dict):
            raise self.wrong(key, value)
        return Entry(self.file, f"{self.place}{key}.", value)

    def parts(self, key: str) -> tuple["Entry", ...]:
        """Read a list of tables, at least one."""
        value = self._take(key)
        if not isinstance(value, list) or not value or not all(isinstance(row, dict) for row in value):
            raise self.wrong(key, value)
        return tuple(Entry(self.file, f"{self.place}{key}[{count}].", row) for count, row in enumerate(value, 1))

    def done(self) -> None:
        """Refuse keys nobody read."""
        for key, value in self._left.items():
            raise self.wrong(key, value)

    def wrong(self, key: str, value: object) -> TableError:
        """Make the error for a key that cannot be used."""
        found = _(N_("nothing")) if value is None else repr(value)
        return TableError(
            _(N_("The table {file} cannot be used: {found} stands at {place}.")).format(
                file=self.file, found=found, place=f"{self.place}{key}"
            ),
            _(N_("Install Neuroform anew.")),
        )

    def _take(self, key: str) -> object:
        return self._left.pop(key, None)


def opened(name: str) -> tuple[About, Entry]:
    """Return the head of the table `name` and the rest of it.

    Raises TableError when it is malformed, ShippedFileError when it is missing.
    """
    file = f"{name}.toml"
    try:
        values = tomllib.loads(shipped.read_text("resources", "reference", file))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise TableError(
            _(N_("The table {file} cannot be read: {error}.")).format(file=file, error=error),
            _(N_("Install Neuroform anew.")),
        ) from error
    whole = Entry(file, "", values)
    head = whole.part("about")
    about = About(
        title=head.text("title"),
        source=head.text("source"),
        edition=head.text("edition"),
        licence=head.text("licence"),
        mark=head.mark(),
        method=head.text("method"),
        population=head.text("population"),
        notes=head.texts("notes"),
    )
    head.done()
    return about, whole


@cache
def about(name: str) -> About:
    """Return the head of the table `name`; raises TableError, ShippedFileError when it is missing."""
    return opened(name)[0]


def names() -> tuple[str, ...]:
    """Return the names of the tables that are shipped."""
    return tuple(
        name.removesuffix(".toml") for name in shipped.names("resources", "reference") if name.endswith(".toml")
    )


def band(entry: Entry) -> Band:
    """Read the ages a row holds for; without an upper end it holds for all above."""
    low = entry.whole("from")
    high = entry.whole("to") if entry.has("to") else None
    if low < ADULT or (high is not None and high < low):
        raise entry.wrong("from", low)
    return Band(low=low, high=high)


def in_order(entries: tuple[Entry, ...], bands: tuple[Band, ...]) -> None:
    """Refuse bands of age with a gap or an overlap between them."""
    for entry, before, after in zip(entries[1:], bands, bands[1:], strict=False):
        if before.high is None or after.low != before.high + 1:
            raise entry.wrong("from", after.low)


def beside(about: About, entry: Entry) -> About:
    """Return the head of a table as it holds for one number from a source of its own."""
    return About(
        title=about.title,
        source=entry.text("source"),
        edition=about.edition,
        licence=about.licence,
        mark=entry.mark(),
        method=about.method,
        population=entry.text("population") if entry.has("population") else about.population,
        notes=about.notes,
    )
