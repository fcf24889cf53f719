"""Spectra weighted by what light of each wavelength does: making of previtamin D3, harm to eye and skin."""

import functools
from collections.abc import Callable, Sequence
from typing import Literal

from inventory.calc.checks import not_negative, positive
from inventory.calc.errors import Impossible
from kits.physics.published import published_column

__all__ = [
    "actinic_irradiance_w_m2",
    "actinic_weight",
    "risk_group",
    "uva_eye_limit_s",
    "vitamin_d_irradiance_w_m2",
    "vitamin_d_weight",
]

# Highest effective irradiance of each risk group [W/m2]: IEC 62471, from memory.
RISK_GROUPS: tuple[tuple[Literal["exempt", "1", "2"], float], ...] = (
    ("exempt", 0.001),
    ("1", 0.003),
    ("2", 0.03),
)
UVA_EYE_LIMIT_J_M2 = 10_000.0


def vitamin_d_weight(wavelength_nm: float) -> float:
    """How strongly light of one wavelength makes previtamin D3 in human skin, against 298 nm.

    Formula:
        table at 1 nm from 252 to 330 nm, straight lines between; 0 outside
    Args:
        wavelength_nm: wavelength [nm], > 0
    Returns:
        weight [-]
    Raises:
        Impossible: a wavelength not above zero
    Valid:
        wavelength_nm 252..330; for ranking lamps only: Norval, Bjorn & de Gruijl 2010 question the spectrum
    Source:
        CIE 174:2006, as tabled in NCAR TUV-x (kits/data/vitamin_d_weights.csv)
    Example:
        >>> vitamin_d_weight(305)
        0.634
    """
    positive(wavelength_nm=wavelength_nm)
    first, weights = _vitamin_d_table()
    place = wavelength_nm - first
    if not 0 <= place <= len(weights) - 1:
        return 0.0
    below = int(place)
    if below == place:
        return weights[below]
    return weights[below] + (place - below) * (weights[below + 1] - weights[below])


def actinic_weight(wavelength_nm: float) -> float:
    """How strongly light of one wavelength harms eye and skin, against 270 nm.

    Formula:
        0.959^(270 - l) to 270 nm; 1 - 0.36 ((l - 270) / 20)^1.64 to 300 nm;
        0.3 x 0.736^(l - 300) + 10^(2 - 0.0163 l) to 400 nm; 0 above
    Args:
        wavelength_nm: wavelength l [nm], > 0
    Returns:
        weight S [-]
    Raises:
        Impossible: a wavelength not above zero
    Valid:
        wavelength_nm 210..400
    Source:
        fit to the table of ICNIRP 2004, Health Phys 87(2):171-186, as used by open photobiology software
    Example:
        >>> round(actinic_weight(310), 6)
        0.014878
    """
    positive(wavelength_nm=wavelength_nm)
    if wavelength_nm <= 270:
        return float(0.959 ** (270 - wavelength_nm))
    if wavelength_nm <= 300:
        return float(1 - 0.36 * ((wavelength_nm - 270) / 20) ** 1.64)
    if wavelength_nm <= 400:
        return float(0.3 * 0.736 ** (wavelength_nm - 300) + 10 ** (2 - 0.0163 * wavelength_nm))
    return 0.0


def risk_group(effective_w_m2: float) -> Literal["exempt", "1", "2", "3"]:
    """Risk group that a lamp falls into by its harm to eye and skin.

    Formula:
        exempt to 0.001 W/m2, 1 to 0.003, 2 to 0.03, 3 above: the day's 30 J/m2 in 30000, 10000 and 1000 s
    Args:
        effective_w_m2: irradiance weighted by harm to eye and skin [W/m2]
    Returns:
        risk group [exempt, 1, 2 or 3]
    Raises:
        Impossible: a negative irradiance
    Valid:
        actinic ultraviolet only, at the distance of the standard (0.2 m, or where a lamp for lighting gives
        500 lx); lamps that are made for their ultraviolet have a part of their own, IEC 62471-6
    Source:
        IEC 62471, limits from memory; they are the 30 J/m2 of ICNIRP 2004 over those times
    Example:
        >>> risk_group(0.021349)
        '2'
    """
    not_negative(effective_w_m2=effective_w_m2)
    return next((group for group, most in RISK_GROUPS if effective_w_m2 <= most), "3")


