"""UV index at a distance from a lamp, scaled from one trusted meter reading."""

import math

from inventory.calc.checks import finite, not_negative, positive
from inventory.calc.errors import Impossible
from kits.physics.ultraviolet import tube_factor

__all__ = [
    "closest_distance_m",
    "largest_reachable",
    "point_factor",
    "point_uv_index",
    "tube_uv_index",
]

MM_PER_M = 1000.0


def point_factor(distance_m: float, aside_m: float = 0.0) -> float:
    """Shape factor of a small lamp that shines alike in all directions: irradiance per radiant intensity.

    Formula:
        F = h / (h^2 + aside^2)^1.5, which is 1 / h^2 right below
    Args:
        distance_m: height h of the lamp's emitting middle above the spot [m], > 0
        aside_m: distance of the spot from right below the lamp [m]
    Returns:
        factor [1/m2]
    Raises:
        Impossible: a distance not above zero
    Valid:
        distance_m 0.25..10; from about five diameters of the emitting part, here one of 50 mm; a lamp with
        its own reflector dims faster to the side
    Source:
        inverse square and cosine law
    Example:
        >>> point_factor(0.5)
        4.0
    """
    positive(distance_m=distance_m)
    finite(aside_m=aside_m)
    return distance_m / math.hypot(distance_m, aside_m) ** 3


def tube_uv_index(
    reference_uv_index: float,
    reference_distance_m: float,
    lit_length_m: float,
    height_m: float,
    along_m: float = 0.0,
    aside_m: float = 0.0,
    transmission: float = 1.0,
) -> float:
    """UV index at a spot near a tube, from one reading taken below the tube's middle.

    Formula:
        UVI = UVI_ref x transmission x F(height, along, aside) / F(reference distance), F of tube_factor
    Args:
        reference_uv_index: meter reading below the middle, in the fixture, without mesh [-]
        reference_distance_m: distance of that reading from the tube's axis [m], > 0
        lit_length_m: lit length of the tube [m], > 0
        height_m: height of the tube's axis above the spot [m], > 0
        along_m: distance of the spot from the middle, along the tube [m]
        aside_m: distance of the spot from below the axis, across the tube [m]
        transmission: share left by mesh and age since the reading [-]
    Returns:
        UV index [-]
    Raises:
        Impossible: a length or distance not above zero, a negative reading or transmission
    Valid:
        height_m 0.05..2; reference_distance_m 0.1..1; height_m / reference_distance_m 0.2..5; a reading after
        about 100 h of burning-in; a narrow reflector dims faster to the side
    Source:
        cosine law over a line, worked and checked by quadrature
    Example:
        >>> round(tube_uv_index(3.0, 0.30, 0.55, 0.15), 2)
        7.22
    """
    not_negative(reference_uv_index=reference_uv_index, transmission=transmission)
    positive(reference_distance_m=reference_distance_m)
    here = tube_factor(lit_length_m, height_m, along_m, aside_m)
    return reference_uv_index * transmission * here / tube_factor(lit_length_m, reference_distance_m)


def point_uv_index(
    reference_uv_index: float,
    reference_distance_m: float,
    distance_m: float,
    transmission: float = 1.0,
    aside_m: float = 0.0,
) -> float:
    """UV index at a spot below a small lamp, from one reading taken right below it.

    Formula:
        UVI = UVI_ref x transmission x (d_ref / r)^2 x h / r, r^2 = h^2 + aside^2
    Args:
        reference_uv_index: meter reading right below the lamp, without mesh [-]
        reference_distance_m: distance of that reading from the emitting middle [m], > 0
        distance_m: height h of the emitting middle above the spot [m], > 0
        transmission: share left by mesh and age since the reading [-]
        aside_m: distance of the spot from right below the lamp [m]
    Returns:
        UV index [-]
    Raises:
        Impossible: a distance not above zero, a negative reading or transmission
    Valid:
        distance_m 0.25..2; reference_distance_m 0.25..1; a lamp that shines alike in all directions
    Source:
        inverse square and cosine law
    Example:
        >>> point_uv_index(4.0, 0.30, 0.60)
        1.0
    """
    not_negative(reference_uv_index=reference_uv_index, transmission=transmission)
    positive(reference_distance_m=reference_distance_m)
    return reference_uv_index * transmission * reference_distance_m**2 * point_factor(distance_m, aside_m)


