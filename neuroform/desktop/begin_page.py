"""Asks who is examined before an examination begins."""

import re
from datetime import date, datetime

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QComboBox, QLineEdit, QPushButton, QWidget

from neuroform.desktop.keyboard import key_word
from neuroform.desktop.opening import Asked, Beginning
from neuroform.desktop.shape import margin
from neuroform.desktop.theme import Theme
from neuroform.errors import NeuroformError
from neuroform.language import N_, _

FIELDS = (
    ("family_name", N_("Family name")),
    ("given_names", N_("Given names")),
    ("born", N_("Date of birth")),
    ("identifier", N_("Identifier")),
    ("examiner", N_("Examiner")),
)
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
OLDEST = 105
ADULT = 18


class BeginPage(QWidget):
    """Signals: `begun(opened)` the examination can begin."""

    begun = Signal(object)

    def __init__(self, theme: Theme, beginning: Beginning, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._beginning = beginning
        self._told = beginning.told
        self.setAccessibleDescription(beginning.told)
        self._asked_age = -1
        self.fields: dict[str, QLineEdit] = {}
        for name, label in FIELDS:
            field = QLineEdit(self)
            field.setAccessibleName(_(label))
            field.setMaxLength(200)
            field.textChanged.connect(self.update)
            self.fields[name] = field
        self.fields["born"].setPlaceholderText(_(N_("1955-03-03, or 3 Mar 1955")))
        self.fields["examiner"].setText(beginning.examiner)
        self.amounts = QComboBox(self)
        self.amounts.setAccessibleName(_(N_("How much is to be examined")))
        for name, words in beginning.amounts:
            self.amounts.addItem(words, name)
        self.amounts.setCurrentIndex(max(0, self.amounts.findData(beginning.amount)))
        self.button = QPushButton(_(N_("Begin the examination")), self)
        self.button.clicked.connect(self.begin)
        self.first = self.fields["family_name"]
        self._dress()

    def propose(self, *, examiner: str, amount: str) -> None:
        """Propose another usual amount, and an examiner where none is written yet."""
        if not self.fields["examiner"].text().strip():
            self.fields["examiner"].setText(examiner)
        self.amounts.setCurrentIndex(max(0, self.amounts.findData(amount)))

    def set_theme(self, theme: Theme) -> None:
        """Take another palette or text size."""
        self.theme = theme
        self._dress()
        self.resizeEvent(None)

    def _dress(self) -> None:
        theme = self.theme
        palette = theme.palette()
        palette.setColor(QPalette.ColorRole.Window, theme.colour("sheet"))
        self.setPalette(palette)
        rule, sheet, ink, accent = (theme.colour(t).name() for t in ("rule", "sheet", "ink", "accent"))
        for each in (*self.fields.values(), self.amounts):
            each.setFont(theme.font("body"))
        edge = f"border:1px solid {rule};background:{sheet};color:{ink};padding:0 {theme.px(8)}px"
        self.setStyleSheet(
            f"QLineEdit,QComboBox{{{edge}}} QLineEdit:focus,QComboBox:focus{{border:2px solid {accent}}}"
            f"QComboBox::drop-down{{border:0;width:{theme.px(28)}px}}"
            f"QPushButton{{background:{accent};color:{theme.colour('inv').name()};border:2px solid {accent}}}"
            f"QPushButton:focus{{border:2px solid {ink}}}"
        )
        self.button.setFont(theme.font("label"))

    def resizeEvent(self, _event: object) -> None:
        """Place the fields below each other."""
        theme = self.theme
        held = (*self.fields.values(), self.amounts)
        top = theme.px(70)
        pitch = min(theme.px(42), (self.height() - top - theme.px(10)) // (len(held) + 1))
        if pitch < theme.px(42):
            top = theme.px(54)
            pitch = min(theme.px(42), (self.height() - top - theme.px(10)) // (len(held) + 1))
        x, y = self._left(), top
        wide = min(theme.px(420), self.width() - x - margin(self.width(), theme.scale))
        high = min(theme.px(34), pitch - theme.px(4))
        for each in held:
            each.setGeometry(x, y, wide, high)
            y += pitch
        self.button.setGeometry(x, y + min(theme.px(4), pitch - high), min(wide, theme.px(230)), high + theme.px(2))

    def _left(self) -> int:
        theme = self.theme
        labels = [_(label) for _name, label in FIELDS] + [_(N_("How much is to be examined"))]
        return round(margin(self.width(), theme.scale) + max(theme.width("label", each) for each in labels)) + theme.px(
            16
        )

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the labels, the age beside the date of birth, and what is lacking."""
        theme = self.theme
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.colour("sheet"))
        edge = margin(self.width(), theme.scale)
        painter.setPen(theme.colour("ink"))
        painter.setFont(theme.font("title"))
        painter.drawText(QPointF(edge, theme.px(42)), _(N_("Who is examined?")))
        painter.setFont(theme.font("label"))
        labels = [*(_(label) for _name, label in FIELDS), _(N_("How much is to be examined"))]
        for label, each in zip(labels, [*self.fields.values(), self.amounts], strict=True):
            y = each.y() + each.height() // 2 + theme.px(5)
            painter.drawText(QPointF(each.x() - theme.px(14) - theme.width("label", label), y), label)
        born = read_day(self.fields["born"].text())
        if born is not None:
            words = _(N_("age {age}")).format(age=_age(born))
            field = self.fields["born"]
            painter.setFont(theme.font("person"))
            painter.drawText(QPointF(field.x() + field.width() + theme.px(14), field.y() + theme.px(23)), words)
        words, box = _(N_("another")), self.amounts.geometry()
        x, y = box.right() + theme.px(14), box.y() + theme.px(22)
        painter.setFont(theme.font("secondary"))
        painter.setPen(theme.colour("quiet"))
        painter.drawText(QPointF(x, y), words)
        painter.setFont(theme.font("key"))
        painter.setPen(theme.colour("accent"))
        painter.drawText(QPointF(x + theme.width("secondary", words) + theme.px(8), y), key_word("Down"))
        foot = self.height() - theme.px(14)
        below = self.button.y() + self.button.height() + theme.px(26)
        self._paint_keys(painter, foot)
        painter.setPen(theme.colour("ink"))
        if self._told:
            painter.setFont(theme.font("label"))
            # Where there is no room below the button, what is lacking stands beside the title.
            beside = edge + theme.width("title", _(N_("Who is examined?"))) + theme.px(20)
            at = QPointF(self.button.x(), below) if below <= foot else QPointF(beside, theme.px(42))
            painter.drawText(at, theme.fitted("label", self._told, self.width() - edge - at.x()))
        painter.end()

    def _paint_keys(self, painter: QPainter, y: float) -> None:
        """Name the keys that work before anyone is examined, at the foot."""
        theme, x = self.theme, float(margin(self.width(), self.theme.scale))
        for words, key in ((_(N_("settings")), "F4"), (_(N_("verify a paper")), "F8")):
            painter.setFont(theme.font("secondary"))
            painter.setPen(theme.colour("ink2"))
            painter.drawText(QPointF(x, y), words)
            x += theme.width("secondary", words) + theme.px(8)
            painter.setFont(theme.font("key"))
            painter.setPen(theme.colour("accent"))
            painter.drawText(QPointF(x, y), key)
            x += theme.width("key", key) + theme.px(18)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go to the next field with Enter; begin at the last."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            if self.amounts.hasFocus() or self.button.hasFocus():
                self.begin()
            else:
                self.focusNextChild()
        else:
            super().keyPressEvent(event)

    def begin(self) -> None:
        """Begin, or say what is lacking; an age that is unlikely is asked about once."""
        texts = {name: field.text().strip() for name, field in self.fields.items()}
        born = read_day(texts["born"])
        told, lacking = self._lacking(texts, born)
        if born is None or told:
            self._told = told
            self.setAccessibleDescription(told)
            self.fields[lacking].setFocus(Qt.FocusReason.TabFocusReason)
            self.update()
            return
        asked = Asked(
            family_name=texts["family_name"],
            given_names=texts["given_names"],
            born=born,
            identifier=texts["identifier"],
            examiner=texts["examiner"],
            amount=str(self.amounts.currentData()),
        )
        try:
            opened = self._beginning.start(asked)
        except (NeuroformError, ValueError) as refused:
            self._told = str(refused)
            self.update()
            return
        self.begun.emit(opened)

    def _lacking(self, texts: dict[str, str], born: date | None) -> tuple[str, str]:
        if not texts["family_name"]:
            return _(N_("The family name is blank.")), "family_name"
        if born is None:
            return _(N_("The date of birth is not a day. Write it as 1955-03-03.")), "born"
        age = _age(born)
        if age < 0:
            return _(N_("The date of birth lies in the future.")), "born"
        if not ADULT <= age <= OLDEST and age != self._asked_age:
            self._asked_age = age
            return _(N_("Age {age}: is that right? Begin again if it is.")).format(age=age), "born"
        if not texts["examiner"]:
            return _(N_("The examiner is blank.")), "examiner"
        return "", ""


def _age(born: date) -> int:
    from neuroform.exam.examination import age_on

    return age_on(born, datetime.now().astimezone().date())


def read_day(text: str) -> date | None:
    """Read a day as 1955-03-03, 3.3.1955 or 3 Mar 1955; None for anything else, 3/4/1955 among it."""
    text = text.strip().lower()
    if found := re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", text):
        year, month, day = map(int, found.groups())
    elif found := re.fullmatch(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})", text):
        day, month, year = map(int, found.groups())
    elif (found := re.fullmatch(r"(\d{1,2})\.?\s+([^\W\d]{3})[^\W\d]*\.?\s+(\d{4})", text)) and _month(found[2]):
        day, month, year = int(found[1]), _month(found[2]), int(found[3])
    else:
        return None
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _month(word: str) -> int:
    """Return the month that three letters begin, in English or the language in use; 0 for none."""
    from neuroform.signing import moments

    own = [moments.day(date(2000, month, 1)).split()[1].lower() for month in range(1, 13)]
    return next((month for month in range(1, 13) if word in {MONTHS[month - 1], own[month - 1][:3]}), 0)
