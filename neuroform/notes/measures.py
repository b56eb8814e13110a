"""What a clinic may change of a paper's layout: margins, column of headings, sizes of type, room for a letterhead.

The measures in force are those of the paper that is being laid out.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, replace
from functools import cached_property

from neuroform.notes.pages import WIDTH
from neuroform.notes.pieces import Style


@dataclass(frozen=True, kw_only=True)
class Measures:
    """Points on A4; what is derived of them stands below."""

    margin_left: float = 51.0
    margin_right: float = 51.0
    headings: float = 102.0
    """Width of the column of headings at the side."""
    letterhead: float = 0.0
    """Room left free at the head of the first page, for paper that is printed already."""
    body_size: float = 9.6
    small_size: float = 8.2
    letter_size: float = 9.6
    patient_size: float = 12.0

    @cached_property
    def left(self) -> float:
        """Where the page's content begins."""
        return self.margin_left

    @cached_property
    def right(self) -> float:
        """Where it ends."""
        return WIDTH - self.margin_right

    @cached_property
    def width(self) -> float:
        """Of the page's content."""
        return self.right - self.left

    @cached_property
    def text(self) -> float:
        """Where text beside its heading begins."""
        return self.left + self.headings

    @cached_property
    def text_width(self) -> float:
        """Of text beside its heading."""
        return self.right - self.text

    @cached_property
    def heading_width(self) -> float:
        """Of a heading beside its text."""
        return self.headings - 8

    @cached_property
    def axis(self) -> float:
        """Of the findings' rows."""
        return self.text + self.text_width / 2

    @cached_property
    def body(self) -> Style:
        """What was written in sentences."""
        return Style(size=self.body_size, leading=self.body_size * 14 / 9.6)

    @cached_property
    def strong(self) -> Style:
        """Sentences that come first."""
        return replace(self.body, weight=600)

    @cached_property
    def small(self) -> Style:
        """What runs on in one block."""
        return Style(size=self.small_size, leading=self.small_size * 11.6 / 8.2, colour="ink2")

    @cached_property
    def small_strong(self) -> Style:
        """What leads a line of it."""
        return replace(self.small, weight=600, colour="ink")

    @cached_property
    def letter(self) -> Style:
        """A letter's sentences."""
        return Style(size=self.letter_size, leading=self.letter_size * 13.2 / 9.6)

    @cached_property
    def patient(self) -> Style:
        """The letter to the patient."""
        return Style(size=self.patient_size, leading=self.patient_size * 17 / 12)

    @cached_property
    def patient_heading(self) -> Style:
        """Its headings."""
        return replace(self.patient, weight=600)


_USUAL = Measures()
_IN_FORCE: ContextVar[Measures] = ContextVar("measures", default=_USUAL)


def now() -> Measures:
    """Return the measures in force."""
    return _IN_FORCE.get()


@contextmanager
def using(measures: Measures) -> Iterator[None]:
    """Lay out with these measures for as long as the block lasts."""
    token = _IN_FORCE.set(measures)
    try:
        yield
    finally:
        _IN_FORCE.reset(token)
