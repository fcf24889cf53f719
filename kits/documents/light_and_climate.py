"""The section "Light and climate": each picture with its sentences in a column, among the other sections."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from reportlab.graphics import renderPDF

from inventory.documents import glyphs
from inventory.documents.flow import BODY, Flow
from inventory.documents.pen import Pen, Style
from kits.documents.content import Picture

COLUMN_PT = 250.0  # a drawing of at most this width keeps its size in a column of letter and of A4
BETWEEN = 6.0
TITLE, BELOW, GAP = 13.0, 5.0, 1.5
HEADING = 26.0
TITLE_STYLE = Style(8.4, bold=True)
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


def draw(flow: Flow, pictures: Sequence[Picture]) -> None:
    """Lay the pictures out, each whole in a column, the tallest that fits first."""
    if not pictures:
        return
    room = flow.ceiling - flow.floor - HEADING
    cells = [_cell(picture, flow.width, room) for picture in pictures]
    cells.sort(key=lambda cell: cell.height, reverse=True)
    flow.heading(
        "Light and climate", note="estimates: check with instruments", keep=min(c.height for c in cells)
    )
    flow.y -= BELOW
    while cells:
        left = flow.y - flow.floor
        cell = next((cell for cell in cells if cell.height <= left), cells[0])
        cells.remove(cell)
        flow.need(cell.height)
        _place(flow, cell)
        flow.y -= cell.height + BETWEEN


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
    title = glyphs.cut(cell.picture.title, within=flow.width, size=TITLE_STYLE.size, font=TITLE_STYLE.font)
    flow.text(x, y - TITLE_STYLE.size, title, TITLE_STYLE)
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
