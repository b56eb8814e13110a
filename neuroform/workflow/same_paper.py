"""Says whether the exam that a paper carries is the one on its pages.

Errs towards "no": what the exam doesn't account for on the pages counts against the paper.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from neuroform.errors import NeuroformError
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.language import N_, _, in_english
from neuroform.settings import Settings
from neuroform.workflow import page_words, recipe
from neuroform.workflow.page_words import Page
from neuroform.workflow.recipe import Again, Recipe


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """What comparing a paper's pages with the exam it carries found."""

    agrees: bool | None
    """None where it can't be told."""
    by: Literal["pages", "words", "nothing"]
    """Pages: the paper was written again and both compared. Words: the findings' words were looked for."""
    sentence: str
    """The answer in one sentence, then what to do."""


def compare(paper: bytes, settings: Settings) -> Comparison:
    """Compare the pages of a paper, signed or not, with the exam attached to it.

    The paper is written again, by what it carries of its clinic or else by `settings`, and words and pictures of the
    pages are compared. Where another program or other templates wrote it, by the line at its foot or by the digest it
    carries, the person and the findings are looked for by their words. Never raises for what a paper holds. Call it
    from one thread at a time.
    """
    try:
        return _compared(paper, settings)
    except NeuroformError as error:
        why = error.what.rstrip(".")
        return _unknown(why[:1].lower() + why[1:])
    except Exception:  # the file is hostile by assumption; asking about it must still give an answer
        return _unknown(_(N_("the file is damaged")))


def _compared(paper: bytes, settings: Settings) -> Comparison:
    from neuroform.signing import pdfa

    carried = pdfa.attached(paper)
    if pdfa.attached_now(paper) != carried:
        exchanged = _(N_("The examination in this paper was exchanged after it was signed."))
        return _refused(exchanged, by="nothing")
    exam = files.read(carried)
    shown = page_words.read(paper)
    supplement = pdfa.supplement(paper)
    ways = [recipe.read(supplement)] if supplement is not None else list(_guesses(exam, settings))
    again = [recipe.again(exam, way, settings) for way in ways]
    if supplement is not None and not _is_version(again[0], shown):
        again.append(recipe.again(exam, recipe.built_in(ways[0]), settings))
    made = {each: page_words.read(each.pages()) for each in again if _is_version(each, shown)}
    differences = [page_words.difference(shown, pages) for pages in made.values()]
    if None in differences:
        same = _(N_("The examination in this paper makes the same pages."))
        return Comparison(agrees=True, by="pages", sentence=same)
    nearest = made.get(again[0]) or page_words.read(again[0].pages())
    whose = page_words.stranger(exam, shown, nearest)
    if whose is not None:
        return _refused(whose, by="words")
    if supplement is not None and differences and ways[0].by_this_program:
        words = _(N_("The examination in this paper doesn't make these pages: {difference}."))
        return _refused(words.format(difference=differences[0]), by="pages")
    return _by_words(again[0], shown, nearest)


def _guesses(exam: Examination, settings: Settings) -> Iterator[Recipe]:
    """Yield the ways this workplace writes papers; an addendum names a note that only the paper itself knows."""
    from neuroform.notes.content import KINDS

    for kind in KINDS:
        if kind != "addendum" and (kind != "referral" or exam.conclusion.letter is not None):
            yield recipe.guessed(kind, exam, settings)


def _is_version(again: Again, shown: tuple[Page, ...]) -> bool:
    return all(page_words.letters(again.version) in page.letters for page in shown)


def _by_words(again: Again, shown: tuple[Page, ...], made: tuple[Page, ...]) -> Comparison:
    why = _(N_("another version or another clinic wrote it"))
    with in_english():
        recorded = page_words.findings(again.basis)
    # What can't be found even in pages made from the exam, a letter's for one, isn't asked for.
    expected = [each for each in recorded if page_words.holds(made, each)]
    missing = [each for each in expected if not page_words.holds(shown, each)]
    if missing:
        listed = ", ".join(each.label for each in missing[:3])
        words = _(N_("The examination in this paper has findings that its pages don't tell: {items} ({why})."))
        return _refused(words.format(items=listed, why=why), by="words")
    if not expected:
        words = _(N_("The pages name whose examination is in this paper; no more could be compared: {why}."))
        return Comparison(agrees=None, by="words", sentence=words.format(why=why))
    tell = _(N_("The pages tell {count} of {total} findings in this paper's examination; no more was compared: {why}."))
    told = tell.format(count=len(expected), total=len(recorded), why=why)
    return Comparison(agrees=True, by="words", sentence=told)


def _refused(sentence: str, *, by: Literal["pages", "words", "nothing"]) -> Comparison:
    return Comparison(agrees=False, by=by, sentence=" ".join((sentence, _(N_("Don't rely on it.")))))


def _unknown(why: str) -> Comparison:
    unknown = _(N_("Whether the pages match the examination in this paper can't be told: {why}."))
    return Comparison(agrees=None, by="nothing", sentence=unknown.format(why=why))
