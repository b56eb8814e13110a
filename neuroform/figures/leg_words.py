"""What the leg drawing is told, and the sentence it never stands without."""

from dataclasses import dataclass
from typing import Literal

from neuroform.figures.noted import BLANK, BLANK_SIDES, NOT_EXAMINED, Noted, Sides, unexamined
from neuroform.language import N_, _

Side = Literal["right", "left"]
Kind = Literal["pinprick", "light_touch", "temperature"]
Missing = Literal["foot", "below_knee", "above_knee"]

LEVELS = ("none", "toes", "foot", "ankle", "mid_calf", "knee", "thigh", "groin")
"""How far up a leg a kind of feeling is reduced or lost, from nowhere to the groin."""

_REFLEXES = {
    "absent": N_("absent"),
    "with_reinforcement": N_("with reinforcement"),
    "reduced": N_("reduced"),
    "normal": N_("normal"),
    "brisk": N_("brisk"),
    "clonus": N_("clonus"),
    "flexor": N_("flexor"),
    "extensor": N_("extensor"),
    "equivocal": N_("equivocal"),
    "mute": N_("mute"),
}
_PLANTARS = frozenset({"flexor", "extensor", "equivocal", "mute"})
KNEE, ANKLE, PLANTAR = N_("knee {finding}"), N_("ankle {finding}"), N_("plantar {finding}")

_LEVEL_WORDS = {
    "toes": N_("the toes"),
    "foot": N_("the foot"),
    "ankle": N_("the ankle"),
    "mid_calf": N_("the mid-calf"),
    "knee": N_("the knee"),
    "thigh": N_("the thigh"),
    "groin": N_("the groin"),
}
_ALIKE: dict[str, str] = {
    "pinprick": N_("Pinprick {both} on both sides."),
    "light_touch": N_("Light touch {both} on both sides."),
    "temperature": N_("Temperature {both} on both sides."),
    "knee": N_("Knee reflexes {both} on both sides."),
    "ankle": N_("Ankle reflexes {both} on both sides."),
    "plantar": N_("Plantar responses {both} on both sides."),
}
_DIFFERING: dict[str, str] = {
    "pinprick": N_("Pinprick {right} on the right and {left} on the left."),
    "light_touch": N_("Light touch {right} on the right and {left} on the left."),
    "temperature": N_("Temperature {right} on the right and {left} on the left."),
    "knee": N_("Knee reflex {right} on the right and {left} on the left."),
    "ankle": N_("Ankle reflex {right} on the right and {left} on the left."),
    "plantar": N_("Plantar response {right} on the right and {left} on the left."),
}
_LOST: dict[str, str] = {
    "pinprick": N_("Pinprick reduced or lost up to {right} on the right and {left} on the left."),
    "light_touch": N_("Light touch reduced or lost up to {right} on the right and {left} on the left."),
    "temperature": N_("Temperature reduced or lost up to {right} on the right and {left} on the left."),
}
_MISSING: dict[tuple[Side, Missing], str] = {
    ("right", "foot"): N_("The right foot is missing."),
    ("right", "below_knee"): N_("The right leg is missing below the knee."),
    ("right", "above_knee"): N_("The right leg is missing above the knee."),
    ("left", "foot"): N_("The left foot is missing."),
    ("left", "below_knee"): N_("The left leg is missing below the knee."),
    ("left", "above_knee"): N_("The left leg is missing above the knee."),
}


@dataclass(frozen=True, kw_only=True)
class LegFindings:
    """What the drawing shows; what is not given is blank."""

    pinprick: Sides = BLANK_SIDES
    """Values are `LEVELS`, here and in the next two."""
    light_touch: Sides = BLANK_SIDES
    temperature: Sides = BLANK_SIDES
    knee: Sides = BLANK_SIDES
    """Reflex: absent, with_reinforcement, reduced, normal, brisk or clonus; the ankle's too."""
    ankle: Sides = BLANK_SIDES
    plantar: Sides = BLANK_SIDES
    """Flexor, extensor, equivocal or mute."""
    missing_right: Missing | None = None
    """What of the right leg is absent."""
    missing_left: Missing | None = None

    def __post_init__(self) -> None:
        """Refuse words no drawing knows."""
        allowed = (
            (LEVELS, (self.pinprick, self.light_touch, self.temperature)),
            (_REFLEXES.keys() - _PLANTARS, (self.knee, self.ankle)),
            (_PLANTARS, (self.plantar,)),
        )
        for words, pairs in allowed:
            for noted in (noted for pair in pairs for noted in (pair.right, pair.left)):
                if noted.value is not None and noted.value not in words:
                    raise ValueError(f"{noted.value!r} is not one of {', '.join(sorted(words))}")

    def feeling(self, kind: Kind) -> Sides:
        """Return the two sides of one kind of feeling."""
        return {"pinprick": self.pinprick, "light_touch": self.light_touch, "temperature": self.temperature}[kind]


def short_words(noted: Noted) -> str:
    """Say a reflex in a word or two; the reason why it was not examined stands in the sentence."""
    if noted.not_examined is not None:
        return _(NOT_EXAMINED)
    return _(BLANK) if noted.value is None else _(_REFLEXES[noted.value])


def in_words(findings: LegFindings) -> str:
    """Say everything the drawing shows, a sentence each."""
    told: list[str] = []
    if findings.missing_right is not None:
        told.append(_(_MISSING["right", findings.missing_right]))
    if findings.missing_left is not None:
        told.append(_(_MISSING["left", findings.missing_left]))
    told += (
        _sentence("pinprick", findings.pinprick),
        _sentence("light_touch", findings.light_touch),
        _sentence("temperature", findings.temperature),
        _sentence("knee", findings.knee),
        _sentence("ankle", findings.ankle),
        _sentence("plantar", findings.plantar),
    )
    return " ".join(told)


def _sentence(name: str, pair: Sides) -> str:
    right, left = pair.right.value, pair.left.value
    if right != left and right in _LEVEL_WORDS and left in _LEVEL_WORDS:
        return _(_LOST[name]).format(right=_(_LEVEL_WORDS[right]), left=_(_LEVEL_WORDS[left]))
    on_right, on_left = _finding(pair.right), _finding(pair.left)
    if on_right == on_left:
        return _(_ALIKE[name]).format(both=on_right)
    return _(_DIFFERING[name]).format(right=on_right, left=on_left)


def _finding(noted: Noted) -> str:
    if noted.not_examined is not None:
        return unexamined(noted.not_examined)
    if noted.value == "none":
        return _(N_("not reduced"))
    if noted.value in _LEVEL_WORDS:
        return _(N_("reduced or lost up to {level}")).format(level=_(_LEVEL_WORDS[noted.value]))
    return short_words(noted)
