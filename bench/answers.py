"""Measures what is computed of an examination: check, interpret, next tests."""

from collections.abc import Iterator
from datetime import UTC, datetime

from bench.figures import Figure, medians
from neuroform.exam import files
from neuroform.settings import Settings


def figures(runs: int) -> Iterator[Figure]:
    """Yield check and interpret against the parse alone, and the next tests by themselves."""
    from neuroform.completeness.register import check, complete
    from neuroform.reasoning.facts import Facts
    from neuroform.reasoning.interpretation import read, sentences
    from neuroform.reasoning.next_tests import propose
    from neuroform.workflow.conclude import protocol_of
    from neuroform.workflow.demo import half_done

    data = files.write(half_done(datetime(2026, 11, 20, 10, 15, tzinfo=UTC)))
    exam = files.read(data)
    protocol = protocol_of(exam, Settings())

    def both() -> None:
        again = files.read(data)
        facts = Facts(again)
        reading = read(again, facts)
        sentences(again, reading, (), facts)
        complete(check(again, reading, protocol, facts=facts))

    parse, answered, proposed = medians([lambda: files.read(data), both, lambda: propose(exam, read(exam))], runs * 5)
    yield Figure(
        name="parse, check and interpret", milliseconds=answered, against="parse alone", against_milliseconds=parse
    )
    yield Figure(name="examine next", milliseconds=proposed, against="parse alone", against_milliseconds=parse)
