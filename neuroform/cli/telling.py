"""What `check`, `interpret` and `explain` say of one file or rule, to machines and to people."""

import json
from pathlib import Path

from neuroform.cli.many import Told, readable
from neuroform.completeness.gaps import SEVERITY_LABELS, Gap
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.protocols.loading import Protocol
from neuroform.reasoning.results import (
    NO_LOSS_AT_THE_BEDSIDE,
    STANCE_WORDS,
    SYSTEM_LABELS,
    SYSTEM_WORDS,
    URGENCY_LABELS,
)
from neuroform.settings import Settings
from neuroform.workflow.judging import Checked, Interpreted, check_file, gaps_answer, interpret_file, reading_answer


def check_told(
    file: str, *, settings: Settings, protocol: Protocol | None, earlier: Examination | None, as_json: bool
) -> Told:
    """Say what one file lacks."""

    def tell() -> Told:
        found = check_file(Path(file), settings, protocol=protocol, earlier=earlier)
        text = json.dumps(gaps_answer(file, found)) if as_json else _gaps_words(file, found)
        return Told(text=text, no=not found.complete)

    return readable(tell)


def interpret_told(file: str, *, settings: Settings, as_json: bool) -> Told:
    """Say what the findings in one file support."""

    def tell() -> Told:
        found = interpret_file(Path(file), settings)
        return Told(text=json.dumps(reading_answer(file, found)) if as_json else _reading_words(file, found))

    return readable(tell)


def _gaps_words(file: str, found: Checked) -> str:
    progress = _(N_("{answered} of {total} answered or explained")).format(
        answered=found.progress.answered, total=found.progress.total
    )
    state = _(N_("complete")) if found.complete else _(N_("incomplete"))
    return "\n".join([f"{file}: {state}, {progress}", *(_gap_words(gap) for gap in found.gaps)])


def _gap_words(gap: Gap) -> str:
    head = f"  {_(SEVERITY_LABELS[gap.severity])}: {gap.message}"
    reason = "" if gap.reason is None else "\n    " + _(N_("Reason given: {reason}")).format(reason=gap.reason)
    return f"{head}\n    {gap.rule}: {', '.join(gap.items)}{reason}"


def _reading_words(file: str, found: Interpreted) -> str:
    reading = found.reading
    lines = [file]
    lines += [f"  {_(URGENCY_LABELS[each.urgency])}: {each.message}" for each in reading.urgent]
    lines.append(f"  {_(N_('Stance test (Romberg)'))}: {_(STANCE_WORDS[reading.stance.result])}")
    for system, state in reading.systems.items():
        bedside = system == "vestibular" and state == "intact"
        lines.append(f"  {_(SYSTEM_LABELS[system])}: {_(NO_LOSS_AT_THE_BEDSIDE if bedside else SYSTEM_WORDS[state])}")
    lines.append("  " + " ".join(each.text for each in found.sentences))
    if found.next_tests:
        lines.append(f"  {_(N_('Examine next'))}:")
        lines += [f"    {each.because} ({each.item})" for each in found.next_tests]
    return "\n".join(lines)
