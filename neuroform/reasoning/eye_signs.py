"""Signs of vertigo, head and eyes that only the table of patterns reads, taken together.

Errs towards unknown, as all signs do. Thresholds without a source beside them are common practice.
"""

from neuroform.exam.walk import OTHER, SIDES, Side
from neuroform.reasoning.facts import Facts, Sign, all_of, any_of, guarded, negated, per_side, unless, whole
from neuroform.reasoning.items import (
    COURSE,
    GAIN,
    GAZE_EVOKED,
    HEAD_SHAKING,
    HEARING_LOSS,
    LINES_LOST,
    NYSTAGMUS,
    ONSET,
    POSITIONAL,
    POSITIONAL_SECONDS,
    SITTING,
    SKEW,
    VERTIGO_NOW,
)
from neuroform.reasoning.sign_makers import on_both, on_either
from neuroform.reasoning.signs import (
    beats_away,
    beats_to,
    brainstem_sign,
    finger_ataxia,
    impulse_corrective,
    impulse_known_both,
    impulse_normal,
    nystagmus_central,
    ongoing,
    speech_ataxic,
    sym,
)

GAIN_BOTH_LOST = 0.6
"""Gain of the recorded head impulse below which, on both sides, function is lost (Strupp 2017, J Vestib Res 27:177)."""
LINES_LOST_FROM = 3
POSITIONAL_S = 60
"""Seconds up to which nystagmus of position lasts when crystals float (von Brevern 2015, J Vestib Res 25:105)."""


@whole
def vertigo_told(facts: Facts) -> Sign:
    """Vertigo stands among the symptoms or is there now; a list without it, and nothing said of now, is a no."""
    among, now = sym(facts, "vertigo"), facts.is_(VERTIGO_NOW, "yes")
    return among if among.met is False and now.met is None else any_of(among, now)


@whole
def of_attacks(facts: Facts) -> Sign:
    """Vertigo told, and not as something that never stops."""
    return all_of(vertigo_told(facts), unless(facts.is_(COURSE, "continuous")))


@whole
def acute_vertigo(facts: Facts) -> Sign:
    """Gate: vertigo that came within hours or days and has not stopped."""
    return all_of(
        vertigo_told(facts),
        unless(facts.is_(VERTIGO_NOW, "no")),
        facts.is_(ONSET, "sudden", "acute"),
        facts.is_(COURSE, "continuous"),
    )


@whole
def horizontal(facts: Facts) -> Sign:
    """Nystagmus is recorded and horizontal."""
    return facts.is_(NYSTAGMUS, "beats_right", "beats_left")


@whole
def spontaneous(facts: Facts) -> Sign:
    """There is nystagmus looking straight ahead."""
    return negated(facts.is_(NYSTAGMUS, "none"))


@whole
def new_deafness(facts: Facts) -> Sign:
    """Hearing was newly lost on a side."""
    return any_of(*(facts.is_(HEARING_LOSS[side], "yes") for side in SIDES))


@whole
def eye_signs_count(facts: Facts) -> Sign:
    """Guard: benign eye signs mean something only with horizontal nystagmus and without new deafness."""
    return all_of(horizontal(facts), negated(new_deafness(facts)))


@whole
def impulse_normal_where_lost(facts: Facts) -> Sign:
    """Nystagmus beats to one side, and the head impulse to the other is normal."""
    return any_of(*(all_of(beats_to(facts, side), impulse_normal(facts, OTHER[side])) for side in SIDES))


@whole
def impulse_fits_nystagmus(facts: Facts) -> Sign:
    """The head impulse shows a corrective saccade to the side nystagmus beats away from."""
    fits = any_of(*(all_of(beats_away(facts, side), impulse_corrective(facts, side)) for side in SIDES))
    return guarded(fits, eye_signs_count(facts))


@whole
def impulse_against_nystagmus(facts: Facts) -> Sign:
    """Corrective saccades to the side nystagmus beats to, or to both sides."""
    towards = (all_of(beats_to(facts, side), impulse_corrective(facts, side)) for side in SIDES)
    return any_of(impulses_corrective(facts), *towards)


@whole
def no_skew(facts: Facts) -> Sign:
    """No skew, where that counts."""
    return guarded(facts.is_(SKEW, "absent"), eye_signs_count(facts))


@whole
def no_gaze_evoked(facts: Facts) -> Sign:
    """No nystagmus that changes with gaze, where that counts."""
    return guarded(facts.is_(GAZE_EVOKED, "absent"), eye_signs_count(facts))


@whole
def speech_finger_or_brainstem(facts: Facts) -> Sign:
    """Speech, finger-nose or a brainstem sign points to the hindbrain."""
    return any_of(speech_ataxic(facts), finger_ataxia(facts), brainstem_sign(facts))


@whole
def hindbrain(facts: Facts) -> Sign:
    """Speech, finger-nose, a brainstem sign or being unable to sit points to the hindbrain."""
    return any_of(speech_finger_or_brainstem(facts), facts.is_(SITTING, "cannot_sit"))


