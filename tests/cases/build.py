"""Builds the case files beside it from what is written in `written/`: a normal full examination and what differs.

In `written/*.toml` a value is what was found; "-" takes the item (or the whole group) away, "!declined" is a reason,
"8/10" counts movements, "120/80/70" is a pressure with its pulse. A value for an item with two sides stands for both.
"""

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
VERDICTS = ("supported", "possible", "unlikely", "not_assessable")
PLAIN = {
    *(
        f"context.{item}"
        for item in ("reason", "symptoms", "background", "limb_absent", "limb_immobilised", "cautions")
    ),
    "context.balance_affecting_medicines",
    "standing.trial_seconds",
}
SIDED = (
    "standing.single_leg.",
    "walking.arm_swing",
    "walking.on_",
    *(f"motor.{item}" for item in ("tone", "bradykinesia", "bulk", "fasciculation", "clonus_beats", "power.")),
    *(f"motor.{item}" for item in ("single_heel_raises", "hoover", "hip_abductor_sign", "give_way")),
    *(f"reflexes.{item}" for item in ("knee", "ankle", "plantar", "finger_flexor")),
    *(f"sensation.{item}" for item in ("joint_position.", "vibration", "pinprick", "light_touch", "temperature")),
    "sensation.distribution",
    *(f"coordination.{item}" for item in ("heel_shin", "finger_nose", "rapid_alternating_hands", "foot_tapping")),
    *(f"head_and_eyes.{item}" for item in ("head_impulse", "new_hearing_loss", "visual_acuity")),
    *(f"head_and_eyes.positional_{item}" for item in ("test", "latency_seconds", "duration_seconds")),
)
ONE_SIDED_NAMES = ("reflexes.ankle_method",)
PRESSURES = ("lying", "sitting", "standing_immediately", "standing_1_min", "standing_3_min")


def leaves(table: dict[str, Any], path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Yield every path written in a table with what stands there."""
    for key, found in table.items():
        if isinstance(found, dict):
            yield from leaves(found, (*path, key))
        else:
            yield (*path, key), found


def is_sided(path: tuple[str, ...]) -> bool:
    """Tell whether the item has a right and a left."""
    name = ".".join(path)
    return path[-1] not in {"right", "left"} and name.startswith(SIDED) and name not in ONE_SIDED_NAMES


def finding(path: tuple[str, ...], found: Any) -> Any:
    """Return what an exam file holds for a written value."""
    if ".".join(path) in PLAIN or path[0] in {"encounter", "patient", "conclusion"}:
        return found
    if isinstance(found, str) and found.startswith("!"):
        return {"not_examined": found[1:]}
    if path[0] == "circulation" and path[-1] in PRESSURES:
        return {"value": dict(zip(("systolic", "diastolic", "pulse"), map(int, found.split("/")), strict=False))}
    if isinstance(found, str) and "/" in found:
        correct, trials = map(int, found.split("/"))
        return {"value": {"correct": correct, "trials": trials}}
    return {"value": found}


def put(exam: dict[str, Any], path: tuple[str, ...], found: Any) -> None:
    """Write one value into the exam, or take away what stands there."""
    *groups, last = path
    at = exam
    for group in groups:
        at = at.setdefault(group, {})
    if found == "-":
        at.pop(last, None)
    elif is_sided(path):
        at[last] = {side: finding(path, found) for side in ("right", "left")}
    else:
        at[last] = finding(path, found)


def pruned(table: dict[str, Any]) -> dict[str, Any]:
    """Return the exam without the groups that became empty."""
    inner = {key: pruned(found) if isinstance(found, dict) else found for key, found in table.items()}
    return {key: found for key, found in inner.items() if found != {}}


def exam_of(name: str, case: dict[str, Any], normal: dict[str, Any]) -> dict[str, Any]:
    """Return the exam file of one written case."""
    exam: dict[str, Any] = {
        "format": "neuroform-exam/1",
        "patient": {
            "family_name": f"Case {name}",
            "given_names": "Invented",
            "birth_date": case.get("born", "1976-05-04"),
            "sex": case.get("sex", "female"),
            "identifiers": [{"scheme": "local", "value": name}],
        },
        "encounter": {
            "examined_at": "2026-11-20T10:15:00+00:00",
            "place": "Clinic",
            "examiner": "Examiner A",
            "protocol": "full",
        },
    }
    for path, found in (*(() if case.get("from_blank") else leaves(normal)), *leaves(case["exam"])):
        put(exam, path, found)
    return pruned(exam)


def expected_of(name: str, case: dict[str, Any]) -> dict[str, Any]:
    """Return what is expected of one written case, every key that a judge reads present."""
    want = case["expect"]
    patterns: dict[str, Any] = {pattern: verdict for verdict in VERDICTS for pattern in want.get(verdict, ())}
    patterns |= {pattern: [v for v in VERDICTS if v != "supported"] for pattern in want.get("not_supported", ())}
    patterns |= want.get("patterns", {})
    stance = want.get("stance", "negative")
    return {
        "id": name,
        "title": case["title"],
        "why": case["why"],
        "stance_test": stance if isinstance(stance, list) else [stance],
        "patterns": patterns,
        "urgent": [dict(zip(("code", "urgency"), line.split(), strict=True)) for line in want.get("urgent", ())],
        "urgent_must_not": want.get("urgent_must_not", []),
        "urgent_may": want.get("urgent_may", []),
        "gaps_must_name": want.get("gaps", []),
        "gaps_or_next_tests_name": want.get("gaps_or_next", []),
        "must_not_be_asked_for": want.get("never_ask", []),
        "contradiction": want.get("contradiction", False),
        "systems": want.get("systems", {}),
    }


def built() -> dict[str, dict[str, Any]]:
    """Return every case by its id."""
    normal = tomllib.loads((HERE / "written" / "normal.toml").read_text(encoding="utf-8"))
    cases: dict[str, dict[str, Any]] = {}
    for file in sorted((HERE / "written").glob("*.toml")):
        if file.stem == "normal":
            continue
        for name, case in tomllib.loads(file.read_text(encoding="utf-8")).items():
            if name in cases:
                raise ValueError(f"{file.name}: {name} stands twice; give the second its own id")
            cases[name] = {"exam": exam_of(name, case, normal), "expected": expected_of(name, case)}
    return dict(sorted(cases.items()))


def text_of(case: dict[str, Any]) -> str:
    """Return the text of a case file."""
    return json.dumps(case, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    for name, case in built().items():
        (HERE / f"V{name}.json").write_text(text_of(case), encoding="utf-8")
