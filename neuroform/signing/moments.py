"""Writes days and times the same way whatever the machine's locale is."""

from datetime import date, datetime

from neuroform.language import N_, _

_MONTHS = (
    N_("Jan"),
    N_("Feb"),
    N_("Mar"),
    N_("Apr"),
    N_("May"),
    N_("Jun"),
    N_("Jul"),
    N_("Aug"),
    N_("Sep"),
    N_("Oct"),
    N_("Nov"),
    N_("Dec"),
)


def day(moment: date) -> str:
    """Return a day as papers write it, such as 3 Mar 2026, in the zone that `moment` carries."""
    return f"{moment.day} {_(_MONTHS[moment.month - 1])} {moment.year}"


def minute(moment: datetime | None) -> str:
    """Return a day and time to the minute, in words where it isn't known."""
    if moment is None:
        return _(N_("an unknown day"))
    return _(N_("{day} at {time}")).format(day=day(moment), time=f"{moment:%H:%M}")


def second(moment: datetime) -> str:
    """Return a day and time to the second."""
    return f"{day(moment)}, {moment:%H:%M:%S}"
