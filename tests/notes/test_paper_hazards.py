"""How a paper could hurt someone, and what prevents it: each control has a test that names its hazard."""

import ast
import json
import re
from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import neuroform
from neuroform.exam import walk
from neuroform.exam.conclusion import LETTER_TO
from neuroform.exam.findings import Examined
from neuroform.notes import papers
from neuroform.notes.content import KINDS, Basis, Clinic, Earlier, Kind
from neuroform.notes.context import PROPOSED
from tests.exam.strategies import generated
from tests.notes.invented import EXAM, NOW, basis_of, exam_of, pages_of, squeezed
from tests.notes.test_generated_papers import concluded, drawable

EARLIER = Earlier(title="Legs and balance examination, note", when="12 November 2026, 09:30", sha256="9f" * 32)
SENDS = {
    "socket",
    "ssl",
    "smtplib",
    "http",
    "urllib.request",
    "ftplib",
    "requests",
    "aiohttp",
    "webbrowser",
    "asyncore",
}
# Words of someone who knows, where a reading supports no more than a possibility.
FACTS = ("diagnos", "suffers from", "proves", "confirms the", "is caused by", "due to a", "has a stroke", "you have a")


def letter_to(reader: str, **conclusion: Any) -> Basis:
    """Return the invented examination with a letter to a reader."""
    raw = deepcopy(EXAM)
    raw["conclusion"]["letter"]["to"] = reader
    raw["conclusion"] |= conclusion
    return basis_of(exam_of(raw))


def with_urgent(basis: Basis, code: str, message: str) -> Basis:
    """Return conclusions with one urgent finding."""
    found = replace(NOW, code=code, message=message)
    return replace(basis, reading=replace(basis.reading, urgent=(found,)))


@pytest.mark.parametrize("code", PROPOSED)
def test_h15_every_urgent_code_is_extracted_from_page_one_of_every_kind(
    code: str, basis: Basis, poppler_text: Callable[..., str]
) -> None:
    """H15: an urgent finding lost from a letter. It stands on page one, before anything that can be edited."""
    message = f"Urgent {code}: see this person at once."
    found = with_urgent(basis, code, message)
    for kind in KINDS:
        page = squeezed(poppler_text(papers.make(kind, found, earlier=EARLIER).pdf, "-f", "1", "-l", "1"))
        if kind == "patient_letter":
            # In plain words, which the letter's own template holds; never the clinician's.
            assert page.index("You need to be seen in hospital now.") < page.index("What we did"), code
            assert "Call an ambulance at once if" in page
            continue
        at = page.replace("- ", "-").index(message)
        written = [basis.exam.conclusion.impression, basis.exam.conclusion.plan, basis.exam.conclusion.paragraph]
        for own in (squeezed(each) for each in written if each):
            assert own not in page.replace("- ", "-")[:at], (code, kind)


@pytest.mark.parametrize("reader", LETTER_TO.words)
def test_h17_a_letter_for_now_says_telephone_first_whoever_reads_it(reader: str) -> None:
    """H17: a letter to the wrong place. It says to telephone first, and names whom the finding needs."""
    text = papers.text("referral", with_urgent(letter_to(reader), "cauda-equina", "Now."))
    head = text[: text.index("\nTo")] if "\nTo" in text else text
    assert "Telephone first. This letter confirms a call." in text
    assert head.startswith("Now (urgent finding)")


def test_h17_nothing_of_the_program_can_send_a_paper() -> None:
    """H17: nothing is sent by itself. One module reaches a network, for the time of a signature, and no paper."""
    package = Path(neuroform.__file__).parent
    found = {file.relative_to(package).as_posix() for file in package.rglob("*.py") if _reaches_out(file)}
    assert found == {"signing/timestamps.py"}


def _reaches_out(file: Path) -> bool:
    names: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {each.name for each in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module)
            names |= {f"{node.module}.{each.name}" for each in node.names}
    return bool(names & SENDS) or any("QtNetwork" in name or "QDesktopServices" in name for name in names)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in {"patient_letter", "completeness"}])
def test_h18_who_was_told_and_when_stands_on_the_paper_or_its_being_blank(kind: Kind) -> None:
    """H18: a letter written, felt as done."""
    told = with_urgent(letter_to("emergency", told="Dr Ames, by telephone, 10:40"), "cauda-equina", "Now.")
    assert "Told: Dr Ames, by telephone, 10:40" in papers.text(kind, told, earlier=EARLIER)
    nobody = with_urgent(letter_to("emergency", told=None), "cauda-equina", "Now.")
    assert "Who was told, and when, is blank." in papers.text(kind, nobody, earlier=EARLIER)


@pytest.mark.parametrize("kind", KINDS)
def test_h25_an_empty_examination_is_called_normal_by_no_paper(kind: Kind) -> None:
    """H25: blank read as normal."""
    raw = {name: deepcopy(EXAM[name]) for name in ("format", "patient", "encounter")}
    raw["conclusion"] = {"letter": {"to": "specialist", "recipient": "Dr Holm", "question": "?"}}
    text = papers.text(kind, concluded(exam_of(raw)), earlier=EARLIER).casefold()
    for phrase in re.findall(r"[^.;\n]*\bnormal\b[^.;\n]*", text):
        assert re.search(r"blank|not called normal|looked for and normal|none of|does not mean", phrase), phrase


