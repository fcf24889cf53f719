"""The state of a simulated box, what moves in it, and its stores and conductances."""

import math
from dataclasses import dataclass
from typing import NamedTuple

from kits.physics.day_parts import Enclosure, Heater

PRESSURE_PA = 101325.0
MOLE_RATIO = 0.621945
DRY_AIR_J_KG_K = 287.042
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
    exponent: float
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


def saturation(celsius: float) -> float:
    """Saturation pressure over water [Pa]."""
    return 610.94 * math.exp(17.625 * celsius / (celsius + 243.04))


def saturated_ratio(celsius: float) -> tuple[float, float]:
    """Humidity ratio of saturated air and its slope per kelvin."""
    pressure = saturation(celsius)
    dry = PRESSURE_PA - pressure
    ratio = MOLE_RATIO * pressure / dry
    # The slope steers the step and needs no more than the form of Magnus.
    return ratio, ratio * PRESSURE_PA / dry * 4283.58 / (celsius + 243.04) ** 2


def humidity_ratio(celsius: float, pct: float) -> float:
    """Humidity ratio of air [kg/kg]."""
    vapour = saturation(celsius) * pct / 100
    return MOLE_RATIO * vapour / (PRESSURE_PA - vapour)


def relative_humidity_pct(celsius: float, ratio: float) -> float:
    """Relative humidity of air with a humidity ratio."""
    return 100 * ratio * PRESSURE_PA / ((MOLE_RATIO + ratio) * saturation(celsius))


def network(box: Enclosure, heater: Heater | None, *, air_c: float, ratio: float) -> Network:
    """The stores and conductances, with the density and heat of air at a temperature and humidity ratio."""
    density = PRESSURE_PA / (DRY_AIR_J_KG_K * (air_c + 273.15) * (1 + ratio / MOLE_RATIO))
    heat = 1006 + 1860 * ratio
    dry_air = density * box.volume_m3
    wettable = box.leaf_area_m2 + box.floor_area_m2
    half_pane = box.pane_m2k_w / 2
    wet_kg_s_m2 = WET_FACE_W_M2K / heat
    return Network(
        dry_air_kg=dry_air,
        dry_air_kg_m3=density,
        air_j_k=dry_air * heat,
        glass_j_k=box.wall_capacity_j_k,
        soil_j_k=box.soil_capacity_j_k,
        inside_w_k=box.wall_area_m2 / (box.inside_film_m2k_w + half_pane),
        outside_w_k=box.wall_area_m2 / (box.outside_film_m2k_w + half_pane),
        soil_w_k=box.floor_area_m2 / box.soil_film_m2k_w,
        floor_w_k=box.floor_area_m2 * box.floor_u_w_m2k,
        top_w_k=box.top_area_m2 * box.top_u_w_m2k,
        air_j_kg_k=heat,
        changes_s=box.air_changes_h / 3600,
        buoyant_s=box.buoyant_changes_h / 3600,
        exponent=box.buoyancy_exponent,
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
