"""Fall of blood pressure on standing: the limits by the pressure lying."""

from dataclasses import dataclass
from functools import cache

from neuroform.reference.results import About, Limit
from neuroform.reference.tables import beside, opened


@dataclass(frozen=True, kw_only=True)
class OrthostaticLimits:
    """Falls from lying to standing, mm Hg, that are abnormal from that number on."""

    about: About
    systolic_fall: int
    diastolic_fall: int
    minutes: int
    """After standing up, within which the fall counts."""
    lying_minutes: int
    """Spent lying before."""
    high_lying: bool
    """Whether the greater systolic fall is asked for because the pressure lying is high."""


@dataclass(frozen=True, kw_only=True)
class Orthostatic:
    """The whole table."""

    about: About
    usual: OrthostaticLimits
    high: OrthostaticLimits
    high_from: int
    """Systolic pressure lying from which the limits of `high` hold."""
    standing_systolic: Limit
    """A standing systolic pressure below it is low whatever the fall."""
    sitting_fall: tuple[int, int, About]
    """Systolic and diastolic fall from sitting to standing; another position, never compared with lying."""
    pulse_ratio: Limit
    """Beats a minute the pulse rises for each mm Hg of systolic fall; fewer suggest a neurogenic cause."""


@cache
def orthostatic() -> Orthostatic:
    """Return the table of orthostatic limits."""
    about, table = opened("orthostatic")
    usual, high, low = table.part("classical"), table.part("high_lying"), table.part("low_standing")
    sitting, pulse = table.part("sitting"), table.part("pulse")
    systolic, diastolic = usual.whole("systolic"), usual.whole("diastolic")
    minutes, lying = usual.whole("minutes"), usual.whole("lying_minutes")

    def limits(fall: int, *, high_lying: bool) -> OrthostaticLimits:
        return OrthostaticLimits(
            about=about,
            systolic_fall=fall,
            diastolic_fall=diastolic,
            minutes=minutes,
            lying_minutes=lying,
            high_lying=high_lying,
        )

    ratio = pulse.number("beats_per_mmhg")
    made = Orthostatic(
        about=about,
        usual=limits(systolic, high_lying=False),
        high=limits(high.whole("systolic"), high_lying=True),
        high_from=high.whole("from"),
        standing_systolic=Limit(value=low.number("systolic"), unit="mm[Hg]", better="high", about=beside(about, low)),
        sitting_fall=(sitting.whole("systolic"), sitting.whole("diastolic"), beside(about, sitting)),
        pulse_ratio=Limit(value=ratio, unit="/min/mm[Hg]", better="high", about=beside(about, pulse)),
    )
    for entry in (usual, high, low, sitting, pulse, table):
        entry.done()
    return made


def orthostatic_limits(lying_systolic: int) -> OrthostaticLimits:
    """Return the falls that are abnormal for someone whose systolic pressure lying is `lying_systolic` mm Hg."""
    table = orthostatic()
    return table.high if lying_systolic >= table.high_from else table.usual
