"""Findings of limbs, power and reflexes that do not fit: both are named, neither is chosen."""

from collections.abc import Iterator
from functools import cache
from typing import Any

from neuroform.completeness.rule import MUST, SHOULD, Call, Rules, tell
from neuroform.completeness.seen import Seen
from neuroform.completeness.wording import side_in_words
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import SIDES, Side
from neuroform.language import N_
from neuroform.protocols.safety import gone
from neuroform.reasoning.facts import Ref, sided
from neuroform.reasoning.items import (
    ANKLE_REFLEX,
    CLONUS_BEATS,
    DORSIFLEXION,
    EC_SWAY,
    EO_SWAY,
    HEEL_SHIN,
    HIP_AND_KNEE,
    KNEE_EXTENSION,
    LIMB_ABSENT,
    PLANTARFLEXION,
    SINGLE_LEG_OPEN,
    TANDEM,
    TONE,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.signs import TWO, clonus, powers

rules = Rules()

ON_HEELS = sided(lambda e: e.walking.on_heels)
ON_TOES = sided(lambda e: e.walking.on_toes)
SINGLE_LEG_CLOSED = sided(lambda e: e.standing.single_leg.eyes_closed.seconds)
FLICKER = 1
"""Rank of MRC grade 1."""


def _paralysed(seen: Seen, side: Side) -> dict[str, int]:
    """Return the powers of a leg of which every one is 1 or less, hip or knee among them; else nothing."""
    ranks = powers(seen, side)
    if ranks and max(ranks.values()) <= FLICKER and powers(seen, side, HIP_AND_KNEE):
        return ranks
    return {}


@rules.rule(
    "contradiction-paralysed-yet-used",
    severity=SHOULD,
    message=N_("Power of 1 or less in the whole {side} leg does not fit what that leg did. Look again at one of them."),
    why=N_("A leg without power can't stand, walk or be moved along the shin."),
)
def paralysed_yet_used(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Every power of a leg is 1 or less, yet it stood, walked on the toes or heel to toe, or did heel-shin."""
    for side in SIDES:
        ranks = _paralysed(seen, side)
        if not ranks:
            continue
        used: list[Ref[Any]] = [ref for ref in (EO_SWAY, EC_SWAY, TANDEM, HEEL_SHIN[side]) if seen.any_value(ref)]
        if seen.is_(ON_TOES[side], "able").met:
            used.append(ON_TOES[side])
        if used:
            yield tell(*ranks, *used, side=side_in_words(side))


@rules.rule(
    "contradiction-on-heels-yet-weak",
    severity=SHOULD,
    message=N_(
        "Walking on the heels and dorsiflexion of 2 or less do not fit on the {side}. Look again at one of them."
    ),
    why=N_("Walking on the heels lifts the foot against gravity."),
)
def on_heels_yet_weak(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Someone walks on the heels, yet dorsiflexion of that side is 2 or less."""
    for side in SIDES:
        if seen.is_(ON_HEELS[side], "able").met and any(r <= TWO for r in powers(seen, side, (DORSIFLEXION,)).values()):
            yield tell(ON_HEELS[side], DORSIFLEXION[side], side=side_in_words(side))


@rules.rule(
    "contradiction-on-toes-yet-weak",
    severity=SHOULD,
    message=N_(
        "Walking on the toes and plantarflexion of 2 or less do not fit on the {side}. Look again at one of them."
    ),
    why=N_("Walking on the toes lifts the whole body."),
)
def on_toes_yet_weak(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Someone walks on the toes, yet plantarflexion of that side is 2 or less."""
    for side in SIDES:
        if seen.is_(ON_TOES[side], "able").met and any(
            r <= TWO for r in powers(seen, side, (PLANTARFLEXION,)).values()
        ):
            yield tell(ON_TOES[side], PLANTARFLEXION[side], side=side_in_words(side))


@rules.rule(
    "contradiction-single-leg-yet-weak",
    severity=SHOULD,
    message=N_("Five seconds on the {side} leg and knee extension of 1 or less do not fit. Look again at one of them."),
    why=N_("Standing on one leg needs the knee held straight."),
)
def single_leg_yet_weak(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Someone stands on one leg for five seconds, yet knee extension of that side is 1 or less."""
    for side in SIDES:
        if not any(rank <= FLICKER for rank in powers(seen, side, (KNEE_EXTENSION,)).values()):
            continue
        stood = [
            leg[side] for leg in (SINGLE_LEG_OPEN, SINGLE_LEG_CLOSED) if seen.test(leg[side], lambda s: s >= 5).met
        ]
        if stood:
            yield tell(KNEE_EXTENSION[side], *stood, side=side_in_words(side))


@rules.rule(
    "contradiction-absent-reflex-yet-clonus",
    severity=MUST,
    message=N_("An absent ankle reflex and beats of clonus do not fit on the {side}. Look again at one of them."),
    why=N_("Clonus is the ankle reflex, repeated."),
)
def absent_reflex_yet_clonus(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The ankle reflex is absent, yet the ankle beats."""
    for side in SIDES:
        if seen.is_(ANKLE_REFLEX[side], "absent").met and seen.test(CLONUS_BEATS[side], lambda beats: beats > 0).met:
            yield tell(ANKLE_REFLEX[side], CLONUS_BEATS[side], side=side_in_words(side))


@rules.rule(
    "contradiction-clonus-without-beats",
    severity=SHOULD,
    message=N_("Clonus at the ankle and no beats do not fit on the {side}. Look again at one of them."),
    why=N_("Clonus is counted in beats."),
)
def clonus_without_beats(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The ankle reflex shows clonus, yet no beats were counted."""
    for side in SIDES:
        if seen.is_(ANKLE_REFLEX[side], "clonus").met and seen.value(CLONUS_BEATS[side]) == 0:
            yield tell(ANKLE_REFLEX[side], CLONUS_BEATS[side], side=side_in_words(side))


@rules.rule(
    "contradiction-limb-absent-yet-examined",
    severity=MUST,
    message=N_("A missing limb and findings made on it do not fit: {items}. Look again at one of them."),
    why=N_("One of them belongs to the other side, or is wrong."),
)
def limb_absent_yet_examined(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A limb is absent, yet something was examined below that level on that side."""
    sites = seen.value(LIMB_ABSENT) or ()
    for side in SIDES:
        below = [path for site in sites if site.startswith(side) for path in gone(site)]
        examined = [path for path in below if isinstance(seen.found.get(path), Examined)]
        if examined:
            yield tell(LIMB_ABSENT, *examined)


@rules.rule(
    "contradiction-reason-absent-yet-limb-present",
    severity=SHOULD,
    message=N_("“Limb missing” is given as the reason, and no missing limb is recorded: {items}."),
    why=N_("One of them has to be changed, else other tests are asked for on a limb that is not there."),
)
def reason_absent_yet_limb_present(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The reason of a finding on a leg is "absent", yet no limb is missing on that side."""
    sites = seen.value(LIMB_ABSENT) or ()
    missing = []
    for side in SIDES:
        if not any(site.startswith(side) for site in sites):
            missing += [path for path in _on_the_leg(side) if _absent(seen.found.get(path))]
    if missing:
        yield tell(LIMB_ABSENT, *missing)


@cache
def _on_the_leg(side: Side) -> tuple[str, ...]:
    felt = tuple(f"sensation.{item}.{side}" for item in ("pinprick", "light_touch", "temperature"))
    power = tuple(group[side].path for group in HIP_AND_KNEE)
    return tuple(dict.fromkeys((*gone(f"{side}_above_knee"), *power, *felt, HEEL_SHIN[side].path)))


def _absent(found: object) -> bool:
    return isinstance(found, NotExamined) and found.not_examined == "absent"


@rules.rule(
    "contradiction-rigid-yet-clonus",
    severity=SHOULD,
    message=N_("Rigid tone and clonus do not fit in the {side} leg. Look again at one of them."),
    why=N_("Clonus goes with a catch that depends on speed."),
)
def rigid_yet_clonus(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Tone is rigid, yet the same leg shows clonus."""
    for side in SIDES:
        beats = clonus(seen, side)
        if beats.met and seen.is_(TONE[side], "rigid").met:
            yield tell(TONE[side], *beats.because, side=side_in_words(side))
