"""The rest of one section answered as normal with one key: what that would record, and where it is not offered."""

from dataclasses import dataclass
from typing import Any

from neuroform.desktop.form import Cell, rows, section_label
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined
from neuroform.exam.walk import get
from neuroform.language import N_, _

NEVER = frozenset({"context", "circulation", "conclusion"})
"""History is asked, pressures are measured: nothing there is answered by a key for all."""

COMPLAINTS: dict[str, frozenset[str]] = {
    "standing": frozenset({"unsteadiness", "falls", "vertigo", "light_headedness", "fainting"}),
    "walking": frozenset({"unsteadiness", "falls", "weakness", "leg_stiffness", "slowed_thinking", "leg_pain_both"}),
    "motor": frozenset({"weakness", "leg_stiffness", "falls", "back_pain", "bladder_or_bowel_disturbance"}),
    "reflexes": frozenset({"weakness", "leg_stiffness", "numbness", "back_pain", "bladder_or_bowel_disturbance"}),
    "sensation": frozenset(
        {"numbness", "saddle_numbness", "unsteadiness", "back_pain", "urinary_retention", "bowel_incontinence"}
        | {"bladder_or_bowel_disturbance", "altered_genital_feeling", "leg_pain_both"}
    ),
    "coordination": frozenset({"unsteadiness", "slurred_speech", "hand_clumsiness", "swallowing_difficulty"}),
    "head_and_eyes": frozenset(
        {"vertigo", "double_vision", "oscillopsia", "hearing_loss", "tinnitus", "headache", "vomiting"}
        | {"sudden_severe_headache", "head_injury", "unsteadiness"}
    ),
}
"""Symptoms that make a section the complaint's own."""


@dataclass(frozen=True, kw_only=True)
class Offer:
    """What one key would record."""

    section: str
    found: dict[str, Any]
    names: tuple[str, ...]
    """What it answers, in words."""
    left_out: int
    """Blank answers of the section that it leaves for the hand: numbers, and what has to be looked at by itself."""


def refusal(exam: Examination, section: str) -> str:
    """Say why a section is not answered with one key; empty where it may be."""
    if section in NEVER:
        return _(N_("{section} is asked and measured item by item.")).format(section=_(section_label(section)))
    if exam.context.symptoms is None:
        return _(N_("Symptoms are blank. Ask for them before a section is answered with one key."))
    if COMPLAINTS[section] & set(exam.context.symptoms):
        words = _(N_("{section} concerns what the person complains of. Answer it item by item."))
        return words.format(section=_(section_label(section)))
    return ""


def offer(exam: Examination, section: str, wanted: frozenset[str], barred: frozenset[str]) -> Offer:
    """Return what answering the rest as normal would record: blank items that are `wanted` and not `barred`."""
    found: dict[str, Any] = {}
    names: list[str] = []
    left_out = 0
    for row in rows(section):
        blank = [
            cell
            for cell in row.cells
            if cell.path in wanted and not {cell.path, cell.entry.path} & barred and get(exam, cell.path) is None
        ]
        normal = [cell for cell in blank if normal_value(cell) is not None]
        left_out += len(blank) - len(normal)
        found.update((cell.path, Examined(value=normal_value(cell), entered="together")) for cell in normal)
        if normal:
            names.append(normal[0].name if len(normal) == 1 else _(normal[0].entry.item.label))
    return Offer(section=section, found=found, names=tuple(names), left_out=left_out)


def normal_value(cell: Cell) -> Any:
    """Return what normal is for a cell, None where one key must not say it."""
    answers = cell.entry.answers
    if answers is None or not answers.normal or cell.entry.plain or not cell.entry.item.copies or cell.trial:
        return None
    code = next(code for code in answers.words if code in answers.normal)
    return (code,) if cell.kind == "words" else code
