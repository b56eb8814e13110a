"""Runs every measurement: `python -m bench [--json] [--runs N] [--only answers|papers|window]`."""

import argparse
import json
import sys
from collections.abc import Callable, Iterable, Mapping

from bench import answers, papers, windows
from bench.figures import Figure, Size, machine

RUNS = 9


def main(words: list[str]) -> int:
    """Print the figures as a table, or as one object; return the exit status."""
    parser = argparse.ArgumentParser(prog="bench", description=__doc__)
    parser.add_argument("--json", action="store_true", dest="as_json", help="one object instead of a table")
    parser.add_argument("--runs", type=int, default=RUNS, help="runs of which the median is told")
    parser.add_argument("--keys", type=int, default=300, help="keys that are typed")
    parser.add_argument("--hour", type=int, default=3600, help="keys and clicks before memory is looked at")
    parser.add_argument("--only", choices=("answers", "papers", "window"), action="append")
    asked = parser.parse_args(words)
    measured: Mapping[str, Callable[[], Iterable[Figure | Size]]] = {
        "window": lambda: windows.figures(asked.runs, asked.keys, asked.hour),
        "answers": lambda: answers.figures(asked.runs),
        "papers": lambda: papers.figures(asked.runs),
    }
    on = machine()
    if not asked.as_json:
        print(f"{on['processor']}, {on['cores']} cores, {on['system']}, Python {on['python']}")
        print(f"median of {asked.runs} runs, each beside what it is measured against")
    found = []
    for name, measure in measured.items():
        if asked.only and name not in asked.only:
            continue
        for figure in measure():
            found.append(figure.plain())
            if not asked.as_json:
                print(figure.line(), flush=True)
    if asked.as_json:
        print(json.dumps({"machine": on, "runs": asked.runs, "figures": found}))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
