"""The sway cross: how much and where to someone swayed, seen from above and facing them; forward is down."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from neuroform.figures.noted import BLANK, NOT_EXAMINED, REASONS, Reason, with_unit
from neuroform.figures.shapes import Figure, Line, Rect, Shape, Text, figure
from neuroform.language import N_, _

Sway = Literal["none", "slight", "moderate", "marked"]
Direction = Literal["forward", "backward", "right", "left", "any"]
Ended = Literal["held", "stepped", "opened_eyes", "needed_support", "fell", "stopped_early"]

_AWAY: dict[str, tuple[int, int]] = {"forward": (0, 1), "backward": (0, -1), "right": (-1, 0), "left": (1, 0)}
_LOST = frozenset({"stepped", "opened_eyes", "needed_support", "fell"})
_GRADES: dict[Sway, int] = {"none": 0, "slight": 1, "moderate": 2, "marked": 3}
_TILE = 18.0
_AT = (14.5, 20.0, 25.5)

_SWAY_WORDS: dict[Sway, str] = {
    "none": N_("no sway"),
    "slight": N_("slight sway"),
    "moderate": N_("moderate sway"),
    "marked": N_("marked sway"),
}
_GRADE_WORDS: dict[Sway, str] = {
    "none": N_("no sway"),
    "slight": N_("slight"),
    "moderate": N_("moderate"),
    "marked": N_("marked"),
}
_DIRECTION_WORDS: dict[Direction, str] = {
    "forward": N_("forward"),
    "backward": N_("backward"),
    "right": N_("to the right"),
    "left": N_("to the left"),
    "any": N_("any direction"),
}
_ENDED_WORDS: dict[Ended, str] = {
    "held": N_("stood for the full time"),
    "stepped": N_("stepped"),
    "opened_eyes": N_("opened eyes"),
    "needed_support": N_("needed support"),
    "fell": N_("fell"),
    "stopped_early": N_("stopped by examiner"),
}
_ENDED_AT_WORDS: dict[Ended, str] = {
    "held": N_("stood for the full {seconds}"),
    "stepped": N_("stepped at {seconds}"),
    "opened_eyes": N_("opened eyes at {seconds}"),
    "needed_support": N_("needed support at {seconds}"),
    "fell": N_("fell at {seconds}"),
    "stopped_early": N_("stopped by examiner at {seconds}"),
}


@dataclass(frozen=True, kw_only=True)
class Trial:
    """One trial of standing; what is None is blank."""

    sway: Sway | None = None
    direction: Direction | None = None
    ended: Ended | None = None
    seconds: float | None = None
    not_examined: Reason | None = None

    def __post_init__(self) -> None:
        """Refuse findings beside a reason."""
        if self.not_examined is not None and self.recorded:
            raise ValueError("a trial that was not examined holds no finding")

    @property
    def recorded(self) -> bool:
        """Whether anything was found."""
        return any(found is not None for found in (self.sway, self.direction, self.ended, self.seconds))


def sway_cross(trial: Trial, *, names: bool = False, text_scale: float = 1.0) -> Figure:
    """Draw one trial about the origin.

    `names` writes forward and backward beside the tiles; `text_scale` keeps words readable where the drawing is small.
    """
    size, small = 9.2 * text_scale, 8 * text_scale
    shapes: list[Shape] = [*_tiles(trial), *_sways(trial), *_losses(trial)]
    for x, name in ((-39.0, N_("R")), (39.0, N_("L"))):
        shapes.append(Text(x, 3, _(name), small, 600, "middle", "quiet"))
    if names:
        shapes.append(Text(0, -36, _(N_("backward")), small, 400, "middle", "quiet"))
        shapes.append(Text(0, 34 + small, _(N_("forward")), small, 400, "middle", "quiet"))
    first, second = _lines(trial)
    below = 54.0 + max(0.0, small - 8)
    shapes.append(Text(0, below, first, size, 600, "middle"))
    if second:
        shapes.append(Text(0, below + 1.35 * size, second, size, 400, "middle", "quiet"))
    return figure(shapes, in_words(trial))


def in_words(trial: Trial) -> str:
    """Say the trial in a phrase; what is blank is said to be."""
    first, second = _lines(trial, _SWAY_WORDS)
    return f"{first}; {second}" if second else first


def _lines(trial: Trial, grades: dict[Sway, str] | None = None) -> tuple[str, str]:
    if trial.not_examined is not None:
        return _(NOT_EXAMINED), _(REASONS[trial.not_examined])
    if not trial.recorded:
        return _(BLANK), ""
    amount = _((grades or _GRADE_WORDS)[trial.sway]) if trial.sway is not None else _(N_("sway blank"))
    where = _direction_words(trial.sway, trial.direction)
    return f"{amount}, {where}" if where else amount, _ending(trial.ended, trial.seconds)


def _direction_words(sway: Sway | None, direction: Direction | None) -> str:
    if direction is not None:
        return _(_DIRECTION_WORDS[direction])
    return _(N_("direction blank")) if sway is not None and sway != "none" else ""


def _ending(ended: Ended | None, seconds: float | None) -> str:
    time = with_unit(seconds, "s") if seconds is not None else ""
    if ended is None:
        return _(N_("{seconds}, ending blank")).format(seconds=time) if time else _(N_("ending blank"))
    return _(_ENDED_AT_WORDS[ended]).format(seconds=time) if time else _(_ENDED_WORDS[ended])


def _tiles(trial: Trial) -> Iterator[Shape]:
    fill: Literal["shade"] | None = "shade" if trial.sway is not None else None
    for x, y in ((0, 0), *_AWAY.values()):
        left, top = 20.0 * x - _TILE / 2, 20.0 * y - _TILE / 2
        if trial.not_examined is not None:
            yield Rect(left, top, _TILE, _TILE, None, "ink2", 0.7, (2.6, 2.2))
        else:
            yield Rect(left, top, _TILE, _TILE, fill, "tile", 0.7)


def _sways(trial: Trial) -> Iterator[Shape]:
    if trial.sway is None:
        return
    count = _GRADES[trial.sway]
    if count == 0:
        yield Rect(-2.5, -2.5, 5, 5)
    elif trial.direction is None:
        for place in range(count):
            x = 5.5 * (place - (count - 1) / 2)
            yield Line(x, -7, x, 7, 2.4)
    else:
        for away in _directions(trial.direction):
            for distance in _AT[:count]:
                yield _across(away, distance, 14, 2.4)


def _losses(trial: Trial) -> Iterator[Shape]:
    """Draw where balance was lost; to nowhere known: a bar at the foot of the middle tile, the uprights stand on it."""
    if trial.ended not in _LOST:
        return
    if trial.direction is None:
        yield Line(-9, 7.5, 9, 7.5, 3)
    else:
        for away in _directions(trial.direction):
            yield _across(away, 32.5, 18, 3)


def _directions(direction: Direction) -> tuple[tuple[int, int], ...]:
    return tuple(_AWAY.values()) if direction == "any" else (_AWAY[direction],)


def _across(away: tuple[int, int], distance: float, length: float, width: float) -> Line:
    x, y = away[0] * distance, away[1] * distance
    along, down = abs(away[1]) * length / 2, abs(away[0]) * length / 2
    return Line(x - along, y - down, x + along, y + down, width)
