"""What ultraviolet light does: UV index of a spectrum or tube, the keeper's exposure, zones of animals."""

import math
from collections.abc import Sequence
from typing import Literal, TypedDict

from inventory.calc.checks import finite, not_negative, positive
from inventory.calc.errors import Impossible
from kits.physics.uv_weights import weighted_irradiance

__all__ = [
    "erythemal_weight",
    "exposure_limit_s",
    "keeper_limit_min",
    "mesh_open_fraction",
    "seconds_to_standard_erythema_dose",
    "tube_factor",
    "uv_index",
    "uv_index_from_erythemal",
    "zone",
    "zone_band",
    "zone_method",
]

INDEX_PER_W_M2 = 40.0
STANDARD_ERYTHEMA_DOSE_J_M2 = 100.0
EXPOSURE_LIMIT_J_M2 = 30.0
LAMP_HARM = 0.457  # of a spectrum flat from 290 to 400 nm: twice the sun's, so to the safe side of most lamps
SECONDS_PER_MINUTE = 60.0
# Averages were seen on two pages that restate Ferguson et al. 2010, maxima on one of them.
ZONES = {
    1: ((0.0, 0.7), (0.6, 1.4)),
    2: ((0.7, 1.0), (1.1, 3.0)),
    3: ((1.0, 2.6), (2.9, 7.4)),
    4: ((2.6, 3.5), (4.5, 9.5)),
}


class ZoneBand(TypedDict):
    """UV index wanted by animals of a zone."""

    average: list[float]
    maximum: list[float]


def erythemal_weight(wavelength_nm: float) -> float:
    """How strongly light of one wavelength reddens skin, against 298 nm and below.

    Formula:
        1 to 298 nm; 10^(0.094 (298 - l)) to 328 nm; 10^(0.015 (140 - l)) to 400 nm; 0 outside 250 to 400 nm
    Args:
        wavelength_nm: wavelength l [nm], > 0
    Returns:
        weight [-]
    Raises:
        Impossible: a wavelength not above zero
    Valid:
        wavelength_nm 250..400
    Source:
        ISO/CIE 17166 erythema reference action spectrum; 140 rather than the older 139 joins the pieces
    Example:
        >>> round(erythemal_weight(300), 6)
        0.648634
    """
    positive(wavelength_nm=wavelength_nm)
    if not 250 <= wavelength_nm <= 400:
        return 0.0
    if wavelength_nm <= 298:
        return 1.0
    if wavelength_nm <= 328:
        return float(10 ** (0.094 * (298 - wavelength_nm)))
    return float(10 ** (0.015 * (140 - wavelength_nm)))


def uv_index(wavelength_nm: Sequence[float], irradiance_w_m2_nm: Sequence[float]) -> float:
    """UV index of a measured spectrum.

    Formula:
        UVI = 40 x integral of E(l) s(l) dl from 250 to 400 nm, trapezoids on the wavelengths given
    Args:
        wavelength_nm: wavelengths, rising [nm]
        irradiance_w_m2_nm: spectral irradiance at each of them [W/m2 nm]
    Returns:
        UV index [-]
    Raises:
        Impossible: fewer than two wavelengths, wavelengths that do not rise, lists of unequal length,
        a negative irradiance
    Valid:
        wavelength_nm 250..; step(wavelength_nm, 280, 400) ..1; first(wavelength_nm) ..280;
        last(wavelength_nm) 400..; wider steps miss the steep part, what is not covered counts as dark,
        and a lamp with light below 280 nm wants its spectrum from there
    Source:
        WHO, WMO, UNEP, ICNIRP 2002, Global Solar UV Index; weight of ISO/CIE 17166
    Example:
        >>> round(uv_index(list(range(280, 401)), [0.001] * 121), 3)
        0.907
    """
    return uv_index_from_erythemal(
        weighted_irradiance(wavelength_nm, irradiance_w_m2_nm, erythemal_weight, 250, 400)
    )


