"""UV index, basking warmth and plant light over the section of a box, for the pictures.

Worked out when they are looked at or printed, never for the plan itself. `Equipment` is what stands in each
role: the figures of every piece, bought or the customer's own.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import cos, log, radians
from typing import TYPE_CHECKING

from kits.effects import brightness, sunlight, warmth
from kits.effects.places import basking_spot, highest_perch
from kits.effects.season import shortest_h
from kits.physics import heat
from kits.physics.grids import Grid, Section, section_over
from kits.physics.light import daily_light_integral
from kits.physics.uv_field import PointLamp, TubeLamp, uv_section
from kits.terms.build import Build
from kits.terms.needs import Figures

if TYPE_CHECKING:
    from kits.physics.grids import Array

Equipment = Mapping[str, Sequence[Figures]]
GRID = Grid(across=3, back=41, up=61)
WARM_GRID = Grid(across=3, back=41, up=61)
PROFILE_STEPS = 40
TOP_SHARE = 0.9  # of the air: nearer to the lamps no plant stands
LEAST_DOWN_MM = 20.0
MOST_W_M2 = 3000.0  # beyond that everything burns alike
HALF_POWER = 0.5  # the edge of a beam is where it is half as bright as in its middle


def uv_map(build: Build, equipment: Equipment) -> Section | None:
    """UV index front to back through the middle of the lamp; None without a lamp of which enough is known."""
    lamp = next(iter(equipment.get("uvb_lamp", ())), None)
    read = None if lamp is None else sunlight.reading(lamp)
    if read is None:
        return None
    fixture = next(iter(equipment.get("uvb_fixture", ())), {})
    lamp_at = {
        "reference_uv_index": read.index * sunlight.reflector_share(fixture),
        "reference_distance_mm": 1000 * read.distance_m,
        "x_mm": build.box.width_mm / 2,
        "y_mm": highest_perch(build).back_mm,
        "z_mm": basking_spot(build).lamp_mm,
    }
    shines: TubeLamp | PointLamp
    if read.lit_m is None:
        shines = PointLamp(**lamp_at)
    else:
        shines = TubeLamp(**lamp_at, lit_length_mm=1000 * read.lit_m)
    return uv_section([shines], build.box, "depth", build.box.width_mm / 2, GRID)


def warmth_map(build: Build, equipment: Equipment) -> Section | None:
    """How warm a dry surface gets anywhere below the basking lamp at its set power; None without one [C]."""
    lamp, place = next(iter(equipment.get("basking_lamp", ())), None), warmth.basking_place(build)
    full = warmth.beam(place, lamp) if lamp is not None and place is not None else None
    if lamp is None or place is None or full is None:
        return None
    share = warmth.set_share(place, full)
    bright = full.irradiance_w_m2 * share * (1000 * place.spot.distance_m) ** 2  # W/m2 times mm2, on the axis
    half_deg = (warmth.beam_inputs(lamp, 1.0, 1.0)["beam_deg"]) / 2
    sharpness = log(HALF_POWER) / log(cos(radians(half_deg)))
    lamp_mm, y_mm = place.spot.lamp_mm, highest_perch(build).back_mm

    def found(x: "Array", y: "Array", z: "Array") -> "Array":
        import numpy as np

        down = np.maximum(lamp_mm - z, LEAST_DOWN_MM)
        away2 = (x - build.box.width_mm / 2) ** 2 + (y - y_mm) ** 2
        lean = down / np.sqrt(down**2 + away2)
        irradiance = bright / down**2 * lean ** (sharpness + 3)
        warm = np.vectorize(lambda e: heat.basking_surface_c(min(float(e), MOST_W_M2), place.air_c))
        return np.asarray(warm(np.broadcast_to(irradiance, np.broadcast_shapes(x.shape, y.shape, z.shape))))

    return section_over(build.box, found, "depth", build.box.width_mm / 2, WARM_GRID)


@dataclass(frozen=True, slots=True)
class LightProfile:
    """Daily light by height above the floor, in the middle of the box and at its edge [mol/m2/d]."""

    heights_mm: tuple[float, ...]
    middle: tuple[float, ...]
    edge: tuple[float, ...]


def light_profile(build: Build, equipment: Equipment) -> LightProfile | None:
    """From the ground to just below the lamps; None without a plant light that something is known of.

    Where the lamps follow the seasons it is the light of the darkest month.
    """
    lamps = equipment.get("plant_light", ())
    ground = sum(build.surface_mm()) / 2
    air = build.box.height_mm - ground
    shares = [TOP_SHARE * step / PROFILE_STEPS for step in range(PROFILE_STEPS + 1)]
    rows = [[one for lamp in lamps if (one := brightness.at_level(build, lamp, share))] for share in shares]
    if not rows[0]:
        return None
    hours = shortest_h(build)
    return LightProfile(
        heights_mm=tuple(ground + share * air for share in shares),
        middle=tuple(daily_light_integral(sum(one.middle for one in row), hours) for row in rows),
        edge=tuple(daily_light_integral(sum(one.edge for one in row), hours) for row in rows),
    )
