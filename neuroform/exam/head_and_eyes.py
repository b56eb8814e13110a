"""Head and eyes: head impulse, nystagmus, skew, hearing, positional tests and eye movements."""

from typing import Annotated, Literal

from pydantic import AfterValidator, Field
from typing_extensions import TypeAliasType

from neuroform.exam.findings import Finding, Item, Section, Sided, answers
from neuroform.exam.lists import Words, alone
from neuroform.exam.standing import YesNo
from neuroform.language import N_

YES_NO = answers({"yes": N_("yes"), "no": N_("no")})
VERTIGO_NOW = answers({"no": N_("no"), "yes": N_("yes")}, normal="no")
HeadImpulse = TypeAliasType("HeadImpulse", Literal["normal", "corrective_saccade", "uncertain"])
HEAD_IMPULSE = answers(
    {
        "normal": N_("no corrective saccade"),
        "corrective_saccade": N_("corrective saccade"),
        "uncertain": N_("uncertain"),
    },
    normal="normal",
    neutral="uncertain",
)
Gain = TypeAliasType("Gain", Annotated[float, Field(ge=0, le=2)])
Nystagmus = TypeAliasType(
    "Nystagmus",
    Literal[
        "none", "beats_right", "beats_left", "upbeat", "downbeat", "vertical", "torsional", "mixed_direction"
    ],
)  # fmt: skip
NYSTAGMUS = answers(
    {
        "none": N_("none"),
        "beats_right": N_("beats right"),
        "beats_left": N_("beats left"),
        "upbeat": N_("upbeat"),
        "downbeat": N_("downbeat"),
        "vertical": N_("vertical"),
        "torsional": N_("torsional"),
        "mixed_direction": N_("mixed direction"),
    },
    normal="none",
)
Present = TypeAliasType("Present", Literal["absent", "present", "uncertain"])
PRESENT = answers(
    {"absent": N_("absent"), "present": N_("present"), "uncertain": N_("uncertain")},
    normal="absent",
    neutral="uncertain",
)
OnFixation = TypeAliasType("OnFixation", Literal["suppressed", "unchanged"])
ON_FIXATION = answers({"suppressed": N_("suppressed"), "unchanged": N_("unchanged")})
EyeSide = TypeAliasType("EyeSide", Literal["right", "left"])
EYE_SIDE = answers({"right": N_("right"), "left": N_("left")})
BrainstemSign = TypeAliasType(
    "BrainstemSign",
    Literal[
        "none",
        "small_pupil_and_ptosis_right",
        "small_pupil_and_ptosis_left",
        "facial_numbness_right",
        "facial_numbness_left",
        "facial_weakness_right",
        "facial_weakness_left",
        "double_vision",
        "hoarse_or_swallowing",
        "tongue_deviation",
        "reduced_alertness",
    ],
)
BRAINSTEM_SIGNS = answers(
    {
        "none": N_("none"),
        "small_pupil_and_ptosis_right": N_("small pupil and ptosis, right"),
        "small_pupil_and_ptosis_left": N_("small pupil and ptosis, left"),
        "facial_numbness_right": N_("numb face, right"),
        "facial_numbness_left": N_("numb face, left"),
        "facial_weakness_right": N_("weak face, right"),
        "facial_weakness_left": N_("weak face, left"),
        "double_vision": N_("double vision"),
        "hoarse_or_swallowing": N_("hoarse, or swallows badly"),
        "tongue_deviation": N_("tongue deviates"),
        "reduced_alertness": N_("less alert"),
    },
    normal="none",
)
BrainstemSigns = TypeAliasType(
    "BrainstemSigns", Annotated[Words[BrainstemSign], Field(min_length=1), AfterValidator(alone("none"))]
)
HeadShaking = TypeAliasType("HeadShaking", Literal["none", "beats_right", "beats_left", "vertical"])
HEAD_SHAKING = answers(
    {
        "none": N_("none"),
        "beats_right": N_("beats right"),
        "beats_left": N_("beats left"),
        "vertical": N_("vertical"),
    },
    normal="none",
)
Smooth = TypeAliasType("Smooth", Literal["smooth", "broken"])
SMOOTH = answers({"smooth": N_("smooth"), "broken": N_("broken")}, normal="smooth")
SlowTurn = TypeAliasType("SlowTurn", Literal["smooth", "catch_up"])
SLOW_TURN = answers({"smooth": N_("smooth"), "catch_up": N_("catch-up movements")}, normal="smooth")
NewHearingLoss = TypeAliasType("NewHearingLoss", Literal["no", "yes"])
NEW_HEARING_LOSS = answers({"no": N_("no"), "yes": N_("yes")}, normal="no")
PositionalTest = TypeAliasType(
    "PositionalTest", Literal["negative", "upbeat_torsional", "horizontal", "downbeat", "other"]
)
POSITIONAL_TEST = answers(
    {
        "negative": N_("negative"),
        "upbeat_torsional": N_("upbeat and torsional"),
        "horizontal": N_("horizontal"),
        "downbeat": N_("downbeat"),
        "other": N_("other"),
    },
    normal="negative",
)
PositionalSeconds = TypeAliasType("PositionalSeconds", Annotated[float, Field(ge=0, le=300)])
RollTest = TypeAliasType(
    "RollTest", Literal["negative", "geotropic_right_stronger", "geotropic_left_stronger", "apogeotropic"]
)
ROLL_TEST = answers(
    {
        "negative": N_("negative"),
        "geotropic_right_stronger": N_("geotropic, stronger right"),
        "geotropic_left_stronger": N_("geotropic, stronger left"),
        "apogeotropic": N_("apogeotropic"),
    },
    normal="negative",
)
Saccades = TypeAliasType("Saccades", Literal["accurate", "overshoot", "slow"])
SACCADES = answers({"accurate": N_("accurate"), "overshoot": N_("overshoot"), "slow": N_("slow")}, normal="accurate")
EyeMovements = TypeAliasType("EyeMovements", Literal["full", "restricted"])
EYE_MOVEMENTS = answers({"full": N_("full"), "restricted": N_("restricted")}, normal="full")
LinesLost = TypeAliasType("LinesLost", Annotated[int, Field(ge=0, le=10)])
Acuity = TypeAliasType("Acuity", Annotated[float, Field(ge=0, le=2)])


