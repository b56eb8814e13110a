"""The pattern "no abnormality": every item of a full examination recorded and normal.

Errs towards not saying it: what is blank, unexamined, uncertain, common at this age or clouded by something recorded
keeps it below `supported`.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Literal

from neuroform.exam.examination import SECTIONS
from neuroform.exam.walk import OTHER, SIDES, Side, entries
from neuroform.language import N_, _
from neuroform.reasoning.facts import Facts, Ref, SidedRef
from neuroform.reasoning.items import (
    AID,
    ANKLE_REFLEX,
    AT_1_MIN,
    AT_3_MIN,
    BASE,
    BLADDER,
    CAUTIONS,
    CORE_POWER,
    COURSE,
    DAYS,
    EC_ENDED,
    EC_SECONDS,
    EC_SWAY,
    EO_ENDED,
    EO_SECONDS,
    EO_SWAY,
    FALLS,
    FEET,
    FINGER_NOSE,
    GAIT,
    GAZE_EVOKED,
    HEAD_IMPULSE,
    HEEL_SHIN,
    JP_TOE,
    KNEE_REFLEX,
    LIMB_ABSENT,
    LIMB_IMMOBILISED,
    LYING,
    NYSTAGMUS,
    ONSET,
    PINPRICK,
    PLANTAR,
    SCORE_TOE,
    SPEECH,
    STAND_BY,
    SYMPTOMS,
    TANDEM,
    TONE,
    USEFUL_VISION,
    VIB_SECONDS_TOE,
    VIB_TOE,
    WALKS_UNAIDED,
)
from neuroform.reasoning.marks import mark
from neuroform.reasoning.mechanism import in_bedside_order
from neuroform.reasoning.results import Paths, PatternReading, Verdict
from neuroform.reasoning.sensory_signs import vibration_paths
from neuroform.reasoning.signs import sym
from neuroform.reasoning.stance_test import stance

NAME = "no_abnormality"
LABEL = N_("no abnormality")
OLD = 60
"""From this age in years absent vibration and ankle reflexes are common (Vrancken 2006, J Neurol 253:578-589)."""
TANDEM_TELLS_UNDER = 75

State = Literal["normal", "abnormal", "clouded", "reason", "blank"]
"""Clouded: recorded, but neither normal nor abnormal with confidence."""

_HISTORY: tuple[Ref[Any], ...] = (
    SYMPTOMS,
    CAUTIONS,
    FALLS,
    WALKS_UNAIDED,
    BLADDER,
    AID,
    USEFUL_VISION,
    STAND_BY,
    FEET,
)
"""Items that need a value and are never abnormal in this sense."""
_STORY: tuple[Ref[Any], ...] = (ONSET, DAYS, COURSE)
"""Asked for as soon as there is a symptom."""
_TRIALS: tuple[tuple[Ref[Any], Ref[Any], Ref[Any]], ...] = (
    (EO_SWAY, EO_SECONDS, EO_ENDED),
    (EC_SWAY, EC_SECONDS, EC_ENDED),
)
_BY_MARK: tuple[str, ...] = (
    *(ref.path for ref in (BASE, GAIT, SPEECH, NYSTAGMUS, GAZE_EVOKED)),
    *(
        both[side].path
        for both in (TONE, *CORE_POWER, JP_TOE, PINPRICK, HEEL_SHIN, FINGER_NOSE, HEAD_IMPULSE)
        for side in SIDES
    ),
)
"""Items that their mark alone judges."""
_DIMINISHED = ("reduced", "with_reinforcement")
_OUTSIDE: tuple[Paths, ...] = tuple(
    tuple(path for at in entries() if at.section == section for path in at.paths)
    for section in SECTIONS
    if section not in ("context", "conclusion")
)
"""Of every section that may hold something abnormal, what stands in it."""


Judged = tuple[str, State]
"""The path of a finding, and what it says about being normal."""


def core_paths(facts: Facts) -> tuple[str, ...]:
    """Return the whole paths that a full examination asks for here; vibration by its words."""
    return tuple(path for path, _state in _core(facts))


def read_no_abnormality(facts: Facts, others: Sequence[PatternReading]) -> PatternReading:
    """Return the verdict "no abnormality", given those on every other pattern."""
    judged = (*_core(facts), *_outside(facts))
    states = {state: tuple(path for path, of in judged if of == state) for state in ("normal", "clouded", "abnormal")}
    missing = tuple(path for path, state in judged if state in ("blank", "reason"))
    clouding = in_bedside_order((states["clouded"], *_clouding(facts, others)))
    verdict = _verdict(judged, clouded=bool(clouding))
    return PatternReading(
        pattern=NAME,
        side=None,
        verdict=verdict,
        supporting=in_bedside_order((states["normal"],)),
        opposing=in_bedside_order((states["abnormal"], clouding)),
        missing=in_bedside_order((missing,)),
        because=_(_BECAUSE[verdict]),
        argued_against=verdict == "unlikely",
    )


_BECAUSE: Mapping[Verdict, str] = {
    "supported": N_("Every item of a full examination is recorded and normal."),
    "possible": N_("Nothing abnormal was recorded, but not every item could be examined or judged."),
    "unlikely": N_("Something abnormal was recorded."),
    "not_assessable": N_("Nothing abnormal was recorded, but items of a full examination are blank."),
}


def _verdict(judged: Iterable[Judged], *, clouded: bool) -> Verdict:
    states = {state for _path, state in judged}
    steps: tuple[tuple[bool, Verdict], ...] = (
        ("abnormal" in states, "unlikely"),
        ("blank" in states or "normal" not in states, "not_assessable"),
        ("reason" in states or clouded, "possible"),
    )
    return next((verdict for holds, verdict in steps if holds), "supported")


def _core(facts: Facts) -> tuple[Judged, ...]:
    return facts.once("core", lambda: tuple(_judged_core(facts)))


def _judged_core(facts: Facts) -> Iterator[Judged]:
    told = bool(facts.found.get(SYMPTOMS.path))
    for ref in (*_HISTORY, *(_STORY if told else ())):
        yield (ref.path, _recorded(facts, ref))
    for sway, seconds, ended in _TRIALS:
        yield from _trial(facts, sway, seconds, ended)
    yield from [(path, _STATES[mark(facts, path)]) for path in _BY_MARK]
    yield TANDEM.path, _tandem(facts)
    for side in SIDES:
        yield KNEE_REFLEX[side].path, _reflex(facts, KNEE_REFLEX, side)
        yield ANKLE_REFLEX[side].path, _reflex(facts, ANKLE_REFLEX, side)
        yield PLANTAR[side].path, _plantar(facts, side)
        yield from _vibration(facts, side)


def _recorded(facts: Facts, ref: Ref[Any]) -> State:
    if facts.blank(ref):
        return "blank"
    return "normal" if facts.value(ref) is not None else "reason"


def _trial(facts: Facts, sway: Ref[Any], seconds: Ref[Any], ended: Ref[Any]) -> Iterator[Judged]:
    """A reason on the sway covers the whole trial."""
    if facts.reason(sway) is not None:
        yield (sway.path, "reason")
        return
    yield (sway.path, _part_of_trial(facts, sway))
    yield (seconds.path, _recorded(facts, seconds))
    yield (ended.path, _part_of_trial(facts, ended))


def _part_of_trial(facts: Facts, ref: Ref[Any]) -> State:
    """Moderate sway with eyes closed is not abnormal; a trial the examiner stopped says neither."""
    value = facts.value(ref)
    if ref is EC_SWAY and value == "moderate":
        return "normal"
    return "clouded" if ref is EC_ENDED and value == "stopped_early" else _by_mark(facts, ref.path)


def _tandem(facts: Facts) -> State:
    """From 75 years no number of steps is abnormal."""
    old = facts.age >= TANDEM_TELLS_UNDER and facts.value(TANDEM) is not None
    return "normal" if old else _by_mark(facts, TANDEM.path)


def _plantar(facts: Facts, side: Side) -> State:
    return "normal" if facts.value(PLANTAR[side]) == "mute" else _by_mark(facts, PLANTAR[side].path)


def _reflex(facts: Facts, reflex: SidedRef[Any], side: Side) -> State:
    """Brisk or reduced reflexes are not abnormal when alike; absent ankle reflexes are common from 60 years."""
    here, there = facts.value(reflex[side]), facts.value(reflex[OTHER[side]])
    common = reflex is ANKLE_REFLEX and facts.age >= OLD
    low = ("absent", *_DIMINISHED) if common else _DIMINISHED
    if here == "brisk":
        return _alike(there, ("brisk",), "normal")
    if here in _DIMINISHED:
        return "clouded" if there == "absent" and common else _alike(there, low, "normal")
    if here == "absent" and common:
        return _alike(there, low, "clouded")
    return _by_mark(facts, reflex[side].path)


def _alike(there: str | None, like: Sequence[str], state: State) -> State:
    """Return `state` when the other side is alike; one side alone says nothing, and a difference is abnormal."""
    if there is None:
        return "clouded"
    return state if there in like else "abnormal"


def _by_mark(facts: Facts, path: str) -> State:
    return _STATES[mark(facts, path)]


_STATES: Mapping[str, State] = {
    "normal": "normal",
    "abnormal": "abnormal",
    "borderline": "clouded",
    "neutral": "clouded",
    "not_examined": "reason",
    "blank": "blank",
}


def _vibration(facts: Facts, side: Side) -> Iterator[Judged]:
    """One method answers it; every one recorded is judged."""
    paths = vibration_paths(side)
    valued = tuple(ref[side] for ref in _VIBRATION if facts.value(ref[side]) is not None)
    if valued:
        yield from ((ref.path, _vibration_state(facts, ref.path)) for ref in valued)
        return
    reasons = tuple(path for path in paths if path in facts.found)
    yield (reasons[0], "reason") if reasons else (paths[0], "blank")


_VIBRATION: tuple[SidedRef[Any], ...] = (VIB_TOE, SCORE_TOE, VIB_SECONDS_TOE)


def _vibration_state(facts: Facts, path: str) -> State:
    """Absent vibration in the feet, by the examiner's word, is common from 60 years."""
    word = facts.value(Ref[Any](path))
    return "clouded" if word == "absent" and facts.age >= OLD else _by_mark(facts, path)


