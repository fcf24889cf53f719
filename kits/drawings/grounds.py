"""Layers of the ground as tone and pattern: a photocopy keeps them apart.

Drainage is pebbles, soil is broken hatching, litter is waves. Patterns are worked out point by point inside
the layer, so that no clipping is needed on paper or screen.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import pi, sin

from reportlab.graphics.shapes import Shape

from kits.drawings.botany import even
from kits.drawings.labels import Point
from kits.drawings.pen import HAIR, Pen

INK = {"drainage": "drainage", "substrate": "soil", "litter": "litter"}
PEBBLE, HATCH, WAVE = 6.0, 5.2, 3.4  # distances between marks in points
CURVE = 0.5523  # of the radius: four curves that look like a circle


@dataclass(frozen=True, slots=True)
class Strip:
    """A layer on the drawing: two upright ends, a lower and an upper edge."""

    left: float
    right: float
    low: Point  # heights of the lower edge at left and right
    high: Point

    def edge(self, ends: Point, x: float) -> float:
        """Height of an edge at x."""
        return ends[0] + (ends[1] - ends[0]) * (x - self.left) / (self.right - self.left)

    def holds(self, point: Point, margin: float) -> bool:
        """Whether a point lies inside by a margin."""
        x, y = point
        if not self.left + margin <= x <= self.right - margin:
            return False
        return self.edge(self.low, x) + margin <= y <= self.edge(self.high, x) - margin

    @property
    def corners(self) -> tuple[Point, ...]:
        """The outline."""
        return (
            (self.left, self.low[0]), (self.right, self.low[1]),
            (self.right, self.high[1]), (self.left, self.high[0]),
        )  # fmt: skip


def ground(pen: Pen, name: str, strip: Strip) -> list[Shape]:
    """One layer: its tone, its pattern and its upper edge."""
    ink = INK.get(name, "soil")
    marks = {"drainage": _pebbles, "litter": _waves}.get(name, _hatching)(pen, strip, f"{ink}_mark")
    surface = pen.strokes([[strip.corners[3], strip.corners[2]]], ink=f"{ink}_mark", width=HAIR * 1.6)
    return [pen.polygon(strip.corners, fill=ink, ink=""), marks, surface]


def _pebbles(pen: Pen, strip: Strip, ink: str) -> Shape:
    path = pen.path(ink=ink, width=HAIR)
    for number, (x, y) in enumerate(_lattice(strip)):
        radius = 0.8 + 1.2 * even(number)
        centre = (x + 1.6 * (even(number, 0.2) - 0.5), y + 1.6 * (even(number, 0.8) - 0.5))
        if strip.holds(centre, radius + 0.4):
            _ring(path, centre, radius, squash=0.72 + 0.28 * even(number, 0.1))
    return path


def _lattice(strip: Strip) -> Iterator[Point]:
    low, high = min(strip.low), max(strip.high)
    rows = max(1, int((high - low) / (PEBBLE * 0.75)))
    step = (high - low) / rows
    for row in range(rows):
        x = strip.left + (PEBBLE / 2 if row % 2 else PEBBLE)
        while x < strip.right:
            yield x, low + (row + 0.5) * step
            x += PEBBLE


def _ring(path: object, centre: Point, radius: float, *, squash: float) -> None:
    (x, y), a, b = centre, radius, radius * squash
    path.moveTo(x + a, y)  # type: ignore[attr-defined]
    for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1)):
        ex, ey = -dy, dx
        path.curveTo(  # type: ignore[attr-defined]
            x + a * (dx + CURVE * ex), y + b * (dy + CURVE * ey),
            x + a * (ex + CURVE * dx), y + b * (ey + CURVE * dy),
            x + a * ex, y + b * ey,
        )  # fmt: skip


def _hatching(pen: Pen, strip: Strip, ink: str) -> Shape:
    low, high = min(strip.low), max(strip.high)
    runs: list[Sequence[Point]] = []
    start, number = strip.left - (high - low), 0
    while start < strip.right:
        runs.extend(_broken(strip, start, low, high, number))
        start, number = start + HATCH, number + 1
    return pen.strokes(runs, ink=ink, width=HAIR)


def _broken(strip: Strip, start: float, low: float, high: float, number: int) -> Iterator[Sequence[Point]]:
    """The dashes of one slanting line that lie inside the strip."""
    along, dash, limit = -9.0 * even(number), 9.0, high - low
    while along < limit:
        end = min(along + dash, limit)
        inside = _clipped(strip, (start + max(along, 0.0), low + max(along, 0.0)), (start + end, low + end))
        if inside is not None:
            yield inside
        along += dash + (2.2 if number % 2 else 3.6)


def _clipped(strip: Strip, a: Point, b: Point) -> Sequence[Point] | None:
    """The part of a short line that lies inside, found to a twelfth of its length."""
    points = [(a[0] + (b[0] - a[0]) * n / 12, a[1] + (b[1] - a[1]) * n / 12) for n in range(13)]
    kept = [point for point in points if strip.holds(point, 0.3)]
    return (kept[0], kept[-1]) if len(kept) > 1 else None


def _waves(pen: Pen, strip: Strip, ink: str) -> Shape:
    runs: list[Sequence[Point]] = []
    thickness = max(strip.high[0] - strip.low[0], strip.high[1] - strip.low[1])
    rows = max(1, round(thickness / WAVE))
    for row in range(rows):
        run: list[Point] = []
        share = (row + 0.5) / rows
        for point in _wave(strip, share, row):
            if strip.holds(point, 0.25):
                run.append(point)
            elif len(run) > 1:
                runs.append(run)
                run = []
        if len(run) > 1:
            runs.append(run)
    return pen.strokes(runs, ink=ink, width=HAIR)


def _wave(strip: Strip, share: float, row: int) -> Iterator[Point]:
    x, step = strip.left, 1.0
    while x <= strip.right:
        low, high = strip.edge(strip.low, x), strip.edge(strip.high, x)
        rise = min(1.1, (high - low) * 0.32)
        yield x, low + (high - low) * share + rise * sin(2 * pi * x / 7.0 + 1.9 * row)
        x += step
