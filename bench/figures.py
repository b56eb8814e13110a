"""What a measurement says, and on which machine it was made."""

import os
import platform
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter


@dataclass(frozen=True, kw_only=True)
class Figure:
    """One measurement: the median of several runs, and the ratio to what it is measured against."""

    name: str
    milliseconds: float
    against: str = ""
    """What the same run measured beside it."""
    against_milliseconds: float | None = None
    bound: str = ""
    """What it has to stay under."""

    @property
    def ratio(self) -> float | None:
        """How many times longer it takes than what it is measured against."""
        beside = self.against_milliseconds
        return None if not beside else self.milliseconds / beside

    def plain(self) -> Mapping[str, object]:
        """Return the figure as JSON holds it."""
        return {
            "name": self.name,
            "milliseconds": round(self.milliseconds, 3),
            "against": self.against or None,
            "against_milliseconds": None if self.against_milliseconds is None else round(self.against_milliseconds, 3),
            "ratio": None if self.ratio is None else round(self.ratio, 2),
            "bound": self.bound or None,
        }

    def line(self) -> str:
        """Return the figure as a line for people."""
        beside = ""
        if self.against_milliseconds is not None and self.ratio is not None:
            beside = f"  {self.ratio:5.2f} x {self.against} ({self.against_milliseconds:.2f} ms)"
        bound = f"  [{self.bound}]" if self.bound else ""
        return f"{self.name:<44} {self.milliseconds:9.2f} ms{beside}{bound}"


@dataclass(frozen=True, kw_only=True)
class Size:
    """How much memory something holds, beside what it is measured against."""

    name: str
    megabytes: float
    against: str = ""
    against_megabytes: float | None = None
    bound: str = ""
    """What it has to stay under."""

    def plain(self) -> Mapping[str, object]:
        """Return the size as JSON holds it."""
        return {
            "name": self.name,
            "megabytes": round(self.megabytes, 1),
            "against": self.against or None,
            "against_megabytes": None if self.against_megabytes is None else round(self.against_megabytes, 1),
            "bound": self.bound or None,
        }

    def line(self) -> str:
        """Return the size as a line for people."""
        beside = "" if self.against_megabytes is None else f"  {self.against} ({self.against_megabytes:.1f} MB)"
        bound = f"  [{self.bound}]" if self.bound else ""
        return f"{self.name:<44} {self.megabytes:9.1f} MB{beside}{bound}"


def machine() -> Mapping[str, object]:
    """Return what the figures were measured on."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return {
        "processor": _processor(),
        "cores": cores,
        "system": platform.platform(),
        "python": platform.python_version(),
    }


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        return platform.processor() or platform.machine()
    named = (line.partition(":")[2].strip() for line in lines if line.startswith("model name"))
    return next(named, platform.machine())


def milliseconds(work: Callable[[], object], *, clock: Callable[[], float] = perf_counter) -> float:
    """Return how long one run of `work` takes."""
    began = clock()
    work()
    return (clock() - began) * 1000


def medians(works: Sequence[Callable[[], object]], runs: int) -> list[float]:
    """Return the median time of each, run in turn so that what slows the machine slows them alike."""
    taken: list[list[float]] = [[] for _ in works]
    for work in works:
        work()
    for _ in range(runs):
        for work, times in zip(works, taken, strict=True):
            times.append(milliseconds(work))
    return [median(times) for times in taken]


def ninety_ninth(times: Sequence[float]) -> float:
    """Return the time that 99 of 100 stay under."""
    ordered = sorted(times)
    return ordered[min(len(ordered) - 1, int(len(ordered) * 0.99))]
