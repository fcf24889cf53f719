"""What of a spec can be changed where nothing fills a role, in values that can be typed at the counter."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from kits.effects.airing import open_share
from kits.effects.places import highest_perch
from kits.physics.geometry import layer_l
from kits.planning.layers import AIR_SHARE
from kits.planning.spec_fields import MOST_COVERED
from kits.terms.build import Build, Layer, Perch

PERCH_MM, DEPTH_MM, ROOM_C, HUMIDITY_PCT, COVERED = 5.0, 5.0, 0.5, 1.0, 0.05  # steps
LEAST_SOIL_MM = 10.0
HEADROOM_MM = 100.0  # no perch is proposed nearer to the top
MOST_ROOM_C = 45.0
MOST_ROOM_PCT = 65.0  # more lets mould grow in a house; common practice, no source
ROUNDING = 1e-9

Spec = Mapping[str, Any]
Way = Sequence[float]  # values from the smallest change to the largest


@dataclass(frozen=True, slots=True)
class Lever:
    """One field of the spec: where it stands, what it can become, and how that is said."""

    name: str
    pointer: str
    ways: Callable[[Build], tuple[Way, ...]]
    moved: Callable[[Build, float], Build]  # the build with this value, good enough to look for the smallest
    value: Callable[[Spec, Build, float], object]  # what is to stand in the spec
    words: Callable[[Build, float], str]


def _grid(low: float, high: float, step: float) -> list[float]:
    first, last = math.ceil(low / step - ROUNDING), math.floor(high / step + ROUNDING)
    return [round(step * number, 2) for number in range(first, last + 1)]


def _both(now: float, grid: Way) -> tuple[Way, ...]:
    return [value for value in reversed(grid) if value < now], _above(now, grid)


def _above(now: float, grid: Way) -> Way:
    return [value for value in grid if value > now]


def _perch_ways(build: Build) -> tuple[Way, ...]:
    lowest = max(*build.surface_mm(), PERCH_MM)
    grid = _grid(lowest, build.box.height_mm - HEADROOM_MM, PERCH_MM)
    return _both(highest_perch(build).height_mm, grid)


def _with_perch(build: Build, height_mm: float) -> Build:
    """The highest perch at another height; others are lowered with it where they would be above it."""
    highest = highest_perch(build)
    perches = tuple(
        Perch(height_mm if perch == highest else min(perch.height_mm, height_mm), perch.back_mm)
        for perch in build.perches or (highest,)
    )
    return replace(build, perches=perches)


def _perches(spec: Spec, build: Build, height_mm: float) -> object:
    there = _with_perch(build, height_mm).perches
    return [{"height": _plain(perch.height_mm), "back": _plain(perch.back_mm)} for perch in there]


def _plain(value: float) -> float | int:
    return int(value) if value == int(value) else value


def _soil(build: Build) -> Layer | None:
    return build.layers.get("substrate")


def _depth_ways(build: Build) -> tuple[Way, ...]:
    """Depths at the front, below sill and air; never made shallower than diggers want."""
    layer = _soil(build)
    if layer is None or layer.litres <= 0:
        return ()
    slope = _slope_mm(layer)
    front, back = build.surface_mm()
    most_front = layer.front_mm + max(0.0, build.box.sill_mm - front)
    most_back = layer.back_mm + max(0.0, (1 - AIR_SHARE) * build.box.height_mm - back)
    digs = (o.subject.number("substrate_depth_lo_mm") or 0.0 for o in build.occupants)
    least = min(layer.front_mm, max(LEAST_SOIL_MM, max(digs, default=0.0) - slope))
    return _both(layer.front_mm, _grid(least, min(most_front, most_back - slope), DEPTH_MM))


def _slope_mm(layer: Layer) -> float:
    return DEPTH_MM * round((layer.back_mm - layer.front_mm) / DEPTH_MM)


def _with_depth(build: Build, front_mm: float) -> Build:
    """Soil of another depth with the slope that it has."""
    box, layer = build.box, build.layers["substrate"]
    back_mm = front_mm + _slope_mm(layer)
    litres = layer_l(box.width_mm / 1000, box.depth_mm / 1000, front_mm / 1000, back_mm / 1000)
    moved = replace(layer, front_mm=front_mm, back_mm=back_mm, litres=litres, explicit=True)
    return replace(build, layers={**build.layers, "substrate": moved})


def _depths(spec: Spec, build: Build, front_mm: float) -> object:
    ends = {"substrate_front": front_mm, "substrate_back": front_mm + _slope_mm(build.layers["substrate"])}
    return {**(spec.get("depths_mm") or {}), **{end: _plain(depth) for end, depth in ends.items()}}


def _deep(build: Build, front_mm: float) -> str:
    back_mm = front_mm + _slope_mm(build.layers["substrate"])
    return f"soil of {front_mm:g} mm in front and {back_mm:g} mm at the back"


def _night_ways(build: Build) -> tuple[Way, ...]:
    """Up to what the animals need, at which no heater is wanted, and never above the room's day."""
    room, target = build.room, build.climate.night_lo_c
    if target is None:
        return ()
    most = min(target + ROOM_C, room.temperature_c, MOST_ROOM_C)
    return (_above(room.night_temperature_c, _grid(room.night_temperature_c, most, ROOM_C)),)


