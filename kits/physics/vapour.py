"""Where the vapour of a box comes from and where it goes: mist, wet faces, leaves, and the glass it fogs."""

from inventory.calc.checks import not_negative, positive, within
from inventory.calc.errors import Impossible
from kits.physics.air import (
    DRY_AIR_J_KGK,
    HOURS_A_DAY,
    LIGHTNESS,
    PRESSURE_PA,
    absolute_humidity_g_m3,
    humidity_ratio,
    relative_humidity_pct,
    saturation_pressure_pa,
)
from kits.physics.checks import ZERO_K, celsius, percent
from kits.physics.heat import AIR_J_KGK, R_SIDE, SECONDS_AN_HOUR

__all__ = [
    "evaporation_l_m2_day",
    "fogging_humidity_pct",
    "humidity_held_pct",
    "misting_minutes_day",
    "planting_evaporation_l_day",
    "transpiration_g_m2_day",
]

SECONDS_A_DAY = HOURS_A_DAY * SECONDS_AN_HOUR
VAPOUR_J_KGK = 1860.0
# A layer of leaves halves what wet soil gives off: lysimeters with and without mulch (auf.isa-arbor.com table
# 2994) and Kuwait J. Sci. 3085.
LITTER_FACTOR = 0.5
# Resistances of a leaf and of the air around it: Ehrler and van Bavel 1968, Plant Physiol 43:208, eight
# species: 15 to 70 s/cm in the dark, 1 s/cm at 40 klux. That it falls with 1 / light is assumed.
LEAF_AIR_S_M, DARK_LEAF_S_M, LIT_LEAF_S_M_KLUX = 100.0, 4000.0, 4000.0


def humidity_held_pct(
    litres_day: float, volume_m3: float, air_changes_h: float, inside_c: float, room_c: float, room_pct: float
) -> float:
    """Relative humidity that so much evaporating water holds: the inverse of air.misting_l_day.

    Formula:
        W inside at which 24 x air changes x volume x (W inside - W room) / v inside = litres a day
    Args:
        litres_day: water that evaporates, 1 kg taken as 1 L [L/d]
        volume_m3: volume of air in the enclosure [m3]
        air_changes_h: air changes [1/h]
        inside_c: temperature in the enclosure [C]
        room_c: temperature of the room [C]
        room_pct: relative humidity of the room [%]
    Returns:
        relative humidity, at most 100, where the rest stays wet [%]
    Raises:
        Impossible: a volume or air changes not above zero, negative water, a humidity outside 0 to 100
    Valid:
        inside_c 0..45; room_c 0..45; air_changes_h 0.5..200; steady and well mixed, the mean of the day
    Source:
        vapour balance; humidity ratio and volume of the ASHRAE Handbook Fundamentals 2017 ch. 1 (from memory)
    Example:
        >>> round(humidity_held_pct(0.10, 0.1215, 5, 26, 22, 45), 1)
        63.2
    """
    positive(volume_m3=volume_m3, air_changes_h=air_changes_h)
    not_negative(litres_day=litres_day)
    percent(room_pct=room_pct)
    celsius(inside_c=inside_c)
    moved = HOURS_A_DAY * air_changes_h * volume_m3
    room = humidity_ratio(room_c, room_pct)
    taken = litres_day * DRY_AIR_J_KGK * (inside_c + ZERO_K) / PRESSURE_PA
    if taken * LIGHTNESS >= moved:
        return 100.0
    inside = (moved * room + taken) / (moved - taken * LIGHTNESS)
    return min(100.0, relative_humidity_pct(inside_c, inside))


def misting_minutes_day(litres_day: float, nozzles: int, nozzle_l_min: float = 0.08) -> float:
    """How long a mister has to run in a day for so much water.

    Formula:
        litres a day / (nozzles x litres a minute of one)
    Args:
        litres_day: water to spray, with what runs off [L/d]
        nozzles: number of nozzles [-]
        nozzle_l_min: water of one nozzle [L/min]
    Returns:
        time [min/d]
    Raises:
        Impossible: negative water, no nozzle, a nozzle that gives nothing
    Valid:
        nozzle_l_min 0.02..0.3; nozzles at the pressure of their rating: fill a cup and measure
    Source:
        arithmetic; 0.08 L/min of a fine nozzle is from memory
    Example:
        >>> round(misting_minutes_day(0.16, 1), 2)
        2.0
    """
    not_negative(litres_day=litres_day)
    positive(nozzles=nozzles, nozzle_l_min=nozzle_l_min)
    return litres_day / (nozzles * nozzle_l_min)


def fogging_humidity_pct(
    inside_c: float, room_c: float, pane_u_w_m2k: float, r_inside: float = R_SIDE
) -> float:
    """Relative humidity above which the inside of a pane fogs.

    Formula:
        Tsi = inside - U x r_inside x (inside - room); 100 x p saturation(Tsi) / p saturation(inside)
    Args:
        inside_c: temperature in the enclosure [C]
        room_c: temperature on the other side of the pane [C]
        pane_u_w_m2k: U-value of the pane [W/m2K]
        r_inside: resistance of the inner surface that the U-value was made with [m2K/W]
    Returns:
        relative humidity, 100 where the pane is not the colder [%]
    Raises:
        Impossible: a negative U-value or resistance, a surface colder than the room, absolute zero
    Valid:
        inside_c 0..45; room_c -20..45; pane_u_w_m2k 1..6; the middle of the pane in still air
    Source:
        ISO 6946 for the surface, resistances from memory; saturation as in air.saturation_pressure_pa
    Example:
        >>> round(fogging_humidity_pct(26, 20, 1 / 0.264), 1)
        83.8
    """
    celsius(inside_c=inside_c, room_c=room_c)
    not_negative(pane_u_w_m2k=pane_u_w_m2k, r_inside=r_inside)
    if pane_u_w_m2k * r_inside > 1:
        raise Impossible("pane_u_w_m2k", "must not exceed 1 / r_inside: the pane itself resists too")
    surface_c = inside_c - pane_u_w_m2k * r_inside * (inside_c - room_c)
    return min(100.0, 100 * saturation_pressure_pa(surface_c) / saturation_pressure_pa(inside_c))


