"""Standing: how much a person sways, and how the trial ended, with eyes open and closed."""

from typing import Annotated, Literal

from pydantic import Field
from typing_extensions import TypeAliasType

from neuroform.exam.findings import Finding, Group, Item, Section, Sided, answers, blank
from neuroform.language import N_

YesNo = TypeAliasType("YesNo", Literal["yes", "no"])
STAND_BY = answers({"yes": N_("yes"), "no": N_("no")})
Footwear = TypeAliasType("Footwear", Literal["barefoot", "shoes"])
FOOTWEAR = answers({"barefoot": N_("barefoot"), "shoes": N_("shoes")})
SittingBalance = TypeAliasType("SittingBalance", Literal["steady", "unsteady", "cannot_sit"])
SITTING_BALANCE = answers(
    {"steady": N_("steady"), "unsteady": N_("unsteady"), "cannot_sit": N_("cannot sit")}, normal="steady"
)
TrialSeconds = TypeAliasType("TrialSeconds", Annotated[float, Field(ge=5, le=60)])
FeetPosition = TypeAliasType("FeetPosition", Literal["together", "apart"])
FEET_POSITION = answers({"together": N_("together"), "apart": N_("apart")})
Sway = TypeAliasType("Sway", Literal["none", "slight", "moderate", "marked"])
SWAY = answers(
    {"none": N_("no sway"), "slight": N_("slight"), "moderate": N_("moderate"), "marked": N_("marked")},
    normal="none slight",
)
Direction = TypeAliasType("Direction", Literal["forward", "backward", "right", "left", "any"])
DIRECTION = answers(
    {
        "forward": N_("forward"),
        "backward": N_("backward"),
        "right": N_("right"),
        "left": N_("left"),
        "any": N_("any direction"),
    }
)
Ended = TypeAliasType("Ended", Literal["held", "stepped", "opened_eyes", "needed_support", "fell", "stopped_early"])
ENDED = answers(
    {
        "held": N_("stood for the full time"),
        "stepped": N_("stepped"),
        "opened_eyes": N_("opened eyes"),
        "needed_support": N_("needed support"),
        "fell": N_("fell"),
        "stopped_early": N_("stopped by examiner"),
    },
    normal="held",
)
Held = TypeAliasType("Held", Annotated[float, Field(ge=0, le=60)])
SwayFrom = TypeAliasType("SwayFrom", Literal["ankles", "hips", "both"])
SWAY_FROM = answers({"ankles": N_("ankles"), "hips": N_("hips"), "both": N_("both")})
Distraction = TypeAliasType("Distraction", Literal["steadier", "unchanged", "worse"])
DISTRACTION = answers(
    {"steadier": N_("steadier"), "unchanged": N_("unchanged"), "worse": N_("worse")}, normal="unchanged worse"
)
Tremor = TypeAliasType("Tremor", Literal["no", "yes"])
TREMOR = answers({"no": N_("no"), "yes": N_("yes")}, normal="no")
PullTest = TypeAliasType("PullTest", Literal["recovers", "steps_then_recovers", "would_fall"])
PULL_TEST = answers(
    {
        "recovers": N_("recovers (up to two steps)"),
        "steps_then_recovers": N_("three or more steps, recovers"),
        "would_fall": N_("would fall"),
    },
    normal="recovers",
)


class Trial(Section):
    """One timed stance. A reason on the sway covers the whole trial."""

    sway: Annotated[
        Finding[Sway] | None,
        Item(
            N_("Sway"),
            SWAY,
            hint=N_("The most they swayed. Read it from the hips and shoulders, not from the feet."),
        ),
    ] = None
    direction: Annotated[
        Finding[Direction] | None, Item(N_("Direction"), DIRECTION, hint=N_("Where they swayed or fell to."))
    ] = None
    seconds: Annotated[
        Finding[Held] | None, Item(N_("Stood for"), unit="s", hint=N_("Space starts and stops the timer."))
    ] = None
    ended: Annotated[
        Finding[Ended] | None,
        Item(
            N_("How it ended"),
            ENDED,
            hint=N_("The first thing that stopped the trial. How far they swayed is recorded apart."),
        ),
    ] = None


