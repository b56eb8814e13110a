"""Templates: a clinic's own words take the place of the program's, and a bad or hostile one only stops itself."""

import subprocess
import sys
from pathlib import Path

import pytest

from neuroform.errors import PaperError
from neuroform.notes import arrangement, papers, rendering, wording
from neuroform.notes.content import KINDS, Basis, Clinic, Earlier, Kind
from neuroform.notes.measures import Measures
from neuroform.notes.note import ORDER
from tests.notes.invented import pages_of, place_of, squeezed
from tests.notes.test_generated_papers import overfull

EARLIER = Earlier(title="Legs and balance examination, note", when="12 November 2026, 09:30", sha256="9f" * 32)


def clinic(folder: Path, **files: str) -> Clinic:
    """Return a clinic with its own templates; a name's double underscore is a folder."""
    for name, text in files.items():
        file = folder / f"{name.replace('__', '/')}.toml"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return Clinic(templates=folder)


def block(text: str) -> str:
    """Return a letter's template of one block."""
    return f"[[block]]\nheading = \"Own\"\ntext = '''{text}'''\n"


def test_a_clinic_s_words_replace_the_program_s_and_the_rest_stays(tmp_path: Path, basis: Basis) -> None:
    own = clinic(tmp_path, papers='[note]\nplan = "What we do next"\n')
    text = squeezed(" ".join(pages_of(papers.make("note", basis, clinic=own).pdf)))
    assert "What we do next" in text
    assert "Found abnormal" in text


def test_another_wording_prints_another_hash(tmp_path: Path, basis: Basis) -> None:
    own = clinic(tmp_path, papers='[note]\nplan = "What we do next"\n')
    assert papers.content("note", basis, clinic=own).foot.version != papers.content("note", basis).foot.version


def test_a_clinic_s_letter_is_filled_in(tmp_path: Path, basis: Basis) -> None:
    own = clinic(tmp_path, referral__falls_clinic=block("For {{ spoken_name }}: {{ said['reflexes.ankle'] }}"))
    assert "For Marit Okonjo-Vale: absent on both sides" in papers.text("referral", basis, clinic=own)


@pytest.mark.parametrize(
    ("broken", "names"),
    [
        ("[[block]\n", "falls_clinic.toml"),
        ("other = 1\n", "[[block]]"),
        ('[[block]]\nheading = "x"\n', "heading or its text"),
        (block("{{ no_such_word }}"), "no_such_word"),
        (block("{% if %}"), "Own"),
        (block("{{ 1 / 0 }}"), "ZeroDivisionError"),
        (block("{% include '/etc/passwd' %}"), "Own"),
        (block("{{ ''.__class__.__mro__ }}"), "Own"),
        (block("{{ said.update({'a': 'b'}) }}"), "Own"),
        (block("{% for i in range(10 ** 9) %}x{% endfor %}"), "Own"),
    ],
)
def test_a_broken_or_prying_template_gives_a_clear_error(tmp_path: Path, basis: Basis, broken: str, names: str) -> None:
    own = clinic(tmp_path, referral__falls_clinic=broken)
    with pytest.raises(PaperError, match=r"falls_clinic\.toml") as refused:
        papers.make("referral", basis, clinic=own)
    assert names in str(refused.value)
    assert "Mend it" in refused.value.do


@pytest.mark.skipif(sys.platform == "win32", reason="memory is not limited on Windows")
def test_a_template_that_takes_all_memory_is_stopped(tmp_path: Path, basis: Basis) -> None:
    own = clinic(tmp_path, referral__falls_clinic=block("{{ 'x' * 4000000000 }}"))
    with pytest.raises(PaperError, match="memory"):
        papers.make("referral", basis, clinic=own)


def test_a_template_that_never_ends_is_stopped(tmp_path: Path, basis: Basis, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rendering, "SECONDS", 1)
    nested = "{% for a in range(99999) %}{% for b in range(99999) %}{% endfor %}{% endfor %}"
    own = clinic(tmp_path, referral__falls_clinic=block(nested))
    with pytest.raises(PaperError, match=r"too long|too much"):
        papers.make("referral", basis, clinic=own)


def test_the_program_s_own_templates_stay_in_reach(tmp_path: Path, basis: Basis) -> None:
    own = clinic(tmp_path, referral__falls_clinic="broken")
    with pytest.raises(PaperError):
        papers.text("referral", basis, clinic=own)
    assert "Question" in papers.text("referral", basis)


def test_a_field_in_a_clinic_s_words_reads_nothing_but_its_text(tmp_path: Path, basis: Basis) -> None:
    own = clinic(tmp_path, papers='[foot]\nperson = "{name.__class__} {name:>999999999} {name}"\n')
    person = papers.content("note", basis, clinic=own).foot.person
    assert person.startswith("{name.__class__} {name:>999999999} Okonjo-Vale, Marit")