def closest_distance_m(
    reference_uv_index: float,
    reference_distance_m: float,
    lit_length_m: float,
    limit_uv_index: float,
    transmission: float = 1.0,
) -> float:
    """Distance below the middle of a lamp at which its UV index is a limit: the closest safe perch.

    Formula:
        F(L, d) = F(L, d_ref) x limit / (UVI_ref x transmission), solved for d by Newton steps on logarithms;
        for a small lamp d = d_ref sqrt(UVI_ref x transmission / limit)
    Args:
        reference_uv_index: meter reading below the middle, in the fixture, without mesh [-], > 0
        reference_distance_m: distance of that reading [m], > 0
        lit_length_m: lit length of the tube, 0 for a small lamp [m]
        limit_uv_index: highest UV index that may be reached [-], > 0
        transmission: share left by mesh and age since the reading [-], > 0
    Returns:
        distance [m]
    Raises:
        Impossible: a reading, distance, limit or transmission not above zero, a negative length
    Valid:
        reference_distance_m 0.1..1; limit_uv_index 0.1..11
    Source:
        cosine law over a line, inverse square law
    Example:
        >>> round(closest_distance_m(3.0, 0.30, 0.55, 7.2183), 3)
        0.15
        >>> closest_distance_m(4.0, 0.30, 0, 1.0)
        0.6
    """
    positive(reference_uv_index=reference_uv_index, reference_distance_m=reference_distance_m)
    positive(limit_uv_index=limit_uv_index, transmission=transmission)
    not_negative(lit_length_m=lit_length_m)
    share = limit_uv_index / (reference_uv_index * transmission)
    if lit_length_m == 0:
        return reference_distance_m / math.sqrt(share)
    return _distance_of_factor(lit_length_m, share * tube_factor(lit_length_m, reference_distance_m))


def largest_reachable(
    reference_uv_index: float,
    reference_distance_m: float,
    lit_length_m: float,
    lamp_height_mm: float,
    highest_reach_mm: float,
    transmission: float = 1.0,
) -> float:
    """Largest UV index that an animal can reach: its highest reach right below the middle of the lamp.

    Formula:
        UVI at the distance (lamp height - highest reach), below the middle
    Args:
        reference_uv_index: meter reading below the middle, in the fixture, without mesh [-]
        reference_distance_m: distance of that reading [m], > 0
        lit_length_m: lit length of the tube, 0 for a small lamp [m]
        lamp_height_mm: height of the lamp's axis above the floor of the box [mm]
        highest_reach_mm: height of the back of the animal at its highest [mm]
        transmission: share left by mesh and age since the reading [-]
    Returns:
        UV index [-]
    Raises:
        Impossible: a reach that is not below the lamp, a distance not above zero, a negative reading
        or length
    Valid:
        lamp_height_mm - highest_reach_mm 50..2000; the middle of the lamp stands over the box
    Source:
        the middle below a lamp is its brightest spot at any height: cosine law
    Example:
        >>> round(largest_reachable(3.0, 0.30, 0.55, 600, 450), 2)
        7.22
    """
    finite(lamp_height_mm=lamp_height_mm, highest_reach_mm=highest_reach_mm)
    not_negative(lit_length_m=lit_length_m)
    if highest_reach_mm >= lamp_height_mm:
        raise Impossible("highest_reach_mm", "must lie below the lamp")
    distance_m = (lamp_height_mm - highest_reach_mm) / MM_PER_M
    if lit_length_m == 0:
        return point_uv_index(reference_uv_index, reference_distance_m, distance_m, transmission)
    return tube_uv_index(
        reference_uv_index, reference_distance_m, lit_length_m, distance_m, transmission=transmission
    )


def _distance_of_factor(length: float, factor: float) -> float:
    """Inverse of the tube factor below the middle.

    On logarithms the factor is concave and falls with a slope between -1 (near) and -2 (far). The start, the
    smaller of the two limiting laws, lies at or beyond the root, and from there Newton steps come down to it.
    """
    distance = min(math.pi / 2 / factor, math.sqrt(length / factor))
    for _ in range(60):
        tangent = length / (2 * distance)
        squared = 1 + tangent * tangent
        swept = math.atan(tangent) + tangent / squared
        slope = -1 - 2 * tangent / (squared * squared * swept)
        step = math.log(swept / distance / factor) / slope
        distance *= math.exp(-step)
        if abs(step) < 1e-13:
            break
    return distance
