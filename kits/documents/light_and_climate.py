"""Pictures of light and climate: each whole at the top of a column, with its sentences below it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.graphics.shapes import Drawing

from inventory.documents import glyphs
from inventory.documents.flow import Block, Flow
from inventory.documents.pen import Pen, Style
from kits.documents.content import Picture
from kits.drawings import on_paper

COLUMN_PT = 250.0  # a drawing of at most this width keeps its size in a column of letter and of A4
BETWEEN = 6.0
TITLE_MORE, BELOW, GAP = 10.5, 4.0, 1.5  # what the title is higher than its type
NOTE = "an estimate"
SMALLER = "Drawn smaller than its scale says: go by the scale bar."


@dataclass(frozen=True, slots=True)
class _Ink:
    """What of a drawing has anything on it; the margin around it is for screens."""

    left: float
    low: float
    right: float
    high: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From low to high."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class _Cell:
    """A picture, the share of its size that fits, and its lines of words in their style."""

    picture: Picture
    ink: _Ink
    share: float
    style: Style
    lines: tuple[tuple[str, ...], ...]

    @property
    def title(self) -> float:
        """Height of the title."""
        return self.style.size + TITLE_MORE

    @property
    def drawn(self) -> float:
        """Height of the drawing as it is placed."""
        return self.ink.height * self.share

    @property
    def height(self) -> float:
        """Height of title, drawing and sentences."""
        words = sum(len(lines) * self.style.leading + GAP for lines in self.lines)
        return self.title + self.drawn + BELOW + words


def queue(flow: Flow, pictures: Sequence[Picture]) -> None:
    """Let the pictures go to the top of the next columns that have room for them."""
    room = flow.ceiling - flow.floor - BETWEEN
    cells = [_cell(picture, flow.body, (flow.width, room)) for picture in pictures]
    flow.waiting += [Block(cell.height + BETWEEN, partial(_place, flow, cell)) for cell in cells]


def _cell(picture: Picture, style: Style, size: tuple[float, float]) -> _Cell:
    """A drawing keeps its size; one that no column has room for is shrunk, and that is said below it."""
    (width, room), ink = size, _ink(picture.drawing)
    whole = _Cell(picture, ink, 1.0, style, _wrapped(picture.sentences, style, width))
    if whole.height <= room and ink.width <= width:
        return whole
    said = _wrapped((SMALLER, *picture.sentences), style, width)
    left = room - _Cell(picture, ink, 0.0, style, said).height
    return _Cell(picture, ink, min(1.0, width / ink.width, left / ink.height), style, said)


def _ink(drawing: Drawing) -> _Ink:
    """What shapes take; patterns that are clipped reach farther on paper than they show."""
    left, low, right, high = drawing.getBounds()
    return _Ink(max(left, 0.0), max(low, 0.0), min(right, drawing.width), min(high, drawing.height))


def _wrapped(sentences: Sequence[str], style: Style, width: float) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(glyphs.wrapped(sentence, within=width, size=style.size)) for sentence in sentences)


def _place(flow: Flow, cell: _Cell) -> None:
    x, y = flow.left, flow.y
    flow.titled(cell.picture.title, note=NOTE)
    flow.y = y  # Whoever places a block moves on by its height.
    y -= cell.title + cell.drawn
    flow.draw(_render(cell, (x, y)))
    y -= BELOW
    for lines in cell.lines:
        for line in lines:
            flow.text(x, y - cell.style.size, line, cell.style)
            y -= cell.style.leading
        y -= GAP


def _render(cell: _Cell, corner: tuple[float, float]) -> Callable[[Pen], None]:
    def render(pen: Pen) -> None:
        canvas = pen.canvas
        canvas.saveState()
        canvas.translate(*corner)
        canvas.scale(cell.share, cell.share)
        on_paper.draw(cell.picture.drawing, canvas, -cell.ink.left, -cell.ink.low)
        canvas.restoreState()

    return render
