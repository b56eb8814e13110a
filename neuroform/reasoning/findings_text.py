"""What was found, sentence by sentence: joint position, vibration, pinprick, eyes, coordination, strength, pressure.

Errs towards saying less: a blank, a reason and a normal finding are three phrases and never exchanged.
"""

from collections.abc import Iterator
from typing import Any

from neuroform.exam.sensation import MovementCount
from neuroform.exam.walk import SIDES, Side, entry
from neuroform.reasoning.facts import Facts, Ref, SidedRef, all_of, any_side, both_sides
from neuroform.reasoning.items import (
    ANKLE_REFLEX,
    AT_1_MIN,
    AT_3_MIN,
    BASE,
    CORE_POWER,
    DORSIFLEXION,
    EC_ENDED,
    EC_SWAY,
    EVERSION,
    FINGER_NOSE,
    GAIT,
    HEEL_SHIN,
    HIP_ABDUCTION,
    HIP_ADDUCTION,
    HIP_EXTENSION,
    HIP_FLEXION,
    INVERSION,
    JP_ANKLE,
    JP_FINGER,
    JP_KNEE,
    JP_TOE,
    KNEE_EXTENSION,
    KNEE_FLEXION,
    KNEE_REFLEX,
    LYING,
    ON_STANDING,
    PINPRICK,
    PLANTAR,
    PLANTARFLEXION,
    POWER,
    SADDLE,
    SCORE_FINGER,
    SCORE_MALLEOLUS,
    SCORE_TOE,
    SPEECH,
    TANDEM,
    TOE_EXTENSION,
    TONE,
    TRUNK_LEVEL,
    VIB_MALLEOLUS,
    VIB_SECONDS_TOE,
    VIB_TOE,
)
from neuroform.reasoning.limb_signs import umn_any
from neuroform.reasoning.pressure_signs import orthostatic_fall
from neuroform.reasoning.said import Said
from neuroform.reasoning.sensory_signs import joint_verdict, jp_ankle_lost, jp_toe_lost, vibration_answered
from neuroform.reasoning.signs import FOUR_MINUS, below, heel_shin_bad
from neuroform.reasoning.wording import Part, Place, grouped, has, listed, not_found, parts, say, seconds, sentence
from neuroform.reference.results import Limit
from neuroform.reference.vibration import vibration_limit

_JOINTS = (
    Place(ref=JP_TOE, single="great toe", plural="great toes"),
    Place(ref=JP_ANKLE, single="ankle", plural="ankles"),
    Place(ref=JP_KNEE, single="knee", plural="knees"),
    Place(ref=JP_FINGER, single="finger", plural="fingers"),
)
_FORK_WORDS = (
    Place(ref=VIB_TOE, single="great toe", plural="great toes"),
    Place(ref=VIB_MALLEOLUS, single="inner ankle", plural="inner ankles"),
)
_FORK_SCORES = (
    Place(ref=SCORE_TOE, single="great toe", plural="great toes"),
    Place(ref=SCORE_MALLEOLUS, single="inner ankle", plural="inner ankles"),
)
_FORK_SCORES_HANDS = (Place(ref=SCORE_FINGER, single="finger", plural="fingers"),)
_MUSCLES = tuple(
    Place(ref=ref, single=name, plural=f"{name}s")
    for ref, name in (
        (HIP_FLEXION, "hip flexion"),
        (HIP_EXTENSION, "hip extension"),
        (HIP_ABDUCTION, "hip abduction"),
        (HIP_ADDUCTION, "hip adduction"),
        (KNEE_EXTENSION, "knee extension"),
        (KNEE_FLEXION, "knee flexion"),
        (DORSIFLEXION, "ankle dorsiflexion"),
        (PLANTARFLEXION, "ankle plantarflexion"),
        (INVERSION, "ankle inversion"),
        (EVERSION, "ankle eversion"),
        (TOE_EXTENSION, "great toe extension"),
    )
)


def _worst_first(found: tuple[Part, ...], normal: str) -> list[Part]:
    return sorted(found, key=lambda part: part.word.startswith(normal))


def _paths(found: tuple[Part, ...]) -> tuple[str, ...]:
    return tuple(path for part in found for path in part.paths)


def _lacking(facts: Facts, subject: str, place: Place, *, plural: bool = False) -> Iterator[Said]:
    for text, items in not_found(facts, subject, place, plural=plural):
        yield Said(text, items, weight=1)


def joint_position(facts: Facts) -> Iterator[Said]:
    """Say where position sense was intact, impaired or lost."""
    subject = say("joint_position", "subject")
    found = parts(facts, _JOINTS, _joint_word)
    if found:
        normal = say("joint_position", "intact")
        yield Said(grouped(subject, _worst_first(found, normal)), _paths(found), weight=1)
    yield from _lacking(facts, subject, _JOINTS[0])


