"""Sentences on the stance test and the eyes: their words, the findings they rest on, and how easily each can be spared.

The words were written beside the findings by hand, as the template would have them said.
"""

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from neuroform.reasoning import eyes_text
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.said import Said

Found = dict[str, Any]
Write = Callable[[Facts], Iterator[Said]]
Line = tuple[int, str]

GAIT = "walking.pattern"
POWER = "motor.power"
IMPULSE = "head_and_eyes.head_impulse"
NYSTAGMUS = "head_and_eyes.nystagmus"
GAZE = "head_and_eyes.gaze_evoked_nystagmus"
SKEW = "head_and_eyes.skew"
HEARING = "head_and_eyes.new_hearing_loss"
POSITIONAL = "head_and_eyes.positional_test"
OPEN = "standing.firm.eyes_open"
CLOSED = "standing.firm.eyes_closed"
FEET = "standing.feet_position"
TOE = "sensation.joint_position.great_toe"


def stance_words(facts: Facts) -> Iterator[Said]:
    return eyes_text.stance_text(facts, "the woman")


VERTIGO = {"context.symptoms": ["vertigo"], "context.onset": "acute"}
GAZE_BLANK = "Nystagmus changing with gaze was not recorded and skew was not recorded."
QUIET = "no nystagmus was seen looking ahead"
EYE_SIGNS: list[tuple[Found, list[Line]]] = [
    (
        {IMPULSE: "normal", NYSTAGMUS: "none"},
        [(2, f"The head impulse showed no corrective saccade to either side, and {QUIET}.")],
    ),
    (
        {IMPULSE: "corrective_saccade", NYSTAGMUS: "none"},
        [(1, f"The head impulse showed a corrective saccade to both sides, and {QUIET}.")],
    ),
    *(
        (
            {f"{IMPULSE}.{side}": "corrective_saccade", f"{IMPULSE}.{other}": "normal", NYSTAGMUS: "none"},
            [(1, f"The head impulse showed a corrective saccade to the {side} and none to the {other}, and {QUIET}.")],
        )
        for side, other in (("right", "left"), ("left", "right"))
    ),
    (
        {f"{IMPULSE}.right": "uncertain", f"{IMPULSE}.left": "not examined: unsafe", NYSTAGMUS: "downbeat"},
        [
            (
                1,
                (
                    "The head impulse was uncertain to the right and was not examined (unsafe) to the left"
                    ", and there was downbeat nystagmus, looking ahead."
                ),
            )
        ],
    ),
    (
        {IMPULSE: "not examined: unsafe", NYSTAGMUS: "not examined: declined"},
        [(2, "The head impulse was not examined (unsafe), and nystagmus was not examined (declined).")],
    ),
    (
        {NYSTAGMUS: "none", GAZE: "absent"},
        [
            (2, f"The head impulse was not recorded on either side, and {QUIET}."),
            (3, "Looking aside brought none out."),
        ],
    ),
    (
        {NYSTAGMUS: "none", GAZE: "present", SKEW: "present"},
        [
            (2, f"The head impulse was not recorded on either side, and {QUIET}."),
            (1, "Nystagmus changed direction with gaze and skew was present."),
        ],
    ),
    (
        {NYSTAGMUS: "beats_left", GAZE: "absent", SKEW: "absent"},
        [
            (1, "The head impulse was not recorded on either side, and nystagmus beat to the left, looking ahead."),
            (3, "The nystagmus did not change direction with gaze and there was no skew."),
        ],
    ),
    (
        {f"{IMPULSE}.right": "corrective_saccade", NYSTAGMUS: "none", SKEW: "present", GAZE: "uncertain"},
        [
            (
                1,
                (
                    "The head impulse showed a corrective saccade to the right and was not recorded to the left"
                    f", and {QUIET}."
                ),
            ),
            (1, "Whether nystagmus changed with gaze was uncertain and skew was present."),
        ],
    ),
    (
        {"context.symptoms": ["vertigo"], "context.onset": "chronic", GAZE: "absent", SKEW: "absent", HEARING: "no"},
        [
            (1, "The head impulse was not recorded on either side, and nystagmus was not recorded."),
            (1, "Looking aside brought none out and there was no skew."),
            (1, "Hearing was unchanged on both sides."),
        ],
    ),
    (
        {f"{IMPULSE}.left": "normal", NYSTAGMUS: "none", GAZE: "present", SKEW: "absent"},
        [
            (2, f"The head impulse was not recorded to the right and showed none to the left, and {QUIET}."),
            (1, "Nystagmus changed direction with gaze and there was no skew."),
        ],
    ),
    (
        {"head_and_eyes.vertigo_now": "yes", "context.onset": "acute", GAZE: "absent", SKEW: "absent", HEARING: "no"},
        [
            (1, "The head impulse was not recorded on either side, and nystagmus was not recorded."),
            (1, "Looking aside brought none out and there was no skew."),
            (1, "Hearing was unchanged on both sides."),
        ],
    ),
    ({HEARING: "no"}, [(3, "Hearing was unchanged on both sides.")]),
    ({f"{HEARING}.left": "yes"}, [(1, "There was new hearing loss on the left.")]),
    ({HEARING: "yes"}, [(1, "There was new hearing loss on both sides.")]),
    ({POSITIONAL: "negative"}, [(2, "The positional test was negative on both sides.")]),
    (
        {f"{POSITIONAL}.right": "negative", f"{POSITIONAL}.left": "upbeat_torsional"},
        [(1, "With the left ear down there was upbeat and torsional nystagmus.")],
    ),
]
IN_VERTIGO: list[tuple[Found, list[Line]]] = [
    (
        {NYSTAGMUS: "none", IMPULSE: "normal"},
        [
            (1, f"The head impulse showed no corrective saccade to either side, and {QUIET}."),
            (1, GAZE_BLANK),
            (
                0,
                "Without nystagmus these eye signs do not apply and a normal head impulse means nothing; gait decides.",
            ),
            (1, "New hearing loss was not recorded on either side."),
        ],
    ),
    (
        {
            NYSTAGMUS: "beats_right",
            IMPULSE: "normal",
            GAZE: "uncertain",
            SKEW: "not examined: unable",
            f"{HEARING}.right": "no",
        },
        [
            (
                1,
                (
                    "The head impulse showed no corrective saccade to either side"
                    ", and nystagmus beat to the right, looking ahead."
                ),
            ),
            (1, "Whether nystagmus changed with gaze was uncertain and skew was not examined (could not)."),
            (1, "New hearing loss was not recorded on the left."),
        ],
    ),
    (
        {NYSTAGMUS: "beats_right", IMPULSE: "normal", GAZE: "absent", SKEW: "absent", HEARING: "no"},
        [
            (
                1,
                (
                    "The head impulse showed no corrective saccade to either side"
                    ", and nystagmus beat to the right, looking ahead."
                ),
            ),
            (1, "The nystagmus did not change direction with gaze and there was no skew."),
            (1, "Hearing was unchanged on both sides."),
        ],
    ),
]