@pytest.mark.parametrize("text", ["[note]\nplan = 3\n", 'months = ["January"]\n', "note = 1\n", "[note\n"])
def test_wording_of_another_shape_is_refused(tmp_path: Path, basis: Basis, text: str) -> None:
    with pytest.raises(PaperError, match="papers"):
        papers.make("note", basis, clinic=clinic(tmp_path, papers=text))


def test_every_shipped_letter_is_filled_in_without_a_process(basis: Basis, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_args: object, **_options: object) -> None:
        raise AssertionError("a process was started")

    monkeypatch.setattr(subprocess, "run", refuse)
    assert papers.text("referral", basis)
    assert papers.text("patient_letter", basis)


def test_a_template_that_is_too_large_is_refused(tmp_path: Path, basis: Basis) -> None:
    own = clinic(tmp_path, referral__falls_clinic="#" * (wording.LARGEST + 1))
    with pytest.raises(PaperError, match="larger"):
        papers.text("referral", basis, clinic=own)


def test_the_shipped_layout_is_the_usual_one() -> None:
    assert arrangement.arrangement(None) == arrangement.Arrangement(measures=Measures(), order=ORDER)


def test_a_clinic_s_layout_moves_what_it_names_and_leaves_the_rest(tmp_path: Path, basis: Basis) -> None:
    own = clinic(tmp_path, layout="[page]\nleft = 60\nright = 42\nletterhead = 90\n[type]\nbody = 12\n")
    usual, moved = papers.make("note", basis), papers.make("note", basis, clinic=own)
    (left, top), (own_left, own_top) = place_of("Legs and balance", usual.pdf), place_of("Legs and balance", moved.pdf)
    assert own_left - left == pytest.approx(9, abs=0.5)
    assert own_top - top == pytest.approx(90, abs=0.5)
    assert overfull(moved.pdf, left=57.5, right=556) == []
    assert squeezed(" ".join(pages_of(usual.pdf)))[:40] == squeezed(" ".join(pages_of(moved.pdf)))[:40]
    # On later pages nothing is printed already.
    assert place_of("Legs and balance", moved.pdf, page=1)[1] == pytest.approx(
        place_of("Legs and balance", usual.pdf, page=1)[1], abs=0.5
    )


def test_a_clinic_orders_a_notes_blocks_below_what_is_urgent(tmp_path: Path, basis: Basis) -> None:
    order = ["plan", *(name for name in ORDER if name != "plan")]
    own = clinic(tmp_path, layout=f"[note]\norder = {order}\n".replace("'", '"'))
    text = papers.text("note", basis, clinic=own)
    assert text.index("\nPlan\n") < text.index("\nImpression\n")
    assert text.startswith("Within days (urgent finding)")
    assert text.index("\nSignatures\n") > text.index("\nLimits used\n")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    "layout",
    [
        "[page]\nleft = 85\nright = 28\nheadings = 90\nletterhead = 200\n",
        "[type]\nbody = 13\nsmall = 11\nletter = 13\npatient = 18\n",
    ],
)
def test_the_widest_and_the_largest_that_a_clinic_may_ask_for_fit(
    tmp_path: Path, basis: Basis, kind: Kind, layout: str
) -> None:
    made = papers.make(kind, basis, clinic=clinic(tmp_path, layout=layout), earlier=EARLIER)
    left, right = (83.5, 570.0) if "page" in layout else (49.0, 547.5)
    assert overfull(made.pdf, left=left, right=right) == []


@pytest.mark.parametrize(
    ("broken", "names"),
    [
        ("[page\n", "layout.toml"),
        ("[pages]\nleft = 51\n", "pages isn't known"),
        ("[page]\nlefts = 51\n", "page.lefts isn't known"),
        ("[page]\nleft = 5\n", "page.left has to be a number from 28 to 85"),
        ('[page]\nleft = "wide"\n', "page.left has to be a number"),
        ("[page]\nleft = true\n", "page.left has to be a number"),
        ("[page]\nleft = nan\n", "page.left has to be a number"),
        ("[page]\nleft = 80\nright = 80\n", "more than 204 together"),
        ("[type]\nbody = 7\n", "type.body has to be a number from 9.6 to 13"),
        ('[note]\norder = ["plan"]\n', "note.order has to name each of these once: impression"),
        ("note = 3\n", "note.order"),
        ("page = 3\n", "page isn't known"),
    ],
)
def test_a_layout_that_will_not_do_is_refused_by_its_entry(
    tmp_path: Path, basis: Basis, broken: str, names: str
) -> None:
    with pytest.raises(wording.TemplateError) as refused:
        papers.make("note", basis, clinic=clinic(tmp_path, layout=broken))
    assert "layout.toml" in str(refused.value)
    assert names in str(refused.value)
    assert "move it away" in refused.value.do
