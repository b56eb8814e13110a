"""Sensation: joint position, vibration by three methods, and how far up a feeling is lost."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, Self

from pydantic import Discriminator, Field, Tag, model_validator
from pydantic_core import PydanticCustomError
from typing_extensions import TypeAliasType

from neuroform.exam.findings import DERMATOME_ORDER, Finding, Group, Item, Section, Sided, answers, blank
from neuroform.language import N_


class MovementCount(Section):
    """Movements told correctly, of those tried."""

    correct: Annotated[int, Field(ge=0, le=20)]
    trials: Annotated[int, Field(ge=1, le=20)]

    @model_validator(mode="after")
    def _no_more_than_tried(self) -> Self:
        if self.correct > self.trials:
            raise PydanticCustomError("more_than_tried", "no more correct than trials")
        return self


JointWord = TypeAliasType("JointWord", Literal["intact", "impaired", "absent"])
JOINT_POSITION = answers({"intact": N_("intact"), "impaired": N_("impaired"), "absent": N_("absent")}, normal="intact")


def _word_or_count(found: Any) -> str:
    return "count" if isinstance(found, Mapping | MovementCount) else "word"


JointPosition = TypeAliasType(
    "JointPosition",
    Annotated[
        Annotated[MovementCount, Tag("count")] | Annotated[JointWord, Tag("word")],
        Discriminator(_word_or_count),
    ],
)
Vibration = TypeAliasType("Vibration", Literal["normal", "reduced", "absent"])
VIBRATION = answers({"normal": N_("normal"), "reduced": N_("reduced"), "absent": N_("absent")}, normal="normal")
ForkScore = TypeAliasType("ForkScore", Annotated[float, Field(ge=0, le=8, multiple_of=0.5)])
ForkSeconds = TypeAliasType("ForkSeconds", Annotated[float, Field(ge=0, le=60)])
Level = TypeAliasType("Level", Literal["none", "toes", "foot", "ankle", "mid_calf", "knee", "thigh", "groin"])
LEVEL = answers(
    {
        "none": N_("not reduced"),
        "toes": N_("toes"),
        "foot": N_("foot"),
        "ankle": N_("ankle"),
        "mid_calf": N_("mid-calf"),
        "knee": N_("knee"),
        "thigh": N_("thigh"),
        "groin": N_("groin"),
    },
    normal="none",
)
TrunkLevel = TypeAliasType(
    "TrunkLevel",
    Literal[
        "none", "C3", "C4", "C5", "C6", "C7", "C8",
        "T1", "T2", "T3", "T4", "T5", "T6", "T7", "T8", "T9", "T10", "T11", "T12",
        "L1", "L2", "L3", "L4", "L5", "S1", "S2", "S3", "S4", "S5",
    ],
)  # fmt: skip
TRUNK_LEVEL = answers({"none": N_("none"), **{name: name for name in DERMATOME_ORDER}}, normal="none")
TrunkSide = TypeAliasType("TrunkSide", Literal["both", "right", "left"])
TRUNK_SIDE = answers({"both": N_("both"), "right": N_("right"), "left": N_("left")})
Distribution = TypeAliasType("Distribution", Literal["stocking", "root", "single_nerve", "whole_limb", "patchy"])
DISTRIBUTION = answers(
    {
        "stocking": N_("stocking"),
        "root": N_("root"),
        "single_nerve": N_("single nerve"),
        "whole_limb": N_("whole limb"),
        "patchy": N_("patchy"),
    }
)
HandsAffected = TypeAliasType("HandsAffected", Literal["no", "after_feet", "before_feet", "together"])
HANDS_AFFECTED = answers(
    {
        "no": N_("no"),
        "after_feet": N_("after the feet"),
        "before_feet": N_("before the feet"),
        "together": N_("together with the feet"),
    },
    normal="no",
)
Saddle = TypeAliasType("Saddle", Literal["normal", "reduced", "absent"])
SADDLE = answers({"normal": N_("normal"), "reduced": N_("reduced"), "absent": N_("absent")}, normal="normal")


def _joint(label: str, short: str) -> Any:
    return Item(
        label,
        JOINT_POSITION,
        short=short,
        hint=N_("Eyes closed, held by its sides, small movements, in random order: type correct / tried, 9/10."),
        also=("proprioception", "position sense"),
        copies=False,
    )


def _fork(label: str, short: str) -> Any:
    return Item(
        label, VIBRATION, short=short, hint=N_("128 Hz fork on bone. Ask when it stops."), also=("tuning fork",)
    )


def _score(label: str, short: str) -> Any:
    return Item(
        label,
        short=short,
        hint=N_("Weighted fork, read where the triangles cross when it is no longer felt. 0 strongest, 8 weakest."),
        also=("graduated fork", "tuning fork"),
    )


def _lost(label: str, hint: str) -> Any:
    return Item(label, LEVEL, hint=hint)


class JointPositions(Section):
    """Joint position, from the toe upward."""

    great_toe: Annotated[Sided[JointPosition], _joint(N_("Joint position, great toe"), N_("great toe"))] = Sided()
    ankle: Annotated[Sided[JointPosition], _joint(N_("Joint position, ankle"), N_("ankle"))] = Sided()
    knee: Annotated[Sided[JointPosition], _joint(N_("Joint position, knee"), N_("knee"))] = Sided()
    finger: Annotated[Sided[JointPosition], _joint(N_("Joint position, finger"), N_("finger"))] = Sided()


class Vibrations(Section):
    """Vibration in words."""

    great_toe: Annotated[Sided[Vibration], _fork(N_("Vibration, great toe"), N_("great toe"))] = Sided()
    medial_malleolus: Annotated[Sided[Vibration], _fork(N_("Vibration, inner ankle"), N_("inner ankle"))] = Sided()
    tibial_tuberosity: Annotated[
        Sided[Vibration], _fork(N_("Vibration, shin below the knee"), N_("shin below the knee"))
    ] = Sided()
    iliac_spine: Annotated[Sided[Vibration], _fork(N_("Vibration, front of the pelvis"), N_("front of the pelvis"))] = (
        Sided()
    )
    finger: Annotated[Sided[Vibration], _fork(N_("Vibration, finger"), N_("finger"))] = Sided()


class VibrationScores(Section):
    """Vibration by the graduated 64 Hz fork, 0 to 8 in steps of a half; 8 is the weakest vibration felt."""

    great_toe: Annotated[
        Sided[ForkScore], _score(N_("Vibration, great toe, graduated fork (0 to 8)"), N_("great toe"))
    ] = Sided()
    medial_malleolus: Annotated[
        Sided[ForkScore], _score(N_("Vibration, inner ankle, graduated fork (0 to 8)"), N_("inner ankle"))
    ] = Sided()
    finger: Annotated[Sided[ForkScore], _score(N_("Vibration, finger, graduated fork (0 to 8)"), N_("finger"))] = (
        Sided()
    )


class VibrationSeconds(Section):
    """Vibration by time: until a 128 Hz fork is no longer felt."""

    great_toe: Annotated[
        Sided[ForkSeconds],
        Item(
            N_("Vibration, great toe, seconds felt"),
            short=N_("great toe"),
            unit="s",
            hint=N_("128 Hz fork, struck the same way each time, until it is no longer felt."),
        ),
    ] = Sided()


class Sensation(Section):
    """Joint position first, then vibration, then the level of loss by kind."""

    joint_position: Annotated[JointPositions, Group(N_("Joint position"))] = blank(JointPositions)
    vibration: Annotated[Vibrations, Group(N_("Vibration"))] = blank(Vibrations)
    vibration_score: Annotated[VibrationScores, Group(N_("Vibration, graduated fork (0 to 8)"))] = blank(
        VibrationScores
    )
    vibration_seconds: Annotated[VibrationSeconds, Group(N_("Vibration, seconds felt"))] = blank(VibrationSeconds)
    pinprick: Annotated[
        Sided[Level], _lost(N_("Pinprick"), N_("From the toes upward: ask where it becomes sharp."))
    ] = Sided()
    light_touch: Annotated[
        Sided[Level], _lost(N_("Light touch"), N_("From the toes upward: ask where it becomes clear."))
    ] = Sided()
    temperature: Annotated[
        Sided[Level],
        _lost(N_("Temperature"), N_("Cold metal from the toes upward; ask where it begins to feel cold.")),
    ] = Sided()
    trunk_level: Annotated[
        Finding[TrunkLevel] | None,
        Item(
            N_("Level on the trunk"),
            TRUNK_LEVEL,
            hint=N_("The highest dermatome of loss; the lesion may lie several segments higher."),
            also=("dermatome",),
        ),
    ] = None
    trunk_level_side: Annotated[Finding[TrunkSide] | None, Item(N_("Level on the trunk, side"), TRUNK_SIDE)] = None
    distribution: Annotated[Sided[Distribution], Item(N_("Distribution"), DISTRIBUTION)] = Sided()
    hands_affected: Annotated[Finding[HandsAffected] | None, Item(N_("Hands affected"), HANDS_AFFECTED)] = None
    saddle: Annotated[
        Finding[Saddle] | None,
        Item(N_("Saddle"), SADDLE, hint=N_("Between the legs, with a chaperone. Not tested is not normal.")),
    ] = None
