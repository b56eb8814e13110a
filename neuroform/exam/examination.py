"""The whole examination: who, when, and the ten sections; reading and writing of exam files."""

from datetime import UTC, date, datetime
from typing import Annotated, Any, Literal, Self

from pydantic import AwareDatetime, BeforeValidator, Field, PlainSerializer, WithJsonSchema, model_validator
from pydantic_core import PydanticCustomError
from typing_extensions import TypeAliasType

from neuroform.exam.circulation import Circulation
from neuroform.exam.conclusion import Conclusion
from neuroform.exam.context import Context
from neuroform.exam.coordination import Coordination
from neuroform.exam.findings import Group, Item, Name, Section, Text, answers, blank
from neuroform.exam.head_and_eyes import HeadAndEyes
from neuroform.exam.motor import Motor
from neuroform.exam.reflexes import Reflexes
from neuroform.exam.sensation import Sensation
from neuroform.exam.standing import Standing
from neuroform.exam.walking import Walking
from neuroform.language import N_

FORMAT: Literal["neuroform-exam/1"] = "neuroform-exam/1"

_DATE = r"^\d{4}-\d{2}-\d{2}$"
_INSTANT = r"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d{1,6})?(Z|[+-]\d{2}:\d{2})$"


def _written(pattern: str, words: str) -> BeforeValidator:
    """Return a validator that refuses every way of writing a time but one."""
    import re

    matcher = re.compile(pattern)

    def check(found: Any) -> Any:
        if isinstance(found, date) or (isinstance(found, str) and matcher.match(found)):
            return found
        raise PydanticCustomError("time_written", "{words}", {"words": words})

    return BeforeValidator(check)


Scheme = TypeAliasType("Scheme", Annotated[str, Field(min_length=1, max_length=50, pattern=r"^[a-z][a-z0-9_-]*$")])
ProtocolName = TypeAliasType(
    "ProtocolName", Annotated[str, Field(min_length=1, max_length=100, pattern=r"^[a-z0-9_-]+$")]
)
Day = TypeAliasType(
    "Day",
    Annotated[
        date,
        Field(strict=False),
        _written(_DATE, "a day as YYYY-MM-DD"),
        WithJsonSchema({"type": "string", "format": "date", "pattern": _DATE}),
    ],
)
Instant = TypeAliasType(
    "Instant",
    Annotated[
        AwareDatetime,
        Field(strict=False),
        _written(_INSTANT, "a time as YYYY-MM-DDTHH:MM:SS with its offset, +00:00"),
        WithJsonSchema({"type": "string", "format": "date-time", "pattern": _INSTANT}),
        PlainSerializer(datetime.isoformat, when_used="json"),
    ],
)
Sex = TypeAliasType("Sex", Literal["female", "male", "other", "unknown"])
SEX = answers({"female": N_("female"), "male": N_("male"), "other": N_("other"), "unknown": N_("unknown")})


class Identifier(Section):
    """A number by which a person is known, and who gives it."""

    scheme: Scheme
    value: Name


class Patient(Section):
    """Who was examined."""

    family_name: Annotated[Name, Item(N_("Family name"))]
    given_names: Annotated[Text, Item(N_("Given names"))] = ""
    birth_date: Annotated[Day, Item(N_("Date of birth"))]
    sex: Annotated[Sex, Item(N_("Sex (administrative)"), SEX)] = "unknown"
    identifiers: tuple[Identifier, ...] = ()


class Encounter(Section):
    """When, where, by whom, and how much was to be examined."""

    examined_at: Annotated[Instant, Item(N_("Examined"))]
    place: Annotated[Text | None, Item(N_("Place"))] = None
    examiner: Annotated[Name, Item(N_("Examiner"))]
    designation: Annotated[Text | None, Item(N_("Designation"))] = None
    supervisor: Annotated[Text | None, Item(N_("Supervisor"))] = None
    protocol: Annotated[ProtocolName | None, Item(N_("How much is to be examined"))] = None


class Examination(Section):
    """One examination of balance and legs, as it stands in a file."""

    format: Literal["neuroform-exam/1"]
    patient: Patient
    encounter: Encounter
    context: Annotated[
        Context,
        Group(N_("History and cautions"), caution=N_("Ask about bladder, neck and hearing before the couch.")),
    ] = blank(Context)
    standing: Annotated[
        Standing, Group(N_("Standing"), caution=N_("Stand close behind, arms ready. Stop at the first step."))
    ] = blank(Standing)
    walking: Annotated[Walking, Group(N_("Walking"), caution=N_("Walk beside, within reach."))] = blank(Walking)
    motor: Annotated[Motor, Group(N_("Strength"), caution=N_("The person watches the limb. Stop for pain."))] = blank(
        Motor
    )
    reflexes: Annotated[Reflexes, Group(N_("Reflexes"), caution=N_("Both sides in the same position."))] = blank(
        Reflexes
    )
    sensation: Annotated[
        Sensation, Group(N_("Sensation"), caution=N_("Eyes closed. Show the feeling once on the breastbone."))
    ] = blank(Sensation)
    coordination: Annotated[
        Coordination, Group(N_("Coordination"), caution=N_("Test power first: weakness looks like ataxia."))
    ] = blank(Coordination)
    head_and_eyes: Annotated[
        HeadAndEyes, Group(N_("Head and eyes"), caution=N_("Keep the neck still if it hurts. Small, quick turns."))
    ] = blank(HeadAndEyes)
    circulation: Annotated[
        Circulation, Group(N_("Blood pressure"), caution=N_("Five minutes lying first. Stay within reach on standing."))
    ] = blank(Circulation)
    conclusion: Annotated[Conclusion, Group(N_("Conclusion"))] = blank(Conclusion)

    @model_validator(mode="after")
    def _born_before_examined(self) -> Self:
        if self.patient.birth_date > self.encounter.examined_at.date():
            raise PydanticCustomError("born_after", "a birth date on or before the day of examination")
        return self


SECTIONS = (
    "context",
    "standing",
    "walking",
    "motor",
    "reflexes",
    "sensation",
    "coordination",
    "head_and_eyes",
    "circulation",
    "conclusion",
)
"""The sections in bedside order."""


def age_on(birth: date, when: date) -> int:
    """Return whole years lived on a day; someone born on 29 February has a birthday on 1 March in other years."""
    return when.year - birth.year - ((when.month, when.day) < (birth.month, birth.day))


def age(exam: Examination) -> int:
    """Return the age in whole years on the day of the examination, by its own clock."""
    return age_on(exam.patient.birth_date, exam.encounter.examined_at.date())


def new_examination(*, patient: Patient, examiner: str, at: datetime, protocol: str = "full") -> Examination:
    """Return a blank examination; `at` carries its offset."""
    if at.tzinfo is None:
        at = at.replace(tzinfo=UTC)
    encounter = Encounter(examined_at=at.replace(microsecond=0), examiner=examiner, protocol=protocol)
    return Examination(format=FORMAT, patient=patient, encounter=encounter)
