"""The summary of a note: stance test, sway crosses, systems and legs side by side, with their words."""

from collections.abc import Sequence
from dataclasses import dataclass

from neuroform.figures.legs import legs
from neuroform.figures.marks import Mark, mark
from neuroform.figures.shapes import Figure, Text, figure
from neuroform.figures.sway_cross import Trial, sway_cross
from neuroform.notes import looks
from neuroform.notes.blocks import headed, text
from neuroform.notes.content import Summary
from neuroform.notes.flow import Slice, once, root
from neuroform.notes.measures import now
from neuroform.notes.pages import Pages
from neuroform.notes.paragraphs import Paragraph, paragraph

_ASCENT = looks.BASELINE * looks.HEADING.leading
_CROSSES = (36.0, 112.0)
"""Where the figures stand, from where text begins."""
_CROSS_WIDTH = 74.0
_CROSS_AT = 54.0
"""From the block's rule to the centre of the crosses."""
_WORDS_AT = 103.0
_SYSTEM_MARK, _SYSTEM_NAME, _SYSTEM_STATE = 157.0, 164.5, 228.0
_SYSTEM_WIDTH = 59.0
_SYSTEM_AT = 30.0
_SYSTEM_PITCH = 16.4
_LEGS_AT = (327.5, 4.0)


def summary(block: Summary) -> list[Slice]:
    """Return the summary as strips: the figures never part from the stance test's words."""
    stance = text(block.stance, now().strong)[0]
    systems = [_system(*each) for each in block.systems]
    height = max(116.0, _SYSTEM_AT + _SYSTEM_PITCH * len(systems) + 8)
    crosses = [_cross_words(trial) for _title, trial in block.crosses]
    height = max(height, *(_WORDS_AT + sum(each.height for each in words) for words in crosses), 0.0) + 3

    def draw(pages: Pages, y: float) -> None:
        stance.draw(pages, y)
        for (title, trial), words, x in zip(block.crosses, crosses, _CROSSES, strict=False):
            _cross(pages, title, trial, words, now().text + x, y)
        _systems(pages, systems, y)
        if block.legs is not None:
            drawn = legs(block.legs, views=("front",), kinds=block.feelings, brief=True, text_scale=1.06)
            figure_at = pages.root.add("Figure")
            pages.figure(drawn, figure_at, x=now().text + _LEGS_AT[0], y=y + _LEGS_AT[1], scale=looks.LEGS)

    strips = [Slice(height=height, draw=draw, keep=bool(block.legs_words))]
    if block.legs_words:
        strips += text(block.legs_words, now().small)
    return headed(block.heading, strips)


def _cross(pages: Pages, title: str, trial: Trial, words: list[Paragraph], x: float, y: float) -> None:
    head = paragraph(title, looks.COLUMN, width=_CROSS_WIDTH, align="middle")
    left = x - _CROSS_WIDTH / 2
    pages.write(head, pages.root.add("P"), x=left, y=y + 25)
    drawn = sway_cross(trial)
    pages.figure(_tiles(drawn), pages.root.add("Figure"), x=x, y=y + _CROSS_AT + 12, scale=looks.CROSS)
    element = once(root, "P")
    at = y + _WORDS_AT + 9
    for each in words:
        pages.write(each, element(pages), x=left - 2.5, y=at)
        at += each.height


def _tiles(drawn: Figure) -> Figure:
    """Leave out the words below a cross, which are set to the width there is."""
    kept = [shape for shape in drawn.shapes if not _below(shape)]
    return figure(kept, drawn.words)


def _cross_words(trial: Trial) -> list[Paragraph]:
    found = [shape for shape in sway_cross(trial).shapes if isinstance(shape, Text) and _below(shape)]
    styles = (looks.CROSS_STRONG, looks.CROSS_PLAIN)
    return [
        paragraph(shape.words, style, width=_CROSS_WIDTH + 5, align="middle")
        for shape, style in zip(found, styles, strict=False)
    ]


def _below(shape: object) -> bool:
    return isinstance(shape, Text) and shape.y > 50


@dataclass(frozen=True, kw_only=True)
class _System:
    """A row of the systems, measured."""

    kind: Mark
    name: Paragraph
    state: Paragraph

    @property
    def height(self) -> float:
        """To the next row."""
        return _SYSTEM_PITCH + self.more

    @property
    def more(self) -> float:
        """What the state's second line takes."""
        return self.state.height - self.state.leading


def _system(name: str, state: str, kind: Mark) -> _System:
    strong = kind == "abnormal"
    named = paragraph(name, looks.ANSWER_STRONG if strong else looks.ITEM, width=_SYSTEM_STATE - _SYSTEM_NAME)
    said = paragraph(state, looks.STATE_STRONG if strong else looks.STATE, width=_SYSTEM_WIDTH)
    return _System(kind=kind, name=named, state=said)


def _systems(pages: Pages, systems: Sequence[_System], y: float) -> None:
    table = pages.root.add("Table")
    # Further lines grow both ways: clear of the stance test above, and of the names below the legs.
    at = y + _SYSTEM_AT - sum(each.more for each in systems) / 2
    for each in systems:
        row = table.add("TR")
        with pages.decoration():
            pages.mark(mark(each.kind), x=now().text + _SYSTEM_MARK, y=at - 8.4, scale=looks.MARK)
        pages.write(each.name, row.add("TH", scope="Row"), x=now().text + _SYSTEM_NAME, y=at)
        pages.write(each.state, row.add("TD"), x=now().text + _SYSTEM_STATE, y=at)
        at += each.height
