"""The stance test and the vestibular findings in words."""

from collections.abc import Iterator
from typing import Any

from neuroform.exam.walk import OTHER, SIDES, Side
from neuroform.reasoning.facts import Facts, Ref, both_sides, merged
from neuroform.reasoning.functional_signs import FUNCTIONAL_SIGNS
from neuroform.reasoning.items import (
    EC_DIRECTION,
    EC_ENDED,
    EC_SECONDS,
    EO_ENDED,
    EO_SECONDS,
    EO_SWAY,
    GAZE_EVOKED,
    HEAD_IMPULSE,
    HEARING_LOSS,
    NYSTAGMUS,
    POSITIONAL,
    SKEW,
    SWAY_FROM,
    TREMOR,
)
from neuroform.reasoning.said import Said
from neuroform.reasoning.sensory_signs import jp_lost
from neuroform.reasoning.signs import impulse_corrective, ongoing, sym
from neuroform.reasoning.stance_test import stance
from neuroform.reasoning.wording import Place, listed, say, seconds, sentence

_STANCE_NOT_RECORDED = tuple(ref.path for ref in (EO_SWAY, EO_ENDED, EC_ENDED))


def stance_text(facts: Facts, person: str) -> Iterator[Said]:
    """Say the result of the stance test and what it means in this person."""
    found = stance(facts)
    items = found.items or _STANCE_NOT_RECORDED
    if found.result == "positive":
        name = found.how if found.how in ("by_sway_alone", "stopped_for_safety", "feet_apart") else "positive"
        meaning, behind = _meaning(facts)
        closed = _closed(facts) if name in ("positive", "feet_apart") else ""
        text = say("stance", name, open=_open(facts), person=person, closed=closed, meaning=meaning)
        yield Said(sentence(text), merged((items, behind)), weight=0)
    elif found.result == "negative":
        held = facts.value(EC_SECONDS)
        for_seconds = say("stance", "for_seconds", seconds=seconds(held)) if held is not None else ""
        more = say("stance", "more_sway") if found.how == "more_sway" else ""
        text = say("stance", "negative", person=person, seconds=for_seconds, more=more)
        yield Said(sentence(text), items, weight=0)
    elif found.result == "unsteady_eyes_open":
        yield Said(
            sentence(say("stance", "unsteady_eyes_open", person=person, unsteady=_unsteady(facts))), items, weight=0
        )
    elif found.result == "inconsistent":
        signs = [say("functional_signs", sign.__name__) for sign in FUNCTIONAL_SIGNS if sign(facts).met]
        yield Said(sentence(say("stance", "inconsistent", signs=listed(signs))), items, weight=0)
    else:
        because = found.because[:1].lower() + found.because[1:]
        yield Said(sentence(say("stance", "not_assessable", because=because)), items, weight=0)
    if facts.is_(TREMOR, "yes").met:
        yield Said(say("stance", "tremor"), (TREMOR.path,), weight=1)


def _open(facts: Facts) -> str:
    sway, held = facts.value(EO_SWAY), facts.value(EO_SECONDS)
    for_seconds = say("stance", "for_seconds", seconds=seconds(held)) if held is not None else ""
    return say("stance", "open", sway=say("sway", sway or "none"), seconds=for_seconds)


def _closed(facts: Facts) -> str:
    ended, held = facts.value(EC_ENDED), facts.value(EC_SECONDS)
    source, direction = facts.value(SWAY_FROM), facts.value(EC_DIRECTION)
    after = say("stance", "after_closed") if held is None else say("stance", "after_seconds", seconds=seconds(held))
    return say(
        "stance",
        "after",
        ended=say("ended", ended or "stepped"),
        after=after,
        direction=say("direction", direction) if direction and ended != "opened_eyes" else "",
        source=say("stance", f"from_{source}") if source else "",
    )


def _unsteady(facts: Facts) -> str:
    ended = facts.value(EO_ENDED)
    if ended in ("stepped", "needed_support", "fell"):
        return say("stance", "unsteady_lost", ended=say("ended", ended))
    return say("stance", "unsteady_sway")


def _meaning(facts: Facts) -> tuple[str, tuple[str, ...]]:
    vertigo = ongoing(facts)
    if vertigo.met:
        return say("stance", "meaning_vertigo"), vertigo.because
    position = jp_lost(facts)
    if position.met:
        return say("stance", "meaning_joint"), position.because
    impulses = both_sides(impulse_corrective, facts)
    if impulses.met:
        return say("stance", "meaning_vestibular"), impulses.because
    return say("stance", "meaning_open"), ()