@per_side
def opposite_corrective(facts: Facts, side: Side) -> Sign:
    """The head impulse shows a corrective saccade to the other side."""
    return impulse_corrective(facts, OTHER[side])


@per_side
def nystagmus_to_or_central(facts: Facts, side: Side) -> Sign:
    """Nystagmus beats to this side, or in a direction that one labyrinth does not make."""
    return any_of(beats_to(facts, side), nystagmus_central(facts))


@whole
def triad_known(facts: Facts) -> Sign:
    """Head impulse on both sides, nystagmus and skew are known."""
    return all_of(impulse_known_both(facts), facts.known(NYSTAGMUS), facts.known(SKEW))


@whole
def triad_and_gaze_known(facts: Facts) -> Sign:
    """Head impulse on both sides, nystagmus straight ahead and with gaze, and skew are known."""
    return all_of(triad_known(facts), facts.known(GAZE_EVOKED))


@whole
def benign_triad(facts: Facts) -> Sign:
    """Vertigo goes on and every eye sign, hearing and sitting fit a loss on one side; all recorded."""
    one_side = any_of(
        *(
            all_of(beats_away(facts, side), impulse_corrective(facts, side), impulse_normal(facts, OTHER[side]))
            for side in SIDES
        )
    )
    no_central = (facts.is_(GAZE_EVOKED, "absent"), facts.is_(SKEW, "absent"), facts.is_(SITTING, "steady", "unsteady"))
    return all_of(ongoing(facts), one_side, *no_central, negated(new_deafness(facts)))


@per_side
def corrective_one_side(facts: Facts, side: Side) -> Sign:
    """The head impulse shows a corrective saccade to this side alone."""
    return all_of(impulse_corrective(facts, side), impulse_normal(facts, OTHER[side]))


@per_side
def corrective_for_long(facts: Facts, side: Side) -> Sign:
    """Corrective saccade to this side, no nystagmus, onset months or years ago."""
    return all_of(impulse_corrective(facts, side), facts.is_(NYSTAGMUS, "none"), facts.is_(ONSET, "chronic"))


@whole
def picture_bobs(facts: Facts) -> Sign:
    """The picture bobs with the head, or three lines of acuity or more are lost on shaking it."""
    return any_of(sym(facts, "oscillopsia"), facts.test(LINES_LOST, lambda lines: lines >= LINES_LOST_FROM))


@per_side
def gain_lost(facts: Facts, side: Side) -> Sign:
    """The recorded gain is below 0.6."""
    return facts.test(GAIN[side], lambda gain: gain < GAIN_BOTH_LOST)


gains_lost = on_both(gain_lost)
impulses_corrective = on_both(impulse_corrective)
both_impulses_normal = on_both(impulse_normal)
impulse_corrective_any = on_either(impulse_corrective)


@whole
def impulses_normal(facts: Facts) -> Sign:
    """Both head impulses are normal, and the recorded gain is not known to be below 0.6 on both sides."""
    return all_of(both_impulses_normal(facts), unless(gains_lost(facts)))


@whole
def impulses_normal_but_gain_lost(facts: Facts) -> Sign:
    """Both bedside head impulses are normal though the recorded gain is below 0.6 on both sides."""
    return all_of(both_impulses_normal(facts), gains_lost(facts))


@whole
def impulses_differ(facts: Facts) -> Sign:
    """The head impulse is normal to one side and corrective to the other."""
    return any_of(*(corrective_one_side(facts, side) for side in SIDES))


@whole
def both_corrective_for_long(facts: Facts) -> Sign:
    """Both head impulses corrective, no nystagmus, onset months or years ago."""
    return all_of(impulses_corrective(facts), facts.is_(NYSTAGMUS, "none"), facts.is_(ONSET, "chronic"))


@whole
def impulses_or_gains_known(facts: Facts) -> Sign:
    """Head impulses, at the bedside or recorded, are known on both sides."""
    recorded = all_of(*(facts.known(GAIN[side]) for side in SIDES))
    bedside = impulse_known_both(facts)
    return recorded if recorded.met and not bedside.met else bedside


@per_side
def crystals(facts: Facts, side: Side) -> Sign:
    """Up-beating torsional nystagmus with this ear down, for a minute at most where that was timed."""
    long = facts.test(POSITIONAL_SECONDS[side], lambda seconds: seconds > POSITIONAL_S)
    return all_of(facts.is_(POSITIONAL[side], "upbeat_torsional"), unless(long))


@per_side
def positional_for_long(facts: Facts, side: Side) -> Sign:
    """Nystagmus of position lasts longer than a minute."""
    return facts.test(POSITIONAL_SECONDS[side], lambda seconds: seconds > POSITIONAL_S)


@per_side
def shaking_beats_away(facts: Facts, side: Side) -> Sign:
    """Nystagmus after head shaking beats away from this side."""
    return facts.is_(HEAD_SHAKING, "beats_left" if side == "right" else "beats_right")
