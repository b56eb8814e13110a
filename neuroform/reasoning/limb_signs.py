"""Signs of nerves, cord and muscle that only the table of patterns reads: sensation, reflexes and power together.

Errs towards unknown, as all signs do. Thresholds without a source beside them are common practice.
"""

from neuroform.exam.findings import mrc_rank
from neuroform.exam.motor import MRC
from neuroform.exam.walk import OTHER, SIDES, Side
from neuroform.reasoning.facts import Facts, Ref, Sign, all_of, any_of, both_sides, negated, per_side, whole
from neuroform.reasoning.items import (
    ANKLE,
    ANKLE_REFLEX,
    BULK,
    DISTRIBUTION,
    DORSIFLEXION,
    FASCICULATION,
    HIP_AND_KNEE,
    HIP_FLEXION,
    KNEE_REFLEX,
    PINPRICK,
    PLANTAR,
    TEMPERATURE,
    TONE,
)
from neuroform.reasoning.sensory_signs import (
    jp_toe_lost,
    vib_normal_both,
    vib_toe_lost,
    vib_toe_normal,
    vib_worse_higher_up,
)
from neuroform.reasoning.sign_makers import at_age, on_both, on_either, settled
from neuroform.reasoning.signs import FULL, THREE, brisk, clonus, pinprick_differs, powers, umn, weak

OLD = 60
"""From this age in years absent ankle reflexes tell less (Vrancken 2006, J Neurol 253:578-589)."""
_REFLEXES = (KNEE_REFLEX, ANKLE_REFLEX)


@per_side
def pinprick_kept(facts: Facts, side: Side) -> Sign:
    """Pinprick is not reduced."""
    return facts.is_(PINPRICK[side], "none")


@per_side
def pinprick_lost(facts: Facts, side: Side) -> Sign:
    """Pinprick is reduced or lost, at the toes or higher."""
    return negated(pinprick_kept(facts, side))


pinprick_kept_both = on_both(pinprick_kept)
pinprick_lost_both = on_both(pinprick_lost)


@whole
def pinprick_alike(facts: Facts) -> Sign:
    """Pinprick is lost at the toes or higher on both sides, to levels at most one apart."""
    return all_of(pinprick_lost_both(facts), negated(pinprick_differs(facts)))


@per_side
def pain_and_temperature_kept(facts: Facts, side: Side) -> Sign:
    """Neither pinprick nor temperature is reduced."""
    return all_of(pinprick_kept(facts, side), facts.is_(TEMPERATURE[side], "none"))


@per_side
def ankle_absent(facts: Facts, side: Side) -> Sign:
    """The ankle reflex is absent."""
    return facts.is_(ANKLE_REFLEX[side], "absent")


@per_side
def ankle_diminished(facts: Facts, side: Side) -> Sign:
    """The ankle reflex is absent, reduced, or comes with reinforcement alone."""
    return facts.is_(ANKLE_REFLEX[side], "absent", "reduced", "with_reinforcement")


@per_side
def ankle_normal(facts: Facts, side: Side) -> Sign:
    """The ankle reflex is normal."""
    return facts.is_(ANKLE_REFLEX[side], "normal")


@per_side
def ankle_brisk(facts: Facts, side: Side) -> Sign:
    """The ankle reflex is brisk or shows clonus."""
    return facts.is_(ANKLE_REFLEX[side], "brisk", "clonus")


@per_side
def knee_brisk(facts: Facts, side: Side) -> Sign:
    """The knee reflex is brisk or shows clonus."""
    return facts.is_(KNEE_REFLEX[side], "brisk", "clonus")


ankles_absent = on_both(ankle_absent)
ankle_absent_under_60 = at_age(on_either(ankle_absent), high=OLD)
ankles_normal = on_both(ankle_normal)
umn_any = on_either(umn)
brisk_any = on_either(brisk)


@whole
def ankles_reduced(facts: Facts) -> Sign:
    """The ankle reflexes are diminished on both sides, on one at least not absent."""
    return all_of(both_sides(ankle_diminished, facts), negated(ankles_absent(facts)))


@per_side
def extensor(facts: Facts, side: Side) -> Sign:
    """The plantar response is extensor."""
    return facts.is_(PLANTAR[side], "extensor")


@per_side
def flexor(facts: Facts, side: Side) -> Sign:
    """The plantar response is flexor."""
    return facts.is_(PLANTAR[side], "flexor")


@per_side
def plantar_known(facts: Facts, side: Side) -> Sign:
    """The plantar response is recorded."""
    return facts.known(PLANTAR[side])


@whole
def nerves_alone(facts: Facts) -> Sign:
    """Ankle reflexes absent and plantar responses flexor or mute, on both sides."""
    return all_of(ankles_absent(facts), *(facts.is_(PLANTAR[side], "flexor", "mute") for side in SIDES))


