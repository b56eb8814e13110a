"""History and cautions: what the examiner must know before judging balance."""

from typing import Annotated, Literal

from pydantic import Field
from typing_extensions import TypeAliasType

from neuroform.exam.findings import Finding, Item, Section, Text, answers
from neuroform.exam.lists import Words
from neuroform.language import N_

Symptom = TypeAliasType(
    "Symptom",
    Literal[
        "unsteadiness",
        "falls",
        "vertigo",
        "light_headedness",
        "numbness",
        "weakness",
        "leg_stiffness",
        "double_vision",
        "oscillopsia",
        "hearing_loss",
        "tinnitus",
        "headache",
        "neck_pain",
        "back_pain",
        "vomiting",
        "slurred_speech",
        "swallowing_difficulty",
        "breathlessness",
        "bladder_or_bowel_disturbance",
        "saddle_numbness",
        "confusion",
        "fever",
        "head_injury",
        "neck_injury",
        "weight_loss",
        "urinary_retention",
        "urinary_urgency",
        "slowed_thinking",
        "dry_eyes_or_mouth",
        "drowsiness",
        "sudden_severe_headache",
        "leg_pain_both",
        "altered_genital_feeling",
        "bowel_incontinence",
        "fainting",
        "palpitations",
        "hand_clumsiness",
        "cough",
    ],
)
SYMPTOMS = answers(
    {
        "unsteadiness": N_("unsteadiness"),
        "falls": N_("falls"),
        "vertigo": N_("vertigo"),
        "light_headedness": N_("light-headedness"),
        "numbness": N_("numbness"),
        "weakness": N_("weakness"),
        "leg_stiffness": N_("stiff legs"),
        "double_vision": N_("double vision"),
        "oscillopsia": N_("the view jumps on moving (oscillopsia)"),
        "hearing_loss": N_("hearing loss"),
        "tinnitus": N_("tinnitus"),
        "headache": N_("headache"),
        "neck_pain": N_("neck pain"),
        "back_pain": N_("back pain"),
        "vomiting": N_("vomiting"),
        "slurred_speech": N_("slurred speech"),
        "swallowing_difficulty": N_("difficulty swallowing"),
        "breathlessness": N_("breathlessness"),
        "bladder_or_bowel_disturbance": N_("bladder or bowel disturbance"),
        "saddle_numbness": N_("numb between the legs"),
        "confusion": N_("confusion"),
        "fever": N_("fever"),
        "head_injury": N_("head injury"),
        "neck_injury": N_("neck injury"),
        "weight_loss": N_("weight loss"),
        "urinary_retention": N_("cannot pass urine"),
        "urinary_urgency": N_("urinary urgency"),
        "slowed_thinking": N_("slowed thinking"),
        "dry_eyes_or_mouth": N_("dry eyes or mouth"),
        "drowsiness": N_("drowsiness"),
        "sudden_severe_headache": N_("sudden severe headache"),
        "leg_pain_both": N_("pain in both legs"),
        "altered_genital_feeling": N_("altered genital feeling"),
        "bowel_incontinence": N_("bowel incontinence"),
        "fainting": N_("fainting"),
        "palpitations": N_("palpitations"),
        "hand_clumsiness": N_("clumsy hands"),
        "cough": N_("long-standing cough"),
    }
)

Background = TypeAliasType(
    "Background",
    Literal[
        "cancer",
        "vascular_risk",
        "atrial_fibrillation",
        "diabetes",
        "alcohol",
        "poor_nutrition_or_vomiting",
        "bariatric_or_bowel_surgery",
        "nitrous_oxide",
        "restricted_diet",
        "chemotherapy",
        "aminoglycoside",
        "sedative_or_anticonvulsant",
        "immunosuppression",
        "recent_infection",
        "family_history",
        "spinal_procedure",
    ],
)
BACKGROUND = answers(
    {
        "cancer": N_("cancer"),
        "vascular_risk": N_("vascular risk"),
        "atrial_fibrillation": N_("atrial fibrillation"),
        "diabetes": N_("diabetes"),
        "alcohol": N_("alcohol"),
        "poor_nutrition_or_vomiting": N_("poor nutrition or vomiting"),
        "bariatric_or_bowel_surgery": N_("stomach or bowel surgery"),
        "nitrous_oxide": N_("nitrous oxide"),
        "restricted_diet": N_("restricted diet"),
        "chemotherapy": N_("chemotherapy"),
        "aminoglycoside": N_("aminoglycoside"),
        "sedative_or_anticonvulsant": N_("sedative or anticonvulsant"),
        "immunosuppression": N_("immunosuppression"),
        "recent_infection": N_("recent infection"),
        "family_history": N_("family history"),
        "spinal_procedure": N_("procedure on the spine"),
    }
)

