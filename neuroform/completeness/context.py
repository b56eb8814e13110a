"""What the history lacks, and what was told there and asks for more.

Errs towards asking.
"""

from collections.abc import Iterator

from neuroform.completeness.rule import FROM_MEMORY, MUST, SHOULD, Call, Rules, ask
from neuroform.completeness.seen import Seen
from neuroform.language import N_
from neuroform.reasoning.facts import any_side, plain
from neuroform.reasoning.items import (
    BLADDER,
    CAUTIONS,
    COURSE,
    DAYS,
    FALL_INJURY,
    FALLS,
    HEAD_IMPULSE,
    ONSET,
    POSITIONAL,
    RESIDUAL,
    SPEECH,
    SYMPTOMS,
    VERTIGO_NOW,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.signs import lmn, saddle, sym, trunk_level, umn, weak

rules = Rules()

MEDICINES = plain(lambda e: e.context.balance_affecting_medicines)


@rules.rule(
    "cautions-not-recorded",
    severity=MUST,
    message=N_(
        "Cautions are blank. Ask about the neck, standing and anticoagulants first; a missing list is not “none”."
    ),
    why=N_("Which tests are unsafe is not known while nobody asked."),
)
def cautions_not_recorded(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The list of cautions is blank.

    Why: a missing list is not "none".
    """
    yield ask(CAUTIONS)


@rules.rule(
    "neck-not-asked-before-head-impulse",
    severity=MUST,
    message=N_("The head was moved quickly and cautions are blank. Ask about the neck."),
    why=N_("A head impulse or positional test can injure an unstable neck."),
    source=N_("NICE NG127"),
)
def neck_not_asked_before_head_impulse(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A head impulse or a positional test is recorded and cautions are blank.

    Why: it can injure the neck (NICE NG127).
    """
    if seen.any_value(HEAD_IMPULSE, POSITIONAL):
        yield ask(CAUTIONS)


@rules.rule(
    "symptoms-not-recorded",
    severity=MUST,
    message=N_("Symptoms are blank. Urgent findings can't see the story without them."),
    why=N_("Many urgent findings rest on what the person tells."),
)
def symptoms_not_recorded(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The list of symptoms is blank.

    Why: the urgent findings can't see the story.
    """
    yield ask(SYMPTOMS)


@rules.rule(
    "bladder-not-asked",
    severity=MUST,
    message=N_("The bladder is blank beside back pain, or signs of cord or roots. Ask now."),
    why=N_("A bladder that does not empty changes hours to minutes."),
)
def bladder_not_asked(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Signs of cord or roots, or back pain, and the bladder is blank.

    Why: it changes hours to minutes.
    """
    if (
        sym(seen, "back_pain").met
        or trunk_level(seen).met
        or saddle(seen).met
        or any_side(umn, seen).met
        or any_side(lmn, seen).met
    ):
        yield ask(BLADDER)


@rules.rule(
    "residual-urine-with-bladder-change",
    severity=SHOULD,
    message=N_("The bladder empties badly and residual urine is blank. Scan after voiding."),
    why=N_("More than 200 mL left means that it does not empty."),
    source=FROM_MEMORY,
)
def residual_urine_with_bladder_change(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Retention or hesitancy, and residual urine is blank.

    Why: over 200 mL the bladder does not empty (from memory).
    """
    if seen.is_(BLADDER, "retention", "hesitancy").met or sym(seen, "urinary_retention").met:
        yield ask(RESIDUAL)


@rules.rule(
    "onset-time-for-sudden",
    severity=MUST,
    message=N_("The onset was sudden and its time is blank. When was the person last well?"),
    why=N_("Treatment of a stroke is counted from when the person was last well."),
)
def onset_time_for_sudden(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A sudden onset without its time.

    Why: treatment is counted from when the person was last well.
    """
    if seen.is_(ONSET, "sudden").met:
        yield ask(DAYS)


@rules.rule(
    "speech-with-sudden-weakness",
    severity=SHOULD,
    message=N_("Sudden weakness of one leg, and speech is blank. Listen to it."),
    why=N_("Slurred speech beside a weak leg puts the lesion above the neck."),
)
def speech_with_sudden_weakness(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Sudden weakness of one side, and speech is blank.

    Why: it tells the brain from the cord.
    """
    if seen.is_(ONSET, "sudden").met and bool(weak(seen, "right").met) != bool(weak(seen, "left").met):
        yield ask(SPEECH)


@rules.rule(
    "course-missing-with-vertigo",
    severity=MUST,
    message=N_("Vertigo, and its course is blank. Is it there all the time, in attacks, or on moving the head?"),
    why=N_("The course decides how eye signs are read."),
)
def course_missing_with_vertigo(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Vertigo without its course.

    Why: it decides which rules apply.
    """
    if sym(seen, "vertigo").met or seen.is_(VERTIGO_NOW, "yes").met:
        yield ask(COURSE)


@rules.rule(
    "falls-count-and-injury",
    severity=SHOULD,
    message=N_("Falls are told; blank: {items}."),
    why=N_("How often, and whether anyone was hurt, decides how fast."),
)
def falls_count_and_injury(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Falls are told, but not how many or with what injury.

    Why: it decides how fast.
    """
    if sym(seen, "falls").met:
        yield ask(FALLS, FALL_INJURY)


@rules.rule(
    "anticoagulated-fall-head-injury-not-asked",
    severity=MUST,
    message=N_("Falls while anticoagulated, and injury is blank. Was the head hit?"),
    why=N_("A blow to the head under anticoagulation needs a scan."),
    source=N_("NICE NG232"),
)
def anticoagulated_fall_head_injury_not_asked(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Someone anticoagulated falls, and whether the head was hit is not known.

    Why: it needs a scan.
    """
    fell = sym(seen, "falls").met or seen.test(FALLS, lambda count: count > 0).met
    if seen.has(CAUTIONS, "anticoagulated").met and fell and not sym(seen, "head_injury").met:
        yield ask(FALL_INJURY)


@rules.rule(
    "medicines-missing",
    severity=SHOULD,
    message=N_("Unsteadiness, and medicines that affect balance are blank."),
    why=N_("They are the commonest reversible cause."),
)
def medicines_missing(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Unsteadiness is told, and medicines are blank.

    Why: the commonest reversible cause.
    """
    if sym(seen, "unsteadiness").met:
        yield ask(MEDICINES)
