"""Sensory and eye findings that do not fit: both are named, neither is chosen. A crossed picture is not one."""

from collections.abc import Iterator

from neuroform.completeness.rule import MUST, SHOULD, Call, Rules, tell
from neuroform.completeness.seen import Seen
from neuroform.completeness.wording import side_in_words
from neuroform.exam.findings import level_rank
from neuroform.exam.walk import OTHER, SIDES
from neuroform.language import N_
from neuroform.reasoning.facts import all_of, both_sides
from neuroform.reasoning.items import (
    CAUTIONS,
    EC_ENDED,
    EC_SWAY,
    GAIN,
    HEAD_IMPULSE,
    HEEL_SHIN_CLOSED,
    JP_ANKLE,
    JP_TOE,
    LIGHT_TOUCH,
    NYSTAGMUS,
    ON_FIXATION,
    PINPRICK,
    SADDLE,
    SYMPTOMS,
    TEMPERATURE,
    TRUNK_LEVEL,
    USEFUL_VISION,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.sensory_signs import (
    joint_verdict,
    jp_ankle_lost,
    jp_toe_intact,
    jp_toe_lost,
    vib_worse_higher_up,
    vibration_verdicts,
)
from neuroform.reasoning.signs import beats_to, impulse_corrective, impulse_normal, ongoing, sym, trunk_level

rules = Rules()

LOW_GAIN, GOOD_GAIN = 0.6, 0.9


@rules.rule(
    "contradiction-joint-position-lost-yet-steady",
    severity=SHOULD,
    message=N_(
        "Joint position lost at both toes and ankles and a steady stance with eyes closed do not fit. "
        "Look again at one of them."
    ),
    why=N_("Without joint position and without sight little is left to stand on; repeat it in a harder stance."),
)
def joint_position_lost_yet_steady(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Joint position is lost at toe and ankle on both sides, yet the stance with eyes closed was held steadily."""
    steady = all_of(seen.is_(EC_ENDED, "held"), seen.is_(EC_SWAY, "none", "slight"))
    if steady.met:
        lost = all_of(both_sides(jp_toe_lost, seen), both_sides(jp_ankle_lost, seen))
        if lost.met:
            yield tell(*lost.because, *steady.because)


@rules.rule(
    "contradiction-joint-position-absent-yet-heel-shin",
    severity=SHOULD,
    message=N_(
        "Joint position absent in the {side} foot and a normal heel-shin with eyes closed do not fit. "
        "Look again at one of them."
    ),
    why=N_("With eyes closed the heel finds the shin by joint position alone."),
)
def joint_position_absent_yet_heel_shin(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Joint position is absent at great toe and ankle, yet heel-shin with eyes closed is normal on that side."""
    for side in SIDES:
        toe, ankle = seen.value(JP_TOE[side]), seen.value(JP_ANKLE[side])
        if toe is None or joint_verdict(toe) != "lost" or (ankle is not None and joint_verdict(ankle) != "lost"):
            continue
        if seen.is_(HEEL_SHIN_CLOSED[side], "normal").met:
            known = [JP_TOE[side], *([] if ankle is None else [JP_ANKLE[side]])]
            yield tell(*known, HEEL_SHIN_CLOSED[side], side=side_in_words(side))


@rules.rule(
    "contradiction-joint-position-lost-higher-up",
    severity=SHOULD,
    message=N_(
        "Joint position intact at the {side} great toe and lost at the ankle do not fit. Look again at one of them."
    ),
    why=N_("Joint position is lost from the toe upward."),
)
def joint_position_lost_higher_up(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Joint position is intact at the great toe, yet lost at the ankle of the same side."""
    for side in SIDES:
        if jp_ankle_lost(seen, side).met and jp_toe_intact(seen, side).met:
            yield tell(JP_TOE[side], JP_ANKLE[side], side=side_in_words(side))


@rules.rule(
    "contradiction-vibration-lost-higher-up",
    severity=SHOULD,
    message=N_("Vibration normal at the {side} great toe and lost higher up do not fit. Look again at one of them."),
    why=N_("Vibration is lost from the toe upward."),
)
def vibration_lost_higher_up(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Vibration is normal at the great toe, yet lost higher up on the same side."""
    for side in SIDES:
        worse = vib_worse_higher_up(seen, side)
        if worse.met:
            yield tell(*worse.because, side=side_in_words(side))


@rules.rule(
    "contradiction-vibration-methods-disagree",
    severity=SHOULD,
    message=N_("Two methods disagree on vibration at one place: {items}. Look again at one of them."),
    why=N_("One of them was read or written wrongly."),
)
def vibration_methods_disagree(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Vibration at one site is normal by one method and lost by another."""
    for site in ("great_toe", "medial_malleolus", "finger"):
        for side in SIDES:
            verdicts = vibration_verdicts(seen, site, side)
            if len(verdicts) > 1 and "normal" in verdicts.values() and "lost" in verdicts.values():
                yield tell(*(path for path, verdict in verdicts.items() if verdict in ("normal", "lost")))


@rules.rule(
    "contradiction-pinprick-kept-yet-other-lost",
    severity=SHOULD,
    message=N_(
        "Pinprick kept and another feeling lost to the thigh do not fit in the {side} leg. Look again at one of them."
    ),
    why=N_("Pinprick and temperature run together; touch alone is seldom lost so far."),
)
def pinprick_kept_yet_other_lost(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Pinprick is not reduced, yet touch or temperature is lost to the thigh or above on the same side."""
    for side in SIDES:
        if not seen.is_(PINPRICK[side], "none").met:
            continue
        lost = [ref[side] for ref in (LIGHT_TOUCH, TEMPERATURE) if seen.is_(ref[side], "thigh", "groin").met]
        if lost:
            yield tell(PINPRICK[side], *lost, side=side_in_words(side))


@rules.rule(
    "contradiction-no-level-yet-lost-to-groin",
    severity=SHOULD,
    message=N_("Pinprick lost to both groins and no level on the trunk do not fit. Look again at one of them."),
    why=N_("A loss in both whole legs ends somewhere on the trunk."),
)
def no_level_yet_lost_to_groin(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Pinprick is lost to both groins, yet there is no level on the trunk."""
    if seen.is_(TRUNK_LEVEL, "none").met and all(seen.is_(PINPRICK[side], "groin").met for side in SIDES):
        yield tell(PINPRICK, TRUNK_LEVEL)


@rules.rule(
    "contradiction-level-yet-legs-kept",
    severity=SHOULD,
    message=N_("A level on the trunk and feeling kept in both legs do not fit. Look again at one of them."),
    why=N_("Below a level something is lost."),
)
def level_yet_legs_kept(seen: Seen, reading: Reading) -> Iterator[Call]:
    """There is a level on the trunk, yet pinprick, touch and temperature are kept in both legs."""
    if not trunk_level(seen).met or not all(seen.is_(PINPRICK[side], "none").met for side in SIDES):
        return
    refs = [ref[side] for ref in (PINPRICK, LIGHT_TOUCH, TEMPERATURE) for side in SIDES]
    found = {ref.path: level for ref in refs if (level := seen.value(ref)) is not None}
    if all(level_rank(level) == 0 for level in found.values()):
        yield tell(*found, TRUNK_LEVEL)


@rules.rule(
    "contradiction-saddle-normal-yet-numb",
    severity=SHOULD,
    message=N_(
        "Numbness between the legs is told and the saddle is normal: they do not fit. Look again at one of them."
    ),
    why=N_("Numbness that is told counts until the saddle was tested again."),
)
def saddle_normal_yet_numb(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Saddle numbness is told, yet the saddle is normal."""
    if seen.is_(SADDLE, "normal").met and sym(seen, "saddle_numbness").met:
        yield tell(SYMPTOMS, SADDLE)


@rules.rule(
    "contradiction-no-nystagmus-yet-fixation",
    severity=SHOULD,
    message=N_("No nystagmus, and what fixation does to it, do not fit. Look again at one of them."),
    why=N_(
        "What is not there can't be suppressed; nystagmus seen without fixation alone is recorded with its direction."
    ),
)
def no_nystagmus_yet_fixation(seen: Seen, reading: Reading) -> Iterator[Call]:
    """No nystagmus, yet what fixation does to it is recorded; seen without fixation in ongoing vertigo it fits."""
    if not seen.is_(NYSTAGMUS, "none").met or not seen.any_value(ON_FIXATION):
        return
    if seen.is_(ON_FIXATION, "unchanged").met or not ongoing(seen).met:
        yield tell(NYSTAGMUS, ON_FIXATION)


@rules.rule(
    "contradiction-nystagmus-towards-the-lost-side",
    severity=SHOULD,
    message=N_(
        "Nystagmus beats to the {side}, where the head impulse is lost: they do not fit. "
        "Test again, central until then."
    ),
    why=N_("A lost labyrinth makes the eyes beat away from it."),
)
def nystagmus_towards_the_lost_side(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Nystagmus beats to the side of a corrective head impulse, and the other head impulse is normal."""
    for side in SIDES:
        incongruent = all_of(beats_to(seen, side), impulse_corrective(seen, side), impulse_normal(seen, OTHER[side]))
        if incongruent.met:
            yield tell(*incongruent.because, side=side_in_words(side))


@rules.rule(
    "contradiction-head-impulse-and-gain",
    severity=SHOULD,
    message=N_(
        "The head impulse seen and the gain recorded ({gain}) do not fit on the {side}. Look again at one of them."
    ),
    why=N_("A gain under 0.6 is low; one of 0.9 or more is not."),
)
def head_impulse_and_gain(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The head impulse is normal with a gain under 0.6, or corrective with a gain of 0.9 or more."""
    for side in SIDES:
        gain = seen.value(GAIN[side])
        if gain is None:
            continue
        low = gain < LOW_GAIN and impulse_normal(seen, side).met
        good = gain >= GOOD_GAIN and impulse_corrective(seen, side).met
        if low or good:
            yield tell(HEAD_IMPULSE[side], GAIN[side], gain=f"{gain:g}", side=side_in_words(side))


@rules.rule(
    "contradiction-head-impulse-in-unsafe-neck",
    severity=MUST,
    message=N_("A head impulse is recorded in someone whose neck is not safe. Say how that came about."),
    why=N_("It can injure the neck or its arteries."),
    source=N_("NICE NG127"),
)
def head_impulse_in_unsafe_neck(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A head impulse is recorded, yet the neck is unstable, injured, or its artery dissected."""
    if seen.has(CAUTIONS, "neck_instability", "neck_trauma", "neck_artery_dissection").met:
        moved = [ref[side] for ref in (HEAD_IMPULSE, GAIN) for side in SIDES if seen.any_value(ref[side])]
        if moved:
            yield tell(CAUTIONS, *moved)


@rules.rule(
    "contradiction-head-impulse-without-vision",
    severity=SHOULD,
    message=N_("A head impulse and no useful vision do not fit. Look again at one of them."),
    why=N_("The eyes have to hold on to a target."),
)
def head_impulse_without_vision(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A head impulse is recorded, yet there is no useful vision."""
    if seen.is_(USEFUL_VISION, "none").met:
        moved = [HEAD_IMPULSE[side] for side in SIDES if seen.any_value(HEAD_IMPULSE[side])]
        if moved:
            yield tell(USEFUL_VISION, *moved)
