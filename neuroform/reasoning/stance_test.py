"""The stance test (feet together, eyes open, then closed): the change on closing the eyes is the test.

Errs towards "cannot be judged": a trial that does not show what happened decides nothing, and a negative or
eyes-open-unsteady test excludes nothing.
"""

from typing import Any

from neuroform.exam.findings import REASONS
from neuroform.exam.standing import Ended, Sway
from neuroform.exam.walk import SIDES
from neuroform.language import _, in_english
from neuroform.reasoning.facts import Facts, Ref, Sign, any_of, merged, whole
from neuroform.reasoning.functional_signs import functional_sign
from neuroform.reasoning.items import (
    EC_ENDED,
    EC_SWAY,
    EO_ENDED,
    EO_SWAY,
    FEET,
    LIMB_ABSENT,
    LIMB_IMMOBILISED,
    USEFUL_VISION,
)
from neuroform.reasoning.results import Paths, Stance
from neuroform.reasoning.signs import THREE, below, limb_missing, unsteady_eyes_open

LOST: tuple[Ended, ...] = ("stepped", "opened_eyes", "needed_support", "fell")
_TRIALS: tuple[Ref[Any], ...] = (EO_SWAY, EO_ENDED, EC_SWAY, EC_ENDED)


def stance(facts: Facts) -> Stance:
    """Judge the stance test, once for each examination."""
    return facts.once("stance", lambda: _eyes_open(facts))


@whole
def change(facts: Facts) -> Sign:
    """A clear change on closing the eyes: the result is positive or inconsistent."""
    found = stance(facts)
    if found.result in ("positive", "inconsistent"):
        return Sign(True, found.items)
    if found.result == "not_assessable":
        return Sign(None, (), _missing(facts), found.items)
    return Sign(False, found.items, (), found.items)


@whole
def no_change(facts: Facts) -> Sign:
    """The stance test is negative, feet together."""
    found = stance(facts)
    met = None if found.result == "not_assessable" else found.result == "negative"
    return Sign(met, found.items, _missing(facts) if met is None else ())


def _missing(facts: Facts) -> Paths:
    wanted = (*_TRIALS, FEET)
    return tuple(ref.path for ref in wanted if facts.value(ref) is None)


@in_english()  # its reason goes into the paragraph
def _eyes_open(facts: Facts) -> Stance:
    """Eyes open come first: without a steady start nothing can change."""
    sway, ended = facts.value(EO_SWAY), facts.value(EO_ENDED)
    if sway is None and ended is None:
        return _unclear(facts, _never_seen(facts, EO_SWAY, _("eyes open")))
    if ended == "stopped_early":
        return _unclear(facts, _("The stance with eyes open was stopped early."))
    if ended == "opened_eyes":
        return _unclear(facts, _("“Opened eyes” can't end a trial with eyes open."))
    unsteady = unsteady_eyes_open(facts)
    if unsteady.met:
        said = _("With eyes already open the sway was marked or the stance was lost; closing them can't show a change.")
        return Stance(result="unsteady_eyes_open", because=said, items=_rests(facts, unsteady.because))
    if sway is None or ended is None:
        return _unclear(facts, _("With eyes open the sway, or how it ended, was not recorded."))
    return _eyes_closed(facts)


def _eyes_closed(facts: Facts) -> Stance:
    open_sway, sway, ended = facts.value(EO_SWAY), facts.value(EC_SWAY), facts.value(EC_ENDED)
    if sway is None and ended is None:
        return _unclear(facts, _never_seen(facts, EC_SWAY, _("eyes closed")))
    if facts.value(USEFUL_VISION) == "none":
        return _unclear(facts, _("Without useful vision, closing the eyes takes nothing away."))
    if ended in LOST:
        return _lost(facts, "lost")
    rose = sway == "marked" and open_sway in ("none", "slight")
    if rose and ended == "stopped_early":
        return _lost(facts, "stopped_for_safety")
    if ended == "stopped_early":
        return _unclear(facts, _("The stance with eyes closed was stopped early."))
    if ended is None:
        return _unclear(facts, _("How the stance with eyes closed ended was not recorded."))
    if sway is None:
        return _unclear(facts, _("The sway with eyes closed was not recorded."))
    if rose:
        return _lost(facts, "by_sway_alone")
    return _held(facts, more=sway in ("moderate", "marked") and sway != open_sway)


def _never_seen(facts: Facts, sway: Ref[Sway], eyes: str) -> str:
    """Tell a stance that nobody recorded from one that was not examined, and why."""
    reason = facts.reason(sway)
    if reason is None:
        return _("The stance with {eyes} was not recorded.").format(eyes=eyes)
    return _("The stance with {eyes} was not examined ({reason}).").format(eyes=eyes, reason=_(REASONS[reason]))


def _lost(facts: Facts, how: str) -> Stance:
    """Judge a loss: weakness, a missing limb or a functional sign may be behind it."""
    weak = any_of(*(below(facts, side, THREE + 1) for side in SIDES))
    if weak.met:
        return _unclear(facts, _("The stance was lost, but power is 3 or less in a leg."), weak.because)
    feet, limb = facts.value(FEET), limb_missing(facts)
    if feet != "together" and limb.met:
        said = _("The stance was lost, not with feet together, and a limb is missing or immobilised.")
        return _unclear(facts, said, limb.because)
    functional = functional_sign(facts)
    if functional.met:
        said = _("A clear change on closing the eyes, together with a positive functional sign.")
        return Stance(result="inconsistent", because=said, items=_rests(facts, functional.because))
    if how == "lost":
        if feet == "apart":
            said = _("Lost on closing the eyes even with feet apart.")
            return Stance(result="positive", because=said, items=_rests(facts), how="feet_apart")
        said = _("Steady with eyes open; the stance was lost on closing them.")
        return Stance(result="positive", because=said, items=_rests(facts), how="lost")
    if how == "stopped_for_safety":
        said = _("Sway became marked on closing the eyes, and the examiner stopped for safety.")
        return Stance(result="positive", because=said, items=_rests(facts), how="stopped_for_safety")
    said = _("By sway alone, the weaker form: sway became marked on closing the eyes.")
    return Stance(result="positive", because=said, items=_rests(facts), how="by_sway_alone")


def _held(facts: Facts, *, more: bool) -> Stance:
    feet = facts.value(FEET)
    if feet == "apart":
        return _unclear(facts, _("Held, but with feet apart: a wide stance hides the effect."))
    if feet is None:
        return _unclear(facts, _("Held, but the position of the feet was not recorded."))
    said = _("Held with more sway with eyes closed.") if more else _("Held with eyes open and with eyes closed.")
    return Stance(result="negative", because=said, items=_rests(facts), how="more_sway" if more else "")


def _unclear(facts: Facts, because: str, more: Paths = ()) -> Stance:
    return Stance(result="not_assessable", because=because, items=_rests(facts, more))


def _rests(facts: Facts, more: Paths = ()) -> Paths:
    """Return every recorded finding that decides the test, and those named beside them."""
    wanted: tuple[Ref[Any], ...] = (*_TRIALS, FEET, USEFUL_VISION, LIMB_ABSENT, LIMB_IMMOBILISED)
    weak = (below(facts, side, THREE + 1) for side in SIDES)
    recorded = tuple(ref.path for ref in wanted if ref.path in facts.found)
    return merged((recorded, *(sign.because for sign in weak if sign.met), more))
