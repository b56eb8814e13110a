"""What an urgent finding rests on, in the words in which a paper tells findings: the gravest first, a few of them."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from neuroform.exam.walk import entry
from neuroform.notes.content import Basis
from neuroform.notes.findings import COPIED, DOES_NOT_FIT, Observation, contradicted, observations
from neuroform.notes.note import phrases
from neuroform.notes.wording import Wording

MOST = 6
"""How many are told; the rest are counted."""
_SYMPTOMS = "context.symptoms"
_MOST_SYMPTOMS = 4
_FIRST = (
    "sensation.trunk_level",
    "sensation.saddle",
    "motor.neck_flexion",
    "motor.breath_count",
    _SYMPTOMS,
    "context.bladder",
    "context.residual_urine_ml",
    "context.cautions",
    "head_and_eyes.brainstem_signs",
    "head_and_eyes.",
    "circulation.",
    "motor.power.",
    "reflexes.plantar",
    "motor.",
    "reflexes.",
    "sensation.",
    "coordination.",
)
"""How paths begin, the graver before the milder; what is not here comes last."""
_GRAVE_SYMPTOMS = (
    *("urinary_retention", "saddle_numbness", "bladder_or_bowel_disturbance", "bowel_incontinence"),
    *("altered_genital_feeling", "swallowing_difficulty", "breathlessness", "confusion", "drowsiness"),
    *("double_vision", "slurred_speech", "sudden_severe_headache", "head_injury", "neck_injury", "vertigo"),
    *("hearing_loss", "fainting", "fever", "weakness", "back_pain", "neck_pain", "leg_pain_both", "weight_loss"),
)
_KEPT_NOTES = frozenset({COPIED, DOES_NOT_FIT})


@dataclass(frozen=True, kw_only=True)
class Grounds:
    """The findings behind something urgent: what is told of them, and how many are not."""

    told: tuple[str, ...]
    more: int

    def joined(self, words: Wording) -> str:
        """Return them in one phrase, with the count of the rest; "" where there is none."""
        rest = (words("urgent.more", count=self.more),) if self.more else ()
        return "; ".join((*self.told, *rest))


def grounds(
    words: Wording, basis: Basis, items: Iterable[str], observed: Iterable[Observation] | None = None, most: int = MOST
) -> Grounds:
    """Return what is recorded under paths: abnormal first, then the graver, alike ones together."""
    paths = frozenset(items)
    kept = [part for each in observed or observations(basis) if (part := _part(each, paths)) is not None]
    kept.sort(key=_rank)
    told: list[str] = []
    before = [each for each in kept if each.entry.path != _SYMPTOMS]
    symptoms = _symptoms(words, basis) if _SYMPTOMS in paths else ""
    if symptoms:
        at = next((place for place, each in enumerate(before) if _rank(each) > (0, _place(_SYMPTOMS))), len(before))
        told = [*phrases(before[:at]), symptoms, *phrases(before[at:])]
    else:
        told = [*phrases(before)]
    # One that would be counted is told instead.
    shown = most if len(told) > most + 1 else len(told)
    return Grounds(told=tuple(told[:shown]), more=len(told) - shown)


def _part(observed: Observation, paths: frozenset[str]) -> Observation | None:
    """Return an observation with only the sides that count, without limits, which stand in their own place."""
    at = observed.entry
    trial, _dot, part = at.path.rpartition(".")
    # A trial of standing is told whole, whichever of its parts counts.
    is_trial = part == "sway" and observed.label == at.groups[-1][1].label
    whole = is_trial and any(path.rpartition(".")[0] == trial for path in paths)
    cells = tuple(
        (side, replace(cell, notes=tuple(note for note in cell.notes if note in _KEPT_NOTES)))
        for side, cell in observed.cells
        if (f"{at.path}.{side}" if side else at.path) in paths or whole
    )
    return replace(observed, cells=cells, comments=()) if cells else None


def _rank(observed: Observation) -> tuple[int, int]:
    marks = observed.marks
    level = 0 if marks & {"abnormal", "does_not_fit"} else 1 if "borderline" in marks else 3 if "normal" in marks else 2
    return level, _place(observed.entry.path)


def _place(path: str) -> int:
    return next((place for place, start in enumerate(_FIRST) if path.startswith(start)), len(_FIRST))


def _symptoms(words: Wording, basis: Basis) -> str:
    told = basis.exam.context.symptoms or ()
    known = entry(_SYMPTOMS).answers
    if not told or known is None:
        return ""
    order = {code: place for place, code in enumerate(_GRAVE_SYMPTOMS)}
    names = [known.words[code] for code in sorted(told, key=lambda code: order.get(code, len(order)))]
    more = len(names) - _MOST_SYMPTOMS
    shown = [*names[:_MOST_SYMPTOMS], words("urgent.more_symptoms", count=more)] if more > 1 else names
    mark = f", {DOES_NOT_FIT}" if _SYMPTOMS in contradicted(basis) else ""
    return words("urgent.symptoms", symptoms=", ".join(shown), mark=mark)
