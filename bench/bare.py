"""The window that the program's own is measured against: bare, one text field, nothing else."""

import sys

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QLineEdit

from bench.watching import Watch


def main() -> int:
    """Open it, report its first paint and its first key, and end."""
    application = QApplication(sys.argv[:1])
    field = QLineEdit()
    watch = Watch(application)
    field.textEdited.connect(lambda _text: watch.changed())
    field.show()
    QTimer.singleShot(0, field.setFocus)
    return application.exec()


if __name__ == "__main__":
    sys.exit(main())
