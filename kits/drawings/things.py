"""Hardscape and lamps as line drawings, seen from the side; places and sizes in points."""

from math import cos, pi, sin

from reportlab.graphics.shapes import Shape

from kits.drawings.labels import Point
from kits.drawings.pen import FINE, HAIR, PLAIN, Pen


def branch(pen: Pen, foot: Point, tip: Point, thickness: float) -> list[Shape]:
    """A tapering branch with bark lines and the stub of a twig."""
    dx, dy = tip[0] - foot[0], tip[1] - foot[1]
    length = max((dx * dx + dy * dy) ** 0.5, 1e-6)
    nx, ny = -dy / length, dx / length
    bend = min(0.02 * length, 0.6 * thickness)

    def beside(share: float, side: float) -> Point:
        half = thickness / 2 * (1.0 - 0.28 * share) * side
        off = half + bend * sin(2.2 * pi * share) + 0.07 * thickness * sin(19 * share + side)
        return foot[0] + dx * share + nx * off, foot[1] + dy * share + ny * off

    steps = [n / 24 for n in range(25)]
    outline = [beside(s, 1) for s in steps] + [beside(s, -1) for s in reversed(steps)]
    grain = [[beside(s / 50 + a, side) for s in range(n)] for a, side, n in _GRAIN]
    return [
        _twig(pen, beside(0.6, 0.5), (dx / length + 0.9 * nx, dy / length + 0.9 * ny), thickness),
        pen.polygon(outline, fill="wood", ink="wood_edge", width=FINE),
        pen.strokes(grain, ink="wood_edge", width=HAIR),
    ]


def _twig(pen: Pen, foot: Point, along: Point, thickness: float) -> Shape:
    """The stub of a side branch, from within the branch outwards."""
    (x, y), (ax, ay) = foot, along
    wide, narrow, reach = thickness * 0.26, thickness * 0.15, thickness * 1.05
    tip = x + ax * reach, y + ay * reach
    return pen.polygon(
        [(x + ay * wide, y - ax * wide), (tip[0] + ay * narrow, tip[1] - ax * narrow),
         (tip[0] - ay * narrow, tip[1] + ax * narrow), (x - ay * wide, y + ax * wide)],
        fill="wood", ink="wood_edge", width=FINE,
    )  # fmt: skip


_GRAIN = (
    (0.06, 0.4, 12),
    (0.1, -0.35, 9),
    (0.36, 0.1, 14),
    (0.42, -0.5, 8),
    (0.7, 0.35, 10),
    (0.66, -0.2, 12),
)


def hide(pen: Pen, left: Point, width: float, height: float, *, damp: bool) -> list[Shape]:
    """A vaulted hide with its layered back and its entrance; a damp one has drops above it."""
    entrance = _arch(left[0] + width * 0.16, left[1], width * 0.36, height * 0.52)
    shade = [[(x, left[1] + 0.4), (x, y - 0.6)] for x, y in entrance[1:-1] if y - left[1] > 2.0]
    shapes: list[Shape] = [
        pen.polygon(_arch(left[0], left[1], width, height), fill="stone", ink="stone_edge", width=PLAIN),
        pen.strokes(_courses(left, width, height), ink="stone_edge", width=HAIR),
        pen.polygon(entrance, fill="paper", ink="stone_edge", width=PLAIN),
    ]
    if shade:
        shapes.append(pen.strokes(shade, ink="stone_edge", width=FINE))
    return [*shapes, *_drops(pen, left, width, height)] if damp else shapes


def _arch(x: float, y: float, width: float, height: float) -> list[Point]:
    steps = [n / 28 for n in range(29)]
    return [(x + width * (0.5 - 0.5 * cos(pi * s)), y + height * sin(pi * s) ** 0.6) for s in steps]


def _courses(left: Point, width: float, height: float) -> list[list[Point]]:
    """Short strokes that follow the vault."""
    courses = []
    for scale, first, last in ((0.9, 15, 24), (0.9, 5, 11), (0.78, 17, 25), (0.66, 13, 18)):
        arch = _arch(left[0] + width * (1 - scale) / 2, left[1], width * scale, height * scale)
        courses.append(arch[first:last])
    return courses


def _drops(pen: Pen, left: Point, width: float, height: float) -> list[Shape]:
    x, y = left
    drops = [
        [(x + width * share, y + height * 0.34), (x + width * share, y + height * 0.46)]
        for share in (0.64, 0.71, 0.78)
    ]
    return [pen.strokes(drops, ink="accent", width=1.2)]


