"""The whole examination of someone without symptoms, entered with one hand on the keys."""

from collections.abc import Callable
from types import ModuleType
from typing import Any

from neuroform.exam.findings import Examined


def test_full_examination_takes_at_most_64_keys(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened()
    entering = window.examination.entering
    counted = 0
    while window.examination.entering.section != "read_and_sign" and counted < 90:
        cell = entering.at
        if cell is None:
            if entering.next_section() in {"conclusion", "read_and_sign"}:
                break
            pressed = ["Enter"]
        elif cell.kind in {"sway", "choice"}:
            pressed = ["1"]
        elif cell.kind == "power":
            pressed = ["5"]
        elif cell.kind == "words":
            pressed = ["0"]
        elif cell.kind == "joint_position":
            pressed = ["10/10", "Enter"]
        elif cell.kind == "number":
            pressed = [{"seconds": "30", "correct_steps": "10"}.get(cell.path.rpartition(".")[2], "0"), "Enter"]
        else:
            pressed = ["Down"]
        for key in pressed:
            kit.keys(window, [key] if key in kit.NAMED else key)
            counted += 1
    progress = entering.conclusions.progress
    assert progress.answered == progress.total == 49
    assert counted <= 64
    left = window.examination.document.get("sensation.joint_position.great_toe.left")
    assert isinstance(left, Examined)
    assert left.entered is None
