"""Everything a clinic and an examiner choose, on one page: checked while it is written, saved with one key."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from neuroform.desktop.long_page import Dressed, LongPage
from neuroform.desktop.own_authority import OwnAuthority
from neuroform.desktop.painted import announce
from neuroform.desktop.read_and_sign.choosing import Choosing
from neuroform.desktop.read_and_sign.parts import PAD, Heading, Push, Said, Word
from neuroform.desktop.read_and_sign.writing import Line, Writing
from neuroform.desktop.settings_entries import Entry, as_text, groups, taken
from neuroform.desktop.shape import shape_of
from neuroform.desktop.theme import Theme
from neuroform.desktop.work import Work
from neuroform.errors import NeuroformError
from neuroform.language import N_, _
from neuroform.settings import Places, Settings, save

SCALES: Mapping[str, str] = {"1.0": "100 %", "1.25": "125 %", "1.5": "150 %", "1.75": "175 %", "2.0": "200 %"}
WIDEST = 860
LABELS = 250
"""Units that the labels are wide."""

ChooseFile = Callable[[QWidget], Path | None]
Field = Line | Writing | Choosing


class SettingsPage(LongPage):
    """Holds what is written until it is saved; what is not allowed is said below its field and never saved.

    Signals beside the page's: `saved(settings)`, `scaled(scale)` another text size is to be shown at once.
    """

    saved = Signal(object)
    scaled = Signal(float)

    def __init__(
        self,
        theme: Theme,
        places: Places,
        settings: Settings,
        *,
        amounts: Mapping[str, str],
        languages: Mapping[str, str] | None = None,
        choose_file: ChooseFile | None = None,
        work: Work | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Show `settings`; `amounts` is the protocols' names and labels, `languages` those that can be chosen."""
        super().__init__(theme, widest=WIDEST, spacing=8, parent=parent)
        self._work = work or Work()
        self.places, self.settings = places, settings
        self._kept = settings
        self._choose_file = choose_file or _chosen_file
        self.fields: dict[str, Field] = {}
        self.problems: dict[str, Said] = {}
        self._entries: dict[str, Entry] = {}
        self._labels: list[Said] = []
        self._put(Said(theme, _(N_("Settings")), "title"))
        for group in groups(amounts, languages or {"en": "English"}):
            self.column.addSpacing(theme.px(14))
            self._put(Heading(theme, _(group.title)))
            for entry in group.entries:
                self._entry(entry)
        self._size()
        self._own_authority()
        self.told = Said(theme, "", "secondary", "ink")
        self.save_button = Push(theme, _(N_("Save the settings")), main=True)
        self.back = Push(theme, _(N_("Back without saving")))
        self.save_button.clicked.connect(self.save)
        self.back.clicked.connect(self.leave)
        self._buttons()
        self.setFocusProxy(self.fields["clinic_name"])
        self._mark()

    # Building

    def _put(self, widget: Said | Heading) -> None:
        self.dressed.append(widget)
        self.column.addWidget(widget)

    def _entry(self, entry: Entry) -> None:
        field = self._field(entry)
        self.fields[entry.name], self._entries[entry.name] = field, entry
        beside: list[QWidget] = []
        if entry.kind in {"file", "files"}:
            choose = Word(self.theme, _(N_("choose") if entry.kind == "file" else N_("add")))
            choose.setAccessibleDescription(_(entry.label))
            choose.clicked.connect(lambda: self._choose(entry))
            self.dressed.append(choose)
            beside.append(choose)
        hint = Said(self.theme, _(entry.hint), "secondary", "quiet")
        problem = Said(self.theme, "", "secondary", "ink")
        self.problems[entry.name] = problem
        self.dressed += [hint, problem]
        self._row(_(entry.label), field, *beside, below=(hint, problem))

    def _row(self, label: str, field: QWidget, *beside: QWidget, below: tuple[Said, ...] = ()) -> None:
        row = QHBoxLayout()
        row.setSpacing(self.theme.px(8))
        name = Said(self.theme, label, "label")
        self._labels.append(name)
        self.dressed.append(name)
        named = QVBoxLayout()
        named.addSpacing(self.theme.px(1 if isinstance(field, Choosing) else 7))
        named.addWidget(name)
        named.addStretch()
        row.addLayout(named)
        column = QVBoxLayout()
        column.setSpacing(self.theme.px(2))
        for each in (field, *below):
            column.addWidget(each)
        row.addLayout(column, 1)
        for widget in beside:
            row.addWidget(widget, 0, Qt.AlignmentFlag.AlignTop)
        self.column.addLayout(row)

    def _field(self, entry: Entry) -> Field:
        text = as_text(entry, self.settings)
        if entry.kind == "choice":
            choices = dict(entry.choices or {})
            choices.setdefault(text, text)
            chosen = Choosing(self.theme, _(entry.label), choices)
            chosen.choose(text)
            chosen.chosen.connect(lambda code: self._wrote(entry, code))
            return chosen
        made: Line | Writing
        if entry.kind in {"lines", "files"}:
            made = Writing(self.theme, _(entry.label))
            made.least_lines = 2
        else:
            made = Line(self.theme, _(entry.label))
            made.entered.connect(lambda: self.focusNextPrevChild(True))
        made.editor.setAccessibleDescription(_(entry.hint))
        made.set_text(text)
        made.written.connect(lambda written: self._wrote(entry, written))
        return made

    def _size(self) -> None:
        self.size_choice = Choosing(self.theme, _(N_("Text")), SCALES)
        self.size_choice.choose(str(self.theme.scale) if str(self.theme.scale) in SCALES else None)
        self.size_choice.chosen.connect(self._scale)
        self._row(_(N_("Size of the text")), self.size_choice)

    def _scale(self, code: str) -> None:
        self.settings = replace(self.settings, text_scale=float(code))
        self._mark()
        self.scaled.emit(float(code))

    def _own_authority(self) -> None:
        self.own = OwnAuthority(self.theme, self.places, self.settings, self._work)
        self.own.made.connect(self._take_own)
        self.column.addSpacing(self.theme.px(14))
        self.column.addWidget(self.own)

    def _take_own(self, certificate: Path | None, trusted: Path) -> None:
        """Put what was made into the fields above; it counts once the settings are saved."""
        if certificate is not None:
            self.write("certificate", str(certificate))
        if trusted not in self.settings.authorities:
            self.write("authorities", f"{self.text('authorities')}\n{trusted}".strip())
        if self.save_button.isEnabled():
            self._tell(_(N_("Save the settings to sign and verify with what was made.")))

    def _buttons(self) -> None:
        """Put the buttons below the column, where they stay in sight."""
        self.foot = QWidget(self)
        column = QVBoxLayout(self.foot)
        column.setContentsMargins(0, self.theme.px(8), 0, self.theme.px(6))
        column.setSpacing(self.theme.px(2))
        row = QHBoxLayout()
        row.setContentsMargins(PAD, 0, PAD, 0)
        row.setSpacing(self.theme.px(16))
        row.addWidget(self.save_button)
        row.addWidget(self.back)
        row.addStretch()
        self.dressed += [self.told, self.save_button, self.back]
        column.addLayout(row)
        column.addWidget(self.told)
        self.column.addStretch()

    def keys(self) -> tuple[tuple[str, str], ...]:
        """Return the keys that work here: what each does, and its name."""
        save = QKeySequence(QKeySequence.StandardKey.Save).toString(QKeySequence.SequenceFormat.NativeText)
        return ((_(N_("save the settings")), save.replace("+", " ")), (_(N_("back without saving")), "Esc"))

    def _tell(self, words: str) -> None:
        """Say something below the buttons; where nothing is, why nothing can be saved."""
        if not words and self.settings == self._kept:
            words = _(N_("Nothing is changed yet."))
        if words != self.told.text():
            self.told.say(words)
            self.place()

    # What is written

    def text(self, name: str) -> str:
        """Return what stands in a field; of a choice, its code."""
        field = self.fields[name]
        return (field.current or "") if isinstance(field, Choosing) else field.text()

    def write(self, name: str, text: str) -> None:
        """Put a text into a field as if it were written there."""
        self._fill(name, text)
        self._wrote(self._entries[name], text)

    def _fill(self, name: str, text: str) -> None:
        field = self.fields[name]
        if isinstance(field, Choosing):
            field.choose(text)
        else:
            field.set_text(text)

    def _wrote(self, entry: Entry, text: str) -> None:
        folder = self.places.config
        self.settings, problem = taken(entry, text, self.settings, folder)
        self.problems[entry.name].say(problem)
        self._mark()

    def _mark(self) -> None:
        """Let the settings be saved where something is different and everything allowed."""
        wrong = [entry for name, entry in self._entries.items() if self.problems[name].text()]
        self.save_button.setEnabled(not wrong and self.settings != self._kept)
        not_allowed = _(N_("Not allowed yet: {names}.")).format(names=", ".join(_(each.label) for each in wrong))
        self._tell(not_allowed if wrong else "")

    def _choose(self, entry: Entry) -> None:
        path = self._choose_file(self)
        if path is None:
            return
        before = self.text(entry.name).strip() if entry.kind == "files" else ""
        self.write(entry.name, f"{before}\n{path}".strip())
        self.fields[entry.name].setFocus(Qt.FocusReason.OtherFocusReason)

    def save(self) -> None:
        """Save what is written, or say why it can't be."""
        if not self.save_button.isEnabled():
            return
        try:
            self._keep_logo()
            save(self.places.settings, self.settings)
        except NeuroformError as error:
            self._tell(str(error))
        else:
            self._kept = self.settings
            self._mark()
            self._tell(_(N_("Saved in {file}.")).format(file=self.places.settings))
            self.saved.emit(self.settings)
        announce(self, self.told.text(), at_once=True)

    def _keep_logo(self) -> None:
        """Keep the logo by copy, so that it stays when the file that was chosen goes. Raises FileError."""
        if self.settings.logo is not None and self.settings.logo != self._kept.logo:
            from neuroform.workflow.logo import keep

            self.settings = replace(self.settings, logo=keep(self.settings.logo, self.places))
            self._fill("logo", str(self.settings.logo))

    def leave(self) -> None:
        """Go back; what was not saved is shown as it was, the size of the text too."""
        resized = self.settings.text_scale != self._kept.text_scale
        self.settings = self._kept
        for name, entry in self._entries.items():
            self._fill(name, as_text(entry, self._kept))
            self.problems[name].say("")
        self.own.forget()
        self._mark()
        if resized:
            scale = str(self._kept.text_scale)
            self.size_choice.choose(scale if scale in SCALES else None)
            self.scaled.emit(self._kept.text_scale)
        self.left.emit()

    # Looks

    def parts(self) -> Iterable[Dressed]:
        """Return everything that is dressed with the page."""
        return (*self.dressed, *self.fields.values(), self.size_choice, self.own)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Save with the platform's own chord, go back with Escape."""
        if event.matches(QKeySequence.StandardKey.Save):
            self.save()
        else:
            super().keyPressEvent(event)

    def place(self) -> None:
        """Put the column into the page, its labels as wide as there is room for."""
        super().place()
        folded = shape_of(self.width(), self.theme.scale) == "folded"
        for label in (*self._labels, *self.own.labels):
            label.setFixedWidth(min(self.theme.px(LABELS), self.area.width() // (3 if folded else 2)))


def amounts_of(folder: Path) -> dict[str, str]:
    """Return how much can be examined by default: a protocol's name to its label, a clinic's own among them."""
    from neuroform.protocols.loading import load, names

    loaded = [load(name, (folder,)) for name in names((folder,))]
    return {each.name: each.label for each in loaded if not each.follows}


def _chosen_file(parent: QWidget) -> Path | None:
    name, _kind = QFileDialog.getOpenFileName(parent, _(N_("A file")), "", "")
    return Path(name) if name else None