STEADY = {f"{OPEN}.sway": "none", f"{OPEN}.ended": "held", f"{OPEN}.seconds": 30}
STANCE: list[tuple[Found, list[Line]]] = [
    (
        {**STEADY, f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "fell", FEET: "together"},
        [
            (
                0,
                (
                    "The stance test was positive: steady with eyes open for 30\u202fs,"
                    " the woman fell with eyes closed; it shows that something is lost, not what."
                ),
            )
        ],
    ),
    (
        {
            f"{OPEN}.sway": "slight",
            f"{OPEN}.ended": "held",
            f"{CLOSED}.ended": "stepped",
            f"{CLOSED}.seconds": 4,
            f"{CLOSED}.direction": "any",
            "standing.firm.sway_from": "ankles",
            TOE: "absent",
        },
        [
            (
                0,
                (
                    "The stance test was positive: swaying slightly with eyes open, the woman took a step"
                    " in no constant direction after 4\u202fs with eyes closed, from the ankles;"
                    " vision had stood in for the feeling in the feet."
                ),
            )
        ],
    ),
    (
        {**STEADY, f"{CLOSED}.ended": "opened_eyes", f"{CLOSED}.direction": "left", IMPULSE: "corrective_saccade"},
        [
            (
                0,
                (
                    "The stance test was positive: steady with eyes open for 30\u202fs,"
                    " the woman opened the eyes with eyes closed;"
                    " with corrective saccades to both sides, vision had stood in for the labyrinths."
                ),
            )
        ],
    ),
    (
        {**STEADY, f"{CLOSED}.ended": "needed_support", f"{CLOSED}.direction": "left", **VERTIGO},
        [
            (
                0,
                (
                    "The stance test was positive: steady with eyes open for 30\u202fs, the woman needed support"
                    " to the left with eyes closed (in acute vertigo this points to a side, not to a sense)."
                ),
            )
        ],
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "held", FEET: "together"},
        [
            (
                0,
                (
                    "The stance test was positive by sway alone, the weaker form: steady with eyes open for"
                    " 30\u202fs, the woman swayed markedly with eyes closed; it shows that something is lost,"
                    " not what."
                ),
            )
        ],
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "marked", f"{CLOSED}.ended": "stopped_early"},
        [
            (
                0,
                (
                    "The stance test was positive, stopped for safety: steady with eyes open for 30\u202fs,"
                    " the woman swayed markedly with eyes closed until the examiner stopped; it shows that something"
                    " is lost, not what."
                ),
            )
        ],
    ),
    (
        {**STEADY, f"{CLOSED}.ended": "fell", FEET: "apart"},
        [
            (
                0,
                (
                    "The stance test was positive even with feet apart: steady with eyes open for 30\u202fs,"
                    " the woman fell with eyes closed; it shows that something is lost, not what."
                ),
            )
        ],
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "moderate", f"{CLOSED}.ended": "held", f"{CLOSED}.seconds": 30, FEET: "together"},
        [
            (
                0,
                (
                    "The stance test was negative: the woman stood with eyes open and closed for 30\u202fs,"
                    " with more sway with eyes closed; by itself this excludes nothing."
                ),
            )
        ],
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "slight", f"{CLOSED}.ended": "held", FEET: "together"},
        [
            (
                0,
                (
                    "The stance test was negative: the woman stood with eyes open and closed;"
                    " by itself this excludes nothing."
                ),
            )
        ],
    ),
    (
        {f"{OPEN}.sway": "marked", f"{OPEN}.ended": "held", "standing.tremor_on_standing": "yes"},
        [
            (
                0,
                (
                    "With eyes already open the woman swayed markedly, so closing them can't be read as a stance test;"
                    " this excludes nothing."
                ),
            ),
            (
                1,
                (
                    "A fast tremor of the legs on standing that stops on walking was recorded;"
                    " it explains an unsteady stance by itself."
                ),
            ),
        ],
    ),
    *(
        (
            {f"{OPEN}.sway": "marked", f"{OPEN}.ended": ended},
            [
                (
                    0,
                    (
                        f"With eyes already open the woman {words}, so closing them can't be read as a stance test;"
                        " this excludes nothing."
                    ),
                )
            ],
        )
        for ended, words in (("fell", "fell"), ("stepped", "took a step"), ("needed_support", "needed support"))
    ),
    (
        {
            **STEADY,
            f"{CLOSED}.ended": "fell",
            FEET: "together",
            "standing.firm.distraction": "steadier",
            GAIT: ["as_on_ice"],
        },
        [
            (
                0,
                (
                    "The stance test was inconsistent: a clear change on closing the eyes together with a positive"
                    " functional sign (steadier when distracted and the way of walking)."
                ),
            )
        ],
    ),
]

