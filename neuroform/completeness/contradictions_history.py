"""Things told, written and dated that do not fit: both are named, neither is chosen."""

from collections.abc import Iterator

from neuroform.completeness.rule import MUST, SHOULD, Call, Rules, tell
from neuroform.completeness.seen import Seen
from neuroform.exam.findings import Examined
from neuroform.language import N_
from neuroform.reasoning.items import (
    BLADDER,
    COURSE,
    DAYS,
    FALL_INJURY,
    FALLS,
    ONSET,
    POSITIONAL,
    SYMPTOMS,
    VERTIGO_NOW,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.signs import sym

rules = Rules()

CHRONIC_DAYS, ACUTE_DAYS = 28, 60


@rules.rule(
    "contradiction-positional-without-vertigo",
    severity=SHOULD,
    message=N_(
        "A positional course and tests of vertigo do not fit symptoms without vertigo. Look again at one of them."
    ),
    why=N_("Whoever has positional vertigo tells of vertigo."),
)
def positional_without_vertigo(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Vertigo is not among the symptoms, yet the course is positional and items of vertigo are filled."""
    if sym(seen, "vertigo").met is False and seen.is_(COURSE, "positional").met:
        filled = [ref for ref in (VERTIGO_NOW, POSITIONAL.right, POSITIONAL.left) if seen.any_value(ref)]
        if filled:
            yield tell(SYMPTOMS, COURSE, *filled)


@rules.rule(
    "contradiction-onset-and-duration",
    severity=SHOULD,
    message=N_("That onset and {days} days do not fit. Look again at one of them."),
    why=N_("The tempo decides which urgent findings are raised."),
)
def onset_and_duration(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A chronic onset within 28 days, or a sudden or acute one over 60 days ago that is neither over nor in attacks."""
    days = seen.value(DAYS)
    if days is None:
        return
    young = seen.is_(ONSET, "chronic").met and days <= CHRONIC_DAYS
    lasting = not seen.is_(COURSE, "resolved", "episodic", "positional").met
    old = seen.is_(ONSET, "sudden", "acute").met and days > ACUTE_DAYS and lasting
    if young or old:
        yield tell(ONSET, DAYS, days=f"{days:g}")


@rules.rule(
    "contradiction-bladder-normal-yet-retention",
    severity=MUST,
    message=N_("Retention is told and the bladder is normal: they do not fit. Look again at one of them."),
    why=N_("Retention changes hours to minutes."),
)
def bladder_normal_yet_retention(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Urinary retention is told, yet the bladder is normal."""
    if seen.is_(BLADDER, "normal").met and sym(seen, "urinary_retention").met:
        yield tell(SYMPTOMS, BLADDER)


@rules.rule(
    "contradiction-no-falls-yet-told",
    severity=MUST,
    message=N_("No falls in the past year does not fit falls or an injury from one. Look again at one of them."),
    why=N_("Falls with injury are urgent."),
)
def no_falls_yet_told(seen: Seen, reading: Reading) -> Iterator[Call]:
    """No falls were counted, yet falls are told or one injured."""
    if seen.value(FALLS) != 0:
        return
    told = [SYMPTOMS] if sym(seen, "falls").met else []
    hurt = [FALL_INJURY] if seen.test(FALL_INJURY, lambda found: found != "none").met else []
    if told or hurt:
        yield tell(FALLS, *told, *hurt)


_NOT_DONE = ("not done", "not tested", "not examined")


@rules.rule(
    "contradiction-value-yet-not-done",
    severity=MUST,
    message=N_(
        "A value and a comment that says it was not done do not fit: {items}. Give a reason instead of a value."
    ),
    why=N_("What was not examined must never pass for a finding."),
)
def value_yet_not_done(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A finding has a value, yet its comment begins with "not done" or "not tested"."""
    for path, found in seen.remarked:
        if isinstance(found, Examined) and (found.comment or "").strip().casefold().startswith(_NOT_DONE):
            yield tell(path)


@rules.rule(
    "contradiction-examined-in-the-future",
    severity=MUST,
    message=N_("The time of the examination lies in the future. Change it."),
    why=N_("Age, and every limit by age, are counted from it."),
)
def examined_in_the_future(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The examination is dated in the future."""
    if seen.dated_ahead:
        yield tell("encounter.examined_at")
