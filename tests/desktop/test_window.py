"""The window itself: focus, reading aloud, colours, and nothing cut."""

from collections.abc import Callable, Iterator
from types import ModuleType
from typing import Any

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QAccessible, QAccessibleInterface, QColor, QImage
from PySide6.QtWidgets import QApplication, QWidget

from neuroform.desktop.theme import DARK, LIGHT
from neuroform.exam.examination import SECTIONS
from neuroform.exam.findings import Examined, NotExamined
from neuroform.exam.walk import put

SIZES = [((1280, 800), 1.0), ((1024, 700), 1.0), ((1024, 700), 2.0)]


def focusable(window: Any) -> list[QWidget]:
    return [w for w in window.findChildren(QWidget) if w.isVisible() and w.focusPolicy().value & 1]


def face_of_focus() -> QAccessibleInterface:
    widget = QApplication.focusWidget()
    assert widget is not None
    return QAccessible.queryAccessibleInterface(widget)


def luminance(colour: QColor) -> float:
    def part(value: float) -> float:
        return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4

    return 0.2126 * part(colour.redF()) + 0.7152 * part(colour.greenF()) + 0.0722 * part(colour.blueF())


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, success criterion 1.4.3: (lighter + 0.05) / (darker + 0.05)."""
    first, second = luminance(QColor(one)), luminance(QColor(other))
    return (max(first, second) + 0.05) / (min(first, second) + 0.05)


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_text_has_contrast_of_aa(palette: dict[str, str]) -> None:
    for ground in ("ground", "sheet", "tint"):
        for text in ("ink", "ink2", "quiet", "accent", "urgent"):
            assert contrast(palette[text], palette[ground]) >= 4.5, (text, ground)
        assert contrast(palette["rule"], palette[ground]) >= 3, ground
    assert contrast(palette["inv"], palette["accent"]) >= 4.5
    assert contrast(palette["inv"], palette["urgent"]) >= 4.5
    assert contrast(palette["ink"], palette["shade"]) >= 4.5


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_rendered_colours_are_the_palette(opened: Callable[..., Any], dark: bool) -> None:
    window = opened(dark=dark)
    picture = window.grab().toImage()
    palette = DARK if dark else LIGHT
    seen = {picture.pixelColor(x, y).name().upper() for x in range(0, picture.width(), 3) for y in range(0, 800, 3)}
    for token in ("ground", "sheet", "tint", "accent", "ink"):
        assert palette[token] in seen, token


def test_tab_goes_through_everything_and_comes_back(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened()
    start = QApplication.focusWidget()
    reached = []
    for _step in range(80):
        kit.keys(window, ["Tab"])
        reached.append(QApplication.focusWidget())
        if reached[-1] is start:
            break
    assert reached[-1] is start
    assert set(map(id, focusable(window))) <= set(map(id, reached))


def interfaces(at: QAccessibleInterface, depth: int = 0) -> Iterator[QAccessibleInterface]:
    yield at
    if depth < 12:
        for number in range(at.childCount()):
            child = at.child(number)
            if child is not None:
                yield from interfaces(child, depth + 1)


@pytest.mark.parametrize("section", SECTIONS)
def test_everything_focusable_has_a_name_and_a_role(opened: Callable[..., Any], section: str) -> None:
    window = opened()
    window.examination.entering.show_everything()
    window.examination.entering.open(section)
    for widget in focusable(window):
        face = QAccessible.queryAccessibleInterface(widget)
        name = face.text(QAccessible.Text.Name)
        assert name, widget
        assert face.role() not in {QAccessible.Role.NoRole, QAccessible.Role.Client}, name
        for number in range(face.childCount()):
            child: Any = face.child(number)
            if child is None or child.object() is not None:
                continue
            assert child.text(QAccessible.Text.Name), name
            assert child.role() != QAccessible.Role.NoRole
            assert child.parent().text(QAccessible.Text.Name) == name


def test_row_reads_its_sides_values_and_states(opened: Callable[..., Any], kit: ModuleType) -> None:
    exam = put(kit.blank_exam(), "reflexes.knee.right", Examined(value="brisk"))
    exam = put(exam, "reflexes.knee.left", NotExamined(not_examined="declined"))
    window = opened(exam)
    window.examination.entering.go("reflexes.knee.right")
    face = face_of_focus()
    assert face.role() == QAccessible.Role.Grouping
    assert face.text(QAccessible.Text.Name) == "Knee reflex"
    assert face.text(QAccessible.Text.Value) == "patient’s right: brisk; patient’s left: not examined: declined"
    children = [face.child(number) for number in range(face.childCount())]
    assert {child.role() for child in children} == {QAccessible.Role.RadioButton}
    chosen = [child.text(QAccessible.Text.Name) for child in children if child.state().checked]
    assert chosen == ["patient’s right: brisk"]


def test_h10_every_block_with_sides_says_whose(opened: Callable[..., Any]) -> None:
    window = opened()
    entering = window.examination.entering
    entering.show_everything()
    for section in SECTIONS:
        entering.open(section)
        page = window.examination.sheet.page()
        for _y, block, _ruled in page._heads:
            if any(cell.column in {"right", "left"} for row in block.rows for cell in row.cells):
                assert block.columns == ("right", "left")


def test_h30_right_to_left_names_leave_the_sides_where_they_are(opened: Callable[..., Any], kit: ModuleType) -> None:
    exam = kit.blank_exam()
    patient = exam.patient.model_copy(update={"family_name": "خان", "given_names": "نور"})
    window = opened(exam.model_copy(update={"patient": patient}))
    window.examination.entering.go("reflexes.knee.right")
    row = window.examination.sheet.page().focused_widget()
    sides = {hit.cell: hit.rect.center().x() for hit in row.laid().hits if hit.choice == -1}
    assert sides[0] < row.width() / 2 < sides[1]


@pytest.mark.parametrize(("size", "scale"), SIZES)
@pytest.mark.parametrize("section", SECTIONS)
def test_nothing_leaves_its_row(opened: Callable[..., Any], section: str, size: tuple[int, int], scale: float) -> None:
    window = opened(size=size, scale=scale)
    entering = window.examination.entering
    entering.show_everything()
    entering.open(section)
    page = window.examination.sheet.page()
    for number in range(len(entering.shown)):
        entering.focus(number)
        widget = page.focused_widget()
        laid = widget.laid()
        for thing in laid.things:
            if hasattr(thing, "text"):
                wide = window.theme.width(thing.role, thing.text)
                assert thing.x >= -0.5, (thing.text, entering.path)
                assert thing.x + wide <= widget.width() + 0.5, (thing.text, entering.path)
                assert thing.y <= laid.height, (thing.text, entering.path)


@pytest.mark.parametrize(("size", "scale"), SIZES)
def test_row_in_focus_is_in_sight(opened: Callable[..., Any], size: tuple[int, int], scale: float) -> None:
    window = opened(size=size, scale=scale)
    entering = window.examination.entering
    for section in SECTIONS:
        entering.open(section)
        for number in range(len(entering.shown) + 1):
            entering.focus(number)
            widget = window.examination.sheet.page().focused_widget()
            port = window.examination.sheet.viewport()
            top = widget.mapTo(port, widget.rect().topLeft()).y()
            assert 0 <= top < port.height() - 20, (section, number)


STATES = {
    "blank": None,
    "normal": Examined(value="normal"),
    "abnormal": Examined(value="absent"),
    "not examined": NotExamined(not_examined="declined"),
    "copied": Examined(value="normal", entered="copied"),
}


def test_grey_picture_tells_the_states_apart(opened: Callable[..., Any], kit: ModuleType) -> None:
    pictures: dict[str, bytes] = {}
    for name, found in STATES.items():
        exam = put(kit.blank_exam(), "reflexes.ankle.left", found) if found else kit.blank_exam()
        window = opened(exam)
        window.examination.entering.go("reflexes.knee.right")
        row = window.examination.sheet.page().widgets["reflexes.ankle.right"]
        left = QRect(row.width() // 2, 0, row.width() // 2, row.height())
        grey = row.grab(left).toImage().convertToFormat(QImage.Format.Format_Grayscale8)
        pictures[name] = bytes(grey.constBits())
    assert len(set(pictures.values())) == len(STATES)


def test_places_say_that_they_hold_nothing_yet(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened()
    for place in (1, 2):
        window.go(place)
        face = face_of_focus()
        assert "yet" in face.text(QAccessible.Text.Name)
        assert window.head.isVisible()
        kit.keys(window, ["Escape"])
        assert window.place == 0
    assert QApplication.focusWidget() is window.examination.sheet.page().focused_widget()


def test_find_reaches_an_item_by_its_eponym(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened()
    window.examination.entering.go("reflexes.knee.right")
    kit.keys(window, "f")
    kit.keys(window, "babinski")
    kit.keys(window, ["Enter"])
    assert window.examination.entering.path == "reflexes.plantar.right"
    assert QApplication.focusWidget() is window.examination.sheet.page().focused_widget()


def test_urgent_finding_never_takes_the_focus(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened()
    window.examination.entering.go("context.symptoms")
    kit.keys(window, "12")
    window.examination.entering.go("context.bladder")
    before = QApplication.focusWidget()
    kit.keys(window, "4")
    assert window.examination.document.get("context.bladder") == Examined(value="retention")
    assert not window.band.urgent.hasFocus()
    assert before is not None


def test_chosen_sentence_goes_to_what_it_rests_on(opened: Callable[..., Any], kit: ModuleType) -> None:
    exam = put(kit.blank_exam(), "reflexes.ankle.left", Examined(value="absent"))
    window = opened(exam)
    window.band.interpretation.chosen.emit(("reflexes.ankle.left",))
    assert window.examination.entering.path == "reflexes.ankle.left"


def test_text_is_kept_at_every_letter(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened()
    window.examination.entering.go("conclusion.impression")
    kit.keys(window, "Unsure")
    assert window.examination.document.get("conclusion.impression") == "Unsure"
    window.examination.entering.undo()
    assert window.examination.document.get("conclusion.impression") is None


def test_comment_stands_beside_its_answer(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened()
    window.examination.entering.go("reflexes.knee.right")
    kit.keys(window, "2")
    window.examination.entering.go("reflexes.knee.right")
    kit.keys(window, "w")
    kit.keys(window, "after coffee")
    kit.keys(window, ["Enter"])
    assert window.examination.document.get("reflexes.knee.right") == Examined(value="brisk", comment="after coffee")
    assert QApplication.focusWidget() is window.examination.sheet.page().focused_widget()


@pytest.mark.parametrize("pasted", ["a\x01b", "a\x00b", "a\x85b", "a\ud800b"])
def test_pasted_control_characters_lose_no_text(opened: Callable[..., Any], kit: ModuleType, pasted: str) -> None:
    window = opened()
    place = window.examination
    place.entering.go("conclusion.impression")
    kit.keys(window, "so ")
    editor = place.sheet.page().widgets["conclusion.impression"].editor
    editor.insertPlainText(pasted)
    assert editor.toPlainText() == place.document.get("conclusion.impression") == "so ab"
    kit.keys(window, "c")
    assert place.document.get("conclusion.impression") == "so abc"
    place.entering.go("reflexes.knee.right")
    kit.keys(window, "2")
    place.entering.go("reflexes.knee.right")
    kit.keys(window, "w")
    line = place.sheet.page().comment
    QApplication.clipboard().setText(pasted)
    line.paste()
    assert (line.text(), place.document.get("reflexes.knee.right").comment) == ("ab", "ab")


def test_a_text_that_no_file_can_hold_is_told_of(opened: Callable[..., Any]) -> None:
    window = opened()
    window.examination.entering.write("conclusion.impression", "x" * 4001)
    assert window.examination.document.get("conclusion.impression") is None
    assert "can’t be kept" in window.examination.entering.message


def test_h28_changes_that_could_not_be_read_back_are_told_of(kit: ModuleType, opened: Callable[..., Any]) -> None:
    from dataclasses import replace

    place = opened().examination
    place.opened = replace(place.opened, recovered=kit.AT, lost=3)
    place._tell_notices()
    assert "could not be read back: 3" in place.recovered.words
    assert "Everything" not in place.recovered.words


def test_h28_recovered_examination_says_so(kit: ModuleType, opened: Callable[..., Any]) -> None:
    from dataclasses import replace

    window = opened()
    place = window.examination
    place.opened = replace(place.opened, recovered=kit.AT)
    place._tell_notices()
    assert place.recovered.words.startswith("This examination was open when the program stopped.")
    kit.keys(window, ["Escape"])
    assert not place.recovered.isVisible()


def test_section_a_gap_asks_into_never_says_that_nothing_is_asked_for(
    opened: Callable[..., Any], kit: ModuleType
) -> None:
    exam = put(kit.blank_exam("ward"), "context.symptoms", ("weakness",))
    window = opened(exam)
    entering = window.examination.entering
    assert not entering.items("head_and_eyes")
    entering.open("head_and_eyes")
    closing = window.examination.sheet.page().closing
    assert "nothing is asked for here" in closing.view.left
    window.examination.document.put("context.symptoms", ("vertigo",))
    asked = [gap for gap in entering.conclusions.gaps if gap.counts]
    assert any(path.startswith("head_and_eyes.") for gap in asked for path in gap.items)
    assert closing.view.left == "Head and eyes: a gap asks for something here"


def test_arrows_bring_a_long_list_into_sight(opened: Callable[..., Any], kit: ModuleType) -> None:
    window = opened(size=(1024, 700), scale=2.0)
    window.examination.entering.go("context.symptoms")
    kit.keys(window, ["Right"] * 30)
    port = window.examination.sheet.viewport()
    widget = window.examination.sheet.page().focused_widget()
    hit = next(hit for hit in widget.laid().hits if hit.choice == window.examination.entering.pointed)
    top = widget.mapTo(port, hit.rect.toAlignedRect().topLeft()).y()
    assert 0 <= top < port.height()


def test_keys_before_the_rules_are_loaded_are_kept_and_judged_after(
    kit: ModuleType, opened: Callable[..., Any]
) -> None:
    from dataclasses import replace

    from neuroform.desktop.early import early_judge
    from neuroform.desktop.main_window import MainWindow
    from neuroform.desktop.opening import Opened
    from neuroform.desktop.theme import Theme
    from neuroform.protocols.loading import load

    window = MainWindow(Theme())
    window.resize(1280, 800)
    window.show()
    early = Opened(exam=kit.blank_exam(), judge=early_judge(load("full")), save=kit._save, amount="full examination")
    window.fill(replace(early, rules=lambda: kit.JUDGE))
    place = window.examination
    assert place is not None
    place.entering.go("context.bladder")
    place.entering.answer("retention")
    assert not window.band.urgent.said
    place.load_rules()
    assert place.document.get("context.bladder") == Examined(value="retention")
    assert place.entering.conclusions.gaps
    assert place.entering.needed == kit.open_on(place.document.exam).examination.entering.needed
    window.close()


def test_page_stands_over_the_form_and_gives_the_focus_back(opened: Callable[..., Any], kit: ModuleType) -> None:
    from dataclasses import replace

    from neuroform.desktop.places import patients

    window = opened()
    place = window.examination
    place.opened = replace(place.opened, pages={"settings": lambda shown: patients(shown.theme, shown)})
    window.show_page("settings")
    assert QApplication.focusWidget() is window.page
    assert window.head.isVisible()
    kit.keys(window, ["Escape"])
    assert window.page is None
    assert QApplication.focusWidget() is place.sheet.page().focused_widget()
