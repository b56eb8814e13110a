"""Findings in standing and walking that do not fit: both are named, neither is chosen."""

from collections.abc import Iterator

from neuroform.completeness.generic import trials
from neuroform.completeness.rule import MUST, SHOULD, Call, Rules, tell
from neuroform.completeness.seen import Seen
from neuroform.exam.walk import SIDES
from neuroform.language import N_
from neuroform.reasoning.facts import one, sided
from neuroform.reasoning.items import (
    AID,
    AT_1_MIN,
    AT_3_MIN,
    AT_ONCE,
    BASE,
    CAUTIONS,
    EC_ENDED,
    EC_SWAY,
    EO_DIRECTION,
    EO_ENDED,
    EO_SWAY,
    FEET,
    FOAM_EO_ENDED,
    GAIT,
    PULL_TEST,
    SIDE_STEPS,
    SINGLE_LEG_OPEN,
    SITTING,
    TANDEM,
    TRIAL_SECONDS,
    UP_AND_GO,
    USEFUL_VISION,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.signs import unsteady_eyes_open
from neuroform.reasoning.stance_test import LOST

rules = Rules()

TEN_METRE = one(lambda e: e.walking.ten_metre_seconds)
APART_ENDED = one(lambda e: e.standing.apart.eyes_open.ended)
VISUAL_ACUITY = sided(lambda e: e.head_and_eyes.visual_acuity)
USUAL_TRIAL = 30.0
"""Seconds a trial lasts where its length is blank."""


def _length(seen: Seen) -> float:
    return seen.value(TRIAL_SECONDS) or USUAL_TRIAL


def _length_path(seen: Seen) -> tuple[str, ...]:
    return () if seen.blank(TRIAL_SECONDS) else (TRIAL_SECONDS.path,)


@rules.rule(
    "contradiction-stance-lost-yet-heel-to-toe",
    severity=SHOULD,
    message=N_("Nine or ten heel-to-toe steps and a stance lost with eyes open do not fit. Look again at one of them."),
    why=N_("Heel-to-toe walking asks more of balance than standing."),
)
def stance_lost_yet_heel_to_toe(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The stance is lost with eyes open, feet together, yet nine or ten heel-to-toe steps without a step aside."""
    if (
        seen.is_(EO_ENDED, "stepped", "needed_support", "fell").met
        and seen.is_(FEET, "together").met
        and seen.test(TANDEM, lambda steps: steps >= 9).met
        and not seen.test(SIDE_STEPS, lambda steps: steps > 0).met
    ):
        yield tell(EO_ENDED, TANDEM)


@rules.rule(
    "contradiction-eyes-opened-when-open",
    severity=MUST,
    message=N_("“Opened eyes” can't end a trial with eyes open. Change how it ended."),
    why=N_("The trial can't be read."),
)
def eyes_opened_when_open(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A trial with eyes open ended by opening the eyes."""
    for ended in (EO_ENDED, FOAM_EO_ENDED, APART_ENDED):
        if seen.is_(ended, "opened_eyes").met:
            yield tell(ended)


@rules.rule(
    "contradiction-longer-than-the-trial",
    severity=MUST,
    message=N_("{seconds} s is longer than this trial ({length} s). Change the seconds or the trial's length."),
    why=N_("How long the trial lasted decides whether it was held."),
)
def longer_than_the_trial(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Someone stood for longer than the trial lasts."""
    length = _length(seen)
    for _sway, seconds, _ended in trials():
        stood = seen.value(seconds)
        if stood is not None and stood > length:
            yield tell(seconds, *_length_path(seen), seconds=f"{stood:g}", length=f"{length:g}")


@rules.rule(
    "contradiction-held-too-short",
    severity=SHOULD,
    message=N_("“Stood for the full time” and {seconds} s of {length} s do not fit. Look again at one of them."),
    why=N_("A stance that was not held to the end was lost or stopped."),
)
def held_too_short(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A trial was held, yet for less than its length."""
    length = _length(seen)
    for _sway, seconds, ended in trials():
        stood = seen.value(seconds)
        if stood is not None and stood < length and seen.is_(ended, "held").met:
            yield tell(seconds, ended, *_length_path(seen), seconds=f"{stood:g}", length=f"{length:g}")


@rules.rule(
    "contradiction-lost-at-full-time",
    severity=SHOULD,
    message=N_("A stance that was lost and the full {length} s do not fit. Look again at one of them."),
    why=N_("Whoever stood for the whole trial held it."),
)
def lost_at_full_time(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A trial was lost, yet lasted its whole length."""
    length = _length(seen)
    for _sway, seconds, ended in trials():
        if seen.value(seconds) == length and seen.is_(ended, "stepped", "fell", "needed_support").met:
            yield tell(seconds, ended, *_length_path(seen), length=f"{length:g}")


@rules.rule(
    "contradiction-no-sway-yet-fell",
    severity=SHOULD,
    message=N_("No sway and a fall do not fit. Look again at one of them."),
    why=N_("Whoever falls sways first; a fall without sway is a faint or a drop of another kind."),
)
def no_sway_yet_fell(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A trial shows no sway, yet ended in a fall."""
    for sway, _seconds, ended in trials():
        if seen.is_(sway, "none").met and seen.is_(ended, "fell").met:
            yield tell(sway, ended)


@rules.rule(
    "contradiction-no-vision-yet-change",
    severity=SHOULD,
    message=N_("No useful vision and a change on closing the eyes do not fit. Look again at one of them."),
    why=N_("Closing eyes that see nothing takes nothing away."),
)
def no_vision_yet_change(seen: Seen, reading: Reading) -> Iterator[Call]:
    """There is no useful vision, yet the stance changes on closing the eyes."""
    if not seen.is_(USEFUL_VISION, "none").met:
        return
    if seen.is_(EO_ENDED, "held").met and seen.is_(EC_ENDED, *LOST).met:
        yield tell(USEFUL_VISION, EO_ENDED, EC_ENDED)
    elif seen.is_(EO_SWAY, "none", "slight").met and seen.is_(EC_SWAY, "marked").met:
        yield tell(USEFUL_VISION, EO_SWAY, EC_SWAY)


@rules.rule(
    "contradiction-no-vision-yet-acuity",
    severity=SHOULD,
    message=N_("No useful vision and a visual acuity above 0.05 do not fit. Look again at one of them."),
    why=N_("0.05 is where blindness begins."),
)
def no_vision_yet_acuity(seen: Seen, reading: Reading) -> Iterator[Call]:
    """There is no useful vision, yet an acuity above 0.05."""
    if seen.is_(USEFUL_VISION, "none").met:
        seeing = [
            VISUAL_ACUITY[side] for side in SIDES if seen.test(VISUAL_ACUITY[side], lambda found: found > 0.05).met
        ]
        if seeing:
            yield tell(USEFUL_VISION, *seeing)


@rules.rule(
    "contradiction-normal-gait-with-help",
    severity=SHOULD,
    message=N_("A normal gait and that walking aid do not fit. Look again at one of them."),
    why=N_("A frame, a wheelchair or a person's arm is not needed for a normal gait."),
)
def normal_gait_with_help(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The gait is normal, yet with a frame, a wheelchair or a person's help."""
    if seen.has(GAIT, "normal").met and seen.is_(AID, "frame", "wheelchair", "one_person", "two_people").met:
        yield tell(AID, GAIT)


@rules.rule(
    "contradiction-narrow-base-yet-ataxic",
    severity=SHOULD,
    message=N_("A narrow base and an ataxic gait do not fit. Look again at one of them."),
    why=N_("An ataxic gait widens the base."),
)
def narrow_base_yet_ataxic(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The base is narrow, yet the gait ataxic or lurching."""
    if seen.is_(BASE, "narrow").met and seen.has(GAIT, "ataxic", "lurching").met:
        yield tell(BASE, GAIT)


@rules.rule(
    "contradiction-cannot-stand-yet-standing-pressure",
    severity=SHOULD,
    message=N_("“Cannot stand” and a pressure taken standing do not fit. Look again at one of them."),
    why=N_("Either the person stood, or the pressure was taken otherwise."),
)
def cannot_stand_yet_standing_pressure(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The person cannot stand, yet a pressure was taken standing."""
    if seen.has(CAUTIONS, "cannot_stand").met and seen.any_value(AT_ONCE, AT_1_MIN, AT_3_MIN):
        yield tell(CAUTIONS, *(ref for ref in (AT_ONCE, AT_1_MIN, AT_3_MIN) if seen.any_value(ref)))


@rules.rule(
    "contradiction-fast-with-frame",
    severity=SHOULD,
    message=N_("Up and go in {seconds} s and a frame do not fit. Look again at one of them."),
    why=N_("Eight seconds is fast without any aid."),
)
def fast_with_frame(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Timed up and go takes eight seconds or less, yet with a frame."""
    seconds = seen.value(UP_AND_GO)
    if seconds is not None and seconds <= 8 and seen.is_(AID, "frame").met:
        yield tell(AID, UP_AND_GO, seconds=f"{seconds:g}")


@rules.rule(
    "contradiction-fast-yet-shuffling",
    severity=SHOULD,
    message=N_("Ten metres in {seconds} s and a shuffling or magnetic gait do not fit. Look again at one of them."),
    why=N_("Two metres a second is nearly a run."),
)
def fast_yet_shuffling(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Ten metres take five seconds or less, yet the gait is magnetic or shuffling."""
    seconds = seen.value(TEN_METRE)
    if seconds is not None and seconds <= 5 and seen.has(GAIT, "magnetic", "shuffling").met:
        yield tell(GAIT, TEN_METRE, seconds=f"{seconds:g}")


@rules.rule(
    "contradiction-cannot-sit-yet-stood",
    severity=SHOULD,
    message=N_("“Cannot sit” and a stance that was held do not fit. Look again at one of them."),
    why=N_("Whoever can't sit can't stand."),
)
def cannot_sit_yet_stood(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The person cannot sit, yet held a stance."""
    if seen.is_(SITTING, "cannot_sit").met:
        held = [ended for _sway, _seconds, ended in trials() if seen.is_(ended, "held").met]
        if held:
            yield tell(SITTING, *held)


@rules.rule(
    "contradiction-recovers-yet-fell-backward",
    severity=SHOULD,
    message=N_("A fall backward with eyes open and recovery on the pull test do not fit. Look again at one of them."),
    why=N_("The pull test pulls backward."),
)
def recovers_yet_fell_backward(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The pull test recovers, yet the person fell backward with eyes open."""
    fell_backward = seen.is_(EO_ENDED, "fell").met and seen.is_(EO_DIRECTION, "backward").met
    if fell_backward and seen.is_(PULL_TEST, "recovers").met:
        yield tell(EO_ENDED, EO_DIRECTION, PULL_TEST)


@rules.rule(
    "contradiction-single-leg-yet-unsteady",
    severity=SHOULD,
    message=N_(
        "Twenty seconds on one leg and unsteadiness on both with eyes open do not fit. Look again at one of them."
    ),
    why=N_("One leg asks more of balance than two."),
)
def single_leg_yet_unsteady(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Twenty seconds or more on one leg, yet unsteady on both with eyes open."""
    unsteady = unsteady_eyes_open(seen)
    if unsteady.met:
        legs = [SINGLE_LEG_OPEN[side] for side in SIDES if seen.test(SINGLE_LEG_OPEN[side], lambda s: s >= 20).met]
        if legs:
            yield tell(*unsteady.because, *legs)
