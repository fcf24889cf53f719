"""What the views from above share: walls, dimensions, and numbers that find room on their things."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby, product

from reportlab.graphics.shapes import Shape

from kits.drawings.dimensions import depth_line, scale_row, width_line
from kits.drawings.frame import Frame
from kits.drawings.labels import Point
from kits.drawings.laid_out import LaidOut
from kits.drawings.measures import POINTS_PER_MM, length_text, scale_for
from kits.drawings.pen import FINE, HAIR, SMALL_SIZE, Pen, width_of
from kits.drawings.scene import Scene

MARGIN, SIDE, FOOT, HEAD = 6.0, 20.0, 44.0, 16.0
NUMBER_RADIUS = 4.8
LEAST_WALL, LEAST_WIDTH, LEAST_HEIGHT = 1.6, 215.0, 96.0
AROUND = range(-12, 13)  # places tried for a number beside its thing, in its radius


def _distance(place: tuple[int, int]) -> int:
    return place[0] ** 2 + place[1] ** 2


# The places by their distance from the thing, the nearest first.
RINGS = tuple(
    tuple(ring) for _, ring in groupby(sorted(product(AROUND, AROUND), key=_distance), key=_distance)
)


@dataclass(frozen=True, slots=True)
class Mark:
    """A number that belongs to a thing: at its middle if it can be, beside it if it must be."""

    number: int
    at: Point
    needed: bool = True  # a second number of the same line may be left out


@dataclass(frozen=True, slots=True)
class Wish:
    """What a caller asks of a view from above; `scale` fixes n of 1 : n."""

    width: float
    height: float
    scale: float | None


def plan_frame(scene: Scene, wish: Wish, over_mm: tuple[float, float] = (0, 0)) -> Frame:
    """The floor on the sheet; `over_mm` is how far things reach beyond it at each side and end."""
    inside, over = scene.inside, reach_mm(scene, over_mm)
    free = wish.width - 2 * MARGIN - SIDE, wish.height - FOOT - HEAD
    across, deep = inside.width_mm + 2 * over[0], inside.depth_mm + 2 * over[1]
    n = wish.scale or scale_for(across, deep, width=free[0], height=free[1])
    left = MARGIN + SIDE + over[0] * POINTS_PER_MM / n
    return Frame(n, left, FOOT + over[1] * POINTS_PER_MM / n, inside.width_mm, inside.depth_mm)


def reach_mm(scene: Scene, over_mm: tuple[float, float]) -> tuple[float, float]:
    """How far walls and things reach beyond the inside, at each side and at front and back."""
    return max(over_mm[0], scene.inside.wall_mm), max(over_mm[1], scene.inside.wall_mm)


def plan_laid_out(
    pen: Pen,
    scene: Scene,
    frame: Frame,
    inside: Callable[[], Sequence[Shape]],
    over_mm: tuple[float, float] = (0, 0),
) -> LaidOut:
    """The sheet with its walls, dimensions and words around what `inside` draws."""
    over = reach_mm(scene, over_mm)
    width = max(frame.right + frame.pt(over[0]) + MARGIN + 4, LEAST_WIDTH)
    low, high = frame.bottom - frame.pt(over[1]), frame.top + frame.pt(over[1])

    def shapes() -> list[Shape]:
        return [
            *inside(),
            *_words(pen, frame, low, high),
            *width_line(pen, frame, low - 15.0, length_text(scene.inside.width_mm, scene.units)),
            *depth_line(pen, frame, MARGIN + 8.0, length_text(scene.inside.depth_mm, scene.units)),
            *scale_row(pen, scene.units, frame.scale, width - MARGIN),
        ]

    return LaidOut(width, max(high + HEAD, LEAST_HEIGHT), shapes)


def walls(pen: Pen, scene: Scene, frame: Frame) -> list[Shape]:
    """The walls, cut; the front, where the doors are, is drawn open."""
    wall = max(LEAST_WALL, frame.pt(scene.inside.wall_mm))
    across, deep = frame.right - frame.left, frame.top - frame.bottom
    return [
        pen.cut((frame.left - wall, frame.bottom), (wall, deep)),
        pen.cut((frame.right, frame.bottom), (wall, deep)),
        pen.cut((frame.left - wall, frame.top), (across + 2 * wall, wall)),
        pen.rect(
            (frame.left - wall, frame.bottom - wall),
            (across + 2 * wall, wall),
            fill="paper",
            ink="ink",
            width=FINE,
        ),
        pen.rect((frame.left, frame.bottom), (across, deep), ink="ink", width=HAIR),
    ]


def _words(pen: Pen, frame: Frame, low: float, high: float) -> list[Shape]:
    middle = max((frame.left + frame.right) / 2, width_of("front", SMALL_SIZE))
    return [
        pen.text((middle, high + 6.0), "back", anchor="middle", size=SMALL_SIZE, ink="quiet"),
        pen.text((middle, low - 10.5), "front", anchor="middle", size=SMALL_SIZE, ink="quiet"),
    ]


def numbers(pen: Pen, marks: Iterable[Mark], frame: Frame) -> list[Shape]:
    """Every number that finds room; the first one of each line always does, in whatever size that takes."""
    placed: list[Point] = []
    shapes: list[Shape] = []
    for mark in sorted(marks, key=lambda mark: not mark.needed):
        at = _room(mark, placed, frame)
        if at is not None:
            placed.append(at)
            if at != mark.at:
                shapes.append(pen.line(mark.at, at, ink="ink", width=HAIR))
            shapes.append(pen.callout(at, mark.number, radius=NUMBER_RADIUS))
    return shapes


def _room(mark: Mark, placed: Sequence[Point], frame: Frame) -> Point | None:
    """The middle of the thing, or for the first number of a line the nearest free place."""
    pitch = 2 * NUMBER_RADIUS + 0.6
    if not mark.needed:
        return mark.at if _is_free(mark.at, placed, pitch) and _inside(mark.at, frame) else None
    for ring in RINGS:
        tried = [(mark.at[0] + a * pitch / 2, mark.at[1] + b * pitch / 2) for a, b in ring]
        free = [at for at in tried if _inside(at, frame) and _is_free(at, placed, pitch)]
        if free:
            return min(free, key=lambda at: (at[0] - mark.at[0]) ** 2 + (at[1] - mark.at[1]) ** 2)
    return None


def _is_free(at: Point, placed: Sequence[Point], pitch: float) -> bool:
    return all((at[0] - x) ** 2 + (at[1] - y) ** 2 >= pitch**2 for x, y in placed)


def _inside(at: Point, frame: Frame) -> bool:
    r = NUMBER_RADIUS
    return frame.left + r <= at[0] <= frame.right - r and frame.bottom + r <= at[1] <= frame.top - r
