"""What a letter's template may say: words and lists of words taken from the examination and its conclusions."""

from collections.abc import Mapping
from typing import Any

from neuroform.exam.conclusion import LETTER_TO, URGENCY
from neuroform.exam.examination import Examination, age
from neuroform.exam.walk import entries, entry, get
from neuroform.figures.sway_cross import in_words as trial_words
from neuroform.notes import heads, story
from neuroform.notes.content import Basis, Clinic
from neuroform.notes.findings import DOES_NOT_FIT, Observation, contradicted, observations, said, trial_at
from neuroform.notes.grounds import grounds
from neuroform.notes.negatives import MOST_BLANK, SADDLE, blank_items, negatives, wanted
from neuroform.notes.note import phrases
from neuroform.notes.overview import system_words
from neuroform.notes.sided import sides
from neuroform.notes.values import label, lowered
from neuroform.notes.wording import Wording
from neuroform.reasoning.interpretation import paragraph, short_form
from neuroform.reasoning.results import STANCE_WORDS, URGENCY_LABELS, URGENCY_ORDER, VERDICT_WORDS, UrgentFinding
from neuroform.reasoning.wording import has, say

PROPOSED: Mapping[str, str] = {
    "acute-vertigo-central-signs": "stroke_team",
    "acute-vertigo-central-not-excluded": "stroke_team",
    "acute-vertigo-new-hearing-loss": "stroke_team",
    "sudden-cerebellar-or-hemispheric-signs": "stroke_team",
    "possible-unstable-neck": "emergency",
    "cord-compression": "emergency",
    "cauda-equina": "emergency",
    "rapid-areflexic-weakness": "emergency",
    "ataxia-confusion-eye-signs": "emergency",
    "head-injury-anticoagulated": "emergency",
    "weakness-with-breathing-or-swallowing": "emergency",
    "spinal-infection-or-cancer-pain": "emergency",
    "severe-orthostatic-fall": "emergency",
    "injurious-falls": "falls_clinic",
}
"""To whom an urgent finding is referred where the writer named nobody; the others go to a specialist."""
_BY_PATTERN: Mapping[str, str] = {
    "acute_vestibular_central": "stroke_team",
    "acute_vestibular_peripheral": "ear_nose_throat",
    "positional_vertigo": "balance_clinic",
}
"""To whom a supported pattern is referred where nothing is urgent and the writer named nobody."""

_NECK = frozenset(
    {
        "neck_instability",
        "neck_trauma",
        "neck_artery_dissection",
        "neck_surgery",
        "severe_neck_pain",
        "atlantoaxial_risk",
    }
)


def proposed(basis: Basis) -> str:
    """Return to whom a letter goes: whom the writer named, else whom the gravest urgent finding needs."""
    letter = basis.exam.conclusion.letter
    if letter.to is not None:
        return letter.to
    gravest = _gravest(basis)
    if gravest:
        return PROPOSED.get(gravest[0].code, "specialist")
    supported = {each.pattern for each in basis.reading.patterns if each.verdict == "supported"}
    return next((reader for pattern, reader in _BY_PATTERN.items() if pattern in supported), "specialist")


def passed_over(basis: Basis) -> tuple[str, ...]:
    """Return who else the findings for Now or Today need, where a letter goes to another reader."""
    level = [each for each in _gravest(basis) if each.urgency != "within_days"]
    needed = dict.fromkeys(PROPOSED.get(each.code, "specialist") for each in level)
    return tuple(reader for reader in needed if reader != proposed(basis))


def _gravest(basis: Basis) -> list[UrgentFinding]:
    """Return the urgent findings of the highest level there is."""
    for level in URGENCY_ORDER:
        if found := [each for each in basis.reading.urgent if each.urgency == level]:
            return found
    return []