def evaporation_l_m2_day(
    water_c: float, air_c: float, air_pct: float, convection_w_m2k: float = 3.0
) -> float:
    """Water that a wet face gives to the air in a day; negative where the air dews on it.

    Formula:
        86400 x convection / (1006 + 1860 W air) x (W saturated at the water - W air)
    Args:
        water_c: temperature of the wet face [C]
        air_c: temperature of the air [C]
        air_pct: relative humidity of the air [%]
        convection_w_m2k: heat transfer to the air, 2 to 3 in still air, 5 in a breeze [W/m2K]
    Returns:
        water, 1 kg taken as 1 L [L/m2d]
    Raises:
        Impossible: a humidity outside 0 to 100, a negative heat transfer, vapour that outweighs the air
    Valid:
        water_c 0..45; air_c 0..45; convection_w_m2k 2..10; a face that stays wet and keeps its temperature
    Source:
        Lewis relation (from memory), heat and vapour carried alike; pool formulas give 0.6 to 2 times as much
    Example:
        >>> round(evaporation_l_m2_day(24, 25, 50), 3)
        2.277
    """
    not_negative(convection_w_m2k=convection_w_m2k)
    air = humidity_ratio(air_c, air_pct)
    carried = convection_w_m2k / (AIR_J_KGK + VAPOUR_J_KGK * air)
    return SECONDS_A_DAY * carried * (humidity_ratio(water_c, 100.0) - air)


def transpiration_g_m2_day(
    temperature_c: float, relative_humidity_pct: float, klux: float, hours: float = 12.0
) -> float:
    """Water that a square metre of leaves gives off in a day.

    Formula:
        vapour missing to saturation x (lit seconds / (r_lit + 100) + dark seconds / (4000 + 100));
        r_lit = 4000 / klux, at most 4000 s/m
    Args:
        temperature_c: temperature of air and leaves [C]
        relative_humidity_pct: relative humidity [%]
        klux: light on the leaves while it is lit [klx]
        hours: hours of light in a day [h]
    Returns:
        water for each square metre of leaf [g/m2d]
    Raises:
        Impossible: a humidity outside 0 to 100, a negative light, hours outside 0 to 24
    Valid:
        temperature_c 15..35; klux 0..40; relative_humidity_pct 30..95; leaves that have water; an estimate
    Source:
        resistances of Ehrler and van Bavel 1968, Plant Physiol 43:208, eight species; that the leaf opens
        in proportion to light is assumed
    Example:
        >>> round(transpiration_g_m2_day(26, 80, 10), 0)
        472.0
    """
    not_negative(klux=klux)
    within(0, HOURS_A_DAY, hours=hours)
    percent(relative_humidity_pct=relative_humidity_pct)
    missing = (1 - relative_humidity_pct / 100) * absolute_humidity_g_m3(temperature_c, 100.0)
    lit = min(DARK_LEAF_S_M, LIT_LEAF_S_M_KLUX / klux) if klux > 0 else DARK_LEAF_S_M
    shares = hours / (lit + LEAF_AIR_S_M) + (HOURS_A_DAY - hours) / (DARK_LEAF_S_M + LEAF_AIR_S_M)
    return missing * SECONDS_AN_HOUR * shares


def planting_evaporation_l_day(
    wet_m2: float,
    evaporation_l_m2_day: float,
    leaf_m2: float,
    transpiration_g_m2_day: float,
    soil_factor: float = LITTER_FACTOR,
) -> float:
    """Water that soil and plants of a box would give off in a day, unless the air can carry away only less.

    Formula:
        soil_factor x wet area x evaporation + leaf area x transpiration / 1000
    Args:
        wet_m2: area of the wet soil [m2]
        evaporation_l_m2_day: evaporation of a bare wet face [L/m2d]
        leaf_m2: area of all leaves, one side [m2]
        transpiration_g_m2_day: water of the leaves [g/m2d]
        soil_factor: 0.5 below a layer of leaves, 1 for bare soil [-]
    Returns:
        water [L/d]
    Raises:
        Impossible: a negative area, evaporation, transpiration or factor
    Valid:
        soil_factor 0..1; soil that stays moist; the air carries away no more than air.misting_l_day
        at 100 % inside
    Source:
        litter halves the evaporation of wet soil (lysimeters with mulch, and Kuwait J. Sci. 3085); the sum
        is an estimate, no measured planted box has been found
    Example:
        >>> round(planting_evaporation_l_day(0.2, 0.9, 0.3, 471), 3)
        0.231
    """
    not_negative(wet_m2=wet_m2, evaporation_l_m2_day=evaporation_l_m2_day, leaf_m2=leaf_m2)
    not_negative(transpiration_g_m2_day=transpiration_g_m2_day, soil_factor=soil_factor)
    return soil_factor * wet_m2 * evaporation_l_m2_day + leaf_m2 * transpiration_g_m2_day / 1000
