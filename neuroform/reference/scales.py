"""Grades of power and of tendon reflexes with their words; a digit is never shown without them."""

from dataclasses import dataclass
from functools import cache

from neuroform.reference.results import About
from neuroform.reference.tables import opened


@dataclass(frozen=True, kw_only=True)
class Grade:
    """One grade of an ordinal scale."""

    code: str
    words: str
    otherwise: str | None = None
    """What common use means by it, where that differs from the original."""


@dataclass(frozen=True, kw_only=True)
class Scale:
    """An ordinal scale."""

    about: About
    grades: tuple[Grade, ...]
    """Lowest first."""

    def grade(self, code: str) -> Grade:
        """Return the grade written `code`; raises KeyError for one the scale lacks."""
        for grade in self.grades:
            if grade.code == code:
                return grade
        raise KeyError(code)


@cache
def power_scale() -> Scale:
    """Return the MRC grades of power."""
    return _scale("muscle_power")


@cache
def reflex_scale() -> Scale:
    """Return the NINDS grades of tendon reflexes, in the original's words and in those of common use."""
    return _scale("tendon_reflexes")


def _scale(name: str) -> Scale:
    about, table = opened(name)
    rows = table.parts("grades")
    grades = tuple(
        Grade(
            code=row.text("code"),
            words=row.text("words"),
            otherwise=row.text("otherwise") if row.has("otherwise") else None,
        )
        for row in rows
    )
    for entry in (*rows, table):
        entry.done()
    return Scale(about=about, grades=grades)
