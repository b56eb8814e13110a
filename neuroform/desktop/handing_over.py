"""Which examination the window shows: one's own, one that is read in its place, or the next."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from neuroform.desktop.opening import BEING_SIGNED
from neuroform.errors import NeuroformError
from neuroform.language import _

if TYPE_CHECKING:
    from neuroform.desktop.main_window import MainWindow
    from neuroform.desktop.opening import Opened


def read(window: "MainWindow", opened: "Opened") -> None:
    """Show an examination that is only read; one's own stands aside, untouched, until that is left."""
    window.close_page()
    shown = window.examination
    if shown is not None:
        if window.own is None and window.asking is None:
            window.own = shown
            shown.step_aside()
        else:
            shown.give_up()
    if window.asking is not None:
        window.asking.hide()
    window.place = 0
    window.head.show_place(0)
    window.fill(opened)


def stop_reading(window: "MainWindow") -> None:
    """Go back from an examination that was read to one's own, or to the question who is examined."""
    from neuroform.desktop.head import Person

    shown = window.examination
    if shown is None or shown is window.own or shown.opened.sealed is None or (window.own or window.asking) is None:
        return
    if shown.signs:
        shown.tell(_(BEING_SIGNED))
        return
    shown.give_up()
    window.examination, window.own = window.own, None
    if window.examination is not None:
        window.examination.come_back()
    elif window.asking is not None:
        window.head.show_person(Person())
        window.asking.show()
        window.asking.first.setFocus(Qt.FocusReason.TabFocusReason)
    window.arrange()


def begin_again(window: "MainWindow") -> None:
    """Go on to the next examination once the note of this one is signed; say why where it has to wait."""
    from neuroform.desktop.head import Person

    place = window.examination
    if place is None or window.own is not None or place.opened.again is None:
        return
    told = place.holds_back()
    if told:
        place.tell(told)
        return
    try:
        given = place.opened.again()
    except NeuroformError as refused:
        place.tell(str(refused))
        return
    window.close_page()
    place.give_up()
    window.examination = None
    window.head.show_person(Person())
    window.take(given)
