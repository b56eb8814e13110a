"""Words for findings taken together, each at and beside its border: what makes it hold, what does not, what is open."""

from typing import Any

import pytest

from neuroform.reasoning import limb_signs, pressure_signs, sensory_signs, signs
from neuroform.reasoning.facts import Facts
from tests.reasoning import words_of_eyes, words_of_legs, words_of_standing
from tests.reasoning.words import Found, Word, here

ROWS = {**words_of_legs.ROWS, **words_of_eyes.ROWS, **words_of_standing.ROWS}
UNKNOWN = [*words_of_legs.UNKNOWN, *words_of_eyes.UNKNOWN, *words_of_standing.UNKNOWN]
AGES = [*words_of_legs.AGES, *words_of_eyes.AGES, *words_of_standing.AGES]
HOLDS = [pytest.param(row[0], found, id=f"{name}: {found}") for name, row in ROWS.items() for found in row[1]]
FAILS = [pytest.param(row[0], found, id=f"{name}: {found}") for name, row in ROWS.items() for found in row[2]]


@pytest.mark.parametrize(("sign", "found"), HOLDS)
def test_it_holds_and_rests_on_every_finding(made: Any, sign: Word, found: Found) -> None:
    facts = Facts(made(found))
    read = sign(facts)
    assert read.met is True
    assert set(read.because) == set(facts.found)
    assert read.missing == ()


@pytest.mark.parametrize(("sign", "found"), FAILS)
def test_it_does_not_hold(made: Any, sign: Word, found: Found) -> None:
    assert sign(Facts(made(found))).met is False


@pytest.mark.parametrize(("sign", "found"), [row[1:] for row in UNKNOWN], ids=[row[0] for row in UNKNOWN])
def test_it_is_unknown(made: Any, sign: Word, found: Found) -> None:
    assert sign(Facts(made(found))).met is None


@pytest.mark.parametrize(("sign", "found", "age", "met"), [row[1:] for row in AGES], ids=[row[0] for row in AGES])
def test_age_decides(made: Any, sign: Word, found: Found, age: int, met: bool | None) -> None:
    assert sign(Facts(made(found, age=age))).met is met


POWER, TOE, VIB = "motor.power", "sensation.joint_position.great_toe.right", "sensation.vibration"
CORE = {
    f"{POWER}.{group}.right"
    for group in ("hip_flexion", "knee_extension", "ankle_dorsiflexion", "ankle_plantarflexion")
}
HIP, UP = f"{POWER}.hip_flexion.right", f"{POWER}.ankle_dorsiflexion.right"
SECONDS = "sensation.vibration_seconds.great_toe.right"
LYING, AT_1, AT_3 = "circulation.lying", "circulation.standing_1_min", "circulation.standing_3_min"
PIN = "sensation.pinprick"

# The sign, what was found, what is missing before it can be told; it rests on nothing until then.
MISSING: list[tuple[Word, Found, set[str]]] = [
    (here(signs.weak), {}, CORE),
    (here(signs.paretic), {}, CORE),
    (here(signs.leg_clear), {TOE: "intact"}, CORE),
    (here(signs.leg_clear), {TOE: "intact", HIP: "5"}, CORE - {HIP}),
    (here(signs.leg_clear), {HIP: "5", UP: "5"}, {TOE}),
    (here(limb_signs.power_full), {HIP: "5"}, {UP}),
    (here(limb_signs.power_full), {UP: "5"}, {HIP}),
    (here(limb_signs.foot_weaker_than_hip), {HIP: "5"}, {UP}),
    (here(limb_signs.foot_weaker_than_hip), {UP: "5"}, {HIP}),
    (here(sensory_signs.vib_toe_lost), {}, {f"{VIB}.great_toe.right"}),
    (here(sensory_signs.vib_toe_lost), {SECONDS: 7}, {SECONDS}),
    (here(sensory_signs.vib_toe_normal), {SECONDS: 7}, {SECONDS}),
    (here(sensory_signs.vib_toe_normal), {}, {f"{VIB}.great_toe.right"}),
    (signs.pinprick_differs, {f"{PIN}.right": "toes"}, {f"{PIN}.left"}),
    (signs.pinprick_differs, {}, {f"{PIN}.right", f"{PIN}.left"}),
    (pressure_signs.orthostatic_fall, {}, {LYING, AT_1, AT_3}),
    (
        signs.cannot_stand,
        {},
        {
            "standing.sitting_balance",
            "context.walks_unaided",
            "standing.firm.eyes_open.ended",
            "standing.firm.eyes_open.sway",
        },
    ),
]


@pytest.mark.parametrize(("sign", "found", "missing"), MISSING)
def test_what_is_missing_is_named(made: Any, sign: Word, found: Found, missing: set[str]) -> None:
    read = sign(Facts(made(found)))
    assert read.met is None
    assert set(read.missing) == missing