Onset = TypeAliasType("Onset", Literal["sudden", "acute", "subacute", "chronic"])
ONSET = answers(
    {
        "sudden": N_("sudden (seconds to minutes)"),
        "acute": N_("acute (hours to days)"),
        "subacute": N_("subacute (days to weeks)"),
        "chronic": N_("chronic (months to years)"),
    }
)
Days = TypeAliasType("Days", Annotated[float, Field(ge=0, le=40000)])
Course = TypeAliasType(
    "Course", Literal["continuous", "episodic", "positional", "progressive", "fluctuating", "resolved"]
)
COURSE = answers(
    {
        "continuous": N_("continuous"),
        "episodic": N_("in attacks"),
        "positional": N_("on changing position"),
        "progressive": N_("progressive"),
        "fluctuating": N_("fluctuating"),
        "resolved": N_("resolved"),
    }
)
Compared = TypeAliasType("Compared", Literal["new", "worse", "as_usual"])
COMPARED = answers({"new": N_("new"), "worse": N_("worse"), "as_usual": N_("as usual")})
Falls = TypeAliasType("Falls", Annotated[int, Field(ge=0, le=1000)])
FallInjury = TypeAliasType("FallInjury", Literal["none", "minor", "fracture", "head"])
FALL_INJURY = answers(
    {"none": N_("none"), "minor": N_("minor"), "fracture": N_("fracture"), "head": N_("head")}, normal="none"
)
WalksUnaided = TypeAliasType("WalksUnaided", Literal["yes", "with_support", "no"])
WALKS_UNAIDED = answers({"yes": N_("yes"), "with_support": N_("with support"), "no": N_("no")}, normal="yes")
Bladder = TypeAliasType("Bladder", Literal["normal", "urgency", "hesitancy", "retention", "incontinence", "catheter"])
BLADDER = answers(
    {
        "normal": N_("normal"),
        "urgency": N_("urgency"),
        "hesitancy": N_("hesitancy"),
        "retention": N_("retention"),
        "incontinence": N_("incontinence"),
        "catheter": N_("catheter"),
    },
    normal="normal",
)
ResidualUrine = TypeAliasType("ResidualUrine", Annotated[float, Field(ge=0, le=3000)])
WalkingAid = TypeAliasType(
    "WalkingAid",
    Literal["none", "stick", "two_sticks", "crutches", "frame", "one_person", "two_people", "wheelchair"],
)
WALKING_AID = answers(
    {
        "none": N_("none"),
        "stick": N_("stick"),
        "two_sticks": N_("two sticks"),
        "crutches": N_("crutches"),
        "frame": N_("frame"),
        "one_person": N_("one person"),
        "two_people": N_("two people"),
        "wheelchair": N_("wheelchair"),
    },
    normal="none",
)
LimbSite = TypeAliasType(
    "LimbSite",
    Literal["right_foot", "left_foot", "right_below_knee", "left_below_knee", "right_above_knee", "left_above_knee"],
)
LIMB_SITES = answers(
    {
        "right_foot": N_("right foot"),
        "left_foot": N_("left foot"),
        "right_below_knee": N_("right, below the knee"),
        "left_below_knee": N_("left, below the knee"),
        "right_above_knee": N_("right, above the knee"),
        "left_above_knee": N_("left, above the knee"),
    }
)
UsefulVision = TypeAliasType("UsefulVision", Literal["both_eyes", "one_eye", "none"])
USEFUL_VISION = answers(
    {"both_eyes": N_("both eyes"), "one_eye": N_("one eye"), "none": N_("none")}, normal="both_eyes one_eye"
)
Caution = TypeAliasType(
    "Caution",
    Literal[
        "neck_instability",
        "neck_trauma",
        "neck_artery_dissection",
        "neck_surgery",
        "severe_neck_pain",
        "cannot_stand",
        "recent_surgery",
        "anticoagulated",
        "cannot_follow_instructions",
        "atlantoaxial_risk",
        "recent_eye_surgery",
        "cannot_lie_flat",
        "pregnant",
        "seizure_risk",
        "fragile_bones",
    ],
)
CAUTIONS = answers(
    {
        "neck_instability": N_("unstable neck"),
        "neck_trauma": N_("neck injury, not cleared"),
        "neck_artery_dissection": N_("neck artery dissection"),
        "neck_surgery": N_("neck surgery"),
        "severe_neck_pain": N_("severe neck pain"),
        "cannot_stand": N_("cannot stand"),
        "recent_surgery": N_("recent surgery"),
        "anticoagulated": N_("anticoagulated"),
        "cannot_follow_instructions": N_("cannot follow instructions"),
        "atlantoaxial_risk": N_("atlantoaxial risk"),
        "recent_eye_surgery": N_("recent eye surgery"),
        "cannot_lie_flat": N_("cannot lie flat"),
        "pregnant": N_("pregnant"),
        "seizure_risk": N_("seizure risk"),
        "fragile_bones": N_("fragile bones"),
    }
)
Consent = TypeAliasType("Consent", Literal["given", "best_interests"])
CONSENT = answers({"given": N_("given"), "best_interests": N_("in best interests")})


