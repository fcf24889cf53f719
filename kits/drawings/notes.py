"""Callouts beside a drawing: numbered circles in a column, words after them, straight leaders to them."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from reportlab.graphics.shapes import Line, Shape

from kits.drawings.labels import Point, first_crossing, spread, untangle
from kits.drawings.pen import CALLOUT_RADIUS, CAP_SHARE, HAIR, TEXT_SIZE, Marked, Pen, width_of

PITCH = 13.0  # between callouts that stand close
BETWEEN = 1.2  # between the circles of one callout
GAP = 3.0  # between a circle and its words
LEAST_RUN, STEEPEST = 20.0, 1.4  # leaders run sideways at least so far, and rise at most so much per point


@dataclass(frozen=True, slots=True)
class Note:
    """One callout: the lines it stands for, its words, and what it points at."""

    numbers: tuple[int, ...]
    words: str
    anchor: Point
    play: float = 0.0  # how far up or down the anchor may move to make its leader level
    depth: str = ""  # a length that may be edited on screen, after the words
    marks: dict[str, str] = field(default_factory=dict)

    @property
    def width(self) -> float:
        """Width of circles and words."""
        words = f"{self.words}, {self.depth}" if self.depth and self.words else self.words or self.depth
        return self.circles + (GAP + width_of(words) if words else 0.0)

    @property
    def circles(self) -> float:
        """Width of the circles alone."""
        count = len(self.numbers)
        return 2 * CALLOUT_RADIUS * count + BETWEEN * (count - 1) if count else 0.0


@dataclass(frozen=True, slots=True)
class Column:
    """Where callouts stand: the edge that leaders come to, and the lowest and highest middle."""

    edge: float
    low: float
    high: float
    towards: int = 1  # 1 where the words run to the right, -1 where they run to the left
    words_end: float = 0.0  # where other words below `low` end, that leaders must pass above


@dataclass(frozen=True, slots=True)
class Placed:
    """A callout in its place: `slot` is the middle of its first circle."""

    note: Note
    slot: Point


def place(notes: Sequence[Note], column: Column) -> list[Placed]:
    """Callouts pushed apart in their column, their leaders free of crossings and level where they can be."""
    ordered = sorted(notes, key=lambda note: (note.anchor[1], -column.towards * note.anchor[0]))
    x = column.edge + column.towards * CALLOUT_RADIUS
    slots = [(x, y) for y in spread([n.anchor[1] for n in ordered], PITCH, column.low, column.high)]
    to = untangle([note.anchor for note in ordered], slots)
    plain = [Placed(note, slots[n]) for note, n in zip(ordered, to, strict=True)]
    return _levelled(plain)


def _levelled(plain: list[Placed]) -> list[Placed]:
    """Leaders made level within the play of their anchors, as far as none comes to cross another."""
    anchors, slots = [_level(one) for one in plain], [one.slot for one in plain]
    while crossing := first_crossing(anchors, slots):
        for number in crossing:
            anchors[number] = plain[number].note.anchor
    return [_led_from(one, anchor) for one, anchor in zip(plain, anchors, strict=True)]


def _level(placed: Placed) -> Point:
    (x, at), play = placed.note.anchor, placed.note.play
    return x, min(max(placed.slot[1], at - play), at + play)


def _led_from(placed: Placed, anchor: Point) -> Placed:
    if anchor == placed.note.anchor:
        return placed
    return Placed(replace(placed.note, anchor=anchor), placed.slot)


def run_needed(placed: Sequence[Placed], wall: float) -> float:
    """How far from the wall the column must stand so that no leader grows too steep."""
    runs = [abs(p.slot[1] - p.note.anchor[1]) / STEEPEST - abs(wall - p.note.anchor[0]) for p in placed]
    return max([LEAST_RUN, *runs])


def draw_notes(pen: Pen, notes: Sequence[Note], column: Column) -> list[Shape]:
    """Leaders first, then the dots where they point, then circles and words."""
    placed = place(notes, column)
    size = _size(len(placed), column)
    leaders = [_leader(pen, p, CALLOUT_RADIUS * size) for p in placed]
    dots = [pen.circle(p.note.anchor, 1.0, fill="ink", ink="paper", width=HAIR) for p in placed]
    below = [Marked(*leaders, marks={"class": "leader"}), *dots] if placed else []
    return [*below, *(shape for p in placed for shape in _label(pen, p, size, column.towards))]


def _size(count: int, column: Column) -> float:
    """Circles and type shrink where a column is too short for all of them."""
    return 1.0 if count < 2 else min(1.0, (column.high - column.low) / (count - 1) / PITCH)


def _leader(pen: Pen, placed: Placed, radius: float) -> Line:
    """A line to the rim of the circle, or up to the words where there is none."""
    anchor, slot = placed.note.anchor, placed.slot
    dx, dy = slot[0] - anchor[0], slot[1] - anchor[1]
    length = max((dx * dx + dy * dy) ** 0.5, 1e-6)
    end = (slot[0] - dx / length * radius, slot[1] - dy / length * radius)
    return pen.line(anchor, end, ink="ink", width=HAIR)


def _label(pen: Pen, placed: Placed, size: float, towards: int) -> list[Shape]:
    note, (x, y) = placed.note, placed.slot
    radius = CALLOUT_RADIUS * size
    shapes: list[Shape] = []
    for number in note.numbers if towards > 0 else note.numbers[::-1]:
        shapes.append(pen.callout((x, y), number, radius=radius))
        x += towards * (2 * radius + BETWEEN)
    x += towards * (GAP - BETWEEN - radius) if note.numbers else towards * (2 - radius)
    return [*shapes, *_words(pen, note, (x, y - TEXT_SIZE * size * CAP_SHARE / 2), TEXT_SIZE * size, towards)]


def _words(pen: Pen, note: Note, at: Point, size: float, towards: int) -> list[Shape]:
    if not note.depth:
        anchor = "start" if towards > 0 else "end"
        ink = "quiet" if note.numbers else "ink"
        return [pen.text(at, note.words, anchor=anchor, size=size, ink=ink)] if note.words else []
    words = f"{note.words}, " if note.words else ""
    start = at[0] if towards > 0 else at[0] - width_of(words + note.depth, size)
    number = pen.text((start + width_of(words, size), at[1]), note.depth, size=size)
    shapes: list[Shape] = [Marked(number, marks=note.marks)]
    return [pen.text((start, at[1]), words, size=size, ink="quiet"), *shapes] if words else shapes
