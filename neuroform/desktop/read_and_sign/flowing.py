"""A layout that sets widgets side by side and begins a new line where the width ends."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class Flowing(QLayout):
    """Left to right, then down."""

    def __init__(self, parent: QWidget | None = None, *, across: int = 6, down: int = 2) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.across, self.down = across, down
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Take one more."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem:
        """Return one, None past the end."""
        return self._items[index] if 0 <= index < len(self._items) else None  # type: ignore[return-value]  # Qt's contract

    def takeAt(self, index: int) -> QLayoutItem:
        """Give one back, None past the end."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None  # type: ignore[return-value]  # as above

    def expandingDirections(self) -> Qt.Orientation:
        """Tell Qt that no room beyond the items is wanted."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Tell Qt that the height follows from the width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the lines."""
        return self._set(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        """Put the items in their places."""
        super().setGeometry(rect)
        self._set(rect, move=True)

    def sizeHint(self) -> QSize:
        """Return the size on one line."""
        wide = sum(item.sizeHint().width() + self.across for item in self._shown())
        return QSize(wide, max((item.sizeHint().height() for item in self._shown()), default=0))

    def minimumSize(self) -> QSize:
        """Return the size of the widest item."""
        sizes = [item.sizeHint() for item in self._shown()]
        return QSize(max((s.width() for s in sizes), default=0), max((s.height() for s in sizes), default=0))

    def _shown(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _set(self, rect: QRect, *, move: bool) -> int:
        x, y, high = rect.x(), rect.y(), 0
        for item in self._shown():
            size = item.sizeHint()
            if x > rect.x() and x + size.width() > rect.right() + 1:
                x, y, high = rect.x(), y + high + self.down, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self.across
            high = max(high, size.height())
        return y + high - rect.y()
