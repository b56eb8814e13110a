"""How one finding is marked beside its row: normal, abnormal, borderline, or nothing said by it alone.

Errs towards saying nothing: a number without a limit at this age, site or method, and any number of someone under
eighteen, is neutral.
"""

from collections.abc import Callable, Iterator, Mapping
from functools import cache, partial
from typing import Any, Literal

from neuroform.exam.circulation import Pressure
from neuroform.exam.examination import Examination, age
from neuroform.exam.findings import Answers, Examined, NotExamined
from neuroform.exam.walk import SIDES, Entry, entries, get
from neuroform.reasoning.facts import Facts, SidedRef
from neuroform.reasoning.items import (
    AT_1_MIN,
    AT_3_MIN,
    AT_ONCE,
    BREATH_COUNT,
    CLONUS_BEATS,
    EC_ENDED,
    EC_SECONDS,
    EC_SWAY,
    EO_ENDED,
    EO_SECONDS,
    FOAM_EC_ENDED,
    FOAM_EC_SWAY,
    FOAM_EO_ENDED,
    FOAM_EO_SWAY,
    GAIN,
    JP_ANKLE,
    JP_FINGER,
    JP_KNEE,
    JP_TOE,
    LINES_LOST,
    LYING,
    RESIDUAL,
    SCORE_FINGER,
    SCORE_MALLEOLUS,
    SCORE_TOE,
    SINGLE_LEG_OPEN,
    TANDEM,
    TRIAL_SECONDS,
    UP_AND_GO,
    VIB_FINGER,
    VIB_ILIAC,
    VIB_MALLEOLUS,
    VIB_SECONDS_TOE,
    VIB_TIBIA,
    VIB_TOE,
)
from neuroform.reasoning.pressure_signs import falls_between
from neuroform.reasoning.results import Mark
from neuroform.reasoning.sensory_signs import JointFound, joint_verdict
from neuroform.reasoning.signs import CLONUS_SUSTAINED, RETAINED_ML
from neuroform.reference.blood_pressure import orthostatic
from neuroform.reference.head_impulse import gain_limit
from neuroform.reference.results import ADULT, Limit, Refusal
from neuroform.reference.stance import single_leg_fall_risk
from neuroform.reference.vibration import fork_verdict, seconds_verdict, vibration_limit, word_verdict
from neuroform.reference.walking import tandem_limit, up_and_go_falls

LINES_LOST_FROM = 3
"""Lines of acuity lost on head shaking that are abnormal; common practice."""
BREATH_FROM = 20
"""Number counted in one breath below which the breathing muscles may be weak; from memory."""
USUAL_TRIAL = 30.0
"""Seconds of a trial of standing that says nothing of its length; common practice."""
STANCE_LOST = frozenset({"stepped", "opened_eyes", "needed_support", "fell"})
"""Ends of a trial that are the person's own; a trial that the examiner stopped says nothing by its length."""
OLD = 60
"""From this age in years slow rising and short standing on one leg were tied to falls."""

Judge = Callable[[Any, int, Callable[[str], Any]], Mark]
"""From a value, the age, and the other findings by their paths, to a mark."""
Find = Callable[[int], Limit | Refusal]

_VIBRATION: Mapping[str, Mark] = {
    "normal": "normal",
    "borderline": "borderline",
    "weak": "borderline",
    "lost": "abnormal",
    "described": "neutral",
}
_JOINT: Mapping[str, Mark] = {"intact": "normal", "impaired": "abnormal", "lost": "abnormal", "described": "neutral"}


def mark(source: Examination | Facts, path: str) -> Mark:
    """Return how the finding under a whole path is marked; KeyError when there is no such item."""
    if not isinstance(source, Facts):
        return _mark(path, age(source), partial(get, source))
    known = source.marks.get(path)
    if known is None:
        source.marks[path] = known = _mark(path, source.age, source.found.get)
    return known


def _mark(path: str, years: int, others: Callable[[str], Any]) -> Mark:
    judge, found = _judges()[path], others(path)
    if found is None:
        return "blank"
    if isinstance(found, NotExamined):
        return "not_examined"
    return judge(_value(found), years, others)


def limit(source: Examination | Facts, path: str) -> Limit | None:
    """Return the published limit a number is judged by at this age, or None when there is none."""
    find = _limits().get(path)
    return _found_limit(find, source.age if isinstance(source, Facts) else age(source)) if find else None


def _value(found: Any) -> Any:
    return found.value if isinstance(found, Examined) else None if isinstance(found, NotExamined) else found


@cache
def _judges() -> Mapping[str, Judge]:
    own = dict(_own_judges())
    return {path: own.get(path) or _judge_of(entry) for entry in entries() for path in entry.paths}


def _judge_of(entry: Entry) -> Judge:
    if entry.answers is None:
        return _neutral
    return partial(_words if entry.kind == "words" else _choice, entry.answers)


def _neutral(_found: Any, _age: int, _others: Any) -> Mark:
    return "neutral"


def _choice(answers: Answers, found: str, _age: int, _others: Any) -> Mark:
    if found in answers.normal:
        return "normal"
    return "abnormal" if found in answers.abnormal else "neutral"


def _words(answers: Answers, found: tuple[str, ...], _age: int, _others: Any) -> Mark:
    if answers.abnormal.intersection(found):
        return "abnormal"
    return "normal" if found and answers.normal.issuperset(found) else "neutral"


