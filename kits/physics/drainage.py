"""Water that stands in a drainage layer: how much, how high it climbs, how long until the soil drinks it."""

import math

from inventory.calc.checks import not_negative, positive, within

__all__ = [
    "capillary_rise_cm",
    "days_to_siphoning",
    "pore_mm",
    "reservoir_l",
    "safe_level_m",
    "safe_reservoir_l",
]

SURFACE_TENSION_N_M = 0.07275  # water at 20 C
WATER_KG_M3 = 998.2  # at 20 C
GRAVITY_M_S2 = 9.80665
FINEST_PORE = 0.2  # of the grain: the narrowest throats draw water highest
MEAN_PORE = 0.3


def reservoir_l(area_m2: float, depth_m: float, void_fraction: float) -> float:
    """Water between the grains of a drainage layer filled to its brim.

    Formula:
        V = 1000 A d e
    Args:
        area_m2: floor area A [m2]
        depth_m: depth d of the layer [m]
        void_fraction: voids e between the grains [m3/m3]; the specific yield for what drains off again
    Returns:
        water [L]
    Raises:
        Impossible: an area not above zero, a negative depth, a fraction outside 0 to 1
    Valid:
        depth_m 0..0.5; void_fraction 0.1..0.6; water inside porous grains comes on top
    Source:
        definition of the void fraction
    Example:
        >>> round(reservoir_l(0.27, 0.05, 0.40), 2)
        5.4
    """
    positive(area_m2=area_m2)
    not_negative(depth_m=depth_m)
    within(0, 1, void_fraction=void_fraction)
    return 1000 * area_m2 * depth_m * void_fraction


def capillary_rise_cm(pore_mm: float, contact_angle_deg: float = 0.0) -> float:
    """Height that water of 20 C climbs in a pore; none where the wall repels it.

    Formula:
        h = 4 g cos(angle) / (rho G d), surface tension g 0.07275 N/m, rho 998.2 kg/m3, gravity G 9.80665 m/s2
    Args:
        pore_mm: width d of the pore [mm]
        contact_angle_deg: angle between water and wall [deg]; 0 wets fully, 90 and more not at all
    Returns:
        rise [cm]
    Raises:
        Impossible: a pore not above zero, an angle outside 0 to 180
    Valid:
        pore_mm 0.01..5; contact_angle_deg 0..90; clean mineral 0 to 30 deg, dry peat and bark 60 to 110 deg
        (from memory)
    Source:
        Jurin's law
    Example:
        >>> round(capillary_rise_cm(1), 3)
        2.973
    """
    positive(pore_mm=pore_mm)
    within(0, 180, contact_angle_deg=contact_angle_deg)
    if contact_angle_deg >= 90:
        return 0.0
    pull = 4 * SURFACE_TENSION_N_M * math.cos(math.radians(contact_angle_deg))
    return 100 * pull / (WATER_KG_M3 * GRAVITY_M_S2 * pore_mm / 1000)


def pore_mm(grain_mm: float, share: float = MEAN_PORE) -> float:
    """Width of the pores between grains of one size, an estimate.

    Formula:
        d = share x grain
    Args:
        grain_mm: size of the grains [mm]
        share: pore throat as a share of the grain [-]
    Returns:
        pore width [mm]
    Raises:
        Impossible: a grain not above zero, a share outside 0 to 1
    Valid:
        share 0.2..0.4; grains of one size without fines
    Source:
        0.2 to 0.4 of the grain size, from memory; estimate
    Example:
        >>> round(pore_mm(10), 2)
        3.0
    """
    positive(grain_mm=grain_mm, share=share)
    within(0, 1, share=share)
    return share * grain_mm


def safe_level_m(depth_m: float, grain_mm: float) -> float:
    """Highest water level in a drainage layer from which the soil above draws nothing; 0 where there is none.

    Formula:
        level = max(0, depth - h(0.2 grain)), h Jurin's rise in the narrowest pore on fully wetting grains
    Args:
        depth_m: depth of the drainage layer [m]
        grain_mm: size of its grains [mm]
    Returns:
        level above the floor [m]
    Raises:
        Impossible: a negative depth, a grain not above zero
    Valid:
        grain_mm 2..30; grains of one size, washed; a sheet between layers keeps fines out and changes
        nothing else
    Source:
        Jurin's law with the narrowest pore of an estimate (0.2 to 0.4 of the grain, from memory)
    Example:
        >>> round(safe_level_m(0.05, 10), 4)
        0.0351
    """
    not_negative(depth_m=depth_m)
    positive(grain_mm=grain_mm)
    return max(0.0, depth_m - capillary_rise_cm(pore_mm(grain_mm, FINEST_PORE)) / 100)


def safe_reservoir_l(area_m2: float, depth_m: float, void_fraction: float, grain_mm: float) -> float:
    """Water that may stand in a drainage layer without the soil above drawing on it.

    Formula:
        V = 1000 A e max(0, depth - h(0.2 grain)), h Jurin's rise
    Args:
        area_m2: floor area A [m2]
        depth_m: depth of the drainage layer [m]
        void_fraction: voids e between the grains [m3/m3]
        grain_mm: size of the grains [mm]
    Returns:
        water [L]
    Raises:
        Impossible: an area or a grain not above zero, a negative depth, a fraction outside 0 to 1
    Valid:
        grain_mm 2..30; depth_m 0..0.5; void_fraction 0.1..0.6
    Source:
        Jurin's law with the narrowest pore of an estimate (0.2 to 0.4 of the grain, from memory)
    Example:
        >>> round(safe_reservoir_l(0.27, 0.05, 0.40, 10), 2)
        3.79
    """
    positive(area_m2=area_m2)
    return reservoir_l(area_m2, safe_level_m(depth_m, grain_mm), void_fraction)


def days_to_siphoning(
    safe_l: float, in_l_day: float, out_l_day: float, drained_share: float = 1.0, standing_l: float = 0.0
) -> float | None:
    """Days until the standing water reaches the level from which the soil begins to draw; null for never.

    Formula:
        days = (safe - standing) / [drained share x (in - out)]; null where in <= out or nothing drains
    Args:
        safe_l: water that may stand in the layer [L]
        in_l_day: misting and watering [L/day]
        out_l_day: evaporation and transpiration [L/day]
        drained_share: share of the surplus that ends in the layer, the rest running off elsewhere [-]
        standing_l: water that stands there now [L]
    Returns:
        time, null for never [days]
    Raises:
        Impossible: a negative volume or rate, a share outside 0 to 1
    Valid:
        soil at its container capacity: drier soil takes up water first, and rates that stay as they are
    Source:
        conservation of water
    Example:
        >>> round(days_to_siphoning(3.79, 0.30, 0.22), 1)
        47.4
        >>> days_to_siphoning(3.79, 0.20, 0.22) is None
        True
    """
    not_negative(safe_l=safe_l, in_l_day=in_l_day, out_l_day=out_l_day, standing_l=standing_l)
    within(0, 1, drained_share=drained_share)
    if standing_l >= safe_l:
        return 0.0
    gain = drained_share * (in_l_day - out_l_day)
    return (safe_l - standing_l) / gain if gain > 0 else None