# What is unclear about a stance test, and how it is said after "The stance test cannot be judged:".
UNCLEAR: list[tuple[Found, str]] = [
    ({}, "the stance with eyes open was not recorded."),
    ({f"{OPEN}.sway": "not examined: declined"}, "the stance with eyes open was not examined (declined)."),
    ({f"{OPEN}.ended": "stopped_early"}, "the stance with eyes open was stopped early."),
    ({f"{OPEN}.ended": "opened_eyes"}, "“Opened eyes” can't end a trial with eyes open."),
    ({f"{OPEN}.sway": "none"}, "with eyes open the sway, or how it ended, was not recorded."),
    ({f"{OPEN}.ended": "held"}, "with eyes open the sway, or how it ended, was not recorded."),
    (STEADY, "the stance with eyes closed was not recorded."),
    (
        {**STEADY, f"{CLOSED}.ended": "fell", "context.useful_vision": "none"},
        "without useful vision, closing the eyes takes nothing away.",
    ),
    ({**STEADY, f"{CLOSED}.ended": "stopped_early"}, "the stance with eyes closed was stopped early."),
    (
        {
            f"{OPEN}.sway": "moderate",
            f"{OPEN}.ended": "held",
            f"{CLOSED}.sway": "marked",
            f"{CLOSED}.ended": "stopped_early",
        },
        "the stance with eyes closed was stopped early.",
    ),
    ({**STEADY, f"{CLOSED}.sway": "slight"}, "how the stance with eyes closed ended was not recorded."),
    ({**STEADY, f"{CLOSED}.ended": "held"}, "the sway with eyes closed was not recorded."),
    (
        {**STEADY, f"{CLOSED}.ended": "fell", f"{POWER}.hip_flexion.left": "3"},
        "the stance was lost, but power is 3 or less in a leg.",
    ),
    (
        {**STEADY, f"{CLOSED}.ended": "fell", "context.limb_absent": ["left_foot"]},
        "the stance was lost, not with feet together, and a limb is missing or immobilised.",
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "none", f"{CLOSED}.ended": "held", FEET: "apart"},
        "held, but with feet apart: a wide stance hides the effect.",
    ),
    (
        {**STEADY, f"{CLOSED}.sway": "none", f"{CLOSED}.ended": "held"},
        "held, but the position of the feet was not recorded.",
    ),
]


