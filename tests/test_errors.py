"""Errors say what happened and what to do, and travel between processes."""

import pickle

import pytest

from neuroform import errors

PROBLEM = errors.Problem(path="standing.trial_seconds", found="90", allowed="5 to 60")


def test_a_message_is_what_happened_then_what_to_do() -> None:
    assert str(errors.NeuroformError("It broke.", "Mend it.")) == "It broke. Mend it."
    assert str(errors.NeuroformError("It broke.")) == "It broke."


@pytest.mark.parametrize(
    "error",
    [
        errors.ExamFileError("What.", "Do.", problems=[PROBLEM]),
        errors.NewerFormatError("What.", "Do."),
        errors.GlyphError("What.", "Do.", character="\N{SNOWMAN}"),
        errors.PassphraseError("What."),
    ],
)
def test_an_error_comes_back_whole_from_another_process(error: errors.NeuroformError) -> None:
    back = pickle.loads(pickle.dumps(error))
    assert type(back) is type(error)
    assert (str(back), vars(back)) == (str(error), vars(error))


def test_a_problem_names_place_found_and_allowed() -> None:
    assert str(PROBLEM) == "standing.trial_seconds: 90 (allowed: 5 to 60)"
    assert str(errors.Problem(path="", found="nothing", allowed="a file")) == "nothing (allowed: a file)"


def test_what_is_not_an_examination_is_caught_as_one_kind() -> None:
    assert issubclass(errors.NewerFormatError, errors.ExamFileError)
    assert issubclass(errors.PassphraseError, errors.SigningError)
    assert issubclass(errors.GlyphError, errors.PaperError)