def dish(pen: Pen, left: Point, width: float, height: float) -> list[Shape]:
    """A shallow bowl, cut, with water in it."""
    x, y = left
    wall = min(0.1 * width, 3.0)
    bowl = [(x, y + height), (x + width * 0.1, y), (x + width * 0.9, y), (x + width, y + height),
            (x + width - wall, y + height), (x + width * 0.87, y + height * 0.28),
            (x + width * 0.13, y + height * 0.28), (x + wall, y + height)]  # fmt: skip
    water = [(x + width * 0.13, y + height * 0.28), (x + width * 0.87, y + height * 0.28),
             (x + width * 0.945, y + height * 0.76), (x + width * 0.055, y + height * 0.76)]  # fmt: skip
    return [
        pen.polygon(water, fill="water", ink="accent", width=HAIR),
        pen.polygon(bowl, fill="stone", ink="stone_edge"),
    ]


def slab(pen: Pen, left: Point, width: float, thickness: float, rise: float) -> list[Shape]:
    """A flat piece of bark that follows the ground."""
    x, y = left
    steps = [n / 12 for n in range(13)]
    upper = [(x + width * s, y + rise * s + thickness * (0.8 + 0.2 * sin(2.6 * pi * s + 0.4))) for s in steps]
    lower = [(x + width * s, y + rise * s) for s in reversed(steps)]
    grain = [
        [(x + width * a, y + rise * a + thickness * h), (x + width * b, y + rise * b + thickness * h)]
        for a, b, h in ((0.1, 0.45, 0.55), (0.5, 0.9, 0.4), (0.2, 0.4, 0.25))
    ]
    return [
        pen.polygon([*upper, *lower], fill="wood", ink="wood_edge"),
        pen.strokes(grain, ink="wood_edge", width=HAIR),
    ]


def tufts(pen: Pen, points: list[Point], size: float) -> list[Shape]:
    """Moss along the ground."""
    runs = [
        [(x, y), (x + size * lean, y + size * (1.0 - 0.4 * abs(lean)))]
        for x, y in points
        for lean in (-0.7, -0.3, 0.05, 0.4, 0.75)
    ]
    return [pen.strokes(runs, ink="leaf_edge", width=FINE)]


def crew(pen: Pen, points: list[Point]) -> list[Shape]:
    """Isopods: a rounded back with its rings."""
    shapes: list[Shape] = []
    for x, y in points:
        back = [(x + 2.3 * cos(pi * n / 8), y + 1.7 * sin(pi * n / 8)) for n in range(9)]
        shapes.append(pen.polygon(back, fill="paper", ink="ink", width=HAIR))
        rings = [
            [(x + s, y + 0.1), (x + s * 0.9, y + 1.7 * (1 - (s / 2.3) ** 2) ** 0.5)] for s in (-1.1, 0.0, 1.1)
        ]
        shapes.append(pen.strokes(rings, ink="ink", width=HAIR))
    return shapes


def ledge(pen: Pen, right: Point, width: float, height: float) -> list[Shape]:
    """A ledge on the back wall with a cup let into it."""
    x, y = right
    board = pen.polygon(
        [(x - width, y), (x, y), (x, y - height * 0.5), (x - width, y - height * 0.22)],
        fill="wood",
        ink="wood_edge",
    )
    cup = [(x - width * 0.75, y + height * 0.3), (x - width * 0.68, y - height * 0.15),
           (x - width * 0.34, y - height * 0.15), (x - width * 0.27, y + height * 0.3)]  # fmt: skip
    return [pen.polygon(cup, fill="paper", ink="ink"), board]


def tube(pen: Pen, foot: Point, height: float, diameter: float) -> list[Shape]:
    """The drain tube with its slots at the foot and its cap."""
    x, y = foot
    half = max(diameter, 2.4) / 2
    slots = [[(x - half, y + 1.6 * n), (x + half, y + 1.6 * n)] for n in range(1, 4)]
    return [
        pen.rect((x - half, y), (2 * half, height), fill="paper", ink="ink", width=FINE),
        pen.strokes(slots, ink="ink", width=HAIR),
        pen.rect((x - half - 0.8, y + height), (2 * half + 1.6, 1.6), fill="wall", ink="ink", width=HAIR),
    ]