def _joint_word(found: Any, _path: str) -> str:
    verdict = joint_verdict(found)
    if not isinstance(found, MovementCount):
        return say("joint_position", found)
    if verdict == "described":
        return say("joint_position", "described", correct=found.correct, trials=found.trials)
    if verdict == "lost":
        return say("joint_position", "lost_count", correct=found.correct, trials=found.trials)
    word = say("joint_position", verdict)
    return say("joint_position", "count", word=word, correct=found.correct, trials=found.trials)


def vibration(facts: Facts) -> Iterator[Said]:
    """Say how vibration was felt, by each method recorded, with the limit it was held against."""
    subject = say("vibration", "subject")
    for site, places in (("great_toe", _FORK_SCORES), ("finger", _FORK_SCORES_HANDS)):
        scores = parts(facts, places, lambda value, _path: say("vibration", "score", value=f"{value:g}"))
        if scores:
            yield Said(grouped(subject, scores, tail=_limit(facts, site)), _paths(scores), weight=1)
    words = parts(facts, _FORK_WORDS, lambda value, _path: say("vibration", value))
    if words:
        yield Said(grouped(subject, _worst_first(words, say("vibration", "normal"))), _paths(words), weight=1)
    timed = parts(
        facts,
        (Place(ref=VIB_SECONDS_TOE, single="great toe", plural="great toes"),),
        lambda value, _path: say("vibration", "seconds", seconds=seconds(value)),
    )
    if timed:
        yield Said(grouped(subject, timed), _paths(timed), weight=1)
    if not all(vibration_answered(facts, side) for side in SIDES):
        missing = [side for side in SIDES if not vibration_answered(facts, side)]
        place = _FORK_WORDS[0]
        text = say("grouped", "not_recorded", subject=subject, places=f"at {place.named(missing, both='either')}")
        yield Said(text, tuple(VIB_TOE[side].path for side in missing), weight=1)


def _limit(facts: Facts, site: str) -> str:
    limit = vibration_limit(site, facts.age, method="graduated_fork")
    if not isinstance(limit, Limit):
        return say("vibration", "limit_elsewhere", age=facts.age)
    mark = say("vibration", "from_memory") if limit.unverified else ""
    return say("vibration", "limit", age=facts.age, limit=f"{limit.value:g}", mark=mark)


def pinprick(facts: Facts) -> Iterator[Said]:
    """Say how far up pinprick was lost, whether there was a level on the trunk, and the saddle."""
    place = Place(ref=PINPRICK)
    found = parts(facts, (place,), _level_word)
    if found:
        normal = say("pinprick", "none")
        lost = any(part.word != normal for part in found)
        text = grouped(say("pinprick", "subject"), _worst_first(found, normal))
        yield Said(text, _paths(found), weight=1 if lost else 2)
    level = facts.value(TRUNK_LEVEL)
    if level is not None:
        text = say("pinprick", "trunk_none") if level == "none" else say("pinprick", "trunk", level=level)
        yield Said(text, (TRUNK_LEVEL.path,), weight=2 if level == "none" else 1)
    saddle = facts.value(SADDLE)
    if saddle is not None:
        name = "saddle_normal" if saddle == "normal" else "saddle_lost"
        yield Said(say("pinprick", name, word=say("vibration", saddle)), (SADDLE.path,), weight=1)


def _level_word(found: Any, _path: str) -> str:
    return say("pinprick", "none") if found == "none" else say("pinprick", "reduced", level=say("level", found))


def coordination(facts: Facts) -> Iterator[Said]:
    """Say gait, heel-to-toe walking, heel-shin, finger-nose and speech, with what clouds heel-shin."""
    yield from _gait(facts)
    healthy: list[tuple[str, tuple[str, ...]]] = []
    for name, ref in (("heel_shin", HEEL_SHIN), ("finger_nose", FINGER_NOSE)):
        place, subject = Place(ref=ref), say("cerebellar", name)
        found = parts(facts, (place,), lambda value, _path: say("cerebellar", value))
        normal = say("cerebellar", "normal")
        if len(found) == 1 and found[0].word == normal and len(found[0].paths) == len(SIDES):
            healthy.append((subject, found[0].paths))
        elif found:
            yield Said(grouped(subject, _worst_first(found, normal)), _paths(found), weight=1)
        if name == "heel_shin":
            yield from _clouded(facts)
            yield from _lacking(facts, subject, place)
    speech = facts.value(SPEECH)
    if speech == "normal":
        healthy.append((say("cerebellar", "speech"), (SPEECH.path,)))
    elif speech is not None:
        yield Said(sentence(say("cerebellar", f"speech_{speech}")), (SPEECH.path,), weight=1)
    if healthy:
        verb = say("cerebellar", "was" if len(healthy) == 1 else "were")
        first, *rest = [name for name, _items in healthy]
        items = listed([first, *(name[:1].lower() + name[1:] for name in rest)])
        text = sentence(say("cerebellar", "all_normal", items=items, verb=verb))
        yield Said(text, tuple(path for _name, paths in healthy for path in paths), weight=2)


