"""Strength, tone and the signs that go with them, in the legs."""

from typing import Annotated, Any, Literal

from pydantic import Field
from typing_extensions import TypeAliasType

from neuroform.exam.findings import MRC_ORDER, Finding, Group, Item, Section, Sided, answers, blank
from neuroform.language import N_

Tone = TypeAliasType("Tone", Literal["normal", "increased", "rigid", "paratonic", "reduced"])
TONE = answers(
    {
        "normal": N_("normal"),
        "increased": N_("increased (catch)"),
        "rigid": N_("rigid"),
        "paratonic": N_("paratonic"),
        "reduced": N_("reduced"),
    },
    normal="normal",
)
Bradykinesia = TypeAliasType("Bradykinesia", Literal["none", "slight", "clear"])
BRADYKINESIA = answers({"none": N_("none"), "slight": N_("slight"), "clear": N_("clear")}, normal="none")
Bulk = TypeAliasType("Bulk", Literal["normal", "wasted"])
BULK = answers({"normal": N_("normal"), "wasted": N_("wasted")}, normal="normal")
Fasciculation = TypeAliasType("Fasciculation", Literal["none", "present"])
FASCICULATION = answers({"none": N_("none"), "present": N_("present")}, normal="none")
Beats = TypeAliasType("Beats", Annotated[int, Field(ge=0, le=60)])
MRC = TypeAliasType("MRC", Literal["0", "1", "2", "3", "4-", "4", "4+", "5"])
POWER = answers({grade: grade for grade in reversed(MRC_ORDER)}, normal="5")
HeelRaises = TypeAliasType("HeelRaises", Annotated[int, Field(ge=0, le=25)])
BreathCount = TypeAliasType("BreathCount", Annotated[int, Field(ge=0, le=60)])
PositiveSign = TypeAliasType("PositiveSign", Literal["negative", "positive"])
POSITIVE_SIGN = answers({"negative": N_("negative"), "positive": N_("positive")}, normal="negative")
GiveWay = TypeAliasType("GiveWay", Literal["no", "yes"])
GIVE_WAY = answers({"no": N_("no"), "yes": N_("yes")}, normal="no")


def _muscle(label: str, short: str) -> Any:
    return Item(
        label,
        POWER,
        short=short,
        hint=N_("MRC grade, the person watching the limb: 3 against gravity, 4 against resistance, 5 full."),
        also=("MRC",),
    )


class Power(Section):
    """Power by MRC grade. MRC scale used with the permission of the Medical Research Council, OGL 3.0."""

    hip_flexion: Annotated[Sided[MRC], _muscle(N_("Power, hip flexion"), N_("hip flexion"))] = Sided()
    hip_extension: Annotated[Sided[MRC], _muscle(N_("Power, hip extension"), N_("hip extension"))] = Sided()
    hip_abduction: Annotated[Sided[MRC], _muscle(N_("Power, hip abduction"), N_("hip abduction"))] = Sided()
    hip_adduction: Annotated[Sided[MRC], _muscle(N_("Power, hip adduction"), N_("hip adduction"))] = Sided()
    knee_extension: Annotated[Sided[MRC], _muscle(N_("Power, knee extension"), N_("knee extension"))] = Sided()
    knee_flexion: Annotated[Sided[MRC], _muscle(N_("Power, knee flexion"), N_("knee flexion"))] = Sided()
    ankle_dorsiflexion: Annotated[Sided[MRC], _muscle(N_("Power, ankle dorsiflexion"), N_("ankle dorsiflexion"))] = (
        Sided()
    )
    ankle_plantarflexion: Annotated[
        Sided[MRC], _muscle(N_("Power, ankle plantarflexion"), N_("ankle plantarflexion"))
    ] = Sided()
    ankle_inversion: Annotated[Sided[MRC], _muscle(N_("Power, ankle inversion"), N_("ankle inversion"))] = Sided()
    ankle_eversion: Annotated[Sided[MRC], _muscle(N_("Power, ankle eversion"), N_("ankle eversion"))] = Sided()
    great_toe_extension: Annotated[Sided[MRC], _muscle(N_("Power, great toe extension"), N_("great toe extension"))] = (
        Sided()
    )


class Motor(Section):
    """Tone, power and their companions."""

    tone: Annotated[
        Sided[Tone],
        Item(N_("Tone"), TONE, hint=N_("Roll the leg, then lift the knee briskly: does the heel leave the couch?")),
    ] = Sided()
    bradykinesia: Annotated[
        Sided[Bradykinesia],
        Item(
            N_("Slow, shrinking foot taps"), BRADYKINESIA, hint=N_("Ten taps: do they shrink?"), also=("bradykinesia",)
        ),
    ] = Sided()
    bulk: Annotated[Sided[Bulk], Item(N_("Bulk"), BULK)] = Sided()
    fasciculation: Annotated[Sided[Fasciculation], Item(N_("Fasciculation"), FASCICULATION)] = Sided()
    clonus_beats: Annotated[
        Sided[Beats], Item(N_("Ankle clonus, beats"), hint=N_("Knee bent, one brisk push of the foot, and hold."))
    ] = Sided()
    power: Annotated[Power, Group(N_("Power, MRC grade"))] = blank(Power)
    single_heel_raises: Annotated[
        Sided[HeelRaises], Item(N_("Single heel raises"), hint=N_("One leg, fingertips on the wall, up to 25."))
    ] = Sided()
    neck_flexion: Annotated[
        Finding[MRC] | None, Item(N_("Neck flexion, MRC grade"), POWER, hint=N_("Lying, lift the head."))
    ] = None
    breath_count: Annotated[
        Finding[BreathCount] | None,
        Item(N_("Counts aloud in one breath"), hint=N_("About two numbers a second after a full breath.")),
    ] = None
    hoover: Annotated[
        Sided[PositiveSign],
        Item(
            N_("Hip extension returns when the other leg lifts"),
            POSITIVE_SIGN,
            hint=N_("A positive sign of functional weakness."),
            also=("Hoover",),
        ),
    ] = Sided()
    hip_abductor_sign: Annotated[
        Sided[PositiveSign],
        Item(N_("Hip abductor sign"), POSITIVE_SIGN, hint=N_("A positive sign of functional weakness.")),
    ] = Sided()
    give_way: Annotated[Sided[GiveWay], Item(N_("Power gives way suddenly"), GIVE_WAY)] = Sided()
