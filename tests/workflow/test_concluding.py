"""Concluding from answer to answer gives what concluding afresh gives, whatever changed and in whatever order."""

from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from neuroform.completeness import register
from neuroform.exam.examination import Examination
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import entries, entry, get, put
from neuroform.reasoning.answers_supposed import supposed
from neuroform.settings import Settings
from neuroform.workflow import conclude as conclude_module
from neuroform.workflow.conclude import Concluding, conclude
from tests.conftest import IN_CI
from tests.reasoning.changing import read_raw, varied

SETTINGS = Settings()
WALKS = 300 if IN_CI else 40
PATHS = [path for at in entries() for path in at.paths]


def same(concluding: Concluding, exam: Examination) -> None:
    told, afresh = concluding(exam), conclude(exam, SETTINGS)
    assert told.reading.stance == afresh.reading.stance
    assert told.reading.systems == afresh.reading.systems
    assert told.reading.patterns == afresh.reading.patterns
    assert told.reading.urgent == afresh.reading.urgent
    assert told.gaps == afresh.gaps
    assert told.sentences == afresh.sentences
    assert (told.progress, told.needed) == (afresh.progress, afresh.needed)


def found_in(others: list[Examination], data: st.DataObject, path: str) -> Any:
    """Take what another examination holds there, what might be answered, a reason or nothing."""
    if entry(path).plain:
        return get(data.draw(st.sampled_from(others)), path)
    kind = data.draw(st.sampled_from(["other", "other", "supposed", "reason", "blank", "comment"]))
    if kind == "other":
        return get(data.draw(st.sampled_from(others)), path)
    if kind == "supposed":
        answers = supposed((path,))
        return Examined(value=data.draw(st.sampled_from(answers))[path]) if answers else None
    if kind == "comment":
        held = get(others[0], path)
        return Examined(value=held.value, comment="Urine leaks since May.") if isinstance(held, Examined) else held
    return NotExamined(not_examined="deferred") if kind == "reason" else None


@settings(max_examples=WALKS)
@given(st.lists(st.integers(0, 2**32), min_size=3, max_size=3), st.data())
def test_a_walk_from_answer_to_answer(seeds: list[int], data: st.DataObject) -> None:
    others = [read_raw(varied(seed)) for seed in seeds]
    exam, concluding = others[0], Concluding(lambda: SETTINGS)
    same(concluding, exam)
    for _step in range(12):
        path = data.draw(st.sampled_from(PATHS))
        exam = put(exam, path, found_in(others, data, path))
        same(concluding, exam)


def test_another_age_or_protocol_is_concluded_afresh() -> None:
    exam, concluding = read_raw(varied(7)), Concluding(lambda: SETTINGS)
    same(concluding, exam)
    for days in (9000, -9000, 20000):
        born = exam.patient.birth_date - timedelta(days=days)
        exam = exam.model_copy(update={"patient": exam.patient.model_copy(update={"birth_date": born})})
        same(concluding, exam)
    for name in ("full", "acute_vertigo", "ward"):
        exam = exam.model_copy(update={"encounter": exam.encounter.model_copy(update={"protocol": name})})
        same(concluding, exam)


def test_a_rule_that_crashes_is_asked_again_after_the_next_change(monkeypatch: pytest.MonkeyPatch) -> None:
    exam, concluding = read_raw(varied(7)), Concluding(lambda: SETTINGS)
    rule = next(rule for rule in register.RULES if rule.id == "stance-without-joint-position")
    whole = rule.find

    def crash(seen: Any, reading: Any) -> Any:
        list(whole(seen, reading))
        raise ZeroDivisionError

    same(concluding, exam)
    object.__setattr__(rule, "find", crash)
    try:
        exam = put(exam, "sensation.joint_position.great_toe.right", None)
        same(concluding, exam)
        assert any(gap.rule.startswith(register.NOT_CHECKED) for gap in concluding(exam).gaps)
    finally:
        object.__setattr__(rule, "find", whole)
    same(concluding, put(exam, "context.consent", None if exam.context.consent else "given"))


def test_what_fails_half_way_is_not_gone_on_from(monkeypatch: pytest.MonkeyPatch) -> None:
    exam, concluding = read_raw(varied(11)), Concluding(lambda: SETTINGS)
    same(concluding, exam)
    changed = put(exam, "standing.firm.eyes_closed.sway", None)
    with monkeypatch.context() as broken:
        broken.setattr(conclude_module, "sentences", lambda *_: 1 // 0)
        with pytest.raises(ZeroDivisionError):
            concluding(changed)
    same(concluding, exam)
