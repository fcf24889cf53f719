"""Hardscape and lamps as line drawings, seen from above; places and sizes in points."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from reportlab.graphics.shapes import Shape

from kits.drawings import things
from kits.drawings.frame import Frame
from kits.drawings.labels import Point
from kits.drawings.pen import FINE, HAIR, PLAIN, Pen
from kits.drawings.scene import Part, Scene
from kits.drawings.stage import Spot

STEEP = 0.6  # of a branch's length that shows from above, because it stands on the slant; schematic


def hide(pen: Pen, corner: Point, size: Point) -> list[Shape]:
    """A hide with rounded corners and its entrance towards the front."""
    (x, y), (wide, deep) = corner, size
    cut = 0.22 * min(wide, deep)
    outline = [
        (x + cut, y), (x + wide - cut, y), (x + wide, y + cut), (x + wide, y + deep - cut),
        (x + wide - cut, y + deep), (x + cut, y + deep), (x, y + deep - cut), (x, y + cut),
    ]  # fmt: skip
    door = [
        [(x + wide * (0.36 + 0.035 * n), y + 0.4), (x + wide * (0.36 + 0.035 * n), y + deep * 0.16)]
        for n in range(9)
    ]
    ridge = [[(x + wide * 0.14, y + deep * 0.55), (x + wide * 0.86, y + deep * 0.55)]]
    return [
        pen.polygon(outline, fill="stone", ink="stone_edge", width=PLAIN),
        pen.strokes(door, ink="stone_edge", width=FINE),
        pen.strokes(ridge, ink="stone_edge", width=HAIR),
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
    edge = [
        (0.0, 0.12),
        (0.3, 0.0),
        (0.62, 0.07),
        (1.0, 0.0),
        (0.95, 0.5),
        (1.0, 0.9),
        (0.6, 1.0),
        (0.28, 0.93),
        (0.0, 1.0),
        (0.05, 0.5),
    ]
    grain = [
        [(x + wide * a, y + deep * h), (x + wide * b, y + deep * (h + 0.03))]
        for a, b, h in (
            (0.1, 0.5, 0.25),
            (0.55, 0.9, 0.3),
            (0.12, 0.4, 0.55),
            (0.5, 0.88, 0.62),
            (0.15, 0.7, 0.8),
        )
    ]
    return [
        pen.polygon([(x + wide * a, y + deep * b) for a, b in edge], fill="wood", ink="wood_edge"),
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
    length = min(STEEP * part.length_mm, 0.8 * inside.width_mm)
    rise = min(0.5 * length, 0.7 * inside.depth_mm)
    half = min(length / 2, spot.x_mm * 0.94, (inside.width_mm - spot.x_mm) * 0.94)
    low = min(rise / 2, spot.y_mm * 0.9)
    foot, tip = (
        (spot.x_mm - half, spot.y_mm - low),
        (spot.x_mm + half, spot.y_mm + min(rise / 2, inside.depth_mm * 0.4)),
    )
    return things.branch(pen, frame.at(*foot), frame.at(*tip), max(2.4, frame.pt(part.width_mm)))


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
