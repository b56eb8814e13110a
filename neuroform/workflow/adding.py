"""Names the signed note that an addendum adds to."""

from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from neuroform.errors import NeuroformError, PaperError
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.language import N_, _, in_english
from neuroform.settings import Settings
from neuroform.workflow import recipe
from neuroform.workflow.files import read_file
from neuroform.workflow.signing import extract_exam, verify_paper

if TYPE_CHECKING:
    from neuroform.notes.content import Earlier, Kind

ADDED_TO = frozenset({"note", "addendum"})
"""The kinds of paper that an addendum adds to."""


def earlier_note(note: bytes, exam: Examination, settings: Settings) -> "Earlier":
    """Return the title, the date and the SHA-256 of a signed note that an addendum about `exam` adds to.

    Whether its signer is trusted is asked of the note itself, when it is verified. Raises PaperError or SigningError
    for a file that is no note, isn't signed, was changed since, or is about another person.
    """
    found = verify_paper(note, settings)
    if not found.signatures:
        raise _refused(_(N_("That paper isn't signed.")))
    if not found.unchanged:
        raise _refused(found.sentence)
    earlier, kind = files.read(extract_exam(note)), _kind(note)
    if kind not in ADDED_TO:
        raise _refused(_(N_("That paper is no note.")))
    if not same_person(earlier, exam):
        raise _another_person(earlier)
    return _named(earlier, kind, sha256(note).hexdigest())


def can_be_added_to(path: Path) -> bool:
    """Tell whether a paper is a note or an addendum; whether it can be relied on is asked when it is added to."""
    try:
        return _kind(read_file(path)) in ADDED_TO
    except NeuroformError:
        return False


def _kind(note: bytes) -> "Kind":
    from neuroform.signing.pdfa import supplement

    held = supplement(note)
    if held is None:
        raise _refused(_(N_("That paper doesn't say what kind of paper it is.")))
    return recipe.read(held).kind


def same_person(one: Examination, other: Examination) -> bool:
    """Tell whether two examinations are of one person: born on one day, and with an identifier or a name in common.

    Names change and identifiers are added, so neither alone has to stay; two numbers of one scheme never differ.
    """
    first, second = one.patient, other.patient
    held, held_too = ({each.scheme: each.value for each in person.identifiers} for person in (first, second))
    shared = held.keys() & held_too.keys()
    if first.birth_date != second.birth_date or any(held[scheme] != held_too[scheme] for scheme in shared):
        return False
    names = ({person.family_name.casefold(), person.given_names.casefold()} for person in (first, second))
    return bool(shared) or next(names) == next(names)


def _another_person(earlier: Examination) -> PaperError:
    from neuroform.notes import heads, wording

    born = heads.short_day(wording.wording(None), earlier.patient.birth_date)
    return PaperError(
        _(N_("That note is about {name}, born {born}, and the examination about somebody else.")).format(
            name=heads.name(earlier), born=born
        ),
        _(N_("Choose a note and an examination of one person.")),
    )


def _refused(why: str) -> PaperError:
    return PaperError(
        " ".join((_(N_("Nothing can be added to that paper.")), why)),
        _(N_("Choose the signed note, as it was signed.")),
    )


@in_english()
def _named(earlier: Examination, kind: "Kind", digest: str) -> "Earlier":
    from neuroform.notes import heads, wording
    from neuroform.notes.content import Earlier

    words = wording.wording(None)
    title = f"{words(f'title.{kind}')}, {words(f'kind.{kind}')}"
    return Earlier(title=title, when=heads.moment(words, earlier.encounter.examined_at), sha256=digest)
