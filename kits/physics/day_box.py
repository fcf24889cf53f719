"""The state of a simulated box, what moves in it, and its stores and conductances."""

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from kits.physics.air import MOLE_RATIO, humidity_ratio, moist_volume_m3_kg
from kits.physics.day_parts import Enclosure, Heater

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

    Floats = NDArray[numpy.float64]

# Saturation is read many times a step: the formula fills a table that is straight between its entries and
# stays within 5 parts in a million of the formula.
TABLE_FROM_C, TABLE_PER_K, TABLE_STEPS = -45.0, 10, 1440
# Heat of room air for each kilogram of dry air, 1006 + 1860 x 0.0075 (ASHRAE; from memory), a constant.
AIR_J_KG_K = 1020.0
# Heat of evaporation at 24 C, 2501 - 2.326 t kJ/kg (ASHRAE; from memory), taken as constant.
EVAPORATION_J_KG = 2.4452e6
# Convection between still air and a wet face, 2 to 3 W/m2K: estimate.
WET_FACE_W_M2K = 3.0
# Water that hangs on a square metre of leaf or ground before it drips, 0.1 mm: estimate, no source.
FILM_L_M2 = 0.1
# Share of the soil's usable water above which it evaporates freely: estimate.
FREE_SHARE = 0.5


class State(NamedTuple):
    """What the box holds at a moment."""

    air_c: float
    glass_c: float
    soil_c: float
    probe_c: float
    ratio: float
    soil_l: float
    film_l: float
    reservoir_l: float


class Amounts(NamedTuple):
    """What moves during a step: joules with _j, kilograms (which are litres) of water with _l."""

    air_to_glass_j: float
    glass_to_room_j: float
    soil_to_air_j: float
    soil_to_room_j: float
    top_to_room_j: float
    vented_j: float
    heater_j: float
    lamp_air_j: float
    lamp_glass_j: float
    lamp_soil_j: float
    probe_k: float
    from_soil_l: float
    transpired_l: float
    from_film_l: float
    dew_l: float
    fog_l: float
    carried_l: float
    drained_l: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Network:
    """Stores and fixed conductances of a box with its heater."""

    saturated: tuple[float, ...]
    dry_air_kg: float
    dry_air_kg_m3: float
    air_j_k: float
    glass_j_k: float
    soil_j_k: float
    inside_w_k: float
    outside_w_k: float
    soil_w_k: float
    floor_w_k: float
    top_w_k: float
    air_j_kg_k: float
    changes_s: float
    buoyant_s: float
    half_exponent: float
    wet_glass_kg_s: float
    wet_soil_kg_s: float
    wet_film_kg_s: float
    film_full_l: float
    capacity_l: float
    dry_l: float
    free_l: float
    reservoir_full_l: float
    heater_w: float
    heater_soil_share: float
    band_k: float
    lag_s: float


@functools.cache
def saturated_ratios() -> tuple[float, ...]:
    """Humidity ratio of saturated air at each step of the table."""
    return tuple(humidity_ratio(TABLE_FROM_C + step / TABLE_PER_K, 100) for step in range(TABLE_STEPS + 1))


def saturation(table: tuple[float, ...], celsius: float) -> tuple[float, float]:
    """Humidity ratio of saturated air and its slope per kelvin, read between two steps of the table."""
    at = (celsius - TABLE_FROM_C) * TABLE_PER_K
    step = int(at)
    if not 0 <= step < TABLE_STEPS:
        step = 0 if step < 0 else TABLE_STEPS - 1
    rise = table[step + 1] - table[step]
    return table[step] + (at - step) * rise, rise * TABLE_PER_K


def relative_humidities_pct(air_c: "Floats", ratio: "Floats") -> "Floats":
    """Relative humidity of air, from the same table as everything else here."""
    import numpy as np

    steps = np.arange(len(saturated_ratios()))
    full = np.interp((air_c - TABLE_FROM_C) * TABLE_PER_K, steps, saturated_ratios())
    pct: Floats = 100 * ratio / (MOLE_RATIO + ratio) * (MOLE_RATIO + full) / full
    return pct


def network(box: Enclosure, heater: Heater | None, *, air_c: float, ratio: float) -> Network:
    """The stores and conductances, with the density of air at a temperature and humidity ratio."""
    density = 1 / moist_volume_m3_kg(air_c, ratio)
    dry_air = density * box.volume_m3
    wettable = box.leaf_area_m2 + box.floor_area_m2
    half_pane = box.pane_m2k_w / 2
    wet_kg_s_m2 = WET_FACE_W_M2K / AIR_J_KG_K
    return Network(
        saturated=saturated_ratios(),
        dry_air_kg=dry_air,
        dry_air_kg_m3=density,
        air_j_k=dry_air * AIR_J_KG_K,
        glass_j_k=box.wall_capacity_j_k,
        soil_j_k=box.soil_capacity_j_k,
        inside_w_k=box.wall_area_m2 / (box.inside_film_m2k_w + half_pane),
        outside_w_k=box.wall_area_m2 / (box.outside_film_m2k_w + half_pane),
        soil_w_k=box.floor_area_m2 / box.soil_film_m2k_w,
        floor_w_k=box.floor_area_m2 * box.floor_u_w_m2k,
        top_w_k=box.top_area_m2 * box.top_u_w_m2k,
        air_j_kg_k=AIR_J_KG_K,
        changes_s=box.air_changes_h / 3600,
        buoyant_s=box.buoyant_changes_h / 3600,
        half_exponent=box.buoyancy_exponent / 2,
        wet_glass_kg_s=box.wall_area_m2 * wet_kg_s_m2,
        wet_soil_kg_s=box.floor_area_m2 * box.evaporation_factor * wet_kg_s_m2,
        wet_film_kg_s=wettable * wet_kg_s_m2,
        film_full_l=wettable * FILM_L_M2,
        capacity_l=box.container_capacity_l,
        dry_l=box.dry_limit_l,
        free_l=FREE_SHARE * (box.container_capacity_l - box.dry_limit_l),
        reservoir_full_l=box.reservoir_capacity_l,
        heater_w=heater.watts if heater else 0.0,
        heater_soil_share=heater.soil_share if heater else 0.0,
        band_k=heater.band_k if heater else 1.0,
        lag_s=heater.probe_lag_s if heater else 180.0,
    )