class Context(Section):
    """What was asked before the couch. A list nobody filled is blank, never "none"."""

    reason: Annotated[Text | None, Item(N_("Reason for the examination"), hint=N_("In the person's own words."))] = None
    symptoms: Annotated[
        Words[Symptom] | None,
        Item(
            N_("Symptoms"),
            SYMPTOMS,
            hint=N_("Ask about bladder, bowel, feeling between the legs, neck, hearing, speech and swallowing."),
            also=("red flags", "Lhermitte"),
        ),
    ] = None
    background: Annotated[Words[Background] | None, Item(N_("Background"), BACKGROUND)] = None
    onset: Annotated[
        Finding[Onset] | None, Item(N_("Onset"), ONSET, hint=N_("If sudden: when was the person last well?"))
    ] = None
    duration_days: Annotated[Finding[Days] | None, Item(N_("Duration"), unit="d", hint=N_("Half a day is 0.5."))] = None
    course: Annotated[Finding[Course] | None, Item(N_("Course"), COURSE)] = None
    compared_with_usual: Annotated[Finding[Compared] | None, Item(N_("Compared with usual"), COMPARED)] = None
    falls_past_year: Annotated[Finding[Falls] | None, Item(N_("Falls in the past year"))] = None
    fall_injury: Annotated[Finding[FallInjury] | None, Item(N_("Injury from a fall"), FALL_INJURY)] = None
    walks_unaided: Annotated[Finding[WalksUnaided] | None, Item(N_("Walks unaided"), WALKS_UNAIDED)] = None
    bladder: Annotated[
        Finding[Bladder] | None,
        Item(N_("Bladder"), BLADDER, hint=N_("Ask now: a bladder that does not empty changes how fast to act.")),
    ] = None
    residual_urine_ml: Annotated[
        Finding[ResidualUrine] | None,
        Item(N_("Residual urine"), unit="mL", hint=N_("Bladder scan after voiding.")),
    ] = None
    walking_aid: Annotated[Finding[WalkingAid] | None, Item(N_("Walking aid"), WALKING_AID)] = None
    limb_absent: Annotated[Words[LimbSite] | None, Item(N_("Limb missing"), LIMB_SITES, also=("amputation",))] = None
    limb_immobilised: Annotated[
        Words[LimbSite] | None,
        Item(N_("Limb immobilised"), LIMB_SITES, hint=N_("Plaster, brace or a fixed joint.")),
    ] = None
    useful_vision: Annotated[
        Finding[UsefulVision] | None, Item(N_("Useful vision"), USEFUL_VISION, hint=N_("With the usual correction."))
    ] = None
    cautions: Annotated[
        Words[Caution] | None,
        Item(
            N_("Cautions"),
            CAUTIONS,
            hint=N_("Ask about the neck before any quick movement of the head. A blank list is not “none”."),
        ),
    ] = None
    balance_affecting_medicines: Annotated[
        Text | None,
        Item(N_("Medicines that affect balance"), hint=N_("Sedatives, pressure tablets, anticonvulsants.")),
    ] = None
    consent: Annotated[Finding[Consent] | None, Item(N_("Consent"), CONSENT)] = None