class HeadAndEyes(Section):
    """Eyes first, then the tests that move the head."""

    vertigo_now: Annotated[
        Finding[YesNo] | None, Item(N_("Vertigo now"), VERTIGO_NOW, hint=N_("At this moment, sitting still."))
    ] = None
    examiner_trained: Annotated[
        Finding[YesNo] | None,
        Item(
            N_("Examiner trained in these signs"),
            YES_NO,
            hint=N_("In the head impulse and the eye signs of acute vertigo."),
        ),
    ] = None
    nystagmus: Annotated[
        Finding[Nystagmus] | None,
        Item(
            N_("Nystagmus, looking ahead"), NYSTAGMUS, hint=N_("The direction of the fast phase, the patient's side.")
        ),
    ] = None
    nystagmus_on_fixation: Annotated[
        Finding[OnFixation] | None,
        Item(
            N_("Nystagmus on fixation"), ON_FIXATION, hint=N_("Against looking through strong lenses or in the dark.")
        ),
    ] = None
    gaze_evoked_nystagmus: Annotated[
        Finding[Present] | None,
        Item(
            N_("Nystagmus changing with gaze"),
            PRESENT,
            hint=N_("Sustained at 30 degrees. A few beats at the very end of gaze are normal."),
            also=("gaze-evoked",),
        ),
    ] = None
    eye_movements: Annotated[Finding[EyeMovements] | None, Item(N_("Eye movements"), EYE_MOVEMENTS)] = None
    smooth_pursuit: Annotated[Finding[Smooth] | None, Item(N_("Smooth pursuit"), SMOOTH)] = None
    saccades: Annotated[Finding[Saccades] | None, Item(N_("Saccades"), SACCADES)] = None
    vor_suppression: Annotated[
        Finding[Smooth] | None, Item(N_("Eyes follow a target that turns with the head"), SMOOTH, also=("VOR",))
    ] = None
    slow_head_turn: Annotated[
        Finding[SlowTurn] | None, Item(N_("Slow head turns"), SLOW_TURN, hint=N_("Eyes fixed on a point."))
    ] = None
    skew: Annotated[
        Finding[Present] | None,
        Item(N_("Skew"), PRESENT, hint=N_("Cover one eye, then the other: does the uncovered eye move up or down?")),
    ] = None
    skew_lower_eye: Annotated[Finding[EyeSide] | None, Item(N_("Lower eye"), EYE_SIDE)] = None
    new_hearing_loss: Annotated[
        Sided[NewHearingLoss],
        Item(N_("New hearing loss"), NEW_HEARING_LOSS, hint=N_("Rub the fingers by each ear."), copies=False),
    ] = Sided()
    brainstem_signs: Annotated[
        Finding[BrainstemSigns] | None, Item(N_("Brainstem signs"), BRAINSTEM_SIGNS, also=("Horner",))
    ] = None
    head_impulse: Annotated[
        Sided[HeadImpulse],
        Item(
            N_("Head impulse"),
            HEAD_IMPULSE,
            hint=N_("Eyes on your nose, small quick turns to this side. Watch for a catching-up movement of the eyes."),
            copies=False,
        ),
    ] = Sided()
    head_impulse_gain: Annotated[
        Sided[Gain], Item(N_("Head impulse gain, recorded"), hint=N_("With goggles."), copies=False)
    ] = Sided()
    head_shaking_nystagmus: Annotated[
        Finding[HeadShaking] | None, Item(N_("Nystagmus after head shaking"), HEAD_SHAKING)
    ] = None
    positional_test: Annotated[
        Sided[PositionalTest],
        Item(
            N_("Positional test, this ear down"),
            POSITIONAL_TEST,
            hint=N_("Head turned 45 degrees, lie back, neck a little extended. Watch the eyes for a minute."),
            also=("Dix-Hallpike",),
        ),
    ] = Sided()
    positional_latency_seconds: Annotated[
        Sided[PositionalSeconds], Item(N_("Positional nystagmus, starts after"), unit="s")
    ] = Sided()
    positional_duration_seconds: Annotated[
        Sided[PositionalSeconds], Item(N_("Positional nystagmus, lasts"), unit="s")
    ] = Sided()
    roll_test: Annotated[
        Finding[RollTest] | None, Item(N_("Roll test"), ROLL_TEST, hint=N_("Lying, head turned to each side."))
    ] = None
    acuity_lines_lost_on_head_shaking: Annotated[
        Finding[LinesLost] | None, Item(N_("Lines lost while the head shakes"), hint=N_("Letter chart, head at 2 Hz."))
    ] = None
    visual_acuity: Annotated[Sided[Acuity], Item(N_("Visual acuity, decimal"))] = Sided()
