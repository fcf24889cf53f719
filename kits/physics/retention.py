"""How much water and air a soil holds: the retention curve, and a layer drained onto a capillary break."""

import functools
import math
from collections.abc import Callable
from typing import Any

from inventory.calc.checks import finite, not_negative, positive, within
from inventory.calc.errors import Impossible

__all__ = [
    "air_space",
    "air_volume_pct_from_weights",
    "container_capacity",
    "first_watering_l",
    "layer_water_l",
    "particle_density_kg_m3",
    "pore_space_pct_from_weight",
    "sphagnum_retention",
    "suction_at_water_content",
    "total_porosity",
    "water_content",
]

ORGANIC_KG_M3 = 1550.0
ASH_KG_M3 = 2650.0
L_PER_M2_CM = 10.0
# The ranges of alpha in `Valid` span the published sets, silty clay to living sphagnum (kits/data/media.csv).
# Below this relative slope the closed form loses digits and the level layer errs by less than 1e-9.
LEVEL = 1e-4


def water_content(suction_cm: float, theta_r: float, theta_s: float, alpha_per_cm: float, n: float) -> float:
    """Volume of water in a volume of soil at a suction.

    Formula:
        theta = theta_r + (theta_s - theta_r) [1 + (alpha h)^n]^-(1 - 1/n); theta_s at h <= 0
    Args:
        suction_cm: suction head h [cm]; zero or less is below the water table
        theta_r: residual water content [m3/m3]
        theta_s: saturated water content [m3/m3]
        alpha_per_cm: inverse of the height where drainage begins [1/cm]
        n: steepness of the curve [-], above 1
    Returns:
        water content [m3/m3]
    Raises:
        Impossible: not 0 <= theta_r < theta_s <= 1, alpha not above zero, n not above one
    Valid:
        suction_cm ..16000; alpha_per_cm 0.005..1.4; n 1.05..10; a drying curve:
        on wetting the same suction holds less
    Source:
        van Genuchten 1980, Soil Sci. Soc. Am. J. 44:892-898
    Example:
        >>> round(water_content(10, 0.045, 0.43, 0.145, 2.68), 4)
        0.2143
    """
    finite(suction_cm=suction_cm)
    _check_curve(theta_r, theta_s, alpha_per_cm, n)
    if suction_cm <= 0:
        return theta_s
    saturation = math.pow(1 + (alpha_per_cm * suction_cm) ** n, 1 / n - 1)
    return min(theta_s, theta_r + (theta_s - theta_r) * saturation)  # rounding must not overfill it


def suction_at_water_content(
    water_content: float, theta_r: float, theta_s: float, alpha_per_cm: float, n: float
) -> float:
    """Suction that a soil of this water content exerts: the retention curve read backwards.

    Formula:
        h = (1/alpha) [S^(-n/(n-1)) - 1]^(1/n), S = (theta - theta_r) / (theta_s - theta_r)
    Args:
        water_content: water content theta [m3/m3], above theta_r, at most theta_s
        theta_r: residual water content [m3/m3]
        theta_s: saturated water content [m3/m3]
        alpha_per_cm: inverse of the height where drainage begins [1/cm]
        n: steepness of the curve [-], above 1
    Returns:
        suction head [cm]
    Raises:
        Impossible: a water content that the curve never takes, or parameters of no curve
    Valid:
        alpha_per_cm 0.005..1.4; n 1.05..10; a drying curve
    Source:
        van Genuchten 1980, Soil Sci. Soc. Am. J. 44:892-898, solved for the suction
    Example:
        >>> round(suction_at_water_content(0.2143, 0.045, 0.43, 0.145, 2.68), 2)
        10.0
    """
    finite(water_content=water_content)
    _check_curve(theta_r, theta_s, alpha_per_cm, n)
    if not theta_r < water_content <= theta_s:
        raise Impossible("water_content", "must lie above theta_r and not above theta_s")
    saturation = (water_content - theta_r) / (theta_s - theta_r)
    # expm1 keeps the digits of a soil that is almost saturated.
    return float(math.expm1(-math.log(saturation) * n / (n - 1)) ** (1 / n) / alpha_per_cm)


