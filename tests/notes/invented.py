"""An invented person's examination with what was concluded of it, written out by hand, and ways to read a paper."""

from dataclasses import replace
from io import BytesIO
from typing import Any

import pypdfium2

from neuroform.completeness.gaps import Gap, Progress, Severity
from neuroform.exam import files, walk
from neuroform.exam.examination import Examination
from neuroform.notes.content import Basis
from neuroform.reasoning.results import PatternReading, Reading, Sentence, Stance, UrgentFinding

TOE = "sensation.joint_position.great_toe"

EXAM: dict[str, Any] = {
    "format": "neuroform-exam/1",
    "patient": {
        "family_name": "Okonjo-Vale",
        "given_names": "Marit",
        "birth_date": "1953-04-09",
        "sex": "female",
        "identifiers": [{"scheme": "local", "value": "20817"}],
    },
    "encounter": {
        "examined_at": "2026-11-20T10:15:00+01:00",
        "place": "Balance clinic, room 3",
        "examiner": "Dr Tessa Quill",
        "designation": "neurology",
        "supervisor": "Prof. Aurel Sandmo",
        "protocol": "full",
    },
    "context": {
        "reason": "Unsteady in the dark for four months; three falls.",
        "symptoms": ["unsteadiness", "falls", "numbness"],
        "background": [],
        "onset": {"value": "chronic"},
        "duration_days": {"value": 120},
        "course": {"value": "progressive"},
        "falls_past_year": {"value": 3},
        "fall_injury": {"value": "fracture", "comment": "left wrist, in August"},
        "walks_unaided": {"value": "yes"},
        "bladder": {"value": "normal"},
        "walking_aid": {"value": "stick"},
        "useful_vision": {"value": "both_eyes"},
        "cautions": ["anticoagulated"],
        "balance_affecting_medicines": "zopiclone 3.75 mg at night",
        "consent": {"value": "given"},
    },
    "standing": {
        "stand_by": {"value": "yes"},
        "footwear": {"value": "barefoot"},
        "sitting_balance": {"value": "steady"},
        "feet_position": {"value": "together"},
        "firm": {
            "eyes_open": {
                "sway": {"value": "slight"},
                "direction": {"value": "forward"},
                "seconds": {"value": 30},
                "ended": {"value": "held"},
            },
            "eyes_closed": {
                "sway": {"value": "marked"},
                "direction": {"value": "backward"},
                "seconds": {"value": 12},
                "ended": {"value": "stepped"},
            },
            "sway_from": {"value": "ankles"},
        },
        "foam": {"eyes_open": {"sway": {"not_examined": "no_equipment"}}},
    },
    "walking": {
        "base": {"value": "wide"},
        "pattern": {"value": ["stamping"]},
        "turning": {"value": "normal"},
        "tandem": {"correct_steps": {"value": 4}},
    },
    "motor": {
        "tone": {"right": {"value": "normal"}, "left": {"value": "normal"}},
        "power": {
            name: {side: {"value": "5", "entered": "together"} for side in ("right", "left")}
            for name in ("hip_flexion", "knee_extension", "ankle_dorsiflexion", "ankle_plantarflexion")
        },
    },
    "reflexes": {
        "knee": {"right": {"value": "normal"}, "left": {"value": "normal"}},
        "ankle": {"right": {"value": "absent"}, "left": {"value": "absent"}},
        "plantar": {"right": {"value": "flexor"}, "left": {"value": "flexor"}},
    },
    "sensation": {
        "joint_position": {
            "great_toe": {
                "right": {"value": {"correct": 6, "trials": 10}},
                "left": {"value": {"correct": 7, "trials": 10}},
            },
            "ankle": {"right": {"value": "intact"}, "left": {"value": "intact"}},
        },
        "vibration_score": {
            "great_toe": {"right": {"value": 2.5}, "left": {"value": 2.0}},
            "medial_malleolus": {"right": {"value": 3.0}, "left": {"value": 1.0}},
        },
        "pinprick": {"right": {"value": "mid_calf"}, "left": {"value": "ankle"}},
        "light_touch": {"right": {"value": "foot"}, "left": {"value": "foot", "entered": "copied"}},
        "temperature": {side: {"not_examined": "no_equipment"} for side in ("right", "left")},
        "saddle": {"not_examined": "declined", "comment": "asked once, no bladder or bowel symptoms"},
    },
    "coordination": {
        "heel_shin": {"right": {"value": "normal"}, "left": {"value": "normal"}},
        "heel_shin_eyes_closed": {"right": {"value": "mild"}, "left": {"value": "mild"}},
        "finger_nose": {"right": {"value": "normal"}, "left": {"value": "normal"}},
        "speech": {"value": "normal"},
    },
    "head_and_eyes": {
        "head_impulse": {"right": {"value": "normal"}, "left": {"value": "normal"}},
        "nystagmus": {"value": "none"},
        "skew": {"not_examined": "deferred"},
    },
    "circulation": {
        "lying": {"value": {"systolic": 138, "diastolic": 82, "pulse": 71}},
        "standing_3_min": {"value": {"systolic": 134, "diastolic": 80}},
    },
    "conclusion": {
        "impression": "Sensory ataxia with a length-dependent neuropathy, cause not yet known.",
        "plan": "Bloods for neuropathy including B12; nerve conduction. Falls clinic within the week.",
        "told": "The person and her son, today.",
        "urgency": "within_days",
        "paragraph": "The stance test is positive: slight sway with the eyes open became marked with them closed. "
        "Joint position and vibration are lost at both great toes.",
        "gap_reasons": [
            {
                "rule": "contradiction-vibration-gradient",
                "items": ["sensation.vibration_score.medial_malleolus.left"],
                "reason": "tested twice with the same result; cold feet",
            }
        ],
        "letter": {
            "to": "falls_clinic",
            "recipient": "Dr Pia Holmgard, falls clinic",
            "question": "Can the falls be made fewer, and should the anticoagulant go on?",
            "done": "B12 and other bloods taken.",
            "contact": "Dr Tessa Quill, 5512, weekdays to 17:00",
        },
    },
}

