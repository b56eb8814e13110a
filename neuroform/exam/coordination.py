"""Coordination of legs and arms, and speech."""

from typing import Annotated, Literal

from typing_extensions import TypeAliasType

from neuroform.exam.findings import Finding, Item, Section, Sided, answers
from neuroform.language import N_

LimbAtaxia = TypeAliasType("LimbAtaxia", Literal["normal", "mild", "moderate", "severe", "cannot_perform"])
LIMB_ATAXIA = answers(
    {
        "normal": N_("normal"),
        "mild": N_("mild"),
        "moderate": N_("moderate"),
        "severe": N_("severe"),
        "cannot_perform": N_("cannot perform"),
    },
    normal="normal",
)
Alternating = TypeAliasType("Alternating", Literal["normal", "irregular", "slow"])
ALTERNATING = answers({"normal": N_("normal"), "irregular": N_("irregular"), "slow": N_("slow")}, normal="normal")
Speech = TypeAliasType("Speech", Literal["normal", "slurred", "scanning"])
SPEECH = answers({"normal": N_("normal"), "slurred": N_("slurred"), "scanning": N_("scanning")}, normal="normal")

_GRADES = N_("Mild: irregular, keeps contact. Moderate: leaves the shin or overshoots. Severe: repeatedly.")


class Coordination(Section):
    """Grades say what was seen; weakness, pain or plaster is not ataxia."""

    heel_shin: Annotated[Sided[LimbAtaxia], Item(N_("Heel-shin"), LIMB_ATAXIA, hint=_GRADES)] = Sided()
    heel_shin_eyes_closed: Annotated[
        Sided[LimbAtaxia], Item(N_("Heel-shin, eyes closed"), LIMB_ATAXIA, hint=_GRADES)
    ] = Sided()
    finger_nose: Annotated[Sided[LimbAtaxia], Item(N_("Finger-nose"), LIMB_ATAXIA, hint=_GRADES)] = Sided()
    rapid_alternating_hands: Annotated[
        Sided[Alternating],
        Item(N_("Alternating hands"), ALTERNATING, also=("dysdiadochokinesis",)),
    ] = Sided()
    foot_tapping: Annotated[Sided[Alternating], Item(N_("Foot tapping"), ALTERNATING)] = Sided()
    speech: Annotated[Finding[Speech] | None, Item(N_("Speech"), SPEECH, also=("dysarthria",))] = None