def vestibular(facts: Facts) -> Iterator[Said]:
    """Say head impulse and nystagmus together, then gaze and skew, hearing and positional test."""
    impulse = [HEAD_IMPULSE[side].path for side in SIDES]
    asked = bool(ongoing(facts).met) or bool(sym(facts, "vertigo").met)
    known = any(path in facts.found for path in (*impulse, NYSTAGMUS.path))
    if known or asked:
        text = say("vestibular", "both", impulse=_impulse(facts), nystagmus=_eye_part(facts, "nystagmus", NYSTAGMUS))
        abnormal = any(impulse_corrective(facts, side).met for side in SIDES)
        abnormal = abnormal or facts.value(NYSTAGMUS) not in (None, "none")
        yield Said(sentence(text), (*impulse, NYSTAGMUS.path), weight=1 if asked or abnormal else 2)
    if asked or facts.found.get(GAZE_EVOKED.path) or facts.found.get(SKEW.path):
        yield from _gaze_and_skew(facts, asked=asked)
    if ongoing(facts).met and facts.value(NYSTAGMUS) == "none":
        yield Said(say("vestibular", "no_nystagmus"), (NYSTAGMUS.path, *ongoing(facts).because), weight=0)
    yield from _hearing(facts, asked=asked)
    yield from _positional(facts)


def _impulse(facts: Facts) -> str:
    found: dict[Side, str | None] = {side: facts.value(HEAD_IMPULSE[side]) for side in SIDES}
    if set(found.values()) == {"normal"}:
        return say("vestibular", "impulse_both_normal")
    if set(found.values()) == {"corrective_saccade"}:
        return say("vestibular", "impulse_both_corrective")
    if set(found.values()) == {"normal", "corrective_saccade"}:
        side: Side = "right" if found["right"] == "corrective_saccade" else "left"
        return say(
            "vestibular",
            "impulse_one",
            side=say("plain", f"side_{side}"),
            other=say("plain", f"side_{OTHER[side]}"),
        )
    reasons = {facts.reason(HEAD_IMPULSE[side]) for side in SIDES}
    if set(found.values()) == {None} and len(reasons) == 1:
        reason = reasons.pop()
        if reason is None:
            return say("vestibular", "impulse_blank_both")
        return say("vestibular", "impulse_reason_both", reason=say("reasons", reason))
    shown = {side: _one_impulse(facts, side) for side in SIDES}
    return say("vestibular", "impulse_part", right=shown["right"], left=shown["left"])


def _one_impulse(facts: Facts, side: Side) -> str:
    found, reason = facts.value(HEAD_IMPULSE[side]), facts.reason(HEAD_IMPULSE[side])
    if reason is not None:
        return say("vestibular", "impulse_reason", reason=say("reasons", reason))
    names = {"normal": "none", "corrective_saccade": "saccade", "uncertain": "uncertain"}
    return say("vestibular", f"impulse_{names[found] if found else 'blank'}")


def _eye_part(facts: Facts, name: str, ref: Ref[Any]) -> str:
    found, reason = facts.value(ref), facts.reason(ref)
    if reason is not None:
        return say("vestibular", f"{name}_reason", reason=say("reasons", reason))
    return say("vestibular", f"{name}_{found or 'blank'}")


def _gaze_and_skew(facts: Facts, *, asked: bool) -> Iterator[Said]:
    gaze = facts.value(GAZE_EVOKED)
    none = gaze == "absent" and facts.value(NYSTAGMUS) in (None, "none")
    said = [say("vestibular", "gaze_none") if none else _eye_part(facts, "gaze", GAZE_EVOKED)]
    items = [GAZE_EVOKED.path]
    if asked or SKEW.path in facts.found:
        said.append(_eye_part(facts, "skew", SKEW))
        items.append(SKEW.path)
    loud = asked or gaze == "present" or facts.value(SKEW) == "present"
    if GAZE_EVOKED.path in facts.found or asked:
        yield Said(sentence(listed(said)), tuple(items), weight=1 if loud else 3)


def _hearing(facts: Facts, *, asked: bool) -> Iterator[Said]:
    found = {side: facts.value(HEARING_LOSS[side]) for side in SIDES}
    paths = tuple(HEARING_LOSS[side].path for side in SIDES)
    place = Place(ref=HEARING_LOSS)
    new = [side for side in SIDES if found[side] == "yes"]
    if new:
        items = tuple(HEARING_LOSS[side].path for side in new)
        yield Said(say("vestibular", "hearing_new", places=place.named(new)), items, weight=1)
    elif set(found.values()) == {"no"}:
        yield Said(say("vestibular", "hearing_unchanged"), paths, weight=1 if asked else 3)
    elif asked:
        blank = [side for side in SIDES if found[side] is None]
        items = tuple(HEARING_LOSS[side].path for side in blank)
        yield Said(say("vestibular", "hearing_blank", places=place.named(blank, both="either")), items, weight=1)


def _positional(facts: Facts) -> Iterator[Said]:
    found = {side: facts.value(POSITIONAL[side]) for side in SIDES}
    if set(found.values()) == {"negative"}:
        paths = tuple(POSITIONAL[side].path for side in SIDES)
        yield Said(say("vestibular", "positional_negative"), paths, weight=2)
    for side in SIDES:
        value = found[side]
        if value not in (None, "negative"):
            text = say(
                "vestibular", "positional", side=say("plain", f"side_{side}"), word=say("vestibular", str(value))
            )
            yield Said(text, (POSITIONAL[side].path,), weight=1)
