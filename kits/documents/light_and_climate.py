"""Pictures of light and climate: each whole at the top of a column, with its sentences below it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.graphics import renderPDF

from inventory.documents import glyphs
from inventory.documents.flow import BODY, Block, Flow
from inventory.documents.pen import Pen
from kits.documents.content import Picture

COLUMN_PT = 250.0  # a drawing of at most this width keeps its size in a column of letter and of A4
BETWEEN = 6.0
TITLE, BELOW, GAP = 19.0, 4.0, 1.5
NOTE = "an estimate"
SMALLER = "Drawn smaller than its scale says: go by the scale bar."


@dataclass(frozen=True, slots=True)
class _Cell:
    """A picture, the share of its size that fits, and its lines of words."""

    picture: Picture
    share: float
    lines: tuple[tuple[str, ...], ...]

    @property
    def drawn(self) -> float:
        """Height of the drawing as it is placed."""
        return float(self.picture.drawing.height) * self.share

    @property
    def height(self) -> float:
        """Height of title, drawing and sentences."""
        return TITLE + self.drawn + BELOW + sum(len(lines) * BODY.leading + GAP for lines in self.lines)


def queue(flow: Flow, pictures: Sequence[Picture]) -> None:
    """Let the pictures go to the top of the next columns that have room for them."""
    room = flow.ceiling - flow.floor - BETWEEN
    cells = [_cell(picture, flow.width, room) for picture in pictures]
    flow.waiting += [Block(cell.height + BETWEEN, partial(_place, flow, cell)) for cell in cells]


def _cell(picture: Picture, width: float, room: float) -> _Cell:
    """A drawing keeps its size; one that no column has room for is shrunk, and that is said below it."""
    whole = _Cell(picture, 1.0, _wrapped(picture.sentences, width))
    if whole.height <= room and picture.drawing.width <= width:
        return whole
    said = _wrapped((SMALLER, *picture.sentences), width)
    left = room - _Cell(picture, 0.0, said).height
    return _Cell(picture, min(1.0, width / picture.drawing.width, left / picture.drawing.height), said)


def _wrapped(sentences: Sequence[str], width: float) -> tuple[tuple[str, ...], ...]:
    return tuple(
        tuple(glyphs.wrapped(sentence, within=width, size=BODY.size, font=BODY.font))
        for sentence in sentences
    )


def _place(flow: Flow, cell: _Cell) -> None:
    x, y = flow.left, flow.y
    flow.titled(cell.picture.title, note=NOTE)
    flow.y = y  # Whoever places a block moves on by its height.
    y -= TITLE + cell.drawn
    flow.draw(_render(cell, (x, y)))
    y -= BELOW
    for lines in cell.lines:
        for line in lines:
            flow.text(x, y - BODY.size, line, BODY)
            y -= BODY.leading
        y -= GAP


def _render(cell: _Cell, corner: tuple[float, float]) -> Callable[[Pen], None]:
    def render(pen: Pen) -> None:
        canvas = pen.canvas
        canvas.saveState()
        canvas.translate(*corner)
        canvas.scale(cell.share, cell.share)
        renderPDF.draw(cell.picture.drawing, canvas, 0, 0)
        canvas.restoreState()

    return render
