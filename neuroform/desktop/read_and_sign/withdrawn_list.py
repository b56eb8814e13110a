"""The urgent findings that were raised in this examination and withdrawn again, with when and why."""

from collections.abc import Iterable
from datetime import datetime

from PySide6.QtWidgets import QVBoxLayout, QWidget

from neuroform.desktop.form import place
from neuroform.desktop.read_and_sign.parts import Heading, Said
from neuroform.desktop.theme import Role, Theme
from neuroform.language import N_, _
from neuroform.signing.moments import minute
from neuroform.workflow.withdrawn import Withdrawn


class WithdrawnList(QWidget):
    """Takes no room where nothing was withdrawn."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.lines: list[Said] = []
        self._head = Heading(theme, _(N_("Urgent findings withdrawn")), role="strong")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, theme.px(12))
        self._column.setSpacing(theme.px(2))
        self._column.addWidget(self._head)
        self.hide()

    def show_withdrawn(self, found: Iterable[Withdrawn]) -> None:
        """Show what was withdrawn, the last first."""
        self._clear()
        for each in reversed(tuple(found)):
            self._add(each.finding.message, "label")
            self._add(_when(each), "secondary")

    def say(self, words: str) -> None:
        """Say something in place of the list."""
        self._clear()
        self._add(words, "secondary")

    def text(self) -> str:
        """Return everything that stands there."""
        return "\n".join(line.text() for line in self.lines)

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        self._head.set_theme(theme)
        for line in self.lines:
            line.set_theme(theme)

    def _clear(self) -> None:
        for line in self.lines:
            self._column.removeWidget(line)
            line.deleteLater()
        self.lines = []
        self.hide()

    def _add(self, words: str, role: Role) -> None:
        line = Said(self.theme, words, role, "ink" if role == "label" else "ink2")
        self.lines.append(line)
        self._column.addWidget(line)
        self.show()


def _when(each: Withdrawn) -> str:
    found = place(each.path) if each.path is not None else None
    times = {"raised": _moment(each.raised), "withdrawn": _moment(each.at)}
    if found is None:
        told = _(N_("Raised {raised}, withdrawn {withdrawn}.")).format(**times)
    else:
        item = found[1].cells[found[2]].name
        told = _(N_("Raised {raised}, withdrawn {withdrawn}: {item} was changed.")).format(**times, item=item)
    return " ".join([told, _(N_("One of its kind stands again."))] if each.again else [told])


def _moment(at: datetime) -> str:
    here = at.astimezone()
    return f"{here:%H:%M}" if here.date() == datetime.now().astimezone().date() else minute(here)
