"""Fields of which the lines of equal value are known on paper, and what a map of one has drawn."""

from math import hypot

from reportlab.graphics.shapes import Path, Rect

from kits.drawings.field_map import Field
from tests.documents import drawn

LEVELS = (0.25, 0.5, 1.0, 2.0, 4.0)


def field_of(scene, value, *, across=41, up=61, **named):
    """A field over the inside of a scene from a function of place, in millimetres."""
    inside = scene.inside
    along = tuple(inside.depth_mm * n / (across - 1) for n in range(across))
    heights = tuple(inside.height_mm * n / (up - 1) for n in range(up))
    values = tuple(tuple(value(x, y) for x in along) for y in heights)
    return Field(along_mm=along, up_mm=heights, values=values, **{"name": "UV index", **named})


def lamp_over(scene, share=0.6, above_mm=40.0):
    """Where a lamp hangs above the box, from the front and above the floor."""
    return share * scene.inside.depth_mm, scene.inside.height_mm + above_mm


def inverse_square(scene, strength, lamp):
    """The field of a point lamp: strength over the square of the distance."""
    return field_of(
        scene,
        lambda x, y: strength / ((x - lamp[0]) ** 2 + (y - lamp[1]) ** 2),
        levels=LEVELS,
        wanted=(0.7, 1.4),
        limit=7.4,
        marks=(
            (0.5 * scene.inside.depth_mm, 0.6 * scene.inside.height_mm, "back on the perch"),
            (0.6 * scene.inside.depth_mm, 0.8 * scene.inside.height_mm, "highest reachable"),
        ),
    )


def strength_for(scene, lamp):
    """A strength that brings an index of 1 halfway down the box."""
    return (lamp[1] - 0.5 * scene.inside.height_mm) ** 2


def map_field(scene, share=0.6):
    """The field of a point lamp that suits a box of any size."""
    lamp = lamp_over(scene, share)
    return inverse_square(scene, strength_for(scene, lamp), lamp)


def marked(drawing, name, kind=Path):
    """Shapes of a kind under a class, with the marks around them."""
    return [
        (shape, marks)
        for shape, _, marks in drawn.shapes(drawing)
        if marks.get("class", "").split(" ")[0] == name and isinstance(shape, kind)
    ]


def points_of(path):
    """The points of a path of straight lines."""
    return list(zip(path.points[::2], path.points[1::2], strict=True))


def strokes_of(path):
    """The straight lines of a path, as pairs of points."""
    found, here = [], None
    values = iter(points_of(path))
    for operator in path.operators:
        point = next(values)
        if operator == 1:
            found.append((here, point))
        here = point
    return found


def inner_box(drawing):
    """The inside of the box on a map: the largest rectangle without a fill."""
    rects = [s for s, _, _ in drawn.shapes(drawing) if isinstance(s, Rect) and s.fillColor is None]
    return max(rects, key=lambda rect: rect.width * rect.height)


def in_millimetres(scene, drawing, points):
    """Points of a map as places in the box."""
    box = inner_box(drawing)
    per_mm = box.width / scene.inside.depth_mm
    return [((x - box.x) / per_mm, (y - box.y) / per_mm) for x, y in points]


def distance(a, b):
    """Between two places."""
    return hypot(a[0] - b[0], a[1] - b[1])
