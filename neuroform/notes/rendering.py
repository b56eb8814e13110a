"""Fills in the templates of letters: the program's own here, a clinic's in a process with little memory and time.

A template sees words and lists of words, nothing that reads files or runs code.
"""

import importlib
import json
import re
import sys
from collections.abc import Mapping
from typing import Any

from neuroform.errors import PaperError
from neuroform.language import N_, _
from neuroform.notes.values import begun, ended
from neuroform.notes.wording import Source, TemplateError

SECONDS = 5
"""After which a clinic's template is stopped."""
MEMORY = 512 * 1024 * 1024
"""Bytes of address space a clinic's template may use."""
_BLANKS = re.compile(r"[ \t\r\n]+")
"""White space that may break; what joins a number and its unit stays."""
LONGEST = 20_000
"""Characters one block may have."""


def render(source: Source, context: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """Return (heading, text) of a letter's blocks, empty ones left out.

    `context` holds texts, numbers, lists and tables alone. Raises PaperError naming the template and what is
    wrong, TemplateError where it is the clinic's.
    """
    blocks = _blocks(source)
    filled = _apart(source, blocks, context) if source.own else _filled(source.name, blocks, context)
    if isinstance(filled, str):
        raise _refused(source, filled)
    return tuple((heading, text) for heading, text in filled if text)


def _blocks(source: Source) -> list[tuple[str, str]]:
    found = source.table.get("block")
    if not isinstance(found, list):
        raise _refused(source, _(N_("it has no [[block]]")))
    blocks = []
    for each in found:
        heading, text = (each.get("heading"), each.get("text")) if isinstance(each, Mapping) else (None, None)
        if not isinstance(heading, str) or not isinstance(text, str):
            raise _refused(source, _(N_("a [[block]] lacks its heading or its text")))
        blocks.append((heading, text))
    return blocks


def _filled(name: str, blocks: list[tuple[str, str]], context: Mapping[str, Any]) -> list[tuple[str, str]] | str:
    """Return the blocks filled in, or what is wrong with one."""
    from jinja2 import StrictUndefined, TemplateError
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    # Nothing here is HTML: papers draw text as the letters it holds, so there is nothing to escape.
    environment = ImmutableSandboxedEnvironment(undefined=StrictUndefined, autoescape=False)
    environment.filters |= {"capitalize_first": begun, "ended": ended}
    filled = []
    for heading, text in blocks:
        try:
            said = environment.from_string(text).render(context)
        except TemplateError as error:
            where = f"{heading}: {error.message or type(error).__name__}"
            return where if getattr(error, "lineno", None) is None else f"{where} ({name})"
        except (MemoryError, RecursionError):
            return f"{heading}: {_(N_('it takes too much memory'))}"
        except Exception as error:
            return f"{heading}: {type(error).__name__}: {str(error)[:200]}"
        if len(said) > LONGEST:
            return f"{heading}: {_(N_('the text is too long'))}"
        filled.append((heading, _BLANKS.sub(" ", said).strip(" ")))
    return filled


def _apart(source: Source, blocks: list[tuple[str, str]], context: Mapping[str, Any]) -> list[tuple[str, str]] | str:
    """Fill in a clinic's template in a process of its own, which is ended when it takes too much."""
    import subprocess

    told = json.dumps({"name": source.name, "blocks": blocks, "context": context})
    try:
        done = subprocess.run(
            [sys.executable, "-I", "-m", "neuroform.notes.rendering"],
            input=told.encode(),
            capture_output=True,
            timeout=SECONDS,
            check=False,
        )
    except subprocess.TimeoutExpired:
        return _(N_("it takes too long"))
    try:
        answer = json.loads(done.stdout)
        if isinstance(answer, str):
            return answer
        return [(str(heading), str(text)) for heading, text in answer]
    except (ValueError, TypeError):
        return _(N_("it takes too much memory or time"))


def _refused(source: Source, why: str) -> PaperError:
    kind = TemplateError if source.own else PaperError
    what = N_("The clinic's template {file} can't be used: {why}.") if source.own else N_("{file} is broken: {why}.")
    return kind(
        _(what).format(file=source.name, why=why.rstrip(".")),
        _(N_("Mend it, or move it away to use the program's own.")) if source.own else _(N_("Install Neuroform anew.")),
    )


def _limit() -> None:
    """Give this process little memory and time, and no files to write, where the system can."""
    try:
        import resource
    except ImportError:  # Windows has none; the time limit still holds.
        return
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))


def main() -> None:
    """Fill in what standard input asks for, and write it to standard output."""
    # Loaded before the limits, under which no module can be.
    importlib.import_module("jinja2.sandbox")
    asked = json.loads(sys.stdin.buffer.read())
    _limit()
    answer: list[tuple[str, str]] | str
    try:
        answer = _filled(asked["name"], [(heading, text) for heading, text in asked["blocks"]], asked["context"])
    except (MemoryError, RecursionError):
        answer = _(N_("it takes too much memory"))
    sys.stdout.write(json.dumps(answer))


if __name__ == "__main__":
    main()
