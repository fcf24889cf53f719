"""How heavy a box is, empty and filled, and what it asks of the floor."""

from inventory.calc.errors import Impossible

__all__ = ["floor_load_kg_m2", "glass_kg", "kg_m2_from_psf", "pane_area_m2"]

GLASS_KG_M3 = 2500.0
KG_M2_PER_PSF = 0.45359237 / 0.3048**2


def glass_kg(
    width_m: float, depth_m: float, height_m: float, thickness_m: float, open_top: bool = True
) -> float:
    """Mass of the panes of a glass box: floor and four walls, and a glass lid when the top is not open.

    Formula:
        m = 2500 x thickness x (width x depth x (1 or 2) + 2 x height x (width + depth))
    Args:
        width_m: outer width [m]
        depth_m: outer depth [m]
        height_m: outer height [m]
        thickness_m: thickness of every pane [m]
        open_top: whether there is no glass lid
    Returns:
        mass [kg]
    Raises:
        Impossible: a length not above zero
    Valid:
        thickness_m 0.002..0.025; soda-lime float glass; frames, doors and lids of other stuff come on top
    Source:
        density 2500 kg/m3 (EN 572-1, from memory)
    Example:
        >>> round(glass_kg(0.45, 0.45, 0.60, 0.004), 6)
        12.825
    """
    if not thickness_m > 0:
        raise Impossible("thickness_m", "must be above zero")
    return GLASS_KG_M3 * thickness_m * pane_area_m2(width_m, depth_m, height_m, open_top)


def pane_area_m2(width_m: float, depth_m: float, height_m: float, open_top: bool = True) -> float:
    """Area of floor and four walls of a box, and of its lid when the top is not open.

    Formula:
        A = width x depth x (1 or 2) + 2 x height x (width + depth)
    Args:
        width_m: outer width [m]
        depth_m: outer depth [m]
        height_m: outer height [m]
        open_top: whether there is no lid
    Returns:
        area [m2]
    Raises:
        Impossible: a length not above zero
    Valid:
        any box with six rectangular sides; corners are counted twice, which errs on the heavy side
    Source:
        school geometry
    Example:
        >>> round(pane_area_m2(0.45, 0.45, 0.60), 6)
        1.2825
    """
    for name, value in (("width_m", width_m), ("depth_m", depth_m), ("height_m", height_m)):
        if not value > 0:
            raise Impossible(name, "must be above zero")
    floors = 1 if open_top else 2
    return floors * width_m * depth_m + 2 * height_m * (width_m + depth_m)


def floor_load_kg_m2(mass_kg: float, width_m: float, depth_m: float) -> float:
    """What a filled box weighs on each square metre that it stands on.

    Formula:
        q = mass / (width x depth)
    Args:
        mass_kg: mass of the filled box [kg]
        width_m: outer width [m]
        depth_m: outer depth [m]
    Returns:
        load [kg/m2]
    Raises:
        Impossible: a negative mass, a side not above zero
    Valid:
        a box that stands on its whole footprint; the feet of a stand load points, not an area
    Source:
        school physics
    Example:
        >>> round(floor_load_kg_m2(44.2, 0.45, 0.45) / kg_m2_from_psf(1), 1)
        44.7
    """
    if not mass_kg >= 0:
        raise Impossible("mass_kg", "must not be negative")
    for name, value in (("width_m", width_m), ("depth_m", depth_m)):
        if not value > 0:
            raise Impossible(name, "must be above zero")
    return mass_kg / (width_m * depth_m)


def kg_m2_from_psf(psf: float) -> float:
    """Pounds-force on a square foot as kilograms on a square metre.

    Formula:
        q = psf x 0.45359237 / 0.3048^2
    Args:
        psf: floor load, pounds a square foot [lb/ft2]
    Returns:
        load [kg/m2]
    Raises:
        Impossible: a negative load
    Valid:
        exact
    Source:
        international yard and pound agreement of 1959; IRC R301.5 asks 40 psf of rooms, 30 psf of bedrooms
    Example:
        >>> round(kg_m2_from_psf(40), 3)
        195.297
    """
    if not psf >= 0:
        raise Impossible("psf", "must not be negative")
    return psf * KG_M2_PER_PSF
