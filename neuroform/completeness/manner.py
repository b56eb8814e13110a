"""How the examination was made and written down: consent, copied sides, one key for many, words in free text.

Errs towards asking.
"""

import re
from collections.abc import Iterator, Mapping

from neuroform.completeness.rule import MUST, NOTICE, SHOULD, Call, Named, Rules, ask, look, tell
from neuroform.completeness.seen import Seen
from neuroform.exam.findings import Examined
from neuroform.language import N_
from neuroform.reasoning.facts import one, plain
from neuroform.reasoning.items import (
    BLADDER,
    BREATH_COUNT,
    CAUTIONS,
    FALLS,
    HEARING_LOSS,
    SADDLE,
    SPEECH,
    SYMPTOMS,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.signs import sym

rules = Rules()

CONSENT = one(lambda e: e.context.consent)
REASON = plain(lambda e: e.context.reason)

_WORDS: Mapping[str, Named] = {
    r"urin\w*|bladder|incontinen\w*|catheter\w*|retention": BLADDER,
    r"saddle|genital\w*|perine\w*|perian\w*": SADDLE,
    r"hearing|deaf\w*": HEARING_LOSS,
    r"neck": CAUTIONS,
    r"falls?|fell|fallen": FALLS,
    r"breath\w*|dyspn\w*": BREATH_COUNT,
    r"swallow\w*|chok\w*": SYMPTOMS,
    r"slurr\w*|speech": SPEECH,
}
_SOUGHT = tuple((re.compile(rf"\b(?:{words})\b", re.IGNORECASE), item) for words, item in _WORDS.items())


@rules.rule(
    "words-in-free-text",
    severity=NOTICE,
    message=N_("“{word}” stands in free text, where no rule reads it. Record it as well: {items}."),
    why=N_("Urgent findings read findings, never free text."),
)
def words_in_free_text(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The reason or a comment holds a word of an urgent story whose item is blank.

    Why: free text is read to ask, never to conclude.
    """
    texts = [found.comment for _path, found in seen.remarked if found.comment]
    if reason := seen.value(REASON):
        texts.append(reason)
    if not texts:
        return
    text = "\n".join(texts)
    for sought, item in _SOUGHT:
        if word := sought.search(text):
            yield ask(item, word=word[0])


@rules.rule(
    "consent-missing",
    severity=SHOULD,
    message=N_("Consent is blank."),
    why=N_("An examination rests on consent, or is made in the person's best interests."),
)
def consent_missing(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Consent is blank.

    Why: an examination rests on it.
    """
    yield ask(CONSENT)


@rules.rule(
    "sensation-unreliable",
    severity=SHOULD,
    message=N_(
        "Sensation was tested in someone confused or unable to follow instructions. Say how sure you are: {items}."
    ),
    why=N_("Sensation is what the person tells."),
)
def sensation_unreliable(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Sensory findings of someone who cannot follow instructions or is confused, without a comment.

    Why: sensation is what the person tells.
    """
    if not (seen.has(CAUTIONS, "cannot_follow_instructions").met or sym(seen, "confusion").met):
        return
    tested = {path: at for path, at in seen.found.items() if path.startswith("sensation.") and isinstance(at, Examined)}
    if tested and not any(at.comment for at in tested.values()):
        yield tell(*tested)


@rules.rule(
    "child",
    severity=MUST,
    message=N_("The person is {age} years old. No limits for children are held: judge each number yourself."),
    why=N_("Under 18 nothing is called normal or abnormal by a limit; a wrong date of birth shifts every limit."),
)
def child(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The person is under 18.

    Why: no limits for children; nothing is called normal or abnormal by a limit.
    """
    if seen.age < 18:
        yield tell("patient.birth_date", age=str(seen.age))


_ALWAYS_BY_ITSELF = (
    "sensation.joint_position.",
    "reflexes.plantar.",
    "head_and_eyes.head_impulse.",
    "head_and_eyes.new_hearing_loss.",
)
_COPIED = 4
"""Findings copied in one section, from which they are questioned."""


@rules.rule(
    "copied-side-not-reexamined",
    severity=SHOULD,
    message=N_("Copied from the other side: {items}. Were both sides examined?"),
    why=N_("A difference between the sides is what these tests look for."),
)
def copied_side_not_reexamined(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Four findings or more of a section were copied, or one that differs too often to be copied.

    Why: were both sides examined?
    """
    copied: dict[str, list[str]] = {}
    for path in entered(seen, "copied"):
        copied.setdefault(path.partition(".")[0], []).append(path)
    for paths in copied.values():
        if len(paths) >= _COPIED or any(path.startswith(_ALWAYS_BY_ITSELF) for path in paths):
            yield look(*paths)


_COMPLAINT: Mapping[str, tuple[str, ...]] = {
    "standing": ("unsteadiness", "falls"),
    "walking": ("unsteadiness", "falls", "weakness", "leg_stiffness"),
    "motor": ("weakness", "leg_stiffness"),
    "reflexes": ("weakness", "leg_stiffness", "numbness"),
    "sensation": ("numbness", "saddle_numbness", "altered_genital_feeling", "unsteadiness"),
    "coordination": ("unsteadiness", "slurred_speech", "hand_clumsiness"),
    "head_and_eyes": ("vertigo", "oscillopsia", "double_vision", "hearing_loss", "tinnitus"),
    "circulation": ("light_headedness", "fainting", "palpitations"),
}
"""What each section is about."""


@rules.rule(
    "together-on-the-complaint",
    severity=SHOULD,
    message=N_("Answered with one key, though it is what the person came for: {items}."),
    why=N_("The complaint's own section is examined item by item."),
)
def together_on_the_complaint(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A section that concerns the complaint was answered with one key.

    Why: that section is examined item by item.
    """
    told = seen.value(SYMPTOMS) or ()
    by_section: dict[str, list[str]] = {}
    for path in entered(seen, "together") if told else ():
        by_section.setdefault(path.partition(".")[0], []).append(path)
    for section, paths in by_section.items():
        if any(word in told for word in _COMPLAINT.get(section, ())):
            yield look(*paths)


def entered(seen: Seen, how: str) -> list[str]:
    """Return the paths of findings that were not entered by themselves."""
    return [path for path, found in seen.remarked if found.entered == how]
