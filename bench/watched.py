"""Opens the program's own window on the demonstration clinic with a watch in it; run in a process of its own."""

import sys
from typing import Any

from PySide6.QtWidgets import QApplication

from bench.watching import Watch
from neuroform.__main__ import open_demo


def main(keys: int) -> int:
    """Open the demonstration, report first paint, first change and, where asked, the cost of keys."""
    original: Any = QApplication.exec
    watches: list[Watch] = []

    def executed(*_: object) -> int:
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        watches.append(Watch(application, keys=keys, painted=lambda: _watch_drafts(watches)))
        return int(original())

    QApplication.exec = executed  # type: ignore[method-assign]
    return open_demo()


def _watch_drafts(watches: list[Watch]) -> None:
    """Take what the journal is given for a change: nothing of it can be lost any more.

    It is looked for where the window has imported it, never sooner: importing it here would delay the first paint.
    """
    module = sys.modules.get("neuroform.records.drafts")
    drafts = getattr(module, "Drafts", None)
    if drafts is None or hasattr(drafts, "watched"):
        return
    original = drafts.append

    def append(self: Any, clinic: str, exam_id: str, path: str | None, *words: Any, **named: Any) -> None:
        original(self, clinic, exam_id, path, *words, **named)
        if path is not None:
            for watch in watches:
                watch.changed(path)

    drafts.append = append
    drafts.watched = True


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 0))