def container_capacity(
    height_cm: float,
    theta_r: float,
    theta_s: float,
    alpha_per_cm: float,
    n: float,
    base_suction_cm: float = 0.0,
) -> float:
    """Mean water content of a level layer after it has drained onto a capillary break.

    Formula:
        CC = (1/H) integral of theta(h) from hb to hb + H = [F(hb + H) - F(hb)] / H,
        F(h) = h {theta_r + (theta_s - theta_r) 2F1(1 - 1/n, 1/n; 1 + 1/n;
        -(alpha h)^n)}, F(h) = theta_s h at h < 0
    Args:
        height_cm: height H of the layer [cm], above zero
        theta_r: residual water content [m3/m3]
        theta_s: saturated water content [m3/m3]
        alpha_per_cm: inverse of the height where drainage begins [1/cm]
        n: steepness of the curve [-], above 1
        base_suction_cm: suction hb at the lower face [cm]; 0 over gravel or an open hole, below 0 in
        standing water
    Returns:
        water content [m3/m3]
    Raises:
        Impossible: a height not above zero, or parameters of no curve
    Valid:
        height_cm 1..100; base_suction_cm -30..60; alpha_per_cm 0.005..1.4; n 1.05..10; straight walls;
        drained to rest, nothing evaporated
    Source:
        Milks, Fonteno and Larson 1989, J. Am. Soc. Hort. Sci. 114(1):53-56 (a curve summed over the
        container)
    Example:
        >>> round(container_capacity(10, 0.045, 0.43, 0.145, 2.68), 4)
        0.3429
        >>> round(container_capacity(10, 0.045, 0.43, 0.145, 2.68, base_suction_cm=3), 4)
        0.2722
    """
    positive(height_cm=height_cm)
    finite(base_suction_cm=base_suction_cm)
    _check_curve(theta_r, theta_s, alpha_per_cm, n)
    top = _column_cm(base_suction_cm + height_cm, theta_r, theta_s, alpha_per_cm, n)
    if base_suction_cm == 0:
        return top / height_cm
    return (top - _column_cm(base_suction_cm, theta_r, theta_s, alpha_per_cm, n)) / height_cm


def air_space(
    height_cm: float,
    theta_r: float,
    theta_s: float,
    alpha_per_cm: float,
    n: float,
    base_suction_cm: float = 0.0,
) -> float:
    """Share of air in a level layer after it has drained onto a capillary break.

    Formula:
        AS = theta_s - CC, CC the container capacity
    Args:
        height_cm: height of the layer [cm], above zero
        theta_r: residual water content [m3/m3]
        theta_s: saturated water content [m3/m3]
        alpha_per_cm: inverse of the height where drainage begins [1/cm]
        n: steepness of the curve [-], above 1
        base_suction_cm: suction at the lower face [cm]; 0 over gravel or an open hole, below 0 in standing
        water
    Returns:
        air space [m3/m3]
    Raises:
        Impossible: a height not above zero, or parameters of no curve
    Valid:
        height_cm 1..100; base_suction_cm -30..60; alpha_per_cm 0.005..1.4; n 1.05..10; straight walls;
        drained to rest, nothing evaporated
    Source:
        Milks, Fonteno and Larson 1989, J. Am. Soc. Hort. Sci. 114(1):53-56
    Example:
        >>> round(air_space(20, 0.20, 0.98, 0.1714, 1.6), 3)
        0.255
    """
    return theta_s - container_capacity(height_cm, theta_r, theta_s, alpha_per_cm, n, base_suction_cm)