def reflector(pen: Pen, left: Point, width: float, height: float) -> list[Shape]:
    """A UV fixture cut across: its hood, its reflector and the tube."""
    x, y = left
    hood = [(x, y), (x + width, y), (x + width * 0.9, y + height * 0.86), (x + width * 0.8, y + height),
            (x + width * 0.2, y + height), (x + width * 0.1, y + height * 0.86)]  # fmt: skip
    shine = [
        [
            (x + width * (0.5 - 0.38 * cos(pi * n / 12)), y + height * (0.1 + 0.62 * sin(pi * n / 12)))
            for n in range(13)
        ]
    ]
    radius = min(width, height) * 0.16
    return [
        pen.polygon(hood, fill="lamp", ink="ink", width=PLAIN),
        pen.strokes(shine, ink="hair", width=HAIR),
        pen.circle((x + width / 2, y + height * 0.32), radius, fill="paper", ink="accent", width=PLAIN),
    ]


def light_bar(pen: Pen, left: Point, width: float, height: float) -> list[Shape]:
    """A plant light cut across: fins above, diodes below."""
    x, y = left
    fins = [
        [(x + width * s, y + height * 0.45), (x + width * s, y + height * 0.92)]
        for s in (0.2, 0.35, 0.5, 0.65, 0.8)
    ]
    return [
        pen.rect((x, y), (width, height), fill="lamp", ink="ink", width=PLAIN),
        pen.strokes(fins, ink="hair", width=HAIR),
        pen.strokes(
            [[(x + width * 0.15, y + height * 0.22), (x + width * 0.85, y + height * 0.22)]],
            ink="accent",
            width=PLAIN,
        ),
    ]


def dome(pen: Pen, left: Point, width: float, height: float, *, lamp: bool) -> list[Shape]:
    """A lamp holder cut open: its dome, socket and cord, and the lamp that hangs in it."""
    x, y = left
    middle, bell, neck = x + width / 2, height * 0.78, width * 0.085
    steps = [n / 24 for n in range(25)]
    shell = [(middle - width / 2 * cos(pi * s), y + bell * sin(pi * s) ** 0.75) for s in steps]
    lining = [(middle - width * 0.44 * cos(pi * s), y + bell * 0.88 * sin(pi * s) ** 0.75) for s in steps]
    shapes: list[Shape] = [
        pen.polygon(shell, fill="lamp", ink="ink", width=PLAIN),
        pen.strokes([lining], ink="hair", width=HAIR),
        pen.rect(
            (middle - neck, y + bell * 0.62), (2 * neck, height - bell * 0.62), fill="paper", width=FINE
        ),
        pen.strokes([[(middle - neck, y + bell), (middle + neck, y + bell)]], ink="ink", width=FINE),
    ]
    return [*shapes, *_bulb(pen, (middle, y), neck, bell)] if lamp else shapes


def _bulb(pen: Pen, foot: Point, neck: float, bell: float) -> list[Shape]:
    """The outline of a reflector lamp, wide below its socket."""
    x, y = foot
    wide, low, high = neck * 2.3, y + bell * 0.14, y + bell * 0.62
    outline = pen.path(fill="paper", ink="ink", width=FINE)
    outline.moveTo(x - neck * 0.8, high)
    outline.curveTo(x - neck, high - bell * 0.16, x - wide, low + bell * 0.24, x - wide, low + bell * 0.08)
    outline.curveTo(
        x - wide * 0.6, low - bell * 0.04, x + wide * 0.6, low - bell * 0.04, x + wide, low + bell * 0.08
    )
    outline.curveTo(x + wide, low + bell * 0.24, x + neck, high - bell * 0.16, x + neck * 0.8, high)
    outline.closePath()
    return [outline]


def plate(pen: Pen, left: Point, width: float, height: float) -> list[Shape]:
    """A flat heating panel below the top."""
    x, y = left
    zigzag = [[(x + width * n / 10, y + height * (0.3 if n % 2 else 0.7)) for n in range(1, 10)]]
    return [
        pen.rect((x, y), (width, height), fill="stone", ink="ink", width=FINE),
        pen.strokes(zigzag, ink="ink", width=HAIR),
    ]


def seat(pen: Pen, at: Point) -> list[Shape]:
    """The mark of a perch: a small target."""
    x, y = at
    arms = [[(x - 5, y), (x + 5, y)], [(x, y - 5), (x, y + 5)]]
    return [
        pen.circle(at, 2.6, fill="paper", ink="accent", width=PLAIN),
        pen.strokes(arms, ink="accent", width=HAIR),
    ]