@per_side
def reflexes_known(facts: Facts, side: Side) -> Sign:
    """The knee and the ankle reflex are recorded."""
    return all_of(*(facts.known(ref[side]) for ref in _REFLEXES))


@per_side
def reflex_brisk(facts: Facts, side: Side) -> Sign:
    """The knee or ankle reflex is brisk; clonus is a sign of its own."""
    return any_of(*(facts.is_(ref[side], "brisk") for ref in _REFLEXES))


@per_side
def reflexes_absent(facts: Facts, side: Side) -> Sign:
    """The knee and the ankle reflex are absent."""
    return all_of(*(facts.is_(ref[side], "absent") for ref in _REFLEXES))


@per_side
def tone_increased(facts: Facts, side: Side) -> Sign:
    """Tone is increased, with a catch."""
    return facts.is_(TONE[side], "increased")


@per_side
def extensor_or_clonus(facts: Facts, side: Side) -> Sign:
    """The plantar response is extensor, or there is clonus."""
    return any_of(extensor(facts, side), clonus(facts, side))


@per_side
def weak_with_low_reflex(facts: Facts, side: Side) -> Sign:
    """The leg is weak, and its knee or ankle reflex reduced or absent."""
    return all_of(weak(facts, side), any_of(*(facts.is_(ref[side], "reduced", "absent") for ref in _REFLEXES)))


@per_side
def wasted_or_twitching(facts: Facts, side: Side) -> Sign:
    """The leg is wasted, or fasciculates."""
    return any_of(facts.is_(BULK[side], "wasted"), facts.is_(FASCICULATION[side], "present"))


@per_side
def clearly_weak(facts: Facts, side: Side) -> Sign:
    """Two muscle groups are below grade 5, or one is 3 or less."""
    ranks = powers(facts, side)
    low = tuple(path for path, rank in ranks.items() if rank < FULL)
    if len(low) > 1 or any(ranks[path] <= THREE for path in low):
        return Sign(True, low)
    return weak(facts, side).answering(False) if ranks else weak(facts, side)


@per_side
def slightly_weak(facts: Facts, side: Side) -> Sign:
    """One muscle group alone is below grade 5, and it is 4- to 4+."""
    return all_of(weak(facts, side), negated(clearly_weak(facts, side)))


@per_side
def power_tried(facts: Facts, side: Side) -> Sign:
    """The power of at least one muscle group is recorded."""
    return settled(weak(facts, side))


@per_side
def power_tried_throughout(facts: Facts, side: Side) -> Sign:
    """The power of the hip or knee and of the ankle is recorded."""
    parts = tuple(tuple(powers(facts, side, groups)) for groups in (HIP_AND_KNEE, ANKLE))
    if all(parts):
        return Sign(True, tuple(powers(facts, side)))
    wanted = (HIP_FLEXION[side].path, DORSIFLEXION[side].path)
    return Sign(None, (), tuple(path for path, part in zip(wanted, parts, strict=True) if not part))


@per_side
def power_full(facts: Facts, side: Side) -> Sign:
    """Every recorded muscle group is grade 5, those of hip or knee and ankle among them."""
    sign = weak(facts, side)
    return sign.answering(False) if sign.met else all_of(negated(sign), power_tried_throughout(facts, side))


@per_side
def foot_weaker_than_hip(facts: Facts, side: Side) -> Sign:
    """Dorsiflexion is weaker than hip flexion."""
    refs: tuple[Ref[MRC], Ref[MRC]] = (DORSIFLEXION[side], HIP_FLEXION[side])
    foot, hip = (facts.value(ref) for ref in refs)
    if foot is None or hip is None:
        return Sign(None, (), tuple(ref.path for ref in refs if facts.value(ref) is None))
    return Sign(mrc_rank(foot) < mrc_rank(hip), tuple(ref.path for ref in refs))


@per_side
def one_root_or_nerve(facts: Facts, side: Side) -> Sign:
    """The loss has the spread of a root or a single nerve."""
    return facts.is_(DISTRIBUTION[side], "root", "single_nerve")


@per_side
def jp_toe_known(facts: Facts, side: Side) -> Sign:
    """Joint position at the great toe is judged."""
    return settled(jp_toe_lost(facts, side))


jp_known_both = on_both(jp_toe_known)
vib_worse_higher_up_any = on_either(vib_worse_higher_up)


@whole
def vibration_unlike_nerves(facts: Facts) -> Sign:
    """Vibration is normal for age at both great toes, or lost at one and normal at the other."""
    uneven = (all_of(vib_toe_lost(facts, side), vib_toe_normal(facts, OTHER[side])) for side in SIDES)
    return any_of(vib_normal_both(facts), *uneven)