def _clouded(facts: Facts) -> Iterator[Said]:
    """Say beside the finding what weakens it: lost position or weakness in the same leg."""
    bad = any_side(heel_shin_bad, facts)
    mild = [facts.is_(HEEL_SHIN[side], "mild") for side in SIDES]
    if not bad.met and not any(sign.met for sign in mild):
        return
    for why, sign in (("clouded_position", jp_toe_lost), ("clouded_power", _below_four_minus)):
        behind = [
            sign(facts, side)
            for side in SIDES
            if facts.is_(HEEL_SHIN[side], "mild", "moderate", "severe", "cannot_perform").met
        ]
        met = [one for one in behind if one.met]
        if met:
            text = say("cerebellar", "clouded", why=say("cerebellar", why))
            yield Said(text, tuple(path for one in met for path in one.because), weight=1)


def _below_four_minus(facts: Facts, side: Any) -> Any:
    return below(facts, side, FOUR_MINUS)


def _gait(facts: Facts) -> Iterator[Said]:
    words, base = facts.value(GAIT), facts.value(BASE)
    if words is not None:
        tail = say("cerebellar", f"base_{base}") if base else ""
        items = (GAIT.path, BASE.path) if base else (GAIT.path,)
        yield Said(_gait_words(words, tail), items, weight=2 if words == ("normal",) else 1)
    steps = facts.value(TANDEM)
    if steps is not None:
        name = {10: "tandem_ten", 1: "tandem_one", 0: "tandem_none"}.get(steps, "tandem")
        text = sentence(say("cerebellar", name, steps=say("number", str(steps))))
        yield Said(text, (TANDEM.path,), weight=2 if steps == 10 else 1)


def _gait_words(words: tuple[str, ...], base: str) -> str:
    """Say how the gait was, then what it did: "Gait was ataxic, on a wide base, and veered to the right"."""
    ordered = [word for word in _answer_words(GAIT) if word in words]
    was = [say("gait_was", word) for word in ordered if has("gait_was", word)]
    did = [say("gait_did", word) for word in ordered if has("gait_did", word)]
    subject = say("cerebellar", "gait")
    if not was:
        return sentence(f"{subject} {listed(did)}{base}")
    said = f"{subject} {say('cerebellar', 'was')} {listed(was)}{base}"
    return sentence(say("cerebellar", "gait_both", was=said, did=listed(did)) if did else said)


def _answer_words(ref: Ref[Any]) -> Any:

    answers = entry(ref.path).answers
    return answers.words if answers else {}


def consistency(facts: Facts) -> Iterator[Said]:
    """Say what does not fit: the same as completeness asks to look at again."""
    steady = all_of(facts.is_(EC_ENDED, "held"), facts.is_(EC_SWAY, "none", "slight"))
    lost = all_of(both_sides(jp_toe_lost, facts), both_sides(jp_ankle_lost, facts))
    if steady.met and lost.met:
        items = (*lost.because, *steady.because)
        yield Said(say("consistency", "position_lost_yet_steady"), items, weight=0)


def strength(facts: Facts) -> Iterator[Said]:
    """Say power, tone and reflexes; power is called full only in the groups that were tested."""
    yield from _power(facts)
    place = Place(ref=TONE)
    tone = parts(facts, (place,), lambda value, _path: _answer_words(TONE.right)[value])
    if any(part.word != "normal" for part in tone):
        yield Said(grouped(say("motor", "tone"), _worst_first(tone, "normal")), _paths(tone), weight=1)
    yield from _reflexes(facts)