def uva_eye_limit_s(uva_w_m2: float) -> float:
    """Time in which an unshielded eye takes the UVA allowed in a day.

    Formula:
        t = 10000 J/m2 / E, E the irradiance from 315 to 400 nm without weight
    Args:
        uva_w_m2: irradiance from 315 to 400 nm [W/m2], > 0
    Returns:
        time [s]
    Raises:
        Impossible: an irradiance not above zero
    Valid:
        uva_w_m2 0.1..; a dose within 8 h; the weighted limit of `ultraviolet.exposure_limit_s` holds as well
    Source:
        ICNIRP 2004, Health Phys 87(2):171-186, the 10000 J/m2 from memory
    Example:
        >>> round(uva_eye_limit_s(45.42), 1)
        220.2
    """
    positive(uva_w_m2=uva_w_m2)
    return UVA_EYE_LIMIT_J_M2 / uva_w_m2


def vitamin_d_irradiance_w_m2(wavelength_nm: Sequence[float], irradiance_w_m2_nm: Sequence[float]) -> float:
    """Irradiance of a spectrum weighted by the making of previtamin D3, to rank lamps of equal UV index.

    Formula:
        E = integral of E(l) w(l) dl from 252 to 330 nm, trapezoids on the wavelengths given
    Args:
        wavelength_nm: wavelengths, rising [nm]
        irradiance_w_m2_nm: spectral irradiance at each of them [W/m2 nm]
    Returns:
        weighted irradiance [W/m2]
    Raises:
        Impossible: fewer than two wavelengths, wavelengths that do not rise, lists of unequal length,
        a negative irradiance
    Valid:
        wavelength_nm 252..; step(wavelength_nm, 280, 330) ..1; first(wavelength_nm) ..280;
        last(wavelength_nm) 330..; human skin; for ranking only
    Source:
        CIE 174:2006
    Example:
        >>> round(vitamin_d_irradiance_w_m2(list(range(280, 331)), [0.01] * 51), 4)
        0.2337
    """
    return weighted_irradiance(wavelength_nm, irradiance_w_m2_nm, vitamin_d_weight, 252, 330)


def actinic_irradiance_w_m2(wavelength_nm: Sequence[float], irradiance_w_m2_nm: Sequence[float]) -> float:
    """Irradiance of a spectrum weighted by its harm to eye and skin.

    Formula:
        E_eff = integral of E(l) S(l) dl to 400 nm, trapezoids on the wavelengths given
    Args:
        wavelength_nm: wavelengths, rising [nm]
        irradiance_w_m2_nm: spectral irradiance at each of them [W/m2 nm]
    Returns:
        effective irradiance [W/m2]
    Raises:
        Impossible: fewer than two wavelengths, wavelengths that do not rise, lists of unequal length,
        a negative irradiance
    Valid:
        wavelength_nm 210..; step(wavelength_nm, 280, 400) ..1; first(wavelength_nm) ..280;
        last(wavelength_nm) 400..; a lamp with light below 280 nm wants its spectrum from there
    Source:
        ICNIRP 2004, Health Phys 87(2):171-186
    Example:
        >>> round(actinic_irradiance_w_m2(list(range(280, 401)), [0.001] * 121), 5)
        0.0135
    """
    return weighted_irradiance(wavelength_nm, irradiance_w_m2_nm, actinic_weight, 0, 400)


def weighted_irradiance(
    wavelengths: Sequence[float],
    irradiances: Sequence[float],
    weight: Callable[[float], float],
    low_nm: float,
    high_nm: float,
) -> float:
    """Integral of a weighted spectrum between two limits; a step across a limit is cut there."""
    _check_spectrum(wavelengths, irradiances)
    total = 0.0
    for index in range(len(wavelengths) - 1):
        left, right = wavelengths[index], wavelengths[index + 1]
        start, end = max(left, low_nm), min(right, high_nm)
        if start >= end:
            continue
        slope = (irradiances[index + 1] - irradiances[index]) / (right - left)
        at_start = irradiances[index] + slope * (start - left)
        at_end = irradiances[index] + slope * (end - left)
        total += (end - start) * (at_start * weight(start) + at_end * weight(end)) / 2
    return total


@functools.cache
def _vitamin_d_table() -> tuple[int, tuple[float, ...]]:
    weights = published_column("vitamin_d_weights", "weight")
    return min(map(int, weights)), tuple(weights[code] for code in sorted(weights, key=int))


def _check_spectrum(wavelengths: Sequence[float], irradiances: Sequence[float]) -> None:
    if len(wavelengths) < 2:
        raise Impossible("wavelength_nm", "must hold at least two wavelengths")
    if len(irradiances) != len(wavelengths):
        raise Impossible("irradiance_w_m2_nm", "must hold one number for each wavelength")
    for wavelength in wavelengths:
        positive(wavelength_nm=wavelength)
    for irradiance in irradiances:
        not_negative(irradiance_w_m2_nm=irradiance)
    if any(wavelengths[i] >= wavelengths[i + 1] for i in range(len(wavelengths) - 1)):
        raise Impossible("wavelength_nm", "must rise from each to the next")
