"""Blood pressure and pulse, lying and standing."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError
from typing_extensions import TypeAliasType

from neuroform.exam.findings import Finding, Item, Section, answers
from neuroform.language import N_

MmHg = TypeAliasType("MmHg", Annotated[float, Field(ge=20, le=300)])
PerMinute = TypeAliasType("PerMinute", Annotated[float, Field(ge=20, le=300)])
LyingMinutes = TypeAliasType("LyingMinutes", Annotated[float, Field(ge=0, le=120)])
OnStanding = TypeAliasType("OnStanding", Literal["yes", "no"])
ON_STANDING = answers({"no": N_("no"), "yes": N_("yes")}, normal="no")


class Pressure(Section):
    """One reading: pressures in mm[Hg], pulse in /min."""

    systolic: MmHg
    diastolic: MmHg
    pulse: PerMinute | None = None

    @model_validator(mode="after")
    def _systolic_higher(self) -> Self:
        if self.systolic <= self.diastolic:
            raise PydanticCustomError("systolic_not_higher", "systolic higher than diastolic")
        return self


def _reading(label: str, hint: str = "") -> Item:
    return Item(label, unit="mm[Hg]", hint=hint or N_("Type systolic / diastolic pulse: 142/88 76."))


class Circulation(Section):
    """Readings in the order they are taken."""

    lying_minutes: Annotated[
        Finding[LyingMinutes] | None, Item(N_("Minutes lying"), unit="min", hint=N_("Five minutes or more."))
    ] = None
    lying: Annotated[Finding[Pressure] | None, _reading(N_("Lying"))] = None
    sitting: Annotated[Finding[Pressure] | None, _reading(N_("Sitting"))] = None
    standing_immediately: Annotated[Finding[Pressure] | None, _reading(N_("Standing, at once"))] = None
    standing_1_min: Annotated[Finding[Pressure] | None, _reading(N_("Standing, 1 minute"))] = None
    standing_3_min: Annotated[Finding[Pressure] | None, _reading(N_("Standing, 3 minutes"))] = None
    symptoms_on_standing: Annotated[Finding[OnStanding] | None, Item(N_("Symptoms on standing"), ON_STANDING)] = None
