"""Gathers what a paper is written from: the examination and what is concluded of it, in the papers' language."""

from typing import TYPE_CHECKING

from neuroform.exam.examination import Examination
from neuroform.language import in_english
from neuroform.protocols.loading import Protocol
from neuroform.settings import Settings
from neuroform.workflow.conclude import Conclusions, conclude

if TYPE_CHECKING:
    from neuroform.notes.content import Basis


@in_english()
def gather(exam: Examination, protocol: Protocol, settings: Settings) -> "tuple[Basis, Conclusions]":
    """Return what a paper is written from, and the conclusions in it; `protocol` says how much is to be examined."""
    from neuroform.notes.content import Basis

    concluded = conclude(exam, settings, protocol=protocol, with_next_tests=True)
    basis = Basis(
        exam=exam,
        reading=concluded.reading,
        gaps=concluded.gaps,
        sentences=concluded.sentences,
        progress=concluded.progress,
        needed=concluded.needed,
        protocol=protocol.label,
        next_tests=concluded.next_tests,
    )
    return basis, concluded