def uv_index_from_erythemal(erythemal_w_m2: float) -> float:
    """UV index of an erythemally weighted irradiance.

    Formula:
        UVI = 40 m2/W x E_er
    Args:
        erythemal_w_m2: erythemal irradiance [W/m2]
    Returns:
        UV index [-]
    Raises:
        Impossible: a negative irradiance
    Valid:
        a reading weighted by skin reddening; a broadband UVB reading is none and cannot be converted
    Source:
        WHO, WMO, UNEP, ICNIRP 2002, Global Solar UV Index
    Example:
        >>> uv_index_from_erythemal(0.025)
        1.0
    """
    not_negative(erythemal_w_m2=erythemal_w_m2)
    return INDEX_PER_W_M2 * erythemal_w_m2


def exposure_limit_s(effective_w_m2: float) -> float:
    """Time in which unshielded eyes or skin of the keeper take the dose allowed in a day.

    Formula:
        t = 30 J/m2 / E_eff
    Args:
        effective_w_m2: irradiance weighted by harm to eye and skin [W/m2], > 0
    Returns:
        time [s]
    Raises:
        Impossible: an irradiance not above zero
    Valid:
        effective_w_m2 0.001..; a dose within 8 h; people only; light-sensitive people need less
    Source:
        ICNIRP 2004, Health Phys 87(2):171-186, the 30 J/m2 from memory; 0.001 W/m2 is the exempt limit of
        IEC 62471, from memory
    Example:
        >>> round(exposure_limit_s(0.021349), 1)
        1405.2
    """
    positive(effective_w_m2=effective_w_m2)
    return EXPOSURE_LIMIT_J_M2 / effective_w_m2


def keeper_limit_min(uv_index: float, effective_per_erythemal: float = LAMP_HARM) -> float:
    """Time a day that bare eyes or skin of a keeper may stay where a lamp gives this UV index.

    Formula:
        t = 30 J/m2 / (UVI / 40 x effective_per_erythemal) / 60
    Args:
        uv_index: UV index [-], > 0
        effective_per_erythemal: harm to eye and skin over reddening of skin, by the lamp's spectrum [-], > 0
    Returns:
        time [min]
    Raises:
        Impossible: a UV index or share not above zero
    Valid:
        uv_index 0.1..20; effective_per_erythemal 0.2..0.6; 0.231 for sunlight, 0.457 for a spectrum that is
        flat from 290 nm, more for lamps with light below 295 nm; people only, light-sensitive ones need less
    Source:
        ICNIRP 2004, Health Phys 87(2):171-186, the 30 J/m2 from memory; both ratios worked here with its
        fit and ISO/CIE 17166, the sun's from ASTM G173
    Example:
        >>> round(keeper_limit_min(1, 0.23143), 1), round(keeper_limit_min(3), 1)
        (86.4, 14.6)
    """
    positive(uv_index=uv_index, effective_per_erythemal=effective_per_erythemal)
    return exposure_limit_s(uv_index / INDEX_PER_W_M2 * effective_per_erythemal) / SECONDS_PER_MINUTE


def seconds_to_standard_erythema_dose(uv_index: float) -> float:
    """Time to one standard erythema dose at a steady UV index.

    Formula:
        t = 100 J/m2 / (UVI / 40)
    Args:
        uv_index: UV index [-], > 0
    Returns:
        time [s]
    Raises:
        Impossible: a UV index not above zero
    Valid:
        uv_index 0..20; people only: how many doses redden skin depends on the person
    Source:
        ISO/CIE 17166; the 100 J/m2 from memory
    Example:
        >>> round(seconds_to_standard_erythema_dose(1), 6)
        4000.0
    """
    positive(uv_index=uv_index)
    return STANDARD_ERYTHEMA_DOSE_J_M2 * INDEX_PER_W_M2 / uv_index


def tube_factor(lit_length_m: float, height_m: float, along_m: float = 0.0, aside_m: float = 0.0) -> float:
    """Shape factor of a straight diffuse tube: irradiance of a level spot per radiant intensity of a metre.

    Formula:
        F = h / (2 D^2) [g(t1) + g(t2)], g(t) = t + sin t cos t, D = sqrt(h^2 + aside^2),
        t1 = atan((L/2 - along) / D), t2 = atan((L/2 + along) / D)
    Args:
        lit_length_m: lit length L of the tube [m], > 0
        height_m: height h of the tube's axis above the spot [m], > 0
        along_m: distance of the spot from the middle, along the tube [m]
        aside_m: distance of the spot from below the axis, across the tube [m]
    Returns:
        factor [1/m]
    Raises:
        Impossible: a length or height not above zero
    Valid:
        height_m 0.03..10; bare or evenly reflected tube whose surface is equally bright from all sides
    Source:
        integral of the cosine law over a line, worked and checked by quadrature; a textbook form
    Example:
        >>> round(tube_factor(0.85, 0.30), 6)
        4.75755
        >>> round(tube_factor(0.85, 0.30, aside_m=0.15), 6)
        3.703958
    """
    positive(lit_length_m=lit_length_m, height_m=height_m)
    finite(along_m=along_m, aside_m=aside_m)
    distance = math.hypot(height_m, aside_m)
    near, far = lit_length_m / 2 - along_m, lit_length_m / 2 + along_m
    return height_m / (2 * distance * distance) * (_swept(near / distance) + _swept(far / distance))