def layer_water_l(  # noqa: PLR0913, PLR0917 - a curve and a layer, named as in container_capacity
    area_m2: float,
    front_m: float,
    back_m: float,
    theta_r: float,
    theta_s: float,
    alpha_per_cm: float,
    n: float,
    base_suction_cm: float = 0.0,
) -> float:
    """Water that a soil layer holds when drained, its depth rising evenly from front to back.

    Formula:
        W = A [G(hb + back) - G(hb + front)] / (back - front) - A F(hb), G' = F, F as in container_capacity,
        G(h) = h F(h) - theta_r h^2/2 - (theta_s - theta_r) (h^2/2) 2F1(1 - 1/n, 2/n; 1 + 2/n; -(alpha h)^n)
    Args:
        area_m2: floor area A [m2]
        front_m: depth at the front [m]
        back_m: depth at the back [m]
        theta_r: residual water content [m3/m3]
        theta_s: saturated water content [m3/m3]
        alpha_per_cm: inverse of the height where drainage begins [1/cm]
        n: steepness of the curve [-], above 1
        base_suction_cm: suction hb at the lower face [cm]; 0 over gravel or an open hole, below 0 in
        standing water
    Returns:
        water [L]
    Raises:
        Impossible: an area not above zero, a negative depth, or parameters of no curve
    Valid:
        front_m 0..1; back_m 0..1; base_suction_cm -30..60; alpha_per_cm 0.005..1.4; n 1.05..10;
        a level lower face; water moves up and down only, so on steep slopes the front is wetter than told
    Source:
        the integral of container_capacity over the slope; Milks, Fonteno and Larson 1989 for the principle
    Example:
        >>> round(layer_water_l(0.196249, 0.06, 0.11, 0.1167, 0.85, 0.1444, 1.5605), 2)
        12.57
    """
    positive(area_m2=area_m2)
    not_negative(front_m=front_m, back_m=back_m)
    finite(base_suction_cm=base_suction_cm)
    _check_curve(theta_r, theta_s, alpha_per_cm, n)
    curve = (theta_r, theta_s, alpha_per_cm, n)
    low, high = sorted((front_m * 100, back_m * 100))
    column = _mean_column_cm(base_suction_cm + low, base_suction_cm + high, high, curve)
    return area_m2 * L_PER_M2_CM * (column - _column_cm(base_suction_cm, *curve))


def first_watering_l(
    layer_l: float, container_capacity: float, bagged_moisture: float, settle: float = 0.0
) -> float:
    """Water to add to soil as it comes from the bag until the layer holds all that it can.

    Formula:
        water = layer (CC - moisture (1 + settle)), never below zero
    Args:
        layer_l: settled volume of the layer [L]
        container_capacity: container capacity CC of the layer [m3/m3]
        bagged_moisture: water in the poured soil [m3/m3]
        settle: poured litres beyond the settled ones, as a share [-]
    Returns:
        water [L]
    Raises:
        Impossible: a volume not above zero, a share outside 0 to 1
    Valid:
        bagged_moisture 0..0.6; settle 0..0.5; soil that takes up water: dry peat and bark want wetting first
    Source:
        conservation of water
    Example:
        >>> round(first_watering_l(16.7, 0.74, 0.25, settle=0.125), 2)
        7.66
    """
    positive(layer_l=layer_l)
    within(0, 1, container_capacity=container_capacity, bagged_moisture=bagged_moisture, settle=settle)
    return max(0.0, layer_l * (container_capacity - bagged_moisture * (1 + settle)))


def particle_density_kg_m3(organic_pct: float, ash_pct: float) -> float:
    """Density of the solid matter of a growing medium from what burns and what is left.

    Formula:
        density = 100 / (organic / 1550 + ash / 2650)
    Args:
        organic_pct: organic matter in the dry mass [%]
        ash_pct: ash in the dry mass [%]
    Returns:
        particle density [kg/m3]
    Raises:
        Impossible: a share outside 0 to 100 %, or shares that do not make 100 %
    Valid:
        media without closed pores: perlite and expanded clay are lighter than this
    Source:
        EN 13041, constants from memory
    Example:
        >>> round(particle_density_kg_m3(95, 5), 1)
        1582.9
    """
    within(0, 100, organic_pct=organic_pct, ash_pct=ash_pct)
    if abs(organic_pct + ash_pct - 100) > 0.1:
        raise Impossible("ash_pct", "must make 100 % together with organic_pct")
    return 100 / (organic_pct / ORGANIC_KG_M3 + ash_pct / ASH_KG_M3)


