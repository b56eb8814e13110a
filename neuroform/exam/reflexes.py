"""Reflexes of the legs, with how the ankle reflex was sought."""

from typing import Annotated, Literal

from typing_extensions import TypeAliasType

from neuroform.exam.findings import Finding, Item, Section, Sided, answers
from neuroform.language import N_

Reflex = TypeAliasType("Reflex", Literal["absent", "with_reinforcement", "reduced", "normal", "brisk", "clonus"])
REFLEX = answers(
    {
        "normal": N_("normal"),
        "brisk": N_("brisk"),
        "clonus": N_("clonus"),
        "reduced": N_("reduced"),
        "with_reinforcement": N_("with reinforcement"),
        "absent": N_("absent"),
    },
    normal="normal",
    neutral="brisk reduced with_reinforcement",
)
Plantar = TypeAliasType("Plantar", Literal["flexor", "extensor", "equivocal", "mute"])
PLANTAR = answers(
    {"flexor": N_("flexor"), "extensor": N_("extensor"), "equivocal": N_("equivocal"), "mute": N_("mute")},
    normal="flexor",
    neutral="mute equivocal",
)
AnkleMethod = TypeAliasType("AnkleMethod", Literal["tendon", "plantar_strike", "both"])
ANKLE_METHOD = answers({"tendon": N_("on the tendon"), "plantar_strike": N_("on the sole"), "both": N_("both")})
FingerFlexor = TypeAliasType("FingerFlexor", Literal["absent", "normal", "brisk"])
FINGER_FLEXOR = answers(
    {"normal": N_("normal"), "brisk": N_("brisk"), "absent": N_("absent")}, normal="normal", neutral="absent brisk"
)


class Reflexes(Section):
    """Reflexes by their words; a bare number on a scale is never stored."""

    knee: Annotated[
        Sided[Reflex], Item(N_("Knee reflex"), REFLEX, hint=N_("Hands hooked and pulled apart if it is not seen."))
    ] = Sided()
    ankle: Annotated[
        Sided[Reflex],
        Item(N_("Ankle reflex"), REFLEX, hint=N_("Try the sole as well before calling it absent."), also=("Achilles",)),
    ] = Sided()
    ankle_method: Annotated[Finding[AnkleMethod] | None, Item(N_("Ankle reflex sought"), ANKLE_METHOD)] = None
    plantar: Annotated[
        Sided[Plantar],
        Item(
            N_("Plantar response"),
            PLANTAR,
            hint=N_("The first movement of the great toe, along the outer sole."),
            also=("Babinski",),
            copies=False,
        ),
    ] = Sided()
    finger_flexor: Annotated[
        Sided[FingerFlexor],
        Item(N_("Finger flexor reflex"), FINGER_FLEXOR, also=("Hoffmann",)),
    ] = Sided()