def test_h25_the_three_states_are_told_apart_in_every_format(basis: Basis, poppler_text: Callable[..., str]) -> None:
    """H25: the exam that travels along, the text and the pages each tell examined, not examined and blank apart."""
    plain = json.loads(basis.exam.model_dump_json(exclude_none=True))
    assert plain["head_and_eyes"]["nystagmus"] == {"value": "none"}
    assert plain["head_and_eyes"]["skew"]["not_examined"] == "deferred"
    assert "gaze_evoked_nystagmus" not in plain["head_and_eyes"]
    for told in (papers.text("note", basis), poppler_text(papers.make("note", basis).pdf)):
        words = squeezed(told).casefold()
        assert re.search(r"not examined .*skew:? deferred", words)
        assert re.search(r"blank .*nystagmus changing with gaze", words)
        assert re.search(r"found normal .*nystagmus, looking ahead: none", words)


def test_h26_pasted_text_gives_every_finding_back_on_its_own_side() -> None:
    """H26: pasted text loses sides. What was found comes back out of the text, each side by its word."""
    checked = 0
    for exam in generated(40, seed=26):
        basis = concluded(drawable(exam))
        text = squeezed(papers.text("note", basis)).casefold()
        for path, found in walk.recorded(basis.exam):
            entry = walk.entry(path)
            if not entry.sided or entry.answers is None or not isinstance(found, Examined):
                continue
            if not isinstance(found.value, str):
                continue
            words = entry.answers.words[found.value].casefold()
            side = path.rpartition(".")[2]
            assert _told(text, entry, side, words), (path, words)
            checked += 1
    assert checked > 300


def _told(text: str, entry: walk.Entry, side: str, words: str) -> bool:
    """Look in a text for what was found of an item, beside the word for its side or "both sides"."""
    found = rf"(?:up to (?:the )?)?{re.escape(words)}"
    sided = rf"{side} {found}|{found} on (?:the {side}|both sides|either side)"
    if words == "no":
        sided += "|not present on either side"
    label = re.escape(walk.name_of(entry.path).casefold())
    if re.search(rf"{label}[:,] (?:[^.]{{0,200}}[ ;])?(?:{sided})", text):
        return True
    if not entry.item.short:
        return False
    # Items of one block that are alike: "power, MRC grade, 5 on both sides: hip flexion, knee extension".
    block, short = re.escape(entry.groups[-1][1].label.casefold()), re.escape(entry.item.short.casefold())
    return bool(re.search(rf"{block}, (?:{sided}): (?:[^;.]*, )?{short}(?:,|;|\.)", text))


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "patient_letter"])
def test_h26_the_text_begins_with_what_is_urgent(kind: Kind, basis: Basis) -> None:
    """H26: pasted text loses urgent findings."""
    text = papers.text(kind, with_urgent(basis, "cauda-equina", "Now, by telephone."), earlier=EARLIER)
    assert text.startswith("Now (urgent finding): Now, by telephone.")


@pytest.mark.parametrize("sign", ["< 3.5", "≤ 4", "≥ 60", "> 2", "± 0.5", "→ left", "✓", "½", "µ", "°", "−3"])
def test_h29_a_sign_that_changes_a_number_comes_back_from_every_page(
    sign: str, basis: Basis, poppler_text: Callable[..., str]
) -> None:
    """H29: a glyph drops, and "< 3.5" becomes "3.5"."""
    exam = walk.put(basis.exam, "conclusion.plan", f"Vibration {sign} at the toe.")
    for kind in ("note", "referral", "patient_letter"):
        assert f"Vibration {sign} at the toe" in squeezed(poppler_text(papers.make(kind, basis_of(exam)).pdf)), kind


@pytest.mark.parametrize("kind", KINDS)
def test_h31_no_paper_tells_a_reading_as_a_fact(kind: Kind) -> None:
    """H31: a reading taken for a diagnosis. It "supports" or is "compatible"; causes are never facts."""
    basis = letter_to("specialist", paragraph=None, impression="Unsteady.", plan="Seen again.")
    text = papers.text(kind, basis, earlier=EARLIER).casefold()
    assert [words for words in FACTS if words in text] == []
    assert "does not replace" in text
    if kind in {"note", "referral", "addendum"}:
        assert "this supports a sensory ataxia" in text


@pytest.mark.parametrize("reader", LETTER_TO.words)
def test_h36_a_number_to_ring_is_the_clinics_own_and_without_one_the_local_is_named(reader: str) -> None:
    """H36: local numbers and names differ."""
    basis = letter_to(reader)
    raw = deepcopy(EXAM)
    raw["conclusion"]["letter"] |= {"to": reader, "contact": None}
    basis = basis_of(exam_of(raw))
    own = papers.text("referral", basis, clinic=Clinic(telephones={"day ward": "4040"}))
    assert "day ward: 4040" in own
    without = papers.text("referral", basis)
    assert "at the local number" in without
    assert not re.search(r"\b(?:911|999|112|116117)\b", without)


@pytest.mark.parametrize("kind", KINDS)
def test_h36_no_paper_names_a_number_of_one_country(kind: Kind, basis: Basis) -> None:
    """H36: nobody is sent to a number that isn't theirs."""
    text = " ".join(pages_of(papers.make(kind, with_urgent(basis, "cauda-equina", "Now."), earlier=EARLIER).pdf))
    assert not re.search(r"\b(?:911|999|112|116117|000|111)\b", text)
