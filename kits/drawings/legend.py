"""What lines and patterns of a drawing mean, in words, in rows below it."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.graphics.shapes import Shape

from kits.drawings.labels import Point
from kits.drawings.patterns import Area, filled
from kits.drawings.pen import CAP_SHARE, HAIR, PLAIN, TEXT_SIZE, Pen, width_of

SWATCH, SWATCH_HEIGHT = 22.0, 8.0
AFTER_SWATCH, BETWEEN = 4.0, 14.0
ROW = 12.5


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a line looks: solid, dashed or dotted, so that it is known without its colour."""

    ink: str = "ink"
    width: float = 1.3
    dash: tuple[float, ...] = ()


SOLID, DASHED, DOTTED = Stroke(), Stroke(width=1.1, dash=(4.6, 3.8)), Stroke(width=1.5, dash=(0.1, 3.0))


@dataclass(frozen=True, slots=True)
class Entry:
    """Words with a sample before them: a line, a pattern on its tone, or nothing."""

    words: str
    stroke: Stroke | None = None
    pattern: str = ""
    tone: str = ""
    empty: bool = False  # an empty swatch: the area without a pattern

    @property
    def swatch(self) -> float:
        """Width of the sample with the space behind it."""
        has_one = self.stroke is not None or self.pattern or self.tone or self.empty
        return SWATCH + AFTER_SWATCH if has_one else 0.0

    @property
    def width(self) -> float:
        """Width of sample and words."""
        return self.swatch + width_of(self.words)


def rows(entries: Sequence[Entry], width: float) -> list[list[Entry]]:
    """Entries in reading order, as many in a row as find room."""
    found: list[list[Entry]] = []
    used = 0.0
    for entry in entries:
        if not found or used + BETWEEN + entry.width > width:
            found.append([])
            used = -BETWEEN
        found[-1].append(entry)
        used += BETWEEN + entry.width
    return found


def height_of(entries: Sequence[Entry], width: float) -> float:
    """Height that the rows take."""
    return ROW * len(rows(entries, width))


def draw_legend(pen: Pen, entries: Sequence[Entry], corner: Point, width: float) -> list[Shape]:
    """The rows below their upper left corner."""
    shapes: list[Shape] = []
    for number, row in enumerate(rows(entries, width)):
        x, y = corner[0], corner[1] - ROW * (number + 0.5)
        for entry in row:
            shapes.extend(_drawn(pen, entry, (x, y)))
            x += entry.width + BETWEEN
    return shapes


def _drawn(pen: Pen, entry: Entry, at: Point) -> list[Shape]:
    x, y = at
    words = pen.text((x + entry.swatch, y - TEXT_SIZE * CAP_SHARE / 2), entry.words)
    return [*_sample(pen, entry, at), words]


def _sample(pen: Pen, entry: Entry, at: Point) -> list[Shape]:
    x, y = at
    if entry.stroke is not None:
        return [line_of(pen, [(x, y), (x + SWATCH, y)], entry.stroke)]
    if not entry.swatch:
        return []
    low, size = y - SWATCH_HEIGHT / 2, (SWATCH, SWATCH_HEIGHT)
    area = Area(x, low, x + SWATCH, low + SWATCH_HEIGHT)
    marks = filled(pen, entry.pattern, area) if entry.pattern else []
    tone = [pen.rect((x, low), size, fill=entry.tone, ink="")] if entry.tone else []
    return [*tone, *marks, pen.rect((x, low), size, width=HAIR)]


def line_of(pen: Pen, points: Sequence[Point], stroke: Stroke) -> Shape:
    """An open line in a stroke."""
    path = pen.path(ink=stroke.ink, width=stroke.width, dash=stroke.dash)
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    return path


def haloed(pen: Pen, points: Sequence[Point], stroke: Stroke) -> list[Shape]:
    """An open line that stands clear of the pattern below it."""
    halo = Stroke("paper", stroke.width + 2.4 * PLAIN)
    return [line_of(pen, points, halo), line_of(pen, points, stroke)]
