"""What vertigo and the eye signs ask for.

Errs towards asking, unless the neck is not safe.
"""

from collections.abc import Iterator

from neuroform.completeness.generic import neck_not_asked
from neuroform.completeness.rule import MUST, NOTICE, SHOULD, Call, Rules, ask, tell
from neuroform.completeness.seen import Seen
from neuroform.exam.walk import SIDES
from neuroform.language import N_
from neuroform.reasoning.facts import both_sides, plain
from neuroform.reasoning.items import (
    COURSE,
    GAIT,
    GAZE_EVOKED,
    HEAD_IMPULSE,
    HEAD_SHAKING,
    HEARING_LOSS,
    NYSTAGMUS,
    ON_FIXATION,
    POSITIONAL,
    POSITIONAL_SECONDS,
    ROLL_TEST,
    SITTING,
    SKEW,
    TRAINED,
    WALKS_UNAIDED,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.signs import impulse_normal, ongoing, sym

rules = Rules()

PLAN = plain(lambda e: e.conclusion.plan)


@rules.rule(
    "head-impulse-alone",
    severity=MUST,
    message=N_("Ongoing vertigo: head impulse, nystagmus and skew are read together. Blank: {items}."),
    why=N_("None of the three reassures without the others."),
    source=N_("Kattah 2009"),
)
def head_impulse_alone(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Ongoing vertigo with head impulse, nystagmus or skew recorded, and another of the three blank.

    Why: the three belong together (Kattah 2009).
    """
    if ongoing(seen).met and seen.any_value(HEAD_IMPULSE, NYSTAGMUS, SKEW):
        yield ask(NYSTAGMUS, SKEW, HEAD_IMPULSE)


@rules.rule(
    "gaze-evoked-missing-in-vertigo",
    severity=MUST,
    message=N_("Ongoing vertigo, and nystagmus changing with gaze is blank."),
    why=N_("Nystagmus that changes with gaze is central."),
    source=N_("Kattah 2009"),
)
def gaze_evoked_missing_in_vertigo(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Ongoing vertigo, and gaze-evoked nystagmus is blank.

    Why: it is central.
    """
    if ongoing(seen).met:
        yield ask(GAZE_EVOKED)


@rules.rule(
    "hearing-missing-in-vertigo",
    severity=MUST,
    message=N_("Ongoing vertigo, and new hearing loss is blank: {items}."),
    why=N_("New deafness with vertigo can be an infarct, whatever the head impulse shows."),
)
def hearing_missing_in_vertigo(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Ongoing vertigo, and new hearing loss is blank on a side.

    Why: an infarct may be in the labyrinth itself.
    """
    if ongoing(seen).met:
        yield ask(HEARING_LOSS)


@rules.rule(
    "walking-missing-in-vertigo",
    severity=MUST,
    message=N_("Ongoing vertigo, and neither sitting nor walking is recorded. Blank: {items}."),
    why=N_("Being unable to sit or walk points to a central cause when the eyes do not."),
    source=N_("Carmona 2016"),
)
def walking_missing_in_vertigo(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Ongoing vertigo; sitting balance, walking unaided and gait are all blank.

    Why: truncal ataxia (Carmona 2016).
    """
    if ongoing(seen).met and seen.none_answered(SITTING, WALKS_UNAIDED, GAIT):
        yield ask(WALKS_UNAIDED, SITTING, GAIT)


@rules.rule(
    "fixation-when-no-nystagmus",
    severity=SHOULD,
    message=N_("Ongoing vertigo without nystagmus. Look again without fixation."),
    why=N_("Fixation can hide the nystagmus of a labyrinth; without it the eye signs don't apply."),
)
def fixation_when_no_nystagmus(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Ongoing vertigo, no nystagmus, and not looked at without fixation.

    Why: look again without fixation.
    """
    if seen.is_(NYSTAGMUS, "none").met and ongoing(seen).met:
        yield ask(ON_FIXATION)


@rules.rule(
    "trained-examiner-not-stated",
    severity=SHOULD,
    message=N_("Whether the examiner is trained in the head impulse is blank."),
    why=N_("In untrained hands a head impulse does not reassure."),
    source=N_("NICE NG127"),
)
def trained_examiner_not_stated(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Ongoing vertigo with a head impulse recorded, and the examiner's training is blank.

    Why: the head impulse is for those trained in it (NICE NG127).
    """
    if ongoing(seen).met and seen.any_value(HEAD_IMPULSE):
        yield ask(TRAINED)


@rules.rule(
    "glucose-in-sudden-neurology",
    severity=NOTICE,
    message=N_("Check glucose, and record it in the plan."),
    why=N_("Low glucose imitates a stroke and is mended in minutes."),
)
def glucose_in_sudden_neurology(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Central signs in vertigo or sudden signs are raised, and the plan does not speak of glucose.

    Why: low glucose imitates a stroke.
    """
    codes = (
        "acute-vertigo-central-signs",
        "acute-vertigo-central-not-excluded",
        "sudden-cerebellar-or-hemispheric-signs",
    )
    if any(found.code in codes for found in reading.urgent):
        plan = (seen.value(PLAN) or "").casefold()
        if "glucose" not in plan and "sugar" not in plan:
            yield tell(PLAN)


@rules.rule(
    "positional-test-with-positional-course",
    severity=MUST,
    message=N_("Vertigo comes on moving the head, and the positional test is blank: {items}."),
    why=N_("It is curable at the bedside."),
    source=N_("von Brevern 2015"),
)
def positional_test_with_positional_course(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The course is positional, the neck is safe, there is no nystagmus, and the positional test is blank.

    Why: curable at the bedside (von Brevern 2015).
    """
    still = seen.value(NYSTAGMUS) in (None, "none")
    if still and seen.is_(COURSE, "positional").met and not neck_not_asked(seen):
        yield ask(POSITIONAL)


@rules.rule(
    "positional-duration",
    severity=SHOULD,
    message=N_("The positional test is positive; how long the nystagmus lasts is blank: {items}."),
    why=N_("Under a minute means canal stones, longer a stone on the cupula or a central cause."),
    source=N_("von Brevern 2015"),
)
def positional_duration(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The positional test is not negative, and the duration is blank.

    Why: canal stones or a central cause.
    """
    sides = [side for side in SIDES if seen.test(POSITIONAL[side], lambda found: found != "negative").met]
    if sides:
        yield ask(*(POSITIONAL_SECONDS[side] for side in sides))


@rules.rule(
    "roll-test-when-horizontal",
    severity=SHOULD,
    message=N_("The horizontal canal is in question, and the roll test is blank."),
    why=N_("The positional test can miss the horizontal canal."),
    source=N_("von Brevern 2015"),
)
def roll_test_when_horizontal(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The positional test is horizontal, or negative on both sides with a positional course; roll test blank.

    Why: the horizontal canal.
    """
    found = [seen.value(POSITIONAL[side]) for side in SIDES]
    missed = found == ["negative", "negative"] and seen.is_(COURSE, "positional").met
    if missed or "horizontal" in found:
        yield ask(ROLL_TEST)


@rules.rule(
    "head-shaking-after-old-vertigo",
    severity=NOTICE,
    message=N_("Vertigo is over and the head impulses are normal. Nystagmus after head shaking may still show a side."),
    why=N_("A partial old loss can show only then."),
)
def head_shaking_after_old_vertigo(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Vertigo is told but not ongoing, head impulses are normal on both sides, and head shaking is blank.

    Why: a partial old loss.
    """
    if both_sides(impulse_normal, seen).met and sym(seen, "vertigo").met and not ongoing(seen).met:
        yield ask(HEAD_SHAKING)
