"""How much air a box exchanges with its room, and how much of a mesh top is left open for that."""

import bisect
import functools
import math
from collections.abc import Callable
from typing import Any

from kits.effects import front_slot
from kits.effects.places import CLOSED_TOPS
from kits.physics import air, airflow
from kits.terms.build import Box, Build
from kits.terms.conditions import LAMPS_WARM_K, humid, humidity_pct, volume_l

CLOSED_PER_H = 1.0  # a closed top with its vents; estimate, measure it
MESH_WALLED_PER_H = 60.0  # a box of mesh takes the room's air; estimate
WIRE_MM = 0.28  # of an insect mesh, where nothing else is known
GOAL_PER_H = 5.0  # what a humid box may exchange and still be held by misting; common practice, no source
LEAST_OPEN = 0.25  # of a mesh top that stays open however dry the room; common practice, no source
STEP = 0.05  # covers are cut to a twentieth of the depth
MOST_SLENDER = 4.0  # of the mesh model: beyond it a longer strip would let less air through
ROUNDING = 1e-9
KELVIN = 273.15
LEAST_K = 0.1  # a box is taken to be at least so much warmer than its room
Exchange = tuple[Callable[..., float], dict[str, Any]]  # a calculation of air let in and out, and its inputs


def warm_air_c(build: Build) -> float:
    """The usual air of the box by day: the middle of the animals' band, never colder than the room."""
    low, high = build.climate.day_lo_c, build.climate.day_hi_c
    room_c = build.room.temperature_c
    middle = room_c if low is None or high is None else (low + high) / 2
    return max(middle, room_c + LAMPS_WARM_K)


def air_changes_h(build: Build, inside_c: float, room_c: float) -> float:
    """Air changes an hour with the cover on that the plan lays; the mesh model is good to a factor of two."""
    return changes_at(build, open_share(build), inside_c, room_c)


def changes_at(build: Build, share: float, inside_c: float, room_c: float) -> float:
    """Air changes an hour with this share of a mesh or open top left open; a measured figure wins.

    It was measured with all of the top open, so that of a cover the model tells only what it leaves.
    """
    box = build.box
    if box.air_changes_h is not None:
        whole = box.wall_material == "mesh" or box.top_kind in CLOSED_TOPS or share == 1
        return box.air_changes_h * (1.0 if whole else _left_by_cover(build, share, inside_c, room_c))
    if box.wall_material == "mesh":
        return MESH_WALLED_PER_H
    if box.top_kind in CLOSED_TOPS:
        return CLOSED_PER_H
    return _modelled(build.box, share, inside_c, room_c)


@functools.lru_cache(maxsize=512)
def _modelled(box: Box, share: float, inside_c: float, room_c: float) -> float:
    """What the model tells; one plan asks for the same a dozen times."""
    exchange = 0.0
    if share > 0:
        function, inputs = _exchange(box, share, inside_c, room_c)
        exchange = function(**inputs)
    return air.air_changes_h(exchange, box.footprint_m2 * box.height_mm / 1000, air.ROOM_DRAUGHTS_H)


def _left_by_cover(build: Build, share: float, inside_c: float, room_c: float) -> float:
    """What is left of the air changes of the whole top when a cover leaves this share of it open."""
    return _modelled(build.box, share, inside_c, room_c) / _modelled(build.box, 1.0, inside_c, room_c)


def band_h(build: Build, inside_c: float, room_c: float) -> tuple[float, float] | None:
    """Between which air changes an hour the true ones lie by the model; None where it is not used."""
    if not exchange_inputs(build, inside_c, room_c):
        return None
    lid_h = max(0.0, air_changes_h(build, inside_c, room_c) - air.ROOM_DRAUGHTS_H)
    band = airflow.exchange_band_m3_s(lid_h)
    return air.ROOM_DRAUGHTS_H + band["low"], air.ROOM_DRAUGHTS_H + band["high"]


def exchange_inputs(build: Build, inside_c: float, room_c: float) -> tuple[Exchange, ...]:
    """The calculation behind the air changes and its arguments; none where they are measured or flat."""
    box = build.box
    if box.air_changes_h is not None or box.wall_material == "mesh" or box.top_kind in CLOSED_TOPS:
        return ()
    return (_exchange(build.box, open_share(build), inside_c, room_c),)


def _exchange(box: Box, share: float, inside_c: float, room_c: float) -> Exchange:
    """By the top alone or by slot and top, whichever gives more: the smaller way is no help to the larger."""
    warm_c = max(inside_c, room_c + LEAST_K)
    lid = _by_the_top(box, share, warm_c, room_c)
    through = front_slot.stack(box, share, warm_c, room_c, top_wire_mm=WIRE_MM)
    if through is None:
        return lid
    return max(lid, through, key=lambda way: way[0](**way[1]))