def total_porosity(bulk_density_kg_m3: float, particle_density_kg_m3: float) -> float:
    """Share of a medium that is not solid.

    Formula:
        TP = 1 - bulk density / particle density
    Args:
        bulk_density_kg_m3: dry mass of a volume of the medium [kg/m3]
        particle_density_kg_m3: density of its solid matter [kg/m3]
    Returns:
        total porosity [m3/m3]
    Raises:
        Impossible: a density not above zero, or a bulk density not below the particle density
    Valid:
        media without closed pores
    Source:
        EN 13041, from memory
    Example:
        >>> round(total_porosity(100, 1582.9), 4)
        0.9368
    """
    positive(bulk_density_kg_m3=bulk_density_kg_m3, particle_density_kg_m3=particle_density_kg_m3)
    if bulk_density_kg_m3 >= particle_density_kg_m3:
        raise Impossible("bulk_density_kg_m3", "must be below the particle density")
    return 1 - bulk_density_kg_m3 / particle_density_kg_m3


def pore_space_pct_from_weight(dry_g_l: float) -> float:
    """Total pore space of a substrate from its dry weight alone.

    Formula:
        PS = 96.72 - 0.038 VW
    Args:
        dry_g_l: dry mass VW in a litre of drained substrate [g/L]
    Returns:
        pore space [%]
    Raises:
        Impossible: a dry weight not above zero, or one that leaves no pore space
    Valid:
        media without closed pores
    Source:
        regression on 238 substrates, Acta Horticulturae 294
    Example:
        >>> round(pore_space_pct_from_weight(100), 2)
        92.92
    """
    positive(dry_g_l=dry_g_l)
    pore_space = 96.72 - 0.038 * dry_g_l
    if pore_space <= 0:
        raise Impossible("dry_g_l", "leaves no pore space")
    return pore_space


def air_volume_pct_from_weights(dry_g_l: float, wet_g_ml: float) -> float:
    """Air in a drained substrate from its dry and wet weight.

    Formula:
        AV = 96.72 + 0.062 VW - 100 DD
    Args:
        dry_g_l: dry mass VW in a litre of drained substrate [g/L]
        wet_g_ml: mass DD of a millilitre of drained, wet substrate [g/mL]
    Returns:
        air volume [%]
    Raises:
        Impossible: a weight not above zero, or a wet weight below the dry one or too heavy for any air
    Valid:
        media without closed pores
    Source:
        regression on 238 substrates, Acta Horticulturae 294
    Example:
        >>> round(air_volume_pct_from_weights(100, 0.75), 2)
        27.92
    """
    positive(dry_g_l=dry_g_l, wet_g_ml=wet_g_ml)
    if wet_g_ml * 1000 < dry_g_l:
        raise Impossible("wet_g_ml", "must not be lighter than the dry weight")
    air = 96.72 + 0.062 * dry_g_l - 100 * wet_g_ml
    if air < 0:
        raise Impossible("wet_g_ml", "leaves no air")
    return air