def _own_judges() -> Iterator[tuple[str, Judge]]:
    """Yield the judge of every item that is not judged by its list of answers."""
    yield from _each(_joint, JP_TOE, JP_ANKLE, JP_KNEE, JP_FINGER)
    yield from _each(_vibration_word, VIB_TOE, VIB_MALLEOLUS, VIB_TIBIA, VIB_ILIAC, VIB_FINGER)
    for site, score in _FORKS:
        yield from _each(partial(_fork, site), score)
    yield from _each(_seconds, VIB_SECONDS_TOE)
    yield from _each(partial(_by_limit, "normal", _gain), GAIN)
    yield from _each(partial(_by_limit, "neutral", _one_leg), SINGLE_LEG_OPEN)
    yield from _each(_clonus, CLONUS_BEATS)
    for sway in (EC_SWAY, FOAM_EO_SWAY, FOAM_EC_SWAY):
        yield sway.path, _harder_sway
    for seconds, ended in _TRIALS:
        yield seconds, partial(_stood, ended)
    yield TANDEM.path, partial(_by_limit, "normal", tandem_limit)
    yield UP_AND_GO.path, partial(_by_limit, "neutral", _rising)
    yield LINES_LOST.path, _lines_lost
    yield BREATH_COUNT.path, _breath
    yield RESIDUAL.path, _residual
    yield AT_ONCE.path, partial(_pressure, False)
    yield AT_1_MIN.path, partial(_pressure, True)
    yield AT_3_MIN.path, partial(_pressure, True)


_TRIALS: tuple[tuple[str, str], ...] = (
    (EO_SECONDS.path, EO_ENDED.path),
    (EC_SECONDS.path, EC_ENDED.path),
    *((ended.path.replace(".ended", ".seconds"), ended.path) for ended in (FOAM_EO_ENDED, FOAM_EC_ENDED)),
)
_FORKS: tuple[tuple[str, SidedRef[float]], ...] = (
    ("great_toe", SCORE_TOE),
    ("medial_malleolus", SCORE_MALLEOLUS),
    ("finger", SCORE_FINGER),
)


def _each(judge: Judge, *refs: SidedRef[Any]) -> Iterator[tuple[str, Judge]]:
    return ((ref[side].path, judge) for ref in refs for side in SIDES)


@cache
def _limits() -> Mapping[str, Find]:
    forks = {
        score[side].path: partial(vibration_limit, site, method="graduated_fork")
        for site, score in _FORKS
        for side in SIDES
    }
    sided = {ref[side].path: find for ref, find in ((GAIN, _gain), (SINGLE_LEG_OPEN, _one_leg)) for side in SIDES}
    return {**forks, **sided, TANDEM.path: tandem_limit, UP_AND_GO.path: _rising}


def _gain(_age: int) -> Limit | Refusal:
    return gain_limit()


def _one_leg(age: int) -> Limit | Refusal:
    return single_leg_fall_risk() if age >= OLD else _NOT_OLD


def _rising(age: int) -> Limit | Refusal:
    return up_and_go_falls() if age >= OLD else _NOT_OLD


_NOT_OLD = Refusal(words="")


def _found_limit(find: Find, age: int) -> Limit | None:
    found = find(age) if age >= ADULT else _NOT_OLD
    return found if isinstance(found, Limit) else None


def _by_limit(within: Mark, find: Find, found: float, age: int, _others: Any) -> Mark:
    """Judge a number by its limit; `within` says what a number on the better side is called."""
    known = _found_limit(find, age)
    if known is None:
        return "neutral"
    return within if known.normal(found) else "abnormal"


def _harder_sway(found: str, _age: int, _others: Any) -> Mark:
    """Judge sway with eyes closed or on foam: moderate sway says nothing by itself."""
    return "abnormal" if found == "marked" else "neutral" if found == "moderate" else "normal"


def _stood(ended: str, found: float, age: int, others: Callable[[str], Any]) -> Mark:
    """Judge the seconds of a trial of standing by its own length, and by what ended it."""
    length = others(TRIAL_SECONDS.path) or USUAL_TRIAL
    how = _value(others(ended))
    if age < ADULT or how is None:
        return "neutral"
    if found < length:
        return "abnormal" if how in STANCE_LOST else "neutral"
    return "normal" if how == "held" else "neutral"


def _joint(found: JointFound, _age: int, _others: Any) -> Mark:
    return _JOINT[joint_verdict(found)]


def _vibration_word(found: Literal["normal", "reduced", "absent"], age: int, _others: Any) -> Mark:
    return _VIBRATION[word_verdict(found, age)]


def _fork(site: str, found: float, age: int, _others: Any) -> Mark:
    return _VIBRATION[fork_verdict(site, found, age)]


def _seconds(found: float, age: int, _others: Any) -> Mark:
    return _VIBRATION[seconds_verdict(found, age)]


def _clonus(found: int, _age: int, _others: Any) -> Mark:
    return "abnormal" if found >= CLONUS_SUSTAINED else "neutral" if found else "normal"


def _lines_lost(found: int, age: int, _others: Any) -> Mark:
    if age < ADULT:
        return "neutral"
    return "abnormal" if found >= LINES_LOST_FROM else "normal"


def _breath(found: int, age: int, _others: Any) -> Mark:
    return "abnormal" if age >= ADULT and found < BREATH_FROM else "neutral"


def _residual(found: float, age: int, _others: Any) -> Mark:
    return "abnormal" if age >= ADULT and found > RETAINED_ML else "neutral"


def _pressure(compare: bool, found: Pressure, age: int, others: Callable[[str], Any]) -> Mark:
    """Judge a reading taken standing: low in itself, or fallen from the one lying."""
    if age < ADULT:
        return "neutral"
    if not orthostatic().standing_systolic.normal(found.systolic):
        return "abnormal"
    lying: Pressure | None = _value(others(LYING.path))
    if lying is None or not compare:
        return "neutral"
    return "abnormal" if falls_between(lying, found) else "normal"
