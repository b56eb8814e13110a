"""The summary of a note as values: stance test, sway crosses, systems and legs."""

from collections.abc import Iterable

from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import get
from neuroform.figures.leg_words import Kind as Feeling
from neuroform.figures.leg_words import LegFindings, Missing
from neuroform.figures.leg_words import in_words as legs_in_words
from neuroform.figures.marks import Mark
from neuroform.figures.noted import Noted, Sides
from neuroform.notes.content import Basis, Summary
from neuroform.notes.findings import trial_at
from neuroform.notes.wording import Wording
from neuroform.reasoning import marks
from neuroform.reasoning.results import (
    NO_LOSS_AT_THE_BEDSIDE,
    STANCE_WORDS,
    SYSTEM_LABELS,
    SYSTEM_WORDS,
    System,
    SystemState,
)

_STATES: dict[SystemState, Mark] = {
    "intact": "normal",
    "impaired": "abnormal",
    "partly_tested": "partly_tested",
    "not_tested": "blank",
}


def summary(words: Wording, basis: Basis) -> Summary:
    """Return the stance test, the sway crosses, the systems and the legs."""
    exam, reading = basis.exam, basis.reading
    crosses = tuple(
        (words(f"note.{eyes}"), trial_at(exam, f"standing.firm.{eyes}")) for eyes in ("eyes_open", "eyes_closed")
    )
    findings = legs(exam)
    return Summary(
        heading=words("note.summary"),
        stance=words("note.stance", result=STANCE_WORDS[reading.stance.result]),
        crosses=crosses,
        systems=tuple(
            (label, system_words(system, reading.systems[system]), _STATES[reading.systems[system]])
            for system, label in SYSTEM_LABELS.items()
        ),
        legs=findings,
        feelings=_feelings(findings),
        legs_words=legs_in_words(findings),
    )


def system_words(system: System, state: SystemState) -> str:
    """Return the state of a system; of the vestibular one no more is said than the bedside can show."""
    return NO_LOSS_AT_THE_BEDSIDE if system == "vestibular" and state == "intact" else SYSTEM_WORDS[state]


def legs(exam: Examination) -> LegFindings:
    """Return what the leg drawing shows."""
    absent = exam.context.limb_absent or ()
    pairs = {
        name: Sides(right=_noted(exam, f"{path}.right"), left=_noted(exam, f"{path}.left"))
        for name, path in (
            ("pinprick", "sensation.pinprick"),
            ("light_touch", "sensation.light_touch"),
            ("temperature", "sensation.temperature"),
            ("knee", "reflexes.knee"),
            ("ankle", "reflexes.ankle"),
            ("plantar", "reflexes.plantar"),
        )
    }
    return LegFindings(**pairs, missing_right=_missing(absent, "right"), missing_left=_missing(absent, "left"))


def _noted(exam: Examination, path: str) -> Noted:
    found = get(exam, path)
    if isinstance(found, NotExamined):
        return Noted(not_examined=found.not_examined)
    if isinstance(found, Examined):
        return Noted(value=found.value, abnormal=marks.mark(exam, path) == "abnormal")
    return Noted()


def _missing(absent: Iterable[str], side: str) -> Missing | None:
    """Return the most of a leg that is missing."""
    order: tuple[Missing, ...] = ("above_knee", "below_knee", "foot")
    return next((part for part in order if f"{side}_{part}" in absent), None)


def _feelings(findings: LegFindings) -> tuple[Feeling, ...]:
    """Return the two kinds of feeling there is room to draw; the words beside the drawing tell all three."""
    instead = findings.light_touch == Sides() and findings.temperature != Sides()
    return ("pinprick", "temperature" if instead else "light_touch")
