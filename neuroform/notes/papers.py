"""Makes a paper of any kind: as unsigned PDF pages, or as plain text to paste elsewhere."""

from neuroform.errors import PaperError
from neuroform.language import N_, _, in_english
from neuroform.notes.content import Basis, Block, Clinic, Column, Earlier, Kind, Paper, Prose
from neuroform.notes.layout import UnsignedPaper, lay_out
from neuroform.notes.wording import Wording


def make(kind: Kind, basis: Basis, *, clinic: Clinic | None = None, earlier: Earlier | None = None) -> UnsignedPaper:
    """Return a paper's pages, tagged and unsigned.

    `earlier` is the note that an addendum adds to. Raises GlyphError for a character no shipped face can draw and
    PaperError for a clinic's template that can't be used.
    """
    return lay_out(content(kind, basis, clinic=clinic, earlier=earlier))


def text(kind: Kind, basis: Basis, *, clinic: Clinic | None = None, earlier: Earlier | None = None) -> str:
    """Return the same paper as plain text, urgent findings first and sides as words; raises PaperError as `make`."""
    from neuroform.notes.text import written

    return written(content(kind, basis, clinic=clinic, earlier=earlier))


@in_english()
def content(kind: Kind, basis: Basis, *, clinic: Clinic | None = None, earlier: Earlier | None = None) -> Paper:
    """Return what a paper holds, before it is laid out; raises PaperError as `make`."""
    from neuroform.notes import arrangement, heads, letters, wording

    clinic = clinic or Clinic()
    words = wording.wording(clinic.templates)
    letter = kind in {"referral", "patient_letter"}
    line = () if letter else heads.item_line(words, basis)
    templates = ("papers.toml", "layout.toml", *([letters.template(kind, basis)] if letter else []))
    arranged = arrangement.arrangement(clinic.templates)
    when = basis.exam.encounter.examined_at
    return Paper(
        kind=kind,
        language=words("language"),
        title=words(f"title.{kind}"),
        kind_word=words(f"kind.{kind}"),
        when=heads.moment(words, when),
        author=heads.by(basis.exam),
        banner=heads.banner(words, clinic),
        item_line=line,
        item_line_words=heads.item_line_words(line),
        columns=_columns(kind, words, basis, clinic),
        person=letters.person(words, basis) if kind == "referral" else (),
        intro=letters.intro(words, basis) if kind == "patient_letter" else "",
        urgent=()
        if kind == "patient_letter"
        else letters.urgent(words, basis)
        if letter
        else heads.urgent(words, basis),
        first=_first(kind, words, basis),
        blocks=_blocks(kind, words, basis, clinic, earlier, arranged.order),
        foot=heads.foot(words, basis, kind, wording.digest(templates, clinic.templates), own_refused=clinic.refused),
        logo=clinic.logo,
        measures=arranged.measures,
    )


def _columns(kind: Kind, words: Wording, basis: Basis, clinic: Clinic) -> tuple[Column, ...]:
    from neuroform.notes import heads, letters

    if kind == "patient_letter":
        return ()
    return letters.columns(words, basis, clinic) if kind == "referral" else heads.columns(words, basis, clinic)


def _first(kind: Kind, words: Wording, basis: Basis) -> Prose | None:
    from neuroform.notes import letters, note

    if kind == "referral":
        return letters.first(words, basis)
    missing = note.first(words, basis)
    if kind in {"patient_letter", "completeness"} or not missing:
        return None
    return Prose(heading=words("note.first_heading"), paragraphs=missing, tone="small")


def _blocks(
    kind: Kind, words: Wording, basis: Basis, clinic: Clinic, earlier: Earlier | None, order: tuple[str, ...]
) -> tuple[Block, ...]:
    from neuroform.notes import letters, note, sheet

    match kind:
        case "note":
            return note.blocks(words, basis, order)
        case "referral":
            return letters.referral(words, basis, clinic)
        case "patient_letter":
            return letters.patient(words, basis, clinic)
        case "completeness":
            return sheet.completeness(words, basis)
        case "addendum":
            if earlier is None:
                raise PaperError(_(N_("An addendum has to name the note it adds to.")), _(N_("Choose that note.")))
            return sheet.addendum(words, basis, earlier, order)
