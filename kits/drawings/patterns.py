"""Areas told apart by pattern, so that a grey copy reads as well: hatching, dots, lines, checks.

Marks are worked out point by point from a rule that says whether a point belongs to the area, so that an area
may have any outline and holes for labels, and no clipping is needed on paper or screen.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, hypot

from reportlab.graphics.shapes import Shape

from kits.drawings.labels import Point
from kits.drawings.pen import HAIR, Pen

Holds = Callable[[Point], bool]
Run = tuple[Point, Point]
SAMPLE = 2.0  # points between the places where a hatching line is looked at
HALVINGS = 5  # after which the end of a line is known to a twentieth of a point
DOT = 0.02  # a stroke so short that its round ends make it a dot


@dataclass(frozen=True, slots=True)
class Pattern:
    """Marks of one kind: directions of hatching as (across, up), or dots."""

    step: float
    directions: tuple[Point, ...] = ()  # none: dots
    width: float = HAIR
    ink: str = "quiet"
    dash: float = 0.0  # of the lines, as long as the gaps between them


PATTERNS = {
    "wanted": Pattern(4.4, ((1, 1),), width=0.7, ink="accent"),
    "falling": Pattern(4.4, ((1, -1),)),
    "checks": Pattern(3.6, ((1, 1), (1, -1))),
    "levels": Pattern(2.6, ((1, 0),)),
    "uprights": Pattern(3.4, ((0, 1),)),
    "thin dots": Pattern(7.0, width=1.1),
    "dots": Pattern(4.6, width=1.2),
    "thick dots": Pattern(3.1, width=1.4),
}


@dataclass(frozen=True, slots=True)
class Area:
    """An upright rectangle, and which of its points belong to the area."""

    left: float
    low: float
    right: float
    high: float
    holds: Holds = lambda point: True

    def has(self, point: Point) -> bool:
        """Whether a point of the sheet belongs to the area."""
        x, y = point
        return self.left <= x <= self.right and self.low <= y <= self.high and self.holds(point)

    def within(self, margin: float) -> "Area":
        """The area without so much along the sides of its rectangle."""
        m = min(margin, (self.right - self.left) / 2, (self.high - self.low) / 2)
        return Area(self.left + m, self.low + m, self.right - m, self.high - m, self.holds)


def filled(pen: Pen, name: str, area: Area) -> list[Shape]:
    """The marks of a pattern all over an area, as one path; none where there is no room for any."""
    pattern = PATTERNS[name]
    runs = list(_runs(pattern, area))
    if not runs:
        return []
    dash = (pattern.dash, pattern.dash) if pattern.dash else ()
    path = pen.path(ink=pattern.ink, width=pattern.width, dash=dash)
    for start, end in runs:
        path.moveTo(*start)
        path.lineTo(*end)
    return [path]


def _runs(pattern: Pattern, area: Area) -> Iterator[Run]:
    if not pattern.directions:
        yield from _dots(area.within(pattern.width / 2), pattern.step)
    for direction in pattern.directions:
        for line in _lines(area, direction, pattern.step):
            yield from kept(line, area.holds)


def _dots(area: Area, step: float) -> Iterator[Run]:
    """Dots in rows on a lattice of the whole sheet, every other row shifted by half a step."""
    row_step = step * 0.75
    for row in range(ceil(area.low / row_step), int(area.high // row_step) + 1):
        shift = step / 2 if row % 2 else 0.0
        for number in range(ceil((area.left - shift) / step), int((area.right - shift) // step) + 1):
            x, y = number * step + shift, row * row_step
            if area.has((x, y)):
                yield (x, y), (x + DOT, y)


def _lines(area: Area, direction: Point, step: float) -> Iterator[Run]:
    """Parallel lines over the rectangle, each cut to it."""
    dx, dy = direction
    tall, wide = area.high - area.low, area.right - area.left
    if dx == 0:
        count = int(wide // step)
        for number in range(count):
            x = area.left + (number + 0.5) * wide / count
            yield (x, area.low), (x, area.high)
    elif dy == 0:
        count = int(tall // step)
        for number in range(count):
            y = area.low + (number + 0.5) * tall / count
            yield (area.left, y), (area.right, y)
    else:
        yield from _slanting(area, dy / dx, step * 2**0.5)


def _slanting(area: Area, slope: float, pitch: float) -> Iterator[Run]:
    """Lines at 45 degrees on a raster of the whole sheet, so that neighbouring areas join up."""
    reach = sorted((area.low - slope * area.left, area.low - slope * area.right))
    low, high = reach[0], reach[1] + area.high - area.low
    for number in range(ceil(low / pitch), int(high // pitch) + 1):
        foot = number * pitch
        ends = sorted(((area.low - foot) / slope, (area.high - foot) / slope))
        left, right = max(area.left, ends[0]), min(area.right, ends[1])
        if right - left > 0.5:
            yield (left, foot + slope * left), (right, foot + slope * right)


def kept(line: Run, holds: Holds) -> Iterator[Run]:
    """The pieces of a line whose points are held, their ends found by halving."""
    (x, y), (x2, y2) = line
    count = max(1, ceil(hypot(x2 - x, y2 - y) / SAMPLE))
    places = [(x + (x2 - x) * n / count, y + (y2 - y) * n / count) for n in range(count + 1)]
    start = places[0] if holds(places[0]) else None
    for before, after in pairwise(places):
        if start is None and holds(after):
            start = _edge(after, before, holds)
        elif start is not None and not holds(after):
            yield start, _edge(before, after, holds)
            start = None
    if start is not None:
        yield start, places[-1]


def pieces(points: Sequence[Point], holds: Holds) -> list[list[Point]]:
    """The pieces of a bent line whose points are held."""
    found: list[list[Point]] = []
    for line in pairwise(points):
        for start, end in kept(line, holds):
            if found and found[-1][-1] == start:
                found[-1].append(end)
            else:
                found.append([start, end])
    return found


def _edge(inside: Point, outside: Point, holds: Holds) -> Point:
    for _ in range(HALVINGS):
        middle = (inside[0] + outside[0]) / 2, (inside[1] + outside[1]) / 2
        inside, outside = (middle, outside) if holds(middle) else (inside, middle)
    return inside


def thinned(points: Sequence[Point], tolerance: float = 0.12) -> list[Point]:
    """The fewest of the points that keep a line within a tolerance (Ramer, Douglas and Peucker)."""
    if len(points) < 3:
        return list(points)
    kept, todo = {0, len(points) - 1}, [(0, len(points) - 1)]
    while todo:
        first, last = todo.pop()
        far, at = max(
            ((_off(points[n], points[first], points[last]), n) for n in range(first + 1, last)),
            default=(0.0, 0),
        )
        if far > tolerance:
            kept.add(at)
            todo += [(first, at), (at, last)]
    return [points[n] for n in sorted(kept)]


def _off(point: Point, start: Point, end: Point) -> float:
    """Distance of a point from a line between two others."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy)
    if length < 1e-9:
        return hypot(point[0] - start[0], point[1] - start[1])
    return abs(dx * (point[1] - start[1]) - dy * (point[0] - start[0])) / length
