"""Hardscape and lamps as line drawings, seen from above; places and sizes in points."""

from collections.abc import Callable, Mapping
from math import copysign, cos, pi, sin
from types import MappingProxyType

from reportlab.graphics.shapes import Shape

from kits.drawings import things
from kits.drawings.frame import Frame
from kits.drawings.labels import Point
from kits.drawings.pen import FINE, HAIR, PLAIN, Pen
from kits.drawings.scene import Part, Scene
from kits.drawings.stage import Spot

THICKEST = 0.15  # of the shorter side that a branch is drawn thick at most
STEEP = 0.6  # of a branch's length that shows from above, because it stands on the slant; schematic


def rounded(corner: Point, size: Point, power: float, wobble: float = 0.0) -> list[Point]:
    """An outline between ellipse (power 1) and rectangle (towards 0), a little uneven where asked."""
    points = []
    for n in range(56):
        angle = 2 * pi * n / 56
        across, along = cos(angle), sin(angle)
        ease = 1.0 - wobble * (0.5 + 0.5 * sin(5 * angle + size[0]))
        points.append(
            (
                corner[0] + size[0] / 2 * (1 + copysign(abs(across) ** power, across) * ease),
                corner[1] + size[1] / 2 * (1 + copysign(abs(along) ** power, along) * ease),
            )
        )
    return points


def hide(pen: Pen, corner: Point, size: Point) -> list[Shape]:
    """A hide with its entrance towards the front and the layers of its back."""
    (x, y), (wide, deep) = corner, size
    posts = [x + wide * (0.36 + 0.035 * n) for n in range(9)]
    inner = rounded((x + wide * 0.14, y + deep * 0.2), (wide * 0.72, deep * 0.66), 0.6)
    return [
        pen.polygon(rounded(corner, size, 0.5), fill="stone", ink="stone_edge", width=PLAIN),
        pen.strokes([inner[2:26], inner[31:37]], ink="stone_edge", width=HAIR),
        pen.strokes(
            [[(post, y + 0.4), (post, y + deep * 0.13)] for post in posts], ink="stone_edge", width=FINE
        ),
    ]


def dish(pen: Pen, corner: Point, size: Point) -> list[Shape]:
    """A round dish with water."""
    radius = min(size) / 2
    middle = (corner[0] + size[0] / 2, corner[1] + size[1] / 2)
    return [
        pen.circle(middle, radius, fill="stone", ink="stone_edge", width=PLAIN),
        pen.circle(middle, radius * 0.82, fill="water", ink="accent", width=HAIR),
    ]


def bark(pen: Pen, corner: Point, size: Point) -> list[Shape]:
    """A flat piece of bark with its grain."""
    (x, y), (wide, deep) = corner, size
    lines = ((0.12, 0.5, 0.27), (0.55, 0.86, 0.32), (0.14, 0.4, 0.55), (0.5, 0.84, 0.6), (0.2, 0.7, 0.8))
    grain = [[(x + wide * a, y + deep * h), (x + wide * b, y + deep * (h + 0.03))] for a, b, h in lines]
    return [
        pen.polygon(rounded(corner, size, 0.4, wobble=0.09), fill="wood", ink="wood_edge"),
        pen.strokes(grain, ink="wood_edge", width=HAIR),
    ]


def ledge(pen: Pen, corner: Point, size: Point) -> list[Shape]:
    """A ledge at the back wall with a cup."""
    radius = min(size) * 0.3
    middle = (corner[0] + size[0] / 2, corner[1] + size[1] * 0.45)
    return [
        pen.rect(corner, size, fill="wood", ink="wood_edge", width=FINE),
        pen.circle(middle, radius, fill="paper", ink="ink", width=FINE),
    ]


def branch_from_above(pen: Pen, scene: Scene, frame: Frame, part: Part, spot: Spot) -> list[Shape]:
    """A branch across the floor, as much of it as shows from above, within the walls."""
    inside = scene.inside
    thick = min(part.width_mm, THICKEST * min(inside.width_mm, inside.depth_mm))
    room_x = min(spot.x_mm, inside.width_mm - spot.x_mm) - 1.6 * thick
    room_y = min(spot.y_mm, inside.depth_mm - spot.y_mm) - 2.2 * thick  # the twig stands out sideways
    half = max(0.0, min(STEEP * part.length_mm / 2, 0.4 * inside.width_mm, room_x))
    rise = max(0.0, min(0.5 * half, room_y))
    foot, tip = (spot.x_mm - half, spot.y_mm - rise), (spot.x_mm + half, spot.y_mm + rise)
    return things.branch(pen, frame.at(*foot), frame.at(*tip), max(2.4, frame.pt(thick)))


def strip_light(pen: Pen, corner: Point, size: Point) -> list[Shape]:
    """A long fixture with its middle line and end caps."""
    (x, y), (wide, deep) = corner, size
    cap = min(0.05 * wide, 5.0)
    ends = [[(x + cap, y), (x + cap, y + deep)], [(x + wide - cap, y), (x + wide - cap, y + deep)]]
    middle = [[(x + cap, y + deep / 2), (x + wide - cap, y + deep / 2)]]
    return [
        pen.rect(corner, size, fill="lamp", ink="ink", width=PLAIN),
        pen.strokes(ends, ink="hair", width=FINE),
        pen.strokes(middle, ink="accent", width=FINE),
    ]


def dome(pen: Pen, corner: Point, size: Point) -> list[Shape]:
    """A round lamp holder."""
    radius = min(size) / 2
    middle = (corner[0] + size[0] / 2, corner[1] + size[1] / 2)
    return [
        pen.circle(middle, radius, fill="lamp", ink="ink", width=PLAIN),
        pen.circle(middle, radius * 0.86, ink="hair", width=HAIR),
        pen.circle(middle, radius * 0.28, fill="paper", ink="ink", width=FINE),
    ]


FROM_ABOVE: Mapping[str, Callable[[Pen, Point, Point], list[Shape]]] = MappingProxyType(
    {"hide": hide, "water_dish": dish, "bark": bark, "feeding_ledge": ledge}
)
