"""To whom a letter goes, as the findings propose it."""

from neuroform.completeness.gaps import Progress
from neuroform.exam.examination import Examination
from neuroform.reasoning.results import Reading


def proposed_reader(exam: Examination, reading: Reading) -> str:
    """Return the code of whom the findings propose, whomever the writer named; the letter itself goes to the latter."""
    from neuroform.notes.content import Basis
    from neuroform.notes.context import proposed

    letter = exam.conclusion.letter.model_copy(update={"to": None})
    unnamed = exam.model_copy(update={"conclusion": exam.conclusion.model_copy(update={"letter": letter})})
    return proposed(
        Basis(
            exam=unnamed,
            reading=reading,
            gaps=(),
            sentences=(),
            progress=Progress(answered=0, total=0),
            needed=(),
            protocol="",
        )
    )
