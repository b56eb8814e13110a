"""What the paragraph makes of verdicts set by hand: what is named, in which order, and what is not."""

from typing import Any

import pytest

from neuroform.exam.walk import SIDES
from neuroform.reasoning.conclusions_text import support_text
from neuroform.reasoning.facts import Facts
from neuroform.reasoning.findings_text import consistency
from neuroform.reasoning.results import Verdict
from tests.reasoning.verdicts_by_hand import AGAINST, FOR, LACKING, SOMETHING, Set, reading, said

NOTHING = "No pattern is supported by what was recorded."
NOT_NORMAL = "Nothing abnormal was recorded, but this is not a normal examination: parts of it were not examined."
TRAINED = "That holds only for a head impulse done by someone trained in it, which is not recorded."
CHANGE = (
    "New weakness, double vision, slurred speech, deafness or being unable to stand would change this reading at once."
)

# What it shows, the verdicts, the sentences with how easily each can be spared.
ROWS: list[tuple[str, Set, list[tuple[int, str]]]] = [
    ("nothing", {}, [(0, NOTHING)]),
    ("one", {"sensory_ataxia": "supported"}, [(0, "Together this supports a sensory ataxia.")]),
    (
        "two, the more telling first",
        {"dorsal_column": "supported", "sensory_ataxia": "supported"},
        [
            (
                0,
                (
                    "Together this supports a sensory ataxia and a lesion of the posterior columns of the cord"
                    " (think first of compression, then of B12, nitrous oxide and copper)."
                ),
            )
        ],
    ),
    (
        "of three the first two",
        {"orthostatic": "supported", "length_dependent_neuropathy": "supported", "sensory_ataxia": "supported"},
        [
            (0, "Together this supports a sensory ataxia and a length-dependent neuropathy."),
            (1, "A fall of pressure without symptoms need not explain the unsteadiness."),
        ],
    ),
    (
        "the combined one stands for its parts",
        {
            "combined_sensory_cerebellar": "supported",
            "sensory_ataxia": "supported",
            "cerebellar_midline": "supported",
        },
        [(0, "Together this supports a combined sensory and cerebellar ataxia.")],
    ),
    (
        "one side",
        {"upper_motor_neurone:left": "supported"},
        [(0, "Together this supports signs of the upper motor neurones to the left leg.")],
    ),
    (
        "both sides",
        {"upper_motor_neurone": "supported"},
        [(0, "Together this supports signs of the upper motor neurones to both legs.")],
    ),
    ("possible", {"orthostatic": "possible"}, [(1, "A fall of blood pressure on standing is possible.")]),
    (
        "possible, of many",
        {"upper_motor_neurone:right": "possible"},
        [(1, "Signs of the upper motor neurones to the right leg are possible.")],
    ),
    (
        "one possible alone is named",
        {"orthostatic": "possible", "sensory_ataxia": "possible"},
        [(1, "A sensory ataxia is possible.")],
    ),
    (
        "three systems",
        {"combined_sensory_cerebellar": "supported", "bilateral_vestibular": "possible"},
        [
            (0, "Together this supports a combined sensory and cerebellar ataxia."),
            (0, "With it, three systems are affected: sensory, vestibular and cerebellar."),
            (1, "A probable vestibular loss on both sides is possible."),
        ],
    ),
    (
        "cord and nerve",
        {"length_dependent_neuropathy": "supported", "upper_motor_neurone:right": "supported"},
        [
            (
                0,
                (
                    "Together this supports signs of the upper motor neurones to the right leg"
                    " and a length-dependent neuropathy."
                ),
            ),
            (1, "Cord and nerves are both affected."),
        ],
    ),
    (
        "a nerve that is possible makes no cord and nerve",
        {"length_dependent_neuropathy": "possible", "upper_motor_neurone:right": "supported"},
        [
            (0, "Together this supports signs of the upper motor neurones to the right leg."),
            (1, "A length-dependent neuropathy is possible."),
        ],
    ),
    (
        "ataxic hemiparesis",
        {"cerebellar_hemisphere:left": "possible", "upper_motor_neurone:left": "supported"},
        [
            (0, "Together this supports signs of the upper motor neurones to the left leg."),
            (1, "Ataxia and upper motor neurone signs of one limb stand together (ataxic hemiparesis)."),
            (1, "A disorder of the left cerebellar hemisphere or its connections is possible."),
        ],
    ),
    (
        "ataxic hemiparesis, both parts supported",
        {"cerebellar_hemisphere:right": "supported", "upper_motor_neurone:right": "supported"},
        [
            (
                0,
                (
                    "Together this supports signs of the upper motor neurones to the right leg"
                    " and a disorder of the right cerebellar hemisphere or its connections."
                ),
            ),
            (1, "Ataxia and upper motor neurone signs of one limb stand together (ataxic hemiparesis)."),
        ],
    ),
    (
        "of two limbs no hemiparesis",
        {"cerebellar_hemisphere:left": "supported", "upper_motor_neurone:right": "supported"},
        [
            (
                0,
                (
                    "Together this supports signs of the upper motor neurones to the right leg"
                    " and a disorder of the left cerebellar hemisphere or its connections."
                ),
            )
        ],
    ),
    (
        "functional, supported",
        {"functional": "supported"},
        [
            (
                0,
                "The examination shows features of functional imbalance; this does not exclude a second cause.",
            )
        ],
    ),
    (
        "functional, possible",
        {"functional": "possible"},
        [(0, "Features of functional imbalance are possible; they would not exclude a second cause.")],
    ),
    (
        "normal",
        {"no_abnormality": "supported"},
        [(0, "Every item of the full examination was recorded, and no abnormality was found.")],
    ),
    ("normal as far as it went", {"no_abnormality": "possible"}, [(0, NOT_NORMAL)]),
    ("normal cannot be judged", {"no_abnormality": "not_assessable"}, [(0, NOT_NORMAL)]),
    (
        "not called normal beside what is possible",
        {"no_abnormality": "possible", "orthostatic": "possible"},
        [(1, "A fall of blood pressure on standing is possible.")],
    ),
    (
        "peripheral",
        {"acute_vestibular_peripheral:right": "supported"},
        [
            (0, "Together this supports an acute loss of the right vestibular nerve or labyrinth."),
            (1, "The findings argue against a central cause of the acute vertigo."),
            (0, TRAINED),
            (1, CHANGE),
        ],
    ),
    (
        "peripheral, and central is open",
        {"acute_vestibular_peripheral:right": "supported", "acute_vestibular_central": "not_assessable"},
        [
            (0, "Together this supports an acute loss of the right vestibular nerve or labyrinth."),
            (0, TRAINED),
            (1, CHANGE),
        ],
    ),
]


