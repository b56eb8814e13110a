"""What a paper holds, as frozen values: the same for the page, the plain text and the tests."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from neuroform.completeness.gaps import Gap, Progress
from neuroform.exam.examination import Examination
from neuroform.figures.item_line import Segment
from neuroform.figures.leg_words import Kind as Feeling
from neuroform.figures.leg_words import LegFindings
from neuroform.figures.marks import Mark
from neuroform.figures.sway_cross import Trial
from neuroform.notes.measures import Measures
from neuroform.reasoning.results import NextTest, Reading, Sentence, Urgency

Kind = Literal["note", "referral", "patient_letter", "completeness", "addendum"]
KINDS: tuple[Kind, ...] = ("note", "referral", "patient_letter", "completeness", "addendum")
Tone = Literal["body", "small", "tiny"]


@dataclass(frozen=True, kw_only=True)
class Basis:
    """Everything a paper is written from: the examination and what was concluded of it."""

    exam: Examination
    reading: Reading
    gaps: tuple[Gap, ...]
    sentences: tuple[Sentence, ...]
    progress: Progress
    needed: tuple[str, ...]
    """Whole paths of what is to be examined."""
    protocol: str
    """How much is to be examined, as it is shown: "full examination"."""
    next_tests: tuple[NextTest, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Clinic:
    """What a clinic adds to its papers."""

    name: str = ""
    letterhead: tuple[str, ...] = ()
    telephones: Mapping[str, str] = field(default_factory=dict)
    """Who to the number, from the clinic's own file."""
    templates: Path | None = None
    """Folder of the clinic's own wording; what it lacks is taken from the program's."""
    demonstration: bool = False
    """Every page then says that the person is invented."""
    logo: bytes = b""
    """A grey PNG, for the head of the first page."""
    refused: bool = False
    """The clinic's own templates can't be used: the program's stand in, and the foot says so."""


@dataclass(frozen=True, kw_only=True)
class Earlier:
    """The signed note that an addendum adds to."""

    title: str
    when: str
    sha256: str
    """Of the file."""
    text: str = ""
    """What is added to it, in the examiner's own words."""


@dataclass(frozen=True, kw_only=True)
class Cell:
    """One finding as it stands in a row."""

    words: str
    mark: Mark | None
    """None where a finding says nothing by itself."""
    notes: tuple[str, ...] = ()
    """Limit, "borderline", "copied from the other side", "answered with one key", "does not fit"."""
    copied: bool = False
    reason: str = ""
    """Why it was not examined, with the comment given."""


@dataclass(frozen=True, kw_only=True)
class Row:
    """An item and its findings: both sides, or one cell."""

    label: str
    right: Cell | None = None
    left: Cell | None = None
    single: Cell | None = None


@dataclass(frozen=True, kw_only=True)
class Prose:
    """Paragraphs beside a heading."""

    heading: str
    paragraphs: tuple[str, ...]
    tone: Tone = "body"
    before: str = ""
    """A line in small type above."""
    after: str = ""
    """A quiet line below."""
    whole: bool = False
    """It stays on one page where that takes no more pages."""


@dataclass(frozen=True, kw_only=True)
class RunIn:
    """A name, then what was found, many times over."""

    heading: str
    lines: tuple[tuple[str, str], ...]
    flowing: bool = False
    """In one paragraph; else each on its own line."""


@dataclass(frozen=True, kw_only=True)
class Marked:
    """A list of items, each with its mark and what is to be said."""

    heading: str
    entries: tuple[tuple[Mark, str, str], ...]


@dataclass(frozen=True, kw_only=True)
class Findings:
    """Rows with the patient's right and left always in the same columns."""

    heading: str
    right: str
    left: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, kw_only=True)
class Explained:
    """Gaps that were signed with a reason."""

    heading: str
    entries: tuple[tuple[str, str], ...]


@dataclass(frozen=True, kw_only=True)
class Summary:
    """The figures at the head of a note and the words beside them."""

    heading: str
    stance: str
    crosses: tuple[tuple[str, Trial], ...]
    systems: tuple[tuple[str, str, Mark], ...]
    legs: LegFindings | None
    feelings: tuple[Feeling, ...]
    legs_words: str


@dataclass(frozen=True, kw_only=True)
class Call:
    """The frame in the patient's letter that says when to call for help."""

    heading: str
    lines: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Signatures:
    """Places for the two signatures."""

    heading: str
    author: str
    supervisor: str
    advice: str
    waiting: tuple[str, str] = ("", "")
    """What stands in text in the places of both: a text carries no signature."""


Block = Prose | RunIn | Marked | Findings | Explained | Summary | Call | Signatures


@dataclass(frozen=True, kw_only=True)
class Urgent:
    """An urgent finding in its frame, outside every editable text."""

    urgency: Urgency
    word: str
    caption: str
    message: str
    source: str
    found: str = ""
    """The findings it rests on, in a phrase."""


@dataclass(frozen=True, kw_only=True)
class Column:
    """One of the columns that say who, when and by whom; its first line may be strong."""

    caption: str
    lines: tuple[str, ...]
    strong: bool = False


@dataclass(frozen=True, kw_only=True)
class Foot:
    """What stands at the foot of every page."""

    person: str
    paper: str
    page: str
    """With {number} and {count}."""
    caution: str
    version: str


@dataclass(frozen=True, kw_only=True)
class Paper:
    """A whole paper, without a place for anything on a page."""

    kind: Kind
    language: str
    title: str
    kind_word: str
    when: str
    author: str
    banner: str
    """Stands on every page of a demonstration, else empty."""
    item_line: tuple[tuple[str, tuple[Segment, ...]], ...]
    item_line_words: str
    columns: tuple[Column, ...]
    person: tuple[str, ...]
    """Of a letter: the name, then age, birth and identifiers, on a line of their own."""
    intro: str
    """Of the patient's letter: for whom, when, from whom."""
    urgent: tuple[Urgent, ...]
    first: Prose | None
    """What is still needed, or has to be done before this paper is read on; below the urgent findings."""
    blocks: tuple[Block, ...]
    foot: Foot
    logo: bytes = b""
    measures: Measures = field(default_factory=Measures)