def sphagnum_retention(bulk_density_g_cm3: float, organic_pct: float, depth_cm: float) -> dict[str, float]:
    """Retention curve of Sphagnum peat from its density, organic matter and depth in the bog.

    Formula:
        theta_s = 0.950 - 0.437 BD, log10 n = 0.182 - 0.714 BD,
        log10 alpha = 4.497 - 7.493 BD - 0.046 OM - 0.021 depth, theta_r = 0
    Args:
        bulk_density_g_cm3: dry bulk density BD [g/cm3]
        organic_pct: organic matter OM [%]
        depth_cm: depth in the bog [cm]
    Returns:
        theta_r and theta_s [m3/m3], alpha_per_cm [1/cm] and n [-]
    Raises:
        Impossible: a density not above zero or so high that no curve is left, a share outside 0 to 100 %
    Valid:
        bulk_density_g_cm3 ..0.2; undisturbed bog peat
    Source:
        pedotransfer functions for Sphagnum peat up to 0.2 g/cm3, attributed from memory to Liu and
        Lennartz 2019, Hydrol. Process. 33:101
    Example:
        >>> {key: round(value, 4) for key, value in sphagnum_retention(0.05, 95, 10).items()}
        {'theta_r': 0.0, 'theta_s': 0.9281, 'alpha_per_cm': 0.3486, 'n': 1.4006}
    """
    positive(bulk_density_g_cm3=bulk_density_g_cm3)
    within(0, 100, organic_pct=organic_pct)
    not_negative(depth_cm=depth_cm)
    log_n = 0.182 - 0.714 * bulk_density_g_cm3
    if log_n <= 0:
        raise Impossible("bulk_density_g_cm3", "is too high for a curve of this form")
    log_alpha = 4.497 - 7.493 * bulk_density_g_cm3 - 0.046 * organic_pct - 0.021 * depth_cm
    theta_s = 0.950 - 0.437 * bulk_density_g_cm3
    return {"theta_r": 0.0, "theta_s": theta_s, "alpha_per_cm": 10**log_alpha, "n": 10**log_n}


def _check_curve(theta_r: float, theta_s: float, alpha_per_cm: float, n: float) -> None:
    plain = type(theta_r) is type(theta_s) is type(alpha_per_cm) is type(n) is float
    if plain and 0 <= theta_r < theta_s <= 1 and 0 < alpha_per_cm < math.inf and 1 < n < math.inf:
        return  # a plan asks for dozens of soils: the usual case costs one line
    finite(theta_r=theta_r, theta_s=theta_s, alpha_per_cm=alpha_per_cm, n=n)
    if theta_r < 0:
        raise Impossible("theta_r", "must not be negative")
    if theta_s > 1:
        raise Impossible("theta_s", "must not be above one")
    if theta_s <= theta_r:
        raise Impossible("theta_s", "must be above theta_r")
    if alpha_per_cm <= 0:
        raise Impossible("alpha_per_cm", "must be above zero")
    if n <= 1:
        raise Impossible("n", "must be above one")


def _column_cm(suction_cm: float, theta_r: float, theta_s: float, alpha_per_cm: float, n: float) -> float:
    """F: the water between the water table and a height above it, as a column of pure water."""
    if suction_cm <= 0:
        return theta_s * suction_cm
    z = -((alpha_per_cm * suction_cm) ** n)
    drained = float(_hyp2f1()(1 - 1 / n, 1 / n, 1 + 1 / n, z))
    return suction_cm * (theta_r + (theta_s - theta_r) * drained)


def _column_sum_cm2(
    suction_cm: float, theta_r: float, theta_s: float, alpha_per_cm: float, n: float
) -> float:
    """G: F summed over the height above the water table."""
    half_square = suction_cm * suction_cm / 2
    if suction_cm <= 0:
        return theta_s * half_square
    z = -((alpha_per_cm * suction_cm) ** n)
    drained = float(_hyp2f1()(1 - 1 / n, 2 / n, 1 + 2 / n, z))
    column = _column_cm(suction_cm, theta_r, theta_s, alpha_per_cm, n)
    return suction_cm * column - half_square * (theta_r + (theta_s - theta_r) * drained)


def _mean_column_cm(
    low_cm: float, high_cm: float, deepest_cm: float, curve: tuple[float, float, float, float]
) -> float:
    """Mean of F between two suctions."""
    if high_cm - low_cm <= LEVEL * deepest_cm:
        return _column_cm((low_cm + high_cm) / 2, *curve)
    return (_column_sum_cm2(high_cm, *curve) - _column_sum_cm2(low_cm, *curve)) / (high_cm - low_cm)


@functools.cache
def _hyp2f1() -> Callable[..., Any]:
    from scipy.special import hyp2f1  # loading scipy takes a third of a second; most commands hold no soil

    return hyp2f1  # type: ignore[no-any-return]
