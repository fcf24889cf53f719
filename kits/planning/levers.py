"""What of a spec can be changed where nothing fills a role, in values that can be typed at the counter."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from kits.effects.airing import open_share
from kits.effects.places import highest_perch
from kits.planning.spec_fields import MOST_COVERED
from kits.terms.build import Build, Perch, Room

PERCH_MM, ROOM_C, HUMIDITY_PCT, COVERED = 5.0, 0.5, 1.0, 0.05  # steps
HEADROOM_MM = 100.0  # no perch is proposed nearer to the top
MOST_ROOM_C = 45.0
MOST_ROOM_PCT = 65.0  # more lets mould grow in a house; common practice, no source
ROUNDING = 1e-9

Way = Sequence[float]  # values from the smallest change to the largest


@dataclass(frozen=True, slots=True)
class Lever:
    """One field of the spec: where it stands, what it can become, and how that is said."""

    name: str
    pointer: str
    ways: Callable[[Build], tuple[Way, ...]]
    moved: Callable[[Build, float], Build]  # the build with this value, good enough to look for the smallest
    value: Callable[[Build, float], object]  # what is to stand in the spec
    words: Callable[[float], str]


def _grid(low: float, high: float, step: float) -> list[float]:
    first, last = math.ceil(low / step - ROUNDING), math.floor(high / step + ROUNDING)
    return [round(step * number, 2) for number in range(first, last + 1)]


def _both(now: float, grid: Way) -> tuple[Way, ...]:
    return [value for value in reversed(grid) if value < now], [value for value in grid if value > now]


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


def _perches(build: Build, height_mm: float) -> object:
    there = _with_perch(build, height_mm).perches
    return [{"height": _plain(perch.height_mm), "back": _plain(perch.back_mm)} for perch in there]


def _plain(value: float) -> float | int:
    return int(value) if value == int(value) else value


def _night_ways(build: Build) -> tuple[Way, ...]:
    """Up to what the animals need, at which no heater is wanted, and never above the room's day."""
    room, target = build.room, build.climate.night_lo_c
    if target is None:
        return ()
    most = min(target + ROOM_C, room.temperature_c, MOST_ROOM_C)
    return ([c for c in _grid(room.night_temperature_c, most, ROOM_C) if c > room.night_temperature_c],)


def _day_ways(build: Build) -> tuple[Way, ...]:
    now, most = build.room.temperature_c, build.climate.day_hi_c
    highest = MOST_ROOM_C if most is None else min(most, MOST_ROOM_C)
    return ([c for c in _grid(now, highest, ROOM_C) if c > now],)


def _humidity_ways(build: Build) -> tuple[Way, ...]:
    now = build.room.relative_humidity_pct
    return ([pct for pct in _grid(now, MOST_ROOM_PCT, HUMIDITY_PCT) if pct > now],)


def _cover_ways(build: Build) -> tuple[Way, ...]:
    """Of a mesh top only; of a box with walls of mesh no cover holds the air."""
    if build.box.top_kind != "mesh" or build.box.wall_material == "mesh":
        return ()
    return _both(round(1 - open_share(build), 4), _grid(COVERED, MOST_COVERED, COVERED))


def _with_room(build: Build, room: Room) -> Build:
    return replace(build, room=room)


def _typed(build: Build, value: float) -> object:
    return _plain(value)


PERCH = Lever(
    "the highest perch",
    "/perches_mm",
    _perch_ways,
    _with_perch,
    _perches,
    lambda height_mm: f"the highest perch at {height_mm:g} mm",
)
NIGHT = Lever(
    "the room's night",
    "/room/night_temperature_c",
    _night_ways,
    lambda build, c: _with_room(build, replace(build.room, night_temperature_c=c)),
    _typed,
    lambda c: f"the room at {c:g} C at night",
)
DAY = Lever(
    "the room's day",
    "/room/temperature_c",
    _day_ways,
    lambda build, c: _with_room(build, replace(build.room, temperature_c=c)),
    _typed,
    lambda c: f"the room at {c:g} C by day",
)
HUMIDITY = Lever(
    "the room's humidity",
    "/room/relative_humidity_pct",
    _humidity_ways,
    lambda build, pct: _with_room(build, replace(build.room, relative_humidity_pct=pct)),
    _typed,
    lambda pct: f"the room at {pct:g} % humidity",
)
COVER = Lever(
    "the share of the mesh that is covered",
    "/enclosure/covered_share",
    _cover_ways,
    lambda build, share: replace(build, box=replace(build.box, covered_share=share)),
    _typed,
    lambda share: f"{share:.0%} of the mesh covered",
)
LEVERS: Mapping[str, tuple[Lever, ...]] = {
    "uvb_lamp": (PERCH,),
    "basking_lamp": (PERCH, DAY, COVER),
    "night_heat": (NIGHT, COVER),
    "mister": (COVER, HUMIDITY),
    "mesh_cover": (COVER, HUMIDITY),
}
