"""What light-headedness, falls and a falling pressure ask for.

Errs towards asking.
"""

from collections.abc import Iterator

from neuroform.completeness.rule import MUST, NOTICE, SHOULD, Call, Rules, ask, look
from neuroform.completeness.seen import Seen
from neuroform.language import N_
from neuroform.reasoning.items import AT_1_MIN, AT_3_MIN, LYING, LYING_MINUTES
from neuroform.reasoning.pressure_signs import orthostatic_fall
from neuroform.reasoning.results import Reading
from neuroform.reasoning.signs import sym

rules = Rules()

LEAST_LYING = 5
"""Minutes lying before the first reading (Freeman 2011)."""


@rules.rule(
    "pressures-with-light-headedness",
    severity=MUST,
    message=N_("Light-headedness, fainting or falls are told; blood pressure lying and standing is blank: {items}."),
    why=N_("A fall of pressure on standing is common, and treatable."),
    source=N_("Freeman 2011"),
)
def pressures_with_light_headedness(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Light-headedness or fainting, or falls, and no pressures lying and standing.

    Why: a fall of pressure is common and treatable.
    """
    faint = sym(seen, "light_headedness", "fainting").met
    if not faint and not sym(seen, "falls").met:
        return
    measured = seen.answered(LYING.path) and (seen.answered(AT_1_MIN.path) or seen.answered(AT_3_MIN.path))
    if not measured and not seen.barred(AT_1_MIN.path):
        yield ask(LYING, AT_1_MIN, AT_3_MIN, severity=MUST if faint else SHOULD)


@rules.rule(
    "pressure-third-minute",
    severity=SHOULD,
    message=N_("No fall of pressure at one minute, and three minutes are blank. Measure again."),
    why=N_("The pressure may fall only by the third minute."),
    source=N_("Freeman 2011"),
)
def pressure_third_minute(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The pressure at one minute is recorded, the one at three is blank, and there is no fall yet.

    Why: it may fall by the third minute (Freeman 2011).
    """
    if seen.any_value(AT_1_MIN) and not orthostatic_fall(seen).met:
        yield ask(AT_3_MIN)


@rules.rule(
    "lying-too-short",
    severity=NOTICE,
    message=N_("The first pressure was taken after less than five minutes lying."),
    why=N_("A fall is measured from rest."),
    source=N_("Freeman 2011"),
)
def lying_too_short(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Lying lasted less than five minutes.

    Why: a fall is measured from rest.
    """
    if seen.test(LYING_MINUTES, lambda minutes: minutes < LEAST_LYING).met:
        yield look(LYING_MINUTES)


@rules.rule(
    "pulse-with-pressure-fall",
    severity=SHOULD,
    message=N_("The pressure falls, and the pulse is blank: {items}."),
    why=N_("A pulse that rises little suggests a neurogenic cause."),
    source=N_("Norcliffe-Kaufmann 2018, from memory"),
)
def pulse_with_pressure_fall(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The pressure falls on standing, and a pulse is missing beside it.

    Why: a pulse that rises little suggests a neurogenic cause.
    """
    fall = orthostatic_fall(seen)
    if fall.met:
        refs = {ref.path: ref for ref in (LYING, AT_1_MIN, AT_3_MIN)}
        without = [
            path for path in fall.because if (found := seen.value(refs[path])) is not None and found.pulse is None
        ]
        if without:
            yield look(*without)
