"""How heavy a box is, empty and filled, and what it asks of the floor."""

from collections.abc import Sequence
from typing import TypedDict

from inventory.calc.checks import not_negative, positive

__all__ = ["filled_kg", "floor_load_kg_m2", "floor_share", "glass_kg", "kg_m2_from_psf", "pane_area_m2"]

GLASS_KG_M3 = 2500.0
KG_M2_PER_PSF = 0.45359237 / 0.3048**2
ROOM_PSF = 40.0


class Layer(TypedDict):
    """A layer in place and what a litre of it weighs as it lies there, water included."""

    litres: float
    density_kg_l: float


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
    positive(thickness_m=thickness_m)
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
    positive(width_m=width_m, depth_m=depth_m, height_m=height_m)
    floors = 1 if open_top else 2
    return floors * width_m * depth_m + 2 * height_m * (width_m + depth_m)


def filled_kg(empty_kg: float, layers: Sequence[Layer], hardscape_kg: float = 0.0) -> float:
    """Mass of a box with its layers and hardscape in place.

    Formula:
        empty + sum of litres x density + hardscape
    Args:
        empty_kg: mass of the empty box [kg]
        layers: objects with litres and density_kg_l
        hardscape_kg: mass of stones, wood and dishes [kg]
    Returns:
        mass [kg]
    Raises:
        Impossible: a negative mass, volume or density
    Valid:
        layers.density_kg_l 0.02..2; layers as they lie, moist, not as they come from the bag
    Source:
        arithmetic; 0.9 kg/L of moist substrate, 0.5 kg/L of drainage balls and 40 kg of hardscape on a
        square metre are common practice, no source
    Example:
        >>> layers = [{"litres": 20.25, "density_kg_l": 0.9}, {"litres": 10.125, "density_kg_l": 0.5}]
        >>> round(filled_kg(12.825, layers, 8.1), 1)
        44.2
    """
    not_negative(empty_kg=empty_kg, hardscape_kg=hardscape_kg)
    for layer in layers:
        not_negative(**{f"layers.{key}": layer[key] for key in ("litres", "density_kg_l")})
    return empty_kg + sum(layer["litres"] * layer["density_kg_l"] for layer in layers) + hardscape_kg


def floor_share(load_kg_m2: float, floor_psf: float = ROOM_PSF) -> float:
    """What a box asks of its footprint as a share of what a whole room is built for.

    Formula:
        load / (floor_psf x 4.88243)
    Args:
        load_kg_m2: load of the box on its footprint [kg/m2]
        floor_psf: load that the floor is built for, evenly over the room [lb/ft2]
    Returns:
        share [-]
    Raises:
        Impossible: a negative load, a floor not above zero
    Valid:
        a load spread evenly over a room, no limit of one spot: a little above 1 is normal for one filled
        box; above 2, for several side by side, mid-span or on small feet ask an engineer
    Source:
        IRC R301.5: 40 psf (195.297 kg/m2) for rooms, 30 psf for bedrooms; the 2 is common practice, no source
    Example:
        >>> round(floor_share(44.2 / 0.45**2), 2)
        1.12
    """
    not_negative(load_kg_m2=load_kg_m2)
    positive(floor_psf=floor_psf)
    return load_kg_m2 / kg_m2_from_psf(floor_psf)


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
    not_negative(mass_kg=mass_kg)
    positive(width_m=width_m, depth_m=depth_m)
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
    not_negative(psf=psf)
    return psf * KG_M2_PER_PSF
