"""Opens a workplace's journal where it was left: past whatever was damaged meanwhile.

Errs towards opening: a file or a draft that can't be read is kept for whoever mends it, and told of once.
"""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from neuroform.language import N_, _
from neuroform.records.drafts import DamagedError, Drafts, not_kept, nothing_left


@dataclass(frozen=True, kw_only=True)
class Reopened:
    """A journal whose unfinished drafts can be read."""

    drafts: Drafts
    told: tuple[str, ...]
    """What the person has to know: what was put aside or can't be read back."""


def reopen(path: Path, clinic: str, at: datetime) -> Reopened:
    """Open a journal for a clinic; a damaged file is put aside and a new one begun.

    A draft of which nothing can be read back is finished at `at`, so that it is told of once; its changes stay.
    Raises DraftError where drafts can't be kept, or were kept by a newer version.
    """
    try:
        return _reopened(path, clinic, at, ())
    except DamagedError:
        aside = put_aside(path, at)
    what = _(N_("The drafts can't be read any more; they were put aside as {file}.")).format(file=aside)
    do = _(N_("Keep that file for whoever mends it, and enter again what is missing."))
    return _reopened(path, clinic, at, (f"{what} {do}",))


def put_aside(path: Path, at: datetime) -> Path:
    """Rename a damaged journal, its companions with it, so that a new one can begin; return its new name."""
    aside = _free(path.with_name(f"{path.name}.damaged-{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"))
    try:
        for ending in ("-wal", "-shm", ""):
            companion = path.with_name(path.name + ending)
            if companion.exists():
                companion.rename(aside.with_name(aside.name + ending))
    except OSError as error:
        raise not_kept(path, error.strerror or str(error)) from error
    return aside


def _free(aside: Path) -> Path:
    """Return a name that no file has."""
    free, number = aside, 2
    while free.exists():
        free, number = aside.with_name(f"{aside.name}-{number}"), number + 1
    return free


def _reopened(path: Path, clinic: str, at: datetime, told: tuple[str, ...]) -> Reopened:
    drafts = Drafts(path)
    try:
        for exam_id in drafts.unreadable(clinic):  # goes through every change: damage anywhere shows here
            drafts.finish(clinic, exam_id, at)
            told = (*told, str(nothing_left(path)))
    except BaseException:
        drafts.close()
        raise
    return Reopened(drafts=drafts, told=told)
