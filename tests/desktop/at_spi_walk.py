"""Run within a session bus: opens the demonstration and prints what a screen reader is told of it, as JSON lines."""

import json
import re
import subprocess
import sys
import time
from contextlib import suppress

ROOT = "/org/a11y/atspi/accessible/root"
THING = "org.a11y.atspi.Accessible"
DEEPEST = 7
PATIENCE_S = 40
FOCUSED, CHECKED = 12, 4
"""Bits of the first word of a state set: AT-SPI 2, enum StateType."""


def ask(words: list[str]) -> str:
    """Send one message, and return the answer as it is printed."""
    return subprocess.run(["dbus-send", *words], capture_output=True, text=True, timeout=30, check=True).stdout


class Tree:
    """What stands on the bus of assistive technology."""

    def __init__(self) -> None:
        asked = ["--session", "--print-reply=literal", "--dest=org.a11y.Bus", "/org/a11y/bus"]
        self.bus = ask([*asked, "org.a11y.Bus.GetAddress"]).strip()

    def call(self, owner: str, path: str, *words: str) -> str:
        """Ask one thing of the tree."""
        return ask([f"--bus={self.bus}", "--print-reply", f"--dest={owner}", path, *words])

    def children(self, owner: str, path: str) -> list[tuple[str, str]]:
        """Return what it holds: owner and path of each."""
        told = self.call(owner, path, f"{THING}.GetChildren")
        return re.findall(r'string "(:[^"]*)"\s+object path "([^"]*)"', told)

    def said(self, owner: str, path: str, name: str) -> str:
        """Return one of its texts."""
        asked = ("org.freedesktop.DBus.Properties.Get", f"string:{THING}", f"string:{name}")
        return "".join(re.findall(r'string "(.*)"', self.call(owner, path, *asked)))

    def role(self, owner: str, path: str) -> str:
        """Return what kind of thing it is."""
        return "".join(re.findall(r'string "(.*)"', self.call(owner, path, f"{THING}.GetRoleName")))

    def states(self, owner: str, path: str) -> int:
        """Return the first word of its states."""
        return int(re.findall(r"uint32 (\d+)", self.call(owner, path, f"{THING}.GetState"))[0])


def application(tree: Tree) -> tuple[str, str]:
    """Return the program once it stands there with a window that holds something."""
    began = time.monotonic()
    while time.monotonic() - began < PATIENCE_S:
        with suppress(subprocess.CalledProcessError):  # the registry, or the program, is not there yet
            for owner, path in tree.children("org.a11y.atspi.Registry", ROOT):
                windows = tree.children(owner, path)
                if windows and len(tree.children(*windows[0])) > 5:  # head, strip, band, last line, sheet
                    return owner, path
        time.sleep(0.3)
    raise SystemExit("the program did not come")


def walk(tree: Tree, at: tuple[str, str], depth: int) -> None:
    """Print a thing and what it holds."""
    states = tree.states(*at)
    told = {
        "depth": depth,
        "name": tree.said(*at, "Name"),
        "role": tree.role(*at),
        "focused": bool(states >> FOCUSED & 1),
        "checked": bool(states >> CHECKED & 1),
    }
    sys.stdout.write(json.dumps(told) + "\n")
    for child in tree.children(*at) if depth < DEEPEST else []:
        walk(tree, child, depth + 1)


def main() -> None:
    """Open the program, walk its tree, end it."""
    with subprocess.Popen([sys.executable, "-m", "neuroform", "demo"], stdout=subprocess.DEVNULL) as program:
        try:
            tree = Tree()
            walk(tree, application(tree), 0)
        finally:
            program.terminate()


if __name__ == "__main__":
    main()
