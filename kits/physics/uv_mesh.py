"""How much light a woven mesh or cloth lets through."""

import math

from inventory.calc.checks import finite, not_negative, positive
from inventory.calc.errors import Impossible

__all__ = [
    "cloth_transmission",
    "oblique_open_fraction",
    "rectangular_open_fraction",
    "wire_mm_from_open_fraction",
]


def rectangular_open_fraction(first_pitch_mm: float, second_pitch_mm: float, wire_mm: float) -> float:
    """Share of a rectangular-woven mesh that is open, seen straight on.

    Formula:
        (1 - d / p1) (1 - d / p2)
    Args:
        first_pitch_mm: distance p1 from wire to wire, middle to middle [mm]
        second_pitch_mm: the same across [mm]
        wire_mm: wire thickness d [mm]
    Returns:
        open fraction [-]
    Raises:
        Impossible: a pitch not above zero or not above the wire, a negative wire
    Valid:
        wire_mm 0.05..3; first_pitch_mm 0.35..33; second_pitch_mm 0.35..33; light that falls in straight
    Source:
        geometry
    Example:
        >>> round(rectangular_open_fraction(25.4 / 18, 25.4 / 16, 0.2794), 6)
        0.660848
    """
    _check_weave(wire_mm, first_pitch_mm=first_pitch_mm, second_pitch_mm=second_pitch_mm)
    return (1 - wire_mm / first_pitch_mm) * (1 - wire_mm / second_pitch_mm)


def oblique_open_fraction(opening_mm: float, wire_mm: float, angle_deg: float) -> float:
    """Share of a square-woven mesh that is open to light which leans along one of its two weaves.

    Formula:
        (1 - d / p) (1 - d / (p cos t)), p = w + d, never below 0
    Args:
        opening_mm: clear opening w between wires [mm], > 0
        wire_mm: wire thickness d [mm]
        angle_deg: angle t of the light from straight on [deg]
    Returns:
        open fraction [-]
    Raises:
        Impossible: an opening not above zero, a negative wire, an angle not from 0 to below 90
    Valid:
        angle_deg 0..80; wire_mm 0.05..3; opening_mm 0.3..30; round wires that reflect nothing
    Source:
        geometry
    Example:
        >>> round(oblique_open_fraction(1.1316, 0.2794, 60), 3)
        0.484
    """
    positive(opening_mm=opening_mm)
    not_negative(wire_mm=wire_mm)
    finite(angle_deg=angle_deg)
    if not 0 <= angle_deg < 90:
        raise Impossible("angle_deg", "must lie from 0 to below 90")
    hidden = wire_mm / (opening_mm + wire_mm)
    return (1 - hidden) * max(0.0, 1 - hidden / math.cos(math.radians(angle_deg)))


def wire_mm_from_open_fraction(first_pitch_mm: float, second_pitch_mm: float, open_fraction: float) -> float:
    """Wire thickness of a mesh whose pitches and open fraction are known.

    Formula:
        d = [(p1 + p2) - sqrt((p1 + p2)^2 - 4 p1 p2 (1 - b))] / 2, the smaller root of (1-d/p1)(1-d/p2) = b
    Args:
        first_pitch_mm: distance p1 from wire to wire, middle to middle [mm]
        second_pitch_mm: the same across [mm]
        open_fraction: open fraction b [-]
    Returns:
        wire thickness [mm]
    Raises:
        Impossible: a pitch not above zero, an open fraction not from 0 to 1
    Valid:
        open_fraction 0.05..0.95; first_pitch_mm 0.35..33; second_pitch_mm 0.35..33
    Source:
        geometry; the worked screen is that of Lopez et al. 2016
    Example:
        >>> round(wire_mm_from_open_fraction(0.5, 1.0, 0.35), 5)
        0.26266
    """
    positive(first_pitch_mm=first_pitch_mm, second_pitch_mm=second_pitch_mm)
    finite(open_fraction=open_fraction)
    if not 0 <= open_fraction <= 1:
        raise Impossible("open_fraction", "must lie from 0 to 1")
    both, product = first_pitch_mm + second_pitch_mm, first_pitch_mm * second_pitch_mm
    closed = 1 - open_fraction
    # Multiplied through by the conjugate, so that a nearly open mesh loses no digits.
    return 2 * product * closed / (both + math.sqrt(max(0.0, both * both - 4 * product * closed)))


def cloth_transmission(protection_factor: float) -> float:
    """Share of the UV index that a cloth over the top lets through, by the factor on its label.

    Formula:
        T = 1 / protection factor
    Args:
        protection_factor: ultraviolet protection factor (SPF, UPF) of the cloth, dry and not stretched [-]
    Returns:
        share of the UV index [-], 1 for a cloth that protects from nothing
    Raises:
        Impossible: a factor below 1
    Valid:
        protection_factor 1..50; a factor is read from 290 nm, and a lamp has other wavelengths than the sun
    Source:
        definition; shade cloths sold as 50, 75 and 90 % had 3.5, 4.2 and 5.8 outdoors, Schmalwieser et al.,
        Vet. Dermatol., doi 10.1111/vde.13290: what a cloth shades is no measure of its UV
    Example:
        >>> round(cloth_transmission(3.5), 4)
        0.2857
    """
    finite(protection_factor=protection_factor)
    if protection_factor < 1:
        raise Impossible("protection_factor", "must be at least 1")
    return 1 / protection_factor


def _check_weave(wire_mm: float, **pitches: float) -> None:
    not_negative(wire_mm=wire_mm)
    positive(**pitches)
    for name, pitch in pitches.items():
        if pitch <= wire_mm:
            raise Impossible(name, "must be larger than the wire is thick")
