"""One of several words, on a line that wraps."""

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QSizePolicy, QWidget

from neuroform.desktop.read_and_sign.flowing import Flowing
from neuroform.desktop.read_and_sign.parts import Said, WordChoice
from neuroform.desktop.theme import Theme
from neuroform.language import _


class Choosing(QWidget):
    """Words of which one is chosen, or none. Signals: `chosen(code)` when a person chose another."""

    chosen = Signal(str)

    def __init__(
        self, theme: Theme, name: str, words: Mapping[str, str], *, named: bool = False, parent: QWidget | None = None
    ) -> None:
        """Offer `words`, code to a marked word; `named` shows the name before them."""
        super().__init__(parent)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName(name)
        layout = Flowing(self)
        self._label = Said(theme, name, "label") if named else None
        if self._label is not None:
            layout.addWidget(self._label)
        self._group = QButtonGroup(self)
        self._buttons: dict[str, WordChoice] = {}
        for code, each in words.items():
            button = WordChoice(theme, _(each))
            button.setAccessibleDescription(name)
            self._buttons[code] = button
            self._group.addButton(button)
            layout.addWidget(button)
            button.toggled.connect(lambda on, code=code: self._toggled(code, on))
        self._own = False

    @property
    def current(self) -> str | None:
        """The code chosen."""
        return next((code for code, button in self._buttons.items() if button.isChecked()), None)

    def choose(self, code: str | None) -> None:
        """Show what is chosen elsewhere."""
        if code == self.current:
            return
        self._own = True
        self._group.setExclusive(False)
        for each, button in self._buttons.items():
            button.setChecked(each == code)
        self._group.setExclusive(True)
        self._own = False

    def button(self, code: str) -> WordChoice:
        """Return the word of a code."""
        return self._buttons[code]

    def buttons(self) -> tuple[WordChoice, ...]:
        """Return every word."""
        return tuple(self._buttons.values())

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        for button in self._buttons.values():
            button.set_theme(theme)
        if self._label is not None:
            self._label.set_theme(theme)

    def _toggled(self, code: str, on: bool) -> None:
        if on and not self._own:
            self.chosen.emit(code)
