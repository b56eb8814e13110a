"""The examiner's own words, kept apart from what is generated."""

from typing import Annotated, Literal

from pydantic import Field
from typing_extensions import TypeAliasType

from neuroform.exam.findings import Group, Item, Section, Text, answers, blank
from neuroform.language import N_

Urgency = TypeAliasType("Urgency", Literal["routine", "within_days", "same_day", "immediate"])
URGENCY = answers(
    {
        "routine": N_("routine"),
        "within_days": N_("within days"),
        "same_day": N_("today"),
        "immediate": N_("now"),
    }
)
URGENCY_ORDER = ("routine", "within_days", "same_day", "immediate")
LetterTo = TypeAliasType(
    "LetterTo",
    Literal[
        "specialist",
        "stroke_team",
        "emergency",
        "ear_nose_throat",
        "balance_clinic",
        "falls_clinic",
        "physiotherapy",
        "primary_care",
    ],
)
LETTER_TO = answers(
    {
        "specialist": N_("specialist (neurology)"),
        "stroke_team": N_("stroke team"),
        "emergency": N_("emergency department"),
        "ear_nose_throat": N_("ear, nose and throat"),
        "balance_clinic": N_("balance clinic"),
        "falls_clinic": N_("falls clinic"),
        "physiotherapy": N_("physiotherapy"),
        "primary_care": N_("primary care"),
    }
)
RuleId = TypeAliasType("RuleId", Annotated[str, Field(min_length=1, max_length=100, pattern=r"^[a-z0-9-]+$")])
ItemPath = TypeAliasType("ItemPath", Annotated[str, Field(min_length=1, max_length=200, pattern=r"^[a-z0-9_.]+$")])


WORDING_RULE = "wording-against-findings"
"""The rule under which a reason is kept for a wording that says more than the findings."""


class GapReason(Section):
    """Why a gap stays: its rule, the items it named, and the reason."""

    rule: RuleId
    items: tuple[ItemPath, ...]
    reason: Text


class Letter(Section):
    """What a letter needs beside the findings."""

    to: Annotated[LetterTo | None, Item(N_("To"), LETTER_TO)] = None
    recipient: Annotated[Text | None, Item(N_("Name and place"))] = None
    question: Annotated[Text | None, Item(N_("Question"))] = None
    done: Annotated[Text | None, Item(N_("Done so far"))] = None
    contact: Annotated[Text | None, Item(N_("Who to ring"))] = None


class Conclusion(Section):
    """Impression, plan, and how fast."""

    impression: Annotated[
        Text | None, Item(N_("Your impression"), hint=N_("In your own words. It comes first in the note."))
    ] = None
    plan: Annotated[Text | None, Item(N_("Plan"))] = None
    told: Annotated[Text | None, Item(N_("Told"), hint=N_("Who was told, and when."))] = None
    urgency: Annotated[Urgency | None, Item(N_("Urgency"), URGENCY)] = None
    paragraph: Annotated[Text | None, Item(N_("Your wording of the interpretation"))] = None
    gap_reasons: tuple[GapReason, ...] | None = None
    letter: Annotated[Letter, Group(N_("Letter"))] = blank(Letter)
