"""Short names of urgent findings, for where there is room for no more than one line."""

from collections.abc import Mapping

from neuroform.language import N_, _

SHORT_NAMES: Mapping[str, str] = {
    "acute-vertigo-central-signs": N_("Vertigo, central signs"),
    "acute-vertigo-central-not-excluded": N_("Vertigo, maybe central"),
    "acute-vertigo-new-hearing-loss": N_("Vertigo, hearing loss"),
    "sudden-cerebellar-or-hemispheric-signs": N_("Sudden central signs"),
    "possible-unstable-neck": N_("Unstable neck"),
    "cord-compression": N_("Cord compression"),
    "cauda-equina": N_("Cauda equina"),
    "rapid-areflexic-weakness": N_("Rapid weakness"),
    "ataxia-confusion-eye-signs": N_("Wernicke’s"),
    "head-injury-anticoagulated": N_("Head injury, anticoagulant"),
    "weakness-with-breathing-or-swallowing": N_("Breathing at risk"),
    "spinal-infection-or-cancer-pain": N_("Spinal pain, risk"),
    "severe-orthostatic-fall": N_("Severe pressure fall"),
    "rapid-ataxia": N_("Rapid ataxia"),
    "progressive-myelopathy": N_("Progressive cord signs"),
    "treatable-myelopathy": N_("Treatable cord signs"),
    "subacute-sensory-neuronopathy": N_("Sensory loss over weeks"),
    "subacute-proximal-weakness": N_("Weak hips over weeks"),
    "gait-bladder-cognition": N_("Gait, bladder, thinking"),
    "injurious-falls": N_("Risk of the next fall"),
}


def short(code: str, message: str) -> str:
    """Return the short name of a finding and what is to be done; the whole message of one that has no short name."""
    name = SHORT_NAMES.get(code)
    if name is None:
        return message
    _what, _colon, then = message.partition(": ")
    return f"{_(name)}: {then}" if then else f"{_(name)}…"
