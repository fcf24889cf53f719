"""Where the parts of a scene stand: on the floor, on the walls and on the top. A proposal, not a rule.

Warm end left, cool end right: common practice, no source. Places follow from the scene alone, so that
every drawing of a kit shows each thing in the same place.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from kits.drawings.scene import Part, Scene

OPEN_TOPS = ("mesh", "open")  # on these the lamps stand, below others they hang
TOP_ROLES = ("night_heat", "plant_light", "uvb_fixture", "uvb_lamp", "lamp_holder", "basking_lamp")
ROUND_ROLES = ("lamp_holder", "basking_lamp", "night_heat")
FLOOR_ROLES = ("hide", "water_dish", "feeding_ledge", "bark")
BANDS = {"front": 0.2, "middle": 0.5, "back": 0.8, "mounted": 0.96}
# Shares of width and depth where pieces of a role would like to stand, the first piece first.
LIKED = {
    "hide": ((0.82, 0.78), (0.2, 0.4), (0.5, 0.78), (0.2, 0.8), (0.62, 0.4)),
    "water_dish": ((0.7, 0.2), (0.3, 0.2), (0.5, 0.2)),
    "feeding_ledge": ((0.45, 1.0), (0.75, 1.0), (0.2, 1.0)),
    "bark": ((0.3, 0.3), (0.56, 0.45), (0.86, 0.35), (0.14, 0.5), (0.42, 0.7)),
}
ACROSS, DEEP = 17, 9  # places tried for a thing on the floor
ROW = 25  # places tried for a plant in its band

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Spot:
    """The middle of one piece, from the left wall and from the front, seen from above."""

    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Staged:
    """A part with a spot for each of its pieces."""

    part: Part
    spots: tuple[Spot, ...]


@lru_cache(maxsize=64)
def on_floor(scene: Scene) -> tuple[Staged, ...]:
    """Hardscape and plants with their places."""
    taken: list[Box] = []
    things = [_settled(part, scene, taken) for role in FLOOR_ROLES for part in scene.with_roles(role)]
    plants = scene.with_roles("plant")
    found: list[Spot] = []
    return (*things, *_climbs(scene), *(_planted(part, scene, taken, found) for part in plants))


@lru_cache(maxsize=64)
def on_top(scene: Scene) -> tuple[Staged, ...]:
    """Lamps in rows over the depth, the plant lights at the back and the spot lamps in front."""
    rows = [row for parts in _lamp_order(scene) for row in _rows(parts, scene)]
    free = scene.inside.depth_mm - sum(part.width_mm for part, _ in rows)
    gap = free / (len(rows) + 1)
    staged: dict[Part, list[Spot]] = {}
    y = scene.inside.depth_mm
    for part, pieces in rows:
        y -= gap + part.width_mm
        staged.setdefault(part, []).extend(_row_spots(part, pieces, y + part.width_mm / 2, scene))
    return tuple(Staged(part, tuple(spots)) for part, spots in staged.items())


def carriers(scene: Scene) -> tuple[Part, ...]:
    """What stands on the top: a lamp only where nothing that holds it is drawn."""
    fixtures, holders = scene.with_roles("uvb_fixture"), scene.with_roles("lamp_holder")
    below = scene.inside.top_kind not in OPEN_TOPS
    stands = {
        "uvb_lamp": not fixtures and not holders,
        "basking_lamp": not holders,
        "night_heat": not holders,
        "panel": below,  # a panel hangs below the top, beside the lamps only where these hang there too
    }
    return tuple(part for part in scene.with_roles(*TOP_ROLES) if stands.get(_sort(part), True))


def _sort(part: Part) -> str:
    return "panel" if part.role == "night_heat" and part.form == "panel" else part.role


def _lamp_order(scene: Scene) -> list[list[Part]]:
    lamps = carriers(scene)
    return [[part for part in lamps if part.role == role] for role in TOP_ROLES]


def _rows(parts: Iterable[Part], scene: Scene) -> list[tuple[Part, int]]:
    rows: list[tuple[Part, int]] = []
    for part in parts:
        in_a_row = max(1, int(scene.inside.width_mm // max(part.length_mm, 1.0)))
        left = part.quantity
        while left > 0:
            rows.append((part, min(left, in_a_row)))
            left -= in_a_row
    return rows


def _row_spots(part: Part, pieces: int, y: float, scene: Scene) -> list[Spot]:
    width = scene.inside.width_mm
    if part.role in ROUND_ROLES and pieces == 1:
        return [Spot(max(part.length_mm / 2, 0.25 * width), y)]
    pitch = width / pieces
    return [Spot(pitch * (number + 0.5), y) for number in range(pieces)]


def _settled(part: Part, scene: Scene, taken: list[Box]) -> Staged:
    liked = LIKED[part.role]
    already = sum(1 for box in taken if box)  # later pieces start at later wishes
    spots = []
    for number in range(part.quantity):
        wish = liked[(number + (already if part.role == "hide" else 0)) % len(liked)]
        spot = _free_spot(part, scene, wish, taken)
        taken.append(_box(spot, part))
        spots.append(spot)
    return Staged(part, tuple(spots))


def _free_spot(part: Part, scene: Scene, wish: tuple[float, float], taken: Sequence[Box]) -> Spot:
    """The place with least overlap, then nearest to the wish."""
    inside = scene.inside
    xs = _steps(part.length_mm, inside.width_mm, ACROSS)
    ys = _steps(part.width_mm, inside.depth_mm, DEEP)
    if part.role == "feeding_ledge":
        ys = ys[-1:]
    area = max(1.0, part.length_mm * part.width_mm)

    def cost(spot: Spot) -> float:
        box = _box(spot, part)
        covered = sum(_overlap(box, other) for other in taken) / area
        away = abs(spot.x_mm / inside.width_mm - wish[0]) + abs(spot.y_mm / inside.depth_mm - wish[1])
        return 4 * covered + away

    return min((Spot(x, y) for y in ys for x in xs), key=cost)


def _steps(size: float, room: float, count: int) -> list[float]:
    """Places for the middle of a thing between two walls; the middle alone where it does not fit."""
    if size >= room:
        return [room / 2]
    return [size / 2 + (room - size) * step / (count - 1) for step in range(count)]


def _climbs(scene: Scene) -> tuple[Staged, ...]:
    """Branches go from wall to wall on the slant; their middle is the middle of the box, a little back."""
    inside = scene.inside
    return tuple(
        Staged(
            part,
            tuple(
                Spot(inside.width_mm * (number + 1) / (part.quantity + 1), inside.depth_mm * 0.55)
                for number in range(part.quantity)
            ),
        )
        for part in scene.with_roles("climb")
    )


def _planted(part: Part, scene: Scene, taken: Sequence[Box], found: list[Spot]) -> Staged:
    """Each plant as far from its neighbours and from hardscape as its band allows."""
    inside = scene.inside
    band = BANDS.get(part.position, 0.5) * inside.depth_mm
    xs = [inside.width_mm * (0.08 + 0.84 * step / (ROW - 1)) for step in range(ROW)]
    shifts = (0.0,) if part.position == "mounted" else (0.0, -0.09, 0.09)
    candidates = [Spot(x, band + shift * inside.depth_mm) for shift in shifts for x in xs]
    clear = [spot for spot in candidates if not _covered(spot, taken)] or candidates
    spots = []
    for _ in range(part.quantity):
        spot = max(clear, key=lambda spot: _room_around(spot, scene, found))
        found.append(spot)
        spots.append(spot)
    return Staged(part, tuple(spots))


def _room_around(spot: Spot, scene: Scene, found: Sequence[Spot]) -> float:
    wall = min(spot.x_mm, scene.inside.width_mm - spot.x_mm)
    nearest = min(((s.x_mm - spot.x_mm) ** 2 + (s.y_mm - spot.y_mm) ** 2 for s in found), default=1e12)
    return min(float(nearest), (2.2 * wall) ** 2)


def _covered(spot: Spot, taken: Sequence[Box]) -> bool:
    return any(left <= spot.x_mm <= right and low <= spot.y_mm <= high for left, low, right, high in taken)


def _box(spot: Spot, part: Part) -> Box:
    across, deep = part.length_mm / 2, part.width_mm / 2
    return spot.x_mm - across, spot.y_mm - deep, spot.x_mm + across, spot.y_mm + deep


def _overlap(a: Box, b: Box) -> float:
    across = min(a[2], b[2]) - max(a[0], b[0])
    deep = min(a[3], b[3]) - max(a[1], b[1])
    return across * deep if across > 0 and deep > 0 else 0.0
