"""Everything the window asks of the rooms below: one value of functions, so that tests can answer instead."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Protocol

from neuroform.completeness.gaps import Gap, Progress
from neuroform.exam.examination import Examination
from neuroform.reasoning.results import NextTest, Reading, Sentence
from neuroform.reference.results import Limit


class Conclusions(Protocol):
    """What follows from the examination as it stands."""

    @property
    def reading(self) -> Reading:
        """What the findings support."""

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """What is lacking."""

    @property
    def sentences(self) -> tuple[Sentence, ...]:
        """The paragraph."""

    @property
    def progress(self) -> Progress:
        """How far it is."""


@dataclass(frozen=True, kw_only=True)
class Judge:
    """The functions the window calls; each takes the examination as it stands and changes nothing."""

    conclude: Callable[[Examination], Conclusions]
    needed: Callable[[Examination, Conclusions], tuple[str, ...]]
    """Whole paths that are to be examined, in bedside order."""
    propose: Callable[[Examination, Reading], tuple[NextTest, ...]]
    """Examine next; called from a worker."""
    mark: Callable[[Examination, str], str]
    """normal, abnormal, borderline, neutral, not_examined or blank, by whole path."""
    limit: Callable[[Examination, str], Limit | None]
    """The limit for a number at this age."""
    barred: Callable[[Examination], Mapping[str, str]]
    """What must not or cannot be examined: path, with or without its side, to why, in words."""
