"""What one observation can be: examined, not examined with a reason, or blank (nobody said anything)."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Generic, Literal, TypeVar

from pydantic import AfterValidator, BaseModel, ConfigDict, Discriminator, Field, Tag
from typing_extensions import TypeAliasType

from neuroform.language import N_

T = TypeVar("T")

STRICT = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False, revalidate_instances="always")

# No control characters but tab and newline; a pattern, so that the JSON schema refuses the same.
_PRINTABLE = r"^[^\x00-\x08\x0B-\x1F\x7F-\x9F]*$"


def _nfc(text: str) -> str:
    return unicodedata.normalize("NFC", text)


Text = TypeAliasType("Text", Annotated[str, Field(max_length=4000, pattern=_PRINTABLE), AfterValidator(_nfc)])
Name = TypeAliasType(
    "Name", Annotated[str, Field(min_length=1, max_length=200, pattern=_PRINTABLE), AfterValidator(_nfc)]
)
Comment = TypeAliasType("Comment", Annotated[str, Field(max_length=1000, pattern=_PRINTABLE), AfterValidator(_nfc)])
Entered = TypeAliasType("Entered", Literal["copied", "together"])
Reason = TypeAliasType("Reason", Literal["declined", "unable", "unsafe", "absent", "no_equipment", "deferred"])

# "declined" stands first, so that a refusal is not recorded as "could not" by haste.
REASONS: Mapping[str, str] = {
    "declined": N_("declined"),
    "unable": N_("could not"),
    "unsafe": N_("unsafe"),
    "absent": N_("limb, eye or joint missing"),
    "no_equipment": N_("no equipment"),
    "deferred": N_("deferred"),
}


@dataclass(frozen=True, kw_only=True)
class Examined(Generic[T]):
    """Something that was examined, and what was found."""

    value: T
    comment: Comment | None = None
    entered: Entered | None = None
    __pydantic_config__ = STRICT


@dataclass(frozen=True, kw_only=True)
class NotExamined:
    """Something that was not examined, and why."""

    not_examined: Reason
    comment: Comment | None = None
    entered: Entered | None = None
    __pydantic_config__ = STRICT


def _kind(found: Any) -> str | None:
    """Tell which of the two it is; with both keys it is a value, and the other key is refused as an extra."""
    if isinstance(found, Mapping):
        return "value" if "value" in found else "not_examined" if "not_examined" in found else None
    return "value" if isinstance(found, Examined) else "not_examined" if isinstance(found, NotExamined) else None


Finding = Annotated[
    Annotated[Examined[T], Tag("value")] | Annotated[NotExamined, Tag("not_examined")],
    Discriminator(_kind, custom_error_type="finding", custom_error_message="a finding holds a value or a reason"),
]


@dataclass(frozen=True, kw_only=True)
class Sided(Generic[T]):
    """The same observation on the patient's right and left."""

    right: Finding[T] | None = None
    left: Finding[T] | None = None
    __pydantic_config__ = STRICT


class Section(BaseModel):
    """A group of items; an empty one is blank."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        strict=True,
        allow_inf_nan=False,
        defer_build=True,
        revalidate_instances="always",
    )


S = TypeVar("S", bound=Section)


def blank(section: type[S]) -> S:
    """Return a group in which nothing is recorded, without building its validator at import."""
    return section.model_construct()


@dataclass(frozen=True)
class Answers:
    """The answers of a closed list: code to the word shown, mildest first, and which of them are normal.

    Codes in neither ``normal`` nor ``abnormal`` say nothing by themselves (history, or judged by the reading).
    """

    words: Mapping[str, str]
    normal: frozenset[str] = frozenset()
    abnormal: frozenset[str] = frozenset()


def answers(words: Mapping[str, str], normal: str = "", neutral: str = "") -> Answers:
    """Declare a closed list; ``normal`` and ``neutral`` name codes, parted by spaces.

    With ``normal`` given, every code that is neither normal nor neutral is abnormal; without it nothing is.
    """
    healthy, judged = frozenset(normal.split()), frozenset(neutral.split())
    rest = frozenset(words) - healthy - judged if healthy else frozenset()
    return Answers(words=words, normal=healthy, abnormal=rest)


@dataclass(frozen=True)
class Item:
    """What is known of an item beside its type: the one declaration that form, rules, text and exports read."""

    label: str
    """Its name wherever it stands alone: "Joint position, great toe"."""
    answers: Answers | None = None
    """The closed list, when it has one."""
    short: str = ""
    """Its name under the head of its group: "great toe"."""
    hint: str = ""
    """How to test it, in one or two lines, for someone who stands at the couch."""
    unit: str = ""
    """UCUM code."""
    also: tuple[str, ...] = ()
    """Other names a person may type to reach it, eponyms among them."""
    copies: bool = True
    """Whether one side's answer may be copied to the other with one key."""

    @property
    def row(self) -> str:
        """The name in its row: the short one where there is one."""
        return self.short or self.label


@dataclass(frozen=True)
class Group:
    """What is known of a section or of a block of rows within one."""

    label: str
    caution: str = ""
    """What to do for safety, beside the head."""
    hint: str = ""
    columns: tuple[str, str] | None = None
    """Heads of the two columns where they are not the patient's right and left."""


SHOWN_UNITS: Mapping[str, str] = {
    "s": N_("s"),
    "d": N_("days"),
    "min": N_("min"),
    "mL": N_("mL"),
    "mm[Hg]": N_("mmHg"),
    "/min": N_("/min"),
}
"""The word shown for a UCUM code."""

MRC_ORDER = ("0", "1", "2", "3", "4-", "4", "4+", "5")
LEVEL_ORDER = ("none", "toes", "foot", "ankle", "mid_calf", "knee", "thigh", "groin")
DERMATOME_ORDER = (
    *(f"C{n}" for n in range(3, 9)),
    *(f"T{n}" for n in range(1, 13)),
    *(f"L{n}" for n in range(1, 6)),
    *(f"S{n}" for n in range(1, 6)),
)
_MRC = {grade: rank for rank, grade in enumerate(MRC_ORDER)}
_LEVEL = {level: rank for rank, level in enumerate(LEVEL_ORDER)}


def mrc_rank(grade: str) -> int:
    """Return the place of an MRC grade from 0 (none) to 7 (grade 5); 4-, 4 and 4+ are apart."""
    return _MRC[grade]


def level_rank(level: str) -> int:
    """Return how far up the limb a level lies, from 0 (not reduced) to 7 (groin)."""
    return _LEVEL[level]