class Firm(Section):
    """Stance on firm ground: the stance test."""

    eyes_open: Annotated[Trial, Group(N_("Firm ground, eyes open"))] = blank(Trial)
    eyes_closed: Annotated[Trial, Group(N_("Firm ground, eyes closed"))] = blank(Trial)
    sway_from: Annotated[
        Finding[SwayFrom] | None, Item(N_("Movement comes from"), SWAY_FROM, hint=N_("With eyes closed."))
    ] = None
    distraction: Annotated[
        Finding[Distraction] | None,
        Item(
            N_("While touching the nose"),
            DISTRACTION,
            hint=N_("Eyes closed, touching the nose with one index finger after the other."),
        ),
    ] = None


class Foam(Section):
    """Stance on foam."""

    eyes_open: Annotated[Trial, Group(N_("Foam, eyes open"))] = blank(Trial)
    eyes_closed: Annotated[Trial, Group(N_("Foam, eyes closed"))] = blank(Trial)


class Apart(Section):
    """Stance with the feet apart, for those who can't put them together."""

    eyes_open: Annotated[Trial, Group(N_("Feet apart, eyes open"))] = blank(Trial)


class TimedHeld(Section):
    """Seconds held."""

    seconds: Annotated[Finding[Held] | None, Item(N_("Stood for"), unit="s")] = None


class TimedHeldSided(Section):
    """Seconds held on each leg."""

    seconds: Annotated[Sided[Held], Item(N_("Stood for"), unit="s")] = Sided()


class HeelToToe(Section):
    """Sharpened stance, one foot before the other."""

    eyes_open: Annotated[TimedHeld, Group(N_("Heel-to-toe stance, eyes open"))] = blank(TimedHeld)
    eyes_closed: Annotated[TimedHeld, Group(N_("Heel-to-toe stance, eyes closed"))] = blank(TimedHeld)


class SingleLeg(Section):
    """Standing on one leg."""

    eyes_open: Annotated[TimedHeldSided, Group(N_("Single leg, eyes open"))] = blank(TimedHeldSided)
    eyes_closed: Annotated[TimedHeldSided, Group(N_("Single leg, eyes closed"))] = blank(TimedHeldSided)


class Standing(Section):
    """Everything examined on the feet, standing still."""

    stand_by: Annotated[
        Finding[YesNo] | None,
        Item(N_("Someone within reach"), STAND_BY, hint=N_("During every test on the feet.")),
    ] = None
    footwear: Annotated[Finding[Footwear] | None, Item(N_("Footwear"), FOOTWEAR)] = None
    sitting_balance: Annotated[
        Finding[SittingBalance] | None,
        Item(N_("Sitting balance"), SITTING_BALANCE, hint=N_("Unsupported, arms folded.")),
    ] = None
    trial_seconds: Annotated[TrialSeconds | None, Item(N_("Length of a trial"), unit="s")] = None
    feet_position: Annotated[
        Finding[FeetPosition] | None,
        Item(N_("Feet, as achieved"), FEET_POSITION, hint=N_("For the trials on firm ground.")),
    ] = None
    firm: Annotated[Firm, Group(N_("Stance test, firm ground"), columns=(N_("eyes open"), N_("eyes closed")))] = blank(
        Firm
    )
    foam: Annotated[
        Foam,
        Group(
            N_("Foam"),
            caution=N_("Not after a lost stance on firm ground."),
            columns=(N_("eyes open"), N_("eyes closed")),
        ),
    ] = blank(Foam)
    apart: Annotated[Apart, Group(N_("Feet apart"))] = blank(Apart)
    tremor_on_standing: Annotated[
        Finding[Tremor] | None,
        Item(
            N_("Tremor on standing"),
            TREMOR,
            hint=N_("A fast tremor of the legs, felt or heard over the calves, gone on walking."),
        ),
    ] = None
    heel_to_toe: Annotated[HeelToToe, Group(N_("Heel-to-toe stance"), columns=(N_("eyes open"), N_("eyes closed")))] = (
        blank(HeelToToe)
    )
    single_leg: Annotated[SingleLeg, Group(N_("Single leg"))] = blank(SingleLeg)
    pull_test: Annotated[
        Finding[PullTest] | None,
        Item(N_("Pull test"), PULL_TEST, hint=N_("Stand behind, warn, pull the shoulders briskly, and catch.")),
    ] = None
