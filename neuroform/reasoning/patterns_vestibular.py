"""Patterns of the labyrinths and their nerves, and of the brainstem and cerebellum in acute vertigo."""

from neuroform.language import N_
from neuroform.reasoning.balance_signs import drifts_to, foam_unsteady, lost_on_foam_alone
from neuroform.reasoning.eye_signs import (
    acute_vertigo,
    both_corrective_for_long,
    corrective_for_long,
    corrective_one_side,
    crystals,
    gains_lost,
    hindbrain,
    impulse_against_nystagmus,
    impulse_fits_nystagmus,
    impulse_normal_where_lost,
    impulses_corrective,
    impulses_differ,
    impulses_normal,
    impulses_normal_but_gain_lost,
    impulses_or_gains_known,
    new_deafness,
    no_gaze_evoked,
    no_skew,
    nystagmus_to_or_central,
    of_attacks,
    opposite_corrective,
    picture_bobs,
    positional_for_long,
    shaking_beats_away,
    speech_finger_or_brainstem,
    spontaneous,
    triad_and_gaze_known,
    triad_known,
    vertigo_told,
)
from neuroform.reasoning.facts import Facts, Sign, all_of, whole
from neuroform.reasoning.items import COURSE, GAZE_EVOKED, NYSTAGMUS, ON_FIXATION, POSITIONAL, SITTING, SKEW
from neuroform.reasoning.mechanism import Pattern, decisive, strong, weak
from neuroform.reasoning.sign_makers import at_age, found, found_here, known_here, of_person, told
from neuroform.reasoning.signs import (
    beats_away,
    impulse_corrective,
    impulse_known_both,
    impulse_normal,
    nystagmus_central,
    ongoing,
    unsteady_eyes_open,
)

FOAM_TELLS_UNDER = 60
"""Age in years; from 60 standing on foam fails in half of people and more (Agrawal 2009, from memory)."""
FOAM_TELLS_NOTHING_FROM = 70
_VERTIGO = N_("vertigo that came suddenly or within days and has not stopped")
_KATTAH = N_("Kattah 2009, Stroke 40:3504-3510")
_STRUPP = N_("Strupp 2017, J Vestib Res 27:177-189")
_VON_BREVERN = N_("von Brevern 2015, J Vestib Res 25:105-117")
_FOAM = N_("Agrawal 2009, Arch Intern Med 169:938-944; figures by age from memory")

ACUTE_PERIPHERAL = Pattern(
    name="acute_vestibular_peripheral",
    label=N_("acute loss of the vestibular nerve or labyrinth"),
    sided=True,
    gate=of_person(acute_vertigo),
    gate_label=_VERTIGO,
    speaks_for=(
        strong(N_("corrective saccade to this side"), on_side=impulse_corrective, source=_KATTAH),
        strong(N_("nystagmus beats away from this side"), on_side=beats_away, source=_KATTAH),
        weak(N_("veers, leans or falls to this side"), on_side=drifts_to),
        weak(N_("nystagmus suppressed by fixation"), found(ON_FIXATION, "suppressed")),
    ),
    speaks_against=(
        decisive(N_("normal head impulse to this side"), on_side=impulse_normal, source=_KATTAH),
        decisive(
            N_("nystagmus beats to this side, or in a direction one labyrinth does not make"),
            on_side=nystagmus_to_or_central,
        ),
        strong(N_("nystagmus that changes with gaze"), found(GAZE_EVOKED, "present"), source=_KATTAH),
        strong(N_("skew"), found(SKEW, "present"), source=_KATTAH),
        strong(N_("new hearing loss"), new_deafness),
        strong(N_("corrective saccade to the other side"), on_side=opposite_corrective),
        strong(N_("speech, finger-nose, a brainstem sign, or unable to sit"), hindbrain),
    ),
    must=of_person(triad_and_gaze_known),
    possible_needs=of_person(triad_and_gaze_known),
    asked_for=vertigo_told,
)