@pytest.mark.parametrize(("verdicts", "lines"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_it_concludes(made: Any, verdicts: Set, lines: list[tuple[int, str]]) -> None:
    assert said(made, reading(verdicts)) == lines


def test_every_conclusion_rests_on_what_its_verdicts_rest_on(made: Any) -> None:
    verdicts: Set = {
        "combined_sensory_cerebellar": "supported",
        "bilateral_vestibular": "possible",
        "length_dependent_neuropathy": "supported",
        "upper_motor_neurone:left": "supported",
        "cerebellar_hemisphere:left": "possible",
        "functional": "possible",
        "orthostatic": "supported",
    }
    names = {name.partition(":")[0] for name in verdicts}
    more = {name: {"supporting": (f"walking.{name}",)} for name in names}
    lines = list(support_text(Facts(made(SOMETHING)), reading(verdicts, more=more)))
    assert [({path.partition(".")[2] for path in each.items}, each.text.split()[0]) for each in lines] == [
        ({"combined_sensory_cerebellar", "upper_motor_neurone"}, "Together"),
        ({"combined_sensory_cerebellar", "bilateral_vestibular"}, "With"),
        ({"length_dependent_neuropathy", "upper_motor_neurone"}, "Cord"),
        ({"cerebellar_hemisphere", "upper_motor_neurone"}, "Ataxia"),
        ({"functional"}, "Features"),
        ({"orthostatic"}, "A"),
        ({"bilateral_vestibular"}, "A"),
    ]


@pytest.mark.parametrize(
    ("verdict", "items"),
    [("supported", (FOR,)), ("possible", (LACKING,)), ("not_assessable", (LACKING,)), ("unlikely", (AGAINST,))],
)
def test_what_is_said_of_a_normal_examination_rests_on_its_findings(
    made: Any, verdict: Verdict, items: tuple[str, ...]
) -> None:
    (each,) = support_text(Facts(made(SOMETHING)), reading({"no_abnormality": verdict}))
    assert each.items == items


def test_beside_an_urgent_finding_the_examination_is_not_called_without_abnormality(made: Any) -> None:
    read = reading({"no_abnormality": "supported"}, {"cauda-equina": "immediate"})
    assert said(made, read) == [
        (
            0,
            (
                "Every item of the full examination was recorded and none was abnormal;"
                " the urgent finding stands all the same."
            ),
        )
    ]


def test_with_a_central_sign_the_benign_reading_is_not_called_possible(made: Any) -> None:
    verdicts: Set = {"acute_vestibular_peripheral:left": "possible", "orthostatic": "possible"}
    central = {"acute-vertigo-central-signs": "immediate"}
    assert said(made, reading(verdicts, central)) == [(1, "A fall of blood pressure on standing is possible.")]
    without = said(made, reading(verdicts))
    assert without == [(1, "An acute loss of the left vestibular nerve or labyrinth is possible.")]


def test_of_nothing_recorded_nothing_is_called_normal(made: Any) -> None:
    ((weight, text),) = said(made, reading({"no_abnormality": "not_assessable"}), {})
    assert weight == 0
    assert text.startswith("Nothing was recorded yet, so nothing is called normal or abnormal here")


def test_a_fall_with_symptoms_needs_no_excuse(made: Any) -> None:
    felt = {"orthostatic": {"supporting": ("circulation.symptoms_on_standing",)}}
    lines = said(made, reading({"orthostatic": "supported"}, more=felt))
    assert lines == [(0, "Together this supports a fall of blood pressure on standing.")]


@pytest.mark.parametrize(
    ("argued_against", "strong", "told"), [(True, True, True), (True, False, False), (False, True, False)]
)
def test_only_what_something_spoke_for_and_something_decisive_against_is_argued_against(
    made: Any, argued_against: bool, strong: bool, told: bool
) -> None:
    more = {"sensory_ataxia": {"argued_against": argued_against, "strong": strong}}
    lines = said(made, reading(more=more))
    assert ((2, "The findings argue against a sensory ataxia.") in lines) is told


def test_at_most_one_pattern_is_argued_against_and_its_side_is_named(made: Any) -> None:
    against = {"argued_against": True, "strong": True}
    more = {"positional_vertigo": against, "upper_motor_neurone": against}
    lines = [text for _weight, text in said(made, reading(more=more)) if "argue" in text]
    assert lines == ["The findings argue against signs of the upper motor neurones to the right leg."]


@pytest.mark.parametrize(
    ("trained", "text"),
    [
        (None, TRAINED),
        ("no", "That holds only for a head impulse done by someone trained in it, and the examiner was not."),
        ("yes", None),
    ],
)
def test_a_benign_reading_rests_on_a_trained_hand(made: Any, trained: str | None, text: str | None) -> None:
    """Ohle 2020: with emergency physicians among the examiners sensitivity fell to 83 % and specificity to 44 %."""
    found = {**SOMETHING, **({} if trained is None else {"head_and_eyes.examiner_trained": trained})}
    lines = [text for _, text in said(made, reading({"acute_vestibular_peripheral:left": "supported"}), found)]
    assert [line for line in lines if line.startswith("That holds")] == ([] if text is None else [text])
    assert lines[-1] == CHANGE


def test_every_side_has_its_words(made: Any) -> None:
    for side in SIDES:
        ((_weight, text),) = said(made, reading({f"lower_motor_neurone_weakness:{side}": "supported"}))
        assert text == f"Together this supports a weakness of nerve, junction or muscle in the {side} leg."


VERTIGO_NOW = {"context.symptoms": ["vertigo"], "context.onset": "acute", "context.duration_days": 1}


@pytest.mark.parametrize(
    ("verdicts", "found", "held_back"),
    [
        ({"combined_sensory_cerebellar": "supported", "sensory_ataxia": "possible"}, SOMETHING, "A sensory ataxia"),
        ({"bilateral_vestibular": "supported", "compensated_vestibular:left": "possible"}, SOMETHING, "long-standing"),
        ({"sensory_ataxia": "possible"}, VERTIGO_NOW, "sensory ataxia"),
    ],
)
def test_what_is_held_already_or_would_mislead_is_not_called_possible_beside_it(
    made: Any, verdicts: Set, found: dict[str, Any], held_back: str
) -> None:
    assert held_back not in " ".join(text for _weight, text in said(made, reading(verdicts), found))
    alone = {name: verdict for name, verdict in verdicts.items() if verdict == "possible"}
    assert held_back in " ".join(text for _weight, text in said(made, reading(alone), SOMETHING))


def test_in_vertigo_a_sensory_ataxia_is_named_where_joint_position_is_lost(made: Any) -> None:
    found = VERTIGO_NOW | {"sensation.joint_position.great_toe": "absent"}
    assert any("sensory ataxia" in text for _weight, text in said(made, reading({"sensory_ataxia": "possible"}), found))


def test_a_normal_examination_yields_where_the_complaint_asks_for_more(made: Any) -> None:
    verdicts: Set = {"no_abnormality": "supported", "positional_vertigo:right": "not_assessable"}
    more = {"positional_vertigo": {"missing": ("head_and_eyes.positional_test.right",)}}
    read = reading(verdicts, more=more)
    told = [text for _weight, text in said(made, read, {"context.symptoms": ["vertigo"]})]
    assert told[0].endswith("none was abnormal, but the complaint asks for more.")
    assert "cannot be judged" in told[1]


@pytest.mark.parametrize(("ended", "said_"), [("held", True), ("fell", False)])
def test_a_steady_stance_without_joint_position_is_said_not_to_fit(made: Any, ended: str, said_: bool) -> None:
    exam = made(
        {
            "sensation.joint_position.great_toe": "absent",
            "sensation.joint_position.ankle": "absent",
            "standing.firm.eyes_closed.sway": "slight",
            "standing.firm.eyes_closed.ended": ended,
        }
    )
    assert any("do not fit" in each.text for each in consistency(Facts(exam))) is said_