def _outside(facts: Facts) -> Iterator[Judged]:
    """Yield what else is recorded and not plainly normal."""
    core: set[str] | None = None
    for paths in _OUTSIDE:
        for path, state in facts.kept(_not_normal, paths):
            core = core or {path for path, _state in _core(facts)}
            if path not in core:
                yield (path, state)


def _not_normal(facts: Facts, paths: Paths) -> list[Judged]:
    found = facts.found
    return [(path, state) for path in paths if path in found and (state := _state_outside(facts, path))]


def _state_outside(facts: Facts, path: str) -> State | None:
    marked = mark(facts, path)
    if marked == "borderline":
        return "clouded"
    if marked != "abnormal":
        return None
    return "clouded" if facts.age >= OLD and path.startswith(_COMMON_FROM_60) else "abnormal"


_COMMON_FROM_60 = ("standing.foam.", "sensation.vibration.medial_malleolus.")


def _clouding(facts: Facts, others: Sequence[PatternReading]) -> Iterator[Paths]:
    """Yield what keeps it from being supported although it is not abnormal by itself."""
    stood = stance(facts)
    if stood.result != "negative":
        yield stood.items
    yield tuple(ref.path for ref in (LIMB_ABSENT, LIMB_IMMOBILISED) if facts.value(ref))
    if sym(facts, "light_headedness", "fainting", "falls").met and not _pressures_taken(facts):
        yield (SYMPTOMS.path,)
    for other in others:
        if other.strong and other.verdict in ("supported", "possible"):
            yield other.supporting


def _pressures_taken(facts: Facts) -> bool:
    standing = any(facts.value(ref) is not None for ref in (AT_1_MIN, AT_3_MIN))
    return standing and facts.value(LYING) is not None
