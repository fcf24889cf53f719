"""Lines of one value through a field on a grid, and a clear place on each for its figure."""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import hypot
from typing import Any, cast

from kits.drawings.labels import Point
from kits.drawings.patterns import Holds
from kits.drawings.pen import CAP_SHARE, TEXT_SIZE, width_of

PAD, APART = 1.8, 3.0  # around the figure in its gap; between figures
WALK = 3.0  # points between the places that are tried along a line
LEAST_LENGTH = 1.4  # of a line, in widths of its figure, to carry one
STEEP_COST, ASTRAY_COST = 1.0, 1.6

Rows = Sequence[Sequence[float]]


def isolines(along: Sequence[float], up: Sequence[float], values: Rows, level: float) -> list[list[Point]]:
    """Where a field equals a level, as lines in the units of its axes.

    `values[k][i]` stands at height `up[k]` and place `along[i]`; between grid points the field is linear.
    A level that the field does not cross has no line.
    """
    lines = cast(
        "list[list[Point]]", _generator(tuple(along), tuple(up), tuple(map(tuple, values))).lines(level)
    )
    return [[(float(x), float(y)) for x, y in line] for line in lines if len(line) > 1]


@lru_cache(maxsize=4)
def _generator(along: Sequence[float], up: Sequence[float], values: Rows) -> Any:
    """One for all levels of a field; making it costs more than a line."""
    from contourpy import contour_generator

    return contour_generator(along, up, values, name="serial", line_type="Separate")


def value_at(along: Sequence[float], up: Sequence[float], values: Rows, point: Point) -> float:
    """The field at a point, linear between grid points, beyond the grid as at its edge."""
    i, x = _place(along, point[0])
    k, y = _place(up, point[1])
    low = values[k][i] * (1 - x) + values[k][i + 1] * x
    high = values[k + 1][i] * (1 - x) + values[k + 1][i + 1] * x
    return low * (1 - y) + high * y


def _place(axis: Sequence[float], at: float) -> tuple[int, float]:
    number = min(max(bisect_right(axis, at) - 1, 0), len(axis) - 2)
    share = (at - axis[number]) / (axis[number + 1] - axis[number])
    return number, min(1.0, max(0.0, share))


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle of the sheet."""

    left: float
    low: float
    right: float
    high: float

    def has(self, point: Point) -> bool:
        """Whether a point lies inside."""
        return self.left < point[0] < self.right and self.low < point[1] < self.high

    def has_any(self, points: Iterable[Point]) -> bool:
        """Whether any of the points lies inside."""
        left, low, right, high = self.left, self.low, self.right, self.high
        return any(left < x < right and low < y < high for x, y in points)

    def meets(self, other: "Box") -> bool:
        """Whether two boxes overlap."""
        across = min(self.right, other.right) - max(self.left, other.left)
        return across > 0 and min(self.high, other.high) > max(self.low, other.low)

    def grown(self, by: float) -> "Box":
        """The box with a rim."""
        return Box(self.left - by, self.low - by, self.right + by, self.high + by)

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its corners and the middles of its long sides."""
        middle = (self.left + self.right) / 2
        return tuple((x, y) for x in (self.left, middle, self.right) for y in (self.low, self.high))


@dataclass(frozen=True, slots=True)
class Isoline:
    """One line on the sheet with the figure that belongs on it."""

    points: tuple[Point, ...]
    words: str
    strong: bool = False

    @property
    def length(self) -> float:
        """Length along the line."""
        return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(self.points))


@dataclass(frozen=True, slots=True)
class Figured:
    """A figure in the gap of its line."""

    words: str
    box: Box
    strong: bool

    @property
    def middle(self) -> float:
        """The middle of the figure across."""
        return (self.box.left + self.box.right) / 2


@dataclass(frozen=True, slots=True)
class _Spot:
    at: Point
    steep: float  # 0 level, 1 upright


def figures_on(lines: Sequence[Isoline], inside: Holds, taken: Sequence[Box]) -> list[Figured]:
    """A figure for each line that has a clear place for one: wholly inside, over no other line or figure.

    Strong lines choose first, then long ones. Level stretches are preferred, and places above each other.
    """
    placed: list[Figured] = []
    order = sorted(range(len(lines)), key=lambda n: (not lines[n].strong, -lines[n].length, n))
    walked = [list(_walk(line.points)) for line in lines]
    for number in order:
        others = [spot.at for n, spots in enumerate(walked) if n != number for spot in spots]
        found = _best(
            lines[number], walked[number], others, inside, [*taken, *(one.box for one in placed)], placed
        )
        if found is not None:
            placed.append(found)
    return placed


def _best(
    line: Isoline, spots: Sequence[_Spot], others: Sequence[Point], inside: Holds, taken: Sequence[Box],
    placed: Sequence[Figured],
) -> Figured | None:  # fmt: skip
    wide = width_of(line.words, bold=line.strong)
    if line.length < LEAST_LENGTH * wide:
        return None
    target = placed[0].middle if placed else None
    best: tuple[float, Figured] | None = None
    for spot in spots:
        cost = STEEP_COST * spot.steep + (ASTRAY_COST * abs(spot.at[0] - target) / 100 if target else 0.0)
        if best is not None and cost >= best[0]:
            continue
        box = _box(spot.at, wide)
        if _clear(box, others, inside, taken):
            best = cost, Figured(line.words, box, line.strong)
    return best[1] if best else None


def _clear(box: Box, others: Sequence[Point], inside: Holds, taken: Sequence[Box]) -> bool:
    if not all(inside(corner) for corner in box.corners):
        return False
    wide = box.grown(APART)
    return not any(wide.meets(other) for other in taken) and not box.has_any(others)


def _box(at: Point, wide: float) -> Box:
    tall = TEXT_SIZE * CAP_SHARE / 2 + PAD
    return Box(at[0] - wide / 2 - PAD, at[1] - tall, at[0] + wide / 2 + PAD, at[1] + tall)


def _walk(points: Sequence[Point]) -> Iterator[_Spot]:
    """Places along a line at even distances, with how steep it is there."""
    rest = WALK / 2
    for (x, y), (x2, y2) in pairwise(points):
        length = hypot(x2 - x, y2 - y)
        if length == 0:
            continue
        steep = abs(y2 - y) / length
        while rest <= length:
            share = rest / length
            yield _Spot((x + (x2 - x) * share, y + (y2 - y) * share), steep)
            rest += WALK
        rest -= length
