"""Callouts beside a drawing: numbered circles in one column, words after them, straight leaders before them."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from reportlab.graphics.shapes import Shape

from kits.drawings.labels import Point, spread, untangle
from kits.drawings.pen import CALLOUT_RADIUS, CAP_SHARE, HAIR, TEXT_SIZE, Marked, Pen, width_of

PITCH = 13.0  # between callouts that stand close
GAP = 3.0  # between a circle and its words
LEAST_RUN, STEEPEST = (
    22.0,
    1.7,
)  # leaders run sideways at least so far, and rise no more than so much per point


@dataclass(frozen=True, slots=True)
class Note:
    """One callout: the lines it stands for, its words, and what it points at."""

    numbers: tuple[int, ...]
    words: str
    anchor: Point
    depth: str = ""  # a length that may be edited on screen, after the words
    marks: dict[str, str] = field(default_factory=dict)

    @property
    def width(self) -> float:
        """Width of circles and words."""
        return _circles(self) + GAP + width_of(self._text)

    @property
    def _text(self) -> str:
        return f"{self.words}, {self.depth}" if self.depth else self.words


@dataclass(frozen=True, slots=True)
class Column:
    """Where the callouts may stand: left edge of the circles, and lowest and highest middle."""

    left: float
    low: float
    high: float


def _circles(note: Note) -> float:
    return 2 * CALLOUT_RADIUS * len(note.numbers) + 1.2 * (len(note.numbers) - 1)


def run_needed(notes: Sequence[Note], low: float, high: float) -> float:
    """How far right of the anchors the column must stand so that no leader grows too steep."""
    ys = _heights(notes, low, high)
    ordered = sorted(notes, key=_by_height)
    worst = max((abs(y - note.anchor[1]) for y, note in zip(ys, ordered, strict=True)), default=0.0)
    return max(LEAST_RUN, worst / STEEPEST)


def draw_notes(pen: Pen, notes: Sequence[Note], column: Column) -> list[Shape]:
    """Leaders first, then circles and words."""
    ordered = sorted(notes, key=_by_height)
    ys = _heights(notes, column.low, column.high)
    size = min(1.0, _pitch(len(notes), column.low, column.high) / PITCH)
    slots = [(column.left + CALLOUT_RADIUS, y) for y in ys]
    to = untangle([note.anchor for note in ordered], slots)
    leaders: list[Shape] = []
    labels: list[Shape] = []
    for note, slot in zip(ordered, (slots[n] for n in to), strict=True):
        leaders.extend(_leader(pen, note.anchor, slot, CALLOUT_RADIUS * size))
        labels.extend(_label(pen, note, slot, size))
    return [*leaders, *labels]


def _by_height(note: Note) -> tuple[float, float]:
    return note.anchor[1], -note.anchor[0]


def _pitch(count: int, low: float, high: float) -> float:
    return PITCH if count < 2 else min(PITCH, (high - low) / (count - 1))


def _heights(notes: Sequence[Note], low: float, high: float) -> list[float]:
    return spread(sorted(note.anchor[1] for note in notes), PITCH, low, high)


def _leader(pen: Pen, anchor: Point, slot: Point, radius: float) -> list[Shape]:
    """A line to the rim of the circle, with a dot where it points."""
    dx, dy = slot[0] - anchor[0], slot[1] - anchor[1]
    length = max((dx * dx + dy * dy) ** 0.5, 1e-6)
    end = (slot[0] - dx / length * radius, slot[1] - dy / length * radius)
    return [
        pen.line(anchor, end, ink="ink", width=HAIR),
        pen.circle(anchor, 1.0, fill="ink", ink="paper", width=HAIR),
    ]


def _label(pen: Pen, note: Note, slot: Point, size: float) -> list[Shape]:
    radius = CALLOUT_RADIUS * size
    shapes: list[Shape] = []
    x, y = slot
    for number in note.numbers:
        shapes.append(pen.callout((x, y), number, radius=radius))
        x += 2 * radius + 1.2
    x += GAP - 1.2 - radius
    base, type_size = y - TEXT_SIZE * size * CAP_SHARE / 2, TEXT_SIZE * size
    words = f"{note.words}, " if note.depth else note.words
    if words:
        shapes.append(pen.text((x, base), words, size=type_size, ink="quiet"))
    if note.depth:
        number = pen.text((x + width_of(words, type_size), base), note.depth, size=type_size)
        shapes.append(Marked(number, marks=note.marks))
    return shapes
