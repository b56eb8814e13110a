"""The one place where a failure of a command becomes a message and an exit status."""

import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from neuroform.errors import FileError, NeuroformError
from neuroform.language import N_, _

DONE = 0
NO = 1
BAD = 2
"""Exit statuses: done; done, and the answer is "no"; bad input or use."""
INTERRUPTED = 130


class UseError(NeuroformError):
    """A command was given what it can't work with."""


def run(words: Sequence[str], *, open_demo: Callable[[], int]) -> int:
    """Run one command and return its exit status; whatever fails is one message on standard error.

    `open_demo` opens the window, which no command knows.
    """
    import click

    from neuroform.cli.commands import neuroform

    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        # Not click's own `main`: it would turn a closed pipe into the exit status that means "no".
        with neuroform.make_context("neuroform", list(words), obj=open_demo) as context:
            status = neuroform.invoke(context)
        sys.stdout.flush()
        return int(status)
    except click.exceptions.Exit as done:
        return done.exit_code
    except NeuroformError as error:
        say(message(error))
    except click.ClickException as error:
        say(" ".join(error.format_message().split()))
    except (click.Abort, KeyboardInterrupt):
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read the answers has gone; what is left in the buffer must go somewhere when the program ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except Exception as fault:
        say(fault_message(fault))
    return BAD


def message(error: NeuroformError) -> str:
    """Return what happened and what to do, with every problem of a file on a line of its own."""
    problems = error.problems if isinstance(error, FileError) else ()
    if len(problems) < 2:
        return str(error)
    return "\n".join([str(error), *(f"  {problem}" for problem in problems)])


def fault_message(fault: Exception) -> str:
    """Return the message for a fault of the program itself: where it is, and nothing of what was examined."""
    trace = fault.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    where = "" if trace is None else f"{Path(trace.tb_frame.f_code.co_filename).name}, line {trace.tb_lineno}"
    return _(N_("The program failed here: {kind} in {where}. Report this; nothing was written.")).format(
        kind=type(fault).__name__, where=where
    )


def say(text: str) -> None:
    """Write to standard error."""
    sys.stderr.write(f"{text}\n")


def not_offered(what: str) -> UseError:
    """Return the message for what this version doesn't do."""
    return UseError(_(N_("{what} isn't offered yet.")).format(what=what), _(N_("Nothing was written.")))