ACUTE_CENTRAL = Pattern(
    name="acute_vestibular_central",
    label=N_("acute vertigo from brainstem or cerebellum"),
    gate=of_person(acute_vertigo),
    gate_label=_VERTIGO,
    speaks_for=(
        decisive(
            N_("nystagmus to one side and a normal head impulse to the other"),
            impulse_normal_where_lost,
            source=_KATTAH,
        ),
        decisive(N_("nystagmus in a direction one labyrinth does not make"), nystagmus_central),
        decisive(N_("nystagmus that changes with gaze"), found(GAZE_EVOKED, "present"), source=_KATTAH),
        decisive(N_("skew"), found(SKEW, "present"), source=_KATTAH),
        decisive(N_("unable to sit"), found(SITTING, "cannot_sit")),
        strong(N_("new hearing loss"), new_deafness),
        strong(N_("unsteady with eyes open"), unsteady_eyes_open),
        strong(N_("corrective saccade towards the fast phase, or to both sides"), impulse_against_nystagmus),
        strong(N_("speech, finger-nose or a brainstem sign"), speech_finger_or_brainstem),
    ),
    speaks_against=(
        strong(N_("corrective saccade away from the fast phase"), impulse_fits_nystagmus, source=_KATTAH),
        weak(N_("no skew"), no_skew, source=_KATTAH),
        weak(N_("no nystagmus that changes with gaze"), no_gaze_evoked, source=_KATTAH),
    ),
    must=of_person(triad_known),
    never_unlikely=of_person(found(NYSTAGMUS, "none")),
    decisive_suffices=True,
    asked_for=vertigo_told,
)

COMPENSATED = Pattern(
    name="compensated_vestibular",
    label=N_("long-standing vestibular loss on one side"),
    sided=True,
    speaks_for=(
        strong(N_("corrective saccade to this side alone"), on_side=corrective_one_side),
        strong(N_("corrective saccade, no nystagmus, onset long ago"), on_side=corrective_for_long),
        weak(N_("unsteady on foam, under 60 years"), at_age(foam_unsteady, high=FOAM_TELLS_UNDER), source=_FOAM),
        weak(N_("vertigo or moving picture told"), told("vertigo", "oscillopsia")),
        weak(N_("nystagmus after head shaking beats away from this side"), on_side=shaking_beats_away),
    ),
    speaks_against=(
        strong(N_("vertigo that goes on, or is not known to have stopped"), ongoing),
        strong(N_("nystagmus looking ahead"), spontaneous),
        strong(N_("normal head impulse to this side"), on_side=impulse_normal),
        strong(N_("corrective saccade to the other side"), on_side=opposite_corrective),
    ),
    must=of_person(whole(lambda facts: all_of(impulse_known_both(facts), facts.known(NYSTAGMUS)))),
    supported_needs=corrective_one_side,
)

BILATERAL = Pattern(
    name="bilateral_vestibular",
    label=N_("probable vestibular loss on both sides"),
    speaks_for=(
        decisive(N_("recorded gain below 0.6 on both sides"), gains_lost, source=_STRUPP),
        strong(N_("corrective saccades to both sides"), impulses_corrective, source=_STRUPP),
        strong(N_("the picture moves with the head"), picture_bobs),
        strong(
            N_("lost on foam but not on firm ground, under 60 years"),
            at_age(lost_on_foam_alone, high=FOAM_TELLS_UNDER),
            source=_FOAM,
        ),
        weak(
            N_("lost on foam but not on firm ground, at 60 to 69 years"),
            at_age(lost_on_foam_alone, low=FOAM_TELLS_UNDER, high=FOAM_TELLS_NOTHING_FROM),
            source=_FOAM,
        ),
        weak(N_("unsteadiness told"), told("unsteadiness")),
        weak(N_("corrective saccades to both sides, no nystagmus, onset long ago"), both_corrective_for_long),
    ),
    speaks_against=(
        decisive(N_("normal head impulses to both sides"), impulses_normal),
        strong(N_("normal head impulses at the bedside, though the gain is low"), impulses_normal_but_gain_lost),
        strong(N_("head impulse normal to one side and corrective to the other"), impulses_differ),
        strong(N_("nystagmus looking ahead"), spontaneous),
    ),
    must=of_person(impulses_or_gains_known),
    advice=N_("Normal bedside head impulses do not exclude a partial loss."),
    asked_for=told("unsteadiness", "oscillopsia"),
)


@whole
def _positional_course(facts: Facts) -> Sign:
    return facts.is_(COURSE, "positional")


POSITIONAL_VERTIGO = Pattern(
    name="positional_vertigo",
    label=N_("positional vertigo"),
    sided=True,
    speaks_for=(
        decisive(N_("up-beating torsional nystagmus with this ear down"), on_side=crystals, source=_VON_BREVERN),
        strong(N_("horizontal nystagmus with this ear down"), on_side=found_here(POSITIONAL, "horizontal")),
        weak(N_("vertigo in certain positions"), _positional_course),
    ),
    speaks_against=(
        decisive(
            N_("nystagmus of another direction with this ear down"), on_side=found_here(POSITIONAL, "downbeat", "other")
        ),
        strong(N_("positional test negative with this ear down"), on_side=found_here(POSITIONAL, "negative")),
        strong(N_("nystagmus looking ahead"), spontaneous),
        strong(N_("nystagmus lasts longer than a minute"), on_side=positional_for_long, source=_VON_BREVERN),
    ),
    must=known_here(POSITIONAL),
    asked_for=of_attacks,
)
