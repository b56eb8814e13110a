"""Words of the examiner that say more than the findings: "normal" of what is abnormal or was not examined.

Errs towards asking: a doubt is shown beside the text; one about the wording wants a reason before signing.
Reads English, the paragraph's language.
"""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cache

from neuroform.desktop.read_and_sign.lacking import named
from neuroform.exam.conclusion import URGENCY_ORDER
from neuroform.exam.examination import Examination
from neuroform.exam.walk import entries, side_of
from neuroform.language import N_, _
from neuroform.reasoning.marks import mark
from neuroform.reasoning.results import URGENCY_LABELS, Reading
from neuroform.reasoning.results import URGENCY_ORDER as FLAG_ORDER

LISTED = 3
"""Findings named in one doubt."""

_SENTENCE = re.compile(r"[^.;!?\n]+(?:\.(?=\d)[^.;!?\n]*)*[.;!?]?")
_CLAIM = re.compile(
    r"\b(?:normal(?:ly)?|unremarkable|intact|unaffected|unimpaired|preserved|symmetrical|negative|steady|fine"
    r"|no (?:other |further )?(?:signs?|evidence|features?|suggestion|loss|weakness|deficit|abnormalit\w+|ataxia"
    r"|nystagmus|neuropathy|\w+ (?:signs?|loss|weakness|lesion|involvement))"
    r"|nothing (?:abnormal|to find|found)|nil|without (?:any )?(?:signs?|evidence|loss|weakness|ataxia)"
    r"|not (?:reduced|impaired|lost|affected|weak|abnormal)|full (?:power|strength))\b",
    re.IGNORECASE,
)
_DENIED = re.compile(
    r"\b(?:not|n[’']t|never|neither|nor|cannot|can[’']t|no longer|far from)\s+(?:\w+\s+){0,3}$", re.IGNORECASE
)
_DENIALS = ("no", "not", "nothing", "nil", "without")

_SUBJECTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (r"joint position|propriocepti\w*", ("sensation.joint_position",)),
    (r"vibrat\w*", ("sensation.vibration", "sensation.vibration_score", "sensation.vibration_seconds")),
    (r"pin-?prick", ("sensation.pinprick",)),
    (r"light touch|touch", ("sensation.light_touch",)),
    (r"temperature", ("sensation.temperature",)),
    (r"saddle", ("sensation.saddle",)),
    (r"ankle (?:reflex\w*|jerks?)", ("reflexes.ankle",)),
    (r"knee (?:reflex\w*|jerks?)", ("reflexes.knee",)),
    (r"plantars?|babinski", ("reflexes.plantar",)),
    (r"reflex\w*|jerks?", ("reflexes",)),
    (r"sensation|sensory|feeling", ("sensation",)),
    (r"tone|spastic\w*|rigid\w*", ("motor.tone",)),
    (r"strength|power|weak\w*", ("motor.power",)),
    (r"heel-to-toe(?: walking)?|tandem(?: gait)?", ("walking.tandem",)),
    (r"gait|walk\w*", ("walking",)),
    (r"stance|romberg\w*|standing|balance|sway", ("standing",)),
    (r"heel-shin", ("coordination.heel_shin",)),
    (r"finger-nose", ("coordination.finger_nose",)),
    (r"speech", ("coordination.speech",)),
    (r"coordination|ataxia|cerebell\w*", ("coordination", "head_and_eyes.gaze_evoked_nystagmus")),
    (r"head impulse|vestibul\w*|inner ear", ("head_and_eyes.head_impulse",)),
    (r"nystagmus", ("head_and_eyes.nystagmus", "head_and_eyes.gaze_evoked_nystagmus")),
    (r"skew", ("head_and_eyes.skew",)),
    (r"hearing", ("head_and_eyes.new_hearing_loss", "head_and_eyes.hearing")),
    (r"eyes?|eye movements?|brain-?stem|stroke|central", ("head_and_eyes",)),
    (r"(?:blood )?pressures?|orthostatic", ("circulation",)),
    (r"neuropath\w*|nerves?", ("sensation", "reflexes")),
    (r"cord|myelopath\w*", ("reflexes", "motor", "sensation")),
)


@dataclass(frozen=True, kw_only=True)
class Doubt:
    """Words that the findings do not bear out, and where they stand in the text."""

    start: int
    end: int
    words: str
    """One sentence to the examiner."""
    items: tuple[str, ...] = ()
    """Whole paths of the findings they stand against, or of what was not examined."""
    quoted: str = ""
    """The words themselves."""


