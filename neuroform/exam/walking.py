"""Walking: base, pattern, turning, heel-to-toe steps and timed walks."""

from typing import Annotated, Literal

from pydantic import AfterValidator, Field
from typing_extensions import TypeAliasType

from neuroform.exam.findings import Finding, Group, Item, Section, Sided, answers, blank
from neuroform.exam.lists import Words, alone
from neuroform.language import N_

Base = TypeAliasType("Base", Literal["normal", "narrow", "wide"])
BASE = answers({"normal": N_("normal"), "narrow": N_("narrow"), "wide": N_("wide")}, normal="normal")
Gait = TypeAliasType(
    "Gait",
    Literal[
        "normal",
        "cautious",
        "ataxic",
        "stamping",
        "high_stepping",
        "spastic",
        "spastic_right",
        "spastic_left",
        "waddling",
        "shuffling",
        "magnetic",
        "antalgic",
        "veers_right",
        "veers_left",
        "lurching",
        "freezing",
        "festinating",
        "scissoring",
        "dragging",
        "knee_buckling",
        "as_on_ice",
        "prosthetic",
        "effortful_inconsistent",
    ],
)
GAIT = answers(
    {
        "normal": N_("normal"),
        "cautious": N_("cautious"),
        "ataxic": N_("ataxic"),
        "stamping": N_("stamping"),
        "high_stepping": N_("high-stepping"),
        "spastic": N_("spastic"),
        "spastic_right": N_("spastic on the right"),
        "spastic_left": N_("spastic on the left"),
        "waddling": N_("waddling"),
        "shuffling": N_("shuffling"),
        "magnetic": N_("magnetic, feet as if stuck"),
        "antalgic": N_("painful"),
        "veers_right": N_("veers to the right"),
        "veers_left": N_("veers to the left"),
        "lurching": N_("lurching"),
        "freezing": N_("freezing"),
        "festinating": N_("festinating"),
        "scissoring": N_("scissoring"),
        "dragging": N_("drags a leg"),
        "knee_buckling": N_("knees buckle"),
        "as_on_ice": N_("as if on ice"),
        "prosthetic": N_("with a prosthesis"),
        "effortful_inconsistent": N_("effortful, inconsistent"),
    },
    normal="normal",
)
GaitWords = TypeAliasType("GaitWords", Annotated[Words[Gait], Field(min_length=1), AfterValidator(alone("normal"))])
Turning = TypeAliasType("Turning", Literal["normal", "unsteady", "many_steps"])
TURNING = answers({"normal": N_("normal"), "unsteady": N_("unsteady"), "many_steps": N_("many steps")}, normal="normal")
TurnSteps = TypeAliasType("TurnSteps", Annotated[int, Field(ge=1, le=100)])
ArmSwing = TypeAliasType("ArmSwing", Literal["normal", "reduced"])
ARM_SWING = answers({"normal": N_("normal"), "reduced": N_("reduced")}, normal="normal")
CorrectSteps = TypeAliasType("CorrectSteps", Annotated[int, Field(ge=0, le=10)])
SideSteps = TypeAliasType("SideSteps", Annotated[int, Field(ge=0, le=100)])
Able = TypeAliasType("Able", Literal["able", "unable"])
ABLE = answers({"able": N_("able"), "unable": N_("unable")}, normal="able")
TimedSeconds = TypeAliasType("TimedSeconds", Annotated[float, Field(gt=0, le=600)])


class Tandem(Section):
    """Ten heel-to-toe steps on a line."""

    correct_steps: Annotated[
        Finding[CorrectSteps] | None,
        Item(
            N_("Heel-to-toe walking, correct steps of 10"),
            short=N_("correct steps of 10"),
            hint=N_("Heel-to-toe steps in a row on a line, eyes open. Walk beside."),
            also=("tandem",),
        ),
    ] = None
    side_steps: Annotated[
        Finding[SideSteps] | None,
        Item(N_("Heel-to-toe walking, steps to the side"), short=N_("steps to the side"), also=("tandem",)),
    ] = None


class Walking(Section):
    """Everything examined while walking."""

    base: Annotated[Finding[Base] | None, Item(N_("Base"), BASE, hint=N_("The width between the heels."))] = None
    pattern: Annotated[
        Finding[GaitWords] | None,
        Item(
            N_("Gait"), GAIT, hint=N_("Every word that fits. Watch the feet, then the turn."), also=("Trendelenburg",)
        ),
    ] = None
    turning: Annotated[Finding[Turning] | None, Item(N_("Turning"), TURNING)] = None
    turn_steps: Annotated[Finding[TurnSteps] | None, Item(N_("Steps to turn"), hint=N_("Steps for half a turn."))] = (
        None
    )
    arm_swing: Annotated[Sided[ArmSwing], Item(N_("Arm swing"), ARM_SWING)] = Sided()
    tandem: Annotated[Tandem, Group(N_("Heel-to-toe walking"))] = blank(Tandem)
    on_heels: Annotated[Sided[Able], Item(N_("Walks on the heels"), ABLE)] = Sided()
    on_toes: Annotated[Sided[Able], Item(N_("Walks on the toes"), ABLE)] = Sided()
    ten_metre_seconds: Annotated[
        Finding[TimedSeconds] | None,
        Item(N_("Ten-metre walk"), unit="s", hint=N_("At the usual pace, from a walking start.")),
    ] = None
    timed_up_and_go_seconds: Annotated[
        Finding[TimedSeconds] | None,
        Item(N_("Timed up and go"), unit="s", hint=N_("Rise, walk three metres, turn, come back and sit down.")),
    ] = None
