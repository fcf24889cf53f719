"""Plants as calm line silhouettes, grown from a few rules for each shape: a stem, and leaves along it.

A shape is worked out in points around its foot at (0, 0), for a height and a spread.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import cos, pi, radians, sin

from kits.drawings.labels import Point
from kits.drawings.pen import FINE, HAIR, Pen

GOLDEN = 0.618034  # steps of the golden section are even without looking regular


@dataclass(frozen=True, slots=True)
class Leaf:
    """A pointed leaf from its foot to its tip; `broad` is its width over its length, `bow` bends it."""

    foot: Point
    tip: Point
    broad: float
    bow: float = 0.0


@dataclass(frozen=True, slots=True)
class Stem:
    """A curved stem from foot to tip with its bending point."""

    foot: Point
    bend: Point
    tip: Point

    def at(self, share: float) -> Point:
        """The point at a share of the way (quadratic curve)."""
        a, b, c = (1 - share) ** 2, 2 * share * (1 - share), share**2
        return (
            a * self.foot[0] + b * self.bend[0] + c * self.tip[0],
            a * self.foot[1] + b * self.bend[1] + c * self.tip[1],
        )


Sprig = Leaf | Stem


def even(number: int, seed: float = 0.5) -> float:
    """The number-th value of an even spread over 0 to 1."""
    return (seed + number * GOLDEN) % 1.0


def _arched(angle_deg: float, height: float, reach: float) -> Stem:
    """A stem that leaves the ground steeply and leans over."""
    lean = sin(radians(angle_deg))
    tip = (reach * lean, height * (0.55 + 0.45 * cos(radians(angle_deg))))
    return Stem((0, 0), (tip[0] * 0.35, tip[1] * 1.02), tip)


def _turned(foot: Point, along: Point, degrees: float, length: float) -> Point:
    """A tip at an angle to the direction from foot to `along`."""
    dx, dy = along[0] - foot[0], along[1] - foot[1]
    size = max((dx * dx + dy * dy) ** 0.5, 1e-9)
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return foot[0] + (dx * c - dy * s) / size * length, foot[1] + (dx * s + dy * c) / size * length


def _fern(height: float, spread: float) -> Iterator[Sprig]:
    for angle in (-68, 66, -44, 41, -20, 17, 2):
        stem = _arched(angle, height, spread / 2)
        yield stem
        length = 0.17 * (height + spread / 2) / 2
        for step in range(2, 12):
            share = step / 12
            here, ahead = stem.at(share), stem.at(share + 0.05)
            reach = length * (1.15 - share) * min(1.0, share * 4)
            for side in (-62, 62):
                yield Leaf(here, _turned(here, ahead, side, reach), 0.3)


def _grass(height: float, spread: float) -> Iterator[Sprig]:
    for number, angle in enumerate((-70, 64, -50, 47, -31, 33, -15, 18, -4, 8)):
        tall = height * (0.72 + 0.28 * even(number))
        stem = _arched(angle, tall, spread / 2)
        foot = (spread * 0.02 * (number - 4.5) / 4, 0.0)
        yield Leaf(foot, stem.tip, 0.055, bow=-0.22 if angle > 0 else 0.22)


def _rosette(height: float, spread: float) -> Iterator[Sprig]:
    for angle in (-78, 76, -58, 56, -37, 35, -15, 13):
        stem = _arched(angle, height, spread / 2)
        yield Leaf((0, 0), stem.tip, 0.15, bow=-0.16 if angle > 0 else 0.16)


def _succulent(height: float, spread: float) -> Iterator[Sprig]:
    for angle in (-72, 70, -48, 46, -24, 22, 0):
        tip = (spread / 2 * sin(radians(angle)), height * (0.3 + 0.7 * cos(radians(angle))))
        yield Leaf((tip[0] * 0.08, 0), tip, 0.3)


def _clump(height: float, spread: float) -> Iterator[Sprig]:
    """Broad leaves on short stalks in tiers, the outer ones hanging over."""
    leaf = 0.34 * min(spread, 1.4 * height)
    for number, angle in enumerate((-84, 82, -62, 60, -38, 40, -14, 18, -70, 66, -30, 28, 1)):
        tall = height * (0.94 if number < 8 else 0.62) - leaf * 0.42
        stem = _arched(angle, max(tall, 0.3 * height), max(spread / 2 - leaf * 0.7, spread * 0.2))
        yield stem
        lean = sin(radians(angle))
        tip = (
            stem.tip[0] + leaf * (0.25 + 0.7 * abs(lean)) * (1 if lean >= 0 else -1),
            stem.tip[1] + leaf * (0.42 - 0.75 * abs(lean)),
        )
        yield Leaf(stem.tip, (tip[0], max(tip[1], height * 0.04)), 0.58, bow=-0.1 if lean > 0 else 0.1)


def _upright(height: float, spread: float) -> Iterator[Sprig]:
    for lean, top in ((-0.34, 0.74), (0.36, 0.84), (0.03, 1.0)):
        stem = Stem(
            (0, 0), (spread * lean * 0.15, height * top * 0.6), (spread * lean * 0.62, height * top * 0.9)
        )
        yield stem
        for step in range(3, 9):
            share = step / 8
            here, ahead = stem.at(share - 0.02), stem.at(share + 0.04)
            side = 1 if step % 2 else -1
            length = min(spread * 0.3, height * 0.26) * (1.08 - 0.45 * share)
            yield Leaf(here, _turned(here, ahead, side * (62 - 26 * share), length), 0.42)
        yield Leaf(stem.tip, _turned(stem.at(0.9), stem.tip, 0, min(spread * 0.2, height * 0.18)), 0.42)


def _carpet(height: float, spread: float) -> Iterator[Sprig]:
    count = max(5, min(17, int(spread / 5)))
    for number in range(count):
        x = spread * ((number + 0.5) / count - 0.5)
        low = height * (1.0 - (2 * x / spread) ** 2 * 0.6)
        yield Stem((x, 0), (x, low * 0.6), (x + low * 0.2, low * 0.8))
        side = 1 if number % 2 else -1
        yield Leaf((x, low * 0.35), (x + side * low * 0.75, low * (0.7 + 0.3 * even(number))), 0.6)


def _cushion(height: float, spread: float) -> Iterator[Sprig]:
    count = max(7, min(25, int(spread / 3)))
    for number in range(count):
        angle = pi * (number + 0.5) / count
        foot = (spread * 0.3 * cos(angle), height * 0.25 * sin(angle))
        yield Leaf(foot, (spread / 2 * cos(angle), height * (0.35 + 0.65 * sin(angle))), 0.22)


def _vine(height: float, spread: float) -> Iterator[Sprig]:
    """A stem that clings to a wall on its right."""
    steps = max(3, min(9, int(height / max(spread, 1.0) * 2.4)))
    here = (0.0, 0.0)
    for number in range(steps):
        side = 1 if number % 2 else -1
        there = (spread * 0.14 * side, height * (number + 1) / steps)
        yield Stem(here, (here[0] + spread * 0.2 * side, (here[1] + there[1]) / 2), there)
        size = min(spread * 0.42, height / steps * 0.85)
        yield Leaf(there, (there[0] - size * 0.9 * side, there[1] + size * 0.35), 0.62)
        yield Leaf(there, (there[0] + size * 0.5 * side, there[1] + size * 0.55), 0.55)
        here = there


SHAPES: dict[str, Callable[[float, float], Iterator[Sprig]]] = {
    "fern": _fern, "grass": _grass, "rosette": _rosette, "succulent": _succulent, "clump": _clump,
    "upright": _upright, "carpet": _carpet, "cushion": _cushion, "vine": _vine,
}  # fmt: skip


def silhouette(pen: Pen, form: str, at: Point, height: float, spread: float) -> list[object]:
    """The side view of a plant whose foot stands at a point."""
    sprigs = _within(list(SHAPES.get(form, _clump)(height, spread)), height, spread)
    stems = pen.path(ink="leaf_edge", width=FINE)
    for sprig in sprigs:
        if isinstance(sprig, Stem):
            _draw_stem(stems, sprig, at)
    leaves = [_drawn_leaf(pen, sprig, at) for sprig in sprigs if isinstance(sprig, Leaf)]
    return [stems, *leaves] if stems.points else leaves


def _within(sprigs: list[Sprig], height: float, spread: float) -> list[Sprig]:
    """The sprigs drawn together where they reach beyond height or spread."""
    points = [(p, s) for s in sprigs for p in (s.foot, s.tip)]
    margin = {Leaf: 1.08, Stem: 1.0}
    wide = max(abs(p[0]) * margin[type(s)] for p, s in points) / max(spread / 2, 1e-6)
    tall = max(p[1] for p, _ in points) / max(height, 1e-6)
    kx, ky = 1 / max(wide, 1.0), 1 / max(tall, 1.0)
    return [_scaled(sprig, kx, ky) for sprig in sprigs]


def _scaled(sprig: Sprig, kx: float, ky: float) -> Sprig:
    foot, tip = (sprig.foot[0] * kx, sprig.foot[1] * ky), (sprig.tip[0] * kx, sprig.tip[1] * ky)
    if isinstance(sprig, Stem):
        return Stem(foot, (sprig.bend[0] * kx, sprig.bend[1] * ky), tip)
    return Leaf(foot, tip, sprig.broad, sprig.bow)


def crown(pen: Pen, form: str, at: Point, radius: float) -> list[object]:
    """The plan view of a plant: its spread, and its leaves around the middle."""
    narrow = {"grass": (0.08, 13), "fern": (0.2, 9), "rosette": (0.22, 9), "succulent": (0.42, 8)}
    broad, count = narrow.get(form, (0.5, 7))
    ring = pen.circle(at, radius, fill="leaf", ink="leaf_edge", width=HAIR)
    leaves = []
    for number in range(count):
        angle = 2 * pi * number / count + at[0] % 1.0
        tip = (at[0] + radius * 0.88 * cos(angle), at[1] + radius * 0.88 * sin(angle))
        foot = (at[0] + radius * 0.16 * cos(angle), at[1] + radius * 0.16 * sin(angle))
        leaves.append(_drawn_leaf(pen, Leaf(foot, tip, broad), (0, 0)))
    return [ring, *leaves]


def _draw_stem(path: object, stem: Stem, at: Point) -> None:
    """A quadratic curve as the cubic one that it equals."""
    foot, bend, tip = ((p[0] + at[0], p[1] + at[1]) for p in (stem.foot, stem.bend, stem.tip))
    first = (foot[0] + (bend[0] - foot[0]) * 2 / 3, foot[1] + (bend[1] - foot[1]) * 2 / 3)
    second = (tip[0] + (bend[0] - tip[0]) * 2 / 3, tip[1] + (bend[1] - tip[1]) * 2 / 3)
    path.moveTo(*foot)  # type: ignore[attr-defined]
    path.curveTo(*first, *second, *tip)  # type: ignore[attr-defined]


def _drawn_leaf(pen: Pen, leaf: Leaf, at: Point) -> object:
    (x0, y0), (x1, y1) = leaf.foot, leaf.tip
    dx, dy = x1 - x0, y1 - y0
    half = leaf.broad / 2 * 4 / 3

    def beside(share: float, side: float) -> Point:
        across = side * half + leaf.bow
        return x0 + at[0] + dx * share - dy * across, y0 + at[1] + dy * share + dx * across

    path = pen.path(fill="leaf", ink="leaf_edge", width=HAIR)
    path.moveTo(x0 + at[0], y0 + at[1])
    path.curveTo(*beside(0.3, 1), *beside(0.7, 0.8), x1 + at[0], y1 + at[1])
    path.curveTo(*beside(0.7, -0.8), *beside(0.3, -1), x0 + at[0], y0 + at[1])
    path.closePath()
    return path
