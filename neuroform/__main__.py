"""Picks the window or the commands; imports nothing heavy before it is known which."""

import os
import sys

# Looking for plug-ins that nobody installs costs as much as a tenth of the start.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "1")


def main() -> int:
    """Open the window where no command is given, else run it; return the exit status."""
    words = sys.argv[1:]
    if not words:
        return open_window()
    if words == ["demo"]:
        return open_demo()
    from neuroform.cli.funnel import run

    return run(words, open_demo=open_demo)


def open_window() -> int:
    """Open the window on this workplace."""
    from neuroform.desktop import app
    from neuroform.errors import NeuroformError

    try:
        return app.open_window()
    except NeuroformError as error:
        return _told(error)


def open_demo() -> int:
    """Open the window on the demonstration clinic."""
    from neuroform.desktop import app
    from neuroform.errors import NeuroformError

    try:
        return app.open_demo()
    except NeuroformError as error:
        return _told(error)


def _told(error: Exception) -> int:
    sys.stderr.write(f"{error}\n")
    return 2


if __name__ == "__main__":
    sys.exit(main())