NEEDED_ITEMS = (
    *("context.symptoms", "context.cautions", "context.falls_past_year", "context.walking_aid", "context.bladder"),
    *("context.walks_unaided", "context.useful_vision", "standing.stand_by", "standing.feet_position"),
    *(f"standing.firm.{eyes}.{part}" for eyes in ("eyes_open", "eyes_closed") for part in ("sway", "seconds", "ended")),
    *("walking.base", "walking.pattern", "walking.tandem.correct_steps", "motor.tone"),
    *(
        f"motor.power.{name}"
        for name in ("hip_flexion", "knee_extension", "ankle_dorsiflexion", "ankle_plantarflexion")
    ),
    *("reflexes.knee", "reflexes.ankle", "reflexes.plantar", TOE, "sensation.vibration_score.great_toe"),
    *("sensation.pinprick", "sensation.saddle", "coordination.heel_shin", "coordination.finger_nose"),
    *("coordination.speech", "head_and_eyes.head_impulse", "head_and_eyes.nystagmus", "head_and_eyes.skew"),
    *("head_and_eyes.gaze_evoked_nystagmus", "circulation.lying"),
)

URGENT = UrgentFinding(
    code="injurious-falls",
    urgency="within_days",
    items=("context.falls_past_year", "context.fall_injury"),
    message="Three falls in the past year, one with a fracture, on an anticoagulant.",
    source="Needs a falls assessment and a review of the anticoagulant. Common practice.",
)
NOW = UrgentFinding(
    code="cauda-equina",
    urgency="immediate",
    items=("context.bladder",),
    message="Retention with numbness between the legs: compression of the cauda equina is possible.",
    source="Emergency imaging. From memory.",
)


def exam_of(plain: dict[str, Any]) -> Examination:
    """Read an exam from plain values, as a file would hold it."""
    import json

    return files.read(json.dumps(plain).encode())


def basis_of(exam: Examination, **changes: Any) -> Basis:
    """Put hand-written conclusions beside an exam."""
    needed = tuple(path for item in NEEDED_ITEMS for path in walk.entry(item).paths)
    answered = sum(walk.get(exam, path) is not None for path in needed)
    reading = Reading(
        stance=Stance(result="positive", because="…", items=("standing.firm.eyes_closed.ended",), how="lost"),
        systems={
            "vision": "intact",
            "joint_position": "impaired",
            "vestibular": "intact",
            "cerebellar": "partly_tested",
            "motor": "intact",
        },
        patterns=(
            PatternReading(
                pattern="sensory_ataxia",
                side=None,
                verdict="supported",
                supporting=(f"{TOE}.right",),
                opposing=(),
                missing=(),
                because="…",
            ),
        ),
        urgent=(URGENT,),
    )
    gaps = (
        Gap(
            rule="contradiction-vibration-gradient",
            severity=Severity.SHOULD,
            items=("sensation.vibration_score.medial_malleolus.left",),
            message="Vibration at the left inner ankle does not fit the great toe on the same side.",
            why="…",
            source="common practice",
            reason="tested twice with the same result; cold feet",
        ),
        Gap(
            rule="gaze-evoked-missing",
            severity=Severity.MUST,
            items=("head_and_eyes.gaze_evoked_nystagmus",),
            message="Nystagmus changing with gaze is blank.",
            why="…",
            source="common practice",
        ),
    )
    made = Basis(
        exam=exam,
        reading=reading,
        gaps=gaps,
        sentences=(
            Sentence(text="The stance test was positive.", items=("standing.firm.eyes_closed.ended",)),
            Sentence(text="Together this supports a sensory ataxia.", items=(f"{TOE}.right",)),
        ),
        progress=Progress(answered=answered, total=len(needed)),
        needed=needed,
        protocol="full examination",
    )
    return replace(made, **changes)


def pages_of(pdf: bytes) -> list[str]:
    """Read the text of each page with PDFium."""
    document = pypdfium2.PdfDocument(BytesIO(pdf))
    try:
        return [str(document[number].get_textpage().get_text_range()) for number in range(len(document))]
    finally:
        document.close()


def place_of(words: str, pdf: bytes, *, page: int = 0) -> tuple[float, float]:
    """Return where words first stand on a page: from its left edge and from its upper one."""
    document = pypdfium2.PdfDocument(BytesIO(pdf))
    try:
        text = document[page].get_textpage()
        found = text.search(words).get_next()
        assert found is not None, words
        left, _bottom, _right, top = text.get_charbox(found[0])
        return left, document[page].get_height() - top
    finally:
        document.close()


def squeezed(text: str) -> str:
    """Return text with every kind of white space as one blank."""
    return " ".join(text.split())
