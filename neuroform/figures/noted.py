"""What a drawing is told about one observation: a value, a reason, or nothing; and the words the drawings share."""

from dataclasses import dataclass
from typing import Literal

from neuroform.language import N_, _

Reason = Literal["declined", "unable", "unsafe", "absent", "no_equipment", "deferred"]

REASONS: dict[Reason, str] = {
    "declined": N_("declined"),
    "unable": N_("could not"),
    "unsafe": N_("unsafe"),
    "absent": N_("limb, eye or joint missing"),
    "no_equipment": N_("no equipment"),
    "deferred": N_("deferred"),
}

BLANK = N_("blank")
NOT_EXAMINED = N_("not examined")
NARROW_SPACE = "\u202f"
"""Joins a number and its unit; it never breaks."""


@dataclass(frozen=True, kw_only=True)
class Noted:
    """One observation; without value and reason it is blank."""

    value: str | None = None
    not_examined: Reason | None = None
    abnormal: bool | None = None
    """How it was judged; where nobody judged it, a drawing takes all but the plainly normal words as abnormal."""

    def __post_init__(self) -> None:
        """Refuse a value beside a reason."""
        if self.value is not None and self.not_examined is not None:
            raise ValueError(f"{self.value!r} stands beside a reason for not examining")


NOBODY_SAID = Noted()


@dataclass(frozen=True, kw_only=True)
class Sides:
    """One observation on each side of the patient."""

    right: Noted = NOBODY_SAID
    left: Noted = NOBODY_SAID


BLANK_SIDES = Sides()


def number(value: float) -> str:
    """Write a number without needless digits."""
    return f"{value:g}"


def with_unit(value: float, unit: str) -> str:
    """Write a number with its unit beside it."""
    return f"{number(value)}{NARROW_SPACE}{unit}" if unit else number(value)


def unexamined(reason: Reason) -> str:
    """Say that something was not examined, and why."""
    return _(N_("not examined ({reason})")).format(reason=_(REASONS[reason]))