def doubts(
    text: str, generated: str, exam: Examination, reading: Reading, needed: Collection[str] = ()
) -> tuple[Doubt, ...]:
    """Return every place where `text` calls normal what is abnormal, or was not examined.

    Sentences that stand in `generated` rest on findings and are passed over; `needed` holds the whole paths that are to
    be examined.
    """
    ours = {_plain(found.group()) for found in _SENTENCE.finditer(generated)}
    return tuple(
        doubt
        for sentence in _SENTENCE.finditer(text)
        if _plain(sentence.group()) not in ours
        for doubt in _of_sentence(sentence.group(), sentence.start(), exam, reading, frozenset(needed))
    )


def _plain(sentence: str) -> str:
    return " ".join(sentence.strip(" .;!?\n").split()).lower()


def _of_sentence(
    sentence: str, at: int, exam: Examination, reading: Reading, needed: frozenset[str]
) -> Iterator[Doubt]:
    claim = next((each for each in _CLAIM.finditer(sentence) if _claims(sentence, each)), None)
    if claim is None:
        return
    said, items = _against(claim.group(), sentence, exam, reading, needed)
    if said:
        yield Doubt(start=at + claim.start(), end=at + claim.end(), words=said, items=items, quoted=claim.group())


def _claims(sentence: str, claim: "re.Match[str]") -> bool:
    """Tell whether the words claim something: "not called normal" does not."""
    if claim.group().split()[0].lower() in _DENIALS:
        return True
    return _DENIED.search(sentence[: claim.start()]) is None


def _against(
    words: str, sentence: str, exam: Examination, reading: Reading, needed: frozenset[str]
) -> tuple[str, tuple[str, ...]]:
    paths = _about(sentence)
    everything = tuple(path for each in entries() for path in each.paths)
    marks = {path: mark(exam, path) for path in paths or everything}
    abnormal = [path for path, found in marks.items() if found == "abnormal"]
    if abnormal:
        told = _(N_("“{words}” stands against what was found: {findings}."))
        return told.format(words=words, findings=named(abnormal, LISTED)), tuple(abnormal)
    if not paths:
        if not reading.urgent:
            return "", ()
        told = _(N_("“{words}” stands beside an urgent finding: {finding}"))
        return told.format(words=words, finding=reading.urgent[0].message), reading.urgent[0].items
    untested = [
        path for path, found in marks.items() if found == "not_examined" or (found == "blank" and path in needed)
    ]
    if not untested and any(found not in {"blank", "not_examined"} for found in marks.values()):
        return "", ()
    unlooked = tuple(untested or paths[:1])
    told = _(N_("“{words}” is said of what was not examined: {findings}."))
    return told.format(words=words, findings=named(unlooked, LISTED)), unlooked


def _about(sentence: str) -> tuple[str, ...]:
    """Return the whole paths a sentence speaks of, of one side where it names one alone; the narrower subject first."""
    rest = sentence.lower()
    found: list[str] = []
    for subject, prefixes in _subjects():
        if subject.search(rest):
            rest = subject.sub(lambda hit: " " * len(hit.group()), rest)
            found += [path for each in entries() for path in each.paths if _below(path, prefixes)]
    sides = {side for side in ("right", "left") if re.search(rf"\b{side}\b", rest)}
    kept = [path for path in found if len(sides) != 1 or side_of(path) in {None, *sides}]
    return tuple(dict.fromkeys(kept))


@cache
def _subjects() -> tuple[tuple["re.Pattern[str]", tuple[str, ...]], ...]:
    return tuple((re.compile(rf"\b(?:{words})\b"), prefixes) for words, prefixes in _SUBJECTS)


def _below(path: str, prefixes: tuple[str, ...]) -> bool:
    return any(path == prefix or path.startswith(f"{prefix}.") for prefix in prefixes)


def too_slow(exam: Examination, reading: Reading) -> str:
    """Say that the urgency chosen is lower than an urgent finding's, and which is printed; empty where it is not."""
    own = exam.conclusion.urgency
    if own is None or not reading.urgent:
        return ""
    gravest = min(reading.urgent, key=lambda found: FLAG_ORDER.index(found.urgency))
    if URGENCY_ORDER.index(own) >= URGENCY_ORDER.index(gravest.urgency):
        return ""
    told = _(N_("An urgent finding says “{theirs}”, and that is printed. Say why you wait longer."))
    return told.format(theirs=_(URGENCY_LABELS[gravest.urgency]))
