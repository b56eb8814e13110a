"""A paper is in its clinic's language, whatever the window's is."""

import gettext
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from io import BytesIO

import pikepdf
import pytest

from neuroform import language
from neuroform.exam import files
from neuroform.language import _
from neuroform.notes import papers
from neuroform.notes.content import KINDS, Basis, Earlier, Kind
from neuroform.settings import Settings
from neuroform.workflow import papers as written
from neuroform.workflow.conclude import conclude
from neuroform.workflow.papers import OFFERED, Order
from tests.notes.invented import EXAM, exam_of, pages_of

EARLIER = Earlier(title="note", when="then", sha256="ab" * 32)
AT = datetime(2026, 11, 20, tzinfo=UTC)
MADE = re.compile(r"[0-9T:+.-]{20,}|uuid:[0-9a-f-]+")


class Foreign(gettext.NullTranslations):
    """A catalogue in which every word is another one."""

    def gettext(self, message: str) -> str:
        return f"{message}§"


@pytest.fixture
def foreign_window(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(language, "_read", lambda _language: Foreign())
    yield
    language.use("en")


@pytest.mark.usefixtures("foreign_window")
@pytest.mark.parametrize("kind", KINDS)
def test_a_paper_does_not_follow_the_window_s_language(basis: Basis, kind: Kind) -> None:
    language.use("de")
    pdf, text = papers.make(kind, basis, earlier=EARLIER).pdf, papers.text(kind, basis, earlier=EARLIER)
    assert _("right") == "right§"
    language.use("en")
    assert papers.text(kind, basis, earlier=EARLIER) == text
    assert papers.make(kind, basis, earlier=EARLIER).pdf == pdf
    assert not any("§" in page for page in pages_of(pdf))


@pytest.mark.usefixtures("foreign_window")
@pytest.mark.parametrize("kind", OFFERED)
def test_nor_does_what_is_concluded_for_it(kind: Kind) -> None:
    exam = exam_of(EXAM)
    order = Order(kind=kind, exam=exam, exam_file=files.write(exam), earlier=EARLIER)
    language.use("de")
    # What the window shows is concluded in its own language, before a paper is written and after.
    conclude(exam, Settings(), with_next_tests=True)
    text, concluded = written.write_text(order, Settings())
    pages = written.lay_out(order, Settings())[0].pdf
    language.use("en")
    assert "§" not in text
    assert not any("§" in page for page in pages_of(pages))
    assert not any("§" in gap.message for gap in concluded.gaps)
    assert written.write_text(order, Settings())[0] == text


def strings_and_streams(pdf: bytes) -> set[str]:
    """List everything a PDF says, each stream with the dates and identifiers of its making left out."""
    found: set[str] = set()
    with pikepdf.open(BytesIO(pdf)) as document:
        for held in document.objects:
            if isinstance(held, pikepdf.Stream):
                found.add(MADE.sub("", held.read_bytes().decode("latin-1")))
            elif isinstance(held, pikepdf.Dictionary):
                found |= {str(value) for value in held.as_dict().values() if isinstance(value, pikepdf.String)}
    return found


@pytest.mark.usefixtures("foreign_window")
def test_nor_do_the_places_for_its_signatures() -> None:
    exam = exam_of(EXAM)
    order = Order(kind="note", exam=exam, exam_file=files.write(exam))
    language.use("de")
    foreign, _concluded = written.write_paper(order, Settings(), clock=lambda: AT)
    language.use("en")
    english, _concluded = written.write_paper(order, Settings(), clock=lambda: AT)
    assert any("not yet countersigned" in said for said in strings_and_streams(english))
    assert strings_and_streams(foreign) == strings_and_streams(english)