def _day_ways(build: Build) -> tuple[Way, ...]:
    now, limits = build.room.temperature_c, (build.climate.day_hi_c, build.room.warmest_day_c, MOST_ROOM_C)
    highest = min(limit for limit in limits if limit is not None)
    return (_above(now, _grid(now, highest, ROOM_C)),)


def _humidity_ways(build: Build) -> tuple[Way, ...]:
    now = build.room.relative_humidity_pct
    return (_above(now, _grid(now, MOST_ROOM_PCT, HUMIDITY_PCT)),)


def _cover_ways(build: Build) -> tuple[Way, ...]:
    """Of a mesh top only; of a box with walls of mesh no cover holds the air."""
    if build.box.top_kind != "mesh" or build.box.wall_material == "mesh":
        return ()
    return _both(round(1 - open_share(build), 4), _grid(COVERED, MOST_COVERED, COVERED))


def _typed(spec: Spec, build: Build, value: float) -> object:
    return _plain(value)


def _of_room(name: str, field: str, ways: Callable[[Build], tuple[Way, ...]], words: str) -> Lever:
    """One figure of the room; `words` say it with the figure at `{}`."""

    def moved(build: Build, value: float) -> Build:
        return replace(build, room=replace(build.room, **{field: value}))

    def said(build: Build, value: float) -> str:
        return words.format(f"{value:g}")

    return Lever(name, f"/room/{field}", ways, moved, _typed, said)


PERCH = Lever(
    "the highest perch",
    "/perches_mm",
    _perch_ways,
    _with_perch,
    _perches,
    lambda build, height_mm: f"the highest perch at {height_mm:g} mm",
)
DEPTH = Lever("the depth of the soil", "/depths_mm", _depth_ways, _with_depth, _depths, _deep)
NIGHT = _of_room("the room's night", "night_temperature_c", _night_ways, "the room at {} C at night")
DAY = _of_room("the room's day", "temperature_c", _day_ways, "the room at {} C by day")
HUMIDITY = _of_room(
    "the room's humidity", "relative_humidity_pct", _humidity_ways, "the room at {} % humidity"
)
COVER = Lever(
    "the share of the mesh that is covered",
    "/enclosure/covered_share",
    _cover_ways,
    lambda build, share: replace(build, box=replace(build.box, covered_share=share)),
    _typed,
    lambda build, share: f"{share:.0%} of the mesh covered",
)
LEVERS: Mapping[str, tuple[Lever, ...]] = {
    "substrate": (DEPTH,),
    "uvb_lamp": (PERCH,),
    "basking_lamp": (PERCH, DAY, COVER),
    "night_heat": (NIGHT, COVER),
    "mister": (COVER, HUMIDITY),
    "mesh_cover": (COVER, HUMIDITY),
}