ALL: list[tuple[str, Write, list[tuple[Found, list[Line]]]]] = [
    ("eyes", eyes_text.vestibular, EYE_SIGNS),
    ("eyes in vertigo", eyes_text.vestibular, [({**VERTIGO, **found}, lines) for found, lines in IN_VERTIGO]),
    ("stance", stance_words, STANCE),
    (
        "stance unclear",
        stance_words,
        [(found, [(0, f"The stance test cannot be judged: {why}")]) for found, why in UNCLEAR],
    ),
]


@pytest.mark.parametrize(
    ("write", "found", "lines"),
    [pytest.param(write, *row, id=f"{name}: {row[0]}") for name, write, rows in ALL for row in rows],
)
def test_it_says(made: Any, write: Write, found: Found, lines: list[Line]) -> None:
    said = list(write(Facts(made(found))))
    assert [(one.weight, one.text) for one in said] == lines


# Items of the sentences, where they are not simply everything recorded.
RESTS: list[tuple[Write, Found, list[set[str]]]] = [
    (
        eyes_text.vestibular,
        {**VERTIGO, NYSTAGMUS: "none", f"{HEARING}.left": "no"},
        [
            {f"{IMPULSE}.right", f"{IMPULSE}.left", NYSTAGMUS},
            {GAZE, SKEW},
            {NYSTAGMUS, *VERTIGO},
            {f"{HEARING}.right"},
        ],
    ),
    (eyes_text.vestibular, {f"{HEARING}.left": "yes"}, [{f"{HEARING}.left"}]),
    (eyes_text.vestibular, {HEARING: "no"}, [{f"{HEARING}.right", f"{HEARING}.left"}]),
    (eyes_text.vestibular, {POSITIONAL: "negative"}, [{f"{POSITIONAL}.right", f"{POSITIONAL}.left"}]),
    (eyes_text.vestibular, {f"{POSITIONAL}.left": "downbeat"}, [{f"{POSITIONAL}.left"}]),
    (
        stance_words,
        {**STEADY, f"{CLOSED}.ended": "fell", TOE: "absent"},
        [{f"{OPEN}.sway", f"{OPEN}.ended", f"{CLOSED}.ended", f"{TOE}.right", f"{TOE}.left"}],
    ),
    (stance_words, {}, [{f"{OPEN}.sway", f"{OPEN}.ended", f"{CLOSED}.ended"}]),
]


@pytest.mark.parametrize(("write", "found", "rests"), RESTS)
def test_it_rests_on(made: Any, write: Write, found: Found, rests: list[set[str]]) -> None:
    assert [set(one.items) for one in write(Facts(made(found)))] == rests