def _by_the_top(box: Box, share: float, inside_c: float, room_c: float) -> Exchange:
    covered, other = _covered_first(box)
    inputs: dict[str, Any] = {
        "width_m": other / 1000,
        "length_m": share * covered / 1000,
        "inside_c": inside_c,
        "room_c": room_c,
    }
    if box.top_kind != "mesh":
        return air.open_lid_exchange_m3_s, inputs
    mesh = {"opening_mm": _opening_mm(box.top_open_fraction), "wire_mm": WIRE_MM}
    return air.lid_exchange_m3_s, {**inputs, **mesh}


def _opening_mm(open_fraction: float) -> float:
    """Opening between the wires of a square mesh with this open area."""
    root = min(max(open_fraction, 0.01), 0.95) ** 0.5
    return WIRE_MM * root / (1 - root)


def wants_cover(build: Build) -> bool:
    """A humid box below a mesh top in a room whose air, once it is as warm as the box, is too dry for it.

    Where the spec says how much of the mesh is covered, that rules.
    """
    box, (low, _) = build.box, humidity_pct(build)
    if box.wall_material == "mesh" or box.top_kind != "mesh":
        return False
    if box.covered_share is not None:
        return box.covered_share > 0
    return (
        low is not None
        and humid(build)
        and room_air_inside_pct(build) < low
        and open_share_wanted(build) < 1.0
    )


def room_air_inside_pct(build: Build) -> float:
    """Relative humidity of the room's air when it is as warm as the box."""
    room = build.room
    return air.heated_relative_humidity_pct(room.temperature_c, room.relative_humidity_pct, warm_air_c(build))


def open_share(build: Build) -> float:
    """Share of the top that stays open in this plan: all of it where no cover is laid."""
    as_asked = _as_asked(build)
    if "mesh_cover" in build.unmet:
        return 1.0
    if as_asked is not None:
        return as_asked
    if "mesh_cover" in build.without or not wants_cover(build):
        return 1.0
    return open_share_wanted(build)


def _as_asked(build: Build) -> float | None:
    """What the spec leaves open of a mesh top, whoever lays the cover; None where it does not say."""
    box = build.box
    return 1 - box.covered_share if box.covered_share is not None and box.top_kind == "mesh" else None


def open_depth_mm(build: Build) -> float:
    """Depth of the top on which lamps can stand: a cover that was asked for is kept clear of them."""
    as_asked, depth = _as_asked(build), build.box.depth_mm
    return depth if as_asked is None or covered_side_first(build)[0] != depth else as_asked * depth


def open_share_wanted(build: Build) -> float:
    """What was asked for, else the largest share, in twentieths, at which misting can hold a humid box."""
    as_asked = _as_asked(build)
    if as_asked is not None:
        return as_asked
    inside_c, room_c = warm_air_c(build), build.room.temperature_c
    covered, other = covered_side_first(build)
    goal = GOAL_PER_H
    if build.box.air_changes_h is not None:
        goal *= _modelled(build.box, 1.0, inside_c, room_c) / build.box.air_changes_h
    share = _largest_share(
        width_m=covered / 1000,
        length_m=other / 1000,
        opening_mm=_opening_mm(build.box.top_open_fraction),
        wire_mm=WIRE_MM,
        density_ratio=(inside_c - room_c) / ((inside_c + room_c) / 2 + KELVIN),
        volume_m3=volume_l(build) / 1000,
        air_changes_h=max(0.0, goal - air.ROOM_DRAUGHTS_H),
    )
    steps = math.floor(share / STEP + ROUNDING)
    beside = _steps_beside_slot(build.box, inside_c, room_c, goal - air.ROOM_DRAUGHTS_H)
    if beside * STEP >= LEAST_OPEN - ROUNDING:  # a wider slot is not helped by any cover on the top
        steps = min(steps, beside)
    return max(LEAST_OPEN, steps * STEP)


def slot_rules(build: Build) -> bool:
    """Whether the front slot lets in more than misting can hold, however much of the top is covered."""
    if build.box.front_vent is None or not wants_cover(build):
        return False
    return changes_at(build, LEAST_OPEN, warm_air_c(build), build.room.temperature_c) > GOAL_PER_H


@functools.lru_cache(maxsize=256)
def _steps_beside_slot(box: Box, inside_c: float, room_c: float, changes_h: float) -> int:
    """The most twentieths of the top by which no more leaves than so many air changes from the slot."""
    volume_m3 = box.footprint_m2 * box.height_mm / 1000

    def too_many(steps: int) -> bool:
        way = front_slot.stack(box, steps * STEP, inside_c, room_c, top_wire_mm=WIRE_MM)
        return way is not None and air.air_changes_h(way[0](**way[1]), volume_m3) > changes_h

    return bisect.bisect_left(range(round(1 / STEP) + 1), True, key=too_many) - 1


# One plan asks for the same share a score of times, each a search of its own.
_largest_share = functools.lru_cache(maxsize=256)(airflow.open_share_for_air_changes)


def covered_side_first(build: Build) -> tuple[float, float]:
    """The depth, which a cover shortens; of very deep boxes the width, for which the model still holds."""
    return _covered_first(build.box)


def _covered_first(box: Box) -> tuple[float, float]:
    width, depth = box.width_mm, box.depth_mm
    return (depth, width) if depth <= MOST_SLENDER * width else (width, depth)
