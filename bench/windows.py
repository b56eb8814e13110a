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

from bench.figures import Figure, Size, ninety_ninth

CHECKOUT = Path(__file__).resolve().parents[1]


def figures(runs: int, keys: int, hour: int) -> Iterator[Figure | Size]:
    """Yield first paint and first change against a bare window, run in turn, the processor time of keys, and memory.

    `keys` are typed to be timed, `hour` are pressed before memory is looked at.
    """
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
    yield from _after_an_hour(hour)


def _after_an_hour(keys: int) -> Iterator[Size]:
    """Yield what is held after an hour's work, and how much of it came in the second half."""
    if not Path("/proc/self/smaps_rollup").exists():
        # Only Linux tells it this way.
        return
    with TemporaryDirectory() as home:
        bare = told("bench.hour", home, "bare")["megabytes"][-1]
        held = told("bench.hour", home, str(keys))["megabytes"]
    yield Size(
        name=f"memory after {keys} keys and clicks",
        megabytes=held[-1],
        against="a bare window’s",
        against_megabytes=bare,
        bound=f"under 1.5 x and 80 MB: {1.5 * bare + 80:.0f} MB",
    )
    yield Size(name="of it in the second half", megabytes=held[-1] - held[len(held) // 2 - 1], bound="no growth")


def opened(module: str, home: str, *words: str) -> dict[str, Any]:
    """Open a window in a process of its own; return when it painted and changed, in milliseconds from the start."""
    began = time.monotonic()
    found = told(module, home, *words)
    for name in ("painted", "changed"):
        if found[name] is None:
            raise RuntimeError(f"{module} was never {name}")
        found[name] = (found[name] - began) * 1000
    return found


def told(module: str, home: str, *words: str) -> dict[str, Any]:
    """Run a window in a process of its own; return what it tells."""
    environment = {**os.environ, "NEUROFORM_HOME": home, "PYTHONPATH": str(CHECKOUT)}
    # The first run, which is not counted, leaves every module compiled, as on a machine where the program is used.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    if not any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")):
        environment["QT_QPA_PLATFORM"] = "offscreen"
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
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return found
