"""What weakness and reflexes ask for.

Errs towards asking.
"""

from collections.abc import Iterator

from neuroform.completeness.rule import MUST, NOTICE, SHOULD, Call, Rules, ask, look
from neuroform.completeness.seen import Seen
from neuroform.exam.walk import OTHER, SIDES, Side
from neuroform.language import N_
from neuroform.reasoning.facts import any_side, both_sides, sided
from neuroform.reasoning.items import (
    ANKLE_METHOD,
    ANKLE_REFLEX,
    BREATH_COUNT,
    BULK,
    CLONUS_BEATS,
    DORSIFLEXION,
    EVERSION,
    FASCICULATION,
    INVERSION,
    KNEE_REFLEX,
    NECK_FLEXION,
    PINPRICK,
    SYMPTOMS,
    TEMPERATURE,
    TOE_EXTENSION,
    TRUNK_LEVEL,
)
from neuroform.reasoning.results import Reading
from neuroform.reasoning.signs import FOUR, paretic, powers, umn

rules = Rules()

FINGER_FLEXOR = sided(lambda e: e.reflexes.finger_flexor)


@rules.rule(
    "trunk-level-with-upper-motor-signs",
    severity=MUST,
    message=N_("Signs of the upper motor neurones in a leg, and the level on the trunk is blank. Seek one."),
    why=N_("A level on the trunk makes it the cord, and urgent."),
)
def trunk_level_with_upper_motor_signs(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Upper motor neurone signs on a side, and no level was sought on the trunk.

    Why: seek a level on the trunk.
    """
    if any_side(umn, seen).met:
        yield ask(TRUNK_LEVEL)


@rules.rule(
    "crossed-signs-other-side",
    severity=SHOULD,
    message=N_("Signs of the upper motor neurones on one side alone. Test pain and temperature on the other: {items}."),
    why=N_("Crossed, they make it one half of the cord."),
)
def crossed_signs_other_side(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Upper motor neurone signs on one side alone; pinprick or temperature of the other side is blank.

    Why: one half of the cord.
    """
    for side in SIDES:
        if umn(seen, side).met and not umn(seen, OTHER[side]).met:
            yield ask(PINPRICK[OTHER[side]], TEMPERATURE[OTHER[side]])


@rules.rule(
    "arms-and-neck-with-upper-motor-legs",
    severity=SHOULD,
    message=N_("Signs of the upper motor neurones in both legs, and the finger reflexes are blank: {items}."),
    why=N_("They tell a lesion of the neck from one of the trunk."),
)
def arms_and_neck_with_upper_motor_legs(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Upper motor neurone signs in both legs, and the finger flexor reflex is blank.

    Why: tells a cervical from a thoracic lesion.
    """
    if both_sides(umn, seen).met:
        yield ask(FINGER_FLEXOR)


@rules.rule(
    "absent-reflex-method",
    severity=SHOULD,
    message=N_("An ankle reflex is absent; how it was sought is blank. Try a strike on the sole too."),
    why=N_("The usual method alone makes many false absences in older people."),
    source=N_("Ziff and Stark"),
)
def absent_reflex_method(seen: Seen, reading: Reading) -> Iterator[Call]:
    """An ankle reflex is absent, and how it was sought is blank.

    Why: the standard method alone makes many false absences in older people (Ziff and Stark).
    """
    if any(seen.is_(ANKLE_REFLEX[side], "absent").met for side in SIDES):
        yield ask(ANKLE_METHOD)


_GRADE = {"absent": 0, "with_reinforcement": 1, "reduced": 1, "normal": 2, "brisk": 3, "clonus": 4}
"""NINDS scale, 0 to 4: trace, reduced, or only with reinforcement is 1."""


@rules.rule(
    "reflex-asymmetry-unexplained",
    severity=SHOULD,
    message=N_("A reflex differs by two grades or more between the sides. Test it again, or comment on it: {items}."),
    why=N_("It is a side of a root, a cord or a position of the limb."),
)
def reflex_asymmetry_unexplained(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A reflex differs by two grades or more between the sides, without a comment.

    Why: a side difference is a finding or an error of position.
    """
    for reflex in (KNEE_REFLEX, ANKLE_REFLEX):
        right, left = seen.value(reflex.right), seen.value(reflex.left)
        if right is None or left is None or abs(_GRADE[right] - _GRADE[left]) < 2:
            continue
        if not any(seen.found[ref.path].comment for ref in (reflex.right, reflex.left)):
            yield look(reflex)


@rules.rule(
    "clonus-beats-missing",
    severity=NOTICE,
    message=N_("Clonus at the ankle, and its beats are blank: {items}."),
    why=N_("Five beats or more count as sustained."),
)
def clonus_beats_missing(seen: Seen, reading: Reading) -> Iterator[Call]:
    """The ankle shows clonus, and its beats were not counted.

    Why: few beats may be normal.
    """
    sides = [side for side in SIDES if seen.is_(ANKLE_REFLEX[side], "clonus").met]
    if sides:
        yield ask(*(CLONUS_BEATS[side] for side in sides))


@rules.rule(
    "foot-drop-inversion-eversion",
    severity=SHOULD,
    message=N_("The foot drops on one side. Test inversion and eversion; blank: {items}."),
    why=N_("Weak inversion makes it the root, kept inversion the nerve."),
)
def foot_drop_inversion_eversion(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Dorsiflexion or great toe extension is 4 or less on one side; inversion or eversion is blank.

    Why: root or nerve.
    """
    drops = {side: _drops(seen, side) for side in SIDES}
    for side in SIDES:
        if drops[side] and not drops[OTHER[side]]:
            yield ask(INVERSION[side], EVERSION[side])


def _drops(seen: Seen, side: Side) -> bool:
    return any(rank <= FOUR for rank in powers(seen, side, (DORSIFLEXION, TOE_EXTENSION)).values())


@rules.rule(
    "wasting-with-weakness",
    severity=SHOULD,
    message=N_("The leg is weak. Look for wasting and fasciculation; blank: {items}."),
    why=N_("With both, think of the anterior horn."),
)
def wasting_with_weakness(seen: Seen, reading: Reading) -> Iterator[Call]:
    """A leg is paretic; bulk or fasciculation is blank.

    Why: anterior horn.
    """
    weak_sides = [side for side in SIDES if paretic(seen, side).met]
    if weak_sides:
        yield ask(*(BULK[side] for side in weak_sides), *(FASCICULATION[side] for side in weak_sides))


@rules.rule(
    "breathing-with-rapid-weakness",
    severity=MUST,
    message=N_("Rapid weakness with lost reflexes, and breathing is not examined. Blank: {items}."),
    why=N_("Weak neck flexion and a low count in one breath come before respiratory failure."),
    source=N_("Lawn 2001, from memory"),
)
def breathing_with_rapid_weakness(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Rapid weakness with lost reflexes is raised; neck flexion or the count in one breath is blank.

    Why: respiratory failure (Lawn 2001, from memory).
    """
    if reading.raised("rapid-areflexic-weakness") is not None:
        yield ask(NECK_FLEXION, BREATH_COUNT)


@rules.rule(
    "swallowing-with-proximal-weakness",
    severity=SHOULD,
    message=N_("Weak hips on both sides, and symptoms are blank. Ask about swallowing and breathing."),
    why=N_("Swallowing or breathing makes it urgent."),
)
def swallowing_with_proximal_weakness(seen: Seen, reading: Reading) -> Iterator[Call]:
    """Proximal weakness is raised, and the symptoms are blank.

    Why: swallowing or breathing makes it urgent.
    """
    if reading.raised("subacute-proximal-weakness") is not None:
        yield ask(SYMPTOMS)
