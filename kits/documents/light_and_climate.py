"""The pages "Light and climate": pictures with their sentences, narrow ones side by side."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from reportlab.graphics import renderPDF

from inventory.documents import glyphs
from inventory.documents.flow import BODY, Flow
from inventory.documents.pen import Pen, Style
from kits.documents.content import Picture

# Drawings of at most this size stand two below each other on letter and on A4, those of half the width four
# to a page, with some four lines of words below each.
FULL_WIDTH_PT, HALF_WIDTH_PT, HEIGHT_PT = 520.0, 250.0, 262.0
BESIDE, BETWEEN = 14.0, 12.0
TITLE, BELOW, GAP = 13.0, 5.0, 1.5
TITLE_STYLE = Style(8.4, bold=True)
SMALLER = "Drawn smaller than its scale says: go by the scale bar."


@dataclass(frozen=True, slots=True)
class _Cell:
    """A picture with the width that it has, the share of its size that fits, and its lines of words."""

    picture: Picture
    width: float
    share: float
    lines: tuple[tuple[str, ...], ...]
    is_beside: bool = False  # words stand beside the drawing, not below it

    @property
    def drawn(self) -> float:
        """Height of the drawing as it is placed."""
        return float(self.picture.drawing.height) * self.share

    @property
    def words(self) -> float:
        """Height of the sentences."""
        return sum(len(lines) * BODY.leading + GAP for lines in self.lines)

    @property
    def height(self) -> float:
        """Height of title, drawing and sentences."""
        if self.is_beside:
            return TITLE + max(self.drawn, self.words)
        return TITLE + self.drawn + BELOW + self.words


def draw(flow: Flow, pictures: Sequence[Picture]) -> None:
    """Begin a page and lay the pictures out on it and on as many more as they need."""
    if not pictures:
        return
    flow.set_columns(1)
    flow.move_on()
    flow.heading("Light and climate", note="estimates: check with instruments")
    flow.y -= BELOW
    room = flow.y - flow.floor
    for row in _rows(pictures, flow.width, room):
        tall = max(cell.height for cell in row)
        flow.need(tall)
        x = flow.left
        for cell in row:
            _place(flow, cell, (x, flow.y))
            x += cell.width + BESIDE
        flow.y -= tall + BETWEEN


def _rows(pictures: Sequence[Picture], width: float, room: float) -> Iterator[tuple[_Cell, ...]]:
    """Neighbours that both do with half the width make a row of two, or a picture and its words do."""
    half, waiting = (width - BESIDE) / 2, list(pictures)
    while waiting:
        narrow = [picture for picture in waiting[:2] if picture.drawing.width <= half]
        if len(narrow) == 2:
            yield tuple(_cell(picture, half, room) for picture in narrow)
            waiting = waiting[2:]
            continue
        picture = waiting.pop(0)
        beside = _Cell(picture, half, 1.0, _wrapped(picture.sentences, half), is_beside=True)
        yield (beside if picture in narrow and beside.height <= room else _cell(picture, width, room),)


def _cell(picture: Picture, width: float, room: float) -> _Cell:
    """A drawing keeps its size; one that no page has room for is shrunk, and that is said below it."""
    whole = _Cell(picture, width, 1.0, _wrapped(picture.sentences, width))
    if whole.height <= room and picture.drawing.width <= width:
        return whole
    said = _wrapped((SMALLER, *picture.sentences), width)
    left = room - _Cell(picture, width, 0.0, said).height
    share = min(1.0, width / picture.drawing.width, left / picture.drawing.height)
    return _Cell(picture, width, share, said)


def _wrapped(sentences: Sequence[str], width: float) -> tuple[tuple[str, ...], ...]:
    return tuple(
        tuple(glyphs.wrapped(sentence, within=width, size=BODY.size, font=BODY.font))
        for sentence in sentences
    )


def _place(flow: Flow, cell: _Cell, corner: tuple[float, float]) -> None:
    """One picture below its upper left corner."""
    x, y = corner
    title = glyphs.cut(cell.picture.title, within=cell.width, size=TITLE_STYLE.size, font=TITLE_STYLE.font)
    flow.text(x, y - TITLE_STYLE.size, title, TITLE_STYLE)
    y -= TITLE + cell.drawn
    flow.draw(_render(cell, (x, y)))
    x, y = (x + cell.width + BESIDE, y + cell.drawn) if cell.is_beside else (x, y - BELOW)
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
