"""Lets settings count at once in the window that is open; what can only count later is said."""

from dataclasses import replace
from typing import TYPE_CHECKING

from neuroform.desktop.answering import TRIAL_SECONDS, with_unit
from neuroform.desktop.app import wants_dark
from neuroform.desktop.theme import Theme
from neuroform.exam.walk import entries
from neuroform.language import N_, _
from neuroform.settings import Settings

if TYPE_CHECKING:
    from neuroform.desktop.main_window import MainWindow
    from neuroform.desktop.stepping_aside import SteppingAside

TRIAL = "standing.trial_seconds"
PARTS = (".seconds", ".ended")
"""Of a trial of standing, what its length decides."""


def take(window: "MainWindow", before: Settings, after: Settings) -> None:
    """Let the window and the examinations in it follow the settings as they were saved now."""
    if (before.colour_scheme, before.text_scale) != (after.colour_scheme, after.text_scale):
        window.scheme = after.colour_scheme
        window.set_theme(Theme(dark=wants_dark(after.colour_scheme), scale=after.text_scale))
    told = [_(N_("The settings are saved."))]
    if before.language != after.language:
        told.append(_(N_("The window changes its language with the next start.")))
    for place in (window.own, window.examination):
        if place is not None:
            told += _taken(place, before, after)
    if window.examination is not None:
        # One's own, which stands aside, may have shown itself as it followed.
        window.examination.show_again()
        window.examination.entering.say(" ".join(told))
    if window.asking is not None:
        window.asking.propose(examiner=after.examiner_name, amount=after.protocol)


def _taken(place: "SteppingAside", before: Settings, after: Settings) -> list[str]:
    place.opened = replace(place.opened, sound=after.sound, vibration=after.vibration)
    if before.vibration != after.vibration:
        place.entering.ask_vibration_as(after.vibration)
    if before.protocol != after.protocol:
        place.entering.take_judge(place.entering.judge)
    told = _trial(place, after.trial_seconds) if before.trial_seconds != after.trial_seconds else []
    place.renew_page()
    return told


def _trial(place: "SteppingAside", seconds: int) -> list[str]:
    """Time the trials of standing by another length, unless some are recorded by the one before."""
    document = place.document
    if document.sealed:
        return []
    kept = document.get(TRIAL) or TRIAL_SECONDS
    timed = [each for each in entries() if each.section == "standing" and each.path.endswith(PARTS)]
    if kept != seconds and any(document.get(path) is not None for each in timed for path in each.paths):
        told = _(N_("Trials recorded here keep their length of {length}; the next examination takes the new one."))
        return [told.format(length=with_unit(kept, "s"))]
    document.put(TRIAL, None if seconds == TRIAL_SECONDS else float(seconds))
    return []
