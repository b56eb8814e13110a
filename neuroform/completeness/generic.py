"""Rules that hold for every item: blank, on one side only, a trial without its parts.

Errs towards asking.
"""

from collections.abc import Iterator
from functools import cache

from neuroform.completeness.rule import MUST, SHOULD, Call, Rules, ask, look
from neuroform.completeness.seen import Seen, without_side
from neuroform.exam.circulation import Pressure
from neuroform.exam.findings import Examined
from neuroform.exam.walk import entries
from neuroform.language import N_
from neuroform.reasoning.facts import Ref
from neuroform.reasoning.items import CAUTIONS
from neuroform.reasoning.results import Reading

rules = Rules()

_ONE_SIDE_IS_ENOUGH = (
    "head_and_eyes.positional_latency_seconds",
    "head_and_eyes.positional_duration_seconds",
    "sensation.distribution",
    "motor.hoover",
    "motor.hip_abductor_sign",
    "motor.give_way",
)
"""What is recorded of the affected side alone."""


@rules.rule(
    "item-of-the-examination-blank",
    severity=MUST,
    message=N_("Blank: {items}. Examine it, or say why not."),
    why=N_("Not examined is never normal."),
    last=True,
)
def item_of_the_examination_blank(seen: Seen, reading: Reading) -> Iterator[Call]:
    """An item of the protocol is blank and no other rule asks for it with the same force.

    Why: not examined is never normal.
    """
    blank: dict[str, list[str]] = {}
    for path in seen.lacking:
        blank.setdefault(without_side(path), []).append(path)
    for paths in blank.values():
        yield ask(*paths)


@rules.rule(
    "one-side-missing",
    severity=MUST,
    message=N_("One side alone is recorded; the other is blank: {items}."),
    why=N_("There is no comparison from one side."),
)
def one_side_missing(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A sided item has a value on one side and is blank on the other.

    Why: no comparison from one side.
    """
    found = seen.found
    for right, left in _sided():
        if (right in found) != (left in found):
            blank, there = (left, right) if right in found else (right, left)
            if isinstance(found[there], Examined):
                yield ask(blank, severity=MUST if blank in seen.needed else SHOULD)


@cache
def _sided() -> tuple[tuple[str, str], ...]:
    return tuple((at.paths[0], at.paths[1]) for at in entries() if at.sided and at.path not in _ONE_SIDE_IS_ENOUGH)


@rules.rule(
    "trial-without-its-parts",
    severity=MUST,
    message=N_("A trial was begun, but parts of it are blank: {items}."),
    why=N_("How much someone sways, for how long, and how it ended are three observations."),
)
def trial_without_its_parts(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Sway, seconds or how it ended is blank while another of them is recorded.

    Why: they are three observations, and the test rests on all of them.
    """
    for parts in trials():
        if seen.any_value(*parts):
            yield ask(*parts)


@cache
def trials() -> tuple[tuple[Ref[str], Ref[float], Ref[str]], ...]:
    """Return sway, seconds and ending of every timed stance."""
    starts = [at.path.removesuffix(".sway") for at in entries() if at.path.endswith(".sway")]
    return tuple((Ref(f"{start}.sway"), Ref(f"{start}.seconds"), Ref(f"{start}.ended")) for start in starts)


@rules.rule(
    "pulse-missing",
    severity=MUST,
    message=N_("The pulse is missing beside the pressure: {items}."),
    why=N_("Autonomic failure and shock show in the pulse first."),
)
def pulse_missing(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A pressure that needs the pulse beside it lacks it.

    Why: autonomic failure and shock show in the pulse first.
    """
    for item in seen.protocol.with_pulse:
        pressure: Ref[Pressure] = Ref(item)
        found = seen.value(pressure)
        if found is not None and found.pulse is None:
            yield look(pressure)


@rules.rule(
    "earlier-examination-missing",
    severity=MUST,
    message=N_("A follow-up needs the examination it follows: open it from there."),
    why=N_("What was abnormal, deferred or without equipment then is to be looked at again."),
)
def earlier_examination_missing(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A follow-up stands alone.

    Why: what was abnormal, deferred or without equipment then is to be looked at again.
    """
    if seen.protocol.follows and seen.earlier is None:
        yield look("encounter.protocol")


@rules.rule(
    "vibration-not-comparable",
    severity=SHOULD,
    message=N_("Vibration was tested by another method than last time and is not comparable: {items}."),
    why=N_("Methods are never turned into one another; only the same one shows a change."),
)
def vibration_not_comparable(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A follow-up tested vibration at the great toe by another method than the examination it follows.

    Why: only the same method shows a change.
    """
    if not seen.protocol.follows or seen.earlier is None:
        return
    kinds = ("vibration", "vibration_score", "vibration_seconds")
    paths = [f"sensation.{kind}.great_toe.{side}" for kind in kinds for side in ("right", "left")]
    then = {path for path in paths if seen.earlier.value(Ref(path)) is not None}
    now = [path for path in paths if seen.value(Ref(path)) is not None]
    if then and now and then.isdisjoint(now):
        yield look(*now)


def neck_not_asked(seen: Seen) -> bool:
    """Tell whether nobody asked about the neck yet: a list nobody filled is not "none"."""
    return seen.blank(CAUTIONS)
