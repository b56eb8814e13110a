"""Measures the window: from the start of the process to the first paint and the first change, and the cost of a key."""

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from bench.figures import Figure, ninety_ninth

CHECKOUT = Path(__file__).resolve().parents[1]


def figures(runs: int, keys: int) -> Iterator[Figure]:
    """Yield first paint and first change against a bare window, run in turn, then the processor time of keys."""
    with TemporaryDirectory() as home:
        opened("bench.bare", home)
        opened("bench.watched", home)
        ours, bare = [], []
        for _ in range(runs):
            bare.append(opened("bench.bare", home))
            ours.append(opened("bench.watched", home))
    with TemporaryDirectory() as home:
        typed = opened("bench.watched", home, str(keys))["key_cpu_ms"]
    moments = (("painted", "first paint", "at most 1.5 x"), ("changed", "first key taken", "at most 4 x"))
    for name, what, bound in moments:
        yield Figure(
            name=f"process start to {what}",
            milliseconds=median(each[name] for each in ours),
            against=f"a bare window's {what}",
            against_milliseconds=median(each[name] for each in bare),
            bound=bound,
        )
    yield Figure(name="processor time of a key, median", milliseconds=median(typed))
    yield Figure(name="processor time of a key, p99", milliseconds=ninety_ninth(typed), bound="under 8 ms")


def opened(module: str, home: str, *words: str) -> dict[str, Any]:
    """Open a window in a process of its own; return when it painted and changed, in milliseconds from the start."""
    environment = {**os.environ, "NEUROFORM_HOME": home, "PYTHONPATH": str(CHECKOUT)}
    if not any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")):
        environment["QT_QPA_PLATFORM"] = "offscreen"
    began = time.monotonic()
    done = subprocess.run(
        [sys.executable, "-m", module, *words],
        capture_output=True,
        text=True,
        env=environment,
        timeout=300,
        check=False,
    )
    if done.returncode:
        raise RuntimeError(f"{module} ended with {done.returncode}: {done.stderr.strip()[-600:]}")
    told: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    for name in ("painted", "changed"):
        if told[name] is None:
            raise RuntimeError(f"{module} was never {name}")
        told[name] = (told[name] - began) * 1000
    return told