def context(words: Wording, basis: Basis, clinic: Clinic, source: Mapping[str, Any]) -> dict[str, Any]:
    """Return everything a template may use; `source` is its own table, which may name `negatives`."""
    exam = basis.exam
    own, letter = exam.conclusion, exam.conclusion.letter
    observed = observations(basis)
    level = heads.urgency(basis)
    generated = paragraph(short_form(basis.sentences) or basis.sentences)
    return {
        "name": heads.name(exam),
        "spoken_name": f"{exam.patient.given_names} {exam.patient.family_name}".strip(),
        "age": age(exam),
        "sex": exam.patient.sex,
        "day": heads.long_day(words, exam.encounter.examined_at.date()),
        "moment": heads.moment(words, exam.encounter.examined_at),
        "place": exam.encounter.place or "",
        "clinic": clinic.name,
        "examiner": heads.by(exam),
        "recipient": letter.recipient or LETTER_TO.words[proposed(basis)],
        "question": letter.question or "",
        "done": letter.done or "",
        "contact": letter.contact or "",
        "telephones": [f"{who}: {number}" for who, number in clinic.telephones.items()],
        "impression": own.impression or "",
        "plan": own.plan or "",
        "told": own.told or "",
        "urgency": URGENCY.words[level],
        "urgency_code": level,
        "urgent": [
            {"code": each.code, "word": URGENCY_LABELS[each.urgency], "message": each.message, "source": each.source}
            for each in basis.reading.urgent
        ],
        "gravest": [_short(each) for each in _gravest(basis)],
        "gravest_found": _grounds(words, basis, observed),
        "interpretation": own.paragraph or paragraph(basis.sentences),
        "reading": own.paragraph or generated,
        "generated": generated,
        "edited": own.paragraph is not None,
        "does_not_fit": story.clashes(words, basis),
        "symptoms_words": story.symptoms(words, basis),
        "told_of": story.told_of(words, basis),
        "began": story.began(words, exam),
        "beside_onset": story.beside_onset(exam),
        "tested": list(story.tested(exam)),
        "weak": story.weak(exam),
        "stance": STANCE_WORDS[basis.reading.stance.result],
        "stance_code": basis.reading.stance.result,
        "systems": {name: system_words(name, state) for name, state in basis.reading.systems.items()},
        "system_codes": dict(basis.reading.systems),
        "verdicts": {
            f"{each.pattern}.{each.side}" if each.side else each.pattern: VERDICT_WORDS[each.verdict]
            for each in basis.reading.patterns
        },
        **_history(basis),
        **_found(basis, observed),
        **(looked_for := negatives(observed, wanted(basis, source))),
        "blank_items": blank_items(words, basis, looked_for["not_looked_for"]),
        "feeling_lost": story.feeling_lost(exam),
        "saddle_lost": _value(exam, SADDLE) in {"reduced", "absent"},
        "saddle_absent": _value(exam, SADDLE) == "absent",
        "trunk_lost": _value(exam, "sensation.trunk_level") not in {None, "none"},
        "changed_reflexes": story.changed_reflexes(exam),
        "said": _said(basis),
        "label": {item.path: label(item) for item in entries()},
    }


def _history(basis: Basis) -> dict[str, Any]:
    told = basis.exam.context
    cautions = told.cautions
    words = entry("context.cautions").answers
    necks = [words.words[code] for code in cautions or () if code in _NECK and words is not None]
    return {
        "reason": told.reason or "",
        "symptoms": list(told.symptoms) if told.symptoms is not None else None,
        "fell": bool(told.symptoms and "falls" in told.symptoms) or bool(getattr(told.falls_past_year, "value", 0)),
        "anticoagulated": "blank" if cautions is None else "yes" if "anticoagulated" in cautions else "no",
        "neck": "blank" if cautions is None else ", ".join(necks) or "no neck caution recorded",
    }


def _short(found: UrgentFinding) -> str:
    """Return an urgent finding in a few words; its message stands above the letter."""
    return say("urgent", found.code) if has("urgent", found.code) else found.message.rstrip(".")


def _found(basis: Basis, observed: tuple[Observation, ...]) -> dict[str, Any]:
    stands_out = [each for each in observed if each.marks & {"abnormal", "borderline", "does_not_fit"}]
    of_sides = sides(basis.exam, stands_out)
    by_section: dict[str, list[Observation]] = {}
    for each in stands_out:
        by_section.setdefault(each.section, []).append(each)
    return {
        "abnormal": [*phrases(each for each in stands_out if each.section != "context")],
        "abnormal_by_section": {
            name: "; ".join(phrases(by_section.get(name, []))) for name in ("standing", "walking", *_SECTIONS)
        },
        "abnormal_right": of_sides["right"],
        "abnormal_left": of_sides["left"],
        "abnormal_unlike": of_sides["unlike"],
        "not_examined": [_missed(each) for each in observed if "not_examined" in each.marks],
        "blank": [lowered(each.label) for each in observed if "blank" in each.marks],
    }


_SECTIONS = ("motor", "reflexes", "sensation", "coordination", "head_and_eyes", "circulation", "context")


def _missed(observed: Observation) -> str:
    missed = [(side, cell.reason) for side, cell in observed.cells if cell.mark == "not_examined"]
    if len(missed) == 2 and missed[0][1] == missed[1][1]:
        return f"{lowered(observed.label)}: {missed[0][1]}"
    return "; ".join(f"{lowered(observed.label)}{', ' + side if side else ''}: {why}" for side, why in missed)


def _grounds(words: Wording, basis: Basis, observed: tuple[Observation, ...]) -> str:
    """Return what the urgent findings of the highest level rest on together."""
    items = {path for each in _gravest(basis) for path in each.items}
    return grounds(words, basis, items, observed, most=MOST_BLANK).joined(words)


def _value(exam: Examination, path: str) -> Any:
    return getattr(get(exam, path), "value", None)


def _said(basis: Basis) -> dict[str, str]:
    clashing = contradicted(basis)
    told = {item.path: said(basis.exam, item, clashing) for item in entries()}
    for path in ("standing.firm.eyes_open", "standing.firm.eyes_closed"):
        unfit = any(each.startswith(f"{path}.") for each in clashing)
        told[path] = trial_words(trial_at(basis.exam, path)) + (f" ({DOES_NOT_FIT})" if unfit else "")
    return told