def mesh_open_fraction(opening_mm: float, wire_mm: float) -> float:
    """Share of a square-woven mesh that is open, seen straight on.

    Formula:
        (w / (w + d))^2
    Args:
        opening_mm: clear opening w between wires [mm], > 0
        wire_mm: wire thickness d [mm]
    Returns:
        open fraction [-]
    Raises:
        Impossible: an opening not above zero, a negative wire
    Valid:
        wire_mm 0.05..3; opening_mm 0.3..30; light that falls in straight, none reflected by the wires
    Source:
        geometry
    Example:
        >>> mesh_open_fraction(1.5, 0.5)
        0.5625
    """
    positive(opening_mm=opening_mm)
    not_negative(wire_mm=wire_mm)
    return (opening_mm / (opening_mm + wire_mm)) ** 2


def zone(uv_index_average: float) -> int:
    """Zone of animals whose average exposure this is.

    Formula:
        1 below 0.7, 2 below 1.0, 3 below 2.6, else 4
    Args:
        uv_index_average: average UV index where the animal spends its active day [-]
    Returns:
        zone [1-4]
    Raises:
        Impossible: a negative UV index
    Valid:
        uv_index_average 0..3.5; 15 species measured in Jamaica and the southern USA, others inferred
    Source:
        Ferguson et al. 2010, Zoo Biol 29:317, as restated on two pages; primary tables not seen
    Example:
        >>> zone(1.5)
        3
    """
    not_negative(uv_index_average=uv_index_average)
    return next((number for number in (1, 2, 3) if uv_index_average < ZONES[number][0][1]), 4)


def zone_band(zone: int) -> ZoneBand:
    """Average and maximum UV index that animals of a zone were found to take.

    Formula:
        table
    Args:
        zone: zone 1 to 4 [-]
    Returns:
        lowest and highest average, lowest and highest maximum, as UV index [-]
    Raises:
        Impossible: no zone from 1 to 4
    Valid:
        editable guidance, not a prescription; design zone 4 for 8 at most (common practice, no source)
    Source:
        Ferguson et al. 2010, Zoo Biol 29:317; Baines et al. 2016, JZAR 4(1):42-63; averages seen restated on
        two pages, maxima on one, primary tables not seen
    Example:
        >>> zone_band(3)
        {'average': [1.0, 2.6], 'maximum': [2.9, 7.4]}
    """
    average, maximum = ZONES[_known_zone(zone)]
    return {"average": list(average), "maximum": list(maximum)}


def zone_method(zone: int) -> Literal["shade", "sunbeam"]:
    """Way to light a box for animals of a zone.

    Formula:
        shade for zones 1 and 2: the zone's average over a large part, falling to nothing in cover;
        sunbeam for zones 3 and 4: up to the zone's maximum at the basking spot only, with the heat
    Args:
        zone: zone 1 to 4 [-]
    Returns:
        method [shade or sunbeam]
    Raises:
        Impossible: no zone from 1 to 4
    Valid:
        every animal can always reach full shade
    Source:
        Baines et al. 2016, JZAR 4(1):42-63, seen in outline; detail from memory
    Example:
        >>> zone_method(3)
        'sunbeam'
    """
    return "shade" if _known_zone(zone) <= 2 else "sunbeam"


def _known_zone(zone: int) -> int:
    if isinstance(zone, bool) or zone not in ZONES:
        raise Impossible("zone", "must be 1, 2, 3 or 4")
    return zone


def _swept(tangent: float) -> float:
    """The angle plus its sine times its cosine, from its tangent."""
    return math.atan(tangent) + tangent / (1 + tangent * tangent)