def _power(facts: Facts) -> Iterator[Said]:
    found = parts(facts, _MUSCLES, lambda grade, _path: grade)
    if any(part.word != "5" for part in found):
        weaker = [part for part in found if part.word != "5"]
        said = [f"{part.word} at {_movements(part)}" for part in weaker]
        paths = tuple(path for part in weaker for path in part.paths)
        yield Said(say("motor", "weak", parts=listed(said)), paths, weight=1)
    elif found:
        whole = all(facts.value(group[side]) is not None for group in CORE_POWER for side in SIDES)
        where = say("motor", "full_everywhere" if whole else "full_partly")
        # Full power beside signs of the upper motor neurone is a finding of its own.
        yield Said(say("motor", "full", where=where), _paths(found), weight=1 if umn_any(facts).met else 2)
    missing = [side for side in SIDES if all(facts.value(group[side]) is None for group in POWER)]
    if missing and len(missing) < len(SIDES):
        places = Place(ref=HIP_FLEXION).named(missing)
        reason = next((why for group in CORE_POWER if (why := facts.reason(group[missing[0]]))), None)
        text = say("motor", "blank", places=places)
        if reason is not None:
            text = say("motor", "reason", places=places, reason=say("reasons", reason))
        yield Said(text, tuple(HIP_FLEXION[side].path for side in missing), weight=1)


def _movements(part: Part) -> str:
    """Name the movements of one grade, those of both sides together: "hip flexion and knee extension on both sides"."""
    by_sides: dict[tuple[Side, ...], list[str]] = {}
    for place in _MUSCLES:
        sides = tuple(side for side in SIDES if place.ref[side].path in part.paths)
        if sides:
            by_sides.setdefault(sides, []).append(place.single)
    return listed(f"{listed(names)} {Place(ref=HIP_FLEXION).named(sides)}" for sides, names in by_sides.items())


_REFLEX_ROWS: tuple[tuple[str, SidedRef[Any]], ...] = (
    ("knee", KNEE_REFLEX),
    ("ankle", ANKLE_REFLEX),
    ("plantar", PLANTAR),
)


def _reflexes(facts: Facts) -> Iterator[Said]:
    """Say the reflexes in one sentence: "the knee reflexes were brisk and the plantar responses extensor"."""
    found = {name: [facts.value(ref[side]) for side in SIDES] for name, ref in _REFLEX_ROWS}
    items = tuple(
        ref[side].path
        for name, ref in _REFLEX_ROWS
        for side, value in zip(SIDES, found[name], strict=True)
        if value is not None
    )
    normal = all(value in (None, "normal", "flexor") for values in found.values() for value in values)
    said = [*_tendon_words(found["knee"], found["ankle"]), *_plantar_words(found["plantar"])]
    if said:
        yield Said(sentence(listed(said)), items, weight=2 if normal else 1)


def _tendon_words(knee: list[Any], ankle: list[Any]) -> list[str]:
    """Say knee and ankle reflexes together where all four are alike."""
    if None not in knee and knee == ankle and knee[0] == knee[1]:
        joints = listed([say("motor", "knee"), say("motor", "ankle")])
        return [say("motor", "reflexes", joints=joints, word=_reflex_word(knee[0]))]
    return [*_reflex_words("knee", knee), *_reflex_words("ankle", ankle)]


def _plantar_words(both: list[Any]) -> list[str]:
    if None not in both and both[0] == both[1]:
        return [say("motor", "plantars", verb=say("motor", "verb"), word=both[0])]
    return _reflex_words("plantar", both)


def _reflex_words(name: str, both: list[Any]) -> list[str]:
    right, left = (None if value is None else _reflex_word(value) for value in both)
    if right is not None and right == left:
        return [say("motor", "reflexes", joints=say("motor", name), word=right)]
    one = say("motor", f"one_{name}")
    return [
        f"the {say('plain', f'side_{side}')} {one} was {word}"
        for side, word in zip(SIDES, (right, left), strict=True)
        if word is not None
    ]


def _reflex_word(value: str) -> str:
    if value == "clonus":
        return say("motor", "clonus_word")
    return say("motor", value) if value == "with_reinforcement" else value


def circulation(facts: Facts) -> Iterator[Said]:
    """Say whether the blood pressure fell on standing."""
    fall = orthostatic_fall(facts)
    if fall.met is None:
        return
    if not fall.met:
        both = all_of(facts.known(AT_1_MIN), facts.known(AT_3_MIN))
        if both.met:
            yield Said(say("circulation", "no_fall"), (LYING.path, *both.because), weight=2)
        return
    lying = facts.value(LYING)
    standing = next(facts.value(ref) for ref in (AT_3_MIN, AT_1_MIN) if ref.path in fall.because)
    felt = facts.value(ON_STANDING)
    tail = say("circulation", f"symptoms_{felt}") if felt else ""
    items = (*fall.because, ON_STANDING.path) if felt else fall.because
    text = say("circulation", "fall", lying=_pressure(lying), standing=_pressure(standing), symptoms=tail)
    yield Said(text, items, weight=1)


def _pressure(found: Any) -> str:
    return f"{found.systolic:g}/{found.diastolic:g}"
